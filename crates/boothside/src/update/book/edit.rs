//! Keys in a form of the book. The same everywhere: arrows move, Enter keeps and goes on, printable keys type;
//! Esc stops typing, and then letters are commands.

use super::filling::{Filling, Outcome};
use crate::book::lines::What;
use crate::update::desk::Pressed;

/// The longest text of a field, in characters.
const LONGEST: usize = 200;

/// What a letter does while no field is typed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Does {
    /// Saves the form.
    Save,
    /// Takes back the last change.
    Undo,
    /// Brings it again.
    Redo,
    /// Takes the row out.
    RemoveRow,
    /// Moves the row up.
    RowUp,
    /// Moves the row down.
    RowDown,
    /// Throws away what was typed.
    Drop,
    /// Back to the book; what was typed is kept.
    Leave,
}

/// The letters, what they do, and how that is called on the bottom line.
pub const LETTERS: [(char, Does, &str); 8] = [
    ('s', Does::Save, "save"),
    ('u', Does::Undo, "take back"),
    ('r', Does::Redo, "again"),
    ('x', Does::RemoveRow, "row out"),
    ('<', Does::RowUp, "up"),
    ('>', Does::RowDown, "down"),
    ('d', Does::Drop, "drop"),
    ('q', Does::Leave, "book"),
];

impl Filling {
    /// A key.
    pub fn press(&mut self, key: Pressed) -> Outcome {
        // any other key than a character mends what stands there
        self.anew &= matches!(key, Pressed::Char(_));
        match key {
            Pressed::Enter => return self.enter(),
            Pressed::Esc if self.is_typing() => self.stop_typing(),
            Pressed::Esc => return self.leave(),
            Pressed::Up => self.move_by(-1),
            Pressed::Down => self.move_by(1),
            Pressed::PageUp => self.section(-1),
            Pressed::PageDown => self.section(1),
            Pressed::Left => self.sideways(-1),
            Pressed::Right => self.sideways(1),
            Pressed::Home => self.cursor = 0,
            Pressed::End => self.cursor = self.draft.text(&self.path()).chars().count(),
            Pressed::Backspace => self.backspace(),
            Pressed::Delete => self.delete(),
            Pressed::Char(c) if self.is_typing() => self.type_char(c),
            Pressed::Char(c) => return self.letter(c),
        }
        Outcome::Stays
    }

    /// Types a text that was pasted, one line, where printable keys type.
    pub fn paste(&mut self, text: &str) {
        if self.is_typing() {
            text.chars().for_each(|c| self.type_char(c));
        }
    }

    fn enter(&mut self) -> Outcome {
        match self.line().map(|line| line.what) {
            Some(What::Save) => return self.save(),
            Some(_) if !self.typing => {
                self.typing = true;
                self.enter_line();
            }
            Some(_) => {
                let path = self.path();
                let before = self.faults.get(&path).cloned();
                self.leave_line();
                // what does not fit is shown before the painter goes on; once more goes on all the same
                let now = self.faults.get(&path).cloned();
                if self.path() == path && now.is_some() && now != before {
                    self.enter_line();
                    self.anew = true;
                    self.told = Some("type it anew, or ← to mend it; Enter goes on".to_owned());
                } else if self.path() == path {
                    self.step(1);
                    self.enter_line();
                } else {
                    self.enter_line();
                }
            }
            None => {}
        }
        Outcome::Stays
    }

    fn leave(&mut self) -> Outcome {
        self.leave_line();
        Outcome::Leave
    }

    fn stop_typing(&mut self) {
        self.leave_line();
        self.typing = false;
        self.enter_line();
    }

    fn move_by(&mut self, by: isize) {
        let path = self.path();
        self.leave_line();
        // where the row went with the leaving, the focus is on the next line already
        if self.path() == path || by < 0 {
            self.step(by);
        }
        self.enter_line();
    }

    /// To the first field of the next or last section.
    fn section(&mut self, by: isize) {
        self.leave_line();
        let is_title = |at: usize| matches!(self.lines[at].what, What::Section(_));
        let starts: Vec<usize> = (0..self.lines.len())
            .filter(|at| *at == 0 || *at + 1 == self.lines.len() || is_title(*at))
            .collect();
        let title = starts.iter().rposition(|start| *start <= self.at).unwrap_or(0);
        let first = starts[title] + usize::from(is_title(starts[title]));
        // up goes to the beginning of this section first
        let target = match by {
            by if by < 0 && self.at > first => title,
            by => title.saturating_add_signed(by).min(starts.len() - 1),
        };
        self.at = starts[target];
        if !self.lines[self.at].takes_focus() {
            self.step(1);
        }
        self.enter_line();
    }

    fn sideways(&mut self, by: isize) {
        let Some(field) = self.field() else { return };
        if field.takes.is_picked() {
            return self.cycle(by);
        }
        let last = self.draft.text(&self.path()).chars().count();
        self.cursor = self.cursor.saturating_add_signed(by).min(last);
    }

