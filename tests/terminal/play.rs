//! The example from prep to close by keys through the real update function, with whole screens at
//! fixed moments. `INSTA_UPDATE=always` rewrites them: read the difference.

use boothside::update::desk::Pressed;
use boothside::view;
use boothside::view::theme::Theme;
use boothside_core::board::{Next, Stage, Waited};
use boothside_core::session::time::Span;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use crate::rig::Rig;

const SIZES: [(u16, u16); 2] = [(80, 24), (100, 30)];

pub(crate) fn screen(rig: &Rig, (columns, rows): (u16, u16)) -> String {
    let mut page = Terminal::new(TestBackend::new(columns, rows)).expect("a page");
    let scene = rig.scene();
    let theme = Theme::new(true);
    page.draw(|frame| view::draw(frame, &scene, &theme)).expect("drawn");
    let buffer = page.backend().buffer().clone();
    let line = |y| -> String {
        let cells = (0..columns).map(|x| buffer[(x, y)].symbol().to_owned());
        cells.collect::<String>().trim_end().to_owned()
    };
    (0..rows).map(line).collect::<Vec<_>>().join("\n")
}

pub(crate) fn compare(rig: &Rig, moment: &str) {
    for size in SIZES {
        insta::assert_snapshot!(format!("{moment}_{}x{}", size.0, size.1), screen(rig, size));
    }
}

/// Plays on by the next action until `stop`, as a painter would who sprays a face in two minutes.
pub(crate) fn on_until(rig: &mut Rig, what: &str, stop: impl Fn(&Rig) -> bool) {
    for _ in 0..500 {
        if stop(rig) {
            return;
        }
        match rig.desk.board().next.clone() {
            Next::Wait { until, what } => {
                let until = until.and_then(|until| until.moment());
                rig.leap_to(until.unwrap_or_else(|| panic!("{what:?} never comes")));
            }
            Next::Reading { .. } => {
                rig.space();
                for text in ["19.4C", "58", "18.8C"] {
                    rig.enter(text);
                }
                rig.pass(0.6);
            }
            Next::CoatOn { .. } => {
                rig.pass(120.0).space();
            }
            Next::CountMasks { .. } => {
                rig.space().enter("14");
                while rig.scene().form.is_some() {
                    rig.press(Pressed::Enter);
                }
            }
            Next::Close => {
                rig.space().key('1');
            }
            _ => {
                rig.space();
            }
        }
    }
    panic!("never came: {what}, but {:?}", rig.desk.board().next);
}

#[test]
fn the_example_from_prep_to_close() {
    let mut rig = Rig::example();
    compare(&rig, "01_prep");
    rig.space().pass(6.0);
    compare(&rig, "02_drying");
    on_until(&mut rig, "checks", |rig| matches!(rig.desk.board().next, Next::Check { .. }));
    rig.pass(31.0);
    compare(&rig, "03_ready");
    on_until(&mut rig, "a reading", |rig| matches!(rig.desk.board().next, Next::Reading { .. }));
    rig.space().enter("19.4C").enter("-3");
    compare(&rig, "04_reading_refused");
    // typing begins what was refused anew
    for text in ["58", "18.8C"] {
        rig.enter(text);
    }
    on_until(&mut rig, "a mix", |rig| {
        matches!(rig.desk.board().next, Next::MixPot { .. } | Next::Pour { .. })
    });
    rig.pass(31.0);
    compare(&rig, "05_mix");
    on_until(&mut rig, "a stand", |rig| {
        let next = &rig.desk.board().next;
        matches!(next, Next::Wait { what: Waited::Stand { .. } | Waited::AfterStep { .. }, .. })
            && !rig.desk.board().pots.is_empty()
    });
    rig.pass(31.0);
    compare(&rig, "06_stand");
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig.pass(31.0);
    compare(&rig, "07_begin");
    spray_to_close(&mut rig);
    let state = rig.desk.session().state();
    for face in &state.faces {
        assert_eq!((face.coats_on(1), face.coats_on(2)), (2, 3));
    }
    assert!(rig.written.iter().enumerate().all(|(at, entry)| entry.n == at as u64 + 1));
}

fn spray_to_close(rig: &mut Rig) {
    rig.space().pass(70.0);
    rig.press(Pressed::Esc);
    compare(rig, "08_on_the_gun");
    rig.space();
    compare(rig, "09_said");
    rig.pass(6.0);
    on_until(rig, "a flash", |rig| {
        matches!(rig.desk.board().next, Next::Wait { what: Waited::Look { .. }, .. })
    });
    rig.pass(31.0);
    compare(rig, "10_flash");
    rig.pass(40.0);
    compare(rig, "11_glance");
    on_until(rig, "a look", |rig| matches!(rig.desk.board().next, Next::Dulled { .. }));
    rig.pass(31.0);
    rig.press(Pressed::Esc);
    compare(rig, "12_look");
    on_until(rig, "the gap", |rig| {
        matches!(rig.desk.board().stage, Stage::Gap { .. })
            && matches!(rig.desk.board().next, Next::Wait { .. })
    });
    rig.pass(31.0);
    rig.press(Pressed::Esc);
    compare(rig, "13_gap");
    on_until(rig, "the colour", |rig| rig.desk.board().stage == Stage::Coat { layer: 2, coat: 2 });
    rig.pass(31.0);
    rig.press(Pressed::Esc);
    compare(rig, "14_colour");
    on_until(rig, "the cure", |rig| {
        rig.desk.board().stage == Stage::Cure && !rig.desk.board().next.is_action()
    });
    rig.pass(31.0);
    rig.press(Pressed::Esc);
    compare(rig, "15_cure");
    on_until(rig, "the end", |rig| rig.desk.board().next == Next::Over);
    rig.pass(31.0);
    rig.press(Pressed::Esc);
    compare(rig, "16_closed");
}

#[test]
fn every_window_state_is_drawn() {
    let mut rig = Rig::example();
    on_until(&mut rig, "the gap", |rig| {
        matches!(rig.desk.board().stage, Stage::Gap { .. })
            && matches!(rig.desk.board().next, Next::Wait { .. })
    });
    let face = rig.desk.board().faces[0].at.clone();
    let moment = |due: Option<boothside_core::session::clocks::Due>| {
        due.and_then(|due| due.moment()).expect("the sheet gives it")
    };
    let hour = Span::from_hours(1);
    let moments = [
        ("20_open", moment(face.opens).plus(hour)),
        ("21_closing", moment(face.open_until).minus(Span::from_minutes(5))),
        ("22_wipe", moment(face.open_until).plus(hour)),
        ("23_sand", moment(face.wipe_until).plus(hour)),
    ];
    for (name, moment) in moments {
        rig.leap_to(moment);
        rig.press(Pressed::Esc);
        compare(&rig, name);
    }
}
