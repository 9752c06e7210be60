//! What is wrong with a file's content: which field, what was given, what is accepted.

use std::fmt;

/// One unusable field of a sheet, part, system, job, can or shop file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The field as a dotted path, e.g. `between_coats.open_until.duration_s`.
    pub field: String,
    /// What stands there.
    pub given: String,
    /// What would be taken.
    pub accepted: String,
}

impl Fault {
    /// A fault at `field`.
    pub fn new(
        field: impl Into<String>,
        given: impl fmt::Display,
        accepted: impl Into<String>,
    ) -> Self {
        Self { field: field.into(), given: given.to_string(), accepted: accepted.into() }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} was given; accepted: {}", self.field, self.given, self.accepted)
    }
}

/// Collects faults while walking through a file, remembering the path.
#[derive(Debug, Default)]
pub struct Faults {
    path: Vec<String>,
    found: Vec<Fault>,
}

impl Faults {
    /// Runs `check` one level deeper, at `field`.
    pub fn within(&mut self, field: impl Into<String>, check: impl FnOnce(&mut Self)) {
        self.path.push(field.into());
        check(self);
        self.path.pop();
    }

    /// Notes a fault at `field` of the present path.
    pub fn add(&mut self, field: &str, given: impl fmt::Display, accepted: &str) {
        let mut path = self.path.clone();
        if !field.is_empty() {
            path.push(field.to_owned());
        }
        self.found.push(Fault::new(path.join("."), given, accepted));
    }

    /// Notes a fault unless `value` is a finite number above zero.
    pub fn positive(&mut self, field: &str, value: f64) {
        if !(value.is_finite() && value > 0.0) {
            self.add(field, value, "a number above 0");
        }
    }

    /// Notes a fault unless `value` lies in `low..=high`.
    pub fn within_range(&mut self, field: &str, value: f64, low: f64, high: f64) {
        if !(low..=high).contains(&value) {
            self.add(field, value, &format!("{low} to {high}"));
        }
    }

    /// Notes a fault unless `value` is a name: printable, not blank, at most 60 characters.
    pub fn name(&mut self, field: &str, value: &str) {
        let printable = !value.chars().any(char::is_control);
        if value.trim().is_empty() || value.chars().count() > 60 || !printable {
            self.add(field, format!("{value:?}"), "1 to 60 printable characters");
        }
    }

    /// Notes a fault unless `value` is an identifier: lower-case letters, digits and `-`.
    pub fn id(&mut self, field: &str, value: &str) {
        let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if value.is_empty() || value.len() > 60 || !value.chars().all(fits) {
            self.add(field, format!("{value:?}"), "1 to 60 of a–z, 0–9 and -");
        }
    }

    /// Everything found.
    #[must_use]
    pub fn into_found(self) -> Vec<Fault> {
        self.found
    }
}
