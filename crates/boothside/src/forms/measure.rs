//! A figure of the job by its name: how it is shown and typed in the shop's units.

use boothside_core::session::bounds::Unit;
use boothside_core::units::parse::{
    UnitError, parse_area, parse_density, parse_duration_s, parse_film_or, parse_flow,
    parse_length, parse_mass_or, parse_plain, parse_pressure_or, parse_room_volume, parse_spread,
    parse_temperature_delta, parse_temperature_or, parse_vapour_volume, parse_voc, parse_volume_or,
};
use boothside_core::units::show::{self, plain, significant};
use boothside_core::units::{Area, Density, Flow, Length, TemperatureDelta, VapourVolume, Volume};
use boothside_core::work::job::ShopUnits;

use super::say::{by_units, figure, system, unread};

/// ft² a US gallon in one m² a litre: by the definitions of foot and gallon.
const FT2_PER_GAL: f64 = 3.785_411_784 / 0.092_903_04;

/// What a figure measures; each is kept in one base unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    Temperature,
    Difference,
    Film,
    Volume,
    Mass,
    Area,
    Spread,
    Density,
    Voc,
    Vapour,
    Length,
    Pressure,
    Flow,
    Room,
    Nozzle,
    Duration,
    Seconds,
    Hours,
    Percent,
    Plain,
}

/// By the end of a figure's name; the first that fits counts.
const BY_NAME: [(&str, Measure); 24] = [
    ("flow_cup.low_s", Measure::Seconds),
    ("flow_cup.high_s", Measure::Seconds),
    ("dew_margin_c", Measure::Difference),
    ("doubles_per_c", Measure::Difference),
    ("_g_per_ml", Measure::Density),
    ("_g_per_l", Measure::Voc),
    ("_kj_per_mol", Measure::Plain),
    ("m3_per_l", Measure::Vapour),
    ("m2_per_l", Measure::Spread),
    ("_m3_per_h", Measure::Flow),
    ("_m3", Measure::Room),
    ("_m2", Measure::Area),
    ("_um", Measure::Film),
    ("_ml", Measure::Volume),
    ("_g", Measure::Mass),
    ("_kpa", Measure::Pressure),
    ("_mm", Measure::Nozzle),
    ("_pct", Measure::Percent),
    ("_c", Measure::Temperature),
    ("_s", Measure::Duration),
    ("_h", Measure::Hours),
    ("_m", Measure::Length),
    ("coats", Measure::Plain),
    ("", Measure::Plain),
];

impl Measure {
    /// Of the figure with this name.
    pub(super) fn of(field: &str) -> Self {
        let found = BY_NAME.iter().find(|(ends, _)| field.ends_with(ends));
        found.map_or(Self::Plain, |(_, measure)| *measure)
    }

    /// The figure in the shop's units.
    pub(super) fn show(self, value: f64, units: ShopUnits) -> String {
        let to = system(units);
        match self {
            Self::Temperature => figure(value, Unit::Celsius, units),
            Self::Difference => show::temperature_delta(TemperatureDelta::from_kelvin(value), to),
            Self::Film => figure(value, Unit::Micrometre, units),
            Self::Volume => figure(value, Unit::Millilitre, units),
            Self::Mass => figure(value, Unit::Gram, units),
            Self::Area => show::area(Area::from_m2(value), to),
            Self::Spread => match units {
                ShopUnits::Metric => format!("{} m²/L", significant(value)),
                ShopUnits::Us => format!("{} ft²/gal", significant(value * FT2_PER_GAL)),
            },
            Self::Density => show::density(Density::from_g_per_ml(value), to),
            Self::Voc => show::voc(Density::from_g_per_ml(value / 1000.0), to),
            Self::Vapour => show::vapour_volume(VapourVolume::from_m3_per_l(value), to),
            Self::Length => show::length(Length::from_m(value), to),
            Self::Pressure => figure(value, Unit::Kilopascal, units),
            Self::Flow => show::flow(Flow::from_m3_per_h(value), to),
            Self::Room => show::room_volume(Volume::from_ml(value * 1e6), to),
            Self::Nozzle => figure(value, Unit::Millimetre, units),
            Self::Duration => duration(value),
            Self::Seconds => format!("{} s", plain(value)),
            Self::Hours => format!("{} h", plain(value)),
            Self::Percent => format!("{} %", plain(value)),
            Self::Plain => plain(value),
        }
    }

