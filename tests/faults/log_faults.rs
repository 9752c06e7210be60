//! Power cuts, full disks and failing syncs at every call: what was shown as saved is there.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::path::Path;

use boothside_core::session::entry::Entry;
use boothside_store::double::{Failure, Loss, MemoryDisk};
use boothside_store::log::{
    Damage, LogWriter, OpenError, Recovery, Stamp, continue_after, inspect, logs_in, open,
};
use boothside_store::make_folders;
use boothside_store::storage::{Disk, DiskFile};
use common::{folder, session};
use proptest::prelude::*;

/// Saves `entries` one by one, trying each up to `tries` times, as the writer thread does.
/// Gives how many were said to be saved.
fn save_all(disk: &MemoryDisk, entries: &[Entry], tries: usize) -> usize {
    let made = (0..tries).find_map(|_| {
        make_folders(disk, &folder()).ok()?;
        LogWriter::create(disk, &folder(), "2026-05-12-tail", &entries[0]).ok()
    });
    let Some(mut writer) = made else { return 0 };
    for (at, entry) in entries.iter().enumerate().skip(1) {
        if !(0..tries).any(|_| writer.append(entry).is_ok()) {
            return at;
        }
    }
    entries.len()
}

/// After a crash: the entries that were said to be saved are there, or those and one in flight.
/// The log then opens, goes on, and what is added is there after another crash.
fn holds(disk: &MemoryDisk, entries: &[Entry], said: usize, case: &str) {
    let logs = logs_in(disk, &folder()).expect("a list");
    let mut found = logs.iter().filter_map(|path| match open(disk, path) {
        Ok(opened) => Some((path, opened)),
        // a file in which nothing was ever saved
        Err(OpenError::Empty) => None,
        Err(why) => panic!("{case}: {why}"),
    });
    let Some((path, opened)) = found.next() else {
        assert_eq!(said, 0, "{case}: the log is gone");
        return;
    };
    let there = opened.entries.len();
    assert_eq!(opened.entries, entries[..there], "{case}");
    assert!(there >= said, "{case}: {said} said, {there} there");
    assert!(there <= (said + 1).max(1), "{case}: {said} said, {there} there");
    let path = path.clone();
    drop(opened);
    common::reopened(disk, &path);
    disk.crash(Loss::All);
    let lines = inspect(disk, &path).expect("readable");
    assert_eq!(lines.entries.len(), there + 1, "{case}: not durable");
}

fn calls_needed(entries: &[Entry]) -> usize {
    let disk = MemoryDisk::new();
    assert_eq!(save_all(&disk, entries, 1), entries.len());
    disk.calls()
}

#[test]
fn a_power_cut_at_any_call_loses_nothing_that_was_said_to_be_saved() {
    let entries = session(4);
    for call in 0..calls_needed(&entries) {
        for bytes in [0, 1, 50, 200, 10_000] {
            for loss in [Loss::All, Loss::Keep(bytes), Loss::Zeros(bytes)] {
                let disk = MemoryDisk::new();
                disk.fail(call, Failure::PowerCut(bytes));
                let said = save_all(&disk, &entries, 1);
                disk.crash(loss);
                holds(&disk, &entries, said, &format!("call {call}, {bytes}, {loss:?}"));
            }
        }
    }
}

#[test]
fn a_line_torn_at_any_byte_is_set_aside_or_whole() {
    let entries = session(3);
    let disk = MemoryDisk::new();
    let (_, bytes) = common::saved(&disk, &folder(), &entries);
    // of the double's calls the last two are the append and the sync of the last line
    let append = calls_needed(&entries) - 2;
    let last_line = bytes.split_inclusive(|b| *b == b'\n').next_back().expect("lines").len();
    for torn in 0..=last_line {
        let disk = MemoryDisk::new();
        disk.fail(append, Failure::PowerCut(torn));
        assert_eq!(save_all(&disk, &entries, 1), 2);
        disk.crash(Loss::Keep(usize::MAX));
        let path = logs_in(&disk, &folder()).expect("a list")[0].clone();
        let there = disk.content(&path).expect("the log").len();
        assert_eq!(there, bytes.len() - last_line + torn, "the double tears where it is told");
        holds(&disk, &entries, 2, &format!("torn after {torn}"));
    }
}

