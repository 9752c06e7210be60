//! Readings: what they bend, what they never take back, and the dew point.

use boothside_core::board::{Next, OutOfLimits};
use boothside_core::material::timing::Timing;
use boothside_core::physics::rate::Rules;
use boothside_core::session::clocks::{By, DueAt, Dues, Kind, Start};
use boothside_core::session::command::Command;
use boothside_core::session::event::Reading;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Readings, Refusal, Taken};
use serde_json::{Value, json};

use super::{minutes, same};
use crate::bench::{Bench, begin, min, mix};
use crate::jobs::{doubling, plain, sheet};

fn timing(fields: Value) -> Timing {
    serde_json::from_value(fields).expect("a timing")
}

/// Readings entered as they were taken: (minute, °C).
fn taken(list: &[(f64, f64)]) -> Readings {
    let reading = |celsius| Reading { air_c: Some(celsius), ..Reading::default() };
    list.iter()
        .map(|(at, celsius)| Taken { at: min(*at), known: min(*at), reading: reading(*celsius) })
        .collect()
}

fn by(readings: &Readings) -> By<'_> {
    By::new(readings, Rules::NOW)
}

/// Minutes after which the clock is due, started at the opening.
fn due_min(timing: &Timing, kind: Kind, readings: &Readings) -> f64 {
    let due = by(readings).due(timing, kind, Moment::OPENING.into(), 1.0);
    due.moment().expect("a moment").seconds() / 60.0
}

/// 15 min at 1.5 times the stated speed, then at half of it: `max(start + D, integral)` for a
/// minimum, `min(start + D, integral)` for a maximum. Reckoned by hand.
#[test]
fn edges_keep_to_the_safe_side() {
    let warm = 20.0 + 10.0 * 1.5f64.log2();
    let air = taken(&[(0.0, warm), (15.0, warm), (15.0, 10.0)]);
    let of = |duration_min: f64, kind| due_min(&timing(doubling(duration_min * 60.0)), kind, &air);
    // 20 min of clock are over in 13 min 20 s, before the air turns
    assert!(same(of(20.0, Kind::Eye), 40.0 / 3.0));
    assert!(same(of(20.0, Kind::Minimum), 20.0));
    assert!(same(of(20.0, Kind::Maximum), 40.0 / 3.0));
    // of 30 min the first 15 give 22.5, the rest takes 15 at half speed
    assert!(same(of(30.0, Kind::Eye), 30.0));
    assert!(same(of(30.0, Kind::Minimum), 30.0));
    assert!(same(of(30.0, Kind::Maximum), 30.0));
    // of 40 min 17.5 are left: 35 min at half speed, and a maximum keeps the sheet's word
    assert!(same(of(40.0, Kind::Minimum), 50.0));
    assert!(same(of(40.0, Kind::Maximum), 40.0));
}

/// `tests/published/data/arrhenius_histories.csv` (scipy 1.17.1): 20 °C to 2 h, 10 °C to 6 h, then
/// 30 °C; and 8 to 24 °C over 8 h: 8 h stated at 20 °C.
#[test]
fn a_session_clock_is_due_as_the_integral_says() {
    let energy = |e: f64| json!({ "duration_s": 28800, "at_c": 20, "law": "warmth", "energy_kj_per_mol": e });
    let step = [(0.0, 20.0), (120.0, 20.0), (120.0, 10.0), (360.0, 10.0), (360.0, 30.0)];
    let ramp = [(0.0, 8.0), (480.0, 24.0)];
    let cases = [
        (energy(60.0), &step[..], 7.919_300_349_79),
        (doubling(28800.0), &step[..], 8.0),
        (energy(60.0), &ramp[..], 9.354_514_733_33),
        (doubling(28800.0), &ramp[..], 9.228_950_460_7),
    ];
    for (fields, air, hours) in cases {
        let got = due_min(&timing(fields.clone()), Kind::Eye, &taken(air)) * 60.0;
        assert!((got - hours * 3600.0).abs() < 0.5, "{fields}: {got} s");
    }
}

