//! Quantities with units: how they are read into the file's unit, and shown again.

use boothside_core::units::parse::{
    self, UnitError, parse_density, parse_film, parse_flow, parse_length, parse_mass,
    parse_pressure, parse_room_volume, parse_spread, parse_temperature, parse_temperature_delta,
    parse_vapour_volume, parse_voc, parse_volume,
};
use boothside_core::units::show;

use super::Takes;

/// A quantity: the unit of the file, the units of the shops, and what is typed.
#[derive(Debug, Clone, Copy)]
pub struct Quantity {
    /// Reads a text into the file's unit.
    pub read: fn(&str) -> Result<f64, UnitError>,
    /// The file's unit as it is written, which is a metric shop's too.
    metric: &'static str,
    /// A US shop's unit.
    us: &'static str,
    /// What one US unit is in the file's unit, and the file's value of the US unit's zero.
    us_scale: (f64, f64),
}

const ML_PER_GAL: f64 = 3_785.411_784;
const G_PER_LB: f64 = 453.592_37;
const PLAIN: (f64, f64) = (1.0, 0.0);

const fn quantity(
    read: fn(&str) -> Result<f64, UnitError>,
    metric: &'static str,
    us: &'static str,
    us_scale: (f64, f64),
) -> Quantity {
    Quantity { read, metric, us, us_scale }
}

pub(super) const VOLUME: Quantity =
    quantity(|text| parse_volume(text).map(|it| it.ml()), "mL", "fl oz", (ML_PER_GAL / 128.0, 0.0));

const TEMPERATURE: Quantity = quantity(
    |text| parse_temperature(text).map(|it| it.celsius()),
    "°C",
    "°F",
    (1.0 / 1.8, -32.0 / 1.8),
);
const DIFFERENCE: Quantity = quantity(
    |text| parse_temperature_delta(text).map(|it| it.kelvin()),
    "°C",
    "°F",
    (1.0 / 1.8, 0.0),
);
const DENSITY: Quantity = quantity(
    |text| parse_density(text).map(|it| it.g_per_ml()),
    "g/mL",
    "lb/gal",
    (G_PER_LB / ML_PER_GAL, 0.0),
);
const FILM: Quantity =
    quantity(|text| parse_film(text).map(|it| it.um()), "µm", "mil", (25.4, 0.0));
const BORE: Quantity =
    quantity(|text| parse_length(text).map(|it| it.m() * 1000.0), "mm", "mm", PLAIN);
const AREA: Quantity =
    quantity(|text| parse::parse_area(text).map(|it| it.m2()), "m²", "ft²", (0.092_903_04, 0.0));
const LENGTH: Quantity = quantity(tape, "m", "in", (0.0254, 0.0));
const PRESSURE: Quantity = quantity(
    |text| parse_pressure(text).map(|it| it.pa() / 1000.0),
    "kPa",
    "psi",
    (6.894_757_293_168_361, 0.0),
);
const FLOW: Quantity = quantity(
    |text| parse_flow(text).map(|it| it.m3_per_h()),
    "m³/h",
    "cfm",
    (1.699_010_795_52, 0.0),
);
const ROOM: Quantity = quantity(
    |text| parse_room_volume(text).map(|it| it.ml() / 1e6),
    "m³",
    "ft³",
    (0.028_316_846_592, 0.0),
);
const MASS: Quantity =
    quantity(|text| parse_mass(text).map(|it| it.g()), "g", "oz", (G_PER_LB / 16.0, 0.0));
const CONTENT: Quantity = quantity(
    |text| parse_voc(text).map(|it| it.g_per_ml() * 1000.0),
    "g/L",
    "lb/gal",
    (1000.0 * G_PER_LB / ML_PER_GAL, 0.0),
);
const SPREAD: Quantity =
    quantity(parse_spread, "m²/L", "ft²/gal", (0.092_903_04 / (ML_PER_GAL / 1000.0), 0.0));
const VAPOUR: Quantity = quantity(
    |text| parse_vapour_volume(text).map(|it| it.m3_per_l()),
    "m³/L",
    "ft³/gal",
    (0.028_316_846_592 / (ML_PER_GAL / 1000.0), 0.0),
);
const PERCENT: Quantity = quantity(percent, "%", "%", PLAIN);
const SECONDS: Quantity = quantity(parse::parse_duration_s, "s", "s", PLAIN);

/// A length as it is read off a tape: `36 1/2 in`, `3ft 6in`, `12' 6"` too.
fn tape(text: &str) -> Result<f64, UnitError> {
    let plain = text.replace(['’', '′'], "'").replace(['”', '″'], "\"");
    let plain = without_fractions(&plain);
    let one = parse_length(&plain).map(|it| it.m());
    let Some(at) = plain.find(|c: char| c.is_alphabetic() || matches!(c, '\'' | '"')) else {
        return one.map_err(|error| UnitError { given: text.to_owned(), ..error });
    };
    let rest = plain[at..].find(|c: char| c.is_ascii_digit()).map(|next| at + next);
    let sum = rest.and_then(|rest| {
        let (feet, inches) = plain.split_at(rest);
        let (feet, inches) = (parse_length(feet).ok()?.m(), parse_length(inches).ok()?.m());
        (feet > inches && inches >= 0.0).then_some(feet + inches)
    });
    one.or_else(|error| sum.ok_or(UnitError { given: text.to_owned(), ..error }))
}

