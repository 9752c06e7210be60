//! A face that may have been forgotten on the gun: asked beside the clocks, never instead of them.

use boothside_core::session::command::Command;
use boothside_core::session::pace::Forgotten;

use super::{Desk, Effect, Now, Pressed, THUMB_MS, Timed};
use crate::forms::FormKind;
use crate::update::scene::Screen;

impl Desk {
    /// What is asked, unless something else is asked or filled in.
    pub(super) fn forgotten(&self) -> Option<Forgotten> {
        let free = !self.reads_only()
            && self.asking.is_none()
            && self.form.is_none()
            && self.picker.is_none();
        let put_away = |forgotten: &Forgotten| self.forgotten_away != Some(forgotten.asked);
        self.board.forgotten.filter(put_away).filter(|_| free && self.screen == Screen::Clocks)
    }

    /// Notes since when the question stands there, and lets the screen wake for it.
    pub(super) fn note_forgotten(&mut self, hand_ms: i64) {
        let asked = self.forgotten().map(|forgotten| forgotten.asked);
        if self.forgotten_since.as_ref().map(|since| since.it) != asked {
            self.forgotten_since = asked.map(|it| Timed { it, hand_ms });
        }
    }

    /// Takes `key` as the answer: a digit. Any other key goes its usual way, and the question stays;
    /// so does a digit that was meant for what stood there a moment ago.
    pub(super) fn answer_forgotten(&mut self, key: Pressed, now: &Now<'_>) -> Option<Vec<Effect>> {
        let forgotten = self.forgotten()?;
        let since = self.forgotten_since.as_ref().map_or(now.hand_ms, |since| since.hand_ms);
        if now.hand_ms - since < THUMB_MS {
            return None;
        }
        let face = self.face_id(forgotten.face);
        Some(match key {
            Pressed::Char('1') => self.tell(&Command::CoatOn { face }, Some(forgotten.likely), now),
            Pressed::Char('2') => self.tell(&Command::StillSpraying { face }, None, now),
            Pressed::Char('3') => self.open_form(FormKind::WasOn, now),
            Pressed::Esc => {
                self.forgotten_away = Some(forgotten.asked);
                Vec::new()
            }
            _ => return None,
        })
    }
}