/// Air that falls by 3 °C an hour from 24 °C, read every half hour: up to the last reading
/// `∫ 2^((T − 20)/10) dt` in closed form, from it on at its own speed.
#[test]
fn falling_air_slows_a_clock_down() {
    let air: Vec<(f64, f64)> =
        (0..6).map(|half_hour| f64::from(half_hour) * 30.0).map(|t| (t, 24.0 - 0.05 * t)).collect();
    let (start, k) = (2f64.powf(0.4), -0.05 * std::f64::consts::LN_2 / 10.0);
    let gained = start * ((k * 150.0).exp() - 1.0) / k;
    let speed = 2f64.powf((24.0 - 7.5 - 20.0) / 10.0);
    let got = due_min(&timing(doubling(12_000.0)), Kind::Eye, &taken(&air));
    assert!(same(got, 150.0 + (200.0 - gained) / speed), "{got}");
    assert!(got > 200.0 / start, "slower than the first reading promised");
}

#[test]
fn below_the_floor_a_minimum_never_comes() {
    let mut cold = doubling(3600.0);
    cold["floor_c"] = json!(10);
    let clock = timing(cold);
    let air = taken(&[(0.0, 9.0)]);
    let never = by(&air).due(&clock, Kind::Minimum, Moment::OPENING.into(), 1.0).at;
    assert!(matches!(never, DueAt::Never(_)));
    assert!(same(due_min(&clock, Kind::Maximum, &air), 60.0), "a maximum keeps its word");
    let at_the_floor =
        by(&taken(&[(0.0, 10.0)])).due(&clock, Kind::Minimum, Moment::OPENING.into(), 1.0);
    assert!(same(at_the_floor.moment().expect("it runs").seconds() / 60.0, 120.0));
}

#[test]
fn minima_follow_the_coldest_surface_and_maxima_the_warmest() {
    let clock = timing(doubling(3600.0));
    let reading = Reading {
        air_c: Some(20.0),
        surface_c: Some(10.0),
        surface_warmest_c: Some(30.0),
        ..Reading::default()
    };
    let taken = Taken { at: Moment::OPENING, known: Moment::OPENING, reading };
    let air = Readings::from_iter([taken]);
    assert!(same(due_min(&clock, Kind::Minimum, &air), 120.0));
    assert!(same(due_min(&clock, Kind::Maximum, &air), 30.0));
    assert!(same(due_min(&clock, Kind::PotLife, &air), 60.0));
}

#[test]
fn a_surface_that_is_read_sometimes_is_carried_as_its_difference() {
    let clock = timing(doubling(7200.0));
    let air = taken(&[(0.0, 20.0), (60.0, 20.0), (60.0, 30.0)]);
    let surface = |at: usize| (at == 0).then_some(10.0);
    let air: Readings = air
        .into_iter()
        .enumerate()
        .map(|(at, taken)| {
            let reading = Reading { surface_c: surface(at), ..taken.reading };
            Taken { reading, ..taken }
        })
        .collect();
    // half speed for 60 min gives 30; then the surface is 20 °C: 90 min more
    assert!(same(due_min(&clock, Kind::Minimum, &air), 150.0));
}

fn flashing(gap: Value) -> Bench {
    let mut bench = Bench::new(plain(sheet(json!({ "between_coats": gap })), 1, 2));
    bench.read(20.0, 50.0);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 0.0);
    bench
}

fn by_eye() -> Bench {
    flashing(json!({ "earliest": doubling(1200.0), "by": "eye" }))
}

#[test]
fn a_reading_bends_a_clock_that_runs() {
    let mut bench = by_eye();
    assert!(same(minutes(bench.face(0).look), 20.0));
    bench.at(10.0).read(10.0, 50.0);
    // linear from 20 to 10 °C these 10 min gave (1 − 1/2)/ln 2 × 10; the rest takes twice as long
    let gained = 0.5 / std::f64::consts::LN_2 * 10.0;
    assert!(same(minutes(bench.face(0).look), 10.0 + (20.0 - gained) * 2.0));
    assert!(bench.face(0).recomputed.is_none(), "nothing was announced");
}

#[test]
fn a_look_that_was_announced_is_not_taken_back_and_the_difference_is_told() {
    let mut bench = by_eye();
    bench.at(21.0);
    assert_eq!(bench.face_now(0), FaceNow::Look);
    // taken at minute 5, entered at 21: from 20 to 10 °C within 5 min, then flat
    let cold = Reading { air_c: Some(10.0), ..Reading::default() };
    bench.try_tell(&Command::Read(cold), Some(min(5.0))).expect("a reading");
    let face = bench.face(0);
    assert_eq!(face.now, FaceNow::Look);
    assert!(same(minutes(face.look), 20.0));
    // 5 min give (1 − 1/2)/ln 2 × 5 = 3.607; the other 16.393 take twice as long
    let gained = 0.5 / std::f64::consts::LN_2 * 5.0;
    let later = face.recomputed.and_then(DueAt::moment).expect("a difference");
    assert!(same(later.seconds() / 60.0, 5.0 + (20.0 - gained) * 2.0), "{later:?}");
    // and by any reading after it
    bench.at(22.0).read(10.0, 50.0);
    assert_eq!(bench.face_now(0), FaceNow::Look);
}

