//! A pot being poured by a sheet's recipe: what is in it, what the scale or the mark must show
//! next. Nothing is ever taken out: an over-pour is followed by everything else.

use super::{Plan, SheetRecipe, Told};
use crate::units::Mass;

/// Relative slack for the last bits of a sum.
const SLACK: f64 = 1e-9;

/// How finely a pot is poured.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Fineness {
    /// The scale's step, g; readings are rounded to it.
    pub step_g: Option<f64>,
    /// How far the ratio may be off, %.
    pub tolerance_pct: Option<f64>,
}

/// One component of a pot being poured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PotLine {
    /// What the plan wants of it, before any over-pour.
    pub planned: Told,
    /// The running total that the plan wants once it is in: scale and mark.
    pub planned_total: Told,
    /// What belongs in the pot now that everything follows the largest over-pour.
    pub wanted: Told,
    /// What is in the pot of it; nothing where none was poured.
    pub poured: Option<Told>,
    /// What to add; nothing where enough is in.
    pub add: Option<Told>,
    /// Scale and mark once that is in; nothing where nothing is to be added.
    pub shows: Option<Told>,
    /// By how much the pot is short of it, % of what belongs in it.
    pub short_pct: f64,
}

/// A pot being poured.
#[derive(Debug, Clone, PartialEq)]
pub struct PotPlan {
    /// The components in pouring order.
    pub lines: Vec<PotLine>,
    /// How much larger than planned: 1 without an over-pour.
    pub factor: f64,
    /// The component (from 0) that was poured over furthest, and by how much.
    pub over: Option<(usize, Told)>,
    /// What is in the pot.
    pub poured: Told,
    /// What the pot comes to once everything is in.
    pub makes: Told,
}

impl PotPlan {
    /// The component (from 0) to pour next.
    #[must_use]
    pub fn next(&self) -> Option<usize> {
        self.lines.iter().position(|line| line.add.is_some())
    }

    /// The component (from 0) of which the pot is shortest, and by how much, %.
    #[must_use]
    pub fn worst(&self) -> Option<(usize, f64)> {
        let short = self.lines.iter().map(|line| line.short_pct).enumerate();
        short.max_by(|(_, one), (_, other)| one.total_cmp(other))
    }
}

impl SheetRecipe {
    /// A pot of `plan` in which so much of each component (from 0) is; nothing for one that was
    /// not poured yet. Masses are those of [`Self::mass`].
    #[must_use]
    pub fn pot(&self, plan: &Plan, poured: &[Option<Mass>], fineness: Fineness) -> PotPlan {
        let in_pot = |at: usize| poured.get(at).copied().flatten();
        let factor = self.factor(plan, &in_pot);
        let over = self.went_over(plan, &in_pot, factor, fineness.step_g).map(|at| {
            let more = in_pot(at).map_or(0.0, |mass| mass.g()) - plan.lines()[at].mass.g();
            (at, self.told(at, Mass::from_g(more)))
        });
        let mut lines: Vec<PotLine> = plan
            .lines()
            .iter()
            .enumerate()
            .map(|(at, line)| {
                let wanted = line.mass * factor;
                let planned_total = self.total(|it| (it <= at).then(|| plan.lines()[it].mass));
                self.line(at, (line.mass, wanted), planned_total, in_pot(at), fineness)
            })
            .collect();
        let poured = self.total(in_pot);
        self.run_up(&mut lines, poured, fineness.step_g);
        let makes = self.total(|at| {
            let wanted = plan.lines()[at].mass * factor;
            Some(in_pot(at).filter(|mass| *mass > wanted).unwrap_or(wanted))
        });
        PotPlan { lines, factor, over, poured, makes }
    }

    /// `max(1, max over poured of (poured / planned))`; a reducer counts from what the sheet allows.
    fn factor(&self, plan: &Plan, in_pot: &impl Fn(usize) -> Option<Mass>) -> f64 {
        (0..self.len()).map(|at| self.ratio(plan, in_pot, at)).fold(1.0, f64::max)
    }

    fn ratio(&self, plan: &Plan, in_pot: &impl Fn(usize) -> Option<Mass>, at: usize) -> f64 {
        in_pot(at).map_or(0.0, |mass| mass / self.allowed(plan, at))
    }

