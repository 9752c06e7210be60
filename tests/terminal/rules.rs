//! A session that was written under other rules: told by name until a key answers.

use std::path::{Path, PathBuf};

use boothside::update::desk::Pressed;
use boothside::update::scene::Notice;
use boothside_core::session::event::Event;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Ruled, Session};
use boothside_store::log::{Ending, inspect};
use boothside_store::storage::RealDisk;
use sha2::{Digest, Sha256};

use crate::play::{compare, screen};
use crate::rig::Rig;

const LOG: &str = "2026-11-25-fins.jsonl";

fn fixture(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fixtures/rules-1").join(name)
}

/// The session as the program of the first rules left it.
fn session() -> Session {
    let found = inspect(&RealDisk, &fixture(LOG)).expect("it can be read");
    assert_eq!(found.ending, Ending::Whole);
    Session::open(found.entries).expect("a session")
}

/// So many minutes after its opening.
fn opened_after(minutes: i64) -> Rig {
    Rig::going_on(session(), Moment::OPENING.plus(Span::from_minutes(minutes)), None)
}

fn told(rig: &Rig) -> bool {
    rig.scene().notices.iter().any(|notice| matches!(notice, Notice::Rules(_)))
}

#[test]
fn the_fixture_is_as_it_was() {
    let sums = std::fs::read_to_string(fixture("SHA256SUMS")).expect("the sums");
    let bytes = std::fs::read(fixture(LOG)).expect("the log");
    let sum: String = Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect();
    assert_eq!(sums.trim(), format!("{sum}  {LOG}"));
}

/// Opened 11 h after the coat: by rules 1 both faces were open since 10 h, by these they open at 19 h.
#[test]
fn the_first_picture_names_the_clocks_until_a_key_answers() {
    let mut rig = opened_after(11 * 60);
    compare(&rig, "rules_01_told");
    let shown = screen(&rig, (100, 30));
    assert!(shown.contains("rules of this version: Fin · left opens Wed 01:5"), "{shown}");
    assert!(shown.contains(", before 17:0"), "{shown}");
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Flashing, "the new time counts");
    // it fades by no time, and no glance hides it
    rig.pass(90.0);
    assert!(told(&rig));
    assert!(screen(&rig, (80, 24)).contains("rules of this version"));
    rig.key('3');
    assert!(!told(&rig));
}

#[test]
fn what_is_told_is_what_differs() {
    let rig = opened_after(11 * 60);
    let [Notice::Rules(changes)] = rig.scene().notices else { panic!("{:?}", rig.scene().notices) };
    let of: Vec<&Ruled> = changes.iter().map(|change| &change.of).collect();
    assert_eq!(of.len(), 4, "{of:?}");
    assert_eq!(of.first(), Some(&&Ruled::Opens(0)));
    assert_eq!(of.get(1), Some(&&Ruled::Opens(1)));
    for change in changes.iter().filter(|change| matches!(change.of, Ruled::Cure(..))) {
        assert!(change.now.moment().is_none() && change.before.moment().is_some());
    }
}

#[test]
fn the_log_names_the_rules_by_which_it_goes_on_and_tells_once() {
    let mut rig = opened_after(60);
    let [entry] = &rig.written[..] else { panic!("{:?}", rig.written) };
    let [Event::Restarted { away_ms, rules: 2 }] = &entry.events[..] else { panic!("{entry:?}") };
    assert_eq!(away_ms.ms(), 0);
    // not answered by a key that wrote: asked again
    let again = Session::open(rig.desk.session().entries().to_vec()).expect("a session");
    assert!(told(&Rig::going_on(again, rig.t, None)));
    rig.key('n').enter("seen");
    let after = Session::open(rig.desk.session().entries().to_vec()).expect("a session");
    let next = Rig::going_on(after, rig.t, None);
    assert!(!told(&next) && next.written.is_empty());
}

#[test]
fn who_reads_along_is_told_and_writes_nothing() {
    let why = Some("another boothside (process 7) has it open".to_owned());
    let mut rig = Rig::going_on(session(), Moment::OPENING.plus(Span::from_minutes(60)), why);
    assert!(told(&rig) && rig.written.is_empty());
    rig.pass(2.0).press(Pressed::Esc);
    assert!(!told(&rig));
}

#[test]
fn a_session_of_these_rules_is_told_nothing() {
    let rig = Rig::example();
    let session = Session::open(rig.desk.session().entries().to_vec()).expect("a session");
    let next = Rig::going_on(session, Moment::OPENING.plus(Span::from_minutes(60)), None);
    assert!(next.scene().notices.is_empty() && next.written.is_empty());
}
