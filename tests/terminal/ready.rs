//! Screens 3 and 6 by keys: readiness answered and overridden, readings charted, a due look kept in
//! sight and answered while a form is open. `INSTA_UPDATE=always` rewrites the screens.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Asking, Notice, Screen};
use boothside_core::board::{Clears, Next, ReadyLine, ReadyNow, Stage};
use boothside_core::session::event::{Event, Reason, Way};
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::Span;

use crate::play::{compare, on_until, screen};
use crate::rig::Rig;

fn line<'r>(rig: &'r Rig, id: &str) -> &'r ReadyLine {
    let found = rig.desk.board().ready.iter().find(|line| line.id == id);
    found.unwrap_or_else(|| panic!("no line {id}"))
}

/// Goes to a line by the arrows, as a painter would.
fn choose(rig: &mut Rig, id: &str) {
    let wanted = rig.desk.board().ready.iter().position(|line| line.id == id).expect(id);
    for _ in 0..rig.desk.board().ready.len() {
        rig.press(Pressed::Up);
    }
    for _ in 0..wanted {
        rig.press(Pressed::Down);
    }
    assert_eq!(rig.scene().ready_line, Some(wanted));
}

fn read(rig: &mut Rig, figures: [&str; 3]) {
    rig.key('a');
    for text in figures {
        rig.enter(text);
    }
    assert!(matches!(rig.last_events(), [Event::Reading(_), ..]), "{:?}", rig.last_events());
}

