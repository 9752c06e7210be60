//! The whole example by PageDown, PageUp and digits alone, as with a foot pedal and a gloved hand: what is
//! pressed follows from what the screen asks, not from a list.

use boothside::forms::{FieldName, MixField};
use boothside::update::desk::Pressed;
use boothside_core::board::Next;
use boothside_core::session::event::Event;

use crate::rig::Rig;

/// Presses a key; only those of a pedal and digits are known here.
fn press(rig: &mut Rig, key: Pressed) {
    let known = matches!(key, Pressed::PageDown | Pressed::PageUp)
        || matches!(key, Pressed::Char(c) if c.is_ascii_digit());
    assert!(known, "{key:?} is on no pedal");
    rig.press(key);
}

/// The digits for a field; nothing where it may stay empty.
const fn digits(name: FieldName) -> &'static str {
    match name {
        FieldName::Air => "194",
        FieldName::Humidity => "58",
        FieldName::Surface => "188",
        FieldName::Number => "14",
        FieldName::Mix(MixField::Seconds) => "46",
        _ => "",
    }
}

fn answer_field(rig: &mut Rig) {
    let Some(form) = rig.scene().form else { return };
    let name = form.fields.get(form.focus).map(|field| field.name);
    for digit in name.map_or("", digits).chars() {
        press(rig, Pressed::Char(digit));
    }
    press(rig, Pressed::PageDown);
}

/// One press, or the wait, that the screen asks for.
fn step(rig: &mut Rig) {
    let scene = rig.scene();
    assert!(scene.picker.is_none(), "a list opened by itself");
    if scene.form.is_some() {
        return answer_field(rig);
    }
    if scene.asking.is_some() {
        return press(rig, Pressed::Char('1'));
    }
    match rig.desk.board().next.clone() {
        Next::Wait { until, what } => {
            let until = until.and_then(|until| until.moment());
            rig.leap_to(until.unwrap_or_else(|| panic!("{what:?} never comes")));
        }
        next => {
            let sprays = matches!(next, Next::CoatOn { .. });
            rig.pass(if sprays { 120.0 } else { 1.0 });
            press(rig, Pressed::PageDown);
        }
    }
}

#[test]
fn the_whole_example_is_played_with_a_pedal_and_digits() {
    let mut rig = Rig::example();
    let mut taken_back = false;
    for _ in 0..2_000 {
        if rig.desk.board().next == Next::Over {
            break;
        }
        let begun = matches!(rig.last_events(), [Event::FaceBegun { .. }]);
        if begun && !taken_back {
            // begun by mistake: PageUp takes it back, and it is asked again
            rig.pass(1.0);
            press(&mut rig, Pressed::PageUp);
            assert!(matches!(rig.last_events(), [Event::Struck { .. }]));
            taken_back = true;
        }
        step(&mut rig);
    }
    assert!(taken_back, "a face was begun");
    assert_eq!(rig.desk.board().next, Next::Over);
    for face in &rig.desk.session().state().faces {
        assert_eq!((face.coats_on(1), face.coats_on(2)), (2, 3));
    }
    let readings = rig.desk.session().state().readings.clone();
    assert!(!readings.is_empty());
    for taken in readings {
        assert!(taken.reading.air_c.is_some_and(|c| (c - 19.4).abs() < 1e-9), "{taken:?}");
    }
}
