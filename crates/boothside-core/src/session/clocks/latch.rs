//! What was announced stays announced.
//!
//! An edge was announced when, by the readings known until then, it was reached before the next
//! reading was entered. No later reading takes that back. So the readings are gone through in the
//! order in which they were entered, and the first edge that was reached in time stands. A start that
//! was told late announced nothing before it was told.

use super::due::Run;
use super::tracks::{Whose, track};
use crate::physics::rate::{Due, Law};
use crate::session::state::Taken;
use crate::session::time::Moment;

/// The due time of `run` in seconds of session time, and whether readings entered after it was
/// announced could make it otherwise.
pub(super) fn latched(run: &Run, readings: &[Taken]) -> (Due, bool) {
    let in_order = readings.windows(2).all(|pair| pair[0].known <= pair[1].known)
        && readings.iter().all(|taken| taken.at == taken.known || taken.known <= run.start);
    if in_order && run.known == run.start && !fills_back(run, readings) {
        in_order_latch(run, readings)
    } else {
        any_order_latch(run, readings)
    }
}

/// Whether a later reading fills in what an earlier one lacked, so that the track of all readings
/// is not what was known then.
fn fills_back(run: &Run, readings: &[Taken]) -> bool {
    let humid = readings.iter().filter(|taken| taken.reading.humidity_pct.is_some()).count();
    if matches!(run.clock.law(), Law::Water(_)) && humid > 0 && humid < readings.len() {
        return true;
    }
    let read = |taken: &Taken| match run.whose {
        Whose::Coldest => taken.reading.surface_c.is_some(),
        Whose::Warmest => taken.reading.surface_c.or(taken.reading.surface_warmest_c).is_some(),
        Whose::Air | Whose::Pot => false,
    };
    let from_the_first =
        readings.first().is_some_and(|first| read(first) && first.reading.air_c.is_some());
    !from_the_first && readings.iter().any(read)
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

/// The same in one pass where every reading was entered as it was taken: progress up to a reading
/// is then final, and from it on the air was held flat until the next one.
fn in_order_latch(run: &Run, readings: &[Taken]) -> (Due, bool) {
    let whole = track(readings.iter(), run.whose);
    let points = whole.points();
    let start_s = run.start.seconds();
    let known_at_start = points.partition_point(|point| point.at_s <= start_s);
    let mut along = Along { at_s: start_s, progress: 0.0 };
    for (at, point) in points.iter().enumerate().skip(known_at_start) {
        let before = at.checked_sub(1).and_then(|before| points.get(before));
        let rate = before.map_or(1.0, |air| run.clock.rate(air.temperature, air.humidity));
        let announced_s = flat_end(run, &along, rate);
        if run.shown_by(Due::At(announced_s), Moment::from_seconds_up(point.at_s)) {
            return (Due::At(announced_s), true);
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
