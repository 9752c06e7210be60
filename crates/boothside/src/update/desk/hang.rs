//! What hangs in the booth, what is away, what joins; faces left out.

use boothside_core::session::command::Command;

use super::{Desk, Effect, Now};
use crate::update::picker::{Hanging, PartRow, Picker, Picking};

impl Desk {
    /// Opens the list of parts.
    pub(super) fn open_parts(&mut self) -> Vec<Effect> {
        self.asking = None;
        self.said = None;
        let at = self.chosen().and_then(|face| {
            let part = self.session.plan().part_of(face)?;
            self.session.state().work.job.parts.iter().position(|name| name == part)
        });
        self.chosen = None;
        self.picker = Some(Picker::new(Picking::Part, at.unwrap_or(0)));
        Vec::new()
    }

    /// A part of the list was taken: one of the job is looked into, one of the Book joins.
    pub(super) fn pick_part(&mut self, picker: &Picker, now: &Now<'_>) -> Vec<Effect> {
        match picker.parts(&self.session, &self.at_hand).get(picker.at) {
            Some(PartRow::OfJob(part)) => {
                self.picker = Some(Picker::new(Picking::Hanging { part: *part }, 0));
                Vec::new()
            }
            Some(PartRow::OfBook(row)) => {
                let Some((name, part)) = self.at_hand.parts.get(*row).cloned() else {
                    return Vec::new();
                };
                self.picker = None;
                self.tell(&Command::JoinPart { part: name, is: Box::new(part) }, None, now)
            }
            None => Vec::new(),
        }
    }

    /// A line of a part was taken: it hangs or is away, or one of its faces is left out or not.
    pub(super) fn pick_hanging(&mut self, picker: &Picker, now: &Now<'_>) -> Vec<Effect> {
        let Some(row) = picker.hanging(&self.session).get(picker.at).cloned() else {
            return Vec::new();
        };
        let command = match row {
            Hanging::Part { part, away: true } => Command::HangPart { part },
            Hanging::Part { part, away: false } => Command::TakePartAway { part },
            Hanging::Face { face, left } => {
                let face = self.face_id(face);
                if left { Command::TakeFaceBack { face } } else { Command::LeaveFace { face } }
            }
        };
        self.picker = None;
        self.tell(&command, None, now)
    }
}
