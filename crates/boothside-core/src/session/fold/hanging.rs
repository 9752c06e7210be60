//! Parts and faces that join, leave, hang or are away; steps done on those that hang.

use super::Fold;
use crate::session::event::Event;
use crate::session::hanging::join;
use crate::session::state::{Done, FaceHistory, Prepared, Preparing};
use crate::work::part::Part;
use crate::work::system::{Does, Step};

impl Fold<'_> {
    pub(super) fn hanging_event(&mut self, event: &Event) {
        let when = self.when;
        match event {
            Event::PartHung { part } => self.change_part(part, |face| {
                if face.place.away {
                    face.place.away = false;
                    face.place.came = Some(when);
                }
            }),
            Event::PartAway { part } => self.change_part(part, |face| face.place.away = true),
            Event::PartJoined { part, is } => self.joined(part, is),
            Event::FaceLeft { face } => self.change_face(face, |face| face.place.left = true),
            Event::FaceBack { face } => self.change_face(face, |face| {
                if face.place.left {
                    face.place.left = false;
                    face.place.came = Some(when);
                }
            }),
            _ => {}
        }
    }

    fn change_part(&mut self, part: &str, change: impl Fn(&mut FaceHistory)) {
        for face in self.plan.of_part(part) {
            if let Some(history) = self.state.faces.get_mut(face) {
                change(history);
            }
        }
    }

    fn joined(&mut self, name: &str, part: &Part) {
        // a part that does not fit, or is there already, changes nothing: the fold is total
        let known = self.state.work.parts.contains_key(name);
        if known || join(&mut self.state.work, self.plan, name, part).is_err() {
            return;
        }
        self.plan.join(&self.state.work, name);
        let mut face = FaceHistory::default();
        face.place.came = Some(self.when);
        self.state.faces.resize(self.plan.faces().len(), face);
        self.state.joined.insert(name.to_owned(), self.n);
    }

    pub(super) fn step_done(&mut self, id: &str) {
        let done = Done { at: self.when, known: self.known, n: self.n };
        self.state.steps.insert(id.to_owned(), done);
        let Some((layer, step)) = self.find_step(id) else { return };
        let how = match step.does {
            Some(Does::Wipe) => Some(Preparing::Wiped),
            Some(Does::Scuff) => Some(Preparing::Scuffed),
            Some(Does::Sand) => Some(Preparing::Sanded),
            Some(Does::Mask) | None => None,
        };
        for face in self.state.step_counts_for(&step, layer, self.when) {
            let Some(history) = self.state.faces.get_mut(face) else { continue };
            history.steps.insert(id.to_owned(), done);
            history.prepared.extend(how.map(|how| Prepared { how, at: done.at }));
        }
    }

    /// The step with this id and its layer, counted from 1; no layer for one of the closing.
    fn find_step(&self, id: &str) -> Option<(Option<u32>, Step)> {
        let system = &self.state.work.system;
        let layers = (1..).zip(&system.layers);
        let prep = layers.flat_map(|(row, layer)| layer.prep.iter().map(move |it| (Some(row), it)));
        let mut steps = prep.chain(system.close.iter().map(|step| (None, step)));
        steps.find(|(_, step)| step.id == id).map(|(layer, step)| (layer, step.clone()))
    }
}
