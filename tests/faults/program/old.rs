//! Files of format 1, as they were written when it was new. They are never written anew: whatever a
//! later program reads and writes, it reads these.

use std::path::{Path, PathBuf};

use boothside::shell::opening;
use boothside_core::board::board;
use boothside_core::session::Session;
use boothside_core::session::time::Moment;
use boothside_store::book::{FolderShelf, load_job};
use boothside_store::log::{Ending, inspect, open};
use boothside_store::storage::RealDisk;
use sha2::{Digest, Sha256};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fixtures/format-1")
}

fn session(name: &str) -> PathBuf {
    fixtures().join("sessions").join(name)
}

/// The kinds of events in the log of format 1, each at least once.
const KINDS: [&str; 33] = [
    "opened",
    "step_done",
    "check_passed",
    "pot_mixed",
    "pot_topped_up",
    "pot_emptied",
    "cup_filled",
    "gun_cleaned",
    "face_begun",
    "face_finished",
    "rest_finished",
    "dulled",
    "still_wet",
    "wiped",
    "scuffed",
    "sanded",
    "turned",
    "coat_skipped",
    "coat_wiped_off",
    "extra_coat",
    "touched_up",
    "reading",
    "reading_skipped",
    "hold_overridden",
    "figure_changed",
    "paused",
    "resumed",
    "note",
    "struck",
    "retimed",
    "slept",
    "wall_clock_set",
    "restarted",
];

#[test]
fn the_fixtures_are_as_they_were() {
    let sums = std::fs::read_to_string(fixtures().join("SHA256SUMS")).expect("the sums");
    let mut listed = 0;
    for line in sums.lines() {
        let (sum, name) = line.split_once("  ").expect("a sum and a name");
        let bytes = std::fs::read(fixtures().join(name)).expect("a fixture");
        let found: String =
            Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(found, sum, "{name} was changed: add a fixture beside it instead");
        listed += 1;
    }
    assert_eq!(listed, 9);
}

#[test]
fn a_book_of_format_1_loads() {
    let work = load_job(&FolderShelf::new(RealDisk, fixtures()), "panels").expect("it loads");
    assert_eq!(work.check(), Vec::new());
    assert_eq!(work.sheets.keys().collect::<Vec<_>>(), ["clay", "glaze"]);
    assert_eq!(work.parts["panel"].faces[2].turned_after.as_deref(), Some("a"));
    let clay = &work.sheets["clay"];
    let life = clay.pot_life.as_ref().expect("a life").life.duration_s;
    assert!((life - 5400.0).abs() < 1e-9);
    assert!((work.shop.loss_ml.expect("a loss") - 18.0).abs() < 1e-9 && !work.shop.bell);
}

#[test]
fn a_log_of_format_1_with_every_kind_of_event_opens_and_folds_to_what_it_did() {
    let root = tempfile::tempdir().expect("a folder");
    let copy = root.path().join("copy.jsonl");
    std::fs::copy(session("2026-05-12-panels.jsonl"), &copy).expect("copied");
    let opened = open(&RealDisk, &copy).expect("it opens");
    let text = std::fs::read_to_string(&copy).expect("text");
    for kind in KINDS.iter().chain(["closed"].iter()) {
        assert!(text.contains(&format!("\"{kind}\":{{")), "no {kind} in the fixture");
    }
    let session = Session::open(opened.entries).expect("a session");
    assert_eq!((session.entries().len(), session.next_n()), (36, 36));
    let state = session.state();
    assert!(state.closed.is_some());
    let factor = session.opening().factors["clay"];
    assert!((factor - 1.15).abs() < 1e-9);
    let mended = &state.work.sheets["clay"].between_coats.earliest;
    assert!((mended.duration_s - 1500.0).abs() < 1e-9, "the figure that was changed");
    let retimed = session.in_force().into_iter().find(|(_, entry)| entry.n == 9);
    assert_eq!(retimed.map(|(when, _)| when), Some(Moment::from_ms(55 * 60_000)));
    assert!(session.in_force().iter().all(|(_, entry)| entry.n != 21), "it was struck");
    for minute in [0, 60, 300, 400, 40_000] {
        let _ = board(&session, Moment::from_ms(minute * 60_000));
    }
}

#[test]
fn a_damaged_log_of_format_1_and_its_continuation_are_told_apart() {
    let damaged = session("2026-05-13-damaged.jsonl");
    let found = inspect(&RealDisk, &damaged).expect("it can be read");
    assert!(matches!(found.ending, Ending::Damaged { line: 12, .. }), "{:?}", found.ending);
    assert_eq!(found.entries.len(), 11);
    let next = found.continued_in.expect("it goes on");
    assert!(next.ends_with("2026-05-13-damaged-2.jsonl"), "{}", next.display());
    let on = inspect(&RealDisk, &next).expect("it can be read");
    assert_eq!((on.ending, on.entries.len()), (Ending::Whole, 13));
    let session = Session::open(on.entries).expect("a session");
    assert_eq!(session.opening().work.job.name, "Panels, two layers");
}

#[test]
fn the_program_goes_on_with_a_session_of_format_1() {
    let root = tempfile::tempdir().expect("a folder");
    let copy = root.path().join("2026-05-13-damaged-2.jsonl");
    std::fs::copy(session("2026-05-13-damaged-2.jsonl"), &copy).expect("copied");
    let ready = match opening::go_on(&copy) {
        Ok(ready) => ready,
        Err(why) => panic!("{why}"),
    };
    assert!(ready.read_only.is_none());
    assert_eq!(ready.session.next_n(), 13);
    let before = std::fs::read(session("2026-05-13-damaged-2.jsonl")).expect("the fixture");
    assert_eq!(std::fs::read(&copy).expect("the copy"), before, "opening writes nothing");
}
