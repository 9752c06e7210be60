//! Mixing: parts by volume or by weight, over-pours, the scale's step.
//!
//! Volumes are taken to add up (ideal mixing). Nothing is ever taken out of a pot.

mod off;
mod pot;
mod pour;
mod scale;
mod sheet;
mod thinned;

pub use pot::{Fineness, InPot, PotLine, PotPlan};
pub use pour::{PouredLine, Rescaled, poured_from_readings};
pub use sheet::{SheetRecipe, Told};

use crate::units::{Density, Mass, Volume};

/// What the parts of a recipe count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// Volumes.
    Volume,
    /// Weights.
    Weight,
}

/// One component: its parts and its density.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Component {
    /// Parts, on the recipe's basis, above zero; 0 for one that may be left out
    /// ([`Recipe::with_optional`]).
    pub parts: f64,
    /// Density, above zero.
    pub density: Density,
}

/// A recipe: components in the order in which they are poured.
#[derive(Debug, Clone, PartialEq)]
pub struct Recipe {
    basis: Basis,
    components: Vec<Component>,
}

/// Why a recipe or a pot was refused. Components count from 1.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum RecipeError {
    /// No components.
    #[error("a mix needs at least one component")]
    Empty,
    /// Parts that are not above zero.
    #[error("component {component} has {parts} parts, and must have more than 0")]
    Parts {
        /// Which component.
        component: usize,
        /// Its parts.
        parts: f64,
    },
    /// A density that is not above zero.
    #[error("component {component} has the density {g_per_ml} g/mL, and must have more than 0")]
    Density {
        /// Which component.
        component: usize,
        /// Its density.
        g_per_ml: f64,
    },
    /// An amount to mix that is not above zero.
    #[error("the amount is {0}, and must be above 0")]
    Amount(f64),
    /// A component that the recipe does not have.
    #[error("there is no component {component}: the recipe has 1 to {count}")]
    NoComponent {
        /// Which was named, from 1.
        component: usize,
        /// How many there are.
        count: usize,
    },
    /// A negative pour.
    #[error("component {component} was poured as {grams} g, and cannot be negative")]
    Poured {
        /// Which component.
        component: usize,
        /// The pour.
        grams: f64,
    },
    /// More pours than components.
    #[error("{given} pours for {count} components")]
    TooManyPours {
        /// How many pours were given.
        given: usize,
        /// How many components there are.
        count: usize,
    },
    /// Running totals of a scale that go down.
    #[error("the scale goes down to {to} g at component {component}; a running total only grows")]
    ReadingsFall {
        /// Which component.
        component: usize,
        /// The reading.
        to: f64,
    },
    /// A scale step that is not above zero.
    #[error("the scale's step is {0} g, and must be above 0")]
    Step(f64),
    /// A tolerance that is not above zero.
    #[error("the tolerance is {0} %, and must be above 0")]
    Tolerance(f64),
}

/// What one component is in a pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// Its parts.
    pub parts: f64,
    /// Its volume.
    pub volume: Volume,
    /// Its mass.
    pub mass: Mass,
    /// What a tared scale reads when it is in.
    pub scale_total: Mass,
    /// Where a graduated pot stands when it is in.
    pub mark: Volume,
}

/// A pot as planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    lines: Vec<Line>,
}

impl Recipe {
    /// A recipe from its components in pouring order.
    ///
    /// # Errors
    /// [`RecipeError`] for no components, or parts or a density that is not above zero.
    pub fn new(basis: Basis, components: Vec<Component>) -> Result<Self, RecipeError> {
        for (index, Component { parts, .. }) in components.iter().enumerate() {
            if !above_zero(*parts) {
                return Err(RecipeError::Parts { component: index + 1, parts: *parts });
            }
        }
        Self::with_optional(basis, components)
    }

