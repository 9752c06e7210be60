//! The law `water`: the drying of a waterborne film.

use super::{AirPoint, RateError};
use crate::physics::air::{
    MAX_TEMPERATURE, MIN_TEMPERATURE, STANDARD_PRESSURE, saturation_pa, wet_bulb_c,
};
use crate::units::{Humidity, Temperature};

/// How far the film's temperature lies above the wet bulb, as a share of the way to the air's:
/// fitted to a heat balance with radiation and a part underneath, not measured in a booth.
const FILM_SHARE: f64 = 0.2;
/// The air over which that share was fitted, °C and %.
const FITTED: ((f64, f64), (f64, f64)) = ((15.0, 30.0), (30.0, 80.0));
/// What rounding leaves of a figure that was typed in other units.
const HAIR: f64 = 1e-6;

/// Evaporation against evaporation at the reference:
/// `(p_sat(T_f) − p_v) / (the same at the reference)`, `T_f = T_wb + 0.2 (T − T_wb)`, at standard
/// air pressure, and not above the surface where that counts. Air movement is not modelled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Water {
    reference: Temperature,
    humidity: Humidity,
    reference_drive: f64,
}

/// What drives the water out of a film.
#[derive(Debug, Clone, Copy)]
pub(super) struct Drive {
    /// The film's temperature by the air alone, °C.
    pub(super) by_air_c: f64,
    /// The film's temperature, °C.
    pub(super) film_c: f64,
    /// The difference of vapour pressure, Pa; below 0 water condenses on it.
    pub(super) pa: f64,
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
        let reference_drive = drive(celsius, percent, None).pa;
        Ok(Self { reference, humidity, reference_drive })
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

    /// Whether the film's temperature was fitted for such air.
    #[must_use]
    pub fn is_fitted_for(temperature: Temperature, humidity: Humidity) -> bool {
        let within = |value: f64, (low, high): (f64, f64)| {
            // what was typed in other units comes out a hair off
            (low - HAIR..=high + HAIR).contains(&value)
        };
        within(temperature.celsius(), FITTED.0) && within(humidity.percent(), FITTED.1)
    }

    /// The speed in given air over a film no warmer than `surface`: 1 at the reference, 0 where the
    /// air holds what the film would give, 1 where humidity is not known. Air outside −10…60 °C
    /// counts as the nearer end of that range.
    #[must_use]
    pub fn rate(&self, air: &AirPoint, surface: Option<Temperature>) -> f64 {
        drive_in(air, surface).map_or(1.0, |drive| (drive.pa / self.reference_drive).max(0.0))
    }
}

/// What drives the water out of a film in given air; nothing where its humidity is not known.
pub(super) fn drive_in(air: &AirPoint, surface: Option<Temperature>) -> Option<Drive> {
    let ranged =
        |t: Temperature| t.celsius().clamp(MIN_TEMPERATURE.celsius(), MAX_TEMPERATURE.celsius());
    Some(drive(ranged(air.temperature), air.humidity?.percent(), surface.map(ranged)))
}

fn drive(celsius: f64, percent: f64, surface_c: Option<f64>) -> Drive {
    let share = (percent / 100.0).min(1.0);
    let by_air_c = if share >= 1.0 {
        celsius
    } else {
        let wet = wet_bulb_c(celsius, share, STANDARD_PRESSURE.pa());
        wet + FILM_SHARE * (celsius - wet)
    };
    let film_c = surface_c.map_or(by_air_c, |surface| surface.min(by_air_c));
    Drive { by_air_c, film_c, pa: saturation_pa(film_c) - share * saturation_pa(celsius) }
}
