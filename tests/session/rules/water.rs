//! Water that condenses on the part: nothing is mixed or begun by SPACE.

use boothside_core::board::{Next, ReadWhy, Stage, Waited};
use boothside_core::session::command::Command;
use boothside_core::session::event::{Reading, Reason};
use boothside_core::session::standing::OutOfLimits;
use serde_json::json;

use crate::bench::{Bench, begin_past, min, on};
use crate::jobs::{plain, sheet};

const READ: Next = Next::Reading { why: ReadWhy::Condensing };

/// 20 °C, 60 %: the dew point is 12.0 °C (Magnus, as in tests/published).
fn read(bench: &mut Bench, surface_c: f64) {
    let surface_c = Some(surface_c);
    let (air_c, humidity_pct) = (Some(20.0), Some(60.0));
    bench.tell(Command::Read(Reading { air_c, humidity_pct, surface_c, ..Reading::default() }));
}

fn panels() -> Bench {
    let mut bench = Bench::new(plain(sheet(json!({})), 2, 1));
    bench.tell(Command::SomeoneKnows);
    bench
}

#[test]
fn no_pot_is_mixed_on_a_wet_part_until_a_reading_clears_it() {
    let mut bench = panels();
    read(&mut bench, 11.0);
    let board = bench.board();
    assert_eq!(board.next, READ);
    assert_eq!(board.stage, Stage::Ready { layer: 1 });
    let hero = board.hero.expect("it calls");
    assert!(hero.due && hero.what == Waited::Condensing);
    bench.at(60.0);
    assert_eq!(bench.board().next, READ);
    assert_eq!(bench.board().hero.expect("it calls").what, Waited::Condensing);
    read(&mut bench, 14.0);
    let near = matches!(
        bench.board().next,
        Next::Reading { why: ReadWhy::Unfit(OutOfLimits::NearDewPoint { .. }) }
    );
    assert!(near, "2 over it: too near, not condensing");
    assert_eq!(bench.board().hero, None);
}

#[test]
fn no_coat_is_begun_on_a_wet_part_unless_the_painter_goes_past_it() {
    let mut bench = panels();
    read(&mut bench, 18.0);
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert!(matches!(bench.board().next, Next::BeginCoat { .. }));
    bench.at(5.0);
    read(&mut bench, 10.0);
    assert_eq!(bench.board().next, READ);
    let reason = Reason::OwnDecision;
    bench.tell(Command::GoPast { hold: "dew-margin 1".into(), reason });
    assert!(matches!(bench.board().next, Next::BeginCoat { .. }));
    // a new reading asks anew
    bench.at(6.0);
    read(&mut bench, 10.0);
    assert_eq!(bench.board().next, READ);
}

#[test]
fn a_face_on_the_gun_goes_on_and_a_pot_past_its_last_trigger_comes_first() {
    let mut job = plain(sheet(json!({})), 2, 1);
    let life = json!({ "life": { "duration_s": 3600 }, "cleaning_reserve_s": 600 });
    job.sheets.get_mut("one").expect("it").pot_life = serde_json::from_value(life).expect("a life");
    let mut bench = Bench::new(job);
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    bench.tell(begin_past("panel-a"));
    bench.at(1.0);
    read(&mut bench, 10.0);
    assert!(matches!(bench.board().next, Next::CoatOn { .. }));
    bench.tell(on("panel-a"));
    assert_eq!(bench.board().next, READ);
    bench.now = min(50.0);
    assert!(matches!(bench.board().next, Next::CleanGun { .. }));
}
