//! The law `warmth`: chemistry that runs faster when it is warmer.

use super::{RateError, real_celsius};
use crate::units::Temperature;

/// The molar gas constant, J/(mol K) (SI 2019, exact to the digits given).
const GAS_CONSTANT: f64 = 8.314_462_618_153_24;
/// Zero Celsius in kelvin.
const ZERO_CELSIUS: f64 = 273.15;
/// Keeps every rate finite for any temperature that a reading may carry.
const MAX_EXPONENT: f64 = 300.0;

/// How the speed depends on the temperature. The two forms differ; the sheet's words decide.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Speed {
    /// Arrhenius: `exp(−E/R (1/T − 1/T_ref))` with the activation energy in kJ/mol, 0 < E ≤ 500.
    Energy {
        /// Activation energy, kJ/mol.
        kj_per_mol: f64,
    },
    /// `2^((T − T_ref)/n)`, 'doubles every n kelvin', 1 ≤ n ≤ 1000.
    DoublesPer {
        /// The difference that doubles the speed, K.
        kelvin: f64,
    },
}

/// A speed, and the temperature at which it is 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Warmth {
    speed: Speed,
    reference: Temperature,
}

impl Warmth {
    /// The law from a speed and the reference temperature at which the duration is stated.
    ///
    /// # Errors
    /// An energy or a doubling outside its range, or a temperature that cannot be.
    pub fn new(speed: Speed, reference: Temperature) -> Result<Self, RateError> {
        match speed {
            Speed::Energy { kj_per_mol: e } if !(e > 0.0 && e <= 500.0) => {
                return Err(RateError::Energy(e));
            }
            Speed::DoublesPer { kelvin: n } if !(1.0..=1000.0).contains(&n) => {
                return Err(RateError::Doubling(n));
            }
            Speed::Energy { .. } | Speed::DoublesPer { .. } => {}
        }
        real_celsius(reference.celsius())?;
        Ok(Self { speed, reference })
    }

    /// How the speed depends on the temperature.
    #[must_use]
    pub const fn speed(&self) -> Speed {
        self.speed
    }

    /// The temperature at which the stated duration holds.
    #[must_use]
    pub const fn reference(&self) -> Temperature {
        self.reference
    }

    /// The speed at a temperature; 1 at the reference.
    #[must_use]
    pub fn rate(&self, temperature: Temperature) -> f64 {
        let exponent = match self.speed {
            Speed::Energy { kj_per_mol } => {
                let inverse = |t: Temperature| 1.0 / (t.celsius() + ZERO_CELSIUS).max(1e-3);
                kj_per_mol * 1000.0 / GAS_CONSTANT
                    * (inverse(self.reference) - inverse(temperature))
            }
            Speed::DoublesPer { kelvin } => {
                (temperature - self.reference).kelvin() / kelvin * std::f64::consts::LN_2
            }
        };
        exponent.clamp(-MAX_EXPONENT, MAX_EXPONENT).exp()
    }
}
