//! Keys through the real update function: what each does, and what never happens.

use boothside::update::desk::{Effect, Now, Pressed, Written};
use boothside::update::scene::{Asking, Notice, Saved};
use boothside_core::board::Next;
use boothside_core::session::event::{Event, Reason};
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::{Moment, Span};

use crate::rig::{Rig, Wall};

/// A rig at the first coat: prep waited for, checks answered, air read, pot mixed and stood.
fn ready_to_spray() -> Rig {
    let mut rig = Rig::example();
    to_the_first_coat(&mut rig);
    rig
}

fn to_the_first_coat(rig: &mut Rig) {
    for _ in 0..60 {
        match rig.desk.board().next.clone() {
            Next::BeginCoat { .. } => return,
            Next::Wait { until, .. } => {
                let until = until.and_then(|until| until.moment()).expect("it comes");
                rig.leap_to(until);
            }
            Next::Reading { .. } => {
                rig.space();
                for text in ["20C", "50", "19.5C"] {
                    rig.enter(text);
                }
                rig.pass(0.6);
            }
            Next::CountMasks { .. } => {
                rig.space().enter("14");
                while rig.scene().form.is_some() {
                    rig.press(Pressed::Enter);
                }
            }
            _ => {
                rig.space();
            }
        }
    }
    panic!("no coat begins: {:?}", rig.desk.board().next);
}

fn begun_and_on(rig: &mut Rig, seconds: f64) {
    rig.space().pass(seconds).space();
}

/// All faces with the first coat, then on to the first look.
fn at_the_first_look() -> Rig {
    let mut rig = ready_to_spray();
    for _ in 0..8 {
        begun_and_on(&mut rig, 60.0);
    }
    let Next::Wait { until: Some(until), .. } = rig.desk.board().next.clone() else {
        panic!("{:?}", rig.desk.board().next)
    };
    let until = until.moment().expect("it dulls");
    rig.leap_to(until);
    rig
}

#[test]
fn space_begins_a_face_and_space_says_that_it_is_on() {
    let mut rig = ready_to_spray();
    rig.space();
    assert!(matches!(rig.last_events(), [Event::FaceBegun { coat: 1, .. }]));
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::OnTheGun);
    rig.pass(30.0).space();
    assert!(matches!(rig.last_events(), [Event::FaceFinished { coat: 1, .. }]));
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Flashing);
}

#[test]
fn page_down_is_space_and_page_up_takes_back() {
    let mut rig = ready_to_spray();
    rig.pass(1.0).press(Pressed::PageDown);
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::OnTheGun);
    rig.press(Pressed::PageUp);
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Bare);
}

#[test]
fn a_key_held_down_counts_once() {
    let mut rig = ready_to_spray();
    let before = rig.written.len();
    rig.pass(2.0);
    for _ in 0..40 {
        rig.press_only(Pressed::Char(' '));
        rig.hand_ms += 33;
        rig.tick();
    }
    rig.pass(0.5);
    assert_eq!(rig.written.len(), before + 1);
}

#[test]
fn a_palm_on_the_keys_writes_nothing() {
    let mut rig = ready_to_spray();
    let before = rig.written.len();
    rig.pass(2.0);
    for key in [' ', 'k', 'c', 'd'] {
        rig.press_only(Pressed::Char(key));
        rig.hand_ms += 20;
    }
    rig.pass(0.5);
    assert_eq!(rig.written.len(), before);
    assert!(rig.scene().notices.contains(&Notice::Palm));
}

#[test]
fn the_meaning_does_not_change_under_the_thumb() {
    // face 0 waits for a look in a moment, and SPACE says to wait: a press just after the clock
    // came due still does what was drawn, which is nothing
    let mut rig = ready_to_spray();
    for _ in 0..8 {
        begun_and_on(&mut rig, 60.0);
    }
    let Next::Wait { until: Some(until), .. } = rig.desk.board().next.clone() else { panic!() };
    let until = until.moment().expect("it dulls");
    rig.pass(2.0).leap_to(until.minus(Span::from_ms(200)));
    let before = rig.written.len();
    rig.pass(0.3);
    assert!(matches!(rig.desk.board().next, Next::Dulled { .. }), "time alone changed it");
    rig.key(' ');
    assert_eq!(rig.written.len(), before, "what was drawn was a wait");
    rig.pass(1.5).key(' ');
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]), "a second later it counts");
}

#[test]
fn still_wet_asks_again_later_and_rings_again() {
    let mut rig = at_the_first_look();
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Look);
    let rings = rig.rings;
    assert!(rings > 0, "what comes due rings");
    rig.pass(1.5).key('w');
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Flashing);
    let Some(look) = rig.desk.board().faces[0].at.look.and_then(|look| look.moment()) else {
        panic!()
    };
    // the key was told up to a second ago
    assert!(look.since(rig.t) > Span::from_seconds(119.0));
}

