//! Which faces take part: what hangs in the booth and is sprayed, what is away, what is left, and
//! what came late.
//!
//! A face that came after the opening may be layers behind the others. It never calls the work back
//! from a layer that is under way on faces that hang: it waits, and is brought up when that layer is
//! on. Where no layer is under way it is brought up first, by its own steps, checks and pots.

use super::figures::FigureError;
use super::plan::Plan;
use super::state::{Done, State};
use super::time::{Moment, Span};
use crate::work::job::{FullJob, face_id};
use crate::work::part::Part;
use crate::work::system::{Does, Step};

/// A break this long brings the wipe back: 'overnight or longer' (TM
/// 55-1500-345-23, as others quote it); the 8 hours are our own reading of it.
pub const OVERNIGHT: Span = Span::from_hours(8);

/// Where a face is, as to this job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Place {
    /// Its part does not hang in the booth.
    pub away: bool,
    /// It is not sprayed in this job.
    pub left: bool,
    /// When it last came: joined, hung or taken back after the opening.
    pub came: Option<Moment>,
}

impl Place {
    /// Whether it hangs and is sprayed.
    #[must_use]
    pub const fn takes_part(self) -> bool {
        !self.away && !self.left
    }
}

impl State {
    /// Whether a face hangs and is sprayed.
    #[must_use]
    pub fn takes_part(&self, face: usize) -> bool {
        self.faces.get(face).is_some_and(|face| face.place.takes_part())
    }

    /// The faces that hang and are sprayed, with the layer that each gets next.
    fn taking_part(&self) -> impl Iterator<Item = (usize, Option<u32>)> {
        let faces = (0..self.faces.len()).filter(|face| self.takes_part(*face));
        faces.map(|face| (face, self.next_coat(face).map(|(layer, _)| layer)))
    }

    /// The faces that hang and get `layer` next; for no layer, all that hang.
    #[must_use]
    pub fn due_for(&self, layer: Option<u32>) -> Vec<usize> {
        let faces = self.taking_part().filter(|(_, next)| layer.is_none() || *next == layer);
        faces.map(|(face, _)| face).collect()
    }

    /// The layer in work: the first that a face that hangs lacks a coat of, where a face that came
    /// late does not call the work back from a layer under way. Nothing once all are on.
    #[must_use]
    pub fn layer_in_work(&self) -> Option<u32> {
        let under_way = self.layer_under_way();
        let waits = |face: usize, next: u32| self.is_late(face) && Some(next) < under_way;
        let lacking = self.taking_part().filter_map(|(face, next)| Some((face, next?)));
        lacking.filter(|(face, next)| !waits(*face, *next)).map(|(_, next)| next).min()
    }

    /// The highest layer that is begun and not finished on a face that hangs.
    fn layer_under_way(&self) -> Option<u32> {
        let begun = |face: usize, layer: u32| {
            self.faces[face].coats.iter().any(|coat| coat.layer == layer && !coat.skipped)
        };
        let lacking = self.taking_part().filter_map(|(face, next)| Some((face, next?)));
        lacking.filter(|(face, next)| begun(*face, *next)).map(|(_, next)| next).max()
    }

    /// The layer below `layer` that a face lacks which hangs, and hung from the opening.
    #[must_use]
    pub fn layer_before(&self, layer: u32) -> Option<u32> {
        let lacking = self.taking_part().filter(|(face, _)| !self.is_late(*face));
        lacking.filter_map(|(_, next)| next.filter(|next| *next < layer)).min()
    }

    /// Where no face takes part, the lowest layer that one lacks whose part is away.
    #[must_use]
    pub fn layer_to_hang(&self) -> Option<u32> {
        if self.taking_part().next().is_some() {
            return None;
        }
        let away = |face: &usize| self.faces[*face].place.away && !self.faces[*face].place.left;
        let away = (0..self.faces.len()).filter(away);
        away.filter_map(|face| self.next_coat(face)).map(|(layer, _)| layer).min()
    }

