//! Keys as they come from the keyboard, up to what they do.

use super::tell::READS_ONLY;
use super::{Desk, Effect, GLANCE_MS, Now};
use crate::update::gate::{Out, Stroke};
use crate::update::scene::Notice;
use crate::update::table::{Do, Key, KeyRow, TABLE};

/// A key as pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pressed {
    /// A printable key.
    Char(char),
    /// Enter.
    Enter,
    /// Esc.
    Esc,
    /// Backspace.
    Backspace,
    /// Arrow up, or Shift-Tab.
    Up,
    /// Arrow down, or Tab.
    Down,
    /// The presenter's or pedal's forward key: SPACE.
    PageDown,
    /// The presenter's or pedal's back key: `u`.
    PageUp,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// To the beginning of the text.
    Home,
    /// To its end.
    End,
    /// Takes out what stands after the cursor.
    Delete,
}

impl Desk {
    /// A key was pressed. In a field it types at once; elsewhere it waits for as long as it could be
    /// part of a palm.
    pub fn press(&mut self, key: Pressed, now: &Now<'_>) -> Vec<Effect> {
        if now.hand_ms - self.last_key_ms >= GLANCE_MS {
            // the key wakes the screen: what is offered there was not in sight
            self.offered_ms = now.hand_ms;
        }
        self.last_key_ms = now.hand_ms;
        self.alarm.answered();
        let typing = self.types() && !matches!(key, Pressed::PageDown | Pressed::PageUp);
        if typing {
            let mut effects = self.let_keys_out(now);
            effects.extend(self.typed(key, now));
            return effects;
        }
        let out = self.palm.press(Stroke { key, hand_ms: now.hand_ms });
        self.take_out(out, now)
    }

    /// Whether printable keys type.
    const fn types(&self) -> bool {
        // a question over an open list is answered first
        self.form.is_some() || (self.picker.is_some() && self.asking.is_none())
    }

    fn typed(&mut self, key: Pressed, now: &Now<'_>) -> Vec<Effect> {
        if self.form.is_some() { self.type_key(key, now) } else { self.pick_key(key, now) }
    }

    /// Lets out the keys that can be no palm any more.
    pub(super) fn let_keys_out(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let out = self.palm.let_out(now.hand_ms);
        self.take_out(out, now)
    }

    fn take_out(&mut self, out: Vec<Out<Pressed>>, now: &Now<'_>) -> Vec<Effect> {
        let mut effects = Vec::new();
        for out in out {
            match out {
                Out::Palm => self.notice(Notice::Palm, now.hand_ms),
                Out::Key(stroke) => effects.extend(self.stroke(stroke, now)),
            }
        }
        effects
    }

    fn stroke(&mut self, stroke: Stroke<Pressed>, now: &Now<'_>) -> Vec<Effect> {
        // a form opened by the key before takes what was typed behind it
        if self.types() && !matches!(stroke.key, Pressed::PageDown | Pressed::PageUp) {
            return self.typed(stroke.key, now);
        }
        if let Some(effects) = self.answer(stroke.key, now) {
            return effects;
        }
        let Some(row) = self.row_of(stroke.key) else {
            let key = key_of(stroke.key);
            if self.reads_only() && TABLE.iter().any(|row| Some(row.key) == key) {
                return self.say(READS_ONLY, now);
            }
            // Esc and keys of no row only clear what lies on top
            self.clear_top();
            return Vec::new();
        };
        if !self.repeats.counts(row.does, row.repeats, stroke.hand_ms) {
            return Vec::new();
        }
        if !matches!(row.does, Do::Leave | Do::Book) {
            self.leaving = None;
        }
        self.clear_old_notices(now.hand_ms);
        self.act(row.does, stroke.hand_ms, now)
    }

    fn row_of(&self, key: Pressed) -> Option<KeyRow> {
        let key = key_of(key)?;
        self.keys.iter().find(|row| row.key == key).copied()
    }

    fn clear_top(&mut self) {
        self.chosen = None;
        self.leaving = None;
        self.screen = crate::update::scene::Screen::Clocks;
        self.notices.clear();
        self.show_notices();
    }

    /// A key clears the notices that were there to be read.
    fn clear_old_notices(&mut self, hand_ms: i64) {
        self.notices.retain(|notice| hand_ms - notice.hand_ms < 1_000);
        self.show_notices();
    }
}

/// The key of the table that was pressed.
const fn key_of(key: Pressed) -> Option<Key> {
    Some(match key {
        Pressed::Char(c) => Key::Char(c.to_ascii_lowercase()),
        Pressed::PageDown => Key::Char(' '),
        Pressed::PageUp => Key::Char('u'),
        Pressed::Enter => Key::Enter,
        Pressed::Up => Key::Up,
        Pressed::Down => Key::Down,
        _ => return None,
    })
}
