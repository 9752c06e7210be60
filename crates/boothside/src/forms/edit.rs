//! Typing in a form.

use super::{FieldName, Form};

/// The longest text of a field, in characters: a note of several sentences.
const LONGEST: usize = 500;

impl Form {
    /// Types a character into the field in focus; the first one replaces what stood there at rest,
    /// unless those are sentences. Control characters are left out.
    pub fn type_char(&mut self, c: char) {
        if c.is_control() {
            return;
        }
        let begins = std::mem::take(&mut self.at_rest);
        let Some(field) = self.fields.get_mut(self.focus) else { return };
        if begins && !field.name.is_prose() {
            field.text.clear();
        }
        if field.text.chars().count() < LONGEST {
            field.text.push(c);
            field.error = None;
        }
    }

    /// Types a text that was pasted: into this field alone, its lines and tabs as blanks.
    pub fn paste(&mut self, text: &str) {
        let words: Vec<&str> = text.split(|c: char| c.is_whitespace() || c.is_control()).collect();
        let words: Vec<&str> = words.into_iter().filter(|word| !word.is_empty()).collect();
        for c in words.join(" ").chars() {
            self.type_char(c);
        }
    }

    /// Takes the last character back.
    pub fn backspace(&mut self) {
        self.mend();
        if let Some(field) = self.fields.get_mut(self.focus) {
            field.text.pop();
            field.error = None;
        }
    }

    /// Takes everything out of the field in focus.
    pub fn clear(&mut self) {
        self.at_rest = true;
        if let Some(field) = self.fields.get_mut(self.focus) {
            field.text.clear();
            field.error = None;
        }
    }

    /// The field in focus is mended where it stands: typing goes on behind its text.
    pub const fn mend(&mut self) {
        self.at_rest = false;
    }

    /// Moves the focus by so many fields, held at the ends.
    pub fn move_focus(&mut self, by: isize) {
        let last = self.fields.len().saturating_sub(1);
        self.go_to(self.focus.saturating_add_signed(by).min(last));
    }

    /// Moves the focus to the field of this number.
    pub const fn go_to(&mut self, at: usize) {
        self.focus = at;
        self.at_rest = true;
    }

    /// The field of this number cannot be: why stands beside it, and typing begins it anew.
    pub fn refuse(&mut self, at: usize, why: String) {
        self.go_to(at);
        if let Some(field) = self.fields.get_mut(at) {
            field.error = Some(why);
        }
    }

    /// Whether SPACE goes on: the field in focus is empty or at rest, so that it types no blank.
    #[must_use]
    pub fn space_goes_on(&self) -> bool {
        let text = self.fields.get(self.focus).map_or("", |field| field.text.as_str());
        self.at_rest || text.is_empty()
    }

    /// Whether the focus is on the last field; fields aside do not count.
    #[must_use]
    pub fn on_last(&self) -> bool {
        let after = self.fields.get(self.focus + 1..).unwrap_or_default();
        let aside = self.fields.get(self.focus).is_some_and(|field| field.aside);
        after.is_empty() || (!aside && after.iter().all(|field| field.aside))
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
        self.at_rest = draft.at_rest;
        self
    }

    /// Whether nothing was typed; where and with what, which are filled in from before, do not count.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let before = |name| matches!(name, FieldName::Place | FieldName::With);
        let typed = self.fields.iter().filter(|field| !before(field.name));
        typed.map(|field| field.text.trim()).all(str::is_empty)
    }
}

#[cfg(test)]
mod tests {
    use crate::forms::build::{field, form};
    use crate::forms::{FieldName, Form, FormKind};

    fn two() -> Form {
        let fields = [FieldName::Amount, FieldName::Text].map(|name| field(name, "", ""));
        form(FormKind::Note, "", fields.into())
    }

    fn typed(form: &mut Form, text: &str) {
        text.chars().for_each(|c| form.type_char(c));
    }

    fn texts(form: &Form) -> [&str; 2] {
        [&form.fields[0].text, &form.fields[1].text]
    }

    #[test]
    fn typing_replaces_a_figure_at_rest_and_goes_on_behind_a_sentence() {
        let mut form = two();
        typed(&mut form, "1.5floz");
        form.move_focus(1);
        typed(&mut form, "spits");
        form.move_focus(-1);
        typed(&mut form, "8floz");
        form.move_focus(1);
        typed(&mut form, " a bit");
        assert_eq!(texts(&form), ["8floz", "spits a bit"]);
        form.go_to(0);
        form.mend();
        typed(&mut form, "s");
        assert_eq!(texts(&form)[0], "8flozs");
    }

    #[test]
    fn space_goes_on_in_an_empty_or_accepted_field_alone() {
        let mut form = two();
        assert!(form.space_goes_on());
        typed(&mut form, "2");
        assert!(!form.space_goes_on(), "a blank in what is being typed");
        form.backspace();
        assert!(form.space_goes_on(), "empty again");
        typed(&mut form, "2");
        form.go_to(0);
        assert!(form.space_goes_on(), "accepted");
    }

    #[test]
    fn a_field_is_cleared_whole() {
        let mut form = two();
        typed(&mut form, "155");
        form.refuse(0, "no".into());
        form.clear();
        assert_eq!((texts(&form)[0], &form.fields[0].error), ("", &None));
    }

    #[test]
    fn a_paste_with_lines_stays_in_its_field() {
        let mut form = two();
        form.paste("\n19.4\r\n58\t18.8\u{1b}\n");
        assert_eq!((texts(&form), form.focus), (["19.4 58 18.8", ""], 0));
    }
}
