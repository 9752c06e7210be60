//! What was announced stays announced.
//!
//! An edge was announced when, by the readings known until then, it was reached before the next
//! reading was entered. No later reading takes that back. So the readings are gone through in the
//! order in which they were entered, and the first edge that was reached in time stands. A start that
//! was told late announced nothing before it was told.

use super::due::Run;
use super::tracks::{first_difference, track};
use crate::physics::rate::{Due, Law};
use crate::session::state::Taken;
use crate::session::time::Moment;

/// The due time of `run` in seconds of session time, and whether readings entered after it was
/// announced could make it otherwise.
pub(super) fn latched(run: &Run, readings: &[Taken]) -> (Due, bool) {
    let in_order = readings.windows(2).all(|pair| pair[0].known <= pair[1].known)
        && readings.iter().all(|taken| taken.at == taken.known || taken.known <= run.known);
    if in_order && !fills_back(run, readings) {
        in_order_latch(run, readings)
    } else {
        any_order_latch(run, readings)
    }
}

/// Whether a reading entered after the start was told fills in what an earlier one lacked, so that
/// the track of all readings is not what was known then.
fn fills_back(run: &Run, readings: &[Taken]) -> bool {
    let humid = readings.iter().filter(|taken| taken.reading.humidity_pct.is_some()).count();
    if matches!(run.clock.law(), Law::Water(_)) && humid > 0 && humid < readings.len() {
        return true;
    }
    let known = readings.iter().filter(|taken| taken.known <= run.known);
    // the first difference of a surface from the air holds before it as well
    first_difference(known, run.whose).is_none()
        && first_difference(readings.iter(), run.whose).is_some()
}

/// Goes through the readings in the order of entering, computing anew after each. Quadratic, and
/// needed only where a reading or the start was told late.
fn any_order_latch(run: &Run, readings: &[Taken]) -> (Due, bool) {
    let mut arrivals: Vec<Moment> =
        readings.iter().map(|taken| taken.known).filter(|known| *known > run.known).collect();
    arrivals.sort_unstable();
    arrivals.dedup();
    let mut known_until = run.known;
    for arrival in arrivals {
        let known = readings.iter().filter(|taken| taken.known <= known_until);
        let due = run.edge_due(&track(known, run.whose));
        if run.shown_by(due, arrival) {
            return (due, true);
        }
        known_until = arrival;
    }
    (run.edge_due(&track(readings.iter(), run.whose)), false)
}

/// The same in one pass where every reading was entered as it was taken, or before the start was
/// told: progress up to a reading is then final, and from it on the air was held flat until the
/// next one.
fn in_order_latch(run: &Run, readings: &[Taken]) -> (Due, bool) {
    let whole = track(readings.iter(), run.whose);
    let points = whole.points();
    let start_s = run.start.seconds();
    let known_at_start = points.partition_point(|point| point.at_s <= start_s);
    let mut along = Along { at_s: start_s, progress: 0.0 };
    let mut known_until = run.known;
    for (at, point) in points.iter().enumerate().skip(known_at_start) {
        let arrival = Moment::from_seconds_up(point.at_s);
        if arrival > known_until {
            let before = at.checked_sub(1).and_then(|before| points.get(before));
            let rate = before.map_or(1.0, |air| run.clock.rate_in(air));
            let announced_s = flat_end(run, &along, rate);
            if run.shown_by(Due::At(announced_s), arrival) {
                return (Due::At(announced_s), true);
            }
            known_until = arrival;
        }
        let from = whole.at(along.at_s).unwrap_or(*point);
        let gained = run.clock.segment_progress(&from, point);
        if along.progress + gained >= run.factor {
            let left = run.factor - along.progress;
            let reached = run.clock.reach_in_segment(&from, point, left);
            return (Due::At(run.edge_s(reached.unwrap_or(point.at_s))), false);
        }
        along = Along { at_s: point.at_s, progress: along.progress + gained };
    }
    (run.edge_due(&whole), false)
}

/// How far a clock has come.
struct Along {
    at_s: f64,
    progress: f64,
}

