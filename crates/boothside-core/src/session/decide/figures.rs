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

/// Checks a reading told with its place and instruments.
pub(super) fn read_by(reading: Reading, place: &Option<String>, with: &Option<String>) -> Events {
    let mut events = read(reading)?;
    if place.is_some() || with.is_some() {
        events.push(Event::ReadingBy { place: place.clone(), with: with.clone() });
    }
    Ok(events)
}

/// Checks a count of plugs and masks.
pub(super) fn count(number: u32) -> Result<u32, Refusal> {
    if number <= 9_999 {
        return Ok(number);
    }
    let given = number.to_string();
    Err(Refusal::Figure { field: "count", given, accepted: "0 to 9,999" })
}

/// Checks the hours of cartridges.
pub(super) fn hours(used_h: f64) -> Result<f64, Refusal> {
    if (0.0..=10_000.0).contains(&used_h) {
        return Ok(used_h);
    }
    let given = format!("{used_h} h");
    Err(Refusal::Figure { field: "hours", given, accepted: "0 h to 10,000 h" })
}
