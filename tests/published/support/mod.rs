//! What the checks share: tables with a header, and a tally of cases and their worst error.

mod check;
mod table;

pub(crate) use check::{Check, Status, Tolerance};
pub(crate) use table::{Row, table};

use boothside_core::physics::rate::AirPoint;
use boothside_core::units::{Humidity, Temperature};

/// °C as a temperature.
pub(crate) fn celsius(value: f64) -> Temperature {
    Temperature::from_celsius(value)
}

/// Percent as a humidity.
pub(crate) fn percent(value: f64) -> Humidity {
    Humidity::from_percent(value)
}

/// A reading at `hours`, without humidity.
pub(crate) fn dry_point(hours: f64, temperature_c: f64) -> AirPoint {
    AirPoint::new(hours * 3600.0, celsius(temperature_c), None)
}

/// A reading at `seconds`, with humidity.
pub(crate) fn point(seconds: f64, temperature_c: f64, humidity_pct: f64) -> AirPoint {
    AirPoint::new(seconds, celsius(temperature_c), Some(percent(humidity_pct)))
}
