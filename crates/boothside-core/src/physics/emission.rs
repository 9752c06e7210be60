//! Volatile organics of a pot as applied.
//!
//! Source: 40 CFR 59.104(a) and ASTM D3960:
//! `(W_volatile − W_water − W_exempt) / (V − V_water − V_exempt)`.

use super::figure::{FigureError, any_share, not_negative, positive};
use crate::units::{Density, Mass, Share, Volume};

/// The density of water in these figures, g/mL.
pub const WATER_DENSITY: Density = Density::from_g_per_ml(0.998);

/// One component of a pot by its composition, shares by weight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Composition {
    /// How much of it.
    pub volume: Volume,
    /// Its density.
    pub density: Density,
    /// All that evaporates, water and exempt solvent included.
    pub volatile: Share,
    /// Water.
    pub water: Share,
    /// Exempt solvent.
    pub exempt: Share,
    /// The density of the exempt solvent, needed where there is some.
    pub exempt_density: Option<Density>,
}

/// One component of a pot by the figure quoted for it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quoted {
    /// How much of it.
    pub volume: Volume,
    /// Volatile organics per volume of the component as bought.
    pub voc: Density,
    /// Water and exempt solvent in this volume, where known.
    pub water_and_exempt: Option<Volume>,
}

/// What a pot gives off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Emission {
    /// All volume, ideal.
    pub volume: Volume,
    /// The mass of volatile organics.
    pub voc_mass: Mass,
    /// Volatile organics per volume as applied.
    pub voc: Density,
    /// The same less water and exempt solvent; `None` where those are not known, or are all of it.
    pub voc_less_water: Option<Density>,
    /// The density of the pot; `None` where a component's is not known.
    pub density: Option<Density>,
}

/// The emission of a pot whose components' compositions are known.
///
/// # Errors
/// No component, a volume or density that is not above zero, shares out of range or that add up to
/// more than the volatile share, or an exempt solvent without its density.
pub fn from_compositions(components: &[Composition]) -> Result<Emission, FigureError> {
    let mut sum = Sum { other: Some(0.0), mass: Some(0.0), ..Sum::default() };
    for component in components {
        let ml = positive("volume of a component", component.volume.ml())?;
        let g = ml * positive("density of a component", component.density.g_per_ml())?;
        let organic = component.organic_share()?;
        let other = g * component.water.fraction() / WATER_DENSITY.g_per_ml()
            + g * component.exempt_volume_per_g()?;
        sum.add(ml, g * organic, Some(other), Some(g));
    }
    sum.emission()
}

/// The emission of a pot from figures quoted per volume of each component as bought.
///
/// # Errors
/// No component, a volume that is not above zero, or a negative figure.
pub fn from_quoted(components: &[Quoted]) -> Result<Emission, FigureError> {
    let mut sum = Sum { other: Some(0.0), mass: None, ..Sum::default() };
    for component in components {
        let ml = positive("volume of a component", component.volume.ml())?;
        let voc = not_negative("content of volatile organics", component.voc.g_per_ml())?;
        let other = component.water_and_exempt.map(Volume::ml);
        if let Some(other) = other {
            not_negative("volume of water", other)?;
            adds_up("water and exempt solvent", other / ml, 1.0)?;
        }
        sum.add(ml, ml * voc, other, None);
    }
    sum.emission()
}

impl Composition {
    fn organic_share(&self) -> Result<f64, FigureError> {
        let volatile = any_share("volatile share", self.volatile)?;
        let rest = any_share("share of water", self.water)?
            + any_share("share of exempt solvent", self.exempt)?;
        adds_up("water and exempt solvent", rest, volatile)?;
        Ok((volatile - rest).max(0.0))
    }

    /// Exempt solvent, mL per g of the component.
    fn exempt_volume_per_g(&self) -> Result<f64, FigureError> {
        match (self.exempt.fraction(), self.exempt_density) {
            (share, _) if share <= 0.0 => Ok(0.0),
            (_, None) => Err(FigureError::ExemptDensity),
            (share, Some(density)) => {
                Ok(share / positive("density of the exempt solvent", density.g_per_ml())?)
            }
        }
    }
}

/// Refuses parts that add up to more than the whole they belong to, beyond a rounding.
fn adds_up(what: &'static str, sum: f64, whole: f64) -> Result<(), FigureError> {
    if sum <= whole + 1e-9 {
        return Ok(());
    }
    Err(FigureError::AddsUp { what, percent: sum * 100.0, limit: whole * 100.0 })
}

#[derive(Default)]
struct Sum {
    volume: f64,
    organic: f64,
    other: Option<f64>,
    mass: Option<f64>,
}

impl Sum {
    fn add(&mut self, ml: f64, organic_g: f64, other_ml: Option<f64>, g: Option<f64>) {
        self.volume += ml;
        self.organic += organic_g;
        self.other = self.other.zip(other_ml).map(|(sum, more)| sum + more);
        self.mass = self.mass.zip(g).map(|(sum, more)| sum + more);
    }

    fn emission(&self) -> Result<Emission, FigureError> {
        if self.volume <= 0.0 {
            return Err(FigureError::Nothing);
        }
        let rest = self.other.map(|other| self.volume - other);
        // under a thousandth of the pot, rounding would decide the quotient
        let rest = rest.filter(|rest| *rest > 1e-3 * self.volume);
        Ok(Emission {
            volume: Volume::from_ml(self.volume),
            voc_mass: Mass::from_g(self.organic),
            voc: Density::from_g_per_ml(self.organic / self.volume),
            voc_less_water: rest.map(|rest| Density::from_g_per_ml(self.organic / rest)),
            density: self.mass.map(|mass| Density::from_g_per_ml(mass / self.volume)),
        })
    }
}
