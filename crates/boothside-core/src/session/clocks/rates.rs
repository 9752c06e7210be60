//! How fast a clock ran at each reading.

use super::due::Kind;
use super::rate_clock;
use super::tracks::{Whose, track};
use crate::material::timing::{LawName, Timing};
use crate::physics::rate::Law;
use crate::session::state::Taken;
use crate::session::time::Moment;

/// The speed of the clock of `timing` at each reading, 1 being the sheet's; nothing for a clock
/// that does not follow the air, and where its law needs a humidity that was not read.
#[must_use]
pub fn rates(timing: &Timing, kind: Kind, readings: &[Taken]) -> Vec<(Moment, f64)> {
    let Ok(clock) = rate_clock(timing, kind.takes_upper()) else { return Vec::new() };
    if matches!(clock.law(), Law::Steady) {
        return Vec::new();
    }
    let whose = if timing.law == LawName::Water { Whose::Air } else { kind.whose() };
    let known = |humidity: bool| timing.law != LawName::Water || humidity;
    let track = track(readings.iter(), whose);
    let points = track.points().iter().filter(|point| known(point.humidity.is_some()));
    let rate = |point: &crate::physics::rate::AirPoint| {
        let at = Moment::from_seconds_down(point.at_s);
        (at, clock.rate(point.temperature, point.humidity))
    };
    points.map(rate).collect()
}
