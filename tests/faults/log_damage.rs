//! A log cut at every byte, with every byte flipped, and with lines that nobody should have
//! written: a recovered prefix or named damage, never a line that is silently skipped.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::path::Path;

use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;
use boothside_core::session::time::Moment;
use boothside_store::double::MemoryDisk;
use boothside_store::log::{
    ContinueError, Damage, OpenError, Recovery, Stamp, Why, continue_after, open,
};
use boothside_store::storage::Disk;
use common::{entry, folder, reopened, saved, session};
use sha2::{Digest, Sha256};

fn planted(bytes: &[u8]) -> (MemoryDisk, std::path::PathBuf) {
    let disk = MemoryDisk::new();
    let path = folder().join("2026-05-12-tail.jsonl");
    disk.plant(&path, bytes);
    (disk, path)
}

fn stamp() -> Stamp {
    Stamp {
        t_ms: Moment::from_ms(99_000),
        at: "2026-05-12T11:00:00.000-05:00".into(),
        anchor: None,
    }
}

/// Where each line ends, newline included.
fn ends(bytes: &[u8]) -> Vec<usize> {
    let newlines = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n');
    newlines.map(|(at, _)| at + 1).collect()
}

fn damage(disk: &MemoryDisk, path: &Path) -> Option<Damage> {
    match open(disk, path) {
        Err(OpenError::Damaged(damage)) => Some(*damage),
        _ => None,
    }
}

/// A line that chains, whatever it says.
fn chained(body: &str, before: &[u8]) -> Vec<u8> {
    let last = before.split(|byte| *byte == b'\n').rfind(|line| !line.is_empty());
    let chain = last.map_or(vec![b'0'; 64], |line| line[line.len() - 66..line.len() - 2].to_vec());
    let prefix = body.strip_suffix('}').expect("an object");
    let hash = Sha256::new().chain_update(chain).chain_update(prefix).finalize();
    let hex: String = hash.iter().map(|byte| format!("{byte:02x}")).collect();
    [before, format!("{prefix},\"chain\":\"{hex}\"}}\n").as_bytes()].concat()
}

#[test]
fn the_helper_above_writes_what_the_writer_writes() {
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &session(2));
    let one = ends(&bytes)[0];
    let body = serde_json::to_string(&session(2)[1]).expect("json");
    assert_eq!(chained(&body, &bytes[..one]), bytes);
}

#[test]
fn cut_at_any_byte_the_whole_lines_are_there_and_the_rest_is_set_aside() {
    let entries = session(4);
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &entries);
    let ends = ends(&bytes);
    for cut in 0..=bytes.len() {
        let (disk, path) = planted(&bytes[..cut]);
        // a line whole but for its newline counts
        let whole = ends.iter().filter(|end| **end <= cut + 1).count();
        if whole == 0 {
            assert!(matches!(open(&disk, &path), Err(OpenError::Empty)), "cut at {cut}");
            assert_eq!(disk.content(&path).expect("untouched"), bytes[..cut]);
            continue;
        }
        let opened = reopened(&disk, &path);
        assert_eq!(opened.entries, entries[..whole], "cut at {cut}");
        let good = ends[whole - 1];
        let expected = match cut {
            cut if cut == good => Recovery::Sound,
            cut if cut + 1 == good => Recovery::NewlineAdded,
            cut => Recovery::TornSetAside {
                file: path.with_extension("torn-1"),
                bytes: (cut - good) as u64,
                byte_offset: good as u64,
            },
        };
        assert_eq!(opened.recovery, expected, "cut at {cut}");
        if let Recovery::TornSetAside { file, .. } = &opened.recovery {
            assert_eq!(disk.content(file).expect("the copy"), bytes[good..cut]);
        }
    }
}

#[test]
fn with_any_byte_changed_there_is_named_damage_or_nothing_is_lost() {
    let entries = session(4);
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &entries);
    let ends = ends(&bytes);
    for at in 0..bytes.len() {
        for flip in [0x01, 0x20, 0x80, 0xff, bytes[at] ^ b'\n', bytes[at]] {
            if flip == 0 {
                continue;
            }
            let mut changed = bytes.clone();
            changed[at] ^= flip;
            let (disk, path) = planted(&changed);
            let case = format!("byte {at} ^ {flip:#x}");
            let before = ends.iter().filter(|end| **end <= at).count();
            if at + 1 == bytes.len() {
                // the final newline: every entry is there
                assert_eq!(reopened(&disk, &path).entries, entries, "{case}");
                continue;
            }
            let damage = damage(&disk, &path).unwrap_or_else(|| panic!("{case}: no damage"));
            let newline = bytes[at] == b'\n';
            let (good, byte) = match (newline, before) {
                (true, before) => (before + 1, at),
                (false, 0) => (0, 0),
                (false, before) => (before, ends[before - 1]),
            };
            assert_eq!(damage.good, entries[..good], "{case}");
            assert_eq!((damage.line, damage.byte), (before as u64 + 1, byte as u64), "{case}");
            assert_eq!(disk.content(&path).expect("untouched"), changed, "{case}");
        }
    }
}

