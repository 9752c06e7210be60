//! The ranges in which typed figures must lie. Outside them it was mistyped: no thermometer, scale or comb
//! shows it.

use std::fmt;

use super::refusal::Refusal;
use crate::units::show::plain;

/// What a figure is counted in; the shop's own units are for the eye.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// °C.
    Celsius,
    /// %.
    Percent,
    /// mL.
    Millilitre,
    /// g.
    Gram,
    /// µm.
    Micrometre,
    /// kPa.
    Kilopascal,
    /// mm.
    Millimetre,
    /// Turns of a control.
    Turn,
    /// h.
    Hour,
    /// s.
    Second,
    /// A count.
    One,
}

impl Unit {
    /// Its sign; nothing for a count.
    #[must_use]
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Celsius => "°C",
            Self::Percent => "%",
            Self::Millilitre => "mL",
            Self::Gram => "g",
            Self::Micrometre => "µm",
            Self::Kilopascal => "kPa",
            Self::Millimetre => "mm",
            Self::Turn => "turns",
            Self::Hour => "h",
            Self::Second => "s",
            Self::One => "",
        }
    }
}

/// The range in which a figure must lie.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Its low end.
    pub low: f64,
    /// Its high end, which is in it.
    pub high: f64,
    /// Whether the low end itself is outside.
    pub above_low: bool,
    /// What both are counted in.
    pub unit: Unit,
}

impl Bounds {
    const fn from(low: f64, high: f64, unit: Unit) -> Self {
        Self { low, high, above_low: false, unit }
    }

    const fn above(low: f64, high: f64, unit: Unit) -> Self {
        Self { low, high, above_low: true, unit }
    }

    /// Whether `value` lies in it.
    #[must_use]
    pub fn hold(&self, value: f64) -> bool {
        let low = if self.above_low { value > self.low } else { value >= self.low };
        low && value <= self.high
    }

    /// The value, where it lies in it.
    pub(super) fn check(&self, field: &'static str, value: f64) -> Result<f64, Refusal> {
        if self.hold(value) {
            return Ok(value);
        }
        Err(Refusal::Outside { field, given: value, bounds: *self })
    }

    /// Both ends as text, each by `value`: 'over 0 mL to 100 L'.
    #[must_use]
    pub fn told(&self, value: impl Fn(f64, Unit) -> String) -> String {
        let over = if self.above_low { "over " } else { "" };
        format!("{over}{} to {}", value(self.low, self.unit), value(self.high, self.unit))
    }
}

impl fmt::Display for Bounds {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.told(in_base))
    }
}

/// A value in the unit in which it is kept.
pub(super) fn in_base(value: f64, unit: Unit) -> String {
    format!("{} {}", plain(value), unit.sign()).trim_end().to_owned()
}

/// Temperature of the air: what a spray shop can have.
pub const AIR: Bounds = Bounds::from(-10.0, 60.0, Unit::Celsius);
/// Of a surface, or of a mixed pot.
pub const SURFACE: Bounds = Bounds::from(-10.0, 80.0, Unit::Celsius);
/// Relative humidity.
pub const HUMIDITY: Bounds = Bounds::above(0.0, 100.0, Unit::Percent);
/// An amount by volume.
pub(super) const VOLUME: Bounds = Bounds::above(0.0, 100_000.0, Unit::Millilitre);
/// What is left, by volume.
pub(super) const LEFT: Bounds = Bounds::from(0.0, 100_000.0, Unit::Millilitre);
/// An amount by weight.
pub(super) const WEIGHT: Bounds = Bounds::above(0.0, 200_000.0, Unit::Gram);
/// What a scale shows.
pub(super) const MASS: Bounds = Bounds::from(0.0, 200_000.0, Unit::Gram);
/// Combs, wheels and gauges of the trade end well below this: common practice, no source.
pub(super) const FILM: Bounds = Bounds::from(0.1, 5000.0, Unit::Micrometre);
/// The film that lies under a layer.
pub(super) const UNDER: Bounds = Bounds::from(0.0, 5000.0, Unit::Micrometre);
/// Up to what shop air gives: common practice, no source.
pub(super) const INLET: Bounds = Bounds::from(5.0, 1000.0, Unit::Kilopascal);
/// More turns than a needle has.
pub(super) const TURNS: Bounds = Bounds::from(0.0, 20.0, Unit::Turn);
/// Seconds in a flow cup.
pub(super) const FLOW_CUP: Bounds = Bounds::above(0.0, 600.0, Unit::Second);
/// Plugs and masks.
pub(super) const COUNT: Bounds = Bounds::from(0.0, 9_999.0, Unit::One);
/// Hours behind cartridges.
pub(super) const HOURS: Bounds = Bounds::from(0.0, 10_000.0, Unit::Hour);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_end_is_in_it_unless_it_says_over() {
        assert!(AIR.hold(-10.0) && AIR.hold(60.0) && !AIR.hold(60.1) && !AIR.hold(f64::NAN));
        assert!(!HUMIDITY.hold(0.0) && HUMIDITY.hold(0.1) && HUMIDITY.hold(100.0));
        assert_eq!(AIR.to_string(), "-10 °C to 60 °C");
        assert_eq!(VOLUME.to_string(), "over 0 mL to 100000 mL");
        assert_eq!(COUNT.to_string(), "0 to 9999");
    }
}
