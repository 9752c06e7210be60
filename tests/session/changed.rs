//! Figures that the Book has otherwise than an open session.

use boothside_core::session::command::Command;
use boothside_core::session::event::Event;
use boothside_core::session::{
    BOOK_CHANGED, ChangedFigure, Refusal, Session, changed_figures, offered_figures, set_figure,
};
use boothside_core::work::job::FullJob;
use serde_json::json;

use crate::bench::Bench;
use crate::jobs::{late, plain, sheet};

const FLASH: &str = "sheets.one.between_coats.earliest.duration_s";

fn job() -> FullJob {
    plain(sheet(json!({ "limits": { "min_c": 10, "max_c": 30 } })), 2, 2)
}

fn with(figures: &[(&str, f64)]) -> FullJob {
    let mut job = job();
    for (field, value) in figures {
        set_figure(&mut job, field, *value).expect("it fits");
    }
    job
}

fn figure(field: &str, session: Option<f64>, book: f64) -> ChangedFigure {
    ChangedFigure { field: field.into(), session, book }
}

fn names(offered: &[ChangedFigure]) -> Vec<&str> {
    offered.iter().map(|figure| figure.field.as_str()).collect()
}

fn pairs(offered: &[ChangedFigure]) -> Vec<(String, f64)> {
    offered.iter().map(|figure| (figure.field.clone(), figure.book)).collect()
}

#[test]
fn what_differs_and_what_became_set_is_told_and_nothing_else() {
    assert_eq!(changed_figures(&job(), &job()), []);
    let book = with(&[(FLASH, 900.0), ("shop.loss_ml", 20.0), ("parts.panel.a.area_m2", 0.6)]);
    let expected = [
        figure(FLASH, Some(1200.0), 900.0),
        figure("parts.panel.a.area_m2", Some(0.5), 0.6),
        figure("shop.loss_ml", None, 20.0),
    ];
    assert_eq!(changed_figures(&job(), &book), expected);
    // what is not set in the Book any more is no figure to take
    let unset = changed_figures(&book, &job());
    assert_eq!(names(&unset), [FLASH, "parts.panel.a.area_m2"]);
}

#[test]
fn a_layer_that_is_another_is_not_compared() {
    let mut book = with(&[("layers.1.coats", 4.0)]);
    assert_eq!(names(&changed_figures(&job(), &book)), ["layers.1.coats"]);
    book.system.layers[0].name = "another".into();
    assert_eq!(changed_figures(&job(), &book), []);
}

#[test]
fn a_figure_mended_in_the_session_alone_is_not_offered_back() {
    let mut bench = Bench::new(job());
    let why = "mistyped".to_owned();
    bench.tell(Command::ChangeFigure { field: FLASH.into(), new: 1000.0, why });
    assert_eq!(offered_figures(&bench.session, &job()), []);
    let book = with(&[(FLASH, 900.0)]);
    assert_eq!(offered_figures(&bench.session, &book), [figure(FLASH, Some(1000.0), 900.0)]);
}

#[test]
fn what_was_left_as_it_is_is_asked_again_only_when_the_book_changes_again() {
    let mut bench = Bench::new(job());
    let book = with(&[(FLASH, 900.0)]);
    let figures = pairs(&offered_figures(&bench.session, &book));
    let n = bench.tell(Command::KeepFigures { figures });
    assert_eq!(offered_figures(&bench.session, &book), []);
    assert_eq!(names(&offered_figures(&bench.session, &with(&[(FLASH, 600.0)]))), [FLASH]);
    // the same after the log was read anew, and asked again once the answer is taken back
    let mut anew = Session::open(bench.session.entries().to_vec()).expect("a session");
    assert_eq!(offered_figures(&anew, &book), []);
    bench.tell(Command::Strike { n });
    anew = bench.session.clone();
    assert_eq!(names(&offered_figures(&anew, &book)), [FLASH]);
}

#[test]
fn what_is_taken_counts_and_what_would_not_hold_together_is_left_and_told() {
    let mut bench = Bench::new(job());
    // min over the session's max: it needs max first, which comes after it
    let book = with(&[
        ("sheets.one.limits.max_c", 40.0),
        ("sheets.one.limits.min_c", 35.0),
        (FLASH, 900.0),
    ]);
    let mut figures = pairs(&offered_figures(&bench.session, &book));
    figures.push(("sheets.one.wipe.flash_s".into(), 60.0));
    let n = bench.tell(Command::TakeFigures { figures });
    let limits = bench.session.state().work.sheets["one"].limits;
    assert_eq!((limits.min_c, limits.max_c), (Some(35.0), Some(40.0)));
    let events = &bench.session.entry(n).expect("it").events;
    let taken = events
        .iter()
        .filter(|event| matches!(event, Event::FigureChanged { why, .. } if why == BOOK_CHANGED));
    assert_eq!(taken.count(), 3);
    let left = events.last().expect("an event");
    assert!(
        matches!(left, Event::FiguresKept { fields } if fields[0].field == "sheets.one.wipe.flash_s"),
        "{left:?}"
    );
    assert_eq!(offered_figures(&bench.session, &book), []);
    // mended by hand afterwards, it is not offered back either
    let why = "mistyped".to_owned();
    bench.tell(Command::ChangeFigure { field: FLASH.into(), new: 1000.0, why });
    assert_eq!(offered_figures(&bench.session, &book), []);
    let nothing = bench.try_tell(&Command::KeepFigures { figures: Vec::new() }, None);
    assert_eq!(nothing, Err(Refusal::Nothing));
}

#[test]
fn a_part_that_joined_is_compared_with_what_it_was_then() {
    let mut bench = Bench::new(job());
    bench.tell(Command::JoinPart { part: "late".into(), is: Box::new(late()) });
    let area = "parts.late.top.area_m2";
    let why = "measured".to_owned();
    bench.tell(Command::ChangeFigure { field: area.into(), new: 0.31, why });
    let mut book = bench.session.state().work.clone();
    book.parts.insert("late".into(), late());
    assert_eq!(offered_figures(&bench.session, &book), []);
    book.parts.get_mut("late").expect("it").faces[0].area_m2 = 0.4;
    assert_eq!(offered_figures(&bench.session, &book), [figure(area, Some(0.31), 0.4)]);
}
