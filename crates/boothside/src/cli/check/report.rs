//! What was found, as text and as JSON.

use std::path::{Path, PathBuf};

use boothside_store::book::Flaw;
use boothside_store::{printable_json, printable_path};
use serde::Serialize;

use super::log::LogFacts;

/// So many flaws of a file are named, and the rest counted.
const MOST: usize = 20;

/// What was found in one file.
#[derive(Debug)]
pub(super) struct Finding {
    pub(super) file: PathBuf,
    /// 'sheet', … 'log'; `None` where it cannot be told.
    pub(super) kind: Option<&'static str>,
    pub(super) sound: bool,
    /// The first of them.
    pub(super) flaws: Vec<Flaw>,
    /// How many more there are.
    pub(super) more: usize,
    pub(super) log: Option<LogFacts>,
    /// Why the file cannot be used at all.
    pub(super) error: Option<String>,
}

impl Finding {
    pub(super) fn unusable(file: &Path, why: &str) -> Self {
        Self {
            file: file.to_owned(),
            kind: None,
            sound: false,
            flaws: Vec::new(),
            more: 0,
            log: None,
            error: Some(boothside_store::printable(why)),
        }
    }

    pub(super) fn of(file: &Path, kind: &'static str, mut flaws: Vec<Flaw>) -> Self {
        let more = flaws.len().saturating_sub(MOST);
        flaws.truncate(MOST);
        Self {
            file: file.to_owned(),
            kind: Some(kind),
            sound: flaws.is_empty(),
            flaws,
            more,
            log: None,
            error: None,
        }
    }

    pub(super) fn label(&self) -> String {
        printable_path(&self.file)
    }

    fn lines(&self) -> Vec<String> {
        let Some(kind) = self.kind else {
            return Vec::new();
        };
        let verdict = if self.sound { "sound" } else { "not sound" };
        let mut lines = vec![format!("{}: {kind}, {verdict}", self.label())];
        lines.extend(self.flaws.iter().map(|flaw| format!("  {flaw}")));
        lines.extend((self.more > 0).then(|| format!("  and {} more", self.more)));
        lines.extend(self.log.iter().flat_map(LogFacts::lines));
        lines
    }
}

pub(super) fn as_text(findings: &[Finding]) -> String {
    let lines = findings.iter().flat_map(Finding::lines);
    lines.map(|line| line + "\n").collect()
}

#[derive(Serialize)]
struct Answer<'a> {
    sound: bool,
    files: Vec<FileAnswer<'a>>,
}

#[derive(Serialize)]
struct FileAnswer<'a> {
    file: String,
    kind: Option<&'a str>,
    sound: bool,
    flaws: Vec<FlawAnswer<'a>>,
    more_flaws: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    log: Option<&'a LogFacts>,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<&'a str>,
}

#[derive(Serialize)]
struct FlawAnswer<'a> {
    file: String,
    line: Option<usize>,
    column: Option<usize>,
    field: &'a str,
    given: &'a str,
    accepted: &'a str,
}

pub(super) fn as_json(findings: &[Finding]) -> String {
    let answer = Answer {
        sound: findings.iter().all(|finding| finding.sound),
        files: findings.iter().map(FileAnswer::of).collect(),
    };
    // nothing in it that JSON has no form for
    printable_json(&serde_json::to_string_pretty(&answer).unwrap_or_default()) + "\n"
}

impl<'a> FileAnswer<'a> {
    fn of(finding: &'a Finding) -> Self {
        Self {
            file: finding.file.to_string_lossy().into_owned(),
            kind: finding.kind,
            sound: finding.sound,
            more_flaws: finding.more,
            flaws: finding.flaws.iter().map(FlawAnswer::of).collect(),
            log: finding.log.as_ref(),
            error: finding.error.as_deref(),
        }
    }
}

impl<'a> FlawAnswer<'a> {
    fn of(flaw: &'a Flaw) -> Self {
        Self {
            file: flaw.file.to_string_lossy().into_owned(),
            line: flaw.line,
            column: flaw.column,
            field: &flaw.field,
            given: &flaw.given,
            accepted: &flaw.accepted,
        }
    }
}
