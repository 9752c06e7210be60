//! Where the steps of preparation and closing stand.

use crate::session::clocks::{Due, Kind, Start, due};
use crate::session::state::State;
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;
use crate::work::system::{Does, Step};

use super::OVERNIGHT;
use super::face::FaceStanding;

/// The states of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepNow {
    /// A stage of cure must come first.
    NotYet,
    /// To be done.
    ToDo,
    /// Done, and its wait runs.
    Waiting,
    /// Done.
    Done,
}

/// Where a step stands.
#[derive(Debug, Clone, PartialEq)]
pub struct StepStanding {
    /// Its id.
    pub id: String,
    /// Its state.
    pub now: StepNow,
    /// When it was done.
    pub done: Option<Moment>,
    /// When its wait is over.
    pub wait: Option<Due>,
    /// When the stage of cure that it needs is reached on every face.
    pub not_before: Option<Moment>,
    /// When it is too old for the layer to begin on it, where that is said.
    pub too_old: Option<Moment>,
    /// Whether it was done before, and a break overnight or its age brought it back.
    pub again: bool,
}

/// The steps of `layer`, or the closing ones where there is none left.
pub(super) fn steps_in_work(
    state: &State,
    layer: Option<u32>,
    faces: &[FaceStanding],
    watch: &Watch,
) -> Vec<StepStanding> {
    let steps = match layer {
        Some(layer) => state.layer(layer).map_or(&[][..], |layer| &layer.prep),
        None => &state.work.system.close[..],
    };
    let begun = layer.is_some_and(|layer| layer_begun(state, layer));
    steps.iter().map(|step| standing(state, step, begun, faces, watch)).collect()
}

fn layer_begun(state: &State, layer: u32) -> bool {
    state.faces.iter().any(|face| face.coats.iter().any(|coat| coat.layer == layer))
}

fn standing(
    state: &State,
    step: &Step,
    begun: bool,
    faces: &[FaceStanding],
    watch: &Watch,
) -> StepStanding {
    let mut standing = StepStanding {
        id: step.id.clone(),
        now: StepNow::ToDo,
        done: None,
        wait: None,
        not_before: None,
        too_old: None,
        again: false,
    };
    let Some(done) = state.steps.get(&step.id) else {
        standing.find_start(step, faces, watch);
        return standing;
    };
    standing.done = Some(done.at);
    // the wipe comes back after a break overnight; once the layer is begun each face asks for it
    let stale = step.does == Some(Does::Wipe) && !begun;
    if stale && watch.reached(done.at.plus(OVERNIGHT)) {
        standing.again = true;
        return standing;
    }
    let within = step.within_s.filter(|_| !begun).map(Span::from_seconds);
    standing.too_old = within.map(|within| done.at.plus(within));
    if standing.too_old.is_some_and(|too_old| watch.reached(too_old)) {
        standing.again = true;
        return standing;
    }
    let wait = step.wait.as_ref();
    standing.wait = wait.map(|wait| {
        due(wait, Kind::Minimum, Start::told(done.at, done.known), 1.0, &state.readings)
    });
    let over = match standing.wait {
        Some(due) => due.moment().is_some_and(|over| watch.reached(over)),
        None => true,
    };
    let past = over || state.went_past(&format!("wait {}", step.id));
    standing.now = if past { StepNow::Done } else { StepNow::Waiting };
    standing
}

impl StepStanding {
    fn find_start(&mut self, step: &Step, faces: &[FaceStanding], watch: &Watch) {
        let Some(stage) = step.after else { return };
        for face in faces {
            let Some(due) = face.cure_due(stage) else {
                continue;
            };
            let reached = due.moment().is_some_and(|at| watch.reached(at));
            if !reached {
                self.now = StepNow::NotYet;
            }
            self.not_before = self.not_before.max(due.moment());
        }
    }
}
