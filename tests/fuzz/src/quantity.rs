//! What a painter types for a quantity.

use boothside_core::units::parse::{
    parse_area, parse_density, parse_duration_s, parse_duration_s_or_minutes, parse_film,
    parse_humidity, parse_humidity_or_percent, parse_mass, parse_mass_or, parse_plain,
    parse_pressure, parse_proportion, parse_share, parse_temperature, parse_temperature_delta,
    parse_temperature_or, parse_volume, parse_volume_or, parse_volume_or_mass,
};

/// A quantity typed as `bytes`.
pub fn quantity(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let spans = [parse_duration_s(text), parse_duration_s_or_minutes(text)];
    for seconds in spans.into_iter().flatten() {
        assert!(seconds.is_finite() && seconds >= 0.0, "{text:?}: {seconds}");
    }
    if let Ok(number) = parse_plain(text) {
        assert!(number.is_finite(), "{text:?}");
    }
    if let Ok(proportion) = parse_proportion(text) {
        assert!(proportion.is_finite(), "{text:?}");
    }
    amounts(text);
    degrees(text);
    let refused = [
        parse_area(text).err(),
        parse_density(text).err(),
        parse_film(text).err(),
        parse_pressure(text).err(),
        parse_share(text).err(),
        parse_humidity(text).err(),
        parse_humidity_or_percent(text).err(),
        parse_volume_or_mass(text).err(),
    ];
    for why in refused.into_iter().flatten() {
        assert!(!why.to_string().is_empty() && !why.accepted.is_empty(), "{text:?}");
    }
}

fn amounts(text: &str) {
    for volume in [parse_volume(text), parse_volume_or(text, "mL")].into_iter().flatten() {
        let ml = volume.ml();
        assert!(ml.is_finite() && ml >= 0.0, "{text:?}: {ml} mL");
    }
    for mass in [parse_mass(text), parse_mass_or(text, "g")].into_iter().flatten() {
        let g = mass.g();
        assert!(g.is_finite() && g >= 0.0, "{text:?}: {g} g");
    }
}

fn degrees(text: &str) {
    for temperature in
        [parse_temperature(text), parse_temperature_or(text, "C")].into_iter().flatten()
    {
        assert!(temperature.celsius().is_finite(), "{text:?}");
    }
    if let Ok(delta) = parse_temperature_delta(text) {
        assert!(delta.kelvin().is_finite(), "{text:?}");
    }
}
