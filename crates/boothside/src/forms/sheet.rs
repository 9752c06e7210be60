//! What the sheet asks for, before the hint of the field that it is about.

use boothside_core::material::sheet::{MeasuredAt, Sheet};
use boothside_core::work::job::ShopUnits;

const KPA_PER_PSI: f64 = 6.894_757_293_168_361;
const UM_PER_MIL: f64 = 25.4;

/// `hint` with the nozzle that the sheet asks for before it.
pub(super) fn nozzle(sheet: Option<&Sheet>, hint: &str) -> String {
    let gun = sheet.and_then(|sheet| sheet.gun).unwrap_or_default();
    before(hint, range((gun.nozzle_low_mm, gun.nozzle_high_mm), 1.0, 2), "mm")
}

/// The same with the air's pressure, and where it is measured if not at the inlet.
pub(super) fn pressure(sheet: Option<&Sheet>, units: ShopUnits, hint: &str) -> String {
    let gun = sheet.and_then(|sheet| sheet.gun).unwrap_or_default();
    let ends = (gun.pressure_low_kpa, gun.pressure_high_kpa);
    let (range, unit) = match units {
        ShopUnits::Metric => (range(ends, 1.0, 0), "kPa"),
        ShopUnits::Us => (range(ends, KPA_PER_PSI, 1), "psi"),
    };
    let place = if gun.measured_at == Some(MeasuredAt::Cap) { " at the cap" } else { "" };
    before(hint, range, &format!("{unit}{place}"))
}

/// The same with the wet film of a coat.
pub(super) fn wet_film(sheet: Option<&Sheet>, units: ShopUnits, hint: &str) -> String {
    let film = sheet.and_then(|sheet| sheet.film).unwrap_or_default();
    let ends = (film.wet_low_um, film.wet_high_um);
    let (range, unit) = match units {
        ShopUnits::Metric => (range(ends, 1.0, 0), "µm"),
        ShopUnits::Us => (range(ends, UM_PER_MIL, 1), "mil"),
    };
    before(hint, range, unit)
}

fn before(hint: &str, range: Option<String>, unit: &str) -> String {
    range.map_or_else(|| hint.to_owned(), |range| format!("sheet: {range} {unit} \u{b7} {hint}"))
}

/// '1.2 to 1.4', 'from 1.2', 'up to 1.4'; nothing where neither end is set.
fn range(
    (low, high): (Option<f64>, Option<f64>),
    per_unit: f64,
    decimals: usize,
) -> Option<String> {
    let text = |value: f64| {
        let text = format!("{:.decimals$}", value / per_unit);
        if decimals == 0 { text } else { text.trim_end_matches('0').trim_end_matches('.').into() }
    };
    match (low.map(text), high.map(text)) {
        (None, None) => None,
        (Some(low), None) => Some(format!("from {low}")),
        (None, Some(high)) => Some(format!("up to {high}")),
        (Some(low), Some(high)) if low == high => Some(low),
        (Some(low), Some(high)) => Some(format!("{low} to {high}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_is_said_in_the_shop_s_unit() {
        assert_eq!(range((Some(1.2), Some(1.4)), 1.0, 2).as_deref(), Some("1.2 to 1.4"));
        assert_eq!(range((Some(1.3), Some(1.3)), 1.0, 2).as_deref(), Some("1.3"));
        let psi = (Some(151.684_7), Some(179.263_7));
        assert_eq!(range(psi, KPA_PER_PSI, 1).as_deref(), Some("22 to 26"));
        assert_eq!(range((Some(100.0), None), 1.0, 0).as_deref(), Some("from 100"));
        assert_eq!(range((None, Some(100.0)), 1.0, 0).as_deref(), Some("up to 100"));
        assert_eq!(range((None, None), 1.0, 0), None);
    }
}
