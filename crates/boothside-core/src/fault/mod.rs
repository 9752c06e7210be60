//! What is wrong with a file's content: which field, what was given, what is accepted.

mod bound;

pub use bound::Bound;

use std::fmt;

/// One unusable field of a sheet, part, system, job, can or shop file.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// The field as a dotted path, e.g. `between_coats.open_until.duration_s`.
    pub field: String,
    /// What stands there.
    pub given: String,
    /// What would be taken.
    pub accepted: String,
    /// The limit that a number missed, in the unit of the field; nothing where it is no such limit.
    pub bound: Option<Bound>,
}

impl Fault {
    /// A fault at `field`.
    pub fn new(
        field: impl Into<String>,
        given: impl fmt::Display,
        accepted: impl Into<String>,
    ) -> Self {
        let (given, accepted) = (given.to_string(), accepted.into());
        Self { field: field.into(), given, accepted, bound: None }
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

    /// Notes a fault unless `value` keeps to `bound`, which `accepted` says in words. What is not
    /// set is no fault; so for all of these.
    pub fn bounded(
        &mut self,
        field: &str,
        value: impl Into<Option<f64>>,
        bound: Bound,
        accepted: &str,
    ) {
        let Some(value) = value.into().filter(|value| !bound.holds(*value)) else { return };
        self.add(field, value, accepted);
        if let Some(fault) = self.found.last_mut() {
            fault.bound = Some(bound);
        }
    }

    /// Notes a fault unless `value` is a finite number above zero.
    pub fn positive(&mut self, field: &str, value: impl Into<Option<f64>>) {
        self.bounded(field, value, Bound::Above(0.0), "a number above 0");
    }

    /// Notes a fault unless `value` lies in `low..=high`.
    pub fn within_range(
        &mut self,
        field: &str,
        value: impl Into<Option<f64>>,
        low: f64,
        high: f64,
    ) {
        self.bounded(field, value, Bound::Between { low, high }, &format!("{low} to {high}"));
    }

    /// Notes a fault at the second field where it is less than the first.
    pub fn rising(
        &mut self,
        (low_field, low): (&str, impl Into<Option<f64>>),
        (high_field, high): (&str, impl Into<Option<f64>>),
    ) {
        if let Some(low) = low.into().filter(|low| low.is_finite()) {
            let accepted = format!("not less than {low_field}");
            self.bounded(high_field, high, Bound::AtLeast(low), &accepted);
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