#[test]
fn the_bell_rings_once_then_once_a_minute_until_a_key_answers() {
    let mut rig = ready_to_spray();
    // one face only, so that nothing else comes due meanwhile
    begun_and_on(&mut rig, 60.0);
    let look = rig.desk.board().faces[0].at.look.and_then(|look| look.moment()).expect("a look");
    rig.leap_to(look);
    let first = rig.rings;
    rig.pass(59.0);
    assert_eq!(rig.rings, first);
    rig.pass(2.0);
    assert_eq!(rig.rings, first + 1);
    rig.pass(60.0);
    assert_eq!(rig.rings, first + 2);
    rig.key('s').pass(180.0);
    assert_eq!(rig.rings, first + 2, "silence answers it");
}

#[test]
fn a_choice_fades_and_space_ignores_it() {
    let mut rig = ready_to_spray();
    rig.press(Pressed::Down).press(Pressed::Down).press(Pressed::Down);
    assert_eq!(rig.scene().chosen, Some(2));
    rig.space();
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::OnTheGun, "SPACE ignores the choice");
    rig.press(Pressed::Down);
    rig.pass(19.0);
    assert!(rig.scene().chosen.is_some());
    rig.pass(1.5);
    assert_eq!(rig.scene().chosen, None);
}

#[test]
fn enter_out_of_order_meets_a_hold_that_one_digit_passes() {
    let mut rig = ready_to_spray();
    begun_and_on(&mut rig, 60.0);
    // the first face flashes: its second coat is too early
    rig.press(Pressed::Up);
    while rig.scene().chosen != Some(0) {
        rig.press(Pressed::Up);
    }
    let before = rig.written.len();
    rig.press(Pressed::Enter);
    assert!(matches!(rig.scene().asking, Some(Asking::Holds { .. })));
    assert_eq!(rig.written.len(), before);
    rig.key('9');
    assert!(rig.scene().asking.is_some(), "a digit that is no answer leaves the question");
    rig.key('2');
    let reasons: Vec<Reason> = rig
        .last_events()
        .iter()
        .filter_map(|event| match event {
            Event::HoldOverridden { reason, .. } => Some(*reason),
            _ => None,
        })
        .collect();
    assert!(!reasons.is_empty() && reasons.iter().all(|reason| *reason == Reason::Tried));
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::OnTheGun);
    let entry = rig.written.last().expect("written");
    assert!(entry.seen.holds.contains(&"too-early hatch-top".to_owned()), "{:?}", entry.seen);
    assert!(entry.seen.due.iter().any(|due| due.of == "hatch-top" && due.edge == "look"));
}

#[test]
fn any_other_key_leaves_a_question_and_space_still_works() {
    let mut rig = at_the_first_look();
    rig.pass(2.0).key('p');
    assert!(matches!(rig.scene().asking, Some(Asking::PauseWhy)));
    rig.space();
    assert!(rig.scene().asking.is_none());
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]), "a look is answered all the same");
}

#[test]
fn u_takes_back_and_asks_when_it_is_old() {
    let mut rig = ready_to_spray();
    begun_and_on(&mut rig, 60.0);
    rig.pass(2.0).key('u');
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::OnTheGun);
    rig.pass(11.0 * 60.0).key('u');
    assert!(matches!(rig.scene().asking, Some(Asking::TakeBackOld { .. })));
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::OnTheGun);
    rig.key('1');
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Bare);
}

#[test]
fn b_moves_the_last_key_a_minute_and_u_takes_the_b_back() {
    let mut rig = ready_to_spray();
    begun_and_on(&mut rig, 300.0);
    let finished = rig.desk.board().faces[0].at.finished;
    rig.key('b').key('b');
    let earlier = rig.desk.board().faces[0].at.finished;
    assert_eq!(earlier, finished.map(|at| at.minus(Span::from_minutes(2))));
    rig.pass(1.5).key('u');
    assert_eq!(
        rig.desk.board().faces[0].at.finished,
        finished.map(|at| at.minus(Span::from_minutes(1)))
    );
}

#[test]
fn a_true_time_is_typed() {
    let mut rig = Rig::example();
    for _ in 0..5 {
        rig.pass(60.0).space();
    }
    assert!(matches!(rig.last_events(), [Event::StepDone { .. }]));
    rig.key('t').enter("13h ago");
    let waits = matches!(rig.desk.board().next, Next::Wait { .. });
    assert!(!waits, "cleaned thirteen hours ago: dry. {:?}", rig.desk.board().next);
}

#[test]
fn a_reading_that_cannot_be_stays_in_its_field() {
    let mut rig = Rig::example();
    rig.key('a').enter("150C");
    let scene = rig.scene();
    let form = scene.form.expect("the form stays");
    assert_eq!(form.fields[0].text, "150C");
    assert!(form.fields[0].error.as_deref().is_some_and(|error| error.contains("60 °C")));
    assert_eq!(form.focus, 0);
    assert!(rig.written.is_empty());
    // typed anew, it is kept
    for text in ["65F", "", ""] {
        rig.enter(text);
    }
    assert!(rig.scene().form.is_none());
    let [Event::Reading(reading)] = rig.last_events() else { panic!() };
    let air_c = reading.air_c.expect("read");
    assert!((air_c - 18.333_333).abs() < 1e-5, "65 °F are 18.33 °C, not {air_c}");
}

