//! What comes out of a can to which thinned material went back: component and reducer at once.

use super::{Basis, SheetRecipe, Told};
use crate::units::{Mass, Volume};

impl SheetRecipe {
    /// The component (from 0) that a returned material's thinner is: the sheet's first reducer.
    #[must_use]
    pub const fn reducer(&self) -> Option<usize> {
        self.reducer
    }

    /// Whether so much thinner in a can of `component` (from 0) can be reckoned with, `thinner` a
    /// share by volume: the mix has a reducer, and the sheet gives what converts one to the other.
    #[must_use]
    pub fn reckons_thinner(&self, component: usize, thinner: f64) -> bool {
        self.densities_of(component, thinner).is_some()
    }

    /// The inner densities of a component and the reducer in its can, g/mL, and whether both are
    /// the sheet's own; nothing where no reducer is in it, or none could be told.
    fn densities_of(&self, component: usize, thinner: f64) -> Option<(f64, f64, bool)> {
        let reducer = self.reducer.filter(|reducer| *reducer != component)?;
        let known = *self.known.get(component)? && self.known[reducer];
        let told = known || self.by == Basis::Volume;
        let inner = |at: usize| self.densities[at].g_per_ml();
        (thinner > 0.0 && told).then(|| (inner(component), inner(reducer), known))
    }

    /// The masses of a component and of reducer in so much from its can, of which the share
    /// `thinner` by volume is reducer. Where that cannot be reckoned all of it is the component.
    pub(crate) fn in_can(
        &self,
        component: usize,
        told: Told,
        thinner: f64,
    ) -> Option<(Mass, Mass)> {
        let Some((own, reducer, known)) = self.densities_of(component, thinner) else {
            return Some((self.mass(component, told)?, Mass::from_g(0.0)));
        };
        let of_weight = || told.g.filter(|_| known).map(|g| g / mixed(own, reducer, thinner));
        let by_weight = self.by == Basis::Weight;
        let first = if by_weight { of_weight().or(told.ml) } else { told.ml.or_else(of_weight) };
        let ml = first?;
        Some((Mass::from_g(ml * (1.0 - thinner) * own), Mass::from_g(ml * thinner * reducer)))
    }

    /// How much to take from a can for so much of the component in it, and the reducer that comes
    /// with it.
    pub(crate) fn to_take(&self, component: usize, mass: Mass, thinner: f64) -> (Told, Mass) {
        let Some((own, reducer, known)) = self.densities_of(component, thinner) else {
            return (self.told(component, mass), Mass::from_g(0.0));
        };
        let ml = Volume::from_ml(mass.g() / own / (1.0 - thinner)).ml();
        let comes = Mass::from_g(ml * thinner * reducer);
        let g = known.then(|| mass.g() + comes.g());
        (Told { g, ml: Some(ml) }, comes)
    }

    /// So much from a can, in both units where they can be told.
    pub(crate) fn both(&self, component: usize, told: Told, thinner: f64) -> Told {
        let converted = match self.densities_of(component, thinner) {
            Some((own, reducer, true)) => {
                let density = mixed(own, reducer, thinner);
                Told { g: told.ml.map(|ml| ml * density), ml: told.g.map(|g| g / density) }
            }
            Some(_) => Told::default(),
            // without thinner, or with an amount of it that changes nothing that could be told
            None => self
                .mass(component, told)
                .map_or_else(Told::default, |mass| self.told(component, mass)),
        };
        Told { g: told.g.or(converted.g), ml: told.ml.or(converted.ml) }
    }
}

/// Density of a can's content, ideal volumes.
fn mixed(own: f64, reducer: f64, thinner: f64) -> f64 {
    own * (1.0 - thinner) + reducer * thinner
}
