//! How far what is in a pot is off the recipe, however much of it was wanted.

use super::{InPot, Plan, SheetRecipe, Told};
use crate::units::Mass;

/// Relative slack for the last bits of a sum.
const SLACK: f64 = 1e-9;

impl SheetRecipe {
    /// The pot of the recipe around what is in it: the smallest to which nothing in it is too much.
    pub(crate) fn around(&self, in_pot: InPot<'_>) -> Option<Told> {
        let unit = self.unit()?;
        let factor = self.ratios(&unit, &in_pot).into_iter().fold(0.0, f64::max);
        (factor > 0.0).then(|| Told {
            g: self.weighs().then(|| unit.total_mass().g() * factor),
            ml: self.marks().then(|| unit.total_volume().ml() * factor),
        })
    }

    /// The component (from 0) of which a pot is shortest to what else but reducer is in it, and by
    /// how much, %.
    pub(crate) fn shortest(&self, in_pot: InPot<'_>) -> Option<(usize, f64)> {
        let unit = self.unit()?;
        let factor = self.without_reducer(&unit, &in_pot);
        let short = unit.lines().iter().enumerate().map(|(at, line)| {
            let (there, wanted) = (in_pot.mass(at).map_or(0.0, Mass::g), line.mass.g() * factor);
            let short_pct = if wanted > 0.0 { (1.0 - there / wanted) * 100.0 } else { 0.0 };
            (at, short_pct.max(0.0))
        });
        short.max_by(|(_, one), (_, other)| one.total_cmp(other))
    }

    /// Reducer past the most that the sheet allows to what else is in a pot: which component (from
    /// 0), how much, and that as a share of what is allowed, %. What came with others out of their
    /// cans was not poured over.
    pub(crate) fn thinned(&self, in_pot: InPot<'_>) -> Option<(usize, Told, f64)> {
        let (unit, at) = (self.unit()?, self.reducer()?);
        let factor = self.without_reducer(&unit, &in_pot);
        let most = self.allowed(&unit, at) * factor;
        let there = in_pot.mass(at)?;
        let by_hand = there - in_pot.carried;
        let over = if there - most < by_hand { there - most } else { by_hand };
        let counts = most.g() > 0.0 && over.g() > most.g() * SLACK;
        counts.then(|| (at, self.told(at, over), over / most * 100.0))
    }

    /// A pot so small that whatever was poured is more than it wants: its lines are the recipe.
    fn unit(&self) -> Option<Plan> {
        self.plan(Told { g: Some(1e-9), ml: Some(1e-9) }).ok()
    }

    /// How large a pot of `unit` all but its reducer makes; where nothing else is in it, the reducer.
    fn without_reducer(&self, unit: &Plan, in_pot: &InPot<'_>) -> f64 {
        let ratios = self.ratios(unit, in_pot);
        let largest = |of: &mut dyn Iterator<Item = f64>| of.fold(0.0, f64::max);
        let others = ratios.iter().enumerate().filter(|(at, _)| self.reducer() != Some(*at));
        let others = largest(&mut others.map(|(_, ratio)| *ratio));
        // of nothing but reducer the rest is short
        if others > 0.0 { others } else { largest(&mut ratios.into_iter()) }
    }
}
