//! The figures of a job in words, from the names that the core gives them.

use boothside_core::session::ChangedFigure;
use boothside_core::work::job::ShopUnits;

use super::Words;
use super::figure::short;
use crate::view::text::clean;

/// What a figure is called, by the last keys of its name; the longest that fits counts.
const CALLED: &[(&str, &str)] = &[
    ("induction.duration_s", "stand before use"),
    ("induction.up_to_s", "stand before use, at most"),
    ("pot_life.duration_s", "pot life"),
    ("pot_life.up_to_s", "pot life, at most"),
    ("pot_life.cleaning_reserve_s", "time to clean the gun"),
    ("between_coats.earliest.duration_s", "flash between coats"),
    ("between_coats.earliest.up_to_s", "flash between coats, at most"),
    ("between_coats.dulls.duration_s", "dulls after a coat"),
    ("between_coats.dulls.up_to_s", "dulls after a coat, at most"),
    ("between_coats.open_until.duration_s", "window between coats"),
    ("between_coats.wipe_until.duration_s", "window between coats, after a wipe"),
    ("to_next_layer.earliest.duration_s", "wait for the next layer"),
    ("to_next_layer.earliest.up_to_s", "wait for the next layer, at most"),
    ("to_next_layer.dulls.duration_s", "dulls before the next layer"),
    ("to_next_layer.open_until.duration_s", "window to the next layer"),
    ("to_next_layer.wipe_until.duration_s", "window to the next layer, after a wipe"),
    ("wipe.flash_s", "flash of a wipe"),
    ("wipe.limit_s", "limit of a wipe"),
    ("cure.dustfree.duration_s", "dust free"),
    ("cure.handle.duration_s", "may be handled"),
    ("cure.mask.duration_s", "may be masked"),
    ("cure.sand.duration_s", "may be sanded"),
    ("cure.full.duration_s", "cured in full"),
    ("wait.duration_s", "wait after it"),
    ("wait.up_to_s", "wait after it, at most"),
    ("within_s", "longest before the layer"),
    ("limits.min_c", "coldest air and surface"),
    ("limits.max_c", "warmest air and surface"),
    ("limits.min_pct", "least humidity"),
    ("limits.max_pct", "most humidity"),
    ("limits.paint_min_c", "coldest paint"),
    ("limits.paint_max_c", "warmest paint"),
    ("dew_margin_c", "margin over the dew point"),
    ("solids_pct", "volume solids"),
    ("tolerance_pct", "tolerance of the mix"),
    ("density_g_per_ml", "density"),
    ("dry_density_g_per_ml", "density of the dry film"),
    ("max_parts", "most parts"),
    ("flow_cup.low_s", "flow cup, least"),
    ("flow_cup.high_s", "flow cup, most"),
    ("flow_cup.at_c", "flow cup, stated at"),
    ("flow_cup.falls_pct", "flow cup, falls with reducer by"),
    ("film.wet_low_um", "wet film a coat, least"),
    ("film.wet_high_um", "wet film a coat, most"),
    ("film.dry_low_um", "dry film a coat, least"),
    ("film.dry_high_um", "dry film a coat, most"),
    ("dry_um", "dry film wanted a coat"),
    ("dry_least_um", "least dry film of the layer"),
    ("dry_most_um", "most dry film of the layer"),
    ("voc_g_per_l", "volatile organic content"),
    ("vapour.lel_pct", "lower flammable limit"),
    ("arm_m", "arm from the hinge line"),
    ("area_m2", "area"),
    ("shop.transfer_pct", "share that lands"),
    ("shop.loss_ml", "loss in gun and strainer"),
    ("shop.spare_pct", "spare, % on top"),
    ("shop.scale_step_g", "step of the scale"),
    ("shop.booth_volume_m3", "volume of the booth"),
    ("shop.booth_flow_m3_per_h", "air that the fan moves"),
    ("shop.mixing_factor", "mixing of the air"),
    ("shop.height_m", "height over the sea"),
    ("shop.cartridge_h", "cartridges changed after"),
];

/// A figure that the Book has otherwise: its name, what it is here, what it is there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangedWords {
    /// What it is called: 'Grey primer: pot life'.
    pub name: String,
    /// What it is in the session.
    pub session: String,
    /// What it is in the Book.
    pub book: String,
}