    /// What was typed, in the base unit; a bare number is in the shop's unit.
    pub(super) fn read(self, text: &str, units: ShopUnits) -> Result<f64, String> {
        self.parsed(text.trim(), units).map_err(|error| unread(&error, self.accepted(units)))
    }

    fn parsed(self, text: &str, units: ShopUnits) -> Result<f64, UnitError> {
        let unit = self.bare_unit(units);
        let full = || match parse_plain(text) {
            Ok(_) => format!("{text} {unit}"),
            Err(_) => text.to_owned(),
        };
        match self {
            Self::Temperature => parse_temperature_or(text, unit).map(|it| it.celsius()),
            Self::Difference => parse_temperature_delta(&full()).map(|it| it.kelvin()),
            Self::Film => parse_film_or(text, unit).map(|it| it.um()),
            Self::Volume => parse_volume_or(text, unit).map(|it| it.ml()),
            Self::Mass => parse_mass_or(text, unit).map(|it| it.g()),
            Self::Area => parse_area(&full()).map(|it| it.m2()),
            Self::Spread => parse_spread(&full()),
            Self::Density => parse_density(&full()).map(|it| it.g_per_ml()),
            Self::Voc => parse_voc(&full()).map(|it| it.g_per_ml() * 1000.0),
            Self::Vapour => parse_vapour_volume(&full()).map(|it| it.m3_per_l()),
            Self::Length => parse_length(&full()).map(|it| it.m()),
            Self::Nozzle => parse_length(&full()).map(|it| it.m() * 1000.0),
            Self::Pressure => parse_pressure_or(text, unit).map(|it| it.pa() / 1000.0),
            Self::Flow => parse_flow(&full()).map(|it| it.m3_per_h()),
            Self::Room => parse_room_volume(&full()).map(|it| it.ml() / 1e6),
            Self::Duration | Self::Seconds => parse_duration_s(&full()),
            Self::Hours => parse_duration_s(&full()).map(|seconds| seconds / 3600.0),
            Self::Percent => parse_plain(text.strip_suffix('%').unwrap_or(text).trim_end()),
            Self::Plain => parse_plain(text),
        }
    }

    /// The unit of a bare number.
    const fn bare_unit(self, units: ShopUnits) -> &'static str {
        match self {
            Self::Temperature | Self::Difference => by_units(units, "C", "F"),
            Self::Film => by_units(units, "um", "mil"),
            Self::Volume => by_units(units, "mL", "floz"),
            Self::Mass => by_units(units, "g", "oz"),
            Self::Area => by_units(units, "m2", "ft2"),
            Self::Spread => by_units(units, "m2/L", "ft2/gal"),
            Self::Density => by_units(units, "g/mL", "lb/gal"),
            Self::Voc => by_units(units, "g/L", "lb/gal"),
            Self::Vapour => by_units(units, "m3/L", "ft3/gal"),
            Self::Length => by_units(units, "m", "in"),
            Self::Pressure => by_units(units, "kPa", "psi"),
            Self::Flow => by_units(units, "m3/h", "cfm"),
            Self::Room => by_units(units, "m3", "ft3"),
            Self::Nozzle => "mm",
            Self::Duration | Self::Seconds => "s",
            Self::Hours => "h",
            Self::Percent | Self::Plain => "",
        }
    }

    /// Examples of what is accepted.
    const fn accepted(self, units: ShopUnits) -> &'static str {
        match self {
            Self::Temperature => by_units(units, "19.4, 19.4C", "67, 67F"),
            Self::Difference => by_units(units, "3, 3C", "5, 5F"),
            Self::Film => by_units(units, "50, 50um", "2, 2mil"),
            Self::Volume => by_units(units, "40, 40mL", "1.5, 1.5floz"),
            Self::Mass => by_units(units, "0.1, 0.1g", "0.01, 0.01oz"),
            Self::Area => by_units(units, "1.1, 1.1m2", "12, 12ft2"),
            Self::Spread => by_units(units, "9.8, 9.8m2/L", "400, 400ft2/gal"),
            Self::Density => by_units(units, "1.17, 1.17g/mL", "9.8, 9.8lb/gal"),
            Self::Voc => by_units(units, "350, 350g/L", "2.9, 2.9lb/gal"),
            Self::Vapour => by_units(units, "0.227, 0.227m3/L", "30.4, 30.4ft3/gal"),
            Self::Length => by_units(units, "0.14, 14cm", "5.5, 5.5in"),
            Self::Pressure => by_units(units, "150, 150kPa", "22, 22psi"),
            Self::Flow => by_units(units, "4000, 4000m3/h", "2400, 2400cfm"),
            Self::Room => by_units(units, "60, 60m3", "2000, 2000ft3"),
            Self::Nozzle => "1.3, 1.3mm",
            Self::Duration => "15min, 2h, 1h30min, or seconds",
            Self::Seconds => "seconds such as 38",
            Self::Hours => "hours such as 20, or 6.5h",
            Self::Percent => "5, 5%",
            Self::Plain => "a plain number such as 4 or 1.5",
        }
    }
}

