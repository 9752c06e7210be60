//! The next action: what SPACE does. design.md, 'One key does the next thing'.

use super::hero::{Waited, waited_for};
use super::mixing::{self, Shows};
use crate::material::sheet::CureStage;
use crate::session::Session;
use crate::session::clocks::DueAt;
use crate::session::command::Command;
use crate::session::mixing::need;
use crate::session::standing::{
    FaceNow, FaceStanding, Gate, PotNow, Standing, Wanting, condenses, holds_on_close,
};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;

/// The next action.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// A face is on the gun: its coat is on.
    CoatOn {
        /// The face's number.
        face: usize,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1.
        coat: u32,
    },
    /// The gun is clean.
    CleanGun {
        /// Whose material is in it.
        pot: String,
    },
    /// A face has dulled.
    Dulled {
        /// The face's number.
        face: usize,
    },
    /// Begin a coat.
    BeginCoat {
        /// The face's number.
        face: usize,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1.
        coat: u32,
    },
    /// A step is done.
    Step {
        /// Its id.
        step: String,
        /// Whether a break overnight brought it back.
        again: bool,
    },
    /// A check is answered.
    Check {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1; 0 for a check of the layer.
        coat: u32,
        /// Its id.
        check: String,
    },
    /// A reading: it needs figures, so SPACE opens the form.
    Reading,
    /// A pot is mixed.
    MixPot {
        /// For which layer, counted from 1.
        layer: u32,
        /// What the coats to come need with loss and spare, mL; nothing where a figure is not set.
        amount_ml: Option<f64>,
    },
    /// A component is poured, as planned: until scale or mark show so much.
    Pour {
        /// Into which pot.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// The component, from 0.
        component: usize,
        /// What scale or mark show then.
        shows: Shows,
    },
    /// All of a pot is in: it is stirred.
    Stir {
        /// Its letter.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// How much it is, mL, where that can be told.
        amount_ml: Option<f64>,
    },
    /// Faces are wiped.
    Wipe {
        /// Their numbers.
        faces: Vec<usize>,
    },
    /// Faces are sanded.
    Sand {
        /// Their numbers.
        faces: Vec<usize>,
    },
    /// A face is turned up.
    Turn {
        /// The face's number.
        face: usize,
    },
    /// The session is closed.
    Close,
    /// Nothing to do: what is waited for, and until when if that can be told.
    Wait {
        /// What.
        what: Waited,
        /// Until when.
        until: Option<DueAt>,
    },
    /// The session was closed.
    Over,
}

impl Next {
    /// The command that does it; nothing for a wait, and for a reading, which needs figures.
    #[must_use]
    pub fn command(&self, session: &Session) -> Option<Command> {
        let id = |face: &usize| session.plan().faces()[*face].id.clone();
        let ids = |faces: &[usize]| faces.iter().map(id).collect();
        Some(match self {
            Self::CoatOn { face, .. } => Command::CoatOn { face: id(face) },
            Self::CleanGun { .. } => Command::CleanGun,
            Self::Dulled { face } => Command::Dulled { face: id(face) },
            Self::BeginCoat { face, .. } => Command::BeginCoat { face: id(face), past: None },
            Self::Step { step, .. } => Command::StepDone { step: step.clone() },
            Self::Check { layer, coat, check } => {
                Command::PassCheck { layer: *layer, coat: *coat, check: check.clone() }
            }
            Self::MixPot { layer, amount_ml } => {
                Command::MixPot { layer: *layer, amount_ml: *amount_ml, lots: Vec::new() }
            }
            Self::Pour { pot, layer, component, shows } => Command::Pour {
                pot: Some(pot.clone()),
                layer: *layer,
                component: *component,
                amount: (*shows).into(),
            },
            Self::Stir { layer, amount_ml, .. } => {
                Command::MixPot { layer: *layer, amount_ml: *amount_ml, lots: Vec::new() }
            }
            Self::Wipe { faces } => Command::Wiped { faces: ids(faces) },
            Self::Sand { faces } => Command::Sanded { faces: ids(faces) },
            Self::Turn { face } => Command::Turned { face: id(face) },
            Self::Close => Command::Close { past: None },
            Self::Reading | Self::Wait { .. } | Self::Over => return None,
        })
    }

