//! The log as it is shown, faults seen, gun cards.

use boothside_core::board::{LogRow, Stands, log_rows, retime_limits};
use boothside_core::session::command::Command;
use boothside_core::session::event::{Event, Reason};
use boothside_core::session::gun::{GunResult, GunSetting};
use boothside_core::session::time::Moment;
use boothside_core::session::{Limits, Refusal, group};
use proptest::prelude::*;

use crate::bench::{Bench, min};
use crate::walk::walks;

fn first_face(bench: &Bench) -> String {
    bench.session.plan().faces()[0].id.clone()
}

fn begin(bench: &mut Bench, face: &str) -> u64 {
    bench.tell(Command::BeginCoat { face: face.into(), past: Some(Reason::OwnDecision) })
}

fn on(bench: &mut Bench, face: &str) -> u64 {
    bench.tell(Command::CoatOn { face: face.into() })
}

fn row(bench: &Bench, n: u64) -> LogRow<'_> {
    let rows = log_rows(&bench.session);
    *rows.iter().find(|row| row.entry.n == n).expect("the entry")
}

/// A coat from minute 1 to minute 4, then a note: entries 1, 2, 3.
fn coat_and_note() -> Bench {
    let mut bench = Bench::example();
    let face = first_face(&bench);
    bench.at(1.0);
    assert_eq!(begin(&mut bench, &face), 1);
    bench.at(4.0);
    assert_eq!(on(&mut bench, &face), 2);
    bench.at(5.0);
    bench.tell(Command::Note { text: "cold hands".into() });
    bench
}

#[test]
fn newest_first_and_only_what_a_key_told_can_be_taken_back() {
    let mut bench = coat_and_note();
    bench.tell(Command::Slept { span: boothside_core::session::time::Span::from_minutes(3) });
    let rows = log_rows(&bench.session);
    let numbers: Vec<u64> = rows.iter().map(|row| row.entry.n).collect();
    assert_eq!(numbers, [4, 3, 2, 1, 0]);
    let can: Vec<(bool, bool)> = rows.iter().map(|row| (row.can_strike, row.can_retime)).collect();
    assert_eq!(can, [(false, false), (true, true), (true, true), (true, true), (false, false)]);
}

#[test]
fn struck_entries_stand_struck_by_the_strike_until_that_is_struck() {
    let mut bench = coat_and_note();
    assert_eq!(group(&bench.session, 1), [1, 2]);
    let before = bench.session.state().clone();
    let strike = bench.tell(Command::Strike { n: 1 });
    for n in [1, 2] {
        assert_eq!(row(&bench, n).stands, Stands::Struck { by: strike });
        assert!(!row(&bench, n).can_strike);
        assert_eq!(retime_limits(&bench.session, n, bench.now), None);
    }
    assert_eq!(row(&bench, 3).stands, Stands::InForce);
    assert!(row(&bench, strike).can_strike && !row(&bench, strike).can_retime);
    let restore = bench.tell(Command::Strike { n: strike });
    assert_eq!(row(&bench, 1).stands, Stands::InForce);
    assert_eq!(row(&bench, strike).stands, Stands::Struck { by: restore });
    assert_eq!(*bench.session.state(), before);
}

#[test]
fn a_retimed_entry_shows_its_true_time_within_what_is_possible() {
    let mut bench = coat_and_note();
    let limits = retime_limits(&bench.session, 2, bench.now);
    assert_eq!(limits, Some(Limits { earliest: Some(min(1.0)), latest: min(5.0) }));
    let n = bench.tell(Command::Retime { n: 2, when: min(2.0) });
    assert_eq!((row(&bench, 2).when, row(&bench, 2).retimed_by), (min(2.0), Some(n)));
    bench.tell(Command::Strike { n });
    assert_eq!((row(&bench, 2).when, row(&bench, 2).retimed_by), (min(4.0), None));
    let impossible = bench.try_tell(&Command::Retime { n: 2, when: Moment::OPENING }, None);
    assert_eq!(impossible, Err(Refusal::OutOfOrder { nearest: min(1.0) }));
}

#[test]
fn a_note_can_be_about_an_entry() {
    let mut bench = coat_and_note();
    let n = bench.tell(Command::NoteAbout { n: 2, text: "door was open".into() });
    let note = &bench.session.entry(n).expect("the note").events[0];
    assert_eq!(*note, Event::EntryNoted { entry: 2, text: "door was open".into() });
    let nowhere = bench.try_tell(&Command::NoteAbout { n: 99, text: "?".into() }, None);
    assert!(matches!(nowhere, Err(Refusal::NotThere { what: "entry", .. })));
}

