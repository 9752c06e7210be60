//! A fault was seen: which face, which fault. A can is taken: which one.

use boothside_core::board::mixing::layer_on_bench;
use boothside_core::session::command::Command;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::stock::CanAhead;

use super::{Desk, Effect, Now, Pressed};
use crate::forms::{FormKind, MixForm};
use crate::update::picker::{Picker, Picking};

impl Desk {
    /// Opens the list: of faults where a face is chosen, else of faces.
    pub(super) fn open_faults(&mut self) -> Vec<Effect> {
        self.asking = None;
        self.said = None;
        let picker = match self.chosen() {
            Some(face) => Picker::new(Picking::Fault { face }, 0),
            None => Picker::new(Picking::Face, self.face_last_touched()),
        };
        self.chosen = None;
        self.picker = Some(picker);
        Vec::new()
    }

    /// Opens the list of cans, at the one that is taken for `component` (from 0), where told.
    pub(super) fn open_cans(&mut self, component: Option<usize>, now: &Now<'_>) -> Vec<Effect> {
        let mut picker = Picker::new(Picking::Can, 0);
        let choices = picker.cans(&self.session);
        if choices.is_empty() {
            return self.say("no can of this material is on the shelf", now);
        }
        let cans = self.board.mixing.as_ref().map_or(&[][..], |mix| &mix.cans);
        let wanted = |ahead: &&CanAhead| component.is_none_or(|at| at == ahead.component);
        let taken = cans.iter().find(wanted).map(|ahead| ahead.can.as_str());
        let at = choices.iter().position(|choice| choice.can.map(|can| can.can.as_str()) == taken);
        picker.at = at.unwrap_or(0);
        self.asking = None;
        self.said = None;
        self.picker = Some(picker);
        Vec::new()
    }

    /// The face on the gun, else the one that left it last.
    pub(super) fn face_last_touched(&self) -> usize {
        let faces = &self.board.faces;
        let on_the_gun = faces.iter().position(|face| face.at.now == FaceNow::OnTheGun);
        let finished = faces
            .iter()
            .enumerate()
            .filter_map(|(face, row)| row.at.finished.map(|finished| (finished, face)));
        on_the_gun.or_else(|| finished.max().map(|(_, face)| face)).unwrap_or(0)
    }

    /// A key while a list is open.
    pub(super) fn pick_key(&mut self, key: Pressed, now: &Now<'_>) -> Vec<Effect> {
        let Some(picker) = &mut self.picker else { return Vec::new() };
        match key {
            Pressed::Char(c) => picker.type_char(c),
            Pressed::Up => picker.move_by(-1, &self.session, &self.at_hand),
            Pressed::Down => picker.move_by(1, &self.session, &self.at_hand),
            Pressed::Enter => return self.pick(now),
            Pressed::Esc => self.picker = None,
            Pressed::Backspace if !picker.backspace() => self.picker = picker_before(picker),
            _ => {}
        }
        Vec::new()
    }

    fn pick(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let Some(picker) = self.picker.clone() else { return Vec::new() };
        match picker.picking {
            Picking::Face => {
                if let Some(face) = picker.faces(&self.session).get(picker.at) {
                    self.picker = Some(Picker::new(Picking::Fault { face: *face }, 0));
                }
                Vec::new()
            }
            Picking::Fault { face } => {
                let Some(fault) = picker.faults().get(picker.at).copied() else {
                    return Vec::new();
                };
                let (face, fault) = (self.face_id(face), fault.id.to_owned());
                self.picker = None;
                self.tell(&Command::SeeFault { face, fault }, None, now)
            }
            Picking::Can => self.take_can(&picker, now),
            Picking::Part => self.pick_part(&picker, now),
            Picking::Hanging { .. } => self.pick_hanging(&picker, now),
        }
    }
}

impl Desk {
    fn take_can(&mut self, picker: &Picker, now: &Now<'_>) -> Vec<Effect> {
        let choices = picker.cans(&self.session);
        let Some(choice) = choices.get(picker.at) else { return Vec::new() };
        let layer = layer_on_bench(self.session.state());
        let can = choice.can.map(|can| can.can.clone());
        let command = Command::PickCan { layer, component: choice.component, can };
        self.picker = None;
        // what was filled in from the can before is not of this one
        self.drafts.remove(&FormKind::Pot);
        self.drafts.remove(&FormKind::Mix(MixForm::Lots));
        self.tell(&command, None, now)
    }
}

/// One step back: from the faults to the faces, from a part to the parts, from there out.
fn picker_before(picker: &Picker) -> Option<Picker> {
    match picker.picking {
        Picking::Fault { face } => Some(Picker::new(Picking::Face, face)),
        Picking::Hanging { part } => Some(Picker::new(Picking::Part, part)),
        Picking::Face | Picking::Part | Picking::Can => None,
    }
}
