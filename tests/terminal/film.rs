//! The film screen and its forms, by keys.

use boothside::update::desk::Pressed;
use boothside::update::scene::Screen;
use boothside_core::board::Next;
use boothside_core::session::event::Event;
use boothside_core::session::film::{Weighing, WetFilm};
use boothside_core::session::time::Span;

use crate::faults::{faces_on, first_coat};
use crate::play::{compare, on_until, screen};
use crate::rig::Rig;

fn wet(wet_um: f64, dry_tooth_um: Option<f64>) -> WetFilm {
    WetFilm { wet_um, dry_tooth_um }
}

#[test]
fn f_reads_the_comb_of_the_coat_just_sprayed() {
    let mut rig = faces_on(2);
    rig.key('f');
    rig.enter("75-");
    assert!(rig.scene().form.is_some(), "a comb without its dry tooth is no reading");
    rig.press(Pressed::Enter);
    assert!(screen(&rig, (80, 24)).contains("75-"), "what was typed stays");
    compare(&rig, "film_01_refused");
    for _ in 0..3 {
        rig.press(Pressed::Backspace);
    }
    rig.enter("25-50 40").enter("");
    let face = rig.desk.session().plan().faces()[1].id.clone();
    let wet = vec![wet(25.0, Some(50.0)), wet(40.0, None)];
    assert_eq!(rig.last_events(), [Event::FilmRead { face, layer: 1, coat: 1, wet }]);
    assert_eq!(rig.scene().screen, Screen::Clocks, "the clocks stay in sight");
    rig.key('u');
    assert!(matches!(rig.last_events(), [Event::Struck { .. }]));
}

#[test]
fn before_any_coat_there_is_no_film_to_read() {
    let mut rig = first_coat();
    let before = rig.written.len();
    rig.key('f');
    assert!(rig.scene().form.is_none());
    assert!(screen(&rig, (80, 24)).contains("no coat is on that face"));
    rig.key('5');
    compare(&rig, "film_02_bare");
    assert_eq!(rig.written.len(), before);
}

#[test]
fn the_film_screen_shows_what_is_there_against_what_is_wanted() {
    let mut rig = faces_on(3);
    rig.key('5');
    // the first arrow chooses the face just sprayed
    for (ups, text) in [(0, "75-100"), (2, "25"), (1, "30-32")] {
        for _ in 0..ups {
            rig.press(Pressed::Up);
        }
        rig.pass(2.0).key('f').enter(text).enter("");
    }
    assert_eq!(rig.scene().screen, Screen::Film, "arrows and forms stay on the screen");
    rig.pass(2.0).press(Pressed::Enter).key('3');
    for text in ["612.0", "148.2", "320.5", "", "1", ""] {
        rig.enter(text);
    }
    let weighing = Weighing { gross_g: 612.0, tare_g: 148.2, left_g: 320.5, wash_g: 0.0 };
    assert_eq!(
        rig.last_events(),
        [Event::PotAccounted { pot: "A".into(), coat: Some(1), weighing }]
    );
    rig.pass(6.0);
    let shown = screen(&rig, (80, 24));
    assert!(shown.contains("balance check, which this is not"), "{shown}");
    compare(&rig, "film_03_read");
    rig.pass(2.0).press(Pressed::Enter).key('2');
    rig.enter("14 16 15").enter("").enter("");
    assert!(matches!(rig.last_events(), [Event::DryFilmRead { .. }]));
    rig.pass(6.0);
    compare(&rig, "film_04_gauge");
    rig.space();
    assert_eq!(rig.scene().screen, Screen::Clocks, "SPACE goes back to the work");
    let layer_on =
        |rig: &Rig| rig.desk.session().state().faces.iter().all(|it| it.coats_on(1) == 2);
    on_until(&mut rig, "the layer on", layer_on);
    rig.pass(1.0).key('5').press(Pressed::Up).press(Pressed::Enter).key('2');
    rig.enter("14 26 38").enter("").enter("");
    rig.pass(6.0);
    compare(&rig, "film_05_layer_on");
}

#[test]
fn more_out_of_the_pot_than_was_in_it_is_said_beside_its_field() {
    let mut rig = faces_on(1);
    let before = rig.written.len();
    rig.key('5').press(Pressed::Enter).key('3');
    for text in ["300", "148.2", "320.5", "", "", ""] {
        rig.enter(text);
    }
    let form = rig.scene().form.expect("the form stays");
    let field = &form.fields[form.focus];
    assert_eq!(field.label, "left");
    assert!(field.error.as_ref().expect("why").contains("gross"));
    assert_eq!(rig.written.len(), before);
}

#[test]
fn a_look_stays_in_sight_on_the_film_screen() {
    let mut rig = faces_on(8);
    let Next::Wait { until: Some(until), .. } = rig.desk.board().next.clone() else { panic!() };
    rig.key('5');
    rig.leap_to(until.moment().expect("it dulls").plus(Span::from_seconds(1.0)));
    let shown = screen(&rig, (80, 24));
    assert!(shown.contains("LOOK"), "{shown}");
}