#[test]
fn a_call_that_fails_is_made_good_by_the_next_attempt() {
    let entries = session(4);
    for call in 0..calls_needed(&entries) {
        for bytes in [0, 1, 100, 10_000] {
            for failure in [Failure::NoSpace(bytes), Failure::Io(bytes)] {
                for loss in [Loss::All, Loss::Keep(usize::MAX)] {
                    let disk = MemoryDisk::new();
                    disk.fail(call, failure);
                    let said = save_all(&disk, &entries, 3);
                    assert_eq!(said, entries.len(), "call {call}: one failure, two more tries");
                    disk.crash(loss);
                    holds(&disk, &entries, said, &format!("call {call}, {failure:?}, {loss:?}"));
                }
            }
        }
    }
}

#[test]
fn a_full_disk_keeps_the_log_whole_and_goes_on_when_there_is_room() {
    let entries = session(6);
    for room in 0..900 {
        let disk = MemoryDisk::new();
        let (path, _) = common::saved(&disk, &folder(), &entries[..2]);
        let mut writer = open(&disk, &path).expect("sound").writer;
        disk.leave_room(Some(room));
        let mut saved = 2;
        for entry in &entries[2..] {
            if writer.append(entry).is_err() {
                break;
            }
            saved += 1;
        }
        let lines = inspect(&disk, &path).expect("readable");
        assert_eq!(lines.entries, entries[..saved], "room for {room}");
        disk.leave_room(None);
        for entry in &entries[saved..] {
            writer.append(entry).expect("room again");
        }
        drop(writer);
        disk.crash(Loss::All);
        assert_eq!(open(&disk, &path).expect("sound").entries, entries);
    }
}

#[test]
fn an_entry_that_json_has_no_form_for_is_refused_and_the_log_goes_on() {
    use boothside_core::session::event::Event;
    let disk = MemoryDisk::new();
    let (path, before) = common::saved(&disk, &folder(), &session(2));
    let mut writer = open(&disk, &path).expect("sound").writer;
    let change = |new| {
        common::entry(
            2,
            vec![Event::FigureChanged {
                field: "f".into(),
                old: None,
                new,
                why: "mistyped".into(),
            }],
        )
    };
    assert!(writer.append(&change(f64::NAN)).is_err());
    assert_eq!(disk.content(&path).expect("the log"), before);
    writer.append(&change(0.1 + 0.2)).expect("a number");
    drop(writer);
    let entries = open(&disk, &path).expect("sound").entries;
    assert_eq!(entries[2], change(0.1 + 0.2));
}

#[test]
fn what_opening_shows_is_durable_even_if_a_killed_program_never_synced_it() {
    let entries = session(4);
    let model = MemoryDisk::new();
    let (path, bytes) = common::saved(&model, &folder(), &entries);
    let disk = MemoryDisk::new();
    make_folders(&disk, &folder()).expect("folders");
    let mut file = disk.create_new(&path).expect("room");
    file.append(&bytes).expect("room");
    drop(file);
    assert_eq!(open(&disk, &path).expect("sound").entries, entries);
    disk.crash(Loss::All);
    assert_eq!(open(&disk, &path).expect("still there").entries, entries);
}

