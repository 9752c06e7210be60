//! Quantities as text for people, in metric or US units, rounded to what an eye can use.

use super::{
    Area, Density, Film, Flow, Humidity, KinematicViscosity, Length, Mass, Moment, Pressure, Share,
    Temperature, TemperatureDelta, VapourVolume, Volume,
};

/// Which units a shop works in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum System {
    /// °C, mL, g, µm, m², kPa, m³/h.
    #[default]
    Metric,
    /// °F, fl oz and gal, oz and lb, mil, ft², psi, cfm.
    Us,
}

const ML_PER_GAL: f64 = 3_785.411_784;
const G_PER_LB: f64 = 453.592_37;
const M2_PER_FT2: f64 = 0.092_903_04;
const ML_PER_FT3: f64 = 28_316.846_592;
const LB_PER_GAL: f64 = G_PER_LB / ML_PER_GAL;
const PA_PER_PSI: f64 = 6_894.757_293_168_361;

/// A number with a fixed count of decimals, never '-0'.
#[must_use]
pub fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    if text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.')) {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

/// A number as a message gives it back: at most six decimals, no trailing zeros.
#[must_use]
pub fn plain(value: f64) -> String {
    let text = format!("{value:.6}");
    match text.trim_end_matches('0').trim_end_matches('.') {
        "0" | "-0" if value.abs() > 0.0 => format!("{value:e}"),
        "-0" => "0".to_owned(),
        short => short.to_owned(),
    }
}

/// A number with three significant digits, more only where the whole part has more.
#[must_use]
pub fn significant(value: f64) -> String {
    let decimals = match value.abs() {
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        size if size >= 1.0 => 2,
        size if size >= 0.1 || size <= 0.0 => 3,
        _ => 4,
    };
    number(value, decimals)
}

/// `19.4 °C` or `66.9 °F`.
#[must_use]
pub fn temperature(value: Temperature, system: System) -> String {
    match system {
        System::Metric => format!("{} °C", number(value.celsius(), 1)),
        System::Us => format!("{} °F", number(value.celsius() * 1.8 + 32.0, 1)),
    }
}

/// A difference: `7.9 °C` or `14.2 °F`.
#[must_use]
pub fn temperature_delta(value: TemperatureDelta, system: System) -> String {
    match system {
        System::Metric => format!("{} °C", number(value.kelvin(), 1)),
        System::Us => format!("{} °F", number(value.kelvin() * 1.8, 1)),
    }
}

/// `58 %`.
#[must_use]
pub fn humidity(value: Humidity) -> String {
    format!("{} %", number(value.percent(), 0))
}

/// A share or a proportion as percent, with one decimal where it is small.
#[must_use]
pub fn share(value: Share) -> String {
    let percent = value.fraction() * 100.0;
    format!("{} %", number(percent, usize::from(percent.abs() < 10.0)))
}

/// `206 mL`, `1.24 L`; `7.0 fl oz`, `1.25 gal`.
#[must_use]
pub fn volume(value: Volume, system: System) -> String {
    let ml = value.ml();
    match system {
        System::Metric if ml.abs() < 99.95 => format!("{} mL", number(ml, 1)),
        System::Metric if ml.abs() < 9_999.5 => format!("{} mL", number(ml, 0)),
        System::Metric => format!("{} L", significant(ml / 1000.0)),
        System::Us if ml.abs() < ML_PER_GAL => {
            format!("{} fl oz", number(ml / ML_PER_GAL * 128.0, 1))
        }
        System::Us => format!("{} gal", number(ml / ML_PER_GAL, 2)),
    }
}

/// `223.0 g`, `12.35 kg`; `7.87 oz`, `2.50 lb`.
#[must_use]
pub fn mass(value: Mass, system: System) -> String {
    mass_beside(value, value, system)
}

/// A mass in the unit that [`mass`] takes for another, so that one column has one unit.
#[must_use]
pub fn mass_beside(value: Mass, other: Mass, system: System) -> String {
    let (g, size) = (value.g(), other.g().abs());
    match system {
        System::Metric if size < 9_999.95 => format!("{} g", number(g, 1)),
        System::Metric => format!("{} kg", number(g / 1000.0, 2)),
        System::Us if size < G_PER_LB => format!("{} oz", number(g / G_PER_LB * 16.0, 2)),
        System::Us => format!("{} lb", number(g / G_PER_LB, 3)),
    }
}

