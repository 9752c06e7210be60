//! The pace of this session: how long this hand takes for a square metre, and a face that is on the
//! gun for far longer than that.

use super::plan::Plan;
use super::state::{CoatOn, State};
use super::time::{Moment, Span};
use super::watch::Watch;

/// A face on the gun for so many times its usual asks whether it is on: words.md.
const FORGOTTEN: i64 = 3;
/// So many faces make a pace; before that nothing is usual.
const LEAST_FACES: usize = 2;
/// A small face whose usual is a few seconds does not ask before this: our own reasoning.
const LEAST: Span = Span::from_minutes(1);

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
    /// What this hand usually takes for it.
    pub usual: Span,
    /// Since when this is asked.
    pub asked: Moment,
    /// When it was probably on: after its usual, but not before it was last said to be sprayed.
    pub likely: Moment,
}

/// The pace, once two faces are done whose beginning and end were both tapped. Interruptions that
/// were told are left out of it.
#[must_use]
pub fn pace(state: &State, plan: &Plan) -> Option<Pace> {
    let of_face = |face: usize| {
        let area_m2 = plan.area_m2(&state.work, face);
        let history = &state.faces[face];
        let coats = history.coats.iter().chain(&history.wiped_off);
        coats.filter_map(move |coat| Some(tapped(state, coat)?.seconds() / area_m2))
    };
    let faces = (0..state.faces.len()).flat_map(of_face);
    let mut paces: Vec<f64> = faces.filter(|pace| pace.is_finite() && *pace > 0.0).collect();
    if paces.len() < LEAST_FACES {
        return None;
    }
    paces.sort_by(f64::total_cmp);
    let (below, above) = (paces[(paces.len() - 1) / 2], paces[paces.len() / 2]);
    Some(Pace { s_per_m2: f64::midpoint(below, above), faces: paces.len() })
}

/// How long a coat was sprayed, where both ends were tapped.
fn tapped(state: &State, coat: &CoatOn) -> Option<Span> {
    let tapped = !(coat.assumed || coat.end_assumed || coat.skipped);
    let finished = coat.finished.filter(|_| tapped)?;
    Some(state.worked(coat.begun, finished))
}

/// What this hand usually takes for a face.
#[must_use]
pub fn usual(state: &State, plan: &Plan, face: usize) -> Option<Span> {
    let pace = pace(state, plan)?;
    let usual = Span::from_seconds(pace.s_per_m2 * plan.area_m2(&state.work, face));
    Some(usual).filter(|usual| usual.ms() > 0)
}

/// The face that is on the gun for three times its usual, unless work is interrupted. Told that it
/// is still being sprayed, it asks again after as long once more.
#[must_use]
pub fn forgotten(state: &State, plan: &Plan, watch: &Watch) -> Option<Forgotten> {
    let on_the_gun = |(face, history): (usize, &super::state::FaceHistory)| {
        history.on_the_gun().map(|coat| (face, coat.clone()))
    };
    let (face, coat) = state.faces.iter().enumerate().find_map(on_the_gun)?;
    if state.paused.is_some() {
        return None;
    }
    let usual = usual(state, plan, face)?;
    let since = coat.still_spraying.iter().copied().max().unwrap_or(coat.begun);
    let patience = Span::from_ms(usual.ms().saturating_mul(FORGOTTEN)).max(LEAST);
    let interrupted = watch.now().since(since).ms() - state.worked(since, watch.now()).ms();
    let asked = since.plus(patience).plus(Span::from_ms(interrupted.max(0)));
    let likely = state.after_work(coat.begun, usual).max(since).min(watch.now());
    let forgotten = Forgotten { face, begun: coat.begun, usual, asked, likely };
    watch.reached(asked).then_some(forgotten)
}
