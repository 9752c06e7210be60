//! The board: all that a screen needs, as instants, numbers and enums. Words, languages and time
//! zones are the program's.

mod air;
mod asks;
mod booth;
mod chart;
mod fan;
pub mod film;
mod hero;
mod history;
pub mod mixing;
mod news;
mod next;
mod readiness;
mod seen;
mod stage;

use asks::Asks;

pub use air::{AirLimit, AirNow, MarginRule, MarginTrend, OutOfLimits, air_now};
pub use asks::Stop;
pub use booth::{BoothAir, Lacks, PURGE_LEFT_PCT, ShareOfLimit, booth_air};
pub use chart::{AirChart, Clocked, Points, air_chart};
pub use fan::FanOn;
pub use hero::{Hero, Waited};
pub use history::{LogRow, Stands, log_rows, retime_limits};
pub use news::{News, moved, news};
pub use next::{CleanWhy, Next, ReadWhy};
pub use readiness::{
    Clears, DoubtedClock, InRange, Item, ReadyLine, ReadyNow, Warning, still_to_check,
};
pub use stage::Stage;

use crate::session::Session;
use crate::session::pace::{Forgotten, forgotten};
use crate::session::standing::{FaceStanding, PotNow, PotStanding, Standing, StepStanding};
use crate::session::time::Moment;
use crate::session::watch::Watch;
use crate::session::{CoatOn, Overridden, Pot, demand};

/// A face on the board.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceRow {
    /// Where it stands.
    pub at: FaceStanding,
    /// The coats on it, first first.
    pub coats: Vec<CoatOn>,
}

/// A pot on the board.
#[derive(Debug, Clone, PartialEq)]
pub struct PotRow {
    /// Where it stands.
    pub at: PotStanding,
    /// What should be left in it by the faces sprayed: an estimate, mL. Nothing where a figure is
    /// not set.
    pub left_ml: Option<f64>,
    /// What the coats still to come need, (coat, mL); empty where a figure is not set.
    pub needs_ml: Vec<(u32, f64)>,
    /// Whether its material is in the gun.
    pub in_the_gun: bool,
}

/// A look at a session. Between two changes it differs in `now` alone: countdowns are taken from
/// its instants by whoever draws them.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// The moment looked at.
    pub now: Moment,
    /// Where the work stands.
    pub stage: Stage,
    /// Faces in spraying order.
    pub faces: Vec<FaceRow>,
    /// Pots that were not emptied, in the order of mixing; a dead one only until its layer is done, or
    /// the next pot for it is mixed, and the gun is clean.
    pub pots: Vec<PotRow>,
    /// The steps of the stage.
    pub steps: Vec<StepStanding>,
    /// The air by the last reading.
    pub air: AirNow,
    /// The pot being mixed, to be mixed, or in use.
    pub mixing: Option<mixing::MixBoard>,
    /// Whether everything is ready for the coat ahead: one line a check, in the order of work.
    pub ready: Vec<ReadyLine>,
    /// The holds gone past that still count for the work ahead.
    pub overridden: Vec<Overridden>,
    /// What SPACE does.
    pub next: Next,
    /// What stops the work, whatever SPACE does.
    pub stop: Option<Stop>,
    /// The clock of the large letters.
    pub hero: Option<Hero>,
    /// The soonest other clock.
    pub soonest: Option<Hero>,
    /// How many checks the hand still answers before the trigger.
    pub to_check: usize,
    /// The face that may have been forgotten on the gun.
    pub forgotten: Option<Forgotten>,
    /// How long the fan is to run, once every coat is on.
    pub fan: Option<FanOn>,
    /// When anything but `now` will be otherwise by time alone.
    pub next_change: Option<Moment>,
}

/// Looks at `session` at `now`.
#[must_use]
pub fn board(session: &Session, now: Moment) -> Board {
    let watch = Watch::at(now);
    let standing = Standing::of(session, &watch);
    let asks = Asks::new(session, &standing, &watch);
    let (next, stop, to_check) = (asks.next(), asks.stop(), asks.to_check());
    let stage = stage::stage(session, &standing, &next);
    let hero = hero::hero(session, &standing, (&next, stop.as_ref()));
    let soonest = hero::soonest(session, &standing, hero.as_ref(), &watch);
    let air = air_now(session, &watch);
    let mixing = mixing::mix_board(session, &standing, &next, &watch);
    let ready = readiness::readiness(session, &standing, (&air, mixing.as_ref()), &watch);
    let pots = pot_rows(session, &standing);
    let state = session.state();
    let forgotten = forgotten(state, session.plan(), &watch);
    let fan = fan::fan_on(session, &standing, &watch);
    let faces = standing
        .faces
        .into_iter()
        .zip(&state.faces)
        .map(|(at, history)| FaceRow { at, coats: history.coats.clone() })
        .collect();
    Board {
        now,
        stage,
        faces,
        pots,
        steps: standing.steps,
        air,
        mixing,
        overridden: readiness::overridden(&ready),
        ready,
        next,
        stop,
        hero,
        soonest,
        to_check,
        forgotten,
        fan,
        next_change: watch.next_change(),
    }
}

fn pot_rows(session: &Session, standing: &Standing) -> Vec<PotRow> {
    let (state, plan) = (session.state(), session.plan());
    let over = |pot: &Pot, at: &PotStanding| {
        let layer_done = standing.layer.is_none_or(|in_work| in_work > pot.layer);
        let mut later = state.pots.iter().skip_while(|of| of.id != pot.id).skip(1);
        let followed = later.any(|next| next.layer == pot.layer);
        let wanted = !layer_done && !followed;
        !wanted && at.now == PotNow::Dead && state.gun.as_ref() != Some(&pot.id)
    };
    let pots = state.pots.iter().zip(&standing.pots);
    let kept =
        pots.filter(|(pot, at)| pot.emptied.is_none() && pot.aside.is_none() && !over(pot, at));
    kept.map(|(pot, at)| PotRow {
        at: at.clone(),
        left_ml: demand::left_ml(state, plan, pot),
        needs_ml: demand::needs_of_pot_ml(state, plan, pot).unwrap_or_default(),
        in_the_gun: state.gun.as_deref() == Some(pot.id.as_str()),
    })
    .collect()
}
