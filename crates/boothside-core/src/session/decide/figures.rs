//! Checks of typed figures: what no thermometer or measuring cup shows was mistyped.

use super::Events;
use crate::session::bounds::{AIR, COUNT, HOURS, HUMIDITY, SURFACE, VOLUME};
use crate::session::event::{Event, Reading};
use crate::session::refusal::Refusal;

/// Two temperatures are the same within this, K: one typed in °F may differ from its twin by rounding.
const SAME_K: f64 = 1e-6;

/// Checks an amount of mixed material.
pub(super) fn amount(amount_ml: Option<f64>) -> Result<Option<f64>, Refusal> {
    amount_ml.map(|ml| VOLUME.check("amount", ml)).transpose()
}

/// Checks a reading.
pub(super) fn read(reading: Reading) -> Events {
    let Reading { air_c, humidity_pct, surface_c, surface_warmest_c, pot_c } = reading;
    let temperatures = [air_c, surface_c, surface_warmest_c, pot_c];
    if temperatures.iter().all(Option::is_none) && humidity_pct.is_none() {
        let given = "nothing".to_owned();
        return Err(Refusal::Figure { field: "reading", given, accepted: "one figure or more" });
    }
    let figures = [
        ("air", air_c, AIR),
        ("humidity", humidity_pct, HUMIDITY),
        ("surface", surface_c, SURFACE),
        ("warmest surface", surface_warmest_c, SURFACE),
        ("pot", pot_c, SURFACE),
    ];
    for (field, value, bounds) in figures {
        value.map(|value| bounds.check(field, value)).transpose()?;
    }
    hang_together(&reading)?;
    Ok(vec![Event::Reading(reading)])
}

/// Two figures of one reading that cannot both be, or one that says nothing without another.
fn hang_together(reading: &Reading) -> Result<(), Refusal> {
    if reading.humidity_pct.is_some() && reading.air_c.is_none() {
        let given = "a humidity alone".to_owned();
        let accepted = "a humidity together with the air's temperature";
        return Err(Refusal::Figure { field: "humidity", given, accepted });
    }
    match reading.surface_c.zip(reading.surface_warmest_c) {
        Some((coldest, warmest)) if coldest > warmest + SAME_K => {
            let given = "a warmest place that is colder".to_owned();
            let accepted = "a warmest place no colder than the coldest";
            Err(Refusal::Figure { field: "warmest surface", given, accepted })
        }
        _ => Ok(()),
    }
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
    COUNT.check("count", f64::from(number)).map(|_| number)
}

/// Checks the hours of cartridges.
pub(super) fn hours(used_h: f64) -> Result<f64, Refusal> {
    HOURS.check("hours", used_h)
}
