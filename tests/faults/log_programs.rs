//! Two programs on one log, on a real disk.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::fs;

use boothside_core::session::event::Event;
use boothside_store::log::{Follower, Holder, News, OpenError, holder, lock_path, open};
use boothside_store::storage::RealDisk;
use common::{entry, saved, session};

fn real() -> (tempfile::TempDir, std::path::PathBuf) {
    let root = tempfile::tempdir().expect("a folder");
    let sessions = root.path().join("data/sessions");
    let (path, _) = saved(&RealDisk, &sessions, &session(3));
    (root, path)
}

#[test]
fn a_second_writer_is_refused_and_told_who_has_it() {
    let (_root, path) = real();
    assert_eq!(holder(&RealDisk, &path).expect("an answer"), None);
    let first = open(&RealDisk, &path).expect("sound");
    let own = Holder { pid: Some(std::process::id()) };
    match open(&RealDisk, &path) {
        Err(OpenError::Locked(other)) => assert_eq!(other, own),
        other => panic!("{other:?}"),
    }
    assert_eq!(holder(&RealDisk, &path).expect("an answer"), Some(own));
    drop(first);
    assert_eq!(holder(&RealDisk, &path).expect("an answer"), None);
    assert!(lock_path(&path).exists(), "the lock file stays");
    open(&RealDisk, &path).expect("free again");
}

#[test]
fn a_note_left_in_the_lock_file_locks_nothing() {
    let (_root, path) = real();
    fs::write(lock_path(&path), "4000000000\n").expect("a stale note");
    open(&RealDisk, &path).expect("nobody has it");
}

#[cfg(unix)]
#[test]
fn only_the_owner_can_read_what_is_written() {
    use std::os::unix::fs::PermissionsExt;
    let (root, path) = real();
    let mode =
        |path: &std::path::Path| fs::metadata(path).expect("there").permissions().mode() & 0o777;
    let mut torn = fs::read(&path).expect("the log");
    torn.extend_from_slice(b"{\"n\":3,\"t_m");
    fs::write(&path, torn).expect("torn");
    drop(open(&RealDisk, &path).expect("mended"));
    assert_eq!(mode(&root.path().join("data")), 0o700);
    assert_eq!(mode(&root.path().join("data/sessions")), 0o700);
    for file in [path.clone(), lock_path(&path), path.with_extension("torn-1")] {
        assert_eq!(mode(&file), 0o600, "{}", file.display());
    }
    let shop = root.path().join("shop.json");
    boothside_store::save_whole(&RealDisk, &shop, b"{}").expect("saved");
    assert_eq!(mode(&shop), 0o600);
}

#[test]
fn a_name_that_is_taken_gets_a_number() {
    let (_root, path) = real();
    let sessions = path.parent().expect("a folder");
    let (second, _) = saved(&RealDisk, sessions, &session(1));
    let (third, _) = saved(&RealDisk, sessions, &session(1));
    assert_eq!(second, sessions.join("2026-05-12-tail-2.jsonl"));
    assert_eq!(third, sessions.join("2026-05-12-tail-3.jsonl"));
}

#[test]
fn a_follower_tells_whole_lines_and_holds_half_ones() {
    let (_root, path) = real();
    let bytes = fs::read(&path).expect("the log");
    let mut follower = Follower::new(&RealDisk, &path);
    let mut told = Vec::new();
    for end in 0..=bytes.len() {
        fs::write(&path, &bytes[..end]).expect("written");
        match follower.look().expect("readable") {
            News::Nothing => {}
            News::More(more) => {
                assert_eq!(bytes[end - 1], b'\n');
                told.extend(more);
            }
            other => panic!("{other:?}"),
        }
    }
    assert_eq!(told, session(3));
    assert_eq!(follower.entries(), session(3));
}

