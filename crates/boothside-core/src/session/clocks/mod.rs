//! Everything that waits: rate clocks over the readings of a session.

mod due;
mod latch;
mod rates;
mod tracks;

pub use due::{Due, DueAt, Kind, Start, due, due_announced, speed};
pub use rates::rates;
pub use tracks::{Speed, air_at};

use crate::material::timing::{LawName, Timing};
use crate::physics::rate::{Law, RateClock, RateError, Speed as WarmthSpeed, Table, Warmth, Water};
use crate::units::{Humidity, Temperature};

/// The rate clock of a stated timing, for the upper or the lower end of its range.
///
/// # Errors
/// [`RateError`] when the timing's figures make no clock; a sheet that was checked has none such.
pub fn rate_clock(timing: &Timing, upper: bool) -> Result<RateClock, RateError> {
    let duration_s = if upper { timing.upper_s() } else { timing.duration_s };
    let reference = Temperature::from_celsius(timing.at_c.unwrap_or(f64::NAN));
    let law = match timing.law {
        LawName::Steady => Law::Steady,
        LawName::Table => {
            let row = |point: &crate::material::timing::TablePoint| {
                (Temperature::from_celsius(point.at_c), point.duration_s)
            };
            Law::Table(Table::new(timing.table.iter().map(row).collect())?)
        }
        LawName::Warmth => {
            let energy = |kj_per_mol| WarmthSpeed::Energy { kj_per_mol };
            let doubling = WarmthSpeed::DoublesPer { kelvin: timing.doubles_per_c.unwrap_or(0.0) };
            let speed = timing.energy_kj_per_mol.map_or(doubling, energy);
            let floor = timing.floor_c.map(Temperature::from_celsius);
            Law::Warmth(Warmth::new(speed, reference, floor)?)
        }
        LawName::Water => {
            let humidity = Humidity::from_percent(timing.at_pct.unwrap_or(f64::NAN));
            Law::Water(Water::new(reference, humidity)?)
        }
    };
    RateClock::new(law, duration_s)
}