/// `text` with `36 1/2`, `36-1/2` and `1/16` as decimals.
fn without_fractions(text: &str) -> String {
    let Some((before, after)) = text.split_once('/') else { return text.to_owned() };
    let digits_at_end = |text: &str| text.bytes().rev().take_while(u8::is_ascii_digit).count();
    let below_ends = after.bytes().take_while(u8::is_ascii_digit).count();
    let (rest, above) = before.split_at(before.len() - digits_at_end(before));
    let number = |text: &str| text.parse::<f64>().ok();
    let (Some(above), Some(below)) = (number(above), number(&after[..below_ends])) else {
        return text.to_owned();
    };
    let trimmed = rest.trim_end_matches([' ', '-']);
    let (head, whole) = trimmed.split_at(trimmed.len() - digits_at_end(trimmed));
    let sum = number(whole).unwrap_or(0.0) + above / below;
    if !(below > 0.0 && sum.is_finite()) {
        return text.to_owned();
    }
    // what is no whole number before the fraction keeps its place: '3 ft 1/4 in'
    let head = if whole.is_empty() { rest } else { head };
    format!("{head}{sum}{}", &after[below_ends..])
}

fn percent(text: &str) -> Result<f64, UnitError> {
    let bare = text.trim().trim_end_matches('%').trim();
    parse::parse_plain(bare).map_err(|error| UnitError {
        given: text.trim().to_owned(),
        accepted: "percent such as 46 or 46%",
        ..error
    })
}

/// The quantity that a field takes, where it takes one.
#[must_use]
pub(super) const fn of(takes: Takes) -> Option<Quantity> {
    Some(match takes {
        Takes::Percent => PERCENT,
        Takes::Seconds => SECONDS,
        Takes::Temperature => TEMPERATURE,
        Takes::Difference => DIFFERENCE,
        Takes::Density => DENSITY,
        Takes::Film => FILM,
        Takes::Bore => BORE,
        Takes::Area => AREA,
        Takes::Length => LENGTH,
        Takes::Pressure => PRESSURE,
        Takes::Flow => FLOW,
        Takes::Room => ROOM,
        Takes::Volume => VOLUME,
        Takes::Mass => MASS,
        Takes::Content => CONTENT,
        Takes::Spread => SPREAD,
        Takes::Vapour => VAPOUR,
        _ => return None,
    })
}

impl Quantity {
    /// The unit of a bare number in a shop.
    #[must_use]
    pub const fn unit(&self, us: bool) -> &'static str {
        if us { self.us } else { self.metric }
    }

    /// The file's value, written so that it reads back to the same.
    #[must_use]
    pub fn exactly(&self, value: f64) -> String {
        format!("{value} {}", self.metric)
    }

    /// The file's value in a shop's unit, rounded for the eye.
    #[must_use]
    pub fn rounded(&self, value: f64, us: bool) -> String {
        let (one, zero) = self.us_scale;
        let shown = if us { (value - zero) / one } else { value };
        format!("{} {}", four_digits(shown), self.unit(us))
    }
}

/// Four significant digits, without zeros at the end.
fn four_digits(value: f64) -> String {
    let decimals = (1..=5).rev().find(|decimals| value.abs() < 10_f64.powi(4 - decimals));
    let text = show::number(value, decimals.unwrap_or(0) as usize);
    match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    }
}

/// A number without the last bits that a change of units leaves: 13 significant digits.
#[must_use]
pub(super) fn tidy(value: f64) -> f64 {
    format!("{value:.12e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tape_is_read_with_feet_and_fractions() {
        for (text, m) in [
            ("36.5in", 36.5 * 0.0254),
            ("36 1/2 in", 36.5 * 0.0254),
            ("36-1/2\"", 36.5 * 0.0254),
            ("1/16 in", 0.0254 / 16.0),
            ("3ft 6in", 42.0 * 0.0254),
            ("12' 6\"", 150.0 * 0.0254),
            ("3 ft 6 1/4 in", 42.25 * 0.0254),
            ("3 ft 1/4 in", 36.25 * 0.0254),
            ("-14cm", -0.14),
            ("1.2m", 1.2),
        ] {
            let read = tape(text).unwrap();
            assert!((read - m).abs() < 1e-12, "{text}: {read}");
        }
        for wrong in ["3/0 in", "1/2", "6in 3ft", "a/b", "/", "1//2 in", "4 1/2", "1.5/2 in"] {
            assert!(tape(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn a_shop_reads_the_same_quantity_in_its_own_units() {
        let read = |quantity: Quantity, text: &str| tidy((quantity.read)(text).unwrap());
        // SI Brochure and NIST SP 811 factors, as the units' own tests have them
        for (quantity, text, metric, us) in [
            (DENSITY, "9.8 lb/gal", "1.174 g/mL", "9.8 lb/gal"),
            (TEMPERATURE, "75F", "23.89 °C", "75 °F"),
            (DIFFERENCE, "5F", "2.778 °C", "5 °F"),
            (FILM, "2mil", "50.8 µm", "2 mil"),
            (PRESSURE, "22 psi", "151.7 kPa", "22 psi"),
            (BORE, "1.4mm", "1.4 mm", "1.4 mm"),
            (SPREAD, "400 ft2/gal", "9.817 m²/L", "400 ft²/gal"),
            (VOLUME, "32 fl oz", "946.4 mL", "32 fl oz"),
            (CONTENT, "3.5 lb/gal", "419.4 g/L", "3.5 lb/gal"),
        ] {
            let value = read(quantity, text);
            assert_eq!(quantity.rounded(value, false), metric);
            assert_eq!(quantity.rounded(value, true), us);
            assert_eq!(read(quantity, &quantity.exactly(value)).to_bits(), value.to_bits());
        }
    }
}
