//! Readings: before a pot and a round, never within one; what lies outside is read again.

use boothside_core::board::{Next, ReadWhy, Stop};
use boothside_core::session::command::Command;
use boothside_core::session::event::{Reading, Reason};
use boothside_core::session::standing::{OutOfLimits, PotWhy};
use boothside_core::session::time::Moment;
use serde_json::json;

use super::{begins, by_eye, fit, ready};
use crate::bench::{Bench, begin, min, on};
use crate::jobs::{plain, sheet};

fn read(bench: &mut Bench, air_c: f64, humidity_pct: f64, surface_c: f64) {
    bench.tell(Command::Read(Reading {
        air_c: Some(air_c),
        humidity_pct: Some(humidity_pct),
        surface_c: Some(surface_c),
        ..Reading::default()
    }));
}

fn past(bench: &mut Bench, hold: &str) {
    bench.tell(Command::GoPast { hold: hold.into(), reason: Reason::OwnDecision });
}

#[test]
fn a_part_too_cold_wants_another_reading_and_no_pot() {
    let limits = json!({ "limits": { "min_c": 15 } });
    let mut bench = Bench::new(plain(sheet(limits), 1, 1));
    bench.tell(Command::SomeoneKnows);
    assert_eq!(bench.board().next, Next::Reading { why: ReadWhy::Missing });
    read(&mut bench, 18.0, 40.0, 12.0);
    let cold = OutOfLimits::TooCold { limit_c: 15.0, read_c: 12.0 };
    assert_eq!(bench.board().next, Next::Reading { why: ReadWhy::Unfit(cold) });
    let mut gone_past = bench.clone();
    past(&mut gone_past, "air-cold 1");
    assert!(gone_past.wants_a_pot());
    bench.pass(5.0);
    read(&mut bench, 18.0, 40.0, 16.0);
    assert!(bench.wants_a_pot());
}

/// 20 °C, 60 %: the dew point is 12.0 °C.
#[test]
fn condensing_water_comes_before_looks_for_wet_film_deceives_the_eye() {
    let mut bench = ready(by_eye(10), 2, 2);
    bench.coat("panel-a", 0.0, 1.0);
    bench.at(11.0);
    assert_eq!(bench.board().next, Next::Dulled { face: 0 });
    read(&mut bench, 20.0, 60.0, 11.0);
    let board = bench.board();
    assert_eq!(board.next, Next::Reading { why: ReadWhy::Condensing });
    assert_eq!(board.stop, Some(Stop::Condensing { read: min(11.0) }));
    bench.pass(1.0).tell(Command::Read(fit()));
    assert_eq!((bench.board().next, bench.board().stop), (Next::Dulled { face: 0 }, None));
}

/// 18 °C, 62 %: dew point 10.61 °C, so that 3 K of margin are a surface of 13.61 °C. From 15.5 to
/// 14.0 °C in half an hour it is there 7.8 min later; a coat takes 5 min and 20 to dull.
#[test]
fn a_margin_that_goes_before_the_coat_has_dulled_holds_pot_and_coat_until_it_is_read_again() {
    let mut bench = Bench::new(plain(sheet(json!({})), 2, 1));
    bench.tell(Command::SomeoneKnows);
    bench.tell(crate::bench::mix());
    read(&mut bench, 18.0, 62.0, 15.5);
    bench.at(30.0);
    read(&mut bench, 18.0, 62.0, 14.0);
    let Next::Reading { why: ReadWhy::Trend { gone, wet } } = bench.board().next else {
        panic!("{:?}", bench.board().next)
    };
    assert!((gone.since(min(30.0)).seconds() / 60.0 - 7.8).abs() < 0.4, "{gone:?}");
    assert!((wet.seconds() / 60.0 - 25.0).abs() < 1e-9, "{wet:?}");
    let held = bench.try_tell(&begin("panel-a"), None).expect_err("held").to_string();
    assert!(held.contains("dew-trend 1"), "{held}");
    // that time passes and nobody reads: it is no better
    assert!(matches!(bench.at(45.0).board().next, Next::Reading { why: ReadWhy::Trend { .. } }));
    past(&mut bench, "dew-trend 1");
    assert_eq!(bench.board().next, begins(0, 1));
}

#[test]
fn an_old_reading_is_taken_anew_in_a_long_flash_and_before_a_pot_but_not_within_a_round() {
    let gap = json!({ "between_coats": { "earliest": { "duration_s": 5400 }, "by": "clock" } });
    let mut bench = ready(gap, 2, 2);
    bench.coat("panel-a", 50.0, 55.0);
    assert_eq!(bench.at(70.0).board().next, begins(1, 1), "the round is in hand");
    bench.tell(begin("panel-b"));
    bench.at(75.0).tell(on("panel-b"));
    // 70 min to the next face, and nothing else to do
    assert_eq!(bench.board().next, Next::Reading { why: ReadWhy::Old });
    bench.tell(Command::Read(fit()));
    let Next::Wait { until, .. } = bench.board().next else { panic!("{:?}", bench.board().next) };
    assert_eq!(until.and_then(|until| until.moment()), Some(min(145.0)));
    bench.at(136.0).tell(Command::EmptyPot { pot: "A".into() });
    assert_eq!(bench.board().next, Next::Reading { why: ReadWhy::Old });
    bench.space();
    assert_eq!(bench.board().next, Next::MixPot { layer: 1, amount_ml: None, why: PotWhy::None });
}

#[test]
fn a_new_sitting_that_finds_a_film_reads_first_of_all() {
    let mut bench = ready(json!({}), 1, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.now = Moment::OPENING.plus(boothside_core::session::time::Span::from_hours(20));
    assert_eq!(bench.space(), Next::Reading { why: ReadWhy::Old });
    assert_eq!(bench.board().next, Next::SomeoneKnows, "and then what is asked once a sitting");
}
