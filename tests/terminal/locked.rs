//! Locked keys and pasted text: what comes from the keyboard and is no key.

use boothside::update::desk::Pressed;
use boothside::update::scene::Notice;
use boothside_core::session::event::Event;

use crate::play::screen;
use crate::rig::Rig;

const LOCKED: &str = "keys locked: press 1 2 3";

fn shown(rig: &Rig) -> String {
    screen(rig, (80, 24))
}

/// The example with its keys locked.
fn locked() -> Rig {
    let mut rig = Rig::example();
    rig.key('p').pass(0.3);
    assert!(shown(&rig).contains("9 nothing: lock the keys"), "{}", shown(&rig));
    rig.key('9');
    assert!(rig.desk.is_locked());
    rig
}

#[test]
fn a_locked_keyboard_can_be_wiped() {
    let mut rig = locked();
    let keys = "q w e r t y u i o p 8 8 a s d f g h j k l 1 2 z x c v b n m 3 + ?";
    for key in keys.chars() {
        rig.press(Pressed::Char(key));
    }
    for key in [Pressed::Enter, Pressed::Esc, Pressed::PageDown, Pressed::Up, Pressed::Delete] {
        rig.press(key);
    }
    // along the row, as a cloth goes
    for key in "1234567890".chars() {
        rig.press(Pressed::Char(key));
    }
    rig.pass(2.0);
    assert!(rig.written.is_empty() && !rig.left && rig.desk.is_locked());
    assert!(rig.scene().asking.is_none() && rig.scene().form.is_none());
    assert!(shown(&rig).contains(LOCKED), "{}", shown(&rig));
    assert!(!shown(&rig).contains(" SPACE "), "{}", shown(&rig));
}

#[test]
fn the_large_letters_go_on_and_say_how_it_is_opened() {
    let mut rig = locked();
    for _ in 0..70 {
        rig.pass(1.0).key('d');
    }
    assert!(rig.scene().glance, "no key is a hand's");
    assert!(shown(&rig).contains(LOCKED), "{}", shown(&rig));
}

#[test]
fn one_two_three_opens_it() {
    let mut rig = locked();
    rig.pass(60.0).key('1').key('2').key('3');
    assert!(rig.desk.is_locked(), "a fourth key may still come");
    rig.pass(0.5);
    assert!(!rig.desk.is_locked());
    assert!(rig.scene().notices.contains(&Notice::Text("keys unlocked".into())));
    rig.pass(1.0);
    rig.space();
    assert_eq!(rig.written.len(), 1);
}

#[test]
fn back_at_work_is_one_key_as_before() {
    let mut rig = Rig::example();
    rig.key('p').key('2').pass(1.0);
    let paused = Event::Paused { why: "break".into() };
    assert_eq!(rig.last_events(), [paused]);
    rig.key('p');
    assert_eq!(rig.last_events(), [Event::Resumed {}]);
}

#[test]
fn pasted_text_goes_into_a_field_or_nowhere() {
    let mut rig = Rig::example();
    rig.paste("qq d w 8 8");
    rig.paste("qq d w 8 8");
    rig.pass(0.5);
    let told = rig.scene().notices.to_vec();
    assert_eq!(told, [Notice::Text("pasted text goes into a field: open one first".into())]);
    assert!(rig.written.is_empty() && !rig.scene().leaving);
    rig.key('n');
    rig.paste("lot 24-117 by hand");
    let form = rig.scene().form.expect("a note");
    assert_eq!(form.fields[form.focus].text, "lot 24-117 by hand");
    rig.press(Pressed::Enter);
    assert_eq!(rig.last_events(), [Event::Note { text: "lot 24-117 by hand".into() }]);
    let mut rig = locked();
    rig.paste("123");
    rig.pass(1.0);
    assert!(rig.desk.is_locked() && rig.scene().notices.is_empty());
}
