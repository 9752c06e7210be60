//! Keys as they come from the keyboard, up to what they do.

use boothside_core::board::Next;
use boothside_core::board::mixing::MixBoard;

use super::tell::READS_ONLY;
use super::{Desk, Effect, GLANCE_MS, Now};
use crate::update::gate::{Out, Stroke};
use crate::update::scene::{Notice, Screen};
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
    /// The presenter's or pedal's forward key: SPACE; in a form Enter.
    PageDown,
    /// The presenter's or pedal's back key: `u`; in a form the field before.
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
        if self.types(key) {
            let mut effects = self.let_keys_out(now);
            effects.extend(self.typed(Stroke { key, hand_ms: now.hand_ms }, now));
            return effects;
        }
        let out = self.palm.press(Stroke { key, hand_ms: now.hand_ms });
        self.take_out(out, now)
    }

    /// A text was pasted: into the field of a form or the list being searched, as one line. Elsewhere it
    /// is no keys.
    pub fn paste(&mut self, text: &str, now: &Now<'_>) -> Vec<Effect> {
        self.last_key_ms = now.hand_ms;
        let effects = self.let_keys_out(now);
        if self.form.is_some() {
            self.paste_into_form(text);
        } else if let Some(picker) = &mut self.picker {
            text.chars().filter(|c| !c.is_control()).for_each(|c| picker.type_char(c));
        } else {
            self.say("pasted text has no field here: open a form first", now);
        }
        effects
    }

    /// Whether a key goes into a form or a list, and is no command.
    const fn types(&self, key: Pressed) -> bool {
        // over a list the pedal still does the next thing; a question over it is answered first
        let pedal = matches!(key, Pressed::PageDown | Pressed::PageUp);
        self.form.is_some() || (self.picker.is_some() && self.asking.is_none() && !pedal)
    }

    /// Whether a key goes on in the form that is open.
    fn goes_on(&self, key: Pressed) -> bool {
        match (&self.form, key) {
            (Some(_), Pressed::Enter | Pressed::PageDown) => true,
            (Some(form), Pressed::Char(' ')) => form.space_goes_on(),
            _ => false,
        }
    }

    fn typed(&mut self, stroke: Stroke<Pressed>, now: &Now<'_>) -> Vec<Effect> {
        let (key, held_down) = (stroke.key, self.key_down.is_down(stroke));
        if held_down && self.goes_on(key) {
            return Vec::new();
        }
        if self.form.is_none() {
            return self.pick_key(key, now);
        }
        let effects = self.type_key(key, now);
        self.note_stroke(key, stroke.hand_ms);
        effects
    }

    /// What was pressed in a form stands between the keys before and after it. The key that kept the
    /// form has done its work: pressed again at once it writes nothing more.
    fn note_stroke(&mut self, key: Pressed, hand_ms: i64) {
        let kept = self.form.is_none().then(|| self.row_of(key)).flatten();
        match kept.filter(|row| matches!(row.does, Do::Next | Do::Act)) {
            Some(row) => self.repeats.note(row.does, hand_ms),
            None => self.repeats.forget(),
        }
    }

    /// Whether a command only opens a form here, which writes nothing: it counts however soon it comes.
    fn only_opens(&self, does: Do) -> bool {
        match does {
            Do::Next => self.board.next == Next::Reading,
            Do::Act => {
                let pours = |mix: &MixBoard| mix.now.is_err() || mix.next_pour().is_some();
                self.screen == Screen::Mix && self.board.mixing.as_ref().is_some_and(pours)
            }
            _ => false,
        }
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
        if self.types(stroke.key) {
            return self.typed(stroke, now);
        }
        self.key_down.is_down(stroke);
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
        let again = row.repeats || self.only_opens(row.does);
        if !self.repeats.counts(row.does, again, stroke.hand_ms) {
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
        self.screen = Screen::Clocks;
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
