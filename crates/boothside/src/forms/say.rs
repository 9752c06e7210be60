//! What is wrong with a field, in the shop's units: what was typed and what is accepted.

use boothside_core::session::Refusal;
use boothside_core::session::bounds::Unit;
use boothside_core::session::time::Moment;
use boothside_core::units::parse::UnitError;
use boothside_core::units::show::{self, System};
use boothside_core::units::{Film, Mass, Pressure, Temperature, Volume};
use boothside_core::work::job::ShopUnits;

/// From so many mL, or g, on a metric shop speaks of litres and kilograms.
const THOUSAND: f64 = 1000.0;

/// The system of units of a shop.
pub(super) const fn system(units: ShopUnits) -> System {
    match units {
        ShopUnits::Metric => System::Metric,
        ShopUnits::Us => System::Us,
    }
}

/// One of two texts, by the shop's units.
pub(super) const fn by_units(
    units: ShopUnits,
    metric: &'static str,
    us: &'static str,
) -> &'static str {
    match units {
        ShopUnits::Metric => metric,
        ShopUnits::Us => us,
    }
}

/// A figure in the shop's units, without needless zeros: '-10 °C', '14 °F', '100 L'.
#[must_use]
pub fn figure(value: f64, unit: Unit, units: ShopUnits) -> String {
    let to = system(units);
    let text = match unit {
        Unit::Celsius => show::temperature(Temperature::from_celsius(value), to),
        Unit::Millilitre if value >= THOUSAND && units == ShopUnits::Metric => {
            format!("{} L", show::number(value / THOUSAND, 2))
        }
        Unit::Millilitre => show::volume(Volume::from_ml(value), to),
        Unit::Gram if value >= THOUSAND && units == ShopUnits::Metric => {
            format!("{} kg", show::number(value / THOUSAND, 2))
        }
        Unit::Gram => show::mass(Mass::from_g(value), to),
        Unit::Micrometre => show::film(Film::from_um(value), to),
        Unit::Kilopascal => show::pressure(Pressure::from_pa(value * THOUSAND), to),
        other => format!("{} {}", show::number(value, 2), other.sign()),
    };
    short(text.trim_end())
}

/// '19.0 °C' as '19 °C'.
fn short(text: &str) -> String {
    let (number, unit) = text.split_once(' ').unwrap_or((text, ""));
    let number = match number.contains('.') {
        true => number.trim_end_matches('0').trim_end_matches('.'),
        false => number,
    };
    format!("{number} {unit}").trim_end().to_owned()
}

/// What was typed, if anything.
fn given(typed: &str, else_given: &str) -> String {
    match typed.trim() {
        "" => else_given.to_owned(),
        typed => format!("'{typed}'"),
    }
}

/// Why the core refused what was `typed` in a field; `clock` writes a moment as the wall shows it.
#[must_use]
pub fn refused(
    refusal: &Refusal,
    typed: &str,
    units: ShopUnits,
    clock: impl Fn(Moment) -> String,
) -> String {
    let value = |value, unit| figure(value, unit, units);
    match refusal {
        Refusal::Outside { given: number, bounds, .. } => {
            let given = given(typed, &value(*number, bounds.unit));
            format!("{given} was given; accepted: {}", bounds.told(value))
        }
        Refusal::NotMore { given: number, than, unit, .. } => {
            let (given, than) = (given(typed, &value(*number, *unit)), value(*than, *unit));
            format!("{given} was given; accepted: more than is in the pot, {than}")
        }
        Refusal::Figure { given: what, accepted, .. } => {
            format!("{} was given; accepted: {accepted}", given(typed, what))
        }
        Refusal::Future { nearest } => {
            format!("that lies ahead; the nearest possible time is {}", clock(*nearest))
        }
        Refusal::OutOfOrder { nearest } => {
            format!("not possible then; the nearest possible time is {}", clock(*nearest))
        }
        other => other.to_string(),
    }
}

/// What was typed and cannot be read, with examples in the shop's units.
pub(super) fn unread(error: &UnitError, accepted: &str) -> String {
    format!("'{}' {}; accepted: {accepted}", error.given, error.problem)
}

/// Temperatures as they are typed in a shop.
pub(super) const fn temperatures(units: ShopUnits) -> &'static str {
    by_units(units, "19.4, 194 for 19.4, 19.4C or 67F", "67.2, 672 for 67.2, 67F or 19.4C")
}

/// Volumes as they are typed in a shop.
pub(super) const fn volumes(units: ShopUnits) -> &'static str {
    by_units(units, "900mL, 1.5L", "30floz, 1pt, 1.5qt, 1gal")
}

/// Weights as they are typed in a shop.
pub(super) const fn masses(units: ShopUnits) -> &'static str {
    by_units(units, "690g, 1.2kg", "24oz, 1.5lb, 1lb 8oz")
}

/// Films as they are typed in a shop.
pub(super) const fn films(units: ShopUnits) -> &'static str {
    by_units(units, "75, 75um", "3, 3mil")
}

/// Pressures as they are typed in a shop.
pub(super) const fn pressures(units: ShopUnits) -> &'static str {
    by_units(units, "150, 150kPa, 1.5bar", "22, 22psi")
}

#[cfg(test)]
mod tests {
    use super::*;
    use boothside_core::session::bounds::{AIR, HUMIDITY};

    fn outside(typed: &str, units: ShopUnits) -> String {
        let refusal = Refusal::Outside { field: "air", given: 93.333, bounds: AIR };
        refused(&refusal, typed, units, |_| String::new())
    }

    #[test]
    fn what_was_typed_is_refused_with_bounds_in_the_shop_s_units() {
        assert_eq!(outside("200F", ShopUnits::Us), "'200F' was given; accepted: 14 °F to 140 °F");
        assert_eq!(outside(" 93 ", ShopUnits::Metric), "'93' was given; accepted: -10 °C to 60 °C");
        assert_eq!(outside("", ShopUnits::Us), "200 °F was given; accepted: 14 °F to 140 °F");
    }

    #[test]
    fn figures_have_no_needless_zeros() {
        let metric = |value, unit| figure(value, unit, ShopUnits::Metric);
        let us = |value, unit| figure(value, unit, ShopUnits::Us);
        assert_eq!(metric(100_000.0, Unit::Millilitre), "100 L");
        assert_eq!(metric(239.0, Unit::Millilitre), "239 mL");
        assert_eq!(us(29.573_529_562_5, Unit::Millilitre), "1 fl oz");
        assert_eq!(metric(200_000.0, Unit::Gram), "200 kg");
        assert_eq!(us(76.2, Unit::Micrometre), "3 mil");
        assert_eq!(metric(14.0, Unit::One), "14");
        assert_eq!(metric(100.0, Unit::Percent), "100 %");
        assert_eq!(HUMIDITY.told(metric), "over 0 % to 100 %");
    }
}
