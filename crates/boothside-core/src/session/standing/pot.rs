//! Where a pot stands.

use crate::session::clocks::{Doubt, Due, Dues, Kind, Speed, Start, doubt, speed};
use crate::session::state::{Pot, State};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;

/// The states of a pot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PotNow {
    /// Mixed, and standing before it may be used.
    Standing,
    /// It may be sprayed.
    Good,
    /// Past its last trigger: stop and clean.
    StopAndClean,
    /// Past its life.
    Dead,
    /// Emptied.
    Emptied,
}

/// Where a pot stands.
#[derive(Debug, Clone, PartialEq)]
pub struct PotStanding {
    /// Its letter.
    pub id: String,
    /// Its layer, counted from 1.
    pub layer: u32,
    /// Its state.
    pub now: PotNow,
    /// When activator met base; nothing for a one-part material.
    pub born: Option<Moment>,
    /// When its stand is over.
    pub stands_until: Option<Due>,
    /// The last trigger: its life less the reserve for cleaning the gun.
    pub last_trigger: Option<Moment>,
    /// The end of its life.
    pub dead: Option<Due>,
    /// How its life runs.
    pub speed: Option<Speed>,
    /// What is to be minded of its stand.
    pub stand_doubt: Option<Doubt>,
    /// What is to be minded of its life.
    pub life_doubt: Option<Doubt>,
    /// How much went in, mL.
    pub amount_ml: Option<f64>,
}

impl PotStanding {
    pub(crate) fn of(state: &State, pot: &Pot, watch: &Watch) -> Self {
        let sheet = state.sheet(pot.layer);
        let by = state.by().of_pot(pot.mixed);
        let born = sheet.is_some_and(|sheet| sheet.reacts()).then_some(pot.mixed);
        let told = |start| Start::told(start, pot.known);
        let induction = sheet.and_then(|sheet| sheet.induction.as_ref());
        // a minimum counts from when all of it was in and stirred, the life from the birth
        let stand =
            |from| induction.map(|induction| by.due(&induction.stand, Kind::Stand, from, 1.0));
        let stirred = pot.stirred.map(|stirred| Start::told(stirred.at, stirred.known));
        let stands_from = stirred.unwrap_or_else(|| told(pot.mixed));
        let stands_until = stand(stands_from);
        let after_stand = induction.filter(|induction| !induction.inside_pot_life);
        let stood_at_birth = stand(told(pot.mixed));
        let life_from = match (after_stand, stood_at_birth.and_then(|due| due.moment())) {
            (Some(_), Some(end)) => born.map(|_| end),
            _ => born,
        };
        let pot_life = sheet.and_then(|sheet| sheet.pot_life.as_ref());
        let dead = pot_life
            .zip(life_from)
            .map(|(pot_life, from)| by.due(&pot_life.life, Kind::PotLife, told(from), 1.0));
        let last_trigger = pot_life.zip(life_from).and_then(|(pot_life, from)| {
            let reserve = Span::from_seconds(pot_life.cleaning_reserve_s);
            // 'stop and clean' stays announced too, so it is a clock of its own
            let dead = by.due_announced(&pot_life.life, Kind::PotLife, told(from), 1.0, reserve);
            // before the life begins nothing of it is over: a reserve longer than a hot pot's life
            // would be announced in the stand, and taken back by the next reading
            Some(dead.moment()?.minus(reserve).max(from))
        });
        let mut standing = Self {
            id: pot.id.clone(),
            layer: pot.layer,
            now: PotNow::Good,
            born,
            stands_until,
            last_trigger,
            dead,
            speed: pot_life.map(|pot_life| speed(&pot_life.life, Kind::PotLife, by)),
            stand_doubt: induction.zip(stands_until).and_then(|(induction, until)| {
                let span = (stands_from.at, until.moment());
                doubt(&induction.stand, Kind::Stand, span, by)?.standing(watch)
            }),
            life_doubt: pot_life.zip(life_from).zip(dead).and_then(|((pot_life, from), dead)| {
                let span = (from, dead.moment());
                Some(doubt(&pot_life.life, Kind::PotLife, span, by)?.doubt)
            }),
            amount_ml: pot.amount_ml,
        };
        standing.now = standing.state_at(state, pot, watch);
        standing
    }

    /// When half the life of a two-part pot is over, from its birth on; nothing where the sheet states
    /// no life.
    #[must_use]
    pub fn half_life(&self) -> Option<Moment> {
        let (born, dead) = (self.born?, self.dead?.moment()?);
        Some(born.plus(Span::from_ms(dead.since(born).ms() / 2)))
    }

    fn state_at(&self, state: &State, pot: &Pot, watch: &Watch) -> PotNow {
        if pot.emptied.is_some() {
            return PotNow::Emptied;
        }
        if self.dead.and_then(|due| due.moment()).is_some_and(|dead| watch.reached(dead)) {
            return PotNow::Dead;
        }
        if self.last_trigger.is_some_and(|last| watch.reached(last)) {
            return PotNow::StopAndClean;
        }
        let stood = match self.stands_until {
            Some(due) => due.moment().is_some_and(|until| watch.reached(until)),
            None => true,
        };
        if stood || state.went_past(&format!("stand {}", pot.id)) {
            PotNow::Good
        } else {
            PotNow::Standing
        }
    }
}
