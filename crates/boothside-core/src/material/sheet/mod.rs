//! A material's sheet: the numbers that came with the can. What the can's sheet does not say
//! stays out of the file, and everything that would need it says 'not set'.

mod cure;
mod film;
mod gap;
mod gun;
mod limits;
mod mix;
mod pot;
mod shelf;
mod vapour;

pub use cure::{Cure, CureStage};
pub use film::{Coverage, FilmPerCoat};
pub use gap::{Gap, OpenedBy, WipeRule};
pub use gun::{GunRule, MeasuredAt, NOZZLE_MM, PRESSURE_KPA};
pub use limits::Limits;
pub use mix::{Basis, Component, MixRule, Role};
pub use pot::{Induction, PotLife};
pub use shelf::Shelf;
pub use vapour::Vapour;

use serde::{Deserialize, Serialize};

use super::date;
use super::timing::Timing;
use crate::fault::{Fault, Faults};
use crate::typed::{self, Typed};

/// The densest solvents of coatings weigh less a litre, g/L: common practice, no source.
const MOST_VOC_G_PER_L: f64 = 1500.0;

/// What carries the binder and leaves while drying.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Carrier {
    /// Waterborne.
    Water,
    /// Solventborne.
    Solvent,
}

/// What a safety data sheet may warn of and the screens repeat as a caution.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Hazard {
    /// An isocyanate hardener: a sensitiser.
    Isocyanate,
    /// Flammable vapour.
    Flammable,
    /// Chromates.
    Chromate,
}

/// A material's sheet. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    /// Film that it wants of one coat.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub film: Option<FilmPerCoat>,
    /// What a litre covers.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coverage: Option<Coverage>,
    /// Nozzle and air pressure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gun: Option<GunRule>,
    /// Content of volatile organics (VOC) as the sheet states it, g/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voc_g_per_l: Option<f64>,
    /// How long a can keeps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelf: Option<Shelf>,
    /// The solvent's vapour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vapour: Option<Vapour>,
    /// The technical sheet's own title, as the painter noted it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// The technical sheet's own date: `2024`, `2024-06` or `2024-06-15`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub issued: Option<String>,
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

    /// Volume solids of the mix before any reducer, %: as stated, else as its coverage tells
    /// ([`Coverage::solids_pct`]).
    #[must_use]
    pub fn solids_pct(&self) -> Option<f64> {
        self.mix.solids_pct.or_else(|| self.coverage?.solids_pct())
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
        self.check_times(&mut faults);
        faults.within("limits", |faults| self.limits.check(faults));
        self.check_film(&mut faults);
        if let Some(gun) = &self.gun {
            faults.within("gun", |faults| gun.check(faults));
        }
        if let Some(vapour) = &self.vapour {
            faults.within("vapour", |faults| vapour.check(faults));
        }
        if let Some(shelf) = &self.shelf {
            faults.within("shelf", |faults| shelf.check(faults));
        }
        if let Some(issued) = self.issued.as_ref().filter(|it| !date::is_year_month_or_day(it)) {
            faults.add("issued", format!("{issued:?}"), "a date: 2024, 2024-06 or 2024-06-15");
        }
        typed::check(&self.typed, &mut faults);
        faults.into_found()
    }

    fn check_times(&self, faults: &mut Faults) {
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
    }

    fn check_film(&self, faults: &mut Faults) {
        if let Some(film) = &self.film {
            faults.within("film", |faults| film.check(faults));
        }
        if let Some(coverage) = &self.coverage {
            faults.within("coverage", |faults| coverage.check(faults));
        }
        faults.within_range("dry_density_g_per_ml", self.dry_density_g_per_ml, 0.5, 10.0);
        faults.within_range("voc_g_per_l", self.voc_g_per_l, 0.0, MOST_VOC_G_PER_L);
    }
}
