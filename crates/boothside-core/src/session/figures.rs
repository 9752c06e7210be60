//! The figures of line 0 that can be mended in a session, each by its name.

use crate::material::sheet::{Gap, MixRule, Role, Sheet};
use crate::material::timing::Timing;
use crate::work::job::{FullJob, Shop};
use crate::work::part::Face;

/// A figure of the job as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    /// Its name: the path in line 0, with its unit in the last key.
    pub field: String,
    /// Its value; nothing where it is not set.
    pub value: Option<f64>,
}

/// Why a figure was not changed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FigureError {
    /// There is no such figure.
    #[error("{0} is no figure of this job; accepted: one of the job's own figures")]
    Unknown(String),
    /// The job would not hold together with it.
    #[error("{0}")]
    Unfit(String),
}

/// Every figure of the job, in the order of the sheets, layers, parts and shop.
#[must_use]
pub fn figures(work: &FullJob) -> Vec<Figure> {
    let mut list = Vec::new();
    // the walk hands out places to write to, so it walks a copy
    let mut copy = work.clone();
    walk(&mut copy, &mut |field, place| {
        list.push(Figure { field: field.to_owned(), value: place.get() });
    });
    list
}

/// Sets the figure named `field`, and returns what it was.
///
/// # Errors
/// [`FigureError`] when there is none of that name or the job would not hold together; the job is
/// then as it was.
pub fn set_figure(work: &mut FullJob, field: &str, new: f64) -> Result<Option<f64>, FigureError> {
    let mut changed = work.clone();
    let mut old = None;
    walk(&mut changed, &mut |name, mut place| {
        if name == field {
            old = Some(place.get());
            place.set(new);
        }
    });
    let old = old.ok_or_else(|| FigureError::Unknown(field.to_owned()))?;
    if let Some(fault) = changed.check().first() {
        return Err(FigureError::Unfit(fault.to_string()));
    }
    *work = changed;
    Ok(old)
}

