//! What things are called. Every name comes from a file and is cleaned here.

use boothside_core::work::system::{Check, Step};

use super::Words;
use crate::view::text::clean;

impl Words<'_> {
    /// The job.
    #[must_use]
    pub fn job(&self) -> String {
        clean(&self.session.state().work.job.name)
    }

    /// A face by its number: 'Fin · left'.
    #[must_use]
    pub fn face(&self, number: usize) -> String {
        match self.session.plan().faces().get(number) {
            Some(face) => clean(&format!("{} · {}", face.part, face.face)),
            None => format!("face {}", number + 1),
        }
    }

    /// A face by its id.
    #[must_use]
    pub fn face_of(&self, id: &str) -> String {
        self.session.plan().index(id).map_or_else(|| clean(id), |number| self.face(number))
    }

    /// Faces by number: up to two by name, else how many.
    #[must_use]
    pub fn faces(&self, numbers: &[usize]) -> String {
        match numbers {
            [] => "no face".into(),
            [one] => self.face(*one),
            [one, two] => format!("{}, {}", self.face(*one), self.face(*two)),
            many if many.len() == self.session.plan().faces().len() => {
                format!("all {} faces", many.len())
            }
            many => format!("{} faces", many.len()),
        }
    }

    /// Faces by id.
    #[must_use]
    pub fn faces_of(&self, ids: &[String]) -> String {
        let numbers: Vec<usize> =
            ids.iter().filter_map(|id| self.session.plan().index(id)).collect();
        self.faces(&numbers)
    }

    /// A pot by its letter: 'pot A'.
    #[must_use]
    pub fn pot(&self, id: &str) -> String {
        clean(&format!("pot {id}"))
    }

    /// The pot that would be mixed next.
    #[must_use]
    pub fn next_pot(&self) -> String {
        self.pot(&self.session.next_letter())
    }

    /// A layer by its number from 1: 'Primer'.
    #[must_use]
    pub fn layer(&self, number: u32) -> String {
        let layer = self.session.state().layer(number);
        layer.map_or_else(|| format!("layer {number}"), |layer| clean(&layer.name))
    }

    /// How many coats a layer has.
    #[must_use]
    pub fn coats(&self, layer: u32) -> u32 {
        let faces = 0..self.session.state().faces.len();
        faces.map(|face| self.session.state().coats_wanted(face, layer)).max().unwrap_or(0)
    }

    /// The step with this id.
    #[must_use]
    pub fn find_step(&self, id: &str) -> Option<&Step> {
        let system = &self.session.state().work.system;
        let steps = system.layers.iter().flat_map(|layer| &layer.prep).chain(&system.close);
        steps.into_iter().find(|step| step.id == id)
    }

    /// What a step is called: 'masked; plugs and masks counted'.
    #[must_use]
    pub fn step(&self, id: &str) -> String {
        clean(self.find_step(id).map_or(id, |step| &step.name))
    }

    /// The same with the faces that came late and lack it: 'washed, on Hatch · upper'.
    #[must_use]
    pub fn step_on(&self, id: &str) -> String {
        let at = self.board.steps.iter().find(|step| step.id == id);
        match at.map_or(&[][..], |step| &step.lacking) {
            [] => self.step(id),
            lacking => format!("{}, on {}", self.step(id), self.faces(lacking)),
        }
    }

    /// A part by its name in the job.
    #[must_use]
    pub fn part(&self, name: &str) -> String {
        let part = self.session.state().work.parts.get(name);
        clean(part.map_or(name, |part| &part.name))
    }

    /// What must be so: 'fan on, filters in, doors shut'.
    #[must_use]
    pub fn check(&self, layer: u32, id: &str) -> String {
        let checks = self.session.state().layer(layer).map_or(&[][..], |layer| &layer.ready);
        let found: Option<&Check> = checks.iter().find(|check| check.id == id);
        clean(found.map_or(id, |check| &check.name))
    }
}
