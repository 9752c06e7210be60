//! Fields of a form by keys: a pedal and digits, what is refused and in which units, what a key takes or
//! replaces.

use boothside::forms::FormKind;
use boothside::update::desk::{Now, Pressed};
use boothside_core::board::Next;
use boothside_core::session::event::{Event, Reading};
use boothside_core::work::job::ShopUnits;

use crate::play::{on_until, screen};
use crate::rig::{Rig, Wall};

const PLAIN: (u16, u16) = (80, 24);

/// Where SPACE asks for the first reading.
fn asks_for_air(units: ShopUnits) -> Rig {
    let mut rig = Rig::with(|work| work.shop.units = units);
    on_until(&mut rig, "a reading", |rig| matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.pass(2.0);
    rig
}

fn at_the_bench() -> Rig {
    let mut rig = Rig::example();
    on_until(&mut rig, "a reading", |rig| matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.space().enter("19.4").enter("58").enter("18.8");
    rig.pass(2.0).key('2').pass(2.0);
    rig
}

/// Presses the keys of `text`, '>' for PageDown; returns how many there were.
fn pedal(rig: &mut Rig, text: &str) -> usize {
    for c in text.chars() {
        rig.press(if c == '>' { Pressed::PageDown } else { Pressed::Char(c) });
    }
    text.chars().count()
}

fn last_reading(rig: &Rig) -> Reading {
    let [Event::Reading(reading), ..] = rig.last_events() else {
        panic!("{:?}", rig.last_events())
    };
    *reading
}

fn near(value: Option<f64>, wanted: f64) -> bool {
    value.is_some_and(|value| (value - wanted).abs() < 1e-9)
}

fn field(rig: &Rig, at: usize) -> boothside::forms::Field {
    rig.scene().form.expect("a form").fields[at].clone()
}

#[test]
fn a_reading_of_three_figures_takes_twelve_presses_with_tenths_and_ten_without() {
    let mut rig = asks_for_air(ShopUnits::Metric);
    let presses = pedal(&mut rig, ">194>58>188");
    let shown = screen(&rig, PLAIN);
    for understood in ["= 19.4 °C", "= 58 %", "= 18.8 °C"] {
        assert!(shown.contains(understood), "seen before it is kept: {shown}");
    }
    let presses = presses + pedal(&mut rig, ">");
    assert!(presses <= 12, "{presses}");
    let reading = last_reading(&rig);
    assert!(near(reading.air_c, 19.4) && near(reading.humidity_pct, 58.0));
    assert!(near(reading.surface_c, 18.8) && reading.pot_c.is_none());

    let mut rig = asks_for_air(ShopUnits::Us);
    let presses = pedal(&mut rig, ">67>58>66>");
    assert!(presses <= 10, "{presses}");
    assert!(near(last_reading(&rig).air_c, 35.0 / 1.8));

    let mut rig = asks_for_air(ShopUnits::Us);
    pedal(&mut rig, ">672");
    assert!(screen(&rig, PLAIN).contains("= 67.2 °F"), "{}", screen(&rig, PLAIN));
}

#[test]
fn three_figures_typed_in_one_field_are_taken_apart() {
    for text in ["19.4 58 18.8", "194 58 188", "19.4C 58% 18.8 C"] {
        let mut rig = asks_for_air(ShopUnits::Metric);
        pedal(&mut rig, ">");
        for c in text.chars() {
            rig.press_only(Pressed::Char(c));
        }
        let shown = screen(&rig, PLAIN);
        assert!(shown.contains("= 19.4 °C · 58 % · 18.8 °C"), "{shown}");
        pedal(&mut rig, ">");
        let reading = last_reading(&rig);
        assert!(near(reading.air_c, 19.4) && near(reading.surface_c, 18.8), "{text}");
    }
    // one of them cannot be: the painter is led there, and nothing is lost
    let mut rig = asks_for_air(ShopUnits::Metric);
    rig.space().enter("19.4 580000 18.8");
    let form = rig.scene().form.expect("the form stays");
    assert_eq!(form.focus, 1);
    assert!(form.fields[1].error.is_some());
    assert_eq!(form.fields[2].text, "18.8");
}

#[test]
fn space_goes_on_past_what_is_empty_and_closes_where_nothing_was_typed() {
    let mut rig = asks_for_air(ShopUnits::Metric);
    let before = rig.written.len();
    rig.key(' ');
    assert_eq!(rig.scene().form.map(|form| form.kind), Some(FormKind::Reading));
    rig.key(' ').key(' ').key(' ');
    assert!(rig.scene().form.is_none(), "closed");
    assert_eq!(rig.written.len(), before, "nothing is written");
    assert!(matches!(rig.desk.board().next, Next::Reading { .. }), "and it is asked again");
    // on the last field it keeps; a blank in what is being typed stays one
    rig.pass(2.0);
    for c in " 19.4 C".chars() {
        rig.press(Pressed::Char(c));
    }
    assert_eq!(field(&rig, 0).text, "19.4 C");
    rig.press(Pressed::Enter).key(' ').key(' ');
    let reading = last_reading(&rig);
    assert!(near(reading.air_c, 19.4) && reading.surface_c.is_none());
}

#[test]
fn the_last_value_stands_beside_an_empty_field_and_is_never_taken() {
    let mut rig = asks_for_air(ShopUnits::Us);
    pedal(&mut rig, ">672>58>658>");
    rig.pass(60.0).key('a');
    let form = rig.scene().form.expect("the form").clone();
    assert!(form.is_empty(), "{form:?}");
    let shown = screen(&rig, PLAIN);
    for last in ["last 67.2 °F", "last 58 %", "last 65.8 °F"] {
        assert!(shown.contains(last), "{shown}");
    }
    pedal(&mut rig, "70>>>");
    let reading = last_reading(&rig);
    assert!(near(reading.air_c, 38.0 / 1.8));
    assert_eq!((reading.humidity_pct, reading.surface_c), (None, None));
}

#[test]
fn page_up_goes_back_a_field_and_typing_replaces_what_was_accepted() {
    let mut rig = asks_for_air(ShopUnits::Metric);
    let before = rig.written.len();
    pedal(&mut rig, ">194>58");
    rig.press(Pressed::PageUp);
    assert_eq!(rig.scene().form.map(|form| form.focus), Some(0));
    pedal(&mut rig, "201>");
    assert_eq!((field(&rig, 0).text, field(&rig, 1).text), ("201".into(), "58".into()));
    assert_eq!(rig.written.len(), before, "PageUp takes nothing back in a form");
    // cleared by one key, mended by another
    rig.press(Pressed::Delete);
    assert_eq!(field(&rig, 1).text, "");
    pedal(&mut rig, "5>");
    rig.press(Pressed::PageUp).press(Pressed::Left);
    pedal(&mut rig, "9");
    assert_eq!(field(&rig, 1).text, "59");
    rig.press(Pressed::Backspace);
    assert_eq!(field(&rig, 1).text, "5");
}

#[test]
fn figures_that_cannot_stand_together_are_refused_where_they_are_typed() {
    let mut rig = asks_for_air(ShopUnits::Metric);
    pedal(&mut rig, ">>58>");
    let error = field(&rig, 1).error.expect("humidity alone");
    assert!(error.contains("'58'") && error.contains("together with the air"), "{error}");
    rig.press(Pressed::PageUp);
    pedal(&mut rig, "194>>188");
    rig.press(Pressed::Down);
    pedal(&mut rig, "18>");
    let error = field(&rig, 3).error.expect("warmest under coldest");
    assert!(error.contains("'18'") && error.contains("no colder"), "{error}");
    assert!(rig.scene().form.is_some() && rig.written.iter().all(|entry| entry.n < 1_000));
    rig.press(Pressed::Esc);
    assert!(!matches!(rig.last_events(), [Event::Reading(_), ..]));
}

#[test]
fn a_refusal_says_what_was_typed_and_the_bounds_in_the_shop_s_units() {
    let mut rig = asks_for_air(ShopUnits::Us);
    rig.space().enter("200F");
    let error = field(&rig, 0).error.expect("too hot");
    assert_eq!(error, "'200F' was given; accepted: 14 °F to 140 °F");
    rig.enter("warm");
    let error = field(&rig, 0).error.expect("no number");
    assert!(error.contains("'warm'") && error.contains("67.2"), "{error}");
    let mut rig = asks_for_air(ShopUnits::Metric);
    rig.space().enter("93");
    let error = field(&rig, 0).error.expect("too hot");
    assert_eq!(error, "'93' was given; accepted: -10 °C to 60 °C");
}

#[test]
fn a_small_form_checks_a_range_on_leaving_the_field() {
    let mut rig = at_the_bench();
    rig.key('m').pass(1.1).enter("999999 L");
    let form = rig.scene().form.expect("the form");
    assert_eq!(form.focus, 0);
    let error = form.fields[0].error.clone().expect("too much");
    assert!(error.starts_with("'999999 L'") && error.contains("100 L"), "{error}");
}

#[test]
fn hints_are_in_the_shop_s_units_and_made_from_the_figure_asked_for() {
    let mut rig = at_the_bench();
    rig.press(Pressed::Enter);
    assert_eq!(
        field(&rig, 0).hint,
        "empty: 208.7 g; with + before it: this pour alone",
        "what is wanted, and no other figure beside it"
    );
    let mut rig = Rig::with(|work| work.shop.units = ShopUnits::Us);
    let mut hints = Vec::new();
    for keys in ["a", "g", "2m", "l", "2e", "2o1", "2y", "v", "n", "t"] {
        rig.pass(2.0);
        for key in keys.chars() {
            rig.pass(1.1).key(key);
        }
        if let Some(form) = rig.scene().form {
            hints.extend(form.fields.iter().map(|field| field.hint.clone()));
        }
        rig.press(Pressed::Esc).press(Pressed::Esc);
    }
    assert!(hints.len() > 25, "{hints:?}");
    for hint in hints {
        for metric in ["mL", "°C", "µm", "kPa", "m²", "0g", "1g", " L"] {
            assert!(!hint.contains(metric), "{hint}");
        }
    }
}

#[test]
fn the_next_pour_opens_however_soon_enter_comes_and_its_digits_are_no_screen_keys() {
    let mut rig = at_the_bench();
    rig.press(Pressed::Enter);
    for c in "209".chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.press(Pressed::Enter).press(Pressed::Enter);
    assert!(rig.scene().form.is_some(), "within the second of the last Enter");
    rig.key('2').key('5').key('1');
    assert_eq!(field(&rig, 0).text, "251");
}

#[test]
fn enter_held_down_pours_once() {
    let mut rig = at_the_bench();
    rig.press_only(Pressed::Enter);
    rig.pass(0.5);
    for _ in 0..100 {
        rig.press_only(Pressed::Enter);
        rig.pass(0.033);
    }
    let poured = |event: &Event| matches!(event, Event::Poured { .. } | Event::PotMixed { .. });
    let pours = rig.written.iter().flat_map(|entry| &entry.events).filter(|it| poured(it));
    assert_eq!(pours.count(), 1);
}

#[test]
fn a_pedal_that_bounces_on_the_last_field_does_nothing_more() {
    let mut rig = asks_for_air(ShopUnits::Metric);
    pedal(&mut rig, ">194>58>188>");
    let written = rig.written.len();
    pedal(&mut rig, ">");
    assert_eq!(rig.written.len(), written, "a repeat within a second counts once");
    // the bench first, and there the pour
    rig.pass(1.0);
    pedal(&mut rig, ">");
    rig.pass(1.1);
    pedal(&mut rig, ">");
    assert_eq!(rig.written.len(), written + 1);
}

#[test]
fn a_paste_with_lines_stays_in_its_field() {
    let mut rig = asks_for_air(ShopUnits::Metric);
    let paste = |rig: &mut Rig, text: &str| {
        let now = Now { t: rig.t, hand_ms: rig.hand_ms, times: &Wall };
        assert_eq!(rig.desk.paste(text, &now), Vec::new());
    };
    let before = rig.written.len();
    paste(&mut rig, "q\nq\n8\n8\n");
    assert!(rig.scene().form.is_none() && !rig.left, "outside a form it is no keys");
    rig.key('a');
    paste(&mut rig, "19.4\r\n58\n18.8\n");
    let form = rig.scene().form.expect("the form");
    assert_eq!((form.focus, form.fields[0].text.as_str()), (0, "19.4 58 18.8"));
    assert_eq!(rig.written.len(), before);
    rig.press(Pressed::Enter);
    assert!(near(last_reading(&rig).surface_c, 18.8));
}