enum Place<'a> {
    Given(&'a mut f64),
    Perhaps(&'a mut Option<f64>),
    Count(&'a mut u32),
    Area(&'a mut Face),
}

impl Place<'_> {
    fn get(&self) -> Option<f64> {
        match self {
            Self::Given(value) => Some(**value),
            Self::Perhaps(value) => **value,
            Self::Count(value) => Some(f64::from(**value)),
            Self::Area(face) => Some(face.area_m2),
        }
    }

    fn set(&mut self, new: f64) {
        match self {
            Self::Given(value) => **value = new,
            Self::Perhaps(value) => **value = Some(new),
            // an area told as a number is no longer that of its shape
            Self::Area(face) => {
                face.area_m2 = new;
                (face.shape, face.edges) = (None, None);
            }
            // a count that is none becomes 0, which no job accepts
            Self::Count(value) => **value = if new.fract() == 0.0 { new as u32 } else { 0 },
        }
    }
}

type Visit<'a> = &'a mut dyn FnMut(&str, Place<'_>);

fn walk(work: &mut FullJob, visit: Visit<'_>) {
    for (name, sheet) in &mut work.sheets {
        walk_sheet(&format!("sheets.{name}"), sheet, visit);
    }
    for (row, layer) in work.system.layers.iter_mut().enumerate() {
        visit(&format!("layers.{}.coats", row + 1), Place::Count(&mut layer.coats));
        visit(&format!("layers.{}.dry_um", row + 1), Place::Perhaps(&mut layer.dry_um));
        let range =
            [("dry_least_um", &mut layer.dry_least_um), ("dry_most_um", &mut layer.dry_most_um)];
        for (name, place) in range {
            visit(&format!("layers.{}.{name}", row + 1), Place::Perhaps(place));
        }
        for step in &mut layer.prep {
            if let Some(wait) = &mut step.wait {
                walk_timing(&format!("steps.{}.wait", step.id), wait, visit);
            }
            if step.within_s.is_some() {
                let field = format!("steps.{}.within_s", step.id);
                visit(&field, Place::Perhaps(&mut step.within_s));
            }
        }
    }
    for (name, part) in &mut work.parts {
        visit(&format!("parts.{name}.arm_m"), Place::Perhaps(&mut part.arm_m));
        for face in &mut part.faces {
            let field = format!("parts.{name}.{}.area_m2", face.id);
            visit(&field, Place::Area(face));
        }
    }
    visit("shop.transfer_pct", Place::Perhaps(&mut work.shop.transfer_pct));
    visit("shop.loss_ml", Place::Perhaps(&mut work.shop.loss_ml));
    visit("shop.spare_pct", Place::Perhaps(&mut work.shop.spare_pct));
    visit("shop.scale_step_g", Place::Perhaps(&mut work.shop.scale_step_g));
    walk_booth(&mut work.shop, visit);
}

fn walk_booth(shop: &mut Shop, visit: Visit<'_>) {
    visit("shop.booth_volume_m3", Place::Perhaps(&mut shop.booth_volume_m3));
    visit("shop.booth_flow_m3_per_h", Place::Perhaps(&mut shop.booth_flow_m3_per_h));
    visit("shop.mixing_factor", Place::Perhaps(&mut shop.mixing_factor));
    visit("shop.height_m", Place::Perhaps(&mut shop.height_m));
    visit("shop.dew_margin_c", Place::Perhaps(&mut shop.dew_margin_c));
    visit("shop.cartridge_h", Place::Perhaps(&mut shop.cartridge_h));
}

fn walk_sheet(at: &str, sheet: &mut Sheet, visit: Visit<'_>) {
    if let Some(induction) = &mut sheet.induction {
        walk_timing(&format!("{at}.induction"), &mut induction.stand, visit);
    }
    if let Some(pot_life) = &mut sheet.pot_life {
        walk_timing(&format!("{at}.pot_life"), &mut pot_life.life, visit);
        let field = format!("{at}.pot_life.cleaning_reserve_s");
        visit(&field, Place::Given(&mut pot_life.cleaning_reserve_s));
    }
    walk_gap(&format!("{at}.between_coats"), &mut sheet.between_coats, visit);
    if let Some(gap) = &mut sheet.to_next_layer {
        walk_gap(&format!("{at}.to_next_layer"), gap, visit);
    }
    if let Some(wipe) = &mut sheet.wipe {
        visit(&format!("{at}.wipe.flash_s"), Place::Given(&mut wipe.flash_s));
        visit(&format!("{at}.wipe.limit_s"), Place::Given(&mut wipe.limit_s));
    }
    for cure in &mut sheet.cure {
        let stage = format!("{:?}", cure.stage).to_lowercase();
        walk_timing(&format!("{at}.cure.{stage}"), &mut cure.after, visit);
    }
    walk_mix(at, &mut sheet.mix, visit);
    walk_film(at, sheet, visit);
    let dry_density = Place::Perhaps(&mut sheet.dry_density_g_per_ml);
    visit(&format!("{at}.dry_density_g_per_ml"), dry_density);
    visit(&format!("{at}.limits.min_c"), Place::Perhaps(&mut sheet.limits.min_c));
    visit(&format!("{at}.limits.max_c"), Place::Perhaps(&mut sheet.limits.max_c));
    visit(&format!("{at}.limits.min_pct"), Place::Perhaps(&mut sheet.limits.min_pct));
    visit(&format!("{at}.limits.max_pct"), Place::Perhaps(&mut sheet.limits.max_pct));
    visit(&format!("{at}.limits.dew_margin_c"), Place::Perhaps(&mut sheet.limits.dew_margin_c));
    visit(&format!("{at}.limits.paint_min_c"), Place::Perhaps(&mut sheet.limits.paint_min_c));
    visit(&format!("{at}.limits.paint_max_c"), Place::Perhaps(&mut sheet.limits.paint_max_c));
    if let Some(vapour) = &mut sheet.vapour {
        visit(&format!("{at}.vapour.lel_pct"), Place::Given(&mut vapour.lel_pct));
        visit(&format!("{at}.vapour.m3_per_l"), Place::Given(&mut vapour.m3_per_l));
        visit(&format!("{at}.vapour.solvent_pct"), Place::Perhaps(&mut vapour.solvent_pct));
    }
}

fn walk_film(at: &str, sheet: &mut Sheet, visit: Visit<'_>) {
    if let Some(film) = &mut sheet.film {
        visit(&format!("{at}.film.wet_low_um"), Place::Perhaps(&mut film.wet_low_um));
        visit(&format!("{at}.film.wet_high_um"), Place::Perhaps(&mut film.wet_high_um));
        visit(&format!("{at}.film.dry_low_um"), Place::Perhaps(&mut film.dry_low_um));
        visit(&format!("{at}.film.dry_high_um"), Place::Perhaps(&mut film.dry_high_um));
    }
    if let Some(coverage) = &mut sheet.coverage {
        visit(&format!("{at}.coverage.m2_per_l"), Place::Given(&mut coverage.m2_per_l));
        visit(&format!("{at}.coverage.at_um"), Place::Perhaps(&mut coverage.at_um));
    }
    if let Some(gun) = &mut sheet.gun {
        visit(&format!("{at}.gun.nozzle_low_mm"), Place::Perhaps(&mut gun.nozzle_low_mm));
        visit(&format!("{at}.gun.nozzle_high_mm"), Place::Perhaps(&mut gun.nozzle_high_mm));
        visit(&format!("{at}.gun.pressure_low_kpa"), Place::Perhaps(&mut gun.pressure_low_kpa));
        visit(&format!("{at}.gun.pressure_high_kpa"), Place::Perhaps(&mut gun.pressure_high_kpa));
    }
    visit(&format!("{at}.voc_g_per_l"), Place::Perhaps(&mut sheet.voc_g_per_l));
}

fn walk_mix(at: &str, mix: &mut MixRule, visit: Visit<'_>) {
    visit(&format!("{at}.solids_pct"), Place::Perhaps(&mut mix.solids_pct));
    visit(&format!("{at}.tolerance_pct"), Place::Perhaps(&mut mix.tolerance_pct));
    for component in &mut mix.components {
        let at = format!("{at}.mix.{}", component.name);
        visit(&format!("{at}.parts"), Place::Given(&mut component.parts));
        let density = Place::Perhaps(&mut component.density_g_per_ml);
        visit(&format!("{at}.density_g_per_ml"), density);
        if component.role == Role::Reducer {
            visit(&format!("{at}.max_parts"), Place::Perhaps(&mut component.max_parts));
        }
    }
    if let Some(flow_cup) = &mut mix.flow_cup {
        visit(&format!("{at}.flow_cup.low_s"), Place::Given(&mut flow_cup.low_s));
        visit(&format!("{at}.flow_cup.high_s"), Place::Given(&mut flow_cup.high_s));
        visit(&format!("{at}.flow_cup.at_c"), Place::Perhaps(&mut flow_cup.at_c));
        visit(&format!("{at}.flow_cup.falls_pct"), Place::Perhaps(&mut flow_cup.falls_pct));
    }
}

fn walk_gap(at: &str, gap: &mut Gap, visit: Visit<'_>) {
    walk_timing(&format!("{at}.earliest"), &mut gap.earliest, visit);
    let edges = [
        ("dulls", &mut gap.dulls),
        ("open_until", &mut gap.open_until),
        ("wipe_until", &mut gap.wipe_until),
    ];
    for (name, edge) in edges {
        if let Some(timing) = edge {
            walk_timing(&format!("{at}.{name}"), timing, visit);
        }
    }
}

fn walk_timing(at: &str, timing: &mut Timing, visit: Visit<'_>) {
    visit(&format!("{at}.duration_s"), Place::Given(&mut timing.duration_s));
    if timing.up_to_s.is_some() {
        visit(&format!("{at}.up_to_s"), Place::Perhaps(&mut timing.up_to_s));
    }
    let given = [
        ("at_c", &mut timing.at_c),
        ("at_pct", &mut timing.at_pct),
        ("energy_kj_per_mol", &mut timing.energy_kj_per_mol),
        ("doubles_per_c", &mut timing.doubles_per_c),
        ("floor_c", &mut timing.floor_c),
    ];
    // one that the law does not have would be another law, not a mended figure
    for (name, place) in given.into_iter().filter(|(_, place)| place.is_some()) {
        visit(&format!("{at}.{name}"), Place::Perhaps(place));
    }
    for (row, point) in timing.table.iter_mut().enumerate() {
        visit(&format!("{at}.table.{row}.at_c"), Place::Given(&mut point.at_c));
        visit(&format!("{at}.table.{row}.duration_s"), Place::Given(&mut point.duration_s));
    }
}
