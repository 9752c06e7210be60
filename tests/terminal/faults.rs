//! Faults, the gun's card, other facts, pauses and the forgotten stop, by keys.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Asking, Screen};
use boothside_core::board::Next;
use boothside_core::session::event::Event;
use boothside_core::session::gun::{GunResult, GunSetting};
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::Span;

use crate::play::{compare, on_until, screen};
use crate::rig::Rig;

pub(crate) fn first_coat() -> Rig {
    let mut rig = Rig::example();
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig
}

/// So many faces with their first coat, two minutes each.
pub(crate) fn faces_on(count: usize) -> Rig {
    let mut rig = first_coat();
    for _ in 0..count {
        rig.space().pass(120.0).space();
    }
    rig.pass(6.0);
    rig
}

fn type_text(rig: &mut Rig, text: &str) {
    for c in text.chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.pass(0.2);
}

#[test]
fn a_fault_is_told_with_few_keys_and_its_causes_are_read() {
    let mut rig = faces_on(2);
    rig.key('x');
    compare(&rig, "fault_01_face");
    // the face that left the gun last is chosen already
    rig.press(Pressed::Enter);
    type_text(&mut rig, "fis");
    compare(&rig, "fault_02_which");
    rig.press(Pressed::Enter);
    let id = rig.desk.session().plan().faces()[1].id.clone();
    let fault = "fisheye".to_owned();
    let pot = Some("A".to_owned());
    assert_eq!(rig.last_events(), [Event::FaultSeen { face: id, layer: 1, coat: 1, fault, pot }]);
    assert!(rig.scene().picker.is_none());
    let said = rig.scene().said.expect("the last key's effect");
    assert!(matches!(said.events.last(), Some(Event::FaultSeen { .. })));
    // it is large; how to take it back stands under it
    assert!(screen(&rig, (80, 24)).contains("u takes it back"));
}

#[test]
fn a_chosen_face_goes_straight_to_the_faults_and_arrows_are_enough() {
    let mut rig = faces_on(1);
    rig.press(Pressed::Up).press(Pressed::Up);
    let chosen = rig.scene().chosen.expect("a face");
    rig.key('x').press(Pressed::Down).press(Pressed::Down).press(Pressed::Enter);
    let Some(Event::FaultSeen { face, fault, .. }) = rig.last_events().first() else { panic!() };
    assert_eq!(*face, rig.desk.session().plan().faces()[chosen].id);
    assert_eq!(fault, "orange-peel");
}

#[test]
fn what_fits_nothing_writes_nothing_and_there_are_two_ways_out() {
    let mut rig = faces_on(1);
    let before = rig.written.len();
    rig.key('x').press(Pressed::Enter);
    type_text(&mut rig, "zz");
    rig.press(Pressed::Enter);
    assert!(screen(&rig, (80, 24)).contains("nothing fits that"));
    for _ in 0..4 {
        rig.press(Pressed::Backspace);
    }
    assert!(rig.scene().picker.is_none());
    rig.key('x').press(Pressed::Esc);
    assert!(rig.scene().picker.is_none());
    assert_eq!(rig.written.len(), before);
}

#[test]
fn a_look_is_answered_over_an_open_list() {
    let mut rig = faces_on(8);
    let Next::Wait { until: Some(until), .. } = rig.desk.board().next.clone() else { panic!() };
    rig.key('x').press(Pressed::Enter);
    type_text(&mut rig, "or");
    rig.leap_to(until.moment().expect("it dulls"));
    compare(&rig, "fault_03_look");
    rig.pass(2.0).press(Pressed::PageDown);
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]));
    assert_eq!(rig.scene().picker.expect("the list stays").typed, "or");
}

#[test]
fn the_gun_s_card_says_what_is_accepted_and_keeps_what_was_typed() {
    let mut rig = first_coat();
    rig.key('g');
    let field = |rig: &Rig, at: usize| rig.scene().form.expect("the form").fields[at].clone();
    rig.enter("13");
    let error = field(&rig, 0).error.expect("too wide");
    assert_eq!(error, "'13' was given; accepted: 0.1 mm to 6 mm");
    for text in ["1.3", "22 psi", "2.5", "many"] {
        rig.enter(text);
    }
    assert!(field(&rig, 3).error.expect("not turns").contains("many"));
    for text in ["1.5", "9", "meh"] {
        rig.enter(text);
    }
    assert!(field(&rig, 5).error.expect("no result").contains("good or bad"));
    compare(&rig, "gun_01_refused");
    for text in ["bad", "heavy in the middle", ""] {
        rig.enter(text);
    }
    let Some(Event::GunSet(setting)) = rig.last_events().first() else { panic!("no card") };
    assert_eq!((setting.nozzle_mm, setting.fluid_turns), (Some(1.3), Some(1.5)));
    assert!(setting.inlet_kpa.is_some_and(|kpa| (kpa - 151.685).abs() < 0.001));
    assert_eq!(setting.result, Some(GunResult::Bad));
    rig.pass(6.0).key('g');
    compare(&rig, "gun_02_last_card");
    for text in ["", "180kPa", "", "", "", "good", "", ""] {
        rig.enter(text);
    }
    let expected = GunSetting {
        nozzle_mm: Some(1.3),
        inlet_kpa: Some(180.0),
        fan_turns: Some(2.5),
        fluid_turns: Some(1.5),
        cap: Some("9".into()),
        result: Some(GunResult::Good),
        note: None,
    };
    assert_eq!(rig.last_events(), [Event::GunSet(expected)]);
}

