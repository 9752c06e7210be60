//! What hangs, is away, joins or is left out, by keys.

use boothside::update::at_hand::AtHand;
use boothside::update::desk::Pressed;
use boothside_core::session::event::Event;
use boothside_core::session::standing::FaceNow;
use boothside_core::work::part::Part;

use crate::faults::faces_on;
use crate::play::{compare, screen};
use crate::rig::Rig;

pub(crate) fn fairing() -> Part {
    let face = |id: &str| serde_json::json!({ "id": id, "name": id, "area_m2": 0.21 });
    let faces = [face("outer"), face("inner")];
    let part = serde_json::json!({ "format": 1, "name": "Fairing", "faces": faces });
    serde_json::from_value(part).expect("a part")
}

fn with_the_book(mut rig: Rig) -> Rig {
    let parts = vec![("fairing".to_owned(), fairing()), ("hatch".to_owned(), fairing())];
    rig.desk.lay_at_hand(AtHand { parts, work: None }, rig.hand_ms);
    rig
}

fn find(rig: &mut Rig, text: &str) {
    for c in text.chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.pass(0.2);
}

#[test]
fn a_part_of_the_book_joins_by_few_keys() {
    let mut rig = with_the_book(faces_on(1));
    rig.key('h');
    compare(&rig, "hang_01_parts");
    find(&mut rig, "fai");
    compare(&rig, "hang_02_joins");
    rig.press(Pressed::Enter);
    assert!(rig.scene().picker.is_none());
    assert!(matches!(rig.last_events(), [Event::PartJoined { part, .. }] if part == "fairing"));
    let board = rig.desk.board();
    assert_eq!(board.faces.len(), 10);
    assert_eq!(board.faces[9].at.now, FaceNow::Bare);
    // a part of the same name is the job's own already
    rig.key('h');
    find(&mut rig, "hatch");
    let listed = screen(&rig, (80, 24));
    assert_eq!(listed.matches("can join").count(), 0, "{listed}");
}

#[test]
fn a_part_is_taken_away_and_hangs_again_and_a_face_is_left_out() {
    let mut rig = with_the_book(faces_on(2));
    rig.key('h').press(Pressed::Enter);
    compare(&rig, "hang_03_what_of_it");
    rig.press(Pressed::Enter);
    assert!(matches!(rig.last_events(), [Event::PartAway { .. }]));
    rig.pass(6.0).key('h').press(Pressed::Down).press(Pressed::Enter);
    rig.press(Pressed::Down).press(Pressed::Enter);
    let [Event::FaceLeft { face }] = rig.last_events() else { panic!("{:?}", rig.last_events()) };
    let left = rig.desk.session().plan().index(face).expect("a face");
    assert_eq!(rig.desk.board().faces[left].at.now, FaceNow::Left);
    rig.pass(6.0);
    compare(&rig, "hang_04_away_and_left");
    rig.key('h').press(Pressed::Enter).press(Pressed::Enter);
    assert!(matches!(rig.last_events(), [Event::PartHung { .. }]));
    rig.key('u');
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Away);
}

#[test]
fn a_part_is_looked_out_of_without_a_word() {
    let mut rig = with_the_book(faces_on(1));
    let before = rig.written.len();
    rig.key('h').press(Pressed::Enter).press(Pressed::Backspace);
    assert!(rig.scene().picker.is_some(), "back to the parts");
    rig.press(Pressed::Backspace);
    assert!(rig.scene().picker.is_none());
    rig.key('h').press(Pressed::Enter).press(Pressed::Esc);
    assert!(rig.scene().picker.is_none());
    assert_eq!(rig.written.len(), before);
}

#[test]
fn where_nothing_hangs_the_screen_says_how_to_tell_it() {
    let mut rig = Rig::with(|work| work.job.away = work.job.parts.clone());
    rig.pass(1.0);
    compare(&rig, "hang_05_nothing");
    rig.press(Pressed::Enter);
    assert!(rig.scene().picker.is_some(), "Enter opens the parts");
}
