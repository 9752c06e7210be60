//! Where the steps of preparation and closing stand.

use crate::session::clocks::{Due, Dues, Kind, Start};
use crate::session::hanging::too_old_from;
use crate::session::state::{Done, State};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;
use crate::work::system::Step;

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
    /// Where it was done on others: the numbers of the faces that came late and lack it.
    pub lacking: Vec<usize>,
    /// When the last of its faces came, where one did after the opening: going past it before does
    /// not count.
    pub came: Option<Moment>,
}

/// The steps of `layer`, or the closing ones where there is none left.
pub(super) fn steps_of(
    state: &State,
    layer: Option<u32>,
    faces: &[FaceStanding],
    watch: &Watch,
) -> Vec<StepStanding> {
    let steps = match layer {
        Some(layer) => state.layer(layer).map_or(&[][..], |layer| &layer.prep),
        None => &state.work.system.close[..],
    };
    let mut due = state.due_for(layer);
    if due.is_empty() {
        due = (0..state.faces.len()).collect();
    }
    let begun = layer.is_some_and(|layer| state.layer_begun(layer));
    steps.iter().map(|step| Looking { state, step, begun, due: &due, watch }.at(faces)).collect()
}

/// A look at one step.
struct Looking<'a> {
    state: &'a State,
    step: &'a Step,
    /// Whether its layer is begun.
    begun: bool,
    /// The faces on which it is done.
    due: &'a [usize],
    watch: &'a Watch,
}

impl Looking<'_> {
    fn at(&self, faces: &[FaceStanding]) -> StepStanding {
        let came = self.due.iter().filter_map(|face| self.state.faces[*face].place.came).max();
        let mut at = StepStanding {
            id: self.step.id.clone(),
            now: StepNow::ToDo,
            done: None,
            wait: None,
            not_before: None,
            too_old: None,
            again: false,
            lacking: Vec::new(),
            came,
        };
        let on = |face: &usize| self.state.faces[*face].steps.get(&self.step.id);
        let lacking: Vec<usize> =
            self.due.iter().copied().filter(|face| on(face).is_none()).collect();
        let oldest = self.due.iter().filter_map(on).min_by_key(|done| done.at);
        let latest = self.due.iter().filter_map(on).max_by_key(|done| done.at);
        match oldest.zip(latest) {
            Some((oldest, latest)) if lacking.is_empty() => self.done(&mut at, oldest, latest),
            _ => {
                at.find_start(self.step, self.due, faces, self.watch);
                // where nobody has it, none need be named
                let known = self.state.steps.contains_key(&self.step.id);
                at.lacking = if known { lacking } else { Vec::new() };
            }
        }
        at
    }

    /// A step that was done on each face: the oldest doing may be too old, the latest is waited for.
    fn done(&self, at: &mut StepStanding, oldest: &Done, latest: &Done) {
        at.done = Some(latest.at);
        let within = self.step.within_s.filter(|_| !self.begun).map(Span::from_seconds);
        at.too_old = within.map(|within| oldest.at.plus(within));
        // the wipe comes back after a break overnight; once the layer is begun each face asks for it
        let old = too_old_from(self.step, oldest, self.begun);
        if old.is_some_and(|old| self.watch.reached(old)) {
            at.again = true;
            return;
        }
        at.wait = self.step.wait.as_ref().map(|wait| {
            let start = Start::told(latest.at, latest.known);
            self.state.due(wait, Kind::Minimum, start, 1.0)
        });
        let over = match at.wait {
            Some(due) => due.moment().is_some_and(|over| self.watch.reached(over)),
            None => true,
        };
        let past = || self.state.went_past_since(&format!("wait {}", self.step.id), at.came);
        at.now = if over || past() { StepNow::Done } else { StepNow::Waiting };
    }
}

impl StepStanding {
    fn find_start(&mut self, step: &Step, due: &[usize], faces: &[FaceStanding], watch: &Watch) {
        let Some(stage) = step.after else { return };
        for face in due.iter().filter_map(|face| faces.get(*face)) {
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
