//! `boothside check`: is a sheet, part, system, job, can, shop file or log sound?

mod book;
mod kind;
mod log;
mod report;
#[cfg(test)]
pub(crate) mod tests;

use std::io::Write;
use std::path::{Path, PathBuf};

use boothside_store::storage::{Disk, RealDisk};
use clap::Args;

use kind::FileKind;
use report::Finding;

/// Every check held.
const SOUND: u8 = 0;
/// A check did not hold.
const UNSOUND: u8 = 1;
/// A file cannot be read, or is none of ours.
const UNUSABLE: u8 = 2;

/// The options of `boothside check`.
#[derive(Debug, Clone, Args)]
pub struct CheckArgs {
    /// Sheets, parts, systems, jobs, cans, shop files and logs
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// Prints one JSON object
    #[arg(long)]
    pub json: bool,
}

/// Checks each file. Gives the exit status: 0 all sound, 1 a check did not hold, 2 a file cannot
/// be read or is none of ours.
pub fn run(args: &CheckArgs, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let findings: Vec<Finding> = args.files.iter().map(|file| check(file)).collect();
    let shown = match args.json {
        true => report::as_json(&findings),
        false => report::as_text(&findings),
    };
    // somebody who stopped reading the output still gets the exit status
    let _ = out.write_all(shown.as_bytes());
    for finding in &findings {
        if let Some(why) = &finding.error {
            let _ = writeln!(err, "boothside check: {}: {why}", finding.label());
        }
    }
    findings.iter().map(status).max().unwrap_or(SOUND)
}

fn status(finding: &Finding) -> u8 {
    match (&finding.error, finding.sound) {
        (Some(_), _) => UNUSABLE,
        (None, true) => SOUND,
        (None, false) => UNSOUND,
    }
}

fn check(file: &Path) -> Finding {
    let bytes = match RealDisk.read(file, 0) {
        Ok(bytes) => bytes,
        Err(why) => return Finding::unusable(file, &format!("cannot be read: {why}")),
    };
    match kind::recognise(file, &bytes) {
        Ok(FileKind::Log) => log::check(file),
        Ok(FileKind::Book(kind)) => book::check(file, kind, &bytes),
        Err(why) => Finding::unusable(file, &why),
    }
}
