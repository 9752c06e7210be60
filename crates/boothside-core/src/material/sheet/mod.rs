//! A material's sheet: the numbers that came with the can. What the can's sheet does not say
//! stays out of the file, and everything that would need it says 'not set'.

use serde::{Deserialize, Serialize};

use super::flow_cup::FlowCup;
use super::timing::Timing;
use crate::fault::{Fault, Faults};
use crate::typed::{self, Typed};

/// What carries the binder and leaves while drying.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Carrier {
    /// Waterborne.
    Water,
    /// Solventborne.
    Solvent,
}

/// What a safety data sheet may warn of and the screens repeat as a caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hazard {
    /// An isocyanate hardener: a sensitiser.
    Isocyanate,
    /// Flammable vapour.
    Flammable,
    /// Chromates.
    Chromate,
}

/// The basis on which the parts of a mix are stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Parts by volume.
    Volume,
    /// Parts by weight.
    Weight,
}

/// What a component of a mix is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The pigmented or resin part.
    Base,
    /// The part that starts the reaction; its meeting with the base is the pot's birth.
    Activator,
    /// Thinner, or water in a waterborne material.
    Reducer,
}

/// One component of a mix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Component {
    /// What the can says.
    pub name: String,
    /// What it is in the mix.
    pub role: Role,
    /// Its parts in the ratio.
    pub parts: f64,
    /// Its density, g/mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_g_per_ml: Option<f64>,
    /// Most parts that the sheet allows of it, for a reducer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_parts: Option<f64>,
}

/// The recipe on the sheet.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MixRule {
    /// Parts by volume or by weight.
    pub by: Basis,
    /// The components in the order in which they are poured.
    pub components: Vec<Component>,
    /// How far the ratio may be off, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance_pct: Option<f64>,
    /// Volume solids of the mix before any reducer, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solids_pct: Option<f64>,
    /// Mesh to strain through, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub strain_um: Option<f64>,
    /// The flow cup's seconds for the mix as sprayed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow_cup: Option<FlowCup>,
}

/// The stand after mixing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Induction {
    /// How long the mix stands.
    pub stand: Timing,
    /// Whether the stand counts in the pot's life, as the sheet says.
    pub inside_pot_life: bool,
}

/// How long a mixed pot may be used.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PotLife {
    /// Life from birth.
    pub life: Timing,
    /// The end of the life that is kept for cleaning the gun, s.
    pub cleaning_reserve_s: f64,
}

/// Who opens a gap: the painter's eye, the sheet's stated minimum, or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OpenedBy {
    /// 'It has dulled.'
    Eye,
    /// The stated minimum.
    Clock,
    /// Both of them.
    Both,
}

/// What lies between two coats or two layers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gap {
    /// The earliest next coat, counted from the end of a face.
    pub earliest: Timing,
    /// When to look for dulling, where the sheet states it apart from `earliest`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dulls: Option<Timing>,
    /// Who opens the gap.
    pub by: OpenedBy,
    /// Until when the next coat may go on directly, counted from the beginning of a face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub open_until: Option<Timing>,
    /// Until when it may go on after a wipe or scuff, counted from the beginning of a face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wipe_until: Option<Timing>,
}

/// A solvent wipe that opens a window again.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WipeRule {
    /// The wipe's own flash, s.
    pub flash_s: f64,
    /// How long after a wipe the next coat may go on, s.
    pub limit_s: f64,
}

/// A stage of cure, in rising order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CureStage {
    /// Dust no longer sticks.
    DustFree,
    /// The part may be handled and turned.
    Handle,
    /// The film may be masked over.
    Mask,
    /// It may be sanded.
    Sand,
    /// Cured in full.
    Full,
}

/// A stage of cure with its time from the end of a face's last coat.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cure {
    /// Which stage.
    pub stage: CureStage,
    /// How long after the face was finished.
    pub after: Timing,
}

/// The air and surface in which the material may be sprayed.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Coldest air and surface, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub min_c: Option<f64>,
    /// Warmest air and surface, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_c: Option<f64>,
    /// Highest humidity, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_pct: Option<f64>,
    /// Least margin of the surface over the dew point: a difference, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_margin_c: Option<f64>,
    /// Coldest mixed paint, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paint_min_c: Option<f64>,
    /// Warmest mixed paint, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub paint_max_c: Option<f64>,
}

