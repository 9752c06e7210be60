//! The faces of a job in spraying order, found by number or by id.

use crate::work::job::{FullJob, face_id};

/// One face of the job.
#[derive(Debug, Clone, PartialEq)]
pub struct PlannedFace {
    /// Its id in the log: `part-face`.
    pub id: String,
    /// The part's name.
    pub part: String,
    /// The face's name.
    pub face: String,
    /// Number of the face that must be fit to handle before this one is turned up.
    pub turned_after: Option<usize>,
}

/// The faces in spraying order.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    faces: Vec<PlannedFace>,
    /// Where each face stands in its part's file, by face number.
    sources: Vec<(String, usize)>,
}

impl Plan {
    /// The plan of a job that holds together.
    #[must_use]
    pub fn of(work: &FullJob) -> Self {
        let order =
            if work.job.order.is_empty() { work.face_ids() } else { work.job.order.clone() };
        let mut plan = Self { faces: Vec::new(), sources: Vec::new() };
        for id in &order {
            plan.add(work, id, &order);
        }
        plan
    }

    /// The faces of a part that joins come last, so that every number stays.
    pub(super) fn join(&mut self, work: &FullJob, part: &str) {
        let faces = work.parts.get(part).map_or(&[][..], |part| &part.faces);
        let ids = faces.iter().map(|face| face_id(part, &face.id));
        let order: Vec<String> = self.faces.iter().map(|face| face.id.clone()).chain(ids).collect();
        for id in &order[self.faces.len()..] {
            self.add(work, id, &order);
        }
    }

    /// Adds the face with this id, where `order` has the ids of all.
    fn add(&mut self, work: &FullJob, id: &str, order: &[String]) {
        let parts = work.job.parts.iter().filter_map(|name| Some((name, work.parts.get(name)?)));
        let mut found = parts.filter_map(|(name, part)| {
            let at = part.faces.iter().position(|face| face_id(name, &face.id) == id)?;
            Some((name, part, at))
        });
        let Some((name, part, at)) = found.next() else { return };
        let face = &part.faces[at];
        let before = face.turned_after.as_ref().map(|other| face_id(name, other));
        self.faces.push(PlannedFace {
            id: id.to_owned(),
            part: part.name.clone(),
            face: face.name.clone(),
            turned_after: before.and_then(|other| order.iter().position(|id| *id == other)),
        });
        self.sources.push((name.clone(), at));
    }

    /// The faces in spraying order.
    #[must_use]
    pub fn faces(&self) -> &[PlannedFace] {
        &self.faces
    }

    /// The number of the face with this id.
    #[must_use]
    pub fn index(&self, id: &str) -> Option<usize> {
        self.faces.iter().position(|face| face.id == id)
    }

    /// The numbers of the faces of a part, by its name in the job.
    #[must_use]
    pub fn of_part(&self, part: &str) -> Vec<usize> {
        let of_part = |(_, (source, _)): &(usize, &(String, usize))| source == part;
        self.sources.iter().enumerate().filter(of_part).map(|(face, _)| face).collect()
    }

    /// The name in the job of the part that a face belongs to.
    #[must_use]
    pub fn part_of(&self, face: usize) -> Option<&str> {
        self.sources.get(face).map(|(part, _)| part.as_str())
    }

    /// The face's wetted area as `work` has it now, m².
    #[must_use]
    pub fn area_m2(&self, work: &FullJob, face: usize) -> f64 {
        self.sources
            .get(face)
            .and_then(|(part, at)| work.parts.get(part)?.faces.get(*at))
            .map_or(0.0, |face| face.area_m2)
    }
}
