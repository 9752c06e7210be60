//! Facts are never refused; intentions meet holds. What was seen stays with the entry.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::event::{Event, Reason};
use boothside_core::session::{Refusal, Told, decide, figures};
use serde_json::json;

use super::{minutes, same};
use crate::bench::{Bench, begin, begin_past, min, mix, on};
use crate::jobs::{plain, sheet};

/// Two faces, two coats, 20 min between them by the clock.
fn bench() -> Bench {
    let mut bench = Bench::new(plain(sheet(json!({})), 2, 2));
    bench.tell(Command::SkipReading);
    bench.tell(mix());
    bench
}

fn face(id: &str) -> String {
    id.to_owned()
}

#[test]
fn a_coat_that_came_too_early_is_taken_and_flagged() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    let n = bench.at(5.0).tell(on("panel-a"));
    assert_eq!(bench.session.entry(n).expect("an entry").breaks, ["too-early panel-a"]);
    assert_eq!(bench.session.state().faces[0].coats_on(1), 2);
}

#[test]
fn a_coat_in_its_window_is_not_flagged() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    let n = bench.at(30.0).tell(on("panel-a"));
    assert!(bench.session.entry(n).expect("an entry").breaks.is_empty());
}

#[test]
fn an_intention_meets_the_hold_that_the_fact_would_be_flagged_with() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    bench.at(5.0);
    assert!(matches!(bench.try_tell(&begin("panel-a"), None), Err(Refusal::Held(_))));
    let past = Command::BeginCoat { face: face("panel-a"), past: Some(Reason::Tried) };
    let n = bench.tell(past);
    let entry = bench.session.entry(n).expect("an entry");
    assert!(entry.breaks.is_empty(), "it was gone past, with a reason");
    let wanted = Event::HoldOverridden { hold: "too-early panel-a".into(), reason: Reason::Tried };
    assert_eq!(entry.events[0], wanted);
    let overridden = &bench.session.state().overridden;
    assert_eq!(overridden.last().map(|o| (o.reason, o.at)), Some((Reason::Tried, min(5.0))));
    // the end of a face that was begun past its hold is not flagged again
    let n = bench.at(6.0).tell(on("panel-a"));
    assert!(bench.session.entry(n).expect("an entry").breaks.is_empty());
}

#[test]
fn a_fact_that_names_nothing_of_this_job_is_refused_by_name() {
    let mut bench = bench();
    for command in [on("panel-x"), Command::CleanGun] {
        let told = bench.try_tell(&command, None);
        match command {
            Command::CleanGun => assert!(told.is_ok()),
            _ => assert!(told.expect_err("refused").to_string().contains("panel-x")),
        }
    }
}

#[test]
fn an_extra_coat_a_skipped_one_and_one_wiped_off_count_for_the_face_alone() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    bench.tell(Command::ExtraCoat { face: face("panel-a") });
    bench.tell(Command::SkipCoat { face: face("panel-b") });
    assert_eq!(bench.session.state().coats_wanted(0, 1), 3);
    assert_eq!((bench.face(0).next, bench.face(1).next), (Some((1, 2)), Some((1, 2))));
    bench.tell(Command::WipedOff { face: face("panel-a") });
    assert_eq!((bench.face(0).next, bench.face(0).finished), (Some((1, 1)), None));
    assert_eq!(bench.session.state().faces[0].wiped_off.len(), 1);
}

#[test]
fn wiping_off_takes_the_film_and_not_the_coat_left_out() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    bench.tell(Command::SkipCoat { face: face("panel-a") });
    bench.tell(Command::WipedOff { face: face("panel-a") });
    let coats = &bench.session.state().faces[0].coats;
    assert_eq!(coats.iter().map(|coat| coat.skipped).collect::<Vec<_>>(), [true]);
}

#[test]
fn leaving_out_the_coat_on_the_gun_leaves_no_beginning_behind() {
    let mut bench = bench();
    let begun = bench.tell(begin("panel-a"));
    bench.pass(1.0);
    let skipped = bench.tell(Command::SkipCoat { face: face("panel-a") });
    let coats = &bench.session.state().faces[0].coats;
    assert_eq!(coats.len(), 1);
    assert!(coats[0].skipped && coats[0].finished.is_some());
    assert_eq!(coats[0].made_by, [begun, skipped]);
    assert!(!matches!(bench.board().next, Next::CoatOn { .. }));
}