    /// The component that the others follow: the first that is at the factor, but for a step of the
    /// scale, by which one that followed it may lie above.
    fn went_over(
        &self,
        plan: &Plan,
        in_pot: &impl Fn(usize) -> Option<Mass>,
        factor: f64,
        step_g: Option<f64>,
    ) -> Option<usize> {
        let leads = |at: &usize| {
            let ratio = self.ratio(plan, in_pot, *at);
            let below_g = self.allowed(plan, *at).g() * (factor - ratio);
            ratio > 1.0 + SLACK && below_g <= step_g.unwrap_or(0.0) + SLACK
        };
        (0..self.len()).find(leads)
    }

    fn line(
        &self,
        at: usize,
        (planned, wanted): (Mass, Mass),
        planned_total: Told,
        poured: Option<Mass>,
        fineness: Fineness,
    ) -> PotLine {
        let missing = wanted - poured.unwrap_or(Mass::from_g(0.0));
        // nothing is wanted of a reducer that may be left out
        let optional = self.is_optional(at);
        let short_pct = if optional { 0.0 } else { (missing / wanted * 100.0).max(0.0) };
        let weighed = self.told(at, missing).g.zip(fineness.step_g);
        // less than the scale shows, or than the sheet minds, is not asked for again
        let shows = weighed.is_none_or(|(g, step)| g > step);
        let minds = fineness.tolerance_pct.is_none_or(|tolerance| short_pct > tolerance);
        let real = missing.g() > wanted.g() * SLACK;
        let asked = !optional && (poured.is_none() || (real && shows && minds));
        PotLine {
            planned: self.told(at, planned),
            planned_total,
            wanted: self.told(at, wanted),
            poured: poured.map(|mass| self.told(at, mass)),
            add: asked.then(|| self.told(at, missing)),
            shows: None,
            short_pct,
        }
    }

    /// The sum over components; a unit in which not all can be told is not told.
    fn total(&self, mass: impl Fn(usize) -> Option<Mass>) -> Told {
        let told = (0..self.len()).filter_map(|at| mass(at).map(|mass| self.told(at, mass)));
        let sums = told.fold((0.0, 0.0), |(g, ml), told| {
            (g + told.g.unwrap_or(0.0), ml + told.ml.unwrap_or(0.0))
        });
        Told { g: self.weighs().then_some(sums.0), ml: self.marks().then_some(sums.1) }
    }

    /// What scale and mark show after each addition still to come.
    fn run_up(&self, lines: &mut [PotLine], from: Told, step_g: Option<f64>) {
        let mut now = from;
        for line in lines {
            let Some(add) = line.add else { continue };
            let g = now.g.zip(add.g).map(|(now, add)| up_to_step(now, add, step_g));
            let ml = now.ml.zip(add.ml).map(|(now, add)| now + add);
            line.add = Some(Told { g: g.zip(now.g).map(|(to, now)| to - now).or(add.g), ..add });
            now = Told { g, ml };
            line.shows = Some(now);
        }
    }
}

