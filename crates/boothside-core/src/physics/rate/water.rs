//! The law `water`: the drying of a waterborne film.

use super::RateError;
use crate::physics::air::{
    MAX_TEMPERATURE, MIN_TEMPERATURE, STANDARD_PRESSURE, saturation_pa, wet_bulb_c,
};
use crate::units::{Humidity, Temperature};

/// How far the film's temperature lies above the wet bulb, as a share of the way to the air's:
/// fitted to a heat balance with radiation and a part underneath, not measured in a booth.
const FILM_SHARE: f64 = 0.2;

/// Evaporation against evaporation at the reference:
/// `(p_sat(T_f) − p_v) / (the same at the reference)`, `T_f = T_wb + 0.2 (T − T_wb)`, at standard
/// air pressure. Air movement is not modelled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    reference: Temperature,
    humidity: Humidity,
    reference_drive: f64,
}

impl Water {
    /// The law from the temperature and humidity at which the duration is stated.
    ///
    /// # Errors
    /// A reference outside −10…60 °C, or humidity not above 0 and below 100 %.
    pub fn new(reference: Temperature, humidity: Humidity) -> Result<Self, RateError> {
        let (celsius, percent) = (reference.celsius(), humidity.percent());
        if !(MIN_TEMPERATURE.celsius()..=MAX_TEMPERATURE.celsius()).contains(&celsius) {
            return Err(RateError::ReferenceTemperature(celsius));
        }
        if !(percent > 0.0 && percent < 100.0) {
            return Err(RateError::ReferenceHumidity(percent));
        }
        Ok(Self { reference, humidity, reference_drive: drive(celsius, percent) })
    }

    /// The temperature at which the stated duration holds.
    #[must_use]
    pub const fn reference(&self) -> Temperature {
        self.reference
    }

    /// The humidity at which the stated duration holds.
    #[must_use]
    pub const fn reference_humidity(&self) -> Humidity {
        self.humidity
    }

    /// The speed in given air: 1 at the reference, 0 at saturation, 1 where humidity is not known.
    /// Air outside −10…60 °C counts as the nearer end of that range.
    #[must_use]
    pub fn rate(&self, temperature: Temperature, humidity: Option<Humidity>) -> f64 {
        let Some(humidity) = humidity else { return 1.0 };
        let celsius =
            temperature.celsius().clamp(MIN_TEMPERATURE.celsius(), MAX_TEMPERATURE.celsius());
        (drive(celsius, humidity.percent()) / self.reference_drive).max(0.0)
    }
}

/// What drives the water out of the film, Pa.
fn drive(celsius: f64, percent: f64) -> f64 {
    let share = (percent / 100.0).min(1.0);
    if share >= 1.0 {
        return 0.0;
    }
    let wet = wet_bulb_c(celsius, share, STANDARD_PRESSURE.pa());
    let film = wet + FILM_SHARE * (celsius - wet);
    saturation_pa(film) - share * saturation_pa(celsius)
}