/// A figure of the job, by its name, in the shop's units.
#[must_use]
pub fn shown(field: &str, value: f64, units: ShopUnits) -> String {
    Measure::of(field).show(value, units)
}

/// A duration as it would be typed, in its largest whole unit.
fn duration(seconds: f64) -> String {
    let whole = |unit: f64| seconds > 0.0 && (seconds % unit).abs() <= 0.0;
    match seconds {
        _ if whole(3600.0) => format!("{} h", plain(seconds / 3600.0)),
        _ if whole(60.0) => format!("{} min", plain(seconds / 60.0)),
        _ => format!("{} s", plain(seconds)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_is_shown_and_typed_in_the_shop_s_units() {
        let dry = Measure::of("layers.1.dry_um");
        assert_eq!(dry.show(25.4, ShopUnits::Us), "1 mil");
        assert_eq!(dry.show(25.4, ShopUnits::Metric), "25.4 µm");
        assert_eq!(dry.read("2", ShopUnits::Us), Ok(50.8));
        assert_eq!(dry.read("50um", ShopUnits::Us), Ok(50.0));
        let density = Measure::of("sheets.x.mix.Base.density_g_per_ml");
        assert_eq!(density.show(1.198_264, ShopUnits::Us), "10.00 lb/gal");
        assert!(density.read("10", ShopUnits::Us).is_ok_and(|it| (it - 1.198_264).abs() < 1e-6));
        assert_eq!(Measure::of("a.coverage.m2_per_l").show(10.0, ShopUnits::Us), "407 ft²/gal");
        let margin = Measure::of("shop.dew_margin_c");
        assert_eq!(margin.show(3.0, ShopUnits::Us), "5.4 °F");
        assert!(margin.read("5.4", ShopUnits::Us).is_ok_and(|it| (it - 3.0).abs() < 1e-9));
    }

    #[test]
    fn a_duration_is_typed_with_its_unit_or_in_seconds() {
        let duration = Measure::of("a.duration_s");
        assert_eq!(duration.read("15min", ShopUnits::Us), Ok(900.0));
        assert_eq!(duration.read("900", ShopUnits::Us), Ok(900.0));
        assert_eq!(duration.show(900.0, ShopUnits::Us), "15 min");
        let coats = Measure::of("layers.1.coats");
        assert_eq!(coats.read("3", ShopUnits::Us), Ok(3.0));
        assert!(coats.read("3min", ShopUnits::Us).is_err());
    }

    #[test]
    fn what_is_accepted_is_in_the_shop_s_units() {
        let measures = BY_NAME.map(|(_, measure)| measure);
        for measure in measures {
            for metric in ["mL", "0g", "1g", "0um", "m2", "kPa", "9C", "4C", "m3"] {
                let told = measure.accepted(ShopUnits::Us);
                assert!(!told.contains(metric), "{measure:?}: {told}");
            }
            let example = measure.accepted(ShopUnits::Us).split(',').next().unwrap_or_default();
            if example.parse::<f64>().is_ok() {
                assert!(measure.read(example, ShopUnits::Us).is_ok(), "{measure:?}: {example}");
            }
        }
    }
}
