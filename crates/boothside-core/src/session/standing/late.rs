//! Parts that join in the middle of a layer: what spoils goes first, and what they lack keeps no other
//! face waiting.

use super::{Gate, Wanting};
use crate::session::clocks::{Dues, Kind, Start};
use crate::session::state::{FaceHistory, State};
use crate::work::system::{Does, Step};

/// Whether a face is bare of `layer` and came after the opening.
fn came_bare(state: &State, layer: u32, face: usize) -> bool {
    let history = &state.faces[face];
    history.place.came.is_some() && history.coats_on(layer) == 0
}

impl Gate<'_> {
    /// Whether a face that is bare of `layer` came within it, and waits: one that is prepared until the
    /// round in hand is done, one that is not until the others have the layer, for preparing takes hours
    /// and their windows close.
    #[must_use]
    pub fn waits_late(&self, layer: u32, face: usize) -> bool {
        let state = self.session.state();
        let Some(came) = state.faces[face].place.came else { return false };
        let others = self.in_layer(layer);
        let others = others.filter(|(other, _)| !came_bare(state, layer, *other));
        let Some(lowest) = others.map(|(_, coat)| coat).min() else { return false };
        let round = if self.is_prepared(layer, face) { lowest } else { 1 };
        let began = |face: &FaceHistory| {
            let mut of_layer = face.coats.iter().filter(|it| it.is_nth_of(layer));
            of_layer.nth(round as usize - 1).filter(|it| !it.skipped).map(|it| it.begun)
        };
        let began = state.faces.iter().filter_map(began).min();
        came_bare(state, layer, face) && began.is_some_and(|began| began < came)
    }

    /// The faces of `layer` that wait so.
    #[must_use]
    pub fn waiting_late(&self, layer: u32) -> Vec<usize> {
        let faces = self.in_layer(layer).map(|(face, _)| face);
        faces.filter(|face| self.waits_late(layer, *face)).collect()
    }

    /// Whether every step of `layer` but the wipe is done on a face, and its wait over.
    fn is_prepared(&self, layer: u32, face: usize) -> bool {
        let steps = self.session.state().layer(layer).map_or(&[][..], |layer| &layer.prep);
        let mut steps = steps.iter().filter(|step| step.does != Some(Does::Wipe));
        !steps.any(|step| self.lacks(step, face))
    }

    /// Whether a step was not done on a face, or its wait runs.
    fn lacks(&self, step: &Step, face: usize) -> bool {
        let state = self.session.state();
        let Some(done) = state.faces[face].steps.get(&step.id) else { return true };
        let start = Start::told(done.at, done.known);
        let over = |wait| state.due(wait, Kind::Minimum, start, 1.0).moment();
        let wait = step.wait.as_ref().map(over);
        wait.is_some_and(|over| over.is_none_or(|over| !self.watch.reached(over)))
    }

    /// The faces that hang and get a coat of `layer` next, with the number of that coat.
    fn in_layer(&self, layer: u32) -> impl Iterator<Item = (usize, u32)> {
        self.standing.faces.iter().enumerate().filter_map(move |(number, face)| {
            let (of, coat) = face.next.filter(|_| !face.now.is_absent())?;
            (of == layer).then_some((number, coat))
        })
    }

    /// Everything wanted before `coat` of `layer` goes on a face: what parts lack that wait is
    /// wanted before their own coat alone.
    #[must_use]
    pub fn wanting_on(&self, (layer, coat): (u32, u32), face: usize) -> Vec<Wanting> {
        if self.waits_late(layer, face) {
            return self.wanting(layer, coat);
        }
        self.wanting_in_round(layer, coat)
    }

    /// The same of the faces that do not wait.
    #[must_use]
    pub fn wanting_in_round(&self, layer: u32, coat: u32) -> Vec<Wanting> {
        let (steps, laid_out) = (self.steps_of(layer), self.laid_out_in_round(layer));
        self.wanting_with((layer, coat), self.in_round(layer, steps), laid_out)
    }

    /// What is wanted of the steps in work for `layer`, but those of parts alone that wait.
    #[must_use]
    pub fn steps_in_round(&self, layer: u32) -> Vec<Wanting> {
        self.in_round(layer, self.steps())
    }

    /// What is laid out; not anew for parts that wait.
    #[must_use]
    pub fn laid_out_in_round(&self, layer: u32) -> Vec<Wanting> {
        let late = self.waiting_late(layer);
        if late.is_empty() { self.laid_out(layer) } else { Vec::new() }
    }

    /// Without what is wanted of faces alone that wait.
    fn in_round(&self, layer: u32, steps: Vec<Wanting>) -> Vec<Wanting> {
        let late = self.waiting_late(layer);
        let waits = |wanting: &Wanting| {
            let (Wanting::Step { step, .. }
            | Wanting::StepNotYet { step, .. }
            | Wanting::StepWait { step, .. }) = wanting
            else {
                return false;
            };
            let Some(step) = self.session.state().step(step) else { return false };
            let faces = self.in_layer(layer).map(|(face, _)| face);
            let lacking: Vec<usize> = faces.filter(|face| self.lacks(step, *face)).collect();
            !lacking.is_empty() && lacking.iter().all(|face| late.contains(face))
        };
        steps.into_iter().filter(|wanting| !waits(wanting)).collect()
    }
}