    /// Whether it waits for the painter, not for a clock.
    #[must_use]
    pub const fn is_action(&self) -> bool {
        !matches!(self, Self::Wait { .. } | Self::Over)
    }
}

/// What comes next.
pub(super) fn next(session: &Session, standing: &Standing, watch: &Watch) -> Next {
    if session.state().closed.is_some() {
        return Next::Over;
    }
    let choosing = Choosing { session, standing, watch, gate: Gate::new(session, standing, watch) };
    choosing
        .coat_on()
        .or_else(|| choosing.stop_and_clean())
        .or_else(|| choosing.look())
        .or_else(|| choosing.other_gun())
        .or_else(|| choosing.begin())
        .unwrap_or_else(|| match standing.layer {
            Some(layer) => choosing.stage_of(layer),
            None => choosing.closing(),
        })
}

/// A break between faces after which a stale reading is asked for before the next one. Our own choice:
/// longer than turning a part or filling the cup takes.
const BREAK: Span = Span::from_minutes(10);

struct Choosing<'a> {
    session: &'a Session,
    standing: &'a Standing,
    watch: &'a Watch,
    gate: Gate<'a>,
}

impl Choosing<'_> {
    fn coat_on(&self) -> Option<Next> {
        let face = self.standing.on_the_gun()?;
        let state = self.session.state();
        let (layer, coat) = self.standing.faces[face].next.unwrap_or_else(|| {
            let last = state.layer_count();
            (last, state.faces[face].coats_on(last) + 1)
        });
        Some(Next::CoatOn { face, layer, coat })
    }

    fn stop_and_clean(&self) -> Option<Next> {
        let pot = self.session.state().gun.as_ref()?;
        let now = self.standing.pot(pot)?.now;
        let past = matches!(now, PotNow::StopAndClean | PotNow::Dead);
        past.then(|| Next::CleanGun { pot: pot.clone() })
    }

    /// Faces due for a look: nearest to closing first, then earliest due, then spraying order.
    fn look(&self) -> Option<Next> {
        let closes = |face: &FaceStanding| {
            let edge = face.open_until.or(face.wipe_until);
            edge.and_then(|due| due.moment()).unwrap_or(Moment::from_ms(i64::MAX))
        };
        let due = |face: &FaceStanding| face.look.and_then(|look| look.moment());
        self.numbered(|face| face.now == FaceNow::Look)
            .min_by_key(|(number, face)| (closes(face), due(face), *number))
            .map(|(face, _)| Next::Dulled { face })
    }

    /// The next face in spraying order that may be sprayed.
    fn begin(&self) -> Option<Next> {
        let layer = self.standing.layer?;
        let (face, coat) = self.sprayable(layer)?;
        let clear = self.gate.wanting(layer, coat).is_empty();
        if clear && self.after_a_break() && self.gate.reading_wanted() {
            return Some(Next::Reading);
        }
        clear.then(|| self.unless_wet(layer, Next::BeginCoat { face, layer, coat }))
    }

    /// Whether no face was on the gun for so long that the air may have changed.
    fn after_a_break(&self) -> bool {
        let coats = self.session.state().faces.iter().flat_map(|face| &face.coats);
        let sprayed = coats.filter(|coat| !coat.skipped).filter_map(|coat| coat.finished);
        sprayed.max().is_none_or(|last| self.watch.reached(last.plus(BREAK)))
    }

    /// Where water condenses on the part, a reading or a wait instead.
    fn unless_wet(&self, layer: u32, next: Next) -> Next {
        if !condenses(self.session.state(), layer, self.watch) {
            next
        } else if self.gate.reading_wanted() {
            Next::Reading
        } else {
            Next::Wait { what: Waited::Condensing, until: None }
        }
    }

    /// The first face whose own state allows the next coat of `layer`: lowest coat first.
    fn sprayable(&self, layer: u32) -> Option<(usize, u32)> {
        self.in_layer(layer)
            .filter(|(_, _, face)| face.now.takes_a_coat() && face.turn.is_none())
            .map(|(number, coat, _)| (number, coat))
            .min_by_key(|(number, coat)| (*coat, *number))
    }

    /// Material of another layer, or of none to come, is cleaned out.
    fn other_gun(&self) -> Option<Next> {
        let pot = self.session.state().gun.as_ref()?;
        let of_layer = self.session.state().pot(pot).map(|pot| pot.layer);
        let wanted = self.standing.layer.is_some() && of_layer == self.standing.layer;
        (!wanted).then(|| Next::CleanGun { pot: pot.clone() })
    }

    fn stage_of(&self, layer: u32) -> Next {
        if let Some(next) = self.until_all_open(layer) {
            return next;
        }
        if let Some(wanting) = self.gate.steps().into_iter().next() {
            return self.wanted(wanting);
        }
        if let Some(next) = self.surfaces(layer) {
            return next;
        }
        if let Some((_, coat)) = self.sprayable(layer)
            && let Some(wanting) = self.gate.wanting(layer, coat).into_iter().next()
        {
            return self.wanted(wanting);
        }
        if self.gate.reading_wanted() {
            return Next::Reading;
        }
        self.wait_for_a_face(layer)
    }

    /// Between layers the steps begin when no face is too early any more.
    fn until_all_open(&self, layer: u32) -> Option<Next> {
        if self.gate.is_begun(layer) {
            return None;
        }
        let early = |face: &FaceStanding| {
            let waits = matches!(face.now, FaceNow::LayerDone | FaceNow::Flashing);
            waits && !face.wipe_flashes && face.next.is_some_and(|(next, _)| next <= layer)
        };
        let last = self.numbered(early).max_by_key(|(_, face)| {
            let until = face.until.and_then(DueAt::moment);
            until.unwrap_or(Moment::from_ms(i64::MAX))
        });
        let (face, standing) = last?;
        if self.gate.reading_wanted() {
            return Some(Next::Reading);
        }
        Some(Next::Wait { what: waited_for(face, standing), until: standing.until })
    }

    fn surfaces(&self, layer: u32) -> Option<Next> {
        let turn = self
            .in_layer(layer)
            .find(|(_, _, face)| face.turn.is_some_and(|turn| turn.may_be_turned));
        if let Some((face, ..)) = turn {
            return Some(Next::Turn { face });
        }
        let of = |now: FaceNow| -> Vec<usize> {
            let found = self.in_layer(layer).filter(|(_, _, face)| face.now == now);
            found.map(|(number, ..)| number).collect()
        };
        let sand = of(FaceNow::Sand);
        if !sand.is_empty() {
            return Some(Next::Sand { faces: sand });
        }
        let wipe = of(FaceNow::Wipe);
        (!wipe.is_empty()).then_some(Next::Wipe { faces: wipe })
    }

    fn wanted(&self, wanting: Wanting) -> Next {
        match wanting {
            Wanting::Step { step, again } => Next::Step { step, again },
            Wanting::StepNotYet { step, until } => {
                Next::Wait { what: Waited::StageBeforeStep { step }, until: until.map(DueAt::At) }
            }
            Wanting::StepWait { step, until } => {
                Next::Wait { what: Waited::AfterStep { step }, until }
            }
            Wanting::Check { layer, coat, check } => Next::Check { layer, coat, check },
            Wanting::Reading => Next::Reading,
            Wanting::Pot { layer } => {
                let amount_ml = need(self.session.state(), self.session.plan(), layer).ml;
                self.unless_wet(layer, Next::MixPot { layer, amount_ml })
            }
            Wanting::Pour { pot, component } => {
                let pour = mixing::next_pour(self.session, &pot, &component, self.watch)
                    .unwrap_or(Next::Over);
                // a pot that is born is poured to its end: its life runs
                match (&pour, self.session.state().pot(&pot)) {
                    (Next::Pour { layer, .. }, None) => self.unless_wet(*layer, pour),
                    _ => pour,
                }
            }
            Wanting::Stir { pot } => mixing::stir(self.session.state(), &pot),
            Wanting::Stand { pot, until } => Next::Wait { what: Waited::Stand { pot }, until },
        }
    }

    fn wait_for_a_face(&self, layer: u32) -> Next {
        let until = |face: &FaceStanding| match face.turn {
            Some(turn) => turn.ready.map(DueAt::At),
            None => face.until,
        };
        let moment = |face: &FaceStanding| {
            until(face).and_then(DueAt::moment).unwrap_or(Moment::from_ms(i64::MAX))
        };
        let first =
            self.in_layer(layer).min_by_key(|(number, coat, face)| (moment(face), *coat, *number));
        match first {
            Some((number, _, face)) => {
                Next::Wait { what: waited_for(number, face), until: until(face) }
            }
            // no face of the layer is left to wait for: the layer would not be in work
            None => Next::Over,
        }
    }

    /// Where none of the faces hangs that want a coat: no step is done on what is not there.
    fn to_hang(&self) -> Option<Next> {
        let layer = self.session.state().layer_to_hang()?;
        Some(Next::Wait { what: Waited::ToHang { layer }, until: None })
    }

    /// The session is closed, unless a face that is away is still to get a coat.
    fn close(&self) -> Next {
        let away = |face: &FaceStanding| face.now == FaceNow::Away && face.next.is_some();
        match self.numbered(away).next() {
            Some((face, _)) => Next::Wait { what: Waited::Away { face }, until: None },
            None => Next::Close,
        }
    }

    fn closing(&self) -> Next {
        if let Some(next) = self.to_hang() {
            return next;
        }
        let steps = self.gate.steps();
        let to_do = steps.iter().find(|wanting| matches!(wanting, Wanting::Step { .. }));
        if let Some(wanting) = to_do {
            return self.wanted(wanting.clone());
        }
        if holds_on_close(self.session, self.standing, self.watch).is_empty() {
            return self.close();
        }
        self.wait_for_cure(steps)
    }

    /// Waits for the next stage of cure: on all faces together, for parts are moved together.
    fn wait_for_cure(&self, steps: Vec<Wanting>) -> Next {
        let stages = [
            CureStage::DustFree,
            CureStage::Handle,
            CureStage::Mask,
            CureStage::Sand,
            CureStage::Full,
        ];
        let open = stages.into_iter().filter_map(|stage| {
            let dues: Vec<DueAt> = self
                .standing
                .faces
                .iter()
                .filter(|face| !face.now.is_absent())
                .filter_map(|face| face.cure_due(stage).map(|due| due.at))
                .filter(|due| due.moment().is_none_or(|at| !self.watch.reached(at)))
                .collect();
            let never = dues.iter().find(|due| due.moment().is_none()).copied();
            let last = dues.iter().filter_map(|due| due.moment()).max().map(DueAt::At);
            never.or(last).map(|until| (stage, until))
        });
        let first = open.min_by_key(|(stage, until)| {
            (until.moment().unwrap_or(Moment::from_ms(i64::MAX)), *stage)
        });
        match (first, steps.into_iter().next()) {
            (Some((stage, until)), _) => {
                Next::Wait { what: Waited::Cure { stage }, until: Some(until) }
            }
            (None, Some(wanting)) => self.wanted(wanting),
            (None, None) => self.close(),
        }
    }

    fn numbered(
        &self,
        wanted: impl Fn(&FaceStanding) -> bool,
    ) -> impl Iterator<Item = (usize, &FaceStanding)> {
        self.standing.faces.iter().enumerate().filter(move |(_, face)| wanted(face))
    }

    /// The faces that get a coat of `layer` next: (number, coat, standing).
    fn in_layer(&self, layer: u32) -> impl Iterator<Item = (usize, u32, &FaceStanding)> {
        self.standing.faces.iter().enumerate().filter_map(move |(number, face)| {
            let (next_layer, coat) = face.next.filter(|_| !face.now.is_absent())?;
            (next_layer == layer).then_some((number, coat, face))
        })
    }
}
