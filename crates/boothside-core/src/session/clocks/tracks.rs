//! Which temperature a clock takes: the readings of a session as tracks.

use crate::physics::rate::{AirPoint, AirTrack};
use crate::session::event::Reading;
use crate::session::state::Taken;
use crate::units::{Humidity, Temperature};

/// Whose temperature a clock follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Whose {
    /// The air's: for maxima of the drying of water, whose law has its own film temperature.
    Air,
    /// The air's, and beside it the coldest surface's: for minima of the same, whose film is no
    /// warmer than what it lies on.
    Film,
    /// The coldest surface's, else the air's: minima on a part.
    Coldest,
    /// The warmer of surface and air: maxima on a part.
    Warmest,
    /// The pot's own, else the air's.
    Pot,
}

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

/// Differences from the air that are carried while a temperature is not read.
#[derive(Default, Clone, Copy)]
struct Carried {
    air_c: Option<f64>,
    coldest: Option<f64>,
    warmest: Option<f64>,
    pot: Option<f64>,
}

impl Carried {
    fn take(&mut self, reading: &Reading) {
        self.air_c = reading.air_c.or(self.air_c);
        let Some(air_c) = self.air_c else { return };
        let warmest_c = reading.surface_warmest_c.or(reading.surface_c);
        self.coldest = reading.surface_c.map(|c| c - air_c).or(self.coldest);
        self.warmest = warmest_c.map(|c| c - air_c).or(self.warmest);
        self.pot = reading.pot_c.map(|c| c - air_c).or(self.pot);
    }

    fn of(&self, whose: Whose, reading: &Reading) -> Option<f64> {
        let carried = |difference: Option<f64>| Some(self.air_c? + difference.unwrap_or(0.0));
        match whose {
            Whose::Air | Whose::Film => self.air_c,
            Whose::Coldest => reading.surface_c.or_else(|| carried(self.coldest)),
            Whose::Warmest => {
                let read = reading.surface_warmest_c.or(reading.surface_c);
                let surface_c = read.or_else(|| carried(self.warmest));
                // f64::max passes over what is not there
                surface_c.map(|c| c.max(self.air_c.unwrap_or(c)))
            }
            Whose::Pot => reading.pot_c.or_else(|| carried(self.pot)),
        }
    }
}

/// The track of one temperature with the air's humidity. A surface read only sometimes is carried
/// as its difference from the air, and before its first reading with that reading's difference.
pub(super) fn track<'a>(
    readings: impl Iterator<Item = &'a Taken> + Clone,
    whose: Whose,
) -> AirTrack {
    let mut carried = first_differences(readings.clone());
    let mut points = Vec::new();
    for taken in readings {
        carried.take(&taken.reading);
        if let Some(celsius) = carried.of(whose, &taken.reading) {
            points.push(AirPoint {
                at_s: taken.at.seconds(),
                temperature: Temperature::from_celsius(celsius),
                humidity: taken.reading.humidity_pct.map(Humidity::from_percent),
                surface: under_film(&carried, whose, &taken.reading),
            });
        }
    }
    AirTrack::new(points)
}

/// The coldest surface, read or carried, where it counts beside the air.
fn under_film(carried: &Carried, whose: Whose, reading: &Reading) -> Option<Temperature> {
    if whose != Whose::Film {
        return None;
    }
    let told = reading.surface_c.is_some() || carried.coldest.is_some();
    let celsius = carried.of(Whose::Coldest, reading).filter(|_| told)?;
    Some(Temperature::from_celsius(celsius))
}

/// The first difference read of each surface: flat before it, as the air is.
fn first_differences<'a>(readings: impl Iterator<Item = &'a Taken>) -> Carried {
    let mut first = Carried::default();
    let mut walking = Carried::default();
    for taken in readings {
        walking.take(&taken.reading);
        first.coldest = first.coldest.or(walking.coldest);
        first.warmest = first.warmest.or(walking.warmest);
        if first.coldest.is_some() && first.warmest.is_some() {
            break;
        }
    }
    first
}

/// The first difference from the air of the temperature that `whose` asks for, K. The air's own has
/// none, and a pot's holds only from its reading on.
pub(super) fn first_difference<'a>(
    readings: impl Iterator<Item = &'a Taken>,
    whose: Whose,
) -> Option<f64> {
    let first = first_differences(readings);
    match whose {
        Whose::Coldest | Whose::Film => first.coldest,
        Whose::Warmest => first.warmest,
        Whose::Air | Whose::Pot => None,
    }
}

/// The air as last read at or before the end of `readings`: temperature, humidity and coldest
/// surface, °C and %, each where known.
#[must_use]
pub fn air_at(readings: &[Taken]) -> Option<Reading> {
    let mut carried = first_differences(readings.iter());
    let mut humidity_pct = None;
    for taken in readings {
        carried.take(&taken.reading);
        humidity_pct = taken.reading.humidity_pct.or(humidity_pct);
    }
    let last = readings.last()?;
    let surface = |whose| match whose {
        Whose::Coldest if carried.coldest.is_none() => last.reading.surface_c,
        Whose::Warmest if carried.warmest.is_none() => last.reading.surface_warmest_c,
        _ => carried.of(whose, &last.reading),
    };
    Some(Reading {
        air_c: carried.air_c,
        humidity_pct,
        surface_c: surface(Whose::Coldest),
        surface_warmest_c: surface(Whose::Warmest),
        pot_c: carried.of(Whose::Pot, &last.reading).filter(|_| carried.pot.is_some()),
    })
}