    fn is_late(&self, face: usize) -> bool {
        self.faces[face].place.came.is_some()
    }

    /// Those faces among which `layer` counts as begun or not: all, or, where each that gets it next
    /// came late, those.
    pub(crate) fn layer_mates(&self, layer: u32) -> Vec<usize> {
        let due = self.due_for(Some(layer));
        let late = !due.is_empty() && due.iter().all(|face| self.is_late(*face));
        if late { due } else { (0..self.faces.len()).collect() }
    }

    /// Whether a coat of `layer` was begun or left out on a face; where each that gets it next came
    /// late, on one of those.
    #[must_use]
    pub fn layer_begun(&self, layer: u32) -> bool {
        let has = |face: usize| self.faces[face].coats.iter().any(|coat| coat.layer == layer);
        self.layer_mates(layer).into_iter().any(has)
    }

    /// Since when what was checked before `layer` counts: where each face that gets it next came
    /// late, since the first of them came.
    #[must_use]
    pub fn came_for(&self, layer: u32) -> Option<Moment> {
        let came = self.due_for(Some(layer)).into_iter().map(|face| self.faces[face].place.came);
        came.min().flatten()
    }

    /// When the last face came that is bare of `layer` and gets it next.
    #[must_use]
    pub fn last_came_for(&self, layer: u32) -> Option<Moment> {
        let bare = |face: &usize| self.faces[*face].coats_on(layer) == 0;
        let due = self.due_for(Some(layer)).into_iter().filter(bare);
        due.filter_map(|face| self.faces[face].place.came).max()
    }

    /// The faces for which a step told at `when` counts: where some came late, those of its layer
    /// that lack it or for which it is too old; else all that hang, and where none does, all.
    pub(super) fn step_counts_for(
        &self,
        step: &Step,
        layer: Option<u32>,
        when: Moment,
    ) -> Vec<usize> {
        let all = self.due_for(None);
        if all.is_empty() {
            return (0..self.faces.len()).collect();
        }
        if !all.iter().any(|face| self.is_late(*face)) {
            return all;
        }
        let due = self.due_for(layer);
        let begun = layer.is_some_and(|layer| self.layer_begun(layer));
        let wants = |face: &usize| match self.faces[*face].steps.get(&step.id) {
            Some(done) => too_old_from(step, done, begun).is_some_and(|old| old <= when),
            None => true,
        };
        let wanting: Vec<usize> = due.iter().copied().filter(wants).collect();
        if wanting.is_empty() { due } else { wanting }
    }
}

/// From when on a step done is too old for a layer to begin on it. A wipe grows old on each face by
/// itself.
pub(super) fn too_old_from(step: &Step, done: &Done, begun: bool) -> Option<Moment> {
    // each face sees to its own wipe
    let wipes = step.does == Some(Does::Wipe);
    let within = step.within_s.filter(|_| !begun && !wipes);
    within.map(|s| done.at.plus(Span::from_seconds(s)))
}

/// Adds a part to a job: its faces come last in the spraying order.
///
/// # Errors
/// [`FigureError`] when the job would not hold together; it is then as it was.
pub(super) fn join(
    work: &mut FullJob,
    plan: &Plan,
    name: &str,
    part: &Part,
) -> Result<(), FigureError> {
    let ids = || part.faces.iter().map(|face| face_id(name, &face.id));
    if let Some(known) = ids().find(|id| plan.index(id).is_some()) {
        return Err(FigureError::Unfit(format!("this job has a face '{known}' already")));
    }
    let mut joined = work.clone();
    joined.parts.insert(name.to_owned(), part.clone());
    joined.job.parts.push(name.to_owned());
    if !joined.job.order.is_empty() {
        joined.job.order.extend(ids());
    }
    if let Some(fault) = joined.check().first() {
        return Err(FigureError::Unfit(fault.to_string()));
    }
    *work = joined;
    Ok(())
}