/// The vapour of a material's solvent, for an estimate of its share of the lower flammable limit.
/// Limits differ between sources by up to 30 %, so the figure's origin goes with it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vapour {
    /// Lower flammable limit (LEL) of the solvent's vapour in air, % by volume.
    pub lel_pct: f64,
    /// Vapour that a litre of the solvent gives, m³.
    pub m3_per_l: f64,
    /// Solvent in the mix as sprayed, % by volume. Where it is not set, all that is not solids
    /// counts as solvent, which errs to the safe side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solvent_pct: Option<f64>,
    /// Where the figures come from, as the painter noted it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// A material's sheet. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// Format of the file: 1.
    pub format: u32,
    /// What the painter calls the material.
    pub name: String,
    /// Water or solvent.
    pub carrier: Carrier,
    /// What the safety data sheet warns of.
    #[serde(default)]
    pub hazards: Vec<Hazard>,
    /// The recipe.
    pub mix: MixRule,
    /// The stand after mixing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub induction: Option<Induction>,
    /// The mixed pot's life.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pot_life: Option<PotLife>,
    /// Between two coats of this material.
    pub between_coats: Gap,
    /// Between the last coat of this material and the next layer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to_next_layer: Option<Gap>,
    /// The wipe that opens a window again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wipe: Option<WipeRule>,
    /// Stages of cure.
    #[serde(default)]
    pub cure: Vec<Cure>,
    /// Where it may be sprayed.
    #[serde(default)]
    pub limits: Limits,
    /// The density of the dry film, g/mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_density_g_per_ml: Option<f64>,
    /// The solvent's vapour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vapour: Option<Vapour>,
    /// The technical sheet's own title and date, as the painter noted it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Whether it is kept only for what it was used in: it is not offered for anything new.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
    /// What the painter typed for its figures.
    #[serde(default, skip_serializing_if = "Typed::is_empty")]
    pub typed: Typed,
}

impl Sheet {
    /// Whether activator meets base, so that a pot of it has a birth.
    #[must_use]
    pub fn reacts(&self) -> bool {
        self.mix.components.iter().any(|component| component.role == Role::Activator)
    }

    /// The stated time of a stage of cure.
    #[must_use]
    pub fn cure_after(&self, stage: CureStage) -> Option<&Timing> {
        self.cure.iter().find(|cure| cure.stage == stage).map(|cure| &cure.after)
    }

    /// Everything in it that does not fit.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        if self.format != 1 {
            faults.add("format", self.format, "1");
        }
        faults.name("name", &self.name);
        faults.within("mix", |faults| self.mix.check(faults));
        if let Some(induction) = &self.induction {
            faults.within("induction.stand", |faults| induction.stand.check(faults));
        }
        if let Some(pot_life) = &self.pot_life {
            faults.within("pot_life", |faults| pot_life.check(faults));
        }
        faults.within("between_coats", |faults| self.between_coats.check(faults));
        if let Some(gap) = &self.to_next_layer {
            faults.within("to_next_layer", |faults| gap.check(faults));
        }
        if let Some(wipe) = &self.wipe {
            faults.within("wipe", |faults| wipe.check(faults));
        }
        for (row, cure) in self.cure.iter().enumerate() {
            faults.within(format!("cure[{row}].after"), |faults| {
                cure.after.check(faults);
            });
        }
        faults.within("limits", |faults| self.limits.check(faults));
        if let Some(density) = self.dry_density_g_per_ml {
            faults.within_range("dry_density_g_per_ml", density, 0.5, 10.0);
        }
        if let Some(vapour) = &self.vapour {
            faults.within("vapour", |faults| vapour.check(faults));
        }
        typed::check(&self.typed, &mut faults);
        faults.into_found()
    }
}

