//! Checks of typed figures: what no thermometer or measuring cup shows was mistyped.

use super::Events;
use crate::session::event::{Event, Reading};
use crate::session::refusal::Refusal;

/// A figure's range.
struct Range {
    field: &'static str,
    low: f64,
    high: f64,
    unit: &'static str,
    accepted: &'static str,
}

const AIR: Range = celsius("air", 60.0, "-10 °C to 60 °C");
const SURFACE: Range = celsius("surface", 80.0, "-10 °C to 80 °C");
const WARMEST: Range = celsius("warmest surface", 80.0, "-10 °C to 80 °C");
const POT: Range = celsius("pot", 80.0, "-10 °C to 80 °C");
const HUMIDITY: Range = Range {
    field: "humidity",
    low: f64::MIN_POSITIVE,
    high: 100.0,
    unit: "%",
    accepted: "over 0 % to 100 %",
};

const fn celsius(field: &'static str, high: f64, accepted: &'static str) -> Range {
    Range { field, low: -10.0, high, unit: "°C", accepted }
}

impl Range {
    fn check(&self, value: Option<f64>) -> Result<(), Refusal> {
        match value.filter(|value| !(self.low..=self.high).contains(value)) {
            Some(value) => Err(Refusal::Figure {
                field: self.field,
                given: format!("{value:.1} {}", self.unit),
                accepted: self.accepted,
            }),
            None => Ok(()),
        }
    }
}

/// Checks an amount of mixed material.
pub(super) fn amount(amount_ml: Option<f64>) -> Result<Option<f64>, Refusal> {
    let fits = |ml: f64| ml > 0.0 && ml <= 100_000.0;
    match amount_ml.filter(|ml| !fits(*ml)) {
        Some(ml) => Err(Refusal::Figure {
            field: "amount",
            given: format!("{ml} mL"),
            accepted: "over 0 mL to 100 L",
        }),
        None => Ok(amount_ml),
    }
}

/// Checks a reading.
pub(super) fn read(reading: Reading) -> Events {
    let Reading { air_c, humidity_pct, surface_c, surface_warmest_c, pot_c } = reading;
    let temperatures = [air_c, surface_c, surface_warmest_c, pot_c];
    if temperatures.iter().all(Option::is_none) && humidity_pct.is_none() {
        let given = "nothing".to_owned();
        return Err(Refusal::Figure { field: "reading", given, accepted: "one figure or more" });
    }
    AIR.check(air_c)?;
    HUMIDITY.check(humidity_pct)?;
    SURFACE.check(surface_c)?;
    WARMEST.check(surface_warmest_c)?;
    POT.check(pot_c)?;
    Ok(vec![Event::Reading(reading)])
}
