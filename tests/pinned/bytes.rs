//! The bytes of the logs: unchanged, sound, and written again the same from what was read.

use std::fs;
use std::path::Path;

use boothside_core::session::entry::Entry;
use boothside_store::double::MemoryDisk;
use boothside_store::log::{Ending, LogWriter, inspect};
use boothside_store::storage::{Disk, RealDisk};
use sha2::{Digest, Sha256};

use crate::logs::{Log, OLDER, folder, logs};

/// The file that the store writes for these entries.
pub(crate) fn written(entries: &[Entry]) -> Vec<u8> {
    let disk = MemoryDisk::default();
    let (first, rest) = entries.split_first().expect("a line");
    let mut writer = LogWriter::create(&disk, Path::new(""), "log", first).expect("a log");
    for entry in rest {
        writer.append(entry).unwrap_or_else(|why| panic!("entry {}: {why}", entry.n));
    }
    disk.read(writer.path(), 0).expect("what was written")
}

#[test]
fn every_line_is_written_again_byte_for_byte() {
    for log in logs().iter().filter(|log| log.name != OLDER) {
        let again = written(&log.entries());
        let again = String::from_utf8(again).expect("text");
        for (row, (line, again)) in log.lines().into_iter().zip(again.lines()).enumerate() {
            assert_eq!(line, again, "{}: line {}", log.name, row + 1);
        }
        assert_eq!(log.bytes, again.as_bytes(), "{}", log.name);
    }
}

#[test]
fn what_an_older_program_left_out_is_read_and_written_out() {
    let log = logs().into_iter().find(|log| log.name == OLDER).expect("the older log");
    let entries = log.entries();
    let again = Log { name: log.name.clone(), bytes: written(&entries) };
    assert_eq!(again.entries(), entries, "it says the same");
    assert_ne!(again.bytes, log.bytes, "and now in so many words");
}

#[test]
fn every_log_is_sound_and_short() {
    for log in logs() {
        let path = folder().join(format!("{}.jsonl", log.name));
        let found = inspect(&RealDisk, &path).expect("it can be read");
        assert_eq!(found.ending, Ending::Whole, "{}", log.name);
        assert!(found.unknown.is_empty(), "{}: {:?}", log.name, found.unknown);
        assert!(log.lines().len() <= 150, "{}: {} lines", log.name, log.lines().len());
    }
}

#[test]
fn the_logs_are_as_they_were() {
    let sums = fs::read_to_string(folder().join("SHA256SUMS")).expect("the sums");
    let listed: Vec<(&str, &str)> = sums.lines().filter_map(|line| line.split_once("  ")).collect();
    let found: Vec<(String, String)> =
        logs().iter().map(|log| (sum(&log.bytes), format!("{}.jsonl", log.name))).collect();
    let found: Vec<(&str, &str)> =
        found.iter().map(|(sum, name)| (sum.as_str(), name.as_str())).collect();
    assert_eq!(found, listed, "a log is never changed: put another beside it");
}

pub(crate) fn sum(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}