#[test]
fn an_open_window_is_not_taken_back_by_a_reading() {
    let mut bench = flashing(json!({ "earliest": doubling(1200.0), "by": "clock" }));
    bench.now = min(20.0);
    assert_eq!(bench.face_now(0), FaceNow::Open);
    bench.pass(0.1).read(10.0, 50.0);
    assert_eq!(bench.face_now(0), FaceNow::Open);
    assert!(bench.face(0).recomputed.is_some());
}

#[test]
fn a_first_humidity_does_not_rewrite_what_its_lack_announced() {
    let law = json!({ "duration_s": 1200, "at_c": 20, "at_pct": 50, "law": "water" });
    let mut bench = Bench::new(plain(
        sheet(json!({ "between_coats": { "earliest": law, "by": "clock" } })),
        1,
        2,
    ));
    let dry = Reading { air_c: Some(20.0), ..Reading::default() };
    bench.tell(Command::Read(dry));
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 0.0);
    assert_eq!(bench.at(20.0).face_now(0), FaceNow::Open, "humidity not known: rate 1");
    bench.at(25.0).read(20.0, 90.0);
    assert_eq!(bench.face_now(0), FaceNow::Open);
    assert!(same(minutes(bench.face(0).opens), 20.0));
}

#[test]
fn a_first_surface_does_not_rewrite_what_the_air_announced() {
    let mut bench = flashing(json!({ "earliest": doubling(1200.0), "by": "clock" }));
    assert_eq!(bench.at(20.0).face_now(0), FaceNow::Open);
    let cold = Reading { air_c: Some(20.0), surface_c: Some(8.0), ..Reading::default() };
    bench.at(25.0).tell(Command::Read(cold));
    assert_eq!(bench.face_now(0), FaceNow::Open);
}

#[test]
fn a_reading_in_the_millisecond_in_which_an_edge_is_shown_is_too_late() {
    // a maximum is shown in the millisecond before its own fraction of one
    for duration_s in [1234.567, 2345.678, 3456.789, 4567.891] {
        let mut bench = flashing(json!({
            "earliest": { "duration_s": 60 }, "by": "clock", "open_until": doubling(duration_s)
        }));
        bench.pass(0.1).read(21.7, 50.0);
        bench.now = bench.face(0).open_until.and_then(|due| due.moment()).expect("it closes");
        assert_eq!(bench.face_now(0), FaceNow::Sand);
        bench.read(-9.0, 50.0);
        assert_eq!(bench.face_now(0), FaceNow::Sand, "{duration_s}");
    }
}

#[test]
fn without_a_reading_clocks_run_as_stated_and_a_stale_one_asks_for_the_next() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 2));
    bench.tell(Command::SomeoneKnows);
    assert!(matches!(bench.board().next, Next::Reading { .. }));
    assert!(bench.board().air.reading.is_none());
    bench.read(20.0, 50.0);
    assert!(matches!(bench.board().next, Next::MixPot { .. }));
    assert!(!bench.at(59.9).board().air.stale);
    assert!(bench.at(60.0).board().air.stale);
    assert!(matches!(bench.board().next, Next::Reading { .. }));
    bench.tell(Command::SkipReading);
    assert!(matches!(bench.board().next, Next::MixPot { .. }));
}

/// An evening's air: 18 °C, 62 %, dew point 10.61 °C; the surface decides, not the room.
#[test]
fn the_dew_point_margin_is_about_the_surface() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    let read = |surface_c| Reading {
        air_c: Some(18.0),
        humidity_pct: Some(62.0),
        surface_c,
        ..Reading::default()
    };
    bench.tell(Command::Read(read(None)));
    let air = bench.board().air;
    assert!((air.dew_point_c.expect("a dew point") - 10.61).abs() < 0.02);
    assert!(!air.margin_of_surface && air.out_of_limits.is_empty());
    for (surface, near) in [(15.5, false), (13.5, true), (10.0, true)] {
        bench.pass(1.0).tell(Command::Read(read(Some(surface))));
        let air = bench.board().air;
        let margin = air.margin_k.expect("a margin");
        assert!(air.margin_of_surface && (margin - (surface - 10.61)).abs() < 0.02);
        let told = air.out_of_limits.iter().any(|out| match out {
            OutOfLimits::NearDewPoint { wanted_k, margin_k } => {
                same(*wanted_k, 3.0) && same(*margin_k, margin)
            }
            _ => false,
        });
        assert_eq!(told, near, "{surface}");
    }
    // on the last, water condenses on the part
    assert!(bench.board().air.margin_k < Some(0.0));
}

