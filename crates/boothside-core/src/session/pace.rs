//! The pace of this session: how long this hand takes for a square metre, and a face that is on the
//! gun for far longer than that.

use super::plan::Plan;
use super::state::{CoatOn, State};
use super::time::{Moment, Span};
use super::watch::Watch;

/// A face on the gun for so many times its usual asks whether it is on.
const FORGOTTEN: i64 = 3;
/// So many faces make a pace of the session.
const LEAST_FACES: usize = 2;
/// So many faces of a layer make what is usual for it: one slow face is not yet a habit.
const LEAST_OF_LAYER: usize = 3;
/// A small face whose usual is a few seconds does not ask before this: our own reasoning.
const LEAST: Span = Span::from_minutes(5);
/// What a square metre is taken to need where this hand has no pace yet, s: our own figure, on the
/// long side.
const WITHOUT_PACE_S_PER_M2: f64 = 600.0;
/// The least that a face is taken to need then: our own figure.
const LEAST_WITHOUT_PACE: Span = Span::from_minutes(5);
/// Where nothing is known of this hand, a face asks after this, however large: our own reasoning.
const ASKS_WITHOUT_PACE: Span = Span::from_minutes(15);

/// The pace of this session.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pace {
    /// Median over the faces sprayed, s/m².
    pub s_per_m2: f64,
    /// How many faces it is taken from; a face counts once a coat.
    pub faces: usize,
}

/// A face that may have been forgotten on the gun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Forgotten {
    /// The face's number.
    pub face: usize,
    /// When it was begun.
    pub begun: Moment,
    /// What is usual for it.
    pub usual: Usual,
    /// Since when this is asked.
    pub asked: Moment,
    /// When it was probably on: after its usual, but not before it was last said to be sprayed.
    pub likely: Moment,
}

/// How long a face is usually on the gun.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Usual {
    /// So long.
    pub time: Span,
    /// Whether that is this hand's own pace; else it is taken from the face's area alone.
    pub own: bool,
}

/// The pace of the session, once two faces are done whose beginning and end were both tapped.
/// Interruptions that were told are left out of it.
#[must_use]
pub fn pace(state: &State, plan: &Plan) -> Option<Pace> {
    median(state, plan, LEAST_FACES, |_| true)
}

/// The median over the coats that `counts`, once there are `least` of them.
fn median(
    state: &State,
    plan: &Plan,
    least: usize,
    counts: impl Fn(&CoatOn) -> bool,
) -> Option<Pace> {
    let mut paces = Vec::new();
    for (face, history) in state.faces.iter().enumerate() {
        let area_m2 = plan.area_m2(&state.work, face);
        let coats = history.coats.iter().chain(&history.wiped_off).filter(|coat| counts(coat));
        let of_face = coats.filter_map(|coat| Some(tapped(state, coat)?.seconds() / area_m2));
        paces.extend(of_face.filter(|pace| pace.is_finite() && *pace > 0.0));
    }
    if paces.len() < least {
        return None;
    }
    paces.sort_by(f64::total_cmp);
    let (below, above) = (paces[(paces.len() - 1) / 2], paces[paces.len() / 2]);
    Some(Pace { s_per_m2: f64::midpoint(below, above), faces: paces.len() })
}

/// How long a coat was sprayed, where both ends were tapped.
fn tapped(state: &State, coat: &CoatOn) -> Option<Span> {
    let tapped = !(coat.assumed || coat.end_assumed || coat.skipped || coat.part_way);
    let finished = coat.finished.filter(|_| tapped)?;
    Some(state.worked(coat.begun, finished))
}

/// How long a face is usually on the gun for a coat of `layer`: by the pace of three faces of that
/// layer, else by its area alone.
#[must_use]
pub fn usual_time(state: &State, plan: &Plan, layer: u32, face: usize) -> Usual {
    let area_m2 = plan.area_m2(&state.work, face);
    let pace = median(state, plan, LEAST_OF_LAYER, |coat| coat.layer == layer);
    let own = pace.map(|pace| Span::from_seconds(pace.s_per_m2 * area_m2));
    match own.filter(|time| time.ms() > 0) {
        Some(time) => Usual { time, own: true },
        None => {
            let time = Span::from_seconds(WITHOUT_PACE_S_PER_M2 * area_m2);
            Usual { time: time.max(LEAST_WITHOUT_PACE), own: false }
        }
    }
}

impl Usual {
    /// How long a face may be on the gun before it is asked whether it is on.
    fn patience(self) -> Span {
        if self.own {
            Span::from_ms(self.time.ms().saturating_mul(FORGOTTEN)).max(LEAST)
        } else {
            ASKS_WITHOUT_PACE
        }
    }
}

/// The face that is on the gun for far longer than its usual, unless work is interrupted. Told that
/// it is still being sprayed, it asks again after as long once more.
#[must_use]
pub fn forgotten(state: &State, plan: &Plan, watch: &Watch) -> Option<Forgotten> {
    let on_the_gun = |(face, history): (usize, &super::state::FaceHistory)| {
        history.on_the_gun().map(|coat| (face, coat.clone()))
    };
    let (face, coat) = state.faces.iter().enumerate().find_map(on_the_gun)?;
    if state.paused.is_some() {
        return None;
    }
    let usual = usual_time(state, plan, coat.layer, face);
    let since = coat.still_spraying.iter().copied().max().unwrap_or(coat.begun);
    let interrupted = watch.now().since(since).ms() - state.worked(since, watch.now()).ms();
    let asked = since.plus(usual.patience()).plus(Span::from_ms(interrupted.max(0)));
    let likely = state.after_work(coat.begun, usual.time).max(since).min(watch.now());
    let forgotten = Forgotten { face, begun: coat.begun, usual, asked, likely };
    watch.reached(asked).then_some(forgotten)
}