/// `52.0 µm`; `2.05 mil`.
#[must_use]
pub fn film(value: Film, system: System) -> String {
    match system {
        System::Metric => format!("{} µm", number(value.um(), 1)),
        System::Us => format!("{} mil", number(value.um() / 25.4, 2)),
    }
}

/// `1.85 m²`; `19.9 ft²`.
#[must_use]
pub fn area(value: Area, system: System) -> String {
    match system {
        System::Metric => format!("{} m²", significant(value.m2())),
        System::Us => format!("{} ft²", significant(value.m2() / M2_PER_FT2)),
    }
}

/// `14.0 cm`, `1.85 m`; `5.5 in`.
#[must_use]
pub fn length(value: Length, system: System) -> String {
    match system {
        System::Metric if value.m().abs() < 0.9995 => {
            format!("{} cm", number(value.m() * 100.0, 1))
        }
        System::Metric => format!("{} m", number(value.m(), 2)),
        System::Us => format!("{} in", number(value.m() / 0.0254, 2)),
    }
}

/// A moment: `1548 g·cm`; `2.15 oz·in`. Positive is aft.
#[must_use]
pub fn moment(value: Moment, system: System) -> String {
    const G_M_PER_OZ_IN: f64 = G_PER_LB / 16.0 * 0.0254;
    match system {
        System::Metric => format!("{} g·cm", significant(value.g_m() * 100.0)),
        System::Us => format!("{} oz·in", significant(value.g_m() / G_M_PER_OZ_IN)),
    }
}

/// Mass over an area, from g/m²: `184 g/m²`; `0.0603 oz/ft²`.
#[must_use]
pub fn mass_per_area(g_per_m2: f64, system: System) -> String {
    match system {
        System::Metric => format!("{} g/m²", significant(g_per_m2)),
        System::Us => {
            let oz_per_ft2 = g_per_m2 * M2_PER_FT2 / (G_PER_LB / 16.0);
            format!("{} oz/ft²", significant(oz_per_ft2))
        }
    }
}

/// `1.170 g/mL`; `9.76 lb/gal`.
#[must_use]
pub fn density(value: Density, system: System) -> String {
    match system {
        System::Metric => format!("{} g/mL", number(value.g_per_ml(), 3)),
        System::Us => format!("{} lb/gal", number(value.g_per_ml() / LB_PER_GAL, 2)),
    }
}

/// Volatile organics per volume: `350 g/L`; `2.92 lb/gal`.
#[must_use]
pub fn voc(value: Density, system: System) -> String {
    match system {
        System::Metric => format!("{} g/L", number(value.g_per_ml() * 1000.0, 1)),
        System::Us => density(value, System::Us),
    }
}

/// `152 kPa`; `22.0 psi`.
#[must_use]
pub fn pressure(value: Pressure, system: System) -> String {
    match system {
        System::Metric => format!("{} kPa", significant(value.pa() / 1000.0)),
        System::Us => format!("{} psi", significant(value.pa() / PA_PER_PSI)),
    }
}

/// `4000 m³/h`; `2354 cfm`.
#[must_use]
pub fn flow(value: Flow, system: System) -> String {
    match system {
        System::Metric => format!("{} m³/h", significant(value.m3_per_h())),
        System::Us => {
            format!("{} cfm", significant(value.m3_per_h() * 1e6 / 60.0 / ML_PER_FT3))
        }
    }
}

/// The volume of a room: `60.0 m³`; `2119 ft³`.
#[must_use]
pub fn room_volume(value: Volume, system: System) -> String {
    match system {
        System::Metric => format!("{} m³", significant(value.ml() / 1e6)),
        System::Us => format!("{} ft³", significant(value.ml() / ML_PER_FT3)),
    }
}

/// `60.0 mm²/s` in both systems.
#[must_use]
pub fn kinematic(value: KinematicViscosity) -> String {
    format!("{} mm²/s", significant(value.mm2_per_s()))
}