    /// The next of what can be picked.
    fn cycle(&mut self, by: isize) {
        let (offers, path) = (self.offers(), self.path());
        let now = offers.iter().position(|offer| offer.value == self.draft.text(&path));
        let count = offers.len() as isize;
        let next = match now {
            Some(now) => (now as isize + by).rem_euclid(count.max(1)),
            None if by < 0 => count - 1,
            None => 0,
        };
        if let Some(offer) = usize::try_from(next).ok().and_then(|next| offers.get(next)) {
            self.pick(offer.value.clone());
        }
    }

    fn pick(&mut self, value: String) {
        self.changing(true);
        let path = self.path();
        self.draft.set(&path, value);
        self.relay();
    }

    fn type_char(&mut self, c: char) {
        if c.is_control() {
            return;
        }
        let Some(field) = self.field() else { return };
        if field.takes.is_picked() {
            return self.type_to_find(c);
        }
        let path = self.path();
        let mut text: Vec<char> = self.draft.text(&path).chars().collect();
        if std::mem::take(&mut self.anew) {
            text.clear();
        }
        if text.len() >= LONGEST {
            return;
        }
        self.changing(true);
        self.cursor = self.cursor.min(text.len());
        text.insert(self.cursor, c);
        self.cursor += 1;
        self.put(text.into_iter().collect());
    }

    fn type_to_find(&mut self, c: char) {
        if c == ' ' && self.find.is_empty() {
            return self.cycle(1);
        }
        self.find.push(c);
        if self.offers().is_empty() {
            // a letter that finds nothing begins anew
            self.find = c.to_string();
        }
        if let Some(offer) = self.offers().first() {
            self.pick(offer.value.clone());
        } else {
            self.find.pop();
        }
    }

    fn put(&mut self, text: String) {
        let path = self.path();
        self.draft.set(&path, text);
        self.faults.remove(&path);
        self.relay();
    }

    fn backspace(&mut self) {
        let picked = self.field().is_some_and(|field| field.takes.is_picked());
        if picked || self.cursor > 0 {
            self.take_out(picked, self.cursor.saturating_sub(1));
        }
    }

    fn delete(&mut self) {
        let picked = self.field().is_some_and(|field| field.takes.is_picked());
        self.take_out(picked, self.cursor);
    }

    fn take_out(&mut self, whole: bool, at: usize) {
        let path = self.path();
        let mut text: Vec<char> = self.draft.text(&path).chars().collect();
        if self.field().is_none() || !self.typing || text.is_empty() || (!whole && at >= text.len())
        {
            return;
        }
        self.changing(true);
        if whole {
            text.clear();
            self.find.clear();
        } else {
            text.remove(at);
        }
        self.cursor = at.min(text.len());
        self.put(text.into_iter().collect());
    }

    fn letter(&mut self, c: char) -> Outcome {
        let dropping = std::mem::take(&mut self.dropping);
        if c == ' ' && matches!(self.line().map(|line| line.what), Some(What::Save)) {
            return self.save();
        }
        let Some((_, does, _)) = LETTERS.into_iter().find(|(letter, ..)| *letter == c) else {
            return Outcome::Stays;
        };
        // once letters are commands they stay so, wherever the command leads
        self.typing = false;
        match does {
            Does::Save => return self.save(),
            Does::Undo => match self.undo.back(self.here()) {
                Some(step) => self.go_to(step),
                None => self.told = Some("nothing more to take back here".to_owned()),
            },
            Does::Redo => match self.undo.again(self.here()) {
                Some(step) => self.go_to(step),
                None => self.told = Some("nothing was taken back".to_owned()),
            },
            Does::RemoveRow => self.remove_row(),
            Does::RowUp => self.move_row(-1),
            Does::RowDown => self.move_row(1),
            Does::Drop if dropping => return Outcome::Drop,
            Does::Drop => self.dropping = true,
            Does::Leave => return self.leave(),
        }
        Outcome::Stays
    }

    fn remove_row(&mut self) {
        let Some(row) = self.line().and_then(|line| line.row.clone()) else {
            self.told = Some("this line is in no row".to_owned());
            return;
        };
        if row.row < self.draft.rows(&row.list) {
            self.changing(false);
            self.draft.remove_row(&row.list, row.row);
            self.relay();
            self.enter_line();
            self.judge(crate::book::compose::How::SoFar);
            self.told = Some("taken out · u takes that back".to_owned());
        }
    }

    fn move_row(&mut self, by: isize) {
        let Some(line) = self.line().cloned() else { return };
        let Some(row) = line.row else { return };
        let to = row.row.saturating_add_signed(by);
        let last = self.draft.rows(&row.list);
        if to == row.row || to >= last || row.row >= last {
            return;
        }
        self.changing(false);
        self.draft.swap_rows(&row.list, row.row, to);
        let at = |row_number: usize| format!("{}[{row_number}]", row.list);
        let path = line.path.replacen(&at(row.row), &at(to), 1);
        self.relay();
        self.stand_at(&path);
        self.enter_line();
        self.judge(crate::book::compose::How::SoFar);
    }
}
