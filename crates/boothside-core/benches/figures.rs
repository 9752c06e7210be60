//! How long figures take: `cargo bench -p boothside-core`. Prints the median of several rounds; with
//! a word behind `--`, of the figures that have it in their names.

#![allow(
    clippy::disallowed_methods,
    clippy::print_stdout,
    clippy::expect_used,
    clippy::cast_precision_loss,
    reason = "a bench reads the machine's clock and prints what it found"
)]

mod whole_board;

use boothside_core::board::board;
use boothside_core::material::timing::{LawName, TablePoint, Timing};
use boothside_core::physics::air::{STANDARD_PRESSURE, dew_point, wet_bulb};
use boothside_core::physics::rate::{
    AirPoint, AirTrack, Law, RateClock, Speed, Table, Warmth, Water,
};
use boothside_core::session::Session;
use boothside_core::session::clocks::{Due, Dues, Kind};
use boothside_core::session::time::{Moment, Span};
use boothside_core::units::{Humidity, Temperature};
use std::hint::black_box;
use std::time::{Duration, Instant};
use whole_board::Entered;

const ROUNDS: usize = 31;

fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value)
}

fn percent(value: f64) -> Humidity {
    Humidity::from_percent(value)
}

/// Runs `work` many times a round and prints the median time of one.
fn bench(name: &str, count: u32, mut work: impl FnMut()) {
    let mut asked = std::env::args().skip(1).filter(|arg| !arg.starts_with('-'));
    if asked.next().is_some_and(|word| !name.contains(&word)) {
        return;
    }
    let mut rounds: Vec<Duration> = (0..ROUNDS)
        .map(|_| {
            let start = Instant::now();
            for _ in 0..count {
                work();
            }
            start.elapsed() / count
        })
        .collect();
    rounds.sort();
    println!("{name:<52} {:>12.3?}", rounds[ROUNDS / 2]);
}

/// Five hundred readings, ten minutes apart, of air that goes up and down.
fn readings() -> AirTrack {
    let point = |index: u32| {
        let swing = (f64::from(index) / 20.0).sin();
        let humidity = Some(percent(60.0 - 20.0 * swing));
        AirPoint::new(f64::from(index) * 600.0, celsius(18.0 + 5.0 * swing), humidity)
    };
    AirTrack::new((0..500).map(point).collect())
}

/// Clocks that come due after the last reading, so that every one of them is passed.
fn clocks() -> Vec<(&'static str, RateClock)> {
    let warmth = |speed| Law::Warmth(Warmth::new(speed, celsius(20.0)).expect("a law"));
    let table = vec![(celsius(10.0), 1e7), (celsius(20.0), 5e6), (celsius(30.0), 2e6)];
    let laws = [
        ("table", Law::Table(Table::new(table).expect("a law"))),
        ("warmth, doubles per 10 K", warmth(Speed::DoublesPer { kelvin: 10.0 })),
        ("warmth, 60 kJ/mol", warmth(Speed::Energy { kj_per_mol: 60.0 })),
        ("water", Law::Water(Water::new(celsius(25.0), percent(50.0)).expect("a law"))),
    ];
    laws.into_iter().map(|(name, law)| (name, RateClock::new(law, 1e6).expect("a clock"))).collect()
}

fn main() {
    bench("dew point", 10_000, || {
        let _ = black_box(dew_point(black_box(celsius(18.0)), percent(62.0)));
    });
    bench("wet bulb", 10_000, || {
        let _ = black_box(wet_bulb(black_box(celsius(18.0)), percent(62.0), STANDARD_PRESSURE));
    });
    let track = readings();
    for (name, clock) in clocks() {
        bench(&format!("due over 500 readings: {name}"), 20, || {
            let _ = black_box(clock.due(black_box(&track), 0.0));
        });
    }
    for count in [500, 2000] {
        over_a_session(count);
    }
}

/// Clocks and the board of a session with `count` readings, and with one more that was told late.
fn over_a_session(count: usize) {
    let (session, now) = whole_board::played(count, Entered::AtOnce);
    for (name, timing) in timings() {
        // each time of another start: one that was asked for before is not reckoned again
        let mut start = Moment::from_ms(90_000);
        bench(&format!("a session's due over {count}: {name}"), 20, || {
            start = start.plus(Span::from_ms(1));
            let _ = black_box(due(&session, black_box(&timing), start));
        });
    }
    bench(&format!("board: 40 faces, 6 pots, {count} readings"), 2, || {
        let _ = black_box(board(black_box(&session), now));
    });
    for (name, ago) in [("a reading", 0), ("a late one", 65)] {
        let told = whole_board::reading(&session, now, Span::from_minutes(ago));
        bench(&format!("board: the same after {name}, told to a copy"), 2, || {
            let mut session = session.clone();
            session.apply(told.clone());
            let _ = black_box(board(black_box(&session), now));
        });
    }
    let (session, now) = whole_board::played(count, Entered::OneLate);
    bench(&format!("board: the same, one of {count} told late"), 2, || {
        let _ = black_box(board(black_box(&session), now));
    });
}

fn due(session: &Session, timing: &Timing, start: Moment) -> Due {
    session.state().due(timing, Kind::Minimum, start.into(), 1.0)
}

/// Timings that come due after the last reading.
fn timings() -> Vec<(&'static str, Timing)> {
    let stated = |law| Timing { at_c: Some(20.0), law, ..Timing::steady(1e7) };
    let row = |at_c, duration_s| TablePoint { at_c, duration_s };
    let table = vec![row(10.0, 2e7), row(20.0, 1e7), row(30.0, 5e6)];
    let warmth = || stated(LawName::Warmth);
    vec![
        ("table", Timing { table, ..stated(LawName::Table) }),
        ("warmth, doubles per 10 K", Timing { doubles_per_c: Some(10.0), ..warmth() }),
        ("warmth, 60 kJ/mol", Timing { energy_kj_per_mol: Some(60.0), ..warmth() }),
        ("water", Timing { at_pct: Some(50.0), ..stated(LawName::Water) }),
    ]
}
