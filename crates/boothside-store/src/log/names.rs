//! Names of log files.

use std::io;
use std::path::{Path, PathBuf};

use super::lock;
use crate::storage::Disk;

const LONGEST: usize = 48;

/// The name of a session's log without its ending: the date (`2026-05-12`) and the job's name,
/// in a–z, 0–9 and `-` alone, whatever was given.
#[must_use]
pub fn log_name(date: &str, job: &str) -> String {
    let job = match slug(job) {
        empty if empty.is_empty() => "session".into(),
        job => job,
    };
    match slug(date) {
        empty if empty.is_empty() => job,
        date => format!("{date}-{job}"),
    }
}

/// `text` in a–z, 0–9 and `-`, at most 48 of them; everything else between them becomes one `-`.
#[must_use]
pub fn slug(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars().flat_map(char::to_lowercase) {
        if out.len() >= LONGEST {
            break;
        }
        if c.is_ascii_alphanumeric() {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    out.trim_end_matches('-').to_owned()
}

/// A new, empty, locked log named `name`, or `name-2`, `name-3`, … where that is taken.
pub(crate) fn create_log<D: Disk>(
    disk: &D,
    folder: &Path,
    name: &str,
) -> io::Result<(PathBuf, D::File, D::Lock)> {
    disk.check_folder(folder)?;
    for turn in 1..=1000 {
        let path = match turn {
            1 => folder.join(format!("{name}.jsonl")),
            turn => folder.join(format!("{name}-{turn}.jsonl")),
        };
        if disk.exists(&path)? {
            continue;
        }
        // the lock first: nobody shall see the file and hold its lock before we do
        let lock = match lock::take(disk, &path) {
            Ok(Ok(lock)) => lock,
            Ok(Err(_)) => continue,
            // something lies there that is no lock: the next name will do
            Err(why) if why.kind() == io::ErrorKind::InvalidInput => continue,
            Err(why) => return Err(why),
        };
        match disk.create_new(&path) {
            Ok(file) => return Ok((path, file, lock)),
            Err(why) if why.kind() == io::ErrorKind::AlreadyExists => {}
            Err(why) => return Err(why),
        }
    }
    Err(io::ErrorKind::AlreadyExists.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_never_leaves_its_folder() {
        assert_eq!(log_name("2026-05-12", "Tail group"), "2026-05-12-tail-group");
        assert_eq!(log_name("2026-05-12", "../../etc/passwd"), "2026-05-12-etc-passwd");
        assert_eq!(log_name("..", ".."), "session");
        assert_eq!(log_name("2026-05-12", "C:\\x\0\u{1b}[2J"), "2026-05-12-c-x-2j");
        assert_eq!(log_name("2026-05-12", "Höhe 左"), "2026-05-12-h-he");
        assert!(log_name("2026-05-12", &"x".repeat(5000)).len() < 64);
    }
}
