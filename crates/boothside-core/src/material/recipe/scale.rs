//! What a scale's step does to a ratio.

use super::{Plan, RecipeError, above_zero};
use crate::units::{Mass, Share};

impl Plan {
    /// The running totals rounded to the scale's step, as they are poured to.
    ///
    /// # Errors
    /// [`RecipeError::Step`] unless the step is above zero.
    pub fn rounded_totals(&self, step: Mass) -> Result<Vec<Mass>, RecipeError> {
        let step = real_step(step)?;
        let round = |total: Mass| Mass::from_g((total / step).round() * step.g());
        Ok(self.lines.iter().map(|line| round(line.scale_total)).collect())
    }

    /// The largest error of a component against its plan, when the running totals are poured to
    /// the nearest step of the scale.
    ///
    /// # Errors
    /// [`RecipeError::Step`] unless the step is above zero.
    pub fn ratio_error(&self, step: Mass) -> Result<Share, RecipeError> {
        let totals = self.rounded_totals(step)?;
        let before = std::iter::once(Mass::from_g(0.0)).chain(totals.iter().copied());
        let errors = totals
            .iter()
            .zip(before)
            .zip(&self.lines)
            .filter(|(_, line)| line.mass.g() > 0.0)
            .map(|((total, before), line)| ((*total - before) / line.mass - 1.0).abs());
        Ok(Share::from_fraction(errors.fold(0.0, f64::max)))
    }

    /// The smallest pot of this recipe whose every component the scale weighs to a tolerance. A
    /// component lies between two readings, each good to half a step: it is good to one step.
    ///
    /// # Errors
    /// [`RecipeError::Step`] or [`RecipeError::Tolerance`] unless they are above zero.
    pub fn smallest_mass(&self, step: Mass, tolerance: Share) -> Result<Mass, RecipeError> {
        let step = real_step(step)?;
        let tolerance = tolerance.fraction();
        if !above_zero(tolerance) {
            return Err(RecipeError::Tolerance(tolerance * 100.0));
        }
        let planned = self.lines.iter().filter(|line| line.mass.g() > 0.0);
        let shares = planned.map(|line| line.mass / self.total_mass());
        Ok(Mass::from_g(step.g() / (tolerance * shares.fold(1.0, f64::min))))
    }
}

fn real_step(step: Mass) -> Result<Mass, RecipeError> {
    if above_zero(step.g()) { Ok(step) } else { Err(RecipeError::Step(step.g())) }
}
