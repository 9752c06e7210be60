//! Which temperature a clock takes, and what of it is carried from reading to reading.

use crate::physics::rate::AirPoint;
use crate::session::event::Reading;
use crate::session::state::Taken;
use crate::session::time::Moment;
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

/// The air, and differences from it that are carried while a temperature is not read.
#[derive(Debug, Default, Clone, Copy, PartialEq)]
pub(super) struct Carried {
    air_c: Option<f64>,
    coldest: Option<f64>,
    warmest: Option<f64>,
    pot: Option<f64>,
}

impl Carried {
    pub(super) fn take(&mut self, reading: &Reading) {
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

    /// The first difference read of each surface, from what is carried after each reading: it holds
    /// before that as well, as the air does.
    pub(super) fn first(walked: &[Self]) -> Self {
        let first = |of: fn(&Self) -> Option<f64>| {
            let at = walked.partition_point(|carried| of(carried).is_none());
            walked.get(at).and_then(of)
        };
        let (coldest, warmest) = (first(|it| it.coldest), first(|it| it.warmest));
        Self { coldest, warmest, ..Self::default() }
    }

    /// This, and the `first` differences where none was read yet.
    pub(super) fn or(self, first: &Self) -> Self {
        let coldest = self.coldest.or(first.coldest);
        Self { coldest, warmest: self.warmest.or(first.warmest), ..self }
    }

    /// The difference of the surface that `whose` asks for, K. The air's own has none, and a pot's
    /// holds only from its reading on.
    pub(super) const fn difference(&self, whose: Whose) -> Option<f64> {
        match whose {
            Whose::Coldest | Whose::Film => self.coldest,
            Whose::Warmest => self.warmest,
            Whose::Air | Whose::Pot => None,
        }
    }

    /// The point of a track for a reading taken at `at`, after it was taken in; nothing while the
    /// temperature is not known.
    pub(super) fn point(&self, whose: Whose, at: Moment, reading: &Reading) -> Option<AirPoint> {
        let point = AirPoint {
            at_s: at.seconds(),
            temperature: Temperature::from_celsius(self.of(whose, reading)?),
            humidity: reading.humidity_pct.map(Humidity::from_percent),
            surface: self.under_film(whose, reading),
        };
        point.readable()
    }

    /// The coldest surface, read or carried, where it counts beside the air.
    fn under_film(&self, whose: Whose, reading: &Reading) -> Option<Temperature> {
        if whose != Whose::Film {
            return None;
        }
        let told = reading.surface_c.is_some() || self.coldest.is_some();
        let celsius = self.of(Whose::Coldest, reading).filter(|_| told)?;
        Some(Temperature::from_celsius(celsius))
    }
}

/// What is known of the air after a reading.
#[derive(Debug, Default, Clone, Copy, PartialEq)]
pub(in crate::session) struct AirAfter {
    carried: Carried,
    humidity_pct: Option<f64>,
    /// The latest moment at which any reading so far was entered.
    known: Moment,
    /// When a pot's temperature was read last.
    pot_read: Option<Moment>,
}

impl AirAfter {
    /// The same after one reading more.
    pub(in crate::session) fn and(before: Option<&Self>, taken: &Taken) -> Self {
        let mut after = before.copied().unwrap_or(Self { known: taken.known, ..Self::default() });
        after.carried.take(&taken.reading);
        after.humidity_pct = taken.reading.humidity_pct.or(after.humidity_pct);
        after.known = after.known.max(taken.known);
        after.pot_read = taken.reading.pot_c.map(|_| taken.at).or(after.pot_read);
        after
    }

    /// The latest moment at which a reading so far was entered.
    pub(in crate::session) const fn known(&self) -> Moment {
        self.known
    }

    /// When a pot's temperature was last read.
    pub(in crate::session) const fn pot_read(&self) -> Option<Moment> {
        self.pot_read
    }

    /// The air as it is then known, `last` being the reading: temperature, humidity and coldest
    /// surface, °C and %, each where known.
    pub(in crate::session) fn air(&self, last: &Reading) -> Reading {
        let carried = &self.carried;
        let surface = |whose| match whose {
            Whose::Coldest if carried.coldest.is_none() => last.surface_c,
            Whose::Warmest if carried.warmest.is_none() => last.surface_warmest_c,
            _ => carried.of(whose, last),
        };
        Reading {
            air_c: carried.air_c,
            humidity_pct: self.humidity_pct,
            surface_c: surface(Whose::Coldest),
            surface_warmest_c: surface(Whose::Warmest),
            pot_c: carried.of(Whose::Pot, last).filter(|_| carried.pot.is_some()),
        }
    }
}
