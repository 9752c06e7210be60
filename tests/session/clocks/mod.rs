//! Clocks from tables: the same to the millisecond as those reckoned anew from all readings, whatever
//! was told, in whatever order.

mod anew;

use boothside_core::material::timing::{LawName, TablePoint, Timing};
use boothside_core::physics::rate::Rules;
use boothside_core::session::clocks::{By as ReckonedBy, Dues, Kind, Start, doubt, rates};
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, Reading};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Readings, Session, Taken};
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::json;

use crate::bench::Bench;
use crate::jobs::{doubling, plain, sheet};
use crate::properties::cases;
use anew::Asked;

/// Something told in a session.
#[derive(Debug, Clone)]
enum Told {
    /// A reading, taken so many minutes ago.
    Read(i64, Reading),
    /// An earlier entry is struck.
    Strike(Index),
    /// An earlier entry is told to have been so many minutes ago.
    Retime(Index, i64),
    /// The stated minimum is another, s.
    Mend(f64),
}

/// What is told, and how many seconds after the one before.
type Line = (i64, Told);

fn temperature() -> impl Strategy<Value = f64> {
    // whole degrees stand still often enough, and meet floors and rows of tables
    prop_oneof![(0..40i32).prop_map(f64::from), select(vec![10.0, 20.0, 20.0]), -5.0..45.0f64]
}

fn reading() -> impl Strategy<Value = Reading> {
    let perhaps = |share| prop::option::weighted(share, temperature());
    let humidity = prop::option::weighted(0.6, prop_oneof![Just(50.0), Just(100.0), 20.0..100.0]);
    (perhaps(0.85), humidity, perhaps(0.3), perhaps(0.15), perhaps(0.25)).prop_map(
        |(air_c, humidity_pct, surface_c, surface_warmest_c, pot_c)| Reading {
            air_c,
            humidity_pct,
            surface_c,
            surface_warmest_c,
            pot_c,
        },
    )
}

fn line() -> impl Strategy<Value = Line> {
    let ago = || prop_oneof![2 => Just(0), 1 => 1..50i64];
    let told = prop_oneof![
        12 => (ago(), reading()).prop_map(|(ago, reading)| Told::Read(ago, reading)),
        1 => any::<Index>().prop_map(Told::Strike),
        1 => (any::<Index>(), 0..60i64).prop_map(|(of, ago)| Told::Retime(of, ago)),
        1 => (600..3000i32).prop_map(|seconds| Told::Mend(f64::from(seconds))),
    ];
    let after = prop_oneof![4 => (0..20i64).prop_map(|minutes| minutes * 60), 1 => 0..600i64];
    (after, told)
}

fn timing() -> impl Strategy<Value = Timing> {
    let law = select(vec![
        LawName::Steady,
        LawName::Table,
        LawName::Warmth,
        LawName::Warmth,
        LawName::Warmth,
        LawName::Water,
    ]);
    let duration = prop_oneof![(5..120i32).prop_map(|it| f64::from(it) * 60.0), 100.0..9000.0f64];
    let floor = prop::option::weighted(0.4, temperature());
    (law, duration, prop::option::of(1.0..2.0f64), floor, any::<bool>()).prop_map(
        |(law, duration_s, up_to, floor_c, energy)| {
            let row = |at_c, share| TablePoint { at_c, duration_s: duration_s * share };
            let table = vec![row(10.0, 2.0), row(20.0, 1.0), row(28.0, 0.4)];
            let warmth = law == LawName::Warmth;
            Timing {
                up_to_s: up_to.map(|up_to| duration_s * up_to),
                at_c: Some(20.0),
                at_pct: Some(50.0).filter(|_| law == LawName::Water),
                law,
                energy_kj_per_mol: Some(60.0).filter(|_| warmth && energy),
                doubles_per_c: Some(10.0).filter(|_| warmth && !energy),
                floor_c,
                table: if law == LawName::Table { table } else { Vec::new() },
                ..Timing::steady(duration_s)
            }
        },
    )
}

fn asked() -> impl Strategy<Value = Asked> {
    let kind = select(vec![
        Kind::Eye,
        Kind::Minimum,
        Kind::Maximum,
        Kind::Shortened,
        Kind::Stand,
        Kind::PotLife,
    ]);
    let start = prop_oneof![(-10..150i64).prop_map(|it| it * 60_000), -600_000..9_000_000i64];
    let told = prop_oneof![Just(0), (0..60i64).prop_map(|minutes| minutes * 60_000)];
    let factor = prop_oneof![Just(1.0), 0.3..3.0f64];
    let lead = prop_oneof![2 => Just(0), 1 => 1..40i64];
    let rules = prop_oneof![3 => Just(Rules::NOW), 1 => Just(Rules::FIRST)];
    (timing(), kind, start, told, factor, lead, rules).prop_map(
        |(timing, kind, start, told, factor, lead, rules)| {
            let at = Moment::from_ms(start);
            let start = Start::told(at, at.plus(Span::from_ms(told)));
            let lead = Span::from_minutes(lead);
            Asked { timing, kind, start, factor, lead, rules }
        },
    )
}

