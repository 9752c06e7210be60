//! The recipe on a sheet: what can be weighed, what can be read off a pot, where a density is
//! missing.

use super::{Basis, Component, Plan, Recipe, RecipeError};
use crate::material::sheet::{self, MixRule, Role};
use crate::units::{Density, Mass, Volume};

/// A sheet's recipe. A density that the sheet does not give is taken as 1 g/mL inside, and what
/// would rest on it is not told: each component's share of its own plan is the same for any.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRecipe {
    recipe: Recipe,
    pub(super) by: Basis,
    pub(super) known: Vec<bool>,
    pub(super) densities: Vec<Density>,
    pub(super) reducer: Option<usize>,
    /// How many parts the sheet allows of each: its own, but for a reducer.
    most_parts: Vec<f64>,
}

/// An amount of one component in the units in which it can be told.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Told {
    /// By weight, g.
    pub g: Option<f64>,
    /// By volume, mL.
    pub ml: Option<f64>,
}

impl SheetRecipe {
    /// The recipe of a sheet; a reducer may have 0 parts, and then no plan has any of it.
    ///
    /// # Errors
    /// [`RecipeError`] where the parts are none; a sheet that fits has them.
    pub fn of(mix: &MixRule) -> Result<Self, RecipeError> {
        let by = match mix.by {
            sheet::Basis::Volume => Basis::Volume,
            sheet::Basis::Weight => Basis::Weight,
        };
        let known = mix.components.iter().map(|it| it.density_g_per_ml.is_some()).collect();
        let densities: Vec<Density> = mix
            .components
            .iter()
            .map(|it| Density::from_g_per_ml(it.density_g_per_ml.unwrap_or(1.0)))
            .collect();
        let components = mix
            .components
            .iter()
            .zip(&densities)
            .map(|(it, density)| Component { parts: it.parts, density: *density });
        let recipe = Recipe::with_optional(by, components.collect())?;
        let most_parts = mix.components.iter().map(|it| match it.max_parts {
            Some(most) if it.role == Role::Reducer => most.max(it.parts),
            _ => it.parts,
        });
        let reducer = mix.components.iter().position(|it| it.role == Role::Reducer);
        let most_parts = most_parts.collect();
        Ok(Self { recipe, by, known, densities, reducer, most_parts })
    }

    /// How many components it has.
    #[must_use]
    pub fn len(&self) -> usize {
        self.known.len()
    }

    /// Whether it has none, which no recipe does.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.known.is_empty()
    }

    /// Whether every running total can be weighed.
    #[must_use]
    pub fn weighs(&self) -> bool {
        self.by == Basis::Weight || self.all_known()
    }

    /// Whether every running mark can be read off a graduated pot.
    #[must_use]
    pub fn marks(&self) -> bool {
        self.by == Basis::Volume || self.all_known()
    }

    /// Whether the sheet gives every density.
    #[must_use]
    pub fn all_known(&self) -> bool {
        self.known.iter().all(|known| *known)
    }

    /// The components (from 0) without a density.
    #[must_use]
    pub fn without_density(&self) -> Vec<usize> {
        (0..self.len()).filter(|at| !self.known[*at]).collect()
    }

    /// A pot of a volume, or of a mass, whichever is told and can be planned.
    ///
    /// # Errors
    /// [`RecipeError::Amount`] where neither is above zero or can be planned.
    pub fn plan(&self, wanted: Told) -> Result<Plan, RecipeError> {
        match (wanted.ml, wanted.g) {
            (Some(ml), _) if self.marks() => self.recipe.for_volume(Volume::from_ml(ml)),
            (_, Some(g)) if self.weighs() => self.recipe.for_mass(Mass::from_g(g)),
            _ => Err(RecipeError::Amount(0.0)),
        }
    }

    /// The largest pot that so much of one component (from 0) allows; nothing where that cannot be
    /// told.
    #[must_use]
    pub fn from_short(&self, component: usize, there_is: Told) -> Option<Plan> {
        let mass = self.mass(component, there_is)?;
        self.recipe.from_component_mass(component + 1, mass).ok()
    }

    /// The mass of a component, in terms of the recipe's own inner densities.
    pub(crate) fn mass(&self, component: usize, told: Told) -> Option<Mass> {
        let known = *self.known.get(component)?;
        match (told.g, told.ml) {
            (Some(g), _) if known || self.by == Basis::Weight => Some(Mass::from_g(g)),
            (_, Some(ml)) if known || self.by == Basis::Volume => {
                Some(Volume::from_ml(ml) * self.densities[component])
            }
            _ => None,
        }
    }

    /// What is told of a mass of a component.
    pub(crate) fn told(&self, component: usize, mass: Mass) -> Told {
        let known = self.known[component];
        let by = |basis| known || self.by == basis;
        Told {
            g: by(Basis::Weight).then_some(mass.g()),
            ml: by(Basis::Volume).then_some((mass / self.densities[component]).ml()),
        }
    }

    /// Whether a pot goes without a component (from 0): its parts are 0.
    #[must_use]
    pub fn is_optional(&self, component: usize) -> bool {
        self.recipe.components.get(component).is_some_and(|it| it.parts <= 0.0)
    }

    /// The most of a component that the sheet allows in a pot of `plan`, in terms of the recipe's
    /// own inner densities.
    pub(crate) fn allowed(&self, plan: &Plan, component: usize) -> Mass {
        let (line, most) = (plan.lines()[component], self.most_parts[component]);
        if most <= line.parts {
            return line.mass;
        }
        let parts: f64 = plan.lines().iter().map(|line| line.parts).sum();
        match self.by {
            Basis::Volume => plan.total_volume() * (most / parts) * self.densities[component],
            Basis::Weight => plan.total_mass() * (most / parts),
        }
    }
}