#[test]
fn a_line_left_out_doubled_or_swapped_is_damage() {
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &session(4));
    let lines: Vec<&[u8]> = bytes.split_inclusive(|byte| *byte == b'\n').collect();
    for order in [[0, 2, 3, 3], [0, 1, 1, 2], [0, 2, 1, 3]] {
        let (disk, path) = planted(&order.map(|line| lines[line]).concat());
        let damage = damage(&disk, &path).expect("damage");
        assert_eq!(damage.why, Why::Broken, "{order:?}");
    }
}

#[test]
fn a_session_goes_on_after_damage_and_after_damage_again() {
    let entries = session(5);
    let disk = MemoryDisk::new();
    let (path, bytes) = saved(&disk, &folder(), &entries);
    let spot = ends(&bytes)[2] + 5;
    let mut broken = bytes.clone();
    broken[spot] ^= 1;
    disk.plant(&path, &broken);

    let found = damage(&disk, &path).expect("damage");
    let mut second = continue_after(&disk, &found, stamp()).expect("a continuation");
    assert_eq!(second.writer.path(), folder().join("2026-05-12-tail-2.jsonl"));
    assert_eq!(disk.content(&path).expect("untouched"), broken);
    let again = continue_after(&disk, &found, stamp());
    assert!(matches!(again, Err(ContinueError::Already(_))));
    let found_again = damage(&disk, &path).expect("damage");
    assert_eq!(found_again.continued_in.as_deref(), Some(second.writer.path()));

    second.writer.append(&entry(4, vec![Event::Resumed {}])).expect("room");
    let path_2 = second.writer.path().to_owned();
    drop(second.writer);
    let opened = reopened(&disk, &path_2);
    assert_eq!(opened.entries[..4], second.entries);
    assert_eq!(numbers(&opened.entries), [0, 1, 2, 3, 4]);
    drop(opened);

    // line 3 of the second file: its continuation carries the first one's, emptied
    let mut broken = disk.content(&path_2).expect("the log");
    let spot = ends(&broken)[1] + 3;
    broken[spot] ^= 1;
    disk.plant(&path_2, &broken);
    let third = continue_after(&disk, &damage(&disk, &path_2).expect("damage"), stamp());
    let third = third.expect("a continuation");
    assert_eq!(third.writer.next_n(), 6);
    let path_3 = third.writer.path().to_owned();
    drop(third.writer);
    let opened = reopened(&disk, &path_3);
    assert_eq!(opened.entries, third.entries);
    assert_eq!(numbers(&opened.entries), [0, 1, 2, 3, 4, 5]);
    assert_eq!(opened.entries[..3], entries[..3]);
}

#[test]
fn what_opens_no_session_is_not_continued() {
    let first = serde_json::to_string(&entry(0, vec![Event::Resumed {}])).expect("json");
    let mut bytes = chained(&first, b"");
    bytes.extend_from_slice(b"no line\n");
    let (disk, path) = planted(&bytes);
    let found = damage(&disk, &path).expect("damage");
    assert_eq!(found.good.len(), 1);
    let refused = continue_after(&disk, &found, stamp());
    assert!(matches!(refused, Err(ContinueError::NothingGood)), "{refused:?}");
    let logs = boothside_store::log::logs_in(&disk, &folder()).expect("a list");
    assert_eq!(logs, [path], "no new file");
}

fn numbers(entries: &[Entry]) -> Vec<u64> {
    entries.iter().map(|entry| entry.n).collect()
}

#[test]
fn the_core_folds_a_continued_session() {
    let disk = MemoryDisk::new();
    let (_, path, broken) = example_broken_at(&disk, 3);
    disk.plant(&path, &broken);
    let found = damage(&disk, &path).expect("damage");
    let continued = continue_after(&disk, &found, stamp()).expect("a continuation");
    let session = boothside_core::session::Session::open(continued.entries).expect("a session");
    assert_eq!(session.next_n(), continued.writer.next_n());
}

fn example_broken_at(disk: &MemoryDisk, line: usize) -> (Vec<Entry>, std::path::PathBuf, Vec<u8>) {
    let mut entries = session(4);
    let book = boothside_store::book::FolderShelf::new(
        boothside_store::storage::RealDisk,
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/example"),
    );
    let work = boothside_store::book::load_job(&book, "float-set").expect("the example");
    if let Event::Opened(opening) = &mut entries[0].events[0] {
        opening.work = work;
    }
    let (path, mut bytes) = saved(disk, &folder(), &entries);
    let spot = ends(&bytes)[line - 1] + 5;
    bytes[spot] ^= 1;
    (entries, path, bytes)
}