#[test]
fn a_figure_is_mended_with_its_old_value_and_its_reason() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    assert!(same(minutes(bench.face(0).opens), 21.0));
    let change = |new| Command::ChangeFigure {
        field: "sheets.one.between_coats.earliest.duration_s".into(),
        new,
        why: "read off the wrong line".into(),
    };
    let n = bench.at(5.0).tell(change(600.0));
    let wanted = Event::FigureChanged {
        field: "sheets.one.between_coats.earliest.duration_s".into(),
        old: Some(1200.0),
        new: 600.0,
        why: "read off the wrong line".into(),
    };
    assert_eq!(bench.session.entry(n).expect("an entry").events, [wanted]);
    assert!(same(minutes(bench.face(0).opens), 11.0));
    // one with which the job would not hold together is refused, and so is an unknown name
    assert!(bench.try_tell(&change(-1.0), None).is_err());
    assert!(bench.try_tell(&change(f64::NAN), None).is_err());
    let odd = Command::ChangeFigure { field: "nothing".into(), new: 1.0, why: String::new() };
    assert!(bench.try_tell(&odd, None).is_err());
    bench.tell(Command::TakeBack);
    assert!(same(minutes(bench.face(0).opens), 21.0));
}

#[test]
fn every_figure_can_be_set_to_what_it_is() {
    for mut bench in [Bench::example(), Bench::new(crate::jobs::rich())] {
        let list = figures(&bench.session.state().work);
        let mut names: Vec<&String> = list.iter().map(|figure| &figure.field).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), list.len(), "each name once");
        let before = bench.session.state().work.clone();
        for figure in list {
            let Some(new) = figure.value else { continue };
            bench.tell(Command::ChangeFigure { field: figure.field, new, why: "checked".into() });
        }
        assert_eq!(bench.session.state().work, before);
    }
}

#[test]
fn what_a_clock_is_stated_for_and_the_parts_of_a_mix_are_figures() {
    let names: Vec<String> = figures(&Bench::example().session.state().work)
        .into_iter()
        .map(|figure| figure.field)
        .collect();
    for wanted in [
        "sheets.grey-primer.pot_life.at_c",
        "sheets.grey-primer.pot_life.doubles_per_c",
        "sheets.grey-primer.between_coats.earliest.at_pct",
        "sheets.grey-primer.to_next_layer.earliest.floor_c",
        "sheets.example-blue.between_coats.earliest.table.1.at_c",
        "sheets.example-blue.mix.Activator.parts",
        "sheets.example-blue.mix.Base.density_g_per_ml",
    ] {
        assert!(names.iter().any(|name| name == wanted), "{wanted}");
    }
}

#[test]
fn an_entry_keeps_what_the_screen_showed() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    bench.at(5.0);
    let told = Told {
        seen: bench.board().seen(&bench.session),
        ..Told::now(bench.now, "2026-05-12T10:05:00.000-05:00")
    };
    let entry = decide(&bench.session, &Command::CleanGun, &told).expect("an entry");
    let opens = entry.seen.due.iter().find(|due| due.of == "panel-a" && due.edge == "opens");
    assert_eq!(opens.map(|due| due.due_ms), Some(min(21.0)));
    let line = serde_json::to_string(&entry).expect("a line");
    assert!(!line.contains('\n') && line.contains("\"due_ms\":1260000"));
}

#[test]
fn closing_before_the_end_is_held_and_can_be_gone_past() {
    let mut bench = bench();
    let close = |past| Command::Close { past };
    assert!(matches!(bench.try_tell(&close(None), None), Err(Refusal::Held(_))));
    bench.tell(close(Some(Reason::OwnDecision)));
    assert_eq!(bench.board().next, Next::Over);
}

#[test]
fn nothing_stands_still_for_a_pause() {
    let mut bench = bench();
    bench.coat("panel-a", 0.0, 1.0);
    let before = bench.face(0);
    bench.at(5.0).tell(Command::Pause { why: "telephone".into() });
    assert_eq!(bench.face(0), before);
    assert!(bench.session.state().paused.is_some());
    bench.at(9.0).tell(Command::Resume);
    assert_eq!(bench.face(0), before);
}

#[test]
fn a_face_on_the_gun_is_not_begun_again() {
    let mut bench = bench();
    bench.tell(begin_past("panel-a"));
    assert_eq!(bench.try_tell(&begin("panel-a"), None), Err(Refusal::OnTheGun));
}
