//! A session to save: the example job and what a painter might do.
#![allow(dead_code, reason = "each test takes what it needs")]

use std::path::{Path, PathBuf};

use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::time::Moment;
use boothside_core::work::job::{FullJob, Job, Shop};
use boothside_core::work::part::{Face, Part};
use boothside_core::work::system::System;
use boothside_store::log::{LogWriter, Opened, open};
use boothside_store::storage::Disk;

pub(crate) const FOLDER: &str = "data/sessions";

pub(crate) fn folder() -> PathBuf {
    PathBuf::from(FOLDER)
}

pub(crate) fn entry(n: u64, events: Vec<Event>) -> Entry {
    let second = n % 60;
    Entry {
        n,
        t_ms: Moment::from_ms(i64::try_from(n).expect("small") * 1000),
        at: format!("2026-05-12T10:42:{second:02}.120-05:00"),
        by: By::Key,
        when_ms: None,
        events,
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: None,
    }
}

/// A job small enough to flip each byte of its line.
pub(crate) fn opening() -> Entry {
    let part = Part {
        format: 1,
        name: "Höhenflosse".into(),
        faces: vec![Face {
            id: "left".into(),
            name: "left".into(),
            area_m2: 0.18,
            shape: None,
            edges: None,
            turned_after: None,
        }],
        arm_m: None,
        retired: false,
        typed: [].into(),
    };
    let work = FullJob {
        job: Job {
            format: 1,
            name: "Tail".into(),
            system: "one".into(),
            parts: vec!["fin".into()],
            order: Vec::new(),
            away: Vec::new(),
            retired: false,
            typed: [].into(),
        },
        system: System {
            format: 1,
            name: "One".into(),
            layers: Vec::new(),
            close: Vec::new(),
            retired: false,
            typed: [].into(),
        },
        parts: [("fin".into(), part)].into(),
        sheets: [].into(),
        shop: Shop::default(),
    };
    let opening = Opening {
        format: LOG_FORMAT,
        rules: 2,
        rehearsal: false,
        work,
        factors: [("primer".into(), 1.1)].into(),
    };
    entry(0, vec![Event::Opened(Box::new(opening))])
}

/// Entries 0 to `count` - 1.
pub(crate) fn session(count: u64) -> Vec<Entry> {
    let later = (1..count).map(|n| {
        let face = "fin-left".to_owned();
        let event = match n % 3 {
            0 => Event::Dulled { face },
            1 => Event::Note { text: format!("note {n}: \"18 °C\",\"chain\":\"no\"\n") },
            _ => Event::StillWet { face },
        };
        entry(n, vec![event])
    });
    std::iter::once(opening()).chain(later).collect()
}

/// Saves `entries` as a new log and gives its path and bytes.
pub(crate) fn saved<D: Disk>(disk: &D, folder: &Path, entries: &[Entry]) -> (PathBuf, Vec<u8>) {
    boothside_store::make_folders(disk, folder).expect("a folder");
    let mut writer =
        LogWriter::create(disk, folder, "2026-05-12-tail", &entries[0]).expect("a log");
    for entry in &entries[1..] {
        writer.append(entry).expect("room");
    }
    let path = writer.path().to_owned();
    let bytes = disk.read(&path, 0).expect("readable");
    (path, bytes)
}

/// Opens, and adds one more entry to show that the log goes on.
pub(crate) fn reopened<D: Disk>(disk: &D, path: &Path) -> Opened<D> {
    let mut opened = open(disk, path).expect("a log that opens");
    let n = opened.writer.next_n();
    let more = entry(n, vec![Event::Resumed {}]);
    opened.writer.append(&more).expect("room");
    let lines = boothside_store::log::inspect(disk, path).expect("readable");
    assert_eq!(lines.ending, boothside_store::log::Ending::Whole);
    assert_eq!(lines.entries.last(), Some(&more));
    assert_eq!(lines.entries.len(), opened.entries.len() + 1);
    opened
}
