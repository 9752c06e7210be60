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
        let mut faces = Vec::with_capacity(order.len());
        let mut sources = Vec::with_capacity(order.len());
        for id in &order {
            for name in &work.job.parts {
                let Some(part) = work.parts.get(name) else {
                    continue;
                };
                let found = part.faces.iter().position(|face| &face_id(name, &face.id) == id);
                let Some(at) = found else { continue };
                let face = &part.faces[at];
                let before = face.turned_after.as_ref().map(|other| face_id(name, other));
                faces.push(PlannedFace {
                    id: id.clone(),
                    part: part.name.clone(),
                    face: face.name.clone(),
                    turned_after: before.and_then(|other| order.iter().position(|id| *id == other)),
                });
                sources.push((name.clone(), at));
                break;
            }
        }
        Self { faces, sources }
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

    /// The face's wetted area as `work` has it now, m².
    #[must_use]
    pub fn area_m2(&self, work: &FullJob, face: usize) -> f64 {
        self.sources
            .get(face)
            .and_then(|(part, at)| work.parts.get(part)?.faces.get(*at))
            .map_or(0.0, |face| face.area_m2)
    }
}
