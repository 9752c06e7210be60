//! The log screen by keys: striking, restoring, true times, notes; and the clocks meanwhile.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Asking, EntryDo, Notice, Screen};
use boothside_core::board::{Next, Stands, log_rows};
use boothside_core::session::event::Event;
use boothside_core::session::standing::FaceNow;

use crate::play::{compare, on_until, screen};
use crate::rig::Rig;

/// Three faces with their first coat.
fn three_faces() -> Rig {
    let mut rig = Rig::example();
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    for _ in 0..3 {
        rig.space().pass(120.0).space();
    }
    rig.pass(6.0);
    rig
}

/// Chooses the entry numbered `n` on the log screen.
fn choose(rig: &mut Rig, n: u64) {
    let at = rig.scene().log_chosen;
    for _ in n..at {
        rig.press(Pressed::Down);
    }
    for _ in at..n {
        rig.press(Pressed::Up);
    }
    assert_eq!(rig.scene().log_chosen, n);
}

/// The number of the entry that began face number `face`.
fn began(rig: &Rig, face: usize) -> u64 {
    rig.desk.session().state().faces[face].coats[0].made_by[0]
}

fn struck(rig: &Rig, n: u64) -> bool {
    let rows = log_rows(rig.desk.session());
    let row = rows.iter().find(|row| row.entry.n == n).expect("the entry");
    matches!(row.stands, Stands::Struck { .. })
}

#[test]
fn an_entry_is_struck_with_its_group_and_restored() {
    let mut rig = three_faces();
    let before = rig.desk.session().state().clone();
    rig.key('7');
    assert_eq!(rig.scene().screen, Screen::Log);
    compare(&rig, "log_01_newest");
    let n = began(&rig, 1);
    choose(&mut rig, n);
    rig.press(Pressed::Enter);
    let Some(Asking::Entry { choices, .. }) = rig.scene().asking else { panic!("no question") };
    assert_eq!(choices[0], EntryDo::Strike { group: vec![n, n + 1] });
    compare(&rig, "log_02_group_named");
    rig.key('9');
    assert!(rig.scene().asking.is_some(), "a digit that is no answer leaves the question");
    rig.key('1');
    assert_eq!(rig.last_events(), [Event::Struck { entries: vec![n, n + 1] }]);
    assert_eq!(rig.desk.board().faces[1].at.now, FaceNow::Bare);
    assert_eq!(rig.scene().screen, Screen::Log);
    assert!(struck(&rig, n) && struck(&rig, n + 1) && !struck(&rig, n + 2));
    compare(&rig, "log_03_struck");
    rig.pass(1.0).press(Pressed::Enter).key('1');
    assert!(!struck(&rig, n));
    assert_eq!(*rig.desk.session().state(), before);
    let shown = screen(&rig, (80, 24));
    assert!(shown.contains("restored: coat 1 begun"), "{shown}");
    assert!(!shown.contains("taken back: taken back"), "{shown}");
    rig.key('1');
    assert_eq!(rig.scene().screen, Screen::Clocks);
}

#[test]
fn a_true_time_is_told_within_what_is_possible_and_nothing_typed_is_lost() {
    let mut rig = three_faces();
    let n = began(&rig, 1);
    rig.key('7');
    choose(&mut rig, n);
    rig.key('t').enter("12h ago");
    let form = rig.scene().form.expect("the form stays");
    assert_eq!(form.fields[0].text, "12h ago");
    assert!(form.fields[0].error.is_some());
    compare(&rig, "log_04_impossible_time");
    for _ in 0..7 {
        rig.press(Pressed::Backspace);
    }
    rig.enter("3min ago");
    let Some(Event::Retimed { entry, when_ms }) = rig.last_events().first() else { panic!() };
    assert_eq!((*entry, *when_ms), (n, rig.desk.session().state().faces[1].coats[0].begun));
    assert_eq!(rig.scene().screen, Screen::Log);
}

#[test]
fn a_note_about_an_entry_waits_while_a_look_is_answered() {
    let mut rig = three_faces();
    on_until(&mut rig, "a wait", |rig| matches!(rig.desk.board().next, Next::Wait { .. }));
    let Next::Wait { until: Some(until), .. } = rig.desk.board().next.clone() else { panic!() };
    let n = began(&rig, 1);
    rig.key('7');
    choose(&mut rig, n);
    rig.press(Pressed::Enter).key('3');
    for c in "door stood open".chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.leap_to(until.moment().expect("it dulls"));
    assert!(matches!(rig.desk.board().next, Next::Dulled { .. }));
    compare(&rig, "log_05_look_over_a_note");
    rig.pass(2.0).press(Pressed::Esc).space();
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]));
    rig.pass(2.0).key('7');
    choose(&mut rig, n);
    rig.press(Pressed::Enter).key('3');
    assert_eq!(rig.scene().form.expect("the form again").fields[0].text, "door stood open");
    rig.press(Pressed::Enter);
    let text = "door stood open".to_owned();
    assert_eq!(rig.last_events(), [Event::EntryNoted { entry: n, text }]);
}

#[test]
fn the_opening_and_what_the_machine_told_stay() {
    let mut rig = three_faces();
    rig.key('7');
    choose(&mut rig, 0);
    rig.press(Pressed::Enter);
    let Some(Asking::Entry { choices, .. }) = rig.scene().asking else { panic!("no question") };
    assert_eq!(*choices, [EntryDo::Note]);
    rig.press(Pressed::Esc).key('t');
    assert!(rig.scene().form.is_none());
    let kept = |notice: &Notice| matches!(notice, Notice::Text(text) if text.contains("keeps"));
    assert!(rig.scene().notices.iter().any(kept), "{:?}", rig.scene().notices);
    assert!(screen(&rig, (80, 24)).contains("keeps its time"));
}

#[test]
fn space_on_the_log_is_space() {
    let mut rig = three_faces();
    rig.key('7').space();
    assert!(matches!(rig.last_events(), [Event::FaceBegun { .. }]));
    rig.key('7').press(Pressed::PageUp);
    assert!(matches!(rig.last_events(), [Event::Struck { .. }]));
}

#[test]
fn an_override_stands_in_the_log_with_its_reason() {
    let mut rig = three_faces();
    // the first face flashes: to begin its second coat meets a hold
    while rig.scene().chosen != Some(0) {
        rig.press(Pressed::Up);
    }
    rig.press(Pressed::Enter);
    assert!(matches!(rig.scene().asking, Some(Asking::Holds { .. })));
    rig.key('2').key('7');
    let shown = screen(&rig, (100, 30));
    assert!(
        shown.contains("! past 2 holds") && shown.contains("because: tried on a test panel"),
        "{shown}"
    );
    compare(&rig, "log_06_override");
}