/// The reading of a scale after an addition: to the nearest step, but at least one step on.
fn up_to_step(now: f64, add: f64, step_g: Option<f64>) -> f64 {
    let Some(step) = step_g else { return now + add };
    let to = ((now + add) / step).round() * step;
    if to > now { to } else { now + step }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::sheet::{Basis, Component, MixRule, Role};

    fn rule(parts: [f64; 3], densities: [Option<f64>; 3]) -> MixRule {
        let roles = [Role::Base, Role::Activator, Role::Reducer];
        let component = |at: usize| Component {
            name: format!("{:?}", roles[at]),
            role: roles[at],
            parts: parts[at],
            density_g_per_ml: densities[at],
            max_parts: None,
        };
        MixRule {
            by: Basis::Weight,
            components: (0..3).map(component).collect(),
            tolerance_pct: None,
            solids_pct: None,
            strain_um: None,
            flow_cup: None,
        }
    }

    fn grams(pot: &[Option<f64>]) -> Vec<Option<Mass>> {
        pot.iter().map(|g| g.map(Mass::from_g)).collect()
    }

    fn close(one: Option<f64>, other: f64) -> bool {
        one.is_some_and(|one| (one - other).abs() < 0.05)
    }

    const TENTH: Fineness = Fineness { step_g: Some(0.1), tolerance_pct: None };

    /// practice.md, F 3: 100:25:10, meant 400.0, poured 412.0, then 112.0 of activator.
    #[test]
    fn an_over_pour_is_followed_by_everything_else() {
        let recipe = SheetRecipe::of(&rule([100.0, 25.0, 10.0], [None; 3])).unwrap();
        let plan = recipe.plan(Told { g: Some(540.0), ml: None }).unwrap();
        let pot = recipe.pot(&plan, &grams(&[Some(412.0), None, None]), TENTH);
        assert_eq!(pot.over.map(|(at, _)| at), Some(0));
        assert!(close(pot.lines[1].add.unwrap().g, 103.0));
        assert!(close(pot.lines[1].shows.unwrap().g, 515.0));
        assert!(close(pot.lines[2].add.unwrap().g, 41.2));
        assert!(close(pot.makes.g, 556.2) && pot.makes.ml.is_none());

        // followed to the step of the scale, a hair above: it is still the base that went over
        let pot = recipe.pot(&plan, &grams(&[Some(412.0), Some(103.02), None]), TENTH);
        assert_eq!(pot.over.map(|(at, _)| at), Some(0));

        let pot = recipe.pot(&plan, &grams(&[Some(412.0), Some(112.0), None]), TENTH);
        assert_eq!(pot.over.map(|(at, _)| at), Some(1));
        assert_eq!(pot.next(), Some(0), "base again");
        assert!(close(pot.lines[0].add.unwrap().g, 36.0));
        assert!(close(pot.lines[0].shows.unwrap().g, 560.0));
        assert!(close(pot.lines[2].add.unwrap().g, 44.8));
        assert!(close(pot.makes.g, 604.8));
    }

    #[test]
    fn a_missing_density_leaves_out_what_rests_on_it() {
        let some = [Some(1.3), None, Some(0.9)];
        let recipe = SheetRecipe::of(&rule([4.0, 1.0, 1.0], some)).unwrap();
        assert!(recipe.weighs() && !recipe.marks());
        assert_eq!(recipe.without_density(), [1]);
        assert!(recipe.plan(Told { ml: Some(100.0), g: None }).is_err());
        let plan = recipe.plan(Told { ml: Some(100.0), g: Some(60.0) }).unwrap();
        let pot = recipe.pot(&plan, &[], Fineness::default());
        assert_eq!(pot.lines[1].planned, Told { g: Some(10.0), ml: None });
        assert_eq!(pot.makes, Told { g: Some(60.0), ml: None });
        assert_eq!(recipe.mass(1, Told { g: None, ml: Some(5.0) }), None);
    }

    #[test]
    fn what_the_scale_does_not_show_or_the_sheet_does_not_mind_is_not_asked_again() {
        let recipe = SheetRecipe::of(&rule([100.0, 25.0, 10.0], [None; 3])).unwrap();
        let plan = recipe.plan(Told { g: Some(135.0), ml: None }).unwrap();
        let pour = |base: f64, fineness| {
            recipe.pot(&plan, &grams(&[Some(base), Some(25.0), Some(10.0)]), fineness).next()
        };
        assert_eq!(pour(99.9, TENTH), None);
        assert_eq!(pour(99.0, TENTH), Some(0));
        assert_eq!(pour(99.0, Fineness { tolerance_pct: Some(2.0), ..TENTH }), None);
        assert_eq!(pour(97.0, Fineness { tolerance_pct: Some(2.0), ..TENTH }), Some(0));
        assert_eq!(pour(99.999_999_999_9, Fineness::default()), None);
    }

    #[test]
    fn a_reducer_within_what_the_sheet_allows_is_no_over_pour() {
        let mut rule = rule([100.0, 25.0, 10.0], [None; 3]);
        rule.components[2].max_parts = Some(15.0);
        let recipe = SheetRecipe::of(&rule).unwrap();
        let plan = recipe.plan(Told { g: Some(135.0), ml: None }).unwrap();
        let pour = |reducer: f64| {
            recipe.pot(&plan, &grams(&[Some(100.0), Some(25.0), Some(reducer)]), TENTH)
        };
        assert_eq!((pour(14.0).next(), pour(14.0).over), (None, None));
        assert!(close(pour(14.0).makes.g, 139.0));
        assert_eq!(pour(18.0).next(), Some(0));
        assert!((pour(18.0).factor - 1.2).abs() < 1e-9);
    }
}