impl MixRule {
    fn check(&self, faults: &mut Faults) {
        if self.components.is_empty() || self.components.len() > 8 {
            faults.add("components", format!("{} of them", self.components.len()), "1 to 8");
        }
        for (row, component) in self.components.iter().enumerate() {
            faults.within(format!("components[{row}]"), |faults| {
                faults.name("name", &component.name);
                faults.positive("parts", component.parts);
                component.check(faults);
                if self.components[..row].iter().any(|earlier| earlier.name == component.name) {
                    faults.add("name", &component.name, "a name that no other component has");
                }
            });
        }
        if let Some(solids_pct) = self.solids_pct {
            faults.within_range("solids_pct", solids_pct, 1.0, 100.0);
        }
        if let Some(tolerance_pct) = self.tolerance_pct {
            faults.within_range("tolerance_pct", tolerance_pct, 0.1, 50.0);
        }
        if let Some(strain_um) = self.strain_um {
            faults.positive("strain_um", strain_um);
        }
        if let Some(flow_cup) = &self.flow_cup {
            faults.within("flow_cup", |faults| flow_cup.check(faults));
        }
    }
}

impl Component {
    fn check(&self, faults: &mut Faults) {
        if let Some(density) = self.density_g_per_ml {
            faults.within_range("density_g_per_ml", density, 0.5, 5.0);
        }
        let Some(max_parts) = self.max_parts else { return };
        if self.role != Role::Reducer {
            faults.add("max_parts", max_parts, "nothing, but for a reducer");
        } else if !(max_parts.is_finite() && max_parts >= self.parts) {
            faults.add("max_parts", max_parts, "not less than parts");
        }
    }
}

impl PotLife {
    fn check(&self, faults: &mut Faults) {
        faults.within("life", |faults| self.life.check(faults));
        let reserve = self.cleaning_reserve_s;
        if !(reserve >= 0.0 && reserve < self.life.duration_s) {
            faults.add("cleaning_reserve_s", reserve, "0 or more, and less than the life");
        }
    }
}

impl Gap {
    fn check(&self, faults: &mut Faults) {
        faults.within("earliest", |faults| self.earliest.check(faults));
        if let Some(dulls) = &self.dulls {
            faults.within("dulls", |faults| dulls.check(faults));
        }
        let mut before_s = self.earliest.upper_s();
        let edges = [("open_until", &self.open_until), ("wipe_until", &self.wipe_until)];
        for (field, edge) in edges {
            let Some(timing) = edge else { continue };
            faults.within(field, |faults| {
                timing.check(faults);
                if timing.duration_s <= before_s {
                    let accepted = format!("more than {before_s}, where the window begins");
                    faults.add("duration_s", timing.duration_s, &accepted);
                }
            });
            before_s = timing.duration_s;
        }
        if self.wipe_until.is_some() && self.open_until.is_none() {
            faults.add("open_until", "nothing", "a time, where wipe_until is given");
        }
    }
}

impl WipeRule {
    fn check(&self, faults: &mut Faults) {
        faults.within_range("flash_s", self.flash_s, 0.0, 86_400.0);
        if !(self.limit_s.is_finite() && self.limit_s > self.flash_s) {
            faults.add("limit_s", self.limit_s, "more than flash_s");
        }
    }
}

impl Vapour {
    fn check(&self, faults: &mut Faults) {
        faults.within_range("lel_pct", self.lel_pct, 0.1, 50.0);
        faults.within_range("m3_per_l", self.m3_per_l, 0.01, 2.0);
        if let Some(solvent_pct) = self.solvent_pct {
            faults.within_range("solvent_pct", solvent_pct, 0.0, 100.0);
        }
    }
}

impl Limits {
    fn check(&self, faults: &mut Faults) {
        let (surface, paint) = ((self.min_c, self.max_c), (self.paint_min_c, self.paint_max_c));
        check_span(faults, ("min_c", "max_c"), surface, (-10.0, 60.0));
        check_span(faults, ("paint_min_c", "paint_max_c"), paint, (-10.0, 80.0));
        if let Some(max_pct) = self.max_pct {
            faults.within_range("max_pct", max_pct, 1.0, 100.0);
        }
        if let Some(margin) = self.dew_margin_c {
            faults.within_range("dew_margin_c", margin, 0.0, 20.0);
        }
    }
}

fn check_span(
    faults: &mut Faults,
    (min, max): (&str, &str),
    (min_c, max_c): (Option<f64>, Option<f64>),
    (low, high): (f64, f64),
) {
    for (field, value) in [(min, min_c), (max, max_c)] {
        if let Some(value) = value {
            faults.within_range(field, value, low, high);
        }
    }
    if let (Some(min_c), Some(max_c)) = (min_c, max_c)
        && min_c >= max_c
    {
        faults.add(max, max_c, &format!("more than {min}"));
    }
}
