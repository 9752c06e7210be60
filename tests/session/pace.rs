//! The pace of a session, and the stop that was forgotten.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::event::Reason;
use boothside_core::session::pace::{Forgotten, Usual, pace, usual_time};
use boothside_core::session::time::Span;
use boothside_core::work::job::FullJob;

use crate::bench::{Bench, example_work, min};

fn id(bench: &Bench, face: usize) -> String {
    bench.session.plan().faces()[face].id.clone()
}

fn begin(bench: &mut Bench, face: usize) {
    let face = id(bench, face);
    bench.tell(Command::BeginCoat { face, past: Some(Reason::OwnDecision) });
}

fn on(bench: &mut Bench, face: usize) {
    let face = id(bench, face);
    bench.tell(Command::CoatOn { face });
}

fn coat(bench: &mut Bench, face: usize, from: f64, to: f64) {
    bench.at(from);
    begin(bench, face);
    bench.at(to);
    on(bench, face);
}

fn area(bench: &Bench, face: usize) -> f64 {
    bench.session.plan().area_m2(&bench.session.state().work, face)
}

/// The session's pace, s/m², and from how many faces.
fn pace_of(bench: &Bench) -> Option<(f64, usize)> {
    pace(bench.session.state(), bench.session.plan()).map(|pace| (pace.s_per_m2, pace.faces))
}

/// Each of the first two faces sprayed at 600 s/m².
fn two_faces() -> Bench {
    sprayed(2)
}

/// Each of the first three.
fn three_faces() -> Bench {
    sprayed(3)
}

fn sprayed(faces: usize) -> Bench {
    sprayed_of(example_work(), faces)
}

fn sprayed_of(work: FullJob, faces: usize) -> Bench {
    let mut bench = Bench::new(work);
    let mut from = 0.0;
    for face in 0..faces {
        let to = from + area(&bench, face) * 10.0;
        coat(&mut bench, face, from, to);
        from = to + 1.0;
    }
    bench
}

fn near(pace: Option<(f64, usize)>, s_per_m2: f64, faces: usize) -> bool {
    pace.is_some_and(|(pace, of)| (pace - s_per_m2).abs() < 0.5 && of == faces)
}

/// What is usual for a face of the first layer.
fn usual(bench: &Bench, face: usize) -> Usual {
    usual_time(bench.session.state(), bench.session.plan(), 1, face)
}

#[test]
fn the_very_first_face_asks_after_a_quarter_of_an_hour() {
    let mut bench = Bench::example();
    bench.at(0.0);
    begin(&mut bench, 0);
    assert_eq!(pace_of(&bench), None);
    // 0.31 m² at 10 min a m² is less than the 5 min that any face is taken to need
    assert_eq!(usual(&bench, 0), Usual { time: Span::from_minutes(5), own: false });
    bench.at(14.9);
    assert_eq!(bench.board().forgotten, None);
    bench.at(15.0);
    let asked = bench.board().forgotten.expect("it asks");
    assert_eq!((asked.face, asked.asked, asked.likely), (0, min(15.0), min(5.0)));
}

#[test]
fn by_its_area_a_large_face_takes_longer_and_asks_no_later() {
    let mut work = example_work();
    work.parts.get_mut("hatch").expect("a part").faces[0].area_m2 = 0.8;
    let mut bench = Bench::new(work);
    bench.at(0.0);
    begin(&mut bench, 0);
    assert_eq!(usual(&bench, 0), Usual { time: Span::from_minutes(8), own: false });
    bench.at(16.0);
    let asked = bench.board().forgotten.expect("it asks");
    assert_eq!((asked.asked, asked.likely), (min(15.0), min(8.0)));
}

#[test]
fn two_faces_are_no_usual_time_and_three_are() {
    let mut bench = three_faces();
    let face = area(&bench, 3) * 600.0;
    assert_eq!(usual(&bench, 3), Usual { time: Span::from_seconds(face), own: true });
    bench.tell(Command::TakeBack);
    assert!(!usual(&bench, 3).own, "the third is on the gun again");
    // another layer has another pace
    let bench = three_faces();
    assert!(!usual_time(bench.session.state(), bench.session.plan(), 2, 3).own);
}

#[test]
fn the_pace_is_the_median_of_what_was_tapped() {
    let mut bench = two_faces();
    assert!(near(pace_of(&bench), 600.0, 2), "{:?}", pace_of(&bench));
    // a third face at 1200 s/m²: the median stays
    let to = 100.0 + area(&bench, 2) * 20.0;
    coat(&mut bench, 2, 100.0, to);
    assert!(near(pace_of(&bench), 600.0, 3), "{:?}", pace_of(&bench));
    // a beginning that nobody tapped tells no pace
    bench.at(200.0);
    on(&mut bench, 3);
    assert!(bench.session.state().faces[3].coats[0].assumed);
    assert!(near(pace_of(&bench), 600.0, 3), "{:?}", pace_of(&bench));
}

#[test]
fn an_end_told_with_others_or_by_the_next_beginning_tells_no_pace() {
    let mut bench = two_faces();
    bench.at(100.0);
    begin(&mut bench, 2);
    bench.at(190.0);
    begin(&mut bench, 3);
    assert!(bench.session.state().faces[2].coats[0].end_assumed);
    bench.at(240.0);
    bench.tell(Command::RestOn { layer: 1, coat: 1 });
    assert!(bench.session.state().faces[3].coats[0].end_assumed);
    assert!(near(pace_of(&bench), 600.0, 2), "{:?}", pace_of(&bench));
}

