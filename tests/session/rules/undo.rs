//! Strike, restore, `u`, `b`, re-timing: corrections.

use boothside_core::session::command::Command;
use boothside_core::session::event::Event;
use boothside_core::session::time::Span;
use boothside_core::session::{Refusal, group, limits_of_entry};
use serde_json::json;

use crate::bench::{Bench, begin, min, mix, on};
use crate::jobs::{plain, sheet};

fn bench() -> Bench {
    let mut bench = Bench::new(plain(sheet(json!({})), 2, 2));
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench
}

fn earlier(minutes: i64) -> Command {
    Command::Earlier { by: Span::from_minutes(minutes) }
}

#[test]
fn what_rests_on_an_entry_is_struck_with_it() {
    let mut bench = bench();
    let begun = bench.at(10.0).tell(begin("panel-a"));
    let ended = bench.at(15.0).tell(on("panel-a"));
    let wet = bench.at(20.0).tell(Command::StillWet { face: "panel-a".into() });
    let off = bench.at(25.0).tell(Command::WipedOff { face: "panel-a".into() });
    assert_eq!(group(&bench.session, begun), [begun, ended, wet, off]);
    assert_eq!(group(&bench.session, ended), [ended, wet, off]);
    assert_eq!(group(&bench.session, wet), [wet]);
    let n = bench.tell(Command::Strike { n: begun });
    let struck = Event::Struck { entries: vec![begun, ended, wet, off] };
    assert_eq!(bench.session.entry(n).expect("an entry").events, [struck]);
    assert!(bench.session.state().faces[0].coats.is_empty());
    assert!(bench.session.state().faces[0].wiped_off.is_empty());
}

#[test]
fn a_pots_fillings_are_struck_with_it() {
    let mut bench = bench();
    let pot = bench.tell(mix());
    let topped = bench.tell(Command::TopUpPot { pot: "B".into(), amount_ml: None });
    let filled = bench.tell(Command::FillCup { pot: "B".into() });
    assert_eq!(group(&bench.session, pot), [pot, topped, filled]);
}

#[test]
fn u_takes_back_key_after_key_and_never_the_machines() {
    let mut bench = bench();
    let begun = bench.at(10.0).tell(begin("panel-a"));
    bench.at(11.0).tell(Command::Slept { span: Span::from_minutes(1) });
    let ended = bench.at(12.0).tell(on("panel-a"));
    let slept = bench.at(13.0).tell(Command::WallClockSet { by: Span::from_minutes(60) });
    bench.tell(Command::TakeBack);
    assert!(bench.session.is_struck(ended) && !bench.session.is_struck(begun));
    bench.tell(Command::TakeBack);
    assert!(bench.session.is_struck(begun) && !bench.session.is_struck(slept));
    // the mixing and the skipped reading are left, then nothing
    bench.tell(Command::TakeBack);
    bench.tell(Command::TakeBack);
    assert_eq!(bench.try_tell(&Command::TakeBack, None), Err(Refusal::Nothing));
}

#[test]
fn after_b_u_takes_back_the_b() {
    let mut bench = bench();
    bench.at(10.0).tell(begin("panel-a"));
    bench.at(20.0).tell(on("panel-a"));
    let ended = |bench: &Bench| bench.session.state().faces[0].coats[0].finished;
    bench.tell(earlier(1));
    bench.tell(earlier(1));
    assert_eq!(ended(&bench), Some(min(18.0)));
    bench.tell(Command::TakeBack);
    assert_eq!(ended(&bench), Some(min(19.0)));
    bench.tell(Command::TakeBack);
    assert_eq!(ended(&bench), Some(min(20.0)));
    bench.tell(Command::TakeBack);
    assert_eq!(ended(&bench), None);
}

#[test]
fn the_opening_cannot_be_taken_back() {
    let mut bench = bench();
    assert!(bench.try_tell(&Command::Strike { n: 0 }, None).is_err());
    assert!(bench.try_tell(&Command::Retime { n: 0, when: min(0.0) }, None).is_err());
    assert!(bench.try_tell(&Command::Strike { n: 99 }, None).is_err());
}