#[test]
fn a_power_cut_while_a_torn_end_is_set_aside_loses_neither_the_log_nor_the_end() {
    let entries = session(3);
    let torn = b"{\"n\":3,\"t_ms\":30";
    for call in 0..14 {
        for loss in [Loss::All, Loss::Keep(7), Loss::Keep(usize::MAX), Loss::Zeros(9)] {
            let disk = MemoryDisk::new();
            let (path, mut bytes) = common::saved(&disk, &folder(), &entries);
            bytes.extend_from_slice(torn);
            disk.plant(&path, &bytes);
            disk.fail(disk.calls() + call, Failure::PowerCut(3));
            let opened = open(&disk, &path).is_ok();
            disk.crash(loss);
            let case = format!("call {call}, {loss:?}");
            let again = open(&disk, &path).unwrap_or_else(|why| panic!("{case}: {why}"));
            assert_eq!(again.entries, entries, "{case}");
            if opened {
                assert_eq!(again.recovery, Recovery::Sound, "{case}");
            }
            disk.crash(Loss::All);
            let mut asides = (1..4)
                .filter_map(|turn| disk.content(&path.with_extension(format!("torn-{turn}"))));
            assert!(asides.any(|aside| aside == torn), "{case}: the torn end is gone");
        }
    }
}

#[test]
fn a_power_cut_while_a_continuation_is_made_leaves_one_or_none() {
    let entries = session(4);
    for call in 0..20 {
        for loss in [Loss::All, Loss::Keep(40), Loss::Keep(usize::MAX), Loss::Zeros(40)] {
            let disk = MemoryDisk::new();
            let (path, mut bytes) = common::saved(&disk, &folder(), &entries);
            let last = bytes.len() - 10;
            bytes[last] ^= 1;
            disk.plant(&path, &bytes);
            let stamp = || Stamp { t_ms: entries[3].t_ms, at: "x".into(), anchor: None };
            let damage = damage(&disk, &path);
            disk.fail(disk.calls() + call, Failure::PowerCut(30));
            let said = continue_after(&disk, &damage, stamp()).is_ok();
            disk.crash(loss);
            let case = format!("call {call}, {loss:?}");
            assert_eq!(disk.content(&path).expect("there"), bytes, "{case}");
            let found = self::damage(&disk, &path);
            assert!(found.continued_in.is_some() || !said, "{case}");
            let continued = match &found.continued_in {
                Some(file) => open(&disk, file).map_err(|why| why.to_string()),
                None => continue_after(&disk, &found, stamp()).map_err(|why| why.to_string()),
            };
            let continued = continued.unwrap_or_else(|why| panic!("{case}: {why}"));
            assert_eq!(continued.entries[..3], entries[..3], "{case}");
            assert_eq!(continued.writer.next_n(), 4, "{case}");
        }
    }
}

fn damage(disk: &MemoryDisk, path: &Path) -> Damage {
    match open(disk, path) {
        Err(OpenError::Damaged(damage)) => *damage,
        other => panic!("{other:?}"),
    }
}

fn any_failure() -> impl Strategy<Value = Failure> {
    let bytes = prop_oneof![Just(0_usize), 0..400_usize, Just(100_000)];
    (0..3, bytes).prop_map(|(kind, bytes)| match kind {
        0 => Failure::NoSpace(bytes),
        1 => Failure::Io(bytes),
        _ => Failure::PowerCut(bytes),
    })
}

fn any_loss() -> impl Strategy<Value = Loss> {
    prop_oneof![
        Just(Loss::All),
        (0..500_usize).prop_map(Loss::Keep),
        (0..500_usize).prop_map(Loss::Zeros),
        Just(Loss::Keep(usize::MAX)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(1500) })]

    #[test]
    fn any_row_of_failures_loses_nothing_that_was_said_to_be_saved(
        failures in prop::collection::vec((0..45_usize, any_failure()), 0..8),
        loss in any_loss(),
        tries in 1..4_usize,
    ) {
        let entries = session(6);
        let disk = MemoryDisk::new();
        for (call, failure) in &failures {
            disk.fail(*call, *failure);
        }
        let said = save_all(&disk, &entries, tries);
        disk.crash(loss);
        holds(&disk, &entries, said, &format!("{failures:?}, {loss:?}, {tries}"));
    }
}