#[test]
fn an_interruption_that_was_told_is_no_part_of_the_pace() {
    let mut bench = Bench::example();
    let minutes = area(&bench, 0) * 10.0;
    bench.at(0.0);
    begin(&mut bench, 0);
    bench.at(minutes / 2.0).tell(Command::Pause { why: "called away".into() });
    bench.at(minutes / 2.0 + 30.0).tell(Command::Resume);
    bench.at(minutes + 30.0);
    on(&mut bench, 0);
    let to = 50.0 + area(&bench, 1) * 10.0;
    coat(&mut bench, 1, 50.0, to);
    assert!(near(pace_of(&bench), 600.0, 2), "{:?}", pace_of(&bench));
}

/// Face 3 on the gun from minute 100; how many minutes three times its usual are.
fn fourth_on_the_gun() -> (Bench, f64) {
    let mut work = example_work();
    // at 600 s/m² face 3 takes 2 min: three times that is more than the least patience
    work.parts.get_mut("cuff").expect("a part").faces[1].area_m2 = 0.2;
    let mut bench = sprayed_of(work, 3);
    bench.at(100.0);
    begin(&mut bench, 3);
    let thrice = usual(&bench, 3).time.seconds() * 3.0 / 60.0;
    assert!((thrice - 6.0).abs() < 0.1, "{thrice}");
    (bench, thrice)
}

#[test]
fn a_small_face_does_not_ask_before_five_minutes() {
    let mut work = example_work();
    work.parts.get_mut("cuff").expect("a part").faces[1].area_m2 = 0.05;
    let mut bench = sprayed_of(work, 3);
    bench.at(100.0);
    begin(&mut bench, 3);
    bench.at(104.9);
    assert_eq!(bench.board().forgotten, None);
    bench.at(105.0);
    assert_eq!(bench.board().forgotten.map(|it| it.asked), Some(min(105.0)));
}

#[test]
fn three_times_its_usual_asks_and_changes_nothing() {
    let (mut bench, thrice) = fourth_on_the_gun();
    let asked = min(100.0).plus(Span::from_seconds(thrice * 60.0));
    let mut look = bench.board();
    while look.next_change.is_some_and(|change| change < asked) {
        bench.now = look.next_change.expect("a change");
        look = bench.board();
        assert_eq!(look.forgotten, None);
    }
    assert_eq!(look.next_change, Some(asked), "the board knows when it will ask");
    bench.now = asked;
    let board = bench.board();
    let usual = usual(&bench, 3);
    let begun = min(100.0);
    let likely = begun.plus(usual.time);
    assert_eq!(board.forgotten, Some(Forgotten { face: 3, begun, usual, asked, likely }));
    assert!(matches!(board.next, Next::CoatOn { face: 3, .. }), "SPACE does what it did");
}

#[test]
fn told_that_it_was_on_the_true_time_counts() {
    let (mut bench, thrice) = fourth_on_the_gun();
    bench.at(100.0 + thrice + 4.0);
    let forgotten = bench.board().forgotten.expect("it asks");
    let when = forgotten.likely;
    let face = id(&bench, 3);
    bench.try_tell(&Command::CoatOn { face }, Some(when)).expect("it was on");
    assert_eq!(bench.session.state().faces[3].coats[0].finished, Some(when));
    assert_eq!(bench.board().forgotten, None);
}

#[test]
fn still_spraying_asks_again_after_as_long_once_more() {
    let (mut bench, thrice) = fourth_on_the_gun();
    bench.at(100.0 + thrice + 1.0);
    let told = bench.now;
    let face = id(&bench, 3);
    bench.tell(Command::StillSpraying { face });
    assert_eq!(bench.board().forgotten, None);
    bench.at(100.0 + 2.0 * thrice + 0.9);
    assert_eq!(bench.board().forgotten, None);
    bench.at(100.0 + 2.0 * thrice + 1.1);
    let again = bench.board().forgotten.expect("it asks again");
    assert!(again.asked > told && again.begun == min(100.0));
    assert_eq!(again.likely, told, "it was sprayed then: it cannot have been on before");
    bench.tell(Command::TakeBack);
    let first = bench.board().forgotten.expect("taken back, it asks as before");
    assert!(first.asked < told);
}

#[test]
fn while_work_is_interrupted_nothing_is_asked() {
    let (mut bench, thrice) = fourth_on_the_gun();
    bench.at(100.5).tell(Command::Pause { why: "called away".into() });
    bench.at(100.5 + 10.0 * thrice);
    assert_eq!(bench.board().forgotten, None);
    bench.tell(Command::Resume);
    assert_eq!(bench.board().forgotten, None);
    bench.pass(thrice - 0.4);
    let forgotten = bench.board().forgotten.expect("it asks");
    let usual = forgotten.usual.time.seconds() / 60.0;
    let likely = (forgotten.likely.seconds() - min(100.0 + usual + 10.0 * thrice).seconds()).abs();
    assert!(likely < 0.01, "the interruption is no time on the gun: {likely}");
}
