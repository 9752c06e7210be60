//! Typing in a form.

use super::Form;

/// The longest text of a field, in characters: a note of several sentences.
const LONGEST: usize = 500;

impl Form {
    /// Types a character into the field in focus. Control characters are left out.
    pub fn type_char(&mut self, c: char) {
        let focus = self.focus;
        if let Some(field) = self.fields.get_mut(focus)
            && !c.is_control()
            && field.text.chars().count() < LONGEST
        {
            field.text.push(c);
            field.error = None;
        }
    }

    /// Types a text that was pasted, one line, into the field in focus.
    pub fn paste(&mut self, text: &str) {
        for c in text.chars() {
            self.type_char(c);
        }
    }

    /// Takes the last character back.
    pub fn backspace(&mut self) {
        let focus = self.focus;
        if let Some(field) = self.fields.get_mut(focus) {
            field.text.pop();
            field.error = None;
        }
    }

    /// Moves the focus by so many fields, held at the ends.
    pub fn move_focus(&mut self, by: isize) {
        let last = self.fields.len().saturating_sub(1);
        self.focus = self.focus.saturating_add_signed(by).min(last);
    }

    /// Whether the focus is on the last field; fields aside do not count.
    #[must_use]
    pub fn on_last(&self) -> bool {
        let after = self.fields.get(self.focus + 1..).unwrap_or_default();
        let aside = self.fields.get(self.focus).is_some_and(|field| field.name.is_aside());
        after.is_empty() || (!aside && after.iter().all(|field| field.name.is_aside()))
    }

    /// This form with what was typed in `draft`: its labels and hints are of now, the text is of
    /// then.
    #[must_use]
    pub fn with_typed(mut self, draft: &Self) -> Self {
        for field in &mut self.fields {
            if let Some(typed) = draft.fields.iter().find(|typed| typed.name == field.name) {
                field.text.clone_from(&typed.text);
                field.error.clone_from(&typed.error);
            }
        }
        self.focus = draft.focus.min(self.fields.len().saturating_sub(1));
        self
    }

    /// Whether nothing was typed; fields aside, which may be filled in from before, do not count.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let typed = self.fields.iter().filter(|field| !field.name.is_aside());
        typed.map(|field| field.text.trim()).all(str::is_empty)
    }
}
