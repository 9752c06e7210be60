//! How fast a clock runs, and ran at each reading.

use super::By;
use super::due::Kind;
use super::tables::Table;
use crate::material::timing::{LawName, Timing};
use crate::physics::rate::{Law, Outside, Water};
use crate::session::time::Moment;

/// How a clock runs now, against its stated speed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Speed {
    /// It follows the air, at this rate.
    Rate(f64),
    /// It would follow the air, but no reading was taken: at rate 1.
    AirNotKnown,
    /// It does not follow the air: stated at one temperature, it is another, °C.
    StatedAt {
        /// The sheet's temperature.
        stated_c: f64,
        /// The present one, where read.
        now_c: Option<f64>,
    },
    /// It stands: it is colder than its floor, °C.
    BelowFloor {
        /// From this temperature on it runs.
        floor_c: f64,
    },
    /// It follows the sheet's table, and the temperature lies outside: carried on beyond its end.
    CarriedOn(f64),
    /// It follows the sheet's table, and the temperature lies outside: held at its end.
    HeldAtEnd(f64),
    /// It follows the drying of water, in air for which that was not fitted.
    OutsideFit(f64),
    /// It does not depend on the air.
    Fixed,
}

/// How the clock of `timing` runs by the last reading.
#[must_use]
pub fn speed(timing: &Timing, kind: Kind, by: By<'_>) -> Speed {
    let tables = by.readings.tables();
    let now = tables.look(by.readings, by.asked(timing, kind), |table| of_now(timing, table));
    now.unwrap_or(Speed::Fixed)
}

fn of_now(timing: &Timing, table: &Table<'_>) -> Speed {
    let (clock, last) = (table.clock(), table.last());
    let air = last.map(|(air, _)| air);
    if let Some(floor) = clock.floor().filter(|_| air.is_some_and(|air| clock.stands_in(&air))) {
        return Speed::BelowFloor { floor_c: floor.celsius() };
    }
    let now_c = air.map(|point| point.temperature.celsius());
    match (clock.law(), last) {
        (Law::Steady, _) => {
            timing.at_c.map_or(Speed::Fixed, |stated_c| Speed::StatedAt { stated_c, now_c })
        }
        (_, None) => Speed::AirNotKnown,
        (Law::Water(_), Some((air, rate))) => match air.humidity {
            None => Speed::AirNotKnown,
            Some(humidity) if !Water::is_fitted_for(air.temperature, humidity) => {
                Speed::OutsideFit(rate)
            }
            Some(_) => Speed::Rate(rate),
        },
        (_, Some((air, rate))) => match clock.outside_table(air.temperature) {
            Some(Outside::CarriedOn) => Speed::CarriedOn(rate),
            Some(Outside::Held) => Speed::HeldAtEnd(rate),
            None => Speed::Rate(rate),
        },
    }
}

/// The speed of the clock of `timing` at each reading, 1 being the sheet's; nothing for a clock
/// that does not follow the air, and where its law needs a humidity that was not read.
#[must_use]
pub fn rates(timing: &Timing, kind: Kind, by: By<'_>) -> Vec<(Moment, f64)> {
    let tables = by.readings.tables();
    let rates =
        tables.look(by.readings, by.asked(timing, kind), |table| at_readings(timing, table));
    rates.unwrap_or_default()
}

fn at_readings(timing: &Timing, table: &Table<'_>) -> Vec<(Moment, f64)> {
    if table.clock().is_steady() {
        return Vec::new();
    }
    let known = |humidity: bool| timing.law != LawName::Water || humidity;
    let points = table.points().filter(|(point, _)| known(point.humidity.is_some()));
    points.map(|(point, rate)| (Moment::from_seconds_down(point.at_s), rate)).collect()
}