fn opened() -> Session {
    let gap = json!({ "earliest": doubling(1200.0), "by": "clock" });
    Bench::new(plain(sheet(json!({ "between_coats": gap })), 1, 1)).session
}

fn entry(n: u64, t_ms: Moment, told: &Told) -> Entry {
    // entry 0 opens the session
    let earlier = |of: &Index| 1 + of.index(usize::try_from(n).expect("few")) as u64;
    let (when_ms, event) = match told {
        Told::Read(0, reading) => (None, Event::Reading(*reading)),
        Told::Read(ago, reading) => {
            (Some(t_ms.minus(Span::from_minutes(*ago))), Event::Reading(*reading))
        }
        Told::Strike(of) => (None, Event::Struck { entries: vec![earlier(of)] }),
        Told::Retime(of, ago) => {
            let when_ms = t_ms.minus(Span::from_minutes(*ago));
            (None, Event::Retimed { entry: earlier(of), when_ms })
        }
        Told::Mend(new) => {
            let field = "sheets.one.between_coats.earliest.duration_s".to_owned();
            (None, Event::FigureChanged { field, old: None, new: *new, why: "mended".into() })
        }
    };
    let (at, seen) = (String::new(), Seen::default());
    let (events, breaks) = (vec![event], Vec::new());
    Entry { n, t_ms, at, by: By::Key, when_ms, events, breaks, seen, anchor: None }
}

/// Asks for a clock by all readings, and as a pot that was mixed at the start knows them.
fn same(asked: &Asked, readings: &Readings) -> Result<(), TestCaseError> {
    let Asked { timing, kind, start, factor, lead, rules } = asked;
    let of_pot = matches!(kind, Kind::Stand | Kind::PotLife);
    let by = ReckonedBy::new(readings, *rules);
    let (by, known) = if of_pot {
        (by.of_pot(start.at), anew::of_pot(readings, start.at))
    } else {
        (by, readings.to_vec())
    };
    let due = by.due_announced(timing, *kind, *start, *factor, *lead);
    prop_assert_eq!(due, asked.due(&known), "{:?} over {:?}", asked, readings);
    let minded = (*kind, (start.at, due.moment()));
    if *kind != Kind::Shortened && matches!(timing.law, LawName::Steady | LawName::Table) {
        let doubted = doubt(timing, minded.0, minded.1, by);
        prop_assert_eq!(doubted, asked.doubt(&known, due.moment()), "{:?}", asked);
    }
    prop_assert_eq!(rates(timing, *kind, by), asked.rates(&known), "{:?}", asked);
    Ok(())
}

fn stated(session: &Session) -> Timing {
    let sheet = session.state().sheet(1).expect("a sheet");
    sheet.between_coats.earliest.clone()
}

proptest! {
    #![proptest_config(cases(1000))]

    /// In a session that goes on, is taken back and mended, every clock is what it is when reckoned
    /// anew from the readings of then.
    #[test]
    fn tables_tell_what_is_reckoned_anew(
        lines in prop::collection::vec(line(), 1..14),
        asked in prop::collection::vec(asked(), 1..4),
        looks in prop::collection::vec(any::<bool>(), 14),
    ) {
        let mut session = opened();
        let mut now = Moment::OPENING;
        for (n, ((after, told), look)) in (1..).zip(lines.iter().zip(&looks)) {
            now = now.plus(Span::from_ms(after * 1000));
            session.apply(entry(n, now, told));
            let last = n as usize == lines.len();
            if *look || last {
                let readings = &session.state().readings;
                prop_assert_eq!(readings.air(), anew::air(readings));
                let mended = Asked { timing: stated(&session), ..asked[0].clone() };
                for asked in asked.iter().take(if last { 4 } else { 1 }).chain([&mended]) {
                    same(asked, readings)?;
                }
            }
        }
        // looked at or not on the way, it is the same session
        let opened_again = Session::open(session.entries().to_vec()).expect("a session");
        prop_assert_eq!(&opened_again, &session);
        prop_assert_eq!(format!("{opened_again:?}"), format!("{session:?}"));
    }

    /// Readings in any order, known before they were taken or long after.
    #[test]
    fn tables_hold_for_readings_known_at_any_time(
        list in prop::collection::vec((0..150i64, -5..90i64, reading()), 0..16),
        asked in prop::collection::vec(asked(), 1..3),
    ) {
        let mut readings = Readings::default();
        for (at, later, reading) in &list {
            let at = Moment::OPENING.plus(Span::from_minutes(*at));
            let known = at.plus(Span::from_minutes(*later));
            readings.add(Taken { at, known, reading: *reading });
            same(&asked[0], &readings)?;
        }
        for asked in &asked {
            same(asked, &readings)?;
        }
    }
}

/// A session may be sent to another thread.
#[test]
fn a_session_can_be_sent() {
    const fn sent<T: Send + Clone>(_: &T) {}
    sent(&opened());
}
