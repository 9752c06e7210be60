//! A gloved hand leaves out the point: `194` is 19.4 where 194 cannot be.

use boothside_core::session::bounds::{AIR, Bounds, HUMIDITY, SURFACE};
use boothside_core::units::parse::{UnitError, parse_humidity_or_percent, parse_temperature_or};
use boothside_core::work::job::ShopUnits;

use super::FieldName;

/// Fewer digits are no number with its tenth: 65 is rather °F in a metric shop.
const LEAST_DIGITS: usize = 3;

/// The range of a figure of a reading; nothing for any other field.
pub(super) const fn range_of(name: FieldName) -> Option<Bounds> {
    match name {
        FieldName::Air => Some(AIR),
        FieldName::Surface | FieldName::SurfaceWarmest | FieldName::PotTemperature => Some(SURFACE),
        FieldName::Humidity => Some(HUMIDITY),
        _ => None,
    }
}

/// A figure of a reading as it is kept: °C, or %.
pub(super) fn parse(name: FieldName, text: &str, units: ShopUnits) -> Result<f64, UnitError> {
    let text = with_point(name, text, units).unwrap_or_else(|| text.to_owned());
    plain(name, &text, units)
}

fn plain(name: FieldName, text: &str, units: ShopUnits) -> Result<f64, UnitError> {
    if name == FieldName::Humidity {
        return parse_humidity_or_percent(text).map(|humidity| humidity.percent());
    }
    let unit = if units == ShopUnits::Us { "F" } else { "C" };
    parse_temperature_or(text, unit).map(|temperature| temperature.celsius())
}

/// `194` with its point, '19.4', where 194 lies outside the field's range and 19.4 in it.
fn with_point(name: FieldName, text: &str, units: ShopUnits) -> Option<String> {
    let range = range_of(name)?;
    let text = text.trim();
    let digits = text.strip_prefix(['-', '−']).unwrap_or(text);
    if digits.len() < LEAST_DIGITS || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let fits = |text: &str| plain(name, text, units).is_ok_and(|value| range.hold(value));
    let (whole, tenth) = text.split_at(text.len() - 1);
    let tenths = format!("{whole}.{tenth}");
    (!fits(text) && fits(&tenths)).then_some(tenths)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(name: FieldName, text: &str, units: ShopUnits) -> Option<f64> {
        parse(name, text, units).ok().map(|value| (value * 1e6).round() / 1e6)
    }

    #[test]
    fn a_bare_number_that_cannot_be_is_read_as_tenths() {
        let metric = |name, text| read(name, text, ShopUnits::Metric);
        assert_eq!(metric(FieldName::Air, "194"), Some(19.4));
        assert_eq!(metric(FieldName::Air, "-052"), Some(-5.2));
        assert_eq!(metric(FieldName::Surface, "188"), Some(18.8));
        assert_eq!(metric(FieldName::Humidity, "585"), Some(58.5));
        let us = |name, text| read(name, text, ShopUnits::Us);
        assert_eq!(us(FieldName::Air, "672"), Some(19.555_556), "67.2 °F");
    }

    #[test]
    fn what_can_be_stays_as_typed_and_two_digits_are_no_tenths() {
        assert_eq!(read(FieldName::Air, "104", ShopUnits::Us), Some(40.0), "104 °F can be");
        assert_eq!(read(FieldName::Humidity, "100", ShopUnits::Metric), Some(100.0));
        assert_eq!(read(FieldName::Air, "65", ShopUnits::Metric), Some(65.0), "refused later");
        assert_eq!(read(FieldName::Air, "194C", ShopUnits::Metric), Some(194.0));
        assert_eq!(read(FieldName::Air, "9999", ShopUnits::Metric), Some(9999.0));
        assert_eq!(read(FieldName::Amount, "194", ShopUnits::Metric), Some(194.0));
    }
}