#[test]
fn a_reading_outside_the_sheet_is_told_with_the_limit() {
    let limits = json!({ "min_c": 15, "max_c": 30, "max_pct": 70, "dew_margin_c": 5 });
    let mut bench = Bench::new(plain(sheet(json!({ "limits": limits })), 1, 1));
    bench.read(12.0, 80.0);
    let out = bench.board().air.out_of_limits;
    assert_eq!(out.len(), 3, "{out:?}");
    assert!(out.contains(&OutOfLimits::TooCold { limit_c: 15.0, read_c: 12.0 }));
    assert!(out.contains(&OutOfLimits::TooHumid { limit_pct: 70.0, read_pct: 80.0 }));
    bench.pass(1.0).read(31.0, 30.0);
    let out = bench.board().air.out_of_limits;
    assert_eq!(out, [OutOfLimits::TooWarm { limit_c: 30.0, read_c: 31.0 }]);
}

#[test]
fn air_too_dry_for_the_sheet_holds() {
    let limits = json!({ "min_pct": 35, "max_pct": 70 });
    let mut bench = Bench::new(plain(sheet(json!({ "limits": limits })), 1, 1));
    bench.tell(mix());
    bench.read(20.0, 34.0);
    let out = bench.board().air.out_of_limits;
    assert_eq!(out, [OutOfLimits::TooDry { limit_pct: 35.0, read_pct: 34.0 }]);
    let refused = bench.try_tell(&begin("panel-a"), None);
    let Err(Refusal::Held(holds)) = refused else { panic!("{refused:?}") };
    assert_eq!(holds.iter().map(ToString::to_string).collect::<Vec<_>>(), ["air-dry 1"]);
    bench.pass(1.0).read(20.0, 35.0);
    bench.tell(begin("panel-a"));
}

#[test]
fn what_no_instrument_shows_is_refused_with_what_is_accepted() {
    let mut bench = by_eye();
    let mut refused = |reading: Reading| {
        let refusal = bench.try_tell(&Command::Read(reading), None).expect_err("it is refused");
        refusal.to_string()
    };
    let none = Reading::default();
    assert!(refused(none).contains("one figure or more"));
    assert!(refused(Reading { air_c: Some(61.0), ..none }).contains("-10 °C to 60 °C"));
    assert!(refused(Reading { humidity_pct: Some(0.0), ..none }).contains("over 0 %"));
    assert!(refused(Reading { humidity_pct: Some(101.0), ..none }).contains("100 %"));
    assert!(refused(Reading { surface_c: Some(f64::NAN), ..none }).contains("80 °C"));
    let span = Span::from_ms(1);
    let future = bench.try_tell(&Command::SkipReading, Some(bench.now.plus(span)));
    assert!(future.is_err());
}

/// A start told late announced nothing before it was told: the readings known by then count.
#[test]
fn a_start_told_late_is_reckoned_by_the_readings_known_when_it_was_told() {
    let clock = timing(doubling(20.0 * 60.0));
    let cold = taken(&[(30.0, 10.0)]);
    // told at once, the clock was out at 20 min, before anybody read the air
    let at_once = by(&cold).due(&clock, Kind::Minimum, Moment::OPENING.into(), 1.0);
    assert_eq!(at_once.moment(), Some(min(20.0)));
    // told at 35 min, the film has had 10 °C all the time: half speed, 40 min
    let start = Start::told(Moment::OPENING, min(35.0));
    let late = by(&cold).due(&clock, Kind::Minimum, start, 1.0);
    assert_eq!(late.moment(), Some(min(40.0)));
    // and what the screen showed from then on is not taken back by a colder reading
    let colder = taken(&[(30.0, 10.0), (45.0, 0.0)]);
    assert_eq!(by(&colder).due(&clock, Kind::Minimum, start, 1.0).moment(), Some(min(40.0)));
}
