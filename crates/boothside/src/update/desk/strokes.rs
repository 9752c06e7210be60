//! Keys as they come from the keyboard, up to what they do.

use boothside_core::session::time::Span;

use super::tell::READS_ONLY;
use super::{Desk, Effect, GLANCE_MS, Now};
use crate::update::gate::{Out, PALM_MS, Stroke};
use crate::update::lock::KeyLock;
use crate::update::scene::Notice;
use crate::update::table::{Do, Key, KeyRow, TABLE};

/// What a paste is told that finds no field.
pub(crate) const NO_FIELD: &str = "pasted text goes into a field: open one first";

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
    /// A key was pressed. In a field it types at once, and one that only looks acts at once; elsewhere it
    /// waits for as long as it could be part of a palm.
    pub fn press(&mut self, key: Pressed, now: &Now<'_>) -> Vec<Effect> {
        if self.lock.is_some() {
            return self.press_locked(key, now);
        }
        self.note_hand(now);
        let typing = self.types() && !matches!(key, Pressed::PageDown | Pressed::PageUp);
        if typing {
            let mut effects = self.let_keys_out(now);
            effects.extend(self.typed(key, now));
            return effects;
        }
        let mut effects = self.let_keys_out(now);
        let stroke = Stroke { key, hand_ms: now.hand_ms, t: now.t };
        if self.palm.press(stroke, self.only_looks(key)) {
            self.remember();
            effects.extend(self.stroke(stroke, now));
        } else if self.palm.is_palm() {
            self.put_back();
        }
        effects
    }

    /// A hand is there.
    fn note_hand(&mut self, now: &Now<'_>) {
        if now.hand_ms - self.last_key_ms >= GLANCE_MS {
            // the key wakes the screen: what is offered there was not in sight
            self.offered_ms = now.hand_ms;
        }
        self.last_key_ms = now.hand_ms;
        self.alarm.answered();
    }

    /// A text was pasted: into the field that is typed in, else nowhere.
    pub fn paste(&mut self, text: &str, now: &Now<'_>) -> Vec<Effect> {
        if self.lock.is_some() {
            return Vec::new();
        }
        self.note_hand(now);
        let effects = self.let_keys_out(now);
        match (&mut self.form, &mut self.picker) {
            (Some(form), _) => form.paste(text),
            (None, Some(picker)) if self.asking.is_none() => {
                text.chars().for_each(|c| picker.type_char(c));
            }
            _ => self.notice(Notice::Text(NO_FIELD.to_owned()), now.hand_ms),
        }
        effects
    }

    /// Whether the keys are locked, so that nothing comes of them.
    #[must_use]
    pub const fn is_locked(&self) -> bool {
        self.lock.is_some()
    }

    /// Locks the keys, so that the keyboard can be wiped.
    pub(super) fn lock_keys(&mut self) -> Vec<Effect> {
        self.lock = Some(KeyLock::default());
        self.leaving = None;
        Vec::new()
    }

    fn press_locked(&mut self, key: Pressed, now: &Now<'_>) -> Vec<Effect> {
        let effects = self.open_lock(now);
        match (&mut self.lock, key) {
            (Some(lock), Pressed::Char(c)) => lock.press(Some(c), now.hand_ms),
            (Some(lock), _) => lock.press(None, now.hand_ms),
            // it opened before this key came
            (None, _) => return self.press(key, now),
        }
        effects
    }

    /// Opens the lock where the keys that do were pressed and nothing after them.
    pub(super) fn open_lock(&mut self, now: &Now<'_>) -> Vec<Effect> {
        if self.lock.as_ref().is_some_and(|lock| lock.opens(now.hand_ms)) {
            self.lock = None;
            self.last_key_ms = now.hand_ms;
            return self.say("keys unlocked", now);
        }
        Vec::new()
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
        let mut effects = Vec::new();
        for out in self.palm.let_out(now.hand_ms) {
            match out {
                Out::Palm => self.notice(Notice::Palm, now.hand_ms),
                Out::Key(stroke) => effects.extend(self.stroke(stroke, now)),
            }
        }
        if self.palm.is_empty() {
            self.before_burst = None;
        }
        effects
    }

    /// What a key does. It counts from when it could be no palm any more, however late it was let out.
    fn stroke(&mut self, stroke: Stroke<Pressed>, now: &Now<'_>) -> Vec<Effect> {
        // session time never goes back: the machine may have told something meanwhile
        let last = self.session.entries().last().map_or(stroke.t, |last| last.t_ms);
        let could_be_none = stroke.t.plus(Span::from_ms(PALM_MS));
        let now = &Now { t: could_be_none.min(now.t).max(last), ..*now };
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