#[test]
fn what_does_not_parse_is_said_beside_the_field() {
    let mut rig = Rig::example();
    rig.key('a').enter("1:30").enter("");
    let scene = rig.scene();
    let form = scene.form.expect("the form stays");
    assert!(form.fields[0].error.is_some() && form.fields[0].text == "1:30");
}

#[test]
fn a_form_left_and_opened_anew_has_what_was_typed() {
    let mut rig = at_the_first_look();
    rig.pass(2.0).key('a').enter("18.5");
    rig.press_only(Pressed::Char('4'));
    rig.press(Pressed::Esc);
    rig.key('d');
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]));
    rig.key('a');
    let scene = rig.scene();
    let form = scene.form.expect("the form");
    assert_eq!((form.fields[0].text.as_str(), form.fields[1].text.as_str()), ("18.5", "4"));
}

#[test]
fn a_look_waits_behind_a_form_and_what_was_typed_is_kept() {
    let mut rig = at_the_first_look();
    rig.pass(2.0).key('n');
    rig.press_only(Pressed::Char('d'));
    let shown = crate::play::screen(&rig, (80, 24));
    assert!(shown.contains("Esc, then SPACE: it has dulled"), "{shown}");
    rig.press(Pressed::Esc).space();
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]));
    rig.pass(2.0).key('n');
    assert_eq!(rig.scene().form.map(|form| form.fields[0].text.clone()), Some("d".into()));
}

#[test]
fn saved_is_shown_only_after_the_writer_said_so() {
    let mut rig = Rig::example();
    rig.saves = false;
    rig.space();
    assert_eq!(rig.scene().saved, &Saved::Saving);
    let n = rig.written[0].n;
    rig.key('n').enter("a second entry");
    rig.desk.written(Written::Saved { n });
    assert_ne!(rig.scene().saved, &Saved::Saved, "a second entry is still on its way");
    rig.desk.written(Written::Saved { n: n + 1 });
    assert_eq!(rig.scene().saved, &Saved::Saved);
}

#[test]
fn a_disk_that_refuses_is_told_until_it_takes() {
    let mut rig = Rig::example();
    rig.saves = false;
    rig.space();
    let n = rig.written[0].n;
    rig.desk.written(Written::Refused { waiting: 1, why: "no space".into() });
    assert!(matches!(rig.scene().saved, Saved::NotSaved { waiting: 1, .. }));
    rig.desk.written(Written::Saved { n });
    assert_eq!(rig.scene().saved, &Saved::Saved);
}

#[test]
fn sleep_is_told_with_what_changed() {
    let mut rig = ready_to_spray();
    begun_and_on(&mut rig, 60.0);
    let span = Span::from_minutes(47);
    rig.t = rig.t.plus(span);
    let now = Now { t: rig.t, hand_ms: rig.hand_ms, times: &Wall };
    let effects = rig.desk.slept(span, &now);
    assert!(matches!(effects[0], Effect::Write(_)), "it is written down");
    assert_eq!(effects[1..], [Effect::Ring], "and what came due meanwhile rings");
    let told = rig.scene().notices.iter().find_map(|notice| match notice {
        Notice::Slept { span, news } => Some((*span, news.len())),
        _ => None,
    });
    assert_eq!(told, Some((span, 1)), "one face came due for a look");
}

#[test]
fn nothing_pauses_chemistry() {
    let mut rig = ready_to_spray();
    begun_and_on(&mut rig, 60.0);
    let look = rig.desk.board().faces[0].at.look;
    rig.pass(2.0).key('p').key('2');
    assert!(rig.desk.session().state().paused.is_some());
    rig.pass(120.0).key('p');
    assert!(rig.desk.session().state().paused.is_none());
    assert_eq!(rig.desk.board().faces[0].at.look, look);
}

#[test]
fn q_twice_leaves_and_once_does_not() {
    let mut rig = Rig::example();
    rig.key('q');
    assert!(!rig.left && rig.scene().leaving);
    rig.pass(6.0).key('q');
    assert!(!rig.left, "the first q is long past");
    rig.key('q');
    assert!(rig.left);
}

#[test]
fn a_rehearsal_jumps_to_the_next_due_clock() {
    let mut rig = Rig::rehearsal(60.0);
    for _ in 0..5 {
        rig.space();
    }
    rig.key('j');
    assert!(rig.t >= Moment::OPENING.plus(Span::from_hours(12)));
    assert!(matches!(rig.desk.board().next, Next::Check { .. }), "a new sitting");
    let before = rig.written.len();
    rig.key(' ');
    assert_eq!(rig.written.len(), before + 1, "a jump changes nothing under the thumb");
    rig.key('+');
    assert_eq!(rig.scene().rehearsal.map(|rehearsal| rehearsal.pace), Some(120.0));
}

#[test]
fn the_glance_comes_after_a_minute_and_goes_with_any_key() {
    let mut rig = Rig::example();
    assert!(!rig.scene().glance);
    rig.pass(60.5);
    assert!(rig.scene().glance);
    rig.press(Pressed::Esc);
    assert!(!rig.scene().glance);
}