#[test]
fn what_is_newer_is_shown_and_not_written_to() {
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &session(2));
    let head = r#"{"n":2,"t_ms":2000,"at":"x","by":"key","#;
    let cases = [
        (r#""events":[{"levitated":{"face":"fin-left"}}]}"#, "levitated"),
        (r#""events":[{"resumed":{"mood":"good"}}]}"#, "mood"),
        (r#""events":[],"weather":"fine"}"#, "weather"),
        (r#""events":[{"\u001b[2J":{}}]}"#, "\\u{1b}[2J"),
    ];
    for (tail, named) in cases {
        let newer = chained(&format!("{head}{tail}"), &bytes);
        let after = serde_json::to_string(&entry(3, vec![Event::Resumed {}])).expect("json");
        let newer = chained(&after, &newer);
        let (disk, path) = planted(&newer);
        let Err(OpenError::ReadOnly(read)) = open(&disk, &path) else {
            panic!("{named}: opened");
        };
        assert_eq!(numbers(&read.entries), [0, 1, 3]);
        assert_eq!(read.unknown[0].line, 3);
        assert!(read.unknown[0].why.contains(named), "{}", read.unknown[0].why);
        assert_eq!(disk.content(&path).expect("untouched"), newer);
    }
}

#[test]
fn a_newer_format_is_named() {
    let opened = serde_json::to_string(&common::opening()).expect("json");
    let forms = [
        opened.replacen(r#""opened":{"format":1"#, r#""opened":{"format":2"#, 1),
        r#"{"n":0,"t_ms":0,"who":"x","events":[{"opened":{"format":7,"new":[]}}]}"#.into(),
    ];
    for form in forms {
        assert_ne!(form, opened);
        let (disk, path) = planted(&chained(&form, b""));
        let why = open(&disk, &path).expect_err("a newer format");
        assert!(matches!(why, OpenError::ReadOnly(_)));
        assert!(why.to_string().contains("known here: format 1"), "{why}");
    }
}

#[test]
fn lines_that_chain_and_make_no_sense_are_damage() {
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &session(2));
    let number = |n: u64| serde_json::to_string(&entry(n, vec![])).expect("json");
    let deep = format!("{{\"n\":2,\"deep\":{}{}}}", "[".repeat(5000), "]".repeat(5000));
    let cases = [
        (number(3), "expected: 2"),
        (number(1), "expected: 2"),
        (r#"{"n":2,"t_ms":1,"t_ms":2,"at":"x","by":"key","events":[]}"#.into(), "stands twice"),
        (deep, "recursion"),
        ("{\"n\":2,,}".into(), "JSON"),
    ];
    for (body, named) in cases {
        let (disk, path) = planted(&chained(&body, &bytes));
        let damage = damage(&disk, &path).unwrap_or_else(|| panic!("{named}: no damage"));
        assert!(damage.why.to_string().contains(named), "{}", damage.why);
        assert_eq!((damage.line, damage.byte), (3, bytes.len() as u64));
    }
}

#[test]
fn a_continuation_that_carries_entries_out_of_number_is_damage() {
    use boothside_core::session::event::{Continuation, LOG_FORMAT};
    let mut entries = session(3);
    entries.swap(1, 2);
    let continuation =
        Continuation { format: LOG_FORMAT, file: "x".into(), line: 4, byte: 9, entries };
    let first = entry(3, vec![Event::Continued(Box::new(continuation))]);
    let (disk, path) = planted(&chained(&serde_json::to_string(&first).expect("json"), b""));
    let damage = damage(&disk, &path).expect("damage");
    assert_eq!(damage.why, Why::Number { found: 2, expected: 1 });
}

#[test]
fn a_key_twice_in_a_map_is_not_swallowed() {
    let opened = serde_json::to_string(&common::opening()).expect("json");
    let twice = opened.replacen(r#""primer":1.1"#, r#""primer":1.1,"primer":9.0"#, 1);
    assert_ne!(twice, opened);
    let (disk, path) = planted(&chained(&twice, b""));
    let damage = damage(&disk, &path).expect("damage");
    assert!(damage.why.to_string().contains("\"primer\" stands twice"));
    assert!(matches!(continue_after(&disk, &damage, stamp()), Err(ContinueError::NothingGood)));
}

#[test]
fn a_first_line_that_opens_nothing_is_told() {
    let body = serde_json::to_string(&entry(0, vec![Event::Resumed {}])).expect("json");
    let (disk, path) = planted(&chained(&body, b""));
    assert!(matches!(open(&disk, &path), Err(OpenError::NoOpening)));
    let (disk, path) = planted(b"");
    assert!(matches!(open(&disk, &path), Err(OpenError::Empty)));
    let letter = b"Dear diary,\ntoday I sprayed a fin.\n";
    let (disk, path) = planted(letter);
    assert!(matches!(open(&disk, &path), Err(OpenError::Damaged(_))));
    assert_eq!(disk.content(&path).expect("untouched"), letter);
}

#[test]
fn an_endless_line_is_damage_and_not_a_flood() {
    let (_, bytes) = saved(&MemoryDisk::new(), &folder(), &session(2));
    let mut long = bytes.clone();
    long.resize(bytes.len() + 100 * 1024 * 1024, b'x');
    long.push(b'\n');
    let (disk, path) = planted(&long);
    let damage = damage(&disk, &path).expect("damage");
    assert_eq!(damage.why, Why::TooLong(100 * 1024 * 1024));
    let endless = boothside_store::storage::RealDisk.read(Path::new("/dev/zero"), 0);
    assert!(endless.is_err());
}