#[test]
fn a_follower_forgets_a_line_that_was_taken_back() {
    let (_root, path) = real();
    let mut opened = open(&RealDisk, &path).expect("sound");
    let mut follower = Follower::new(&RealDisk, &path);
    assert_eq!(follower.look().expect("readable"), News::More(session(3)));
    let before = fs::read(&path).expect("the log");

    // half a line comes and goes: nothing to tell
    let half = [before.as_slice(), b"{\"n\":3,\"t_ms\""].concat();
    fs::write(&path, half).expect("written");
    assert_eq!(follower.look().expect("readable"), News::Nothing);
    fs::write(&path, &before).expect("written");
    assert_eq!(follower.look().expect("readable"), News::Nothing);

    // a whole line whose sync failed comes, is told, and goes
    let note = |text: &str| entry(3, vec![Event::Note { text: text.into() }]);
    opened.writer.append(&note("one")).expect("room");
    assert_eq!(follower.look().expect("readable"), News::More(vec![note("one")]));
    let with_one = fs::read(&path).expect("the log");
    fs::write(&path, &before).expect("written");
    assert_eq!(follower.look().expect("readable"), News::Anew(session(3)));

    // another of the same length stands in its place between two looks
    fs::write(&path, &with_one).expect("written");
    assert_eq!(follower.look().expect("readable"), News::More(vec![note("one")]));
    fs::write(&path, &before).expect("written");
    drop(opened);
    let mut opened = open(&RealDisk, &path).expect("sound");
    opened.writer.append(&note("two")).expect("room");
    let all = [session(3), vec![note("two")]].concat();
    assert_eq!(follower.look().expect("readable"), News::Anew(all));
}

#[test]
fn a_follower_names_damage_and_keeps_what_was_good() {
    let (_root, path) = real();
    let mut bytes = fs::read(&path).expect("the log");
    let second = bytes.iter().position(|byte| *byte == b'\n').expect("lines") + 1;
    bytes[second + 4] ^= 1;
    fs::write(&path, &bytes).expect("written");
    let mut follower = Follower::new(&RealDisk, &path);
    assert_eq!(follower.look().expect("readable"), News::Anew(session(1)));
    match follower.look().expect("readable") {
        News::Damaged { line: 2, byte, .. } => assert_eq!(byte, second as u64),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_log_that_another_program_put_in_its_place_is_not_written_into_the_void() {
    let (_root, path) = real();
    let mut opened = open(&RealDisk, &path).expect("sound");
    let bytes = fs::read(&path).expect("the log");
    // an editor saves by renaming: the same content, another file
    let beside = path.with_extension("new");
    fs::write(&beside, &bytes).expect("written");
    fs::rename(&beside, &path).expect("renamed");
    let next = entry(3, vec![Event::Resumed {}]);
    opened.writer.append(&next).expect("the same content: it goes on there");
    assert_eq!(fs::read(&path).expect("the log").split(|b| *b == b'\n').count(), 5);
    // other content: refused, and left alone
    let edited = String::from_utf8(bytes).expect("text").replace("note 1", "note 7");
    fs::write(&path, &edited).expect("written");
    let next = entry(4, vec![Event::Resumed {}]);
    assert!(opened.writer.append(&next).is_err());
    assert_eq!(fs::read_to_string(&path).expect("the log"), edited);
}

#[test]
fn what_another_program_appended_is_set_aside_before_it_is_cut() {
    let (_root, path) = real();
    let mut opened = open(&RealDisk, &path).expect("sound");
    let mut bytes = fs::read(&path).expect("the log");
    bytes.extend_from_slice(b"a note by hand\n");
    fs::write(&path, &bytes).expect("written");
    opened.writer.append(&entry(3, vec![Event::Resumed {}])).expect("room");
    let aside = fs::read(path.with_extension("torn-1")).expect("the copy");
    assert_eq!(aside, b"a note by hand\n");
    drop(opened);
    assert_eq!(open(&RealDisk, &path).expect("sound").entries.len(), 4);
}
