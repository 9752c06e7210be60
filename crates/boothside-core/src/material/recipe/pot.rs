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
    /// Reducer that came, or is to come, with other components out of their cans; nothing where none.
    pub spared: Option<Told>,
    /// By how much that brings the pot past the most reducer that the sheet allows.
    pub too_thin: Option<Told>,
}

/// What is in a pot, and what it is poured from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InPot<'a> {
    /// Of each component (from 0); nothing for one that was not poured yet. Masses are those of
    /// [`SheetRecipe::mass`].
    pub masses: &'a [Option<Mass>],
    /// How much of the reducer came with other components out of their cans.
    pub carried: Mass,
    /// Thinner in the can of each component (from 0), a share by volume; 0 past the end.
    pub thinner: &'a [f64],
}

impl<'a> InPot<'a> {
    /// Poured from cans without any thinner.
    #[must_use]
    pub const fn fresh(masses: &'a [Option<Mass>]) -> Self {
        Self { masses, carried: Mass::from_g(0.0), thinner: &[] }
    }

    pub(super) fn mass(&self, at: usize) -> Option<Mass> {
        self.masses.get(at).copied().flatten()
    }
}

impl PotPlan {
    /// The component (from 0) to pour next.
    #[must_use]
    pub fn next(&self) -> Option<usize> {
        self.lines.iter().position(|line| line.add.is_some())
    }
}

impl SheetRecipe {
    /// A pot of `plan` in which so much of each component is.
    #[must_use]
    pub fn pot(&self, plan: &Plan, in_pot: InPot<'_>, fineness: Fineness) -> PotPlan {
        let planned = |at: usize| plan.lines()[at].mass;
        let ratios = self.ratios(plan, &in_pot);
        let factor = ratios.iter().copied().fold(1.0, f64::max);
        let over = self.went_over(plan, &ratios, factor, fineness.step_g).map(|at| {
            let more = in_pot.mass(at).map_or(0.0, |mass| mass.g()) - self.allowed(plan, at).g();
            (at, self.told(at, Mass::from_g(more)))
        });
        let mut coming = Mass::from_g(0.0);
        let mut lines: Vec<PotLine> = (0..self.len())
            .map(|at| {
                let planned_total = self.total(|it| (it <= at).then(|| planned(it)));
                let masses = (planned(at), planned(at) * factor);
                self.line(at, masses, planned_total, in_pot.mass(at), fineness)
            })
            .collect();
        for (at, thinner) in in_pot.thinner.iter().enumerate().take(lines.len()) {
            coming = coming
                + self.take_from_can(&mut lines[at], at, planned(at) * factor, (&in_pot, *thinner));
        }
        self.spare(&mut lines, planned, factor, (&in_pot, coming), fineness);
        let poured = self.total(|at| in_pot.mass(at));
        self.run_up(&mut lines, poured, fineness.step_g);
        let makes = self.total(|at| {
            let wanted = planned(at) * factor;
            let comes = if self.reducer == Some(at) { coming } else { Mass::from_g(0.0) };
            let there = in_pot.mass(at).unwrap_or(Mass::from_g(0.0)) + comes;
            Some(if there > wanted { there } else { wanted })
        });
        let brought = in_pot.carried + coming;
        let reducer = self.reducer.filter(|_| brought.g() > 0.0);
        let too_thin = reducer.and_then(|at| {
            let most = self.allowed(plan, at) * factor;
            let there = in_pot.mass(at).unwrap_or(Mass::from_g(0.0)) + coming;
            let more = there - most;
            (more.g() > most.g() * SLACK).then(|| self.told(at, more))
        });
        PotPlan {
            lines,
            factor,
            over,
            poured,
            makes,
            spared: reducer.map(|at| self.told(at, brought)),
            too_thin,
        }
    }

    /// How much of each component is in the pot against the plan, a reducer against what the sheet
    /// allows. Thinner that came out of a can is nobody's over-pour: the rest does not follow it.
    pub(super) fn ratios(&self, plan: &Plan, in_pot: &InPot<'_>) -> Vec<f64> {
        let ratio = |at: usize, mass: Mass| mass / self.allowed(plan, at);
        let mut ratios: Vec<f64> =
            (0..self.len()).map(|at| in_pot.mass(at).map_or(0.0, |mass| ratio(at, mass))).collect();
        if let Some(at) = self.reducer.filter(|_| in_pot.carried.g() > 0.0) {
            let others = ratios.iter().enumerate().filter(|(other, _)| *other != at);
            let others = others.map(|(_, ratio)| *ratio).fold(1.0, f64::max);
            let by_hand = ratios[at] - ratio(at, in_pot.carried);
            let over = (ratios[at] - others).max(0.0);
            ratios[at] = if over > 0.0 { others + over.min(by_hand.max(0.0)) } else { ratios[at] };
        }
        ratios
    }

