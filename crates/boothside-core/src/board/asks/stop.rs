//! What stands before everything but a face on the gun: what spoils goes first.

use super::Asks;
use crate::board::next::{CleanWhy, Next};
use crate::session::standing::{FaceNow, FaceStanding, PotNow, condenses};
use crate::session::time::Moment;

/// What stops the work: a band of large letters, whatever SPACE does.
#[derive(Debug, Clone, PartialEq)]
pub enum Stop {
    /// The gun is to be cleaned.
    Clean {
        /// Whose material is in it.
        pot: String,
        /// Why.
        why: CleanWhy,
    },
    /// The fan is off with a face on the gun.
    FanOff {
        /// Since when.
        since: Moment,
    },
    /// Water condenses on the part.
    Condensing {
        /// When that was read.
        read: Moment,
    },
    /// A window closes whose next coat can still be begun.
    Closes {
        /// The face's number.
        face: usize,
        /// When.
        at: Moment,
    },
}

impl Asks<'_> {
    /// What stops the work now.
    pub(in crate::board) fn stop(&self) -> Option<Stop> {
        let state = self.session.state();
        if state.closed.is_some() {
            return None;
        }
        if let Some(Next::CleanGun { pot, why }) = self.stop_and_clean() {
            return Some(Stop::Clean { pot, why });
        }
        if self.standing.on_the_gun().is_some() {
            return state.fan_off.map(|since| Stop::FanOff { since });
        }
        if self.condensing().is_some() {
            return Some(Stop::Condensing { read: state.readings.last()?.at });
        }
        let (face, at) = self.closing_to_begin()?;
        Some(Stop::Closes { face, at })
    }

    /// A face is on the gun: it is on.
    pub(super) fn coat_on(&self) -> Option<Next> {
        let face = self.standing.on_the_gun()?;
        let state = self.session.state();
        let (layer, coat) = self.standing.faces[face].next.unwrap_or_else(|| {
            let last = state.layer_count();
            (last, state.faces[face].coats_on(last) + 1)
        });
        Some(Next::CoatOn { face, layer, coat })
    }

    /// The pot in the gun is past its last trigger, dead, or too late for one more face.
    pub(super) fn stop_and_clean(&self) -> Option<Next> {
        let pot = self.session.state().gun.clone()?;
        let at = self.standing.pot(&pot)?;
        let why = match at.now {
            PotNow::StopAndClean => CleanWhy::PastTrigger,
            PotNow::Dead => CleanWhy::Dead,
            // one on the gun is finished first: late is for the next
            _ if self.standing.on_the_gun().is_none() && self.is_too_late(&pot, at.layer) => {
                CleanWhy::TooLate
            }
            _ => return None,
        };
        let past = format!("clean {pot}");
        (!self.session.state().went_past(&past)).then_some(Next::CleanGun { pot, why })
    }

    /// Water condenses on the part, by the last reading.
    pub(super) fn condensing(&self) -> Option<Next> {
        use crate::board::next::ReadWhy;
        let layer = self.standing.layer?;
        let wet = condenses(self.session.state(), layer, self.watch);
        wet.then_some(Next::Reading { why: ReadWhy::Condensing })
    }

    /// Material of another layer, or of none to come, is cleaned out.
    pub(super) fn other_gun(&self) -> Option<Next> {
        let state = self.session.state();
        let pot = state.gun.as_ref()?;
        let of_layer = state.pot(pot).map(|pot| pot.layer);
        let ahead = self.layer_ahead();
        let wanted = ahead.is_some() && of_layer == ahead;
        let past = state.went_past(&format!("clean {pot}"));
        let why = CleanWhy::NoCoatsLeft;
        (!wanted && !past).then(|| Next::CleanGun { pot: pot.clone(), why })
    }

    /// The layer in work, also where no part hangs.
    pub(super) fn layer_ahead(&self) -> Option<u32> {
        self.standing.layer.or_else(|| self.session.state().layer_to_hang())
    }

    /// A face that is closing is begun; what is left of its gate comes first, where that ends before
    /// its window does.
    pub(super) fn closing_face(&self) -> Option<Next> {
        let (face, _) = self.first_to_close()?;
        let (layer, coat) = self.standing.faces[face].next?;
        if self.is_ready(layer, coat, face) {
            return Some(Next::BeginCoat { face, layer, coat });
        }
        self.closing_to_begin()?;
        // over a wait other faces are seen to
        self.gate_of_closing(layer, coat).filter(Next::is_action)
    }

    /// The face whose window closes first and whose next coat can still be begun before it does:
    /// every wait and pour left of its gate ends before.
    fn closing_to_begin(&self) -> Option<(usize, Moment)> {
        let (face, at) = self.first_to_close()?;
        let (layer, _) = self.standing.faces[face].next?;
        self.can_begin_before(layer, at).then_some((face, at))
    }

    fn first_to_close(&self) -> Option<(usize, Moment)> {
        let layer = self.standing.layer?;
        let closing = |(number, _, face): (usize, u32, &FaceStanding)| {
            let closes = face.until.and_then(|until| until.moment());
            let closing = face.now == FaceNow::Closing && face.turn.is_none();
            closes.filter(|_| closing).map(|at| (number, at))
        };
        self.in_layer(layer).filter_map(closing).min_by_key(|(number, at)| (*at, *number))
    }
}
