//! What is wrong in a file of the book, and where.

use std::fmt;
use std::io;
use std::path::PathBuf;

use boothside_core::fault::Fault;

use super::kind::Kind;
use super::locate;
use crate::printable::beginning;
use crate::{printable, printable_path};

/// One thing that is wrong in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Flaw {
    /// The file.
    pub file: PathBuf,
    /// The line, from 1; `None` where the file has no text to point to.
    pub line: Option<usize>,
    /// The column in characters, from 1.
    pub column: Option<usize>,
    /// The field as a dotted path; empty for the file as a whole.
    pub field: String,
    /// What stands there.
    pub given: String,
    /// What would be taken.
    pub accepted: String,
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&printable_path(&self.file))?;
        for number in [self.line, self.column].into_iter().flatten() {
            write!(f, ":{number}")?;
        }
        if !self.field.is_empty() {
            write!(f, ": {}", printable(&self.field))?;
        }
        let (given, accepted) = (printable(&self.given), printable(&self.accepted));
        write!(f, ": {given}; accepted: {accepted}")
    }
}

/// Why something of the book cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum BookError {
    /// There is none of that name.
    #[error("there is no {} named {:?}: {} is not there", kind.name(), printable(name), printable_path(file))]
    Missing {
        /// What was looked for.
        kind: Kind,
        /// Its name.
        name: String,
        /// Where it would be.
        file: PathBuf,
    },
    /// It is there and cannot be read.
    #[error("{} cannot be read: {source}", printable_path(file))]
    Unreadable {
        /// The file.
        file: PathBuf,
        /// What the disk said.
        source: io::Error,
    },
    /// Something in it does not fit; at least one flaw.
    #[error("{}", one_a_line(.0))]
    Flawed(Vec<Flaw>),
}

fn one_a_line(flaws: &[Flaw]) -> String {
    let lines: Vec<String> = flaws.iter().map(Flaw::to_string).collect();
    lines.join("\n")
}

impl Flaw {
    /// A fault that the core found in the file whose text is `text`.
    pub(crate) fn from_fault(file: PathBuf, text: &str, fault: Fault) -> Self {
        let place = locate::field(text, &fault.field);
        Self {
            file,
            line: place.map(|(line, _)| line),
            column: place.map(|(_, column)| column),
            field: beginning(fault.field),
            given: beginning(fault.given),
            accepted: fault.accepted,
        }
    }

    /// What the parser refused.
    pub(crate) fn from_parser(file: PathBuf, field: &str, why: &serde_json::Error) -> Self {
        let whole = why.to_string();
        let at = format!(" at line {} column {}", why.line(), why.column());
        let message = whole.strip_suffix(&at).unwrap_or(&whole);
        let (given, accepted) = split(message, why.is_data());
        let placed = why.line() > 0;
        Self {
            file,
            line: placed.then(|| why.line()),
            column: placed.then(|| why.column()),
            field: if field == "." { String::new() } else { beginning(field.to_owned()) },
            given: beginning(given),
            accepted,
        }
    }

    /// A file whose bytes are no text.
    pub(crate) fn not_text(file: PathBuf, bytes: &[u8], valid_up_to: usize) -> Self {
        let good = String::from_utf8_lossy(&bytes[..valid_up_to]);
        let (line, column) = locate::place(&good, good.len());
        Self {
            file,
            line: Some(line),
            column: Some(column),
            field: String::new(),
            given: "bytes that are not UTF-8".into(),
            accepted: "JSON in UTF-8".into(),
        }
    }
}

/// What was given and what is accepted, out of the parser's words.
fn split(message: &str, is_data: bool) -> (String, String) {
    if let Some((given, accepted)) = message.split_once(", expected ") {
        return (given.to_owned(), plain(accepted));
    }
    if let Some((given, _)) = message.split_once(", there are no fields") {
        return (given.to_owned(), "no fields".into());
    }
    if let Some(field) = message.strip_prefix("missing field ") {
        return ("nothing".into(), format!("the field {field}"));
    }
    if message.starts_with("duplicate field ") {
        return (message.to_owned(), "each field once".into());
    }
    if let Some(accepted) = message.strip_prefix("expected ") {
        return ("something else".into(), accepted.to_owned());
    }
    let accepted = if is_data { "a value that fits" } else { "JSON" };
    (message.to_owned(), accepted.into())
}

/// The names of the language's types in words.
fn plain(accepted: &str) -> String {
    match accepted {
        "f64" => "a number".into(),
        "u32" => "a whole number, 0 or more".into(),
        "a boolean" => "true or false".into(),
        "a sequence" => "a list: [ … ]".into(),
        other if other.starts_with("struct ") => "an object: { … }".into(),
        other => other.to_owned(),
    }
}
