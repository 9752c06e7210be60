//! How fast a clock ran at each reading.

use super::due::Kind;
use super::tracks::track;
use super::{By, rate_clock};
use crate::material::timing::{LawName, Timing};
use crate::session::time::Moment;

/// The speed of the clock of `timing` at each reading, 1 being the sheet's; nothing for a clock
/// that does not follow the air, and where its law needs a humidity that was not read.
#[must_use]
pub fn rates(timing: &Timing, kind: Kind, by: By<'_>) -> Vec<(Moment, f64)> {
    let Ok(clock) = rate_clock(timing, kind, by.rules) else { return Vec::new() };
    if clock.is_steady() {
        return Vec::new();
    }
    let known = |humidity: bool| timing.law != LawName::Water || humidity;
    let track = track(by.readings.iter(), kind.whose(timing.law));
    let points = track.points().iter().filter(|point| known(point.humidity.is_some()));
    let rate = |point: &crate::physics::rate::AirPoint| {
        let at = Moment::from_seconds_down(point.at_s);
        (at, clock.rate_in(point))
    };
    points.map(rate).collect()
}
