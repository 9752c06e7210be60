//! Checking a log.

use std::path::Path;

use boothside_core::session::Session;
use boothside_core::session::entry::Entry;
use boothside_store::book::Flaw;
use boothside_store::log::{Ending, Inspection, inspect};
use boothside_store::storage::RealDisk;
use boothside_store::{printable, printable_path};
use serde::Serialize;

use super::report::Finding;

/// So many entries of a newer program are named; the rest are counted.
const MOST_UNKNOWN: usize = 10;

/// What a log holds.
#[derive(Debug, Serialize)]
pub(super) struct LogFacts {
    entries: usize,
    lines_chained: u64,
    first_at: Option<String>,
    last_at: Option<String>,
    ending: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    torn_from_byte: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    torn_bytes: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    damaged_line: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    damaged_byte: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    continued_in: Option<String>,
    held_by: Option<String>,
}

pub(super) fn check(file: &Path) -> Finding {
    let inspection = match inspect(&RealDisk, file) {
        Ok(inspection) => inspection,
        Err(why) => return Finding::unusable(file, &format!("cannot be read: {}", why.source)),
    };
    let facts = LogFacts::of(&inspection);
    let more = inspection.unknown.len().saturating_sub(MOST_UNKNOWN);
    let finding = Finding::of(file, "log", flaws(file, inspection));
    Finding { log: Some(facts), more: more + finding.more, ..finding }
}

fn flaws(file: &Path, inspection: Inspection) -> Vec<Flaw> {
    let flaw = |line: Option<u64>, given: String, accepted: &str| Flaw {
        file: file.to_owned(),
        line: line.and_then(|line| usize::try_from(line).ok()),
        column: None,
        field: String::new(),
        given,
        accepted: accepted.into(),
    };
    let mut flaws = Vec::new();
    for unknown in inspection.unknown.iter().take(MOST_UNKNOWN) {
        let accepted = "an entry that this program knows; the log opens read only";
        flaws.push(flaw(Some(unknown.line), unknown.why.clone(), accepted));
    }
    match &inspection.ending {
        Ending::Whole | Ending::NewlineMissing => {}
        // half a line of a log that is being written is no fault of it
        Ending::Torn { .. } if inspection.holder.is_some() => {}
        Ending::Torn { byte, bytes } => {
            let given = format!("{bytes} bytes of a torn line from byte {byte} on");
            let accepted = "whole lines; opening the session sets the piece aside";
            flaws.push(flaw(Some(inspection.lines + 1), given, accepted));
        }
        Ending::Damaged { line, byte, why } => {
            let given = format!("byte {byte}: {why}");
            let accepted = "lines that each chain to the one before; the file is not written to";
            flaws.push(flaw(Some(*line), given, accepted));
        }
    }
    let whole = inspection.unknown.is_empty() && flaws.is_empty();
    if whole && let Err(why) = Session::open(inspection.entries) {
        flaws.push(flaw(Some(1), why.to_string(), "a log that opens a session"));
    }
    flaws
}

impl LogFacts {
    fn of(inspection: &Inspection) -> Self {
        let at = |entry: Option<&Entry>| entry.map(|entry| entry.at.clone());
        let (ending, torn, damaged) = match &inspection.ending {
            Ending::Whole => ("whole", None, None),
            Ending::NewlineMissing => ("newline_missing", None, None),
            Ending::Torn { byte, bytes } => ("torn", Some((*byte, *bytes)), None),
            Ending::Damaged { line, byte, .. } => ("damaged", None, Some((*line, *byte))),
        };
        Self {
            entries: inspection.entries.len(),
            lines_chained: inspection.lines,
            first_at: at(inspection.entries.first()),
            last_at: at(inspection.entries.last()),
            ending,
            torn_from_byte: torn.map(|(byte, _)| byte),
            torn_bytes: torn.map(|(_, bytes)| bytes),
            damaged_line: damaged.map(|(line, _)| line),
            damaged_byte: damaged.map(|(_, byte)| byte),
            continued_in: inspection.continued_in.as_deref().map(printable_path),
            held_by: inspection.holder.map(|holder| holder.to_string()),
        }
    }

    pub(super) fn lines(&self) -> Vec<String> {
        let (entries, chained) = (self.entries, self.lines_chained);
        let mut lines = vec![format!("  {entries} entries; {chained} lines chained")];
        if let (Some(first), Some(last)) = (&self.first_at, &self.last_at) {
            lines.push(format!("  from {} to {}", printable(first), printable(last)));
        }
        if self.ending == "newline_missing" {
            lines.push("  the last line lacks its newline; opening the session adds it".into());
        }
        lines.extend(self.continued_in.iter().map(|file| format!("  goes on in {file}")));
        lines.extend(self.held_by.iter().map(|holder| format!("  {holder} has it open")));
        lines
    }
}