impl Words<'_> {
    /// A figure that the Book has otherwise.
    #[must_use]
    pub fn changed_figure(&self, changed: &ChangedFigure) -> ChangedWords {
        let ChangedFigure { field, session, book } = changed;
        let here = session.map(|value| self.figure_value(field, value));
        let there = self.figure_value(field, *book);
        // where rounding hides what differs, the figure stands as its file has it
        let hidden = here.as_ref() == Some(&there);
        let (here, there) = if hidden {
            (session.map(|value| as_kept(field, value)), as_kept(field, *book))
        } else {
            (here, there)
        };
        let session = here.unwrap_or_else(|| "not set".into());
        ChangedWords { name: self.figure_name(field), session, book: there }
    }

    /// What a figure is called, from its name in the core: 'Grey primer: pot life'.
    #[must_use]
    pub fn figure_name(&self, field: &str) -> String {
        let of = self.figure_of(field);
        let fits = |(ends, _): &&(&str, &str)| {
            let before = field.strip_suffix(ends);
            before.is_some_and(|before| before.is_empty() || before.ends_with('.'))
        };
        let called = CALLED.iter().filter(fits).max_by_key(|(ends, _)| ends.len());
        // one without a name of its own is told by its keys
        let keys = || field.split('.').skip(2).collect::<Vec<_>>().join(" ").replace('_', " ");
        let called = called.map_or_else(keys, |(_, called)| (*called).to_owned());
        clean(&format!("{of}: {called}"))
    }

    /// Whose figure it is: a sheet, a component, a layer, a step, a face, the shop.
    fn figure_of(&self, field: &str) -> String {
        let work = &self.session.state().work;
        let mut keys = field.split('.');
        let (kind, name) = (keys.next().unwrap_or_default(), keys.next().unwrap_or_default());
        match kind {
            "sheets" => {
                let sheet = work.sheets.get(name);
                let sheet_name = sheet.map_or(name, |sheet| &sheet.name);
                let parts = sheet.map_or(&[][..], |sheet| &sheet.mix.components);
                let of = |component: &str| field.contains(&format!(".mix.{component}."));
                match parts.iter().find(|component| of(&component.name)) {
                    Some(component) => format!("{sheet_name}, {}", component.name),
                    None => sheet_name.to_owned(),
                }
            }
            "layers" => self.layer(name.parse().unwrap_or(0)),
            "steps" => self.step(name),
            "parts" => {
                let face = keys.next().unwrap_or_default();
                let id = boothside_core::work::job::face_id(name, face);
                match self.session.plan().index(&id) {
                    Some(face) => self.face(face),
                    None => self.part(name),
                }
            }
            _ => "the shop".to_owned(),
        }
    }

    /// A figure in the shop's units, by the unit in its name.
    pub(super) fn figure_value(&self, field: &str, value: f64) -> String {
        let figures = self.figures();
        let key = field.rsplit('.').next().unwrap_or_default();
        match key {
            "dew_margin_c" | "doubles_per_c" => {
                format!("{} {}", figures.difference(value), figures.temperature_unit())
            }
            "nozzle_low_mm" | "nozzle_high_mm" => format!("{} mm", short(value, 2)),
            _ if !figures.is_metric() && in_other_units(key) => {
                crate::forms::figure_shown(field, value, ShopUnits::Us)
            }
            _ if key.ends_with("_g_per_ml") || key.ends_with("_g_per_l") => as_kept(field, value),
            _ if key.ends_with("_s") => duration(value),
            _ if key.ends_with("_c") => figures.stated_temperature(value),
            _ if key.ends_with("_um") => figures.film(value),
            _ if key.ends_with("_ml") => figures.small_volume(value),
            _ if key.ends_with("_g") => figures.mass(value),
            _ if key.ends_with("_m2") => figures.area(value),
            _ => as_kept(field, value),
        }
    }
}

/// Whether a figure is kept in a unit that a US shop does not read.
fn in_other_units(key: &str) -> bool {
    const ENDS: [&str; 7] =
        ["_g_per_ml", "_g_per_l", "m3_per_l", "m2_per_l", "_m3_per_h", "_m3", "_kpa"];
    ENDS.iter().any(|end| key.ends_with(end)) || key.ends_with("_m")
}

/// A figure as its file has it, with the unit of its key.
fn as_kept(field: &str, value: f64) -> String {
    const UNITS: [(&str, &str); 15] = [
        ("_g_per_ml", "g/mL"),
        ("_g_per_l", "g/L"),
        ("_kj_per_mol", "kJ/mol"),
        ("m3_per_l", "m³/L"),
        ("m2_per_l", "m²/L"),
        ("_m3_per_h", "m³/h"),
        ("_m3", "m³"),
        ("_m2", "m²"),
        ("_pct", "%"),
        ("_kpa", "kPa"),
        ("_um", "µm"),
        ("_ml", "mL"),
        ("_h", "h"),
        ("_s", "s"),
        ("_m", "m"),
    ];
    let unit = UNITS.iter().find(|(ends, _)| field.ends_with(ends)).map(|(_, unit)| *unit);
    // Rust's own shortest form that reads back as the same number
    let number = format!("{value}");
    unit.map_or_else(|| number.clone(), |unit| format!("{number} {unit}"))
}

/// A duration without rounding: '1 h 5 min 30 s'.
fn duration(seconds: f64) -> String {
    if seconds.fract() != 0.0 || !(0.0..1e12).contains(&seconds) {
        return format!("{} s", short(seconds, 3));
    }
    let whole = seconds as u64;
    let parts = [(whole / 3600, "h"), (whole % 3600 / 60, "min"), (whole % 60, "s")];
    let told: Vec<String> = parts
        .iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, unit)| format!("{number} {unit}"))
        .collect();
    if told.is_empty() { "0 s".into() } else { told.join(" ") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn durations_are_told_without_rounding() {
        assert_eq!(duration(3930.0), "1 h 5 min 30 s");
        assert_eq!(duration(900.0), "15 min");
        assert_eq!(duration(0.0), "0 s");
        assert_eq!(duration(1.5), "1.5 s");
    }

    #[test]
    fn what_has_no_unit_of_the_shop_stands_as_its_file_has_it() {
        assert_eq!(as_kept("sheets.x.mix.Base.density_g_per_ml", 1.31), "1.31 g/mL");
        assert_eq!(as_kept("layers.1.coats", 2.0), "2");
        assert_eq!(as_kept("shop.mixing_factor", 3.0), "3");
    }
}