#[test]
fn a_fault_keeps_the_coat_and_the_pot_that_it_was_seen_in() {
    let mut bench = Bench::example();
    let face = first_face(&bench);
    let see =
        |face: &str, fault: &str| Command::SeeFault { face: face.into(), fault: fault.into() };
    bench.tell(see(&face, "fisheye"));
    bench.at(1.0);
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    bench.at(2.0);
    let begun = begin(&mut bench, &face);
    bench.at(3.0);
    on(&mut bench, &face);
    let seen = bench.tell(see(&face, "run"));
    let faults = &bench.session.state().faults;
    assert_eq!((faults[0].layer, faults[0].coat, faults[0].pot.as_deref()), (0, 0, None));
    assert_eq!((faults[1].layer, faults[1].coat, faults[1].pot.as_deref()), (1, 1, Some("A")));
    assert_eq!((faults[1].face, faults[1].at, faults[1].n), (0, min(3.0), seen));
    // it rests on the coat
    assert!(group(&bench.session, begun).contains(&seen));
    let unknown = bench.try_tell(&see(&face, "rust"), None);
    assert!(matches!(unknown, Err(Refusal::NotThere { what: "fault", .. })));
    let nowhere = bench.try_tell(&see("nowhere", "run"), None);
    assert!(matches!(nowhere, Err(Refusal::NotThere { what: "face", .. })));
}

#[test]
fn a_gun_card_keeps_what_was_not_told_anew() {
    let mut bench = Bench::example();
    let set = |setting: GunSetting| Command::SetGun(setting);
    bench.tell(set(GunSetting {
        nozzle_mm: Some(1.3),
        inlet_kpa: Some(150.0),
        cap: Some("9".into()),
        result: Some(GunResult::Bad),
        note: Some("heavy in the middle".into()),
        ..GunSetting::default()
    }));
    bench.at(5.0);
    bench.tell(set(GunSetting {
        inlet_kpa: Some(180.0),
        result: Some(GunResult::Good),
        ..GunSetting::default()
    }));
    let card = bench.session.state().gun_cards.last().expect("a card");
    let expected = GunSetting {
        nozzle_mm: Some(1.3),
        inlet_kpa: Some(180.0),
        cap: Some("9".into()),
        result: Some(GunResult::Good),
        ..GunSetting::default()
    };
    assert_eq!((&card.setting, card.at, card.layer), (&expected, min(5.0), Some(1)));
    let nothing = bench.try_tell(&set(GunSetting::default()), None);
    assert!(matches!(nothing, Err(Refusal::Figure { .. })));
}

#[test]
fn the_new_events_are_lines_that_say_only_what_they_know() {
    let lines = [
        r#"{"fault_seen":{"face":"fin-left","layer":1,"coat":2,"fault":"run","pot":"A"}}"#,
        r#"{"fault_seen":{"face":"fin-left","layer":0,"coat":0,"fault":"fisheye"}}"#,
        r#"{"gun_set":{"nozzle_mm":1.3,"inlet_kpa":150.0,"result":"good"}}"#,
        r#"{"still_spraying":{"face":"fin-left"}}"#,
        r#"{"entry_noted":{"entry":3,"text":"x"}}"#,
        r#"{"note":{"text":"x"}}"#,
    ];
    for line in lines {
        let event: Event = serde_json::from_str(line).expect(line);
        assert_eq!(serde_json::to_string(&event).expect(line), line);
    }
    let unknown = r#"{"gun_set":{"nozzle_in":0.05}}"#;
    assert!(serde_json::from_str::<Event>(unknown).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    /// What the log shows as struck, restored and re-timed is what the fold leaves out and counts.
    #[test]
    fn the_log_shows_what_the_fold_counts(walk in walks(60)) {
        let mut bench = walk.start();
        for act in &walk.acts {
            bench.act(act);
        }
        let session = &bench.session;
        let mut shown: Vec<(Moment, u64)> = Vec::new();
        for row in log_rows(session) {
            let struck = row.stands != Stands::InForce;
            prop_assert_eq!(struck, session.is_struck(row.entry.n));
            prop_assert!(!(struck && row.can_strike));
            if row.can_strike {
                let strike = Command::Strike { n: row.entry.n };
                prop_assert!(bench.clone().try_tell(&strike, None).is_ok());
            }
            if row.can_retime {
                prop_assert!(retime_limits(session, row.entry.n, bench.now).is_some());
            }
            if !struck {
                shown.push((row.when, row.entry.n));
            }
        }
        shown.sort_unstable();
        let counted: Vec<(Moment, u64)> =
            session.in_force().iter().map(|(when, entry)| (*when, entry.n)).collect();
        prop_assert_eq!(shown, counted);
    }
}
