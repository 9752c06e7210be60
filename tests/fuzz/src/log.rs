//! The log of a session.

use std::path::Path;

use boothside_core::session::entry::Entry;
use boothside_store::double::MemoryDisk;
use boothside_store::log::{Follower, OpenError, Stamp, continue_after, inspect, open};
use boothside_store::storage::Disk;
use sha2::{Digest, Sha256};

use super::picture::look_at;

/// A log of `bytes`: as they are where the first is a NUL; else each of its lines is chained, so
/// that what lies behind the chain is reached.
pub fn log(bytes: &[u8]) {
    match bytes.split_first() {
        Some((0, raw)) => take(raw),
        _ => take(&chained(bytes)),
    }
}

/// Every line of `bodies`, given without its chain, as a line that holds.
#[must_use]
pub fn chained(bodies: &[u8]) -> Vec<u8> {
    let mut chain = "0".repeat(64);
    let mut out = Vec::new();
    for body in bodies.split(|byte| *byte == b'\n').filter(|body| !body.is_empty()) {
        let prefix = body.strip_suffix(b"}").unwrap_or(body);
        let hash = Sha256::new().chain_update(&chain).chain_update(prefix).finalize();
        chain = hash.iter().map(|byte| format!("{byte:02x}")).collect();
        out.extend_from_slice(prefix);
        out.extend_from_slice(format!(",\"chain\":\"{chain}\"}}\n").as_bytes());
    }
    out
}

fn take(bytes: &[u8]) {
    let disk = MemoryDisk::new();
    let path = Path::new("sessions/any.jsonl");
    disk.plant(path, bytes);
    let inspection = inspect(&disk, path).expect("it can be read");
    let mut follower = Follower::new(&disk, path);
    let _ = follower.look().expect("it can be read");
    assert!(
        inspection.entries.starts_with(follower.entries())
            || follower.entries().starts_with(&inspection.entries),
        "both tell the same"
    );
    match open(&disk, path) {
        Ok(opened) => {
            assert_eq!(opened.entries, inspection.entries);
            drop(opened.writer);
            let again = open(&disk, path).expect("what opened once opens again");
            assert_eq!(again.entries, opened.entries);
            look_at(opened.entries);
        }
        Err(OpenError::Damaged(damage)) => {
            untouched(&disk, path, bytes);
            assert!(damage.byte <= bytes.len() as u64);
            go_on(&disk, &damage);
            look_at(damage.good);
        }
        Err(OpenError::ReadOnly(read)) => {
            untouched(&disk, path, bytes);
            look_at(read.entries);
        }
        Err(_) => untouched(&disk, path, bytes),
    }
}

fn untouched(disk: &MemoryDisk, path: &Path, bytes: &[u8]) {
    assert_eq!(disk.content(path).as_deref(), Some(bytes), "a file that is refused is left alone");
}

fn go_on(disk: &MemoryDisk, damage: &boothside_store::log::Damage) {
    let last: Option<&Entry> = damage.good.last();
    let t_ms = last.map_or(boothside_core::session::time::Moment::OPENING, |entry| entry.t_ms);
    let stamp = Stamp { t_ms, at: "2026-05-12T10:00:00.000Z".into(), anchor: None };
    if let Ok(opened) = continue_after(disk, damage, stamp) {
        let path = opened.writer.path().to_owned();
        drop(opened.writer);
        let again = open(disk, &path).expect("what was just written opens");
        assert_eq!(again.entries, opened.entries);
        let names = disk.list(Path::new("sessions")).expect("a folder");
        assert!(names.iter().all(|name| name.starts_with("any")), "{names:?}");
    }
}