fn to_the_first_coat(rig: &mut Rig) {
    on_until(rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig.pass(2.0);
}

fn at_the_checks() -> Rig {
    let mut rig = Rig::example();
    on_until(&mut rig, "checks", |rig| matches!(rig.desk.board().next, Next::Check { .. }));
    rig.pass(31.0).press(Pressed::Esc);
    rig
}

#[test]
fn ready_before_anything_is_answered() {
    let mut rig = at_the_checks();
    rig.key('3');
    assert_eq!(rig.scene().screen, Screen::Ready);
    compare(&rig, "30_ready");
}

#[test]
fn enter_answers_line_by_line() {
    let mut rig = at_the_checks();
    rig.key('3');
    for _ in 0..3 {
        let at = rig.scene().ready_line.expect("a line");
        let line = rig.desk.board().ready[at].clone();
        assert_eq!(line.clears, Clears::Answer);
        rig.pass(1.0).press(Pressed::Enter);
        assert!(matches!(rig.last_events(), [Event::CheckPassed { .. }]));
        assert_eq!(self::line(&rig, &line.id).now, ReadyNow::Said);
    }
    assert_eq!(rig.scene().screen, Screen::Ready, "it stays where it is");
    rig.pass(1.0).key('u');
    assert!(matches!(rig.last_events(), [Event::Struck { .. }]));
}

/// The row of screen 3 that says whether somebody knows.
fn someone_row(rig: &Rig) -> String {
    let shown = screen(rig, (140, 60));
    let row = shown.lines().find(|row| row.contains("someone knows that I spray alone"));
    row.unwrap_or_else(|| panic!("no such row\n{shown}")).to_owned()
}

#[test]
fn that_someone_knows_has_its_line_and_is_said_by_space_or_by_enter() {
    let mut rig = Rig::example();
    on_until(&mut rig, "it is asked", |rig| matches!(rig.desk.board().next, Next::SomeoneKnows));
    rig.pass(31.0).press(Pressed::Esc).key('3');
    assert!(someone_row(&rig).contains("? not known"), "{}", someone_row(&rig));
    let (at, to_check) = (rig.scene().ready_line, rig.desk.board().to_check);
    let own = rig.desk.board().ready.iter().position(|line| line.id == "someone");
    assert_eq!(at, own, "what SPACE asks is the line that is chosen");
    compare(&rig, "36_ready_someone");
    rig.space();
    assert_eq!(rig.last_events(), [Event::SomeoneKnows {}]);
    assert_eq!(rig.desk.board().to_check, to_check - 1, "it is counted once");
    let row = someone_row(&rig);
    assert!(row.contains("» said 07:00") && !row.contains("clear"), "{row}");
    // taken back it is asked again, and Enter on its line says it as well
    rig.pass(1.0).key('u').pass(1.0);
    assert!(someone_row(&rig).contains("not known"));
    choose(&mut rig, "someone");
    rig.press(Pressed::Enter);
    assert_eq!(rig.last_events(), [Event::SomeoneKnows {}]);
    // gone past it is no answer: the time stands, and that it was passed
    rig.pass(1.0).key('u').pass(1.0).key('1').pass(1.0).press(Pressed::Enter).key('5');
    assert!(matches!(rig.last_events(), [Event::HoldOverridden { .. }]), "{:?}", rig.last_events());
    rig.pass(1.0).key('3');
    let row = someone_row(&rig);
    assert!(row.contains("× passed") && !row.contains("said"), "{row}");
}

#[test]
fn what_no_key_clears_is_said_and_writes_nothing() {
    let mut rig = at_the_checks();
    rig.key('3');
    choose(&mut rig, "isocyanate");
    let before = rig.written.len();
    rig.press(Pressed::Enter);
    assert_eq!(rig.written.len(), before);
    let told = |notice: &Notice| matches!(notice, Notice::Text(text) if text.contains("safety data sheet"));
    assert!(rig.scene().notices.iter().any(told));
    compare(&rig, "31_ready_caution");
}

#[test]
fn damp_air_holds_a_coat_and_one_digit_goes_past_it_in_sight() {
    let mut rig = Rig::example();
    to_the_first_coat(&mut rig);
    // 14 °C on the part at 19.4 °C and 74 %: 0.4 under the dew point is far from enough
    read(&mut rig, ["19.4", "74", "15.5"]);
    assert_eq!(line(&rig, "dew margin").now, ReadyNow::Hold);
    // SPACE runs into no hold: it asks for another reading; a face chosen by hand meets it
    assert!(matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.press(Pressed::Down).press(Pressed::Enter);
    let Some(Asking::Holds { holds, .. }) = rig.scene().asking else { panic!("it asks why") };
    assert_eq!(holds.iter().map(ToString::to_string).collect::<Vec<_>>(), ["dew-margin 1"]);
    rig.press(Pressed::Esc);
    rig.pass(1.0).key('3');
    choose(&mut rig, "dew margin");
    compare(&rig, "32_ready_hold");
    rig.press(Pressed::Enter).key('5');
    let overridden =
        [Event::HoldOverridden { hold: "dew-margin 1".into(), reason: Reason::OwnDecision }];
    assert_eq!(rig.last_events(), overridden);
    assert_eq!(line(&rig, "dew margin").now, ReadyNow::Hold, "it is still not so");
    rig.pass(6.0);
    compare(&rig, "33_ready_gone_past");
    rig.key('1').pass(1.0);
    compare(&rig, "34_clocks_gone_past");
    // the list on the clocks says what the ready screen says
    let shown = screen(&rig, (80, 24));
    let at = rig.desk.board().overridden[0].at;
    assert!(shown.contains("× passed ") && !shown.contains("× hold"), "{at:?}\n{shown}");
    rig.space();
    assert!(matches!(rig.last_events(), [Event::FaceBegun { .. }]), "{:?}", rig.last_events());
    // the next reading asks anew
    rig.pass(60.0).space();
    read(&mut rig, ["19.4", "74", "15.6"]);
    assert!(matches!(rig.desk.board().next, Next::Reading { .. }));
}

#[test]
fn water_on_the_part_stops_space_in_large_letters_and_a_reason_goes_past_it() {
    let mut rig = Rig::example();
    to_the_first_coat(&mut rig);
    read(&mut rig, ["19.4", "74", "13.0"]);
    rig.pass(6.0);
    let before = rig.written.len();
    rig.space();
    assert_eq!(rig.written.len(), before, "SPACE opens the reading");
    assert!(rig.scene().form.is_some());
    rig.press(Pressed::Esc);
    compare(&rig, "35_water");
    rig.press(Pressed::Enter);
    assert!(matches!(rig.scene().asking, Some(Asking::Holds { .. })));
    rig.key('5');
    assert!(matches!(rig.last_events(), [Event::HoldOverridden { .. }]));
    // the part is too cold for the sheet as well: a hold of its own
    assert!(matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.pass(1.1).press(Pressed::Enter).key('5');
    assert!(matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    // a reading that clears it takes the warning away
    read(&mut rig, ["19.4", "74", "13.0"]);
    assert!(matches!(rig.desk.board().next, Next::Reading { .. }));
    read(&mut rig, ["19.4", "58", "18.8"]);
    assert!(matches!(rig.desk.board().next, Next::BeginCoat { .. }));
}

#[test]
fn plugs_and_masks_are_counted_in_and_a_wrong_count_is_said_beside_the_field() {
    let mut rig = at_the_checks();
    rig.key('3');
    choose(&mut rig, "masks");
    rig.press(Pressed::Enter).enter("a dozen");
    let form = rig.scene().form.expect("the form is still there").clone();
    assert_eq!(form.fields[0].text, "a dozen");
    let error = form.fields[0].error.clone().expect("an error");
    assert!(error.contains("a dozen") && error.contains("whole number"), "{error}");
    rig.enter("14").press(Pressed::Enter);
    let counted = Event::MasksCounted { way: Way::In, number: 14 };
    assert_eq!(rig.last_events().last(), Some(&counted));
    assert_eq!(line(&rig, "masks").now, ReadyNow::Said);
}

#[test]
fn cartridges_take_hours_and_hold_at_the_painters_own_schedule() {
    let mut rig = at_the_checks();
    rig.key('3');
    choose(&mut rig, "cartridges");
    rig.press(Pressed::Enter).enter("20h").press(Pressed::Enter);
    assert_eq!(rig.last_events(), [Event::CartridgesRead { used_h: 20.0 }]);
    assert_eq!(line(&rig, "cartridges").now, ReadyNow::Hold);
    rig.pass(1.0).press(Pressed::Enter).enter("0").press(Pressed::Enter);
    assert_eq!(line(&rig, "cartridges").now, ReadyNow::Said);
}

#[test]
fn a_look_comes_due_on_the_bench_and_is_answered_without_losing_what_is_typed() {
    let mut rig = Rig::example();
    to_the_first_coat(&mut rig);
    for _ in 0..8 {
        rig.space().pass(60.0).space().pass(2.0);
    }
    let Next::Wait { until: Some(until), .. } = rig.desk.board().next.clone() else { panic!() };
    rig.key('6').key('a').enter("18.2");
    rig.leap_to(until.moment().expect("it dulls")).pass(2.0);
    assert_eq!(rig.desk.board().faces[0].at.now, FaceNow::Look);
    compare(&rig, "35_air_look_while_typing");
    rig.press(Pressed::Esc).space();
    assert!(matches!(rig.last_events(), [Event::Dulled { .. }]), "{:?}", rig.last_events());
    rig.pass(2.0).key('a');
    assert_eq!(rig.scene().form.expect("the form").fields[0].text, "18.2");
}

#[test]
fn readings_are_charted_and_the_margin_s_end_foretold() {
    let mut rig = Rig::example();
    to_the_first_coat(&mut rig);
    for (minutes, air, humidity, surface) in
        [(0.0, "19.4", "60", "18.0"), (25.0, "18.6", "63", "16.9"), (25.0, "17.9", "66", "15.7")]
    {
        rig.leap_to(rig.t.plus(Span::from_minutes(minutes as i64)));
        read(&mut rig, [air, humidity, surface]);
    }
    rig.pass(6.0);
    assert_eq!(line(&rig, "dew margin trend").now, ReadyNow::Caution);
    rig.key('6');
    compare(&rig, "36_air");
}

#[test]
fn where_and_with_what_a_reading_was_taken_is_kept_and_offered_again() {
    let mut rig = at_the_checks();
    rig.key('a').enter("19.4").enter("58");
    for _ in 0..4 {
        rig.press(Pressed::Down);
    }
    rig.enter("at the hatch").enter("sling hygrometer");
    let [Event::Reading(_), Event::ReadingBy { place, with }] = rig.last_events() else {
        panic!("{:?}", rig.last_events())
    };
    assert_eq!(place.as_deref(), Some("at the hatch"));
    assert_eq!(with.as_deref(), Some("sling hygrometer"));
    rig.pass(2.0).key('a');
    let form = rig.scene().form.expect("a form").clone();
    assert_eq!(form.fields[6].text, "at the hatch");
    rig.press(Pressed::Esc).pass(6.0).key('6');
    compare(&rig, "37_air_first");
}

#[test]
fn the_share_of_the_flammable_limit_stands_with_its_caution() {
    let mut rig = Rig::example();
    on_until(&mut rig, "the second coat of colour", |rig| {
        rig.desk.board().stage == Stage::Coat { layer: 2, coat: 2 }
    });
    rig.pass(31.0);
    rig.press(Pressed::Esc).key('6');
    compare(&rig, "39_air_colour");
}

#[test]
fn an_empty_booth_says_what_it_lacks() {
    let mut rig = Rig::example();
    rig.key('6');
    compare(&rig, "38_air_none");
}