/// The edge if the clock went on at `rate`.
fn flat_end(run: &Run, from: &Along, rate: f64) -> f64 {
    let left_s = (run.factor - from.progress) * run.clock.duration_s();
    let integral_s = if rate > 0.0 { from.at_s + left_s / rate } else { f64::INFINITY };
    run.edge_s(integral_s)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::material::timing::LawName;
    use crate::physics::rate::{Law, RateClock, Speed, Table, Warmth, Water};
    use crate::session::clocks::Kind;
    use crate::session::clocks::tracks::Whose;
    use crate::session::event::Reading;
    use crate::session::time::Span;
    use crate::units::{Humidity, Temperature};

    fn clock() -> RateClock {
        let law = Warmth::new(Speed::DoublesPer { kelvin: 10.0 }, Temperature::from_celsius(20.0));
        RateClock::new(Law::Warmth(law.expect("a law")), 3600.0).expect("a clock")
    }

    /// The same below a floor, and a drying one: what a reading tells of the surface counts for it.
    fn clocks() -> impl Strategy<Value = (RateClock, bool)> {
        let floor = Some(Temperature::from_celsius(18.0));
        let floored = clock().with_floor(floor).expect("a floor");
        let reference = Temperature::from_celsius(25.0);
        let water = Water::new(reference, Humidity::from_percent(50.0)).expect("a law");
        let water = RateClock::new(Law::Water(water), 3600.0).expect("a clock");
        let rows = [(10.0, 7200.0), (20.0, 3600.0), (30.0, 1800.0)];
        let rows = rows.map(|(t, seconds)| (Temperature::from_celsius(t), seconds));
        let table = Law::Table(Table::new(rows.into()).expect("a table"));
        let table = RateClock::new(table, 3600.0).expect("a clock");
        let lent = table.clone().by_lent_law();
        prop::sample::select(vec![
            (clock(), false),
            (floored, false),
            (water, true),
            (table, false),
            (lent, false),
        ])
    }

    fn taken() -> impl Strategy<Value = Taken> {
        let surface_c = proptest::option::of(5.0..30.0f64);
        let air_c = proptest::option::weighted(0.8, 5.0..35.0f64);
        (0..120i64, air_c, surface_c).prop_map(|(minute, air_c, surface_c)| {
            let at = Moment::OPENING.plus(Span::from_minutes(minute));
            let humidity_pct = Some(50.0);
            let reading = Reading { air_c, surface_c, humidity_pct, ..Reading::default() };
            Taken { at, known: at, reading }
        })
    }

    fn ran() -> impl Strategy<Value = Run> {
        let kinds = [
            (Kind::Eye, Whose::Coldest),
            (Kind::Minimum, Whose::Coldest),
            (Kind::Maximum, Whose::Warmest),
            (Kind::PotLife, Whose::Pot),
        ];
        let kind = prop::sample::select(kinds.to_vec());
        (clocks(), kind, 0..90i64, 0..40i64, 0..20i64).prop_map(
            |((clock, is_water), (kind, whose), start, told_after, lead)| {
                let start = Moment::OPENING.plus(Span::from_minutes(start));
                Run {
                    clock: clock.with_edge(kind.edge()),
                    kind,
                    whose: if is_water { kind.whose(LawName::Water) } else { whose },
                    start,
                    known: start.plus(Span::from_minutes(told_after)),
                    factor: 1.0,
                    lead: Span::from_minutes(lead),
                }
            },
        )
    }

    proptest! {
        /// One pass finds what computing anew after every reading finds.
        #[test]
        fn one_pass_is_as_good_as_computing_anew(
            run in ran(),
            mut readings in prop::collection::vec(taken(), 0..12),
        ) {
            readings.sort_by_key(|taken| taken.at);
            let ms = |due: Due| due.at_s().map(|at_s| (at_s * 1000.0).round());
            let (one, _) = latched(&run, &readings);
            let (anew, _) = any_order_latch(&run, &readings);
            prop_assert_eq!(ms(one), ms(anew));
        }
    }
}