/// The fourth face on the gun for ten minutes, after three of two minutes each.
fn forgotten() -> Rig {
    let mut rig = faces_on(3);
    rig.space().pass(600.0);
    rig.press(Pressed::Esc);
    rig
}

#[test]
fn a_forgotten_stop_asks_and_an_unanswered_question_changes_nothing() {
    let mut rig = faces_on(3);
    rig.space();
    let written = rig.written.len();
    for _ in 0..1_200 {
        rig.pass(1.0);
        if rig.scene().forgotten.is_some() {
            break;
        }
    }
    let asked = rig.scene().forgotten.expect("it asks");
    assert_eq!(asked.face, 3);
    compare(&rig, "forgotten_01_asked");
    // a digit meant for what stood there a moment ago is no answer
    rig.key('7');
    assert_eq!((rig.scene().screen, rig.written.len()), (Screen::Log, written));
    rig.key('1').pass(3_600.0);
    assert_eq!(rig.written.len(), written);
    assert!(rig.scene().forgotten.is_some() && !rig.scene().glance);
    rig.space();
    assert!(matches!(rig.last_events(), [Event::FaceFinished { .. }]), "SPACE still says it is on");
    assert!(rig.scene().forgotten.is_none());
}

#[test]
fn it_was_on_some_minutes_ago() {
    let mut rig = faces_on(3);
    rig.space().pass(900.0);
    let likely = rig.scene().forgotten.expect("it asks").likely;
    rig.key('1');
    let finished = rig.desk.session().state().faces[3].coats[0].finished;
    assert_eq!(finished, Some(likely));
    let when = rig.written.last().and_then(|entry| entry.when_ms);
    assert_eq!(when, Some(likely));
}

#[test]
fn still_spraying_and_another_time() {
    let mut rig = faces_on(3);
    rig.space().pass(900.0).key('2');
    assert!(matches!(rig.last_events(), [Event::StillSpraying { .. }]));
    assert!(rig.scene().forgotten.is_none());
    rig.pass(900.0);
    assert!(rig.scene().forgotten.is_some(), "as long once more");
    rig.key('3').enter("4min ago");
    assert!(matches!(rig.last_events(), [Event::FaceFinished { .. }]));
    let ago = rig.t.since(rig.written.last().expect("an entry").told_ms());
    assert!((ago.seconds() - 240.0).abs() < 2.0, "{ago:?}");
}

#[test]
fn esc_puts_the_question_away() {
    let mut rig = forgotten();
    assert!(rig.scene().forgotten.is_none(), "Esc was pressed when it stood there");
    rig.pass(3_600.0);
    assert!(rig.scene().forgotten.is_none());
    assert_eq!(rig.desk.board().faces[3].at.now, FaceNow::OnTheGun);
}

#[test]
fn every_other_fact_of_a_face_has_its_digit() {
    type Fact = (char, fn(&Event) -> bool);
    let wanted: [Fact; 8] = [
        ('1', |event| matches!(event, Event::CoatSkipped { .. })),
        ('2', |event| matches!(event, Event::CoatWipedOff { .. })),
        ('3', |event| matches!(event, Event::ExtraCoat { .. })),
        ('4', |event| matches!(event, Event::TouchedUp { .. })),
        ('5', |event| matches!(event, Event::Wiped { .. })),
        ('6', |event| matches!(event, Event::Scuffed { .. })),
        ('7', |event| matches!(event, Event::Sanded { .. })),
        ('8', |event| matches!(event, Event::Turned { .. })),
    ];
    for (digit, told) in wanted {
        let mut rig = faces_on(2);
        rig.press(Pressed::Up).press(Pressed::Up).key('o');
        assert!(matches!(rig.scene().asking, Some(Asking::OtherFacts { .. })));
        rig.key(digit);
        assert!(rig.last_events().first().is_some_and(told), "{digit}: {:?}", rig.last_events());
        // and it is read in the log, with the face's name
        let face = rig.scene().log_chosen;
        rig.key('7');
        assert!(rig.scene().log_chosen > face);
        let newest =
            screen(&rig, (80, 24)).lines().find(|line| line.contains('▸')).map(str::to_owned);
        assert!(newest.is_some_and(|line| line.contains(" · ")), "{digit}");
        rig.key('u');
        assert!(matches!(rig.last_events(), [Event::Struck { .. }]));
    }
}

#[test]
fn a_pause_keeps_its_reason_and_stops_no_clock() {
    let mut rig = faces_on(8);
    let look = rig.desk.board().faces[0].at.look;
    rig.key('p').key('3');
    let why = "trouble with gun, hose or air".to_owned();
    assert_eq!(rig.last_events(), [Event::Paused { why: why.clone() }]);
    assert!(screen(&rig, (80, 24)).contains(&why));
    assert_eq!(rig.desk.board().faces[0].at.look, look, "no clock stands still");
    rig.pass(60.0).key('p');
    assert_eq!(rig.last_events(), [Event::Resumed {}]);
    let pause = rig.desk.session().state().pauses[0];
    assert!(pause.until.is_some_and(|until| until.since(pause.from) > Span::from_minutes(1)));
}