/// Vapour or air per volume of solvent: `64.1 m³/L`; `8564 ft³/gal`.
#[must_use]
pub fn vapour_volume(value: VapourVolume, system: System) -> String {
    match system {
        System::Metric => format!("{} m³/L", significant(value.m3_per_l())),
        System::Us => {
            let ft3_per_gal = value.m3_per_l() * 1000.0 * ML_PER_GAL / ML_PER_FT3;
            format!("{} ft³/gal", significant(ft3_per_gal))
        }
    }
}

/// `45 s`, `13 min 20 s`, `1 h 43 min`, `3 d 4 h`; the sign in front.
#[must_use]
pub fn duration_s(seconds: f64) -> String {
    let sign = if seconds <= -0.5 { "−" } else { "" };
    let text = match seconds.abs() {
        size if size < 59.5 => format!("{} s", size.round()),
        size if size < 3_599.5 => two(size, (60.0, "min"), (1.0, "s")),
        size if size < 172_770.0 => two(size, (3600.0, "h"), (60.0, "min")),
        size => two(size, (86_400.0, "d"), (3600.0, "h")),
    };
    format!("{sign}{text}")
}

/// Seconds in two units, rounded to the smaller one, which is left out where it is 0.
fn two(seconds: f64, large: (f64, &str), small: (f64, &str)) -> String {
    let rounded = (seconds / small.0).round() * small.0;
    let whole = (rounded / large.0).floor();
    let rest = ((rounded - whole * large.0) / small.0).round();
    if rest > 0.0 {
        format!("{whole} {} {rest} {}", large.1, small.1)
    } else {
        format!("{whole} {}", large.1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_read_as_a_person_would_say_them() {
        let wanted = [
            (0.0, "0 s"),
            (45.2, "45 s"),
            (59.6, "1 min"),
            (800.0, "13 min 20 s"),
            (6_180.0, "1 h 43 min"),
            (3_599.7, "1 h"),
            (273_600.0, "3 d 4 h"),
            (-90.0, "−1 min 30 s"),
        ];
        for (seconds, text) in wanted {
            assert_eq!(duration_s(seconds), text);
        }
    }

    #[test]
    fn a_message_gives_a_number_back_without_its_last_bits() {
        for (value, text) in
            [(0.1 + 0.2, "0.3"), (60.000_000_000_000_01, "60"), (-0.0, "0"), (1e-9, "1e-9")]
        {
            assert_eq!(plain(value), text);
        }
    }

    #[test]
    fn quantities_are_shown_in_either_system() {
        let us = System::Us;
        let metric = System::Metric;
        assert_eq!(temperature(Temperature::from_celsius(-0.01), metric), "0.0 °C");
        assert_eq!(temperature(Temperature::from_celsius(18.3), us), "64.9 °F");
        assert_eq!(temperature_delta(TemperatureDelta::from_kelvin(10.0), us), "18.0 °F");
        assert_eq!(volume(Volume::from_ml(205.56), metric), "206 mL");
        assert_eq!(volume(Volume::from_ml(7570.8), us), "2.00 gal");
        assert_eq!(mass(Mass::from_g(223.04), metric), "223.0 g");
        assert_eq!(mass(Mass::from_g(223.04), us), "7.87 oz");
        let pound = Mass::from_g(G_PER_LB);
        assert_eq!(mass_beside(Mass::from_g(223.04), pound, us), "0.492 lb");
        assert_eq!(film(Film::from_um(52.0), us), "2.05 mil");
        assert_eq!(voc(Density::from_g_per_ml(0.35), metric), "350.0 g/L");
        assert_eq!(pressure(Pressure::from_pa(151_684.7), us), "22.0 psi");
        assert_eq!(flow(Flow::from_m3_per_h(4000.0), us), "2354 cfm");
        assert_eq!(moment(Moment::from_g_m(15.484), metric), "1548 g·cm");
        assert_eq!(moment(Moment::from_g_m(-28.349_523_125 * 0.0254), us), "-1.00 oz·in");
        // 1 oz over 1 ft²
        assert_eq!(mass_per_area(305.152, us), "1.00 oz/ft²");
        assert_eq!(mass_per_area(305.152, metric), "305 g/m²");
        assert_eq!(share(Share::from_fraction(0.05)), "5.0 %");
    }
}