#[test]
fn striking_a_strike_restores_and_what_is_struck_is_not_struck_again() {
    let mut bench = bench();
    let begun = bench.at(10.0).tell(begin("panel-a"));
    let strike = bench.tell(Command::Strike { n: begun });
    assert!(bench.try_tell(&Command::Strike { n: begun }, None).is_err());
    bench.tell(Command::Strike { n: strike });
    assert_eq!(bench.board().faces[0].coats.len(), 1);
    assert!(!bench.session.is_struck(begun) && bench.session.is_struck(strike));
}

#[test]
fn an_end_is_not_moved_before_its_beginning_and_the_nearest_time_is_named() {
    let mut bench = bench();
    bench.at(10.0).tell(begin("panel-a"));
    let ended = bench.at(15.0).tell(on("panel-a"));
    bench.at(40.0);
    let retime = |minute| Command::Retime { n: ended, when: min(minute) };
    let nearest = min(10.0);
    assert_eq!(bench.try_tell(&retime(9.0), None), Err(Refusal::OutOfOrder { nearest }));
    let nearest = min(40.0);
    assert_eq!(bench.try_tell(&retime(41.0), None), Err(Refusal::Future { nearest }));
    bench.tell(retime(10.0));
    assert_eq!(bench.session.state().faces[0].coats[0].finished, Some(min(10.0)));
}

#[test]
fn a_pot_is_used_after_it_was_mixed() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 2));
    let mixed = bench.at(5.0).tell(mix());
    bench.at(10.0).tell(on("panel-a"));
    let limits = limits_of_entry(&bench.session, mixed, bench.now).expect("limits");
    assert_eq!(limits.latest, min(10.0));
    // and longer ago than the session is old, as far as that goes
    bench.tell(Command::Retime { n: mixed, when: min(-600.0) });
}

#[test]
fn a_shared_moment_does_not_turn_the_order() {
    let mut bench = bench();
    let wiped = Command::Wiped { faces: vec!["panel-a".into()] };
    let scuffed = Command::Scuffed { faces: vec!["panel-a".into()] };
    let first = bench.at(20.0).tell(wiped);
    let strike = bench.tell(Command::Strike { n: first });
    // while the first is struck, a second is told that happened before it
    let second = bench.at(30.0).try_tell(&scuffed, Some(min(10.0))).expect("a fact");
    bench.tell(Command::Strike { n: strike });
    let order = |bench: &Bench| -> Vec<u64> {
        let numbers = bench.session.in_force().into_iter().map(|(_, entry)| entry.n);
        numbers.filter(|n| [first, second].contains(n)).collect()
    };
    assert_eq!(order(&bench), [second, first]);
    let tick = Span::from_ms(1);
    let nearest = min(10.0).plus(tick);
    let to_the_second = Command::Retime { n: first, when: min(10.0) };
    assert_eq!(bench.try_tell(&to_the_second, None), Err(Refusal::OutOfOrder { nearest }));
    let nearest = min(20.0).minus(tick);
    let to_the_first = Command::Retime { n: second, when: min(20.0) };
    assert_eq!(bench.try_tell(&to_the_first, None), Err(Refusal::OutOfOrder { nearest }));
    bench.tell(Command::Retime { n: second, when: nearest });
    assert_eq!(order(&bench), [second, first]);
}

#[test]
fn telling_late_keeps_the_order_of_a_face() {
    let mut bench = bench();
    bench.at(10.0).tell(on("panel-a"));
    bench.at(40.0);
    let dulled = Command::Dulled { face: "panel-a".into() };
    let nearest = min(10.0);
    let refused = bench.try_tell(&dulled, Some(min(9.0)));
    assert_eq!(refused, Err(Refusal::OutOfOrder { nearest }));
    let n = bench.try_tell(&dulled, Some(min(35.0))).expect("told late");
    let entry = bench.session.entry(n).expect("an entry");
    assert_eq!((entry.when_ms, entry.t_ms), (Some(min(35.0)), min(40.0)));
    assert_eq!(bench.session.state().faces[0].coats[0].dulled, Some(min(35.0)));
}
