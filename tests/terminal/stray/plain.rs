//! The two stray keys that did the most harm, key by key.

use boothside::update::desk::Pressed;
use boothside::update::scene::Asking;
use boothside_core::session::event::Event;

use super::starts::{STATES, Start, choose_last, join};
use crate::play::screen;
use crate::rig::Rig;

#[test]
fn one_key_finishes_no_coat_that_was_not_begun() {
    let mut rig = Start::TooEarly.rig(1);
    assert!(STATES[0].1(&rig), "every face is too early");
    for key in ['k', 'k', 'r', 'r', 'R'] {
        rig.pass(1.1).key(key);
        assert!(rig.written.is_empty(), "{key} wrote {:?}", rig.written);
    }
    assert_eq!(rig.scene().asking, Some(&Asking::RestOn { layer: 1, coat: 2 }));
    // any other key drops it, and only 1 says that it is on
    rig.pass(1.1).key('2');
    assert!(rig.scene().asking.is_none() && rig.written.is_empty());
    rig.pass(1.1).key('r').pass(1.1).key('1');
    assert!(matches!(rig.last_events(), [Event::RestFinished { layer: 1, coat: 2, .. }]));
    assert_eq!(rig.written.len(), 1);
    // the coat after it is asked for as well
    rig.pass(1.1).key('r').pass(1.1).key('r');
    assert_eq!(rig.written.len(), 1, "{:?}", rig.last_events());
}

#[test]
fn once_a_face_of_the_coat_is_begun_one_key_tells_the_rest() {
    let mut rig = Start::MidCoat.rig(1);
    rig.pass(1.1).key('r');
    assert!(matches!(rig.last_events(), [Event::RestFinished { layer: 1, coat: 1, .. }]));
}

#[test]
fn what_was_begun_before_a_part_came_says_nothing_of_that_part() {
    let mut rig = Start::TooEarly.rig(1);
    join(&mut rig, 0);
    let written = rig.written.len();
    rig.pass(1.1).key('r');
    assert_eq!(rig.scene().asking, Some(&Asking::RestOn { layer: 1, coat: 1 }));
    assert_eq!(rig.written.len(), written, "{:?}", rig.last_events());
    rig.pass(1.1).key('1');
    assert!(matches!(rig.last_events(), [Event::RestFinished { faces, .. }] if faces.len() == 2));
}

/// A part of the Book has joined, its last face is chosen, and the join is taken back.
fn chosen_and_gone() -> Rig {
    let mut rig = Start::Ready.rig(1);
    let faces = rig.desk.board().faces.len();
    join(&mut rig, 0);
    assert!(rig.desk.board().faces.len() > faces, "it has joined");
    choose_last(&mut rig);
    assert_eq!(rig.scene().chosen, Some(rig.desk.board().faces.len() - 1));
    rig.pass(1.1).key('u');
    assert_eq!(rig.desk.board().faces.len(), faces, "it is taken back");
    assert_eq!(rig.scene().chosen, None, "nothing is chosen that is not there");
    rig.pass(1.1);
    rig
}

#[test]
fn a_chosen_face_that_is_taken_back_is_acted_on_by_no_key() {
    let keys: [&[Pressed]; 6] = [
        &[Pressed::Enter],
        &[Pressed::Char('d')],
        &[Pressed::Char('w')],
        &[Pressed::Char('x'), Pressed::Enter],
        &[Pressed::Char('f')],
        &[Pressed::Char('h'), Pressed::Enter],
    ];
    for keys in keys {
        let mut rig = chosen_and_gone();
        let written = rig.written.len();
        for key in keys {
            rig.press(*key).pass(1.1);
            screen(&rig, (80, 24));
        }
        assert_eq!(rig.written.len(), written, "{keys:?} wrote {:?}", rig.last_events());
    }
    for digit in "1234567890".chars() {
        let mut rig = chosen_and_gone();
        let written = rig.written.len();
        rig.key('o').pass(1.1).key(digit);
        screen(&rig, (80, 24));
        for entry in &rig.written[written..] {
            let events = format!("{:?}", entry.events);
            assert!(!events.contains("fairing"), "o {digit} wrote {events}");
        }
    }
}

#[test]
fn what_asks_for_a_face_goes_with_it() {
    for key in ['o', 'x'] {
        let mut rig = Start::Ready.rig(1);
        join(&mut rig, 1);
        let faces = rig.desk.board().faces.len();
        rig.pass(1.1).key(key).pass(1.1);
        assert!(rig.scene().asking.is_some() || rig.scene().picker.is_some(), "{key} opens");
        // the pedal's back key takes back, whatever lies over the clocks
        rig.press(Pressed::PageUp).pass(1.1);
        assert!(rig.desk.board().faces.len() < faces, "{key}: it is taken back");
        assert!(rig.scene().asking.is_none() && rig.scene().picker.is_none(), "{key}");
        screen(&rig, (80, 24));
    }
}