    /// The component that the others follow: the first that is at the factor, but for a step of the
    /// scale, by which one that followed it may lie above.
    fn went_over(
        &self,
        plan: &Plan,
        ratios: &[f64],
        factor: f64,
        step_g: Option<f64>,
    ) -> Option<usize> {
        let leads = |at: &usize| {
            let below_g = self.allowed(plan, *at).g() * (factor - ratios[*at]);
            ratios[*at] > 1.0 + SLACK && below_g <= step_g.unwrap_or(0.0) + SLACK
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
        let asked =
            !optional && (poured.is_none() || self.is_missed(at, missing, wanted, fineness));
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

    /// Whether so much is asked for: less than the scale shows, or than the sheet minds, is not.
    fn is_missed(&self, at: usize, missing: Mass, wanted: Mass, fineness: Fineness) -> bool {
        let weighed = self.told(at, missing).g.zip(fineness.step_g);
        let shows = weighed.is_none_or(|(g, step)| g > step);
        let short_pct = missing / wanted * 100.0;
        let minds = fineness.tolerance_pct.is_none_or(|tolerance| short_pct > tolerance);
        missing.g() > wanted.g() * SLACK && shows && minds
    }

    /// Takes more from a can with thinner in it, so that as much of the component comes out; the
    /// reducer that comes with it.
    fn take_from_can(
        &self,
        line: &mut PotLine,
        at: usize,
        wanted: Mass,
        (in_pot, thinner): (&InPot<'_>, f64),
    ) -> Mass {
        if line.add.is_none() || !self.reckons_thinner(at, thinner) {
            return Mass::from_g(0.0);
        }
        let missing = wanted - in_pot.mass(at).unwrap_or(Mass::from_g(0.0));
        let (take, comes) = self.to_take(at, missing, thinner);
        line.add = Some(take);
        comes
    }

    /// Asks for less reducer by what comes with the other components.
    fn spare(
        &self,
        lines: &mut [PotLine],
        planned: impl Fn(usize) -> Mass,
        factor: f64,
        (in_pot, coming): (&InPot<'_>, Mass),
        fineness: Fineness,
    ) {
        let Some(at) = self.reducer.filter(|_| in_pot.carried.g() + coming.g() > 0.0) else {
            return;
        };
        let wanted = planned(at) * factor;
        let missing = wanted - in_pot.mass(at).unwrap_or(Mass::from_g(0.0)) - coming;
        let asked = self.is_missed(at, missing, wanted, fineness);
        lines[at].add = asked.then(|| self.told(at, missing));
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

    /// Invented, worked by hand: 100:25:10, meant 400.0, poured 412.0, then 112.0 of activator.
    #[test]
    fn an_over_pour_is_followed_by_everything_else() {
        let recipe = SheetRecipe::of(&rule([100.0, 25.0, 10.0], [None; 3])).unwrap();
        let plan = recipe.plan(Told { g: Some(540.0), ml: None }).unwrap();
        let pot = recipe.pot(&plan, InPot::fresh(&grams(&[Some(412.0), None, None])), TENTH);
        assert_eq!(pot.over.map(|(at, _)| at), Some(0));
        assert!(close(pot.lines[1].add.unwrap().g, 103.0));
        assert!(close(pot.lines[1].shows.unwrap().g, 515.0));
        assert!(close(pot.lines[2].add.unwrap().g, 41.2));
        assert!(close(pot.makes.g, 556.2) && pot.makes.ml.is_none());

        // followed to the step of the scale, a hair above: it is still the base that went over
        let pot =
            recipe.pot(&plan, InPot::fresh(&grams(&[Some(412.0), Some(103.02), None])), TENTH);
        assert_eq!(pot.over.map(|(at, _)| at), Some(0));

        let pot = recipe.pot(&plan, InPot::fresh(&grams(&[Some(412.0), Some(112.0), None])), TENTH);
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
        let pot = recipe.pot(&plan, InPot::fresh(&[]), Fineness::default());
        assert_eq!(pot.lines[1].planned, Told { g: Some(10.0), ml: None });
        assert_eq!(pot.makes, Told { g: Some(60.0), ml: None });
        assert_eq!(recipe.mass(1, Told { g: None, ml: Some(5.0) }), None);
    }

    #[test]
    fn what_the_scale_does_not_show_or_the_sheet_does_not_mind_is_not_asked_again() {
        let recipe = SheetRecipe::of(&rule([100.0, 25.0, 10.0], [None; 3])).unwrap();
        let plan = recipe.plan(Told { g: Some(135.0), ml: None }).unwrap();
        let pour = |base: f64, fineness| {
            recipe
                .pot(&plan, InPot::fresh(&grams(&[Some(base), Some(25.0), Some(10.0)])), fineness)
                .next()
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
            recipe.pot(
                &plan,
                InPot::fresh(&grams(&[Some(100.0), Some(25.0), Some(reducer)])),
                TENTH,
            )
        };
        assert_eq!((pour(14.0).next(), pour(14.0).over), (None, None));
        assert!(close(pour(14.0).makes.g, 139.0));
        assert_eq!(pour(18.0).next(), Some(0));
        assert!((pour(18.0).factor - 1.2).abs() < 1e-9);
    }

    /// 3:1:1 by volume, 500 mL, base from a can of which a tenth is reducer: 300 mL of base come
    /// with 33.3 mL of reducer in 333.3 mL, and 66.7 mL are still to be added.
    #[test]
    fn thinner_in_a_can_is_spared() {
        let mut rule = rule([3.0, 1.0, 1.0], [Some(1.3), Some(1.1), Some(0.9)]);
        rule.by = Basis::Volume;
        let recipe = SheetRecipe::of(&rule).unwrap();
        let plan = recipe.plan(Told { ml: Some(500.0), g: None }).unwrap();
        let thin = [0.1, 0.0, 0.0];
        let before = InPot { thinner: &thin, ..InPot::fresh(&[]) };
        let pot = recipe.pot(&plan, before, Fineness::default());
        assert!(close(pot.lines[0].add.unwrap().ml, 1000.0 / 3.0));
        assert!(close(pot.lines[0].shows.unwrap().g, 300.0 * 1.3 + 30.0));
        assert!(close(pot.lines[2].add.unwrap().ml, 200.0 / 3.0));
        assert!(close(pot.lines[2].shows.unwrap().ml, 500.0) && close(pot.makes.ml, 500.0));
        assert!(close(pot.spared.unwrap().ml, 100.0 / 3.0) && pot.too_thin.is_none());

        let took = Told { ml: Some(1000.0 / 3.0), g: None };
        let (base, carried) = recipe.in_can(0, took, 0.1).unwrap();
        let masses = [Some(base), None, Some(carried)];
        let after = InPot { masses: &masses, carried, thinner: &thin };
        let pot = recipe.pot(&plan, after, Fineness::default());
        assert_eq!((pot.next(), pot.over), (Some(1), None));
        assert!(close(pot.lines[2].add.unwrap().ml, 200.0 / 3.0));
    }

    /// The same can with half of it reducer brings 300 mL where 100 are wanted: nothing follows it,
    /// no reducer is asked for, and the 200 mL are told.
    #[test]
    fn too_much_thinner_in_a_can_is_told_and_not_followed() {
        let mut rule = rule([3.0, 1.0, 1.0], [None; 3]);
        rule.by = Basis::Volume;
        let recipe = SheetRecipe::of(&rule).unwrap();
        let plan = recipe.plan(Told { ml: Some(500.0), g: None }).unwrap();
        let (base, carried) = recipe.in_can(0, Told { ml: Some(600.0), g: None }, 0.5).unwrap();
        let masses = [Some(base), None, Some(carried)];
        let in_pot = InPot { masses: &masses, carried, thinner: &[0.5] };
        let pot = recipe.pot(&plan, in_pot, Fineness::default());
        assert!((pot.factor - 1.0).abs() < 1e-9);
        assert!(close(pot.too_thin.unwrap().ml, 200.0));
        assert_eq!(pot.lines[2].add, None);

        // what was added by hand on top of it is an over-pour as ever: 30 mL over a full 100
        let masses = [Some(base), None, Some(Mass::from_g(130.0))];
        let in_pot = InPot { masses: &masses, carried: Mass::from_g(60.0), thinner: &[] };
        let pot = recipe.pot(&plan, in_pot, Fineness::default());
        assert!((pot.factor - 1.3).abs() < 1e-9);
    }

    #[test]
    fn thinner_that_cannot_be_reckoned_changes_nothing() {
        let recipe = SheetRecipe::of(&rule([100.0, 25.0, 10.0], [None; 3])).unwrap();
        let plan = recipe.plan(Told { g: Some(135.0), ml: None }).unwrap();
        let in_pot = InPot { thinner: &[0.2], ..InPot::fresh(&[]) };
        let plain = recipe.pot(&plan, InPot::fresh(&[]), TENTH);
        assert_eq!(recipe.pot(&plan, in_pot, TENTH), plain);
        assert!(!recipe.reckons_thinner(0, 0.2));
        let told = Told { g: Some(100.0), ml: None };
        assert_eq!(recipe.in_can(0, told, 0.2), Some((Mass::from_g(100.0), Mass::from_g(0.0))));
        assert_eq!(recipe.both(0, told, 0.2), told);
    }
}
