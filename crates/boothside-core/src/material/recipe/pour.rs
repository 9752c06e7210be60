//! A pot being poured: what is in it, and how much of everything to add.

use super::{Plan, RecipeError};
use crate::units::{Mass, Volume};

/// What one component is in a pot that follows its largest over-pour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PouredLine {
    /// What is in the pot.
    pub poured: Mass,
    /// What belongs in it now.
    pub new: Mass,
    /// What to add, never negative.
    pub add: Mass,
}

/// A pot that follows its largest over-pour: everything else is added to match.
#[derive(Debug, Clone, PartialEq)]
pub struct Rescaled {
    /// How much larger than planned: `max(1, max over poured of (poured / planned))`.
    pub scale_factor: f64,
    /// The components in pouring order.
    pub lines: Vec<PouredLine>,
    /// All of it, by volume.
    pub new_volume: Volume,
    /// All of it, by mass.
    pub new_mass: Mass,
}

impl Plan {
    /// The pot after pours, one a component in order; 0 or missing means not poured yet.
    ///
    /// # Errors
    /// [`RecipeError`] for more pours than components, or a negative pour.
    pub fn after_pours(&self, poured: &[Mass]) -> Result<Rescaled, RecipeError> {
        let count = self.lines.len();
        if poured.len() > count {
            return Err(RecipeError::TooManyPours { given: poured.len(), count });
        }
        let mut scale_factor = 1.0f64;
        for (index, (line, mass)) in self.lines.iter().zip(poured).enumerate() {
            let (component, grams) = (index + 1, mass.g());
            if !(grams.is_finite() && grams >= 0.0) {
                return Err(RecipeError::Poured { component, grams });
            }
            // of one that may be left out nothing is planned: it leads nothing
            if line.mass.g() > 0.0 {
                scale_factor = scale_factor.max(*mass / line.mass);
            }
        }
        let poured = poured.iter().copied().chain(std::iter::repeat(Mass::from_g(0.0)));
        let lines = self.lines.iter().zip(poured).map(|(line, poured)| {
            let new = line.mass * scale_factor;
            let add = Mass::from_g((new - poured).g().max(0.0));
            PouredLine { poured, new, add }
        });
        Ok(Rescaled {
            scale_factor,
            lines: lines.collect(),
            new_volume: self.total_volume() * scale_factor,
            new_mass: self.total_mass() * scale_factor,
        })
    }
}

/// Pours from the running totals that a tared scale showed.
///
/// # Errors
/// [`RecipeError::ReadingsFall`] where a total is lower than the one before.
pub fn poured_from_readings(readings: &[Mass]) -> Result<Vec<Mass>, RecipeError> {
    let mut before = Mass::from_g(0.0);
    readings
        .iter()
        .enumerate()
        .map(|(index, reading)| {
            let poured = *reading - before;
            before = *reading;
            if poured.g() >= 0.0 {
                Ok(poured)
            } else {
                Err(RecipeError::ReadingsFall { component: index + 1, to: reading.g() })
            }
        })
        .collect()
}
