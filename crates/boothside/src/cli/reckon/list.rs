//! Lists that are typed as one value: `90min,18.3C,55%` and `4:1:1.5`.

use boothside_core::units::parse::UnitError;

/// A value that is a list, as typed; its fields are read when the topic is known to be whole.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fields {
    text: String,
    separator: char,
}

/// Why a list was refused.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub(super) enum ListError {
    /// Nothing at all.
    #[error("is empty; --help has an example")]
    Empty,
    /// Too few or too many fields.
    #[error("'{given}' has {count} fields; accepted: {accepted}")]
    Count { given: String, count: usize, accepted: &'static str },
    /// A field that cannot be read.
    #[error("in '{given}': {error}")]
    Field { given: String, error: UnitError },
}

impl Fields {
    /// A list separated by commas.
    pub(super) fn commas(text: &str) -> Self {
        Self { text: text.trim().to_owned(), separator: ',' }
    }

    /// A list separated by colons.
    pub(super) fn colons(text: &str) -> Self {
        Self { text: text.trim().to_owned(), separator: ':' }
    }

    /// The fields, if there are from `least` to `most` of them.
    pub(super) fn between(
        &self,
        least: usize,
        most: usize,
        accepted: &'static str,
    ) -> Result<Vec<&str>, ListError> {
        let fields: Vec<&str> = self.text.split(self.separator).map(str::trim).collect();
        let count = fields.len();
        if (least..=most).contains(&count) {
            return Ok(fields);
        }
        Err(ListError::Count { given: self.text.clone(), count, accepted })
    }

    /// Every field read the same way.
    pub(super) fn each<T>(
        &self,
        read: impl Fn(&str) -> Result<T, UnitError>,
    ) -> Result<Vec<T>, ListError> {
        self.text.split(self.separator).map(|field| self.read(field, &read)).collect()
    }

    /// One field, an error naming the whole list too.
    pub(super) fn read<T>(
        &self,
        field: &str,
        read: impl Fn(&str) -> Result<T, UnitError>,
    ) -> Result<T, ListError> {
        read(field).map_err(|error| ListError::Field { given: self.text.clone(), error })
    }
}

/// For clap, which names the option of what it refuses: a list separated by commas.
pub(super) fn commas(text: &str) -> Result<Fields, ListError> {
    not_empty(text).map(Fields::commas)
}

/// For clap: a list separated by colons.
pub(super) fn colons(text: &str) -> Result<Fields, ListError> {
    not_empty(text).map(Fields::colons)
}

fn not_empty(text: &str) -> Result<&str, ListError> {
    if text.trim().is_empty() { Err(ListError::Empty) } else { Ok(text) }
}