    /// As [`Self::new`], but parts of 0 are taken where a component has more: nothing of such a
    /// one is in a plan.
    ///
    /// # Errors
    /// As [`Self::new`]; [`RecipeError::Empty`] where no component has parts.
    pub fn with_optional(basis: Basis, components: Vec<Component>) -> Result<Self, RecipeError> {
        for (index, Component { parts, density }) in components.iter().enumerate() {
            let (component, g_per_ml) = (index + 1, density.g_per_ml());
            if !(parts.is_finite() && *parts >= 0.0) {
                return Err(RecipeError::Parts { component, parts: *parts });
            }
            if !above_zero(g_per_ml) {
                return Err(RecipeError::Density { component, g_per_ml });
            }
        }
        if !components.iter().any(|component| above_zero(component.parts)) {
            return Err(RecipeError::Empty);
        }
        Ok(Self { basis, components })
    }

    /// A pot of a wanted volume.
    ///
    /// # Errors
    /// [`RecipeError::Amount`] unless it is above zero.
    pub fn for_volume(&self, volume: Volume) -> Result<Plan, RecipeError> {
        let unit = self.unit();
        self.times(amount(volume.ml())? / unit.total_volume().ml())
    }

    /// A pot of a wanted mass.
    ///
    /// # Errors
    /// As [`Self::for_volume`].
    pub fn for_mass(&self, mass: Mass) -> Result<Plan, RecipeError> {
        let unit = self.unit();
        self.times(amount(mass.g())? / unit.total_mass().g())
    }

    /// The largest pot that a volume of one component (from 1) allows.
    ///
    /// # Errors
    /// As [`Self::for_volume`], and for a component that is not there.
    pub fn from_component_volume(
        &self,
        component: usize,
        volume: Volume,
    ) -> Result<Plan, RecipeError> {
        let line = self.unit().line(component)?;
        self.times(amount(volume.ml())? / line.volume.ml())
    }

    /// The largest pot that a mass of one component (from 1) allows.
    ///
    /// # Errors
    /// As [`Self::from_component_volume`].
    pub fn from_component_mass(&self, component: usize, mass: Mass) -> Result<Plan, RecipeError> {
        let line = self.unit().line(component)?;
        self.times(amount(mass.g())? / line.mass.g())
    }

    /// The pot in which a part is one mL or one g.
    fn unit(&self) -> Plan {
        self.scaled(1.0)
    }

    fn times(&self, factor: f64) -> Result<Plan, RecipeError> {
        amount(factor).map(|factor| self.scaled(factor))
    }

    fn scaled(&self, factor: f64) -> Plan {
        let (mut scale_total, mut mark) = (Mass::from_g(0.0), Volume::from_ml(0.0));
        let line = |component: &Component| {
            let share = component.parts * factor;
            let (volume, mass) = match self.basis {
                Basis::Volume => {
                    (Volume::from_ml(share), Volume::from_ml(share) * component.density)
                }
                Basis::Weight => (Mass::from_g(share) / component.density, Mass::from_g(share)),
            };
            scale_total = scale_total + mass;
            mark = mark + volume;
            Line { parts: component.parts, volume, mass, scale_total, mark }
        };
        Plan { lines: self.components.iter().map(line).collect() }
    }
}

impl Plan {
    /// The components in pouring order.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// All of it, by volume.
    #[must_use]
    pub fn total_volume(&self) -> Volume {
        self.lines.last().map_or(Volume::from_ml(0.0), |line| line.mark)
    }

    /// All of it, by mass.
    #[must_use]
    pub fn total_mass(&self) -> Mass {
        self.lines.last().map_or(Mass::from_g(0.0), |line| line.scale_total)
    }

    /// The density of the mix.
    #[must_use]
    pub fn density(&self) -> Density {
        Density::from_g_per_ml(self.total_mass().g() / self.total_volume().ml())
    }

    fn line(&self, component: usize) -> Result<Line, RecipeError> {
        component
            .checked_sub(1)
            .and_then(|index| self.lines.get(index))
            .copied()
            .ok_or(RecipeError::NoComponent { component, count: self.lines.len() })
    }
}

fn above_zero(value: f64) -> bool {
    value.is_finite() && value > 0.0
}

fn amount(value: f64) -> Result<f64, RecipeError> {
    if above_zero(value) { Ok(value) } else { Err(RecipeError::Amount(value)) }
}
