//! Everything that waits: rate clocks over the readings of a session.

mod doubt;
mod due;
mod latch;
mod rates;
mod tables;
mod tracks;

pub use doubt::{Doubt, Doubted, doubt};
pub use due::{Due, DueAt, Dues, Kind, Start};
pub use rates::{Speed, rates, speed};
pub(super) use tables::Tables;
pub(super) use tracks::AirAfter;

use super::readings::Readings;
use super::time::Moment;
use crate::material::timing::{LawName, Timing};
use crate::physics::rate::{Law, RateClock, RateError, Rules, Speed as WarmthSpeed, Warmth, Water};
use crate::units::{Humidity, Temperature};

/// What a clock is reckoned by.
#[derive(Debug, Clone, Copy)]
pub struct By<'a> {
    readings: &'a Readings,
    rules: Rules,
    /// For a pot, until when a pot's temperature was another pot's.
    not_its_own: Option<Moment>,
}

impl<'a> By<'a> {
    /// By these readings and rules.
    #[must_use]
    pub const fn new(readings: &'a Readings, rules: Rules) -> Self {
        Self { readings, rules, not_its_own: None }
    }

    /// The same for a pot that was mixed at `mixed`: a pot's temperature read before was another's.
    #[must_use]
    pub fn of_pot(self, mixed: Moment) -> Self {
        Self { not_its_own: self.readings.pot_read_until(mixed), ..self }
    }

    const fn asked(&self, timing: &'a Timing, kind: Kind) -> tables::Asked<'a> {
        let Self { rules, not_its_own, .. } = *self;
        tables::Asked { timing, kind, rules, not_its_own }
    }
}

/// The rate clock of a stated timing, for a clock of this kind.
///
/// # Errors
/// [`RateError`] when the timing's figures make no clock; a sheet that was checked has none such.
pub fn rate_clock(timing: &Timing, kind: Kind, rules: Rules) -> Result<RateClock, RateError> {
    let duration_s = if kind.takes_upper() { timing.upper_s() } else { timing.duration_s };
    let floor = timing.floor_c.map(Temperature::from_celsius);
    let clock = RateClock::new(law(timing)?, duration_s)?;
    let clock = if kind == Kind::Shortened { clock.by_lent_law() } else { clock };
    clock.with_edge(kind.edge()).by_rules(rules).with_floor(floor)
}

fn law(timing: &Timing) -> Result<Law, RateError> {
    let reference = Temperature::from_celsius(timing.at_c.unwrap_or(f64::NAN));
    Ok(match timing.law {
        // what goes as the earliest does comes here with that one's law, or has none
        LawName::Steady | LawName::AsEarliest => Law::Steady,
        LawName::Table => Law::Table(timing.rate_table()?),
        LawName::Warmth => {
            let energy = |kj_per_mol| WarmthSpeed::Energy { kj_per_mol };
            let doubling = WarmthSpeed::DoublesPer { kelvin: timing.doubles_per_c.unwrap_or(0.0) };
            let speed = timing.energy_kj_per_mol.map_or(doubling, energy);
            Law::Warmth(Warmth::new(speed, reference)?)
        }
        LawName::Water => {
            let humidity = Humidity::from_percent(timing.at_pct.unwrap_or(f64::NAN));
            Law::Water(Water::new(reference, humidity)?)
        }
    })
}
