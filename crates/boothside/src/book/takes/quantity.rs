//! Quantities with units: how they are read into the file's unit, and shown again.

use boothside_core::units::parse::{
    self, Problem, UnitError, parse_density, parse_film, parse_flow, parse_length, parse_mass,
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
const STRAINER: Quantity = quantity(super::sieve::opening_um, "µm", "µm", PLAIN);
const HOURS: Quantity = quantity(hours, "h", "h", PLAIN);
const MONTHS: Quantity = quantity(months, "months", "months", PLAIN);
const AREA: Quantity = quantity(area, "m²", "ft²", (0.092_903_04, 0.0));
pub(super) const LENGTH: Quantity = quantity(tape, "m", "in", (0.0254, 0.0));
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
const ROOM: Quantity = quantity(room, "m³", "ft³", (0.028_316_846_592, 0.0));
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
    let one = parse_length(&plain).map(|it| it.m());
    let Some(at) = plain.find(|c: char| c.is_alphabetic() || matches!(c, '\'' | '"')) else {
        return one.map_err(|error| UnitError { given: text.to_owned(), ..error });
    };
    let (_, behind) = plain.split_at(at);
    let rest = behind.find(|c: char| c.is_ascii_digit()).map(|next| at + next);
    let sum = rest.and_then(|rest| {
        let (feet, inches) = plain.split_at(rest);
        let (feet, inches) = (parse_length(feet).ok()?.m(), parse_length(inches).ok()?.m());
        (feet > inches && inches >= 0.0).then_some(feet + inches)
    });
    one.or_else(|error| sum.ok_or(UnitError { given: text.to_owned(), ..error }))
}

/// `12 x 14 in`, `4ft × 18in`: lengths of which the last lends its unit to bare ones, multiplied.
fn product(text: &str, count: usize) -> Option<f64> {
    let small = text.to_lowercase().replace('×', "x");
    let factors: Vec<&str> = small.split('x').map(str::trim).collect();
    let last = factors.last().filter(|_| factors.len() == count)?;
    let unit = last.trim_start_matches(|c: char| !c.is_alphabetic() && !matches!(c, '\'' | '"'));
    let length = |factor: &&str| match parse::parse_plain(factor) {
        Ok(_) => tape(&format!("{factor} {unit}")).ok(),
        Err(_) => tape(factor).ok(),
    };
    let lengths: Vec<f64> = factors.iter().map(length).collect::<Option<_>>()?;
    lengths.iter().all(|it| *it > 0.0).then(|| lengths.iter().product())
}

/// Whether a text is bare numbers that are to be multiplied.
pub(super) fn is_bare_product(text: &str) -> bool {
    let small = text.to_lowercase().replace('×', "x");
    let is_bare = |factor: &str| parse::parse_plain(factor).is_ok();
    small.contains('x') && small.split('x').all(is_bare)
}

/// `10.2 lbs`, which beside a density is the weight of a gallon.
pub(super) fn is_weight(text: &str) -> bool {
    let small = text.trim().to_lowercase();
    let ends = ["lb", "lbs", "lb.", "lbs.", "pounds"].iter().any(|unit| small.ends_with(unit));
    ends && parse_mass(&small).is_ok()
}

fn area(text: &str) -> Result<f64, UnitError> {
    product(text, 2).map_or_else(|| parse::parse_area(text).map(|it| it.m2()), Ok)
}

fn room(text: &str) -> Result<f64, UnitError> {
    product(text, 3).map_or_else(|| parse_room_volume(text).map(|it| it.ml() / 1e6), Ok)
}

fn percent(text: &str) -> Result<f64, UnitError> {
    let bare = text.trim().trim_end_matches('%').trim();
    // a tolerance is printed with both signs
    let bare = ["+/-", "+-", "±"].iter().find_map(|sign| bare.strip_prefix(sign)).unwrap_or(bare);
    parse::parse_plain(bare).map_err(|error| UnitError {
        given: text.trim().to_owned(),
        accepted: "percent such as 46 or 46%",
        ..error
    })
}

/// Hours; a duration in other units too.
fn hours(text: &str) -> Result<f64, UnitError> {
    parse::parse_duration_s(text).map(|seconds| seconds / 3600.0)
}

/// Months; a year is twelve.
fn months(text: &str) -> Result<f64, UnitError> {
    let small = text.trim().to_lowercase();
    let number = small.trim_end_matches(|c: char| c.is_alphabetic() || c == '.').trim_end();
    let factor = match small.strip_prefix(number).unwrap_or_default().trim().trim_end_matches('.') {
        "" | "mo" | "mos" | "month" | "months" => 1.0,
        "y" | "yr" | "yrs" | "year" | "years" => 12.0,
        _ => f64::NAN,
    };
    let refuse = |problem| UnitError {
        given: text.trim().to_owned(),
        problem,
        accepted: "12 months, 1 year",
    };
    let count = parse::parse_plain(number).map_err(|error| refuse(error.problem))?;
    match factor.is_nan() {
        true => {
            Err(refuse(Problem::UnknownUnit(small.trim_start_matches(number).trim().to_owned())))
        }
        false => Ok(count * factor),
    }
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
        Takes::Strainer => STRAINER,
        Takes::Hours => HOURS,
        Takes::Months => MONTHS,
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
    fn us_sheets_are_read_as_they_print() {
        for (quantity, text, wanted) in [
            (PERCENT, "+/- 3%", 3.0),
            (PERCENT, "±3 %", 3.0),
            (HOURS, "8h", 8.0),
            (HOURS, "1 1/2 h", 1.5),
            (MONTHS, "18", 18.0),
            (MONTHS, "1 year", 12.0),
            (MONTHS, "6 mo.", 6.0),
            (AREA, "12 x 14 in", 168.0 * 0.0254 * 0.0254),
            (AREA, "4ft × 18 1/2in", 48.0 * 18.5 * 0.0254 * 0.0254),
            (ROOM, "20 x 12 x 9ft", 2160.0 * 0.3048 * 0.3048 * 0.3048),
            (STRAINER, "120 mesh", 125.0),
            (STRAINER, "190 µm", 190.0),
        ] {
            let read = (quantity.read)(text).unwrap();
            assert!((read - wanted).abs() < 1e-12 * wanted, "{text}: {read}");
        }
        for (quantity, text) in
            [(AREA, "12 x 14 x 2 in"), (AREA, "12 x in"), (MONTHS, "3 weeks"), (HOURS, "8")]
        {
            assert!((quantity.read)(text).is_err(), "{text}");
        }
        assert!(is_weight("10.2 lbs") && is_weight("10 lb") && !is_weight("10.2 lb/gal"));
        assert!(
            is_bare_product("12 x 14") && !is_bare_product("12") && !is_bare_product("12 x 14in")
        );
        let why = (STRAINER.read)("190 mesh").unwrap_err().to_string();
        assert!(why.contains("170 mesh is 90 µm") && why.contains("200 mesh is 75 µm"), "{why}");
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
