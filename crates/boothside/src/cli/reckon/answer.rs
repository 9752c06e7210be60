//! What a calculation answers: an object for scripts, aligned lines for people.

use serde_json::{Map, Value};

/// Why a calculation was refused, in words for the person who typed it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Refusal(pub(super) String);

impl<E: std::error::Error> From<E> for Refusal {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

/// A refusal in given words.
pub(super) fn refuse<T>(why: impl Into<String>) -> Result<T, Refusal> {
    Err(Refusal(why.into()))
}

/// The caution beside a figure of air that somebody may breathe.
pub(super) const PLANNING: [&str; 2] = [
    "A figure for planning: the safety data sheet, local codes and licensed practice",
    "decide what protects.",
];

/// What a calculation answers.
#[derive(Debug, Clone, Default)]
pub(super) struct Answer {
    object: Map<String, Value>,
    lines: Vec<(String, String)>,
    notes: Vec<String>,
    not_finite: Option<String>,
}

impl Answer {
    /// Puts a number under a key.
    pub(super) fn number(&mut self, key: &str, value: f64) {
        let value = self.value(key, value);
        self.object.insert(key.to_owned(), value);
    }

    /// Puts a number, or null.
    pub(super) fn maybe(&mut self, key: &str, value: Option<f64>) {
        match value {
            Some(value) => self.number(key, value),
            None => self.put(key, Value::Null),
        }
    }

    /// Puts anything else.
    pub(super) fn put(&mut self, key: &str, value: impl Into<Value>) {
        self.object.insert(key.to_owned(), value.into());
    }

    /// An object of numbers, for a list.
    pub(super) fn object(&mut self, fields: &[(&str, f64)]) -> Value {
        let fields = fields.iter().map(|(key, value)| ((*key).to_owned(), self.value(key, *value)));
        Value::Object(fields.collect())
    }

    fn value(&mut self, key: &str, value: f64) -> Value {
        if !value.is_finite() {
            self.not_finite.get_or_insert_with(|| key.to_owned());
        }
        // adding 0 turns a negative zero into a plain one
        Value::from(value + 0.0)
    }

    /// Adds a line for people: a label and its value.
    pub(super) fn line(&mut self, label: impl Into<String>, value: impl Into<String>) {
        self.lines.push((label.into(), value.into()));
    }

    /// Adds a sentence under the lines: a note, a caution.
    pub(super) fn note(&mut self, text: impl Into<String>) {
        self.notes.push(text.into());
    }

    /// The answer, refused where a number in it is not finite.
    pub(super) fn checked(self) -> Result<Self, Refusal> {
        match self.not_finite {
            Some(key) => refuse(format!("the numbers given lead to a {key} beyond all measure")),
            None => Ok(self),
        }
    }

    /// One JSON object.
    pub(super) fn json(self) -> Value {
        Value::Object(self.object)
    }

    /// The lines, their values aligned, then the notes.
    pub(super) fn text(&self) -> String {
        let width = self.lines.iter().map(|(label, _)| label.chars().count()).max().unwrap_or(0);
        let lines = self.lines.iter().map(|(label, value)| {
            let gap = " ".repeat(width - label.chars().count());
            format!("{label}{gap}  {value}\n")
        });
        let notes = self.notes.iter().map(|note| format!("{note}\n"));
        lines.chain(notes).collect()
    }
}
