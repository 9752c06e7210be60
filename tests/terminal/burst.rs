//! Keys that only look act at once; a palm on the keys changes nothing all the same.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Notice, Screen};
use boothside_core::session::event::Event;
use boothside_core::session::time::Span;

use crate::rig::Rig;

#[test]
fn keys_that_only_look_act_at_once() {
    let mut rig = Rig::example();
    let screens = [
        ('2', Screen::Mix),
        ('3', Screen::Ready),
        ('5', Screen::Film),
        ('6', Screen::Air),
        ('7', Screen::Log),
        ('?', Screen::Keys),
        ('1', Screen::Clocks),
    ];
    for (key, screen) in screens {
        rig.pass(0.3);
        rig.press_only(Pressed::Char(key));
        assert_eq!(rig.scene().screen, screen, "{key}");
    }
    rig.pass(0.3);
    rig.press_only(Pressed::Down);
    let first = rig.scene().chosen.expect("a face is chosen");
    rig.pass(0.3);
    rig.press_only(Pressed::Down);
    assert_eq!(rig.scene().chosen, Some(first + 1));
    rig.pass(0.3);
    rig.press_only(Pressed::Esc);
    assert_eq!(rig.scene().chosen, None);
    rig.pass(0.3);
    // an arrow held down goes on, and is no palm
    for _ in 0..6 {
        rig.pass(0.03);
        rig.press_only(Pressed::Down);
    }
    assert_eq!(rig.scene().chosen, Some(5));
    rig.pass(0.3);
    assert!(!rig.scene().notices.contains(&Notice::Palm));
    assert!(rig.written.is_empty());
}

#[test]
fn what_a_palm_looked_at_goes_back_and_nothing_of_it_is_taken() {
    let mut rig = Rig::example();
    rig.key('7').pass(1.0);
    rig.press(Pressed::Up);
    rig.notice("to be read");
    rig.pass(1.5);
    let was = (rig.scene().screen, rig.scene().log_chosen, rig.scene().notices.to_vec());
    for last in [' ', 'w', '1', 'q', 'd'] {
        rig.press_only(Pressed::Char('3'));
        assert_eq!(rig.scene().screen, Screen::Ready, "at once");
        rig.pass(0.03);
        rig.press_only(Pressed::Esc);
        rig.pass(0.03);
        rig.press_only(Pressed::Char(last));
        rig.pass(0.03);
        rig.press_only(Pressed::Char('5'));
        assert_eq!(rig.scene().screen, was.0, "{last}");
        rig.pass(0.3);
        assert_eq!((rig.scene().screen, rig.scene().log_chosen), (was.0, was.1), "{last}");
        assert!(was.2.iter().all(|notice| rig.scene().notices.contains(notice)), "{last}");
        assert!(rig.scene().notices.contains(&Notice::Palm), "{last}");
        assert!(!rig.scene().leaving && rig.scene().asking.is_none(), "{last}");
    }
    assert!(rig.written.is_empty());
    // and the key counts when it is meant, however soon
    rig.press_only(Pressed::Char('5'));
    assert_eq!(rig.scene().screen, Screen::Film);
}

#[test]
fn a_face_chosen_by_a_palm_is_not_chosen() {
    let mut rig = Rig::example();
    rig.press(Pressed::Down).pass(0.5);
    let chosen = rig.scene().chosen;
    assert!(chosen.is_some());
    rig.press_only(Pressed::Down);
    rig.press_only(Pressed::Down);
    assert_ne!(rig.scene().chosen, chosen);
    rig.pass(0.05);
    rig.press_only(Pressed::Enter);
    assert_eq!(rig.scene().chosen, chosen);
    rig.pass(0.5);
    assert_eq!(rig.scene().chosen, chosen);
    assert!(rig.written.is_empty() && rig.scene().asking.is_none());
}

#[test]
fn a_digit_that_answers_waits() {
    let mut rig = Rig::example();
    rig.key('p').pass(0.3);
    rig.press_only(Pressed::Char('1'));
    assert!(rig.written.is_empty(), "it could be a palm");
    rig.pass(0.2);
    assert!(matches!(rig.last_events(), [Event::Paused { .. }]), "{:?}", rig.last_events());
    // so does Esc
    rig.pass(1.0).key('p').pass(1.0).key('p').pass(0.3);
    rig.press_only(Pressed::Esc);
    assert!(rig.scene().asking.is_some());
    rig.pass(0.2);
    assert!(rig.scene().asking.is_none());
}

#[test]
fn a_digit_behind_a_key_that_opens_something_goes_there() {
    let mut rig = Rig::example();
    rig.press_only(Pressed::Char('x'));
    rig.pass(0.05);
    rig.press_only(Pressed::Char('3'));
    assert_eq!(rig.scene().screen, Screen::Clocks);
    rig.pass(0.3);
    assert_eq!(rig.scene().picker.map(|picker| picker.typed.as_str()), Some("3"));
    assert_eq!(rig.scene().screen, Screen::Clocks);
}

#[test]
fn what_is_told_counts_from_the_key_however_late_it_is_let_out() {
    let mut rig = Rig::example();
    rig.pass(10.0);
    let pressed = rig.t;
    rig.press_only(Pressed::Char(' '));
    // the loop is held up for eight seconds
    rig.t = rig.t.plus(Span::from_seconds(8.0));
    rig.hand_ms += 8_000;
    rig.tick();
    let told = rig.written.last().map(|entry| entry.t_ms.since(pressed).ms());
    assert_eq!(told, Some(100), "but for the time in which it could be a palm");
}
