//! The logs, as they lie on the disk.

use std::fs;
use std::path::{Path, PathBuf};

use boothside_core::session::Session;
use boothside_core::session::entry::Entry;
use serde_json::Value;

/// The log that an older program wrote: keys that this one always writes are missing in it.
pub(crate) const OLDER: &str = "older";

/// One log.
pub(crate) struct Log {
    /// Its theme: the file's name without ending.
    pub(crate) name: String,
    /// Its bytes.
    pub(crate) bytes: Vec<u8>,
}

pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fixtures/format-1b")
}

/// Every log, by name.
pub(crate) fn logs() -> Vec<Log> {
    let files =
        fs::read_dir(folder()).expect("the fixtures").map(|file| file.expect("a file").path());
    let mut files: Vec<PathBuf> =
        files.filter(|path| path.extension().is_some_and(|it| it == "jsonl")).collect();
    files.sort();
    let log = |path: &PathBuf| Log {
        name: path.file_stem().expect("a name").to_string_lossy().into_owned(),
        bytes: fs::read(path).expect("a log"),
    };
    files.iter().map(log).collect()
}

impl Log {
    pub(crate) fn lines(&self) -> Vec<&str> {
        std::str::from_utf8(&self.bytes).expect("text").lines().collect()
    }

    /// Each line as JSON without its chain: the entry alone.
    pub(crate) fn values(&self) -> Vec<Value> {
        let value = |line: &str| {
            let mut value: Value = serde_json::from_str(line).expect("JSON");
            value.as_object_mut().expect("a line").remove("chain").expect("a chain");
            value
        };
        self.lines().into_iter().map(value).collect()
    }

    /// The entries that its lines tell; those that a continuation carries stay in it.
    pub(crate) fn entries(&self) -> Vec<Entry> {
        let entry = |value| serde_json::from_value(value).expect("an entry");
        self.values().into_iter().map(entry).collect()
    }

    /// The session as it stood after so many lines.
    pub(crate) fn session(&self, lines: usize) -> Session {
        let entries = self.entries().into_iter().take(lines).collect();
        Session::open(entries).expect("a session")
    }
}
