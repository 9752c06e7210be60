//! What a pot goes through: it is poured, thinned, sprayed from, weighed. How thin it is follows from
//! that, coat by coat: reducer that goes into the last third of a pot thins only that third.

use crate::material::recipe::{Plan as PotOf, SheetRecipe, Told};
use crate::material::sheet::{MixRule, Sheet};
use crate::session::demand::{NotSet, ml_per_m2_at, solids_thinned};
use crate::session::plan::Plan;
use crate::session::state::{CoatOn, FaceHistory, Pot, State};
use crate::session::time::Moment;
use crate::units::Mass;

use super::{Fresh, Mixing, Pour};

/// Two ratios nearer than this are the same one: the last bits of a sum.
const SAME: f64 = 1e-9;

/// What a pot went through.
#[derive(Debug, Clone, PartialEq)]
pub struct PotStory {
    solids_pct: Option<f64>,
    by_recipe: Result<f64, NotSet>,
    /// Reducer per volume of the rest from a moment on; nothing where that is not known.
    thinner: Vec<(Moment, Option<f64>)>,
    sprayed: Vec<Sprayed>,
}

/// A coat that came from the pot.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Sprayed {
    /// When it was on; nothing while it is on the gun.
    on: Option<Moment>,
    /// What it took: an estimate.
    ml: Result<f64, NotSet>,
}

/// A step of the story. What happens at one moment happens in this order.
#[derive(Debug, Clone, Copy)]
enum Step {
    /// Reducer and the rest, mL.
    In {
        reducer: f64,
        rest: f64,
    },
    /// Fresh mix of unknown size.
    FreshIn,
    /// A pour whose volume cannot be told.
    UnknownIn,
    Spray {
        area_m2: f64,
        on: Option<Moment>,
    },
    Back {
        ml: f64,
    },
    Weighed {
        ml: f64,
    },
}

impl Step {
    const fn rank(&self) -> u8 {
        match self {
            Self::In { .. } | Self::FreshIn | Self::UnknownIn => 0,
            Self::Spray { .. } => 1,
            Self::Back { .. } => 2,
            Self::Weighed { .. } => 3,
        }
    }
}

/// The story of the pot with this letter; nothing where its layer has no sheet.
#[must_use]
pub fn pot_story(state: &State, plan: &Plan, pot: &str) -> Option<PotStory> {
    let mixing = state.mixing(pot)?;
    let sheet = state.sheet(mixing.layer)?;
    let recipe = SheetRecipe::of(&sheet.mix).ok()?;
    let mut steps = steps_in(mixing, &sheet.mix, &recipe);
    steps.extend(steps_out(state, plan, mixing));
    steps.extend(state.pot(pot).and_then(|pot| weighed(pot, &steps)));
    steps.sort_by_key(|(at, step)| (*at, step.rank()));
    let mut telling = Telling::of(state, mixing.layer, sheet, &recipe);
    for (at, step) in steps {
        telling.take(at, step);
    }
    Some(telling.story)
}

/// Reducer and the rest of masses, mL; nothing where a density for it is missing.
pub(super) fn reducer_and_rest(
    recipe: &SheetRecipe,
    mix: &MixRule,
    masses: &[Option<Mass>],
) -> Option<(f64, f64)> {
    use crate::material::sheet::Role;
    let mut sums = (0.0, 0.0);
    for (at, (component, mass)) in mix.components.iter().zip(masses).enumerate() {
        let ml = mass.map_or(Some(0.0), |mass| recipe.told(at, mass).ml)?;
        match component.role {
            Role::Reducer => sums.0 += ml,
            Role::Base | Role::Activator => sums.1 += ml,
        }
    }
    Some(sums)
}

fn steps_in(mixing: &Mixing, mix: &MixRule, recipe: &SheetRecipe) -> Vec<(Moment, Step)> {
    let pours = mixing.pours.iter().map(|pour| (pour.at, pour_in(pour, mix, recipe)));
    let fresh = mixing.fresh.iter().map(|fresh| (fresh.at, fresh_in(fresh, mix, recipe)));
    fresh.chain(pours).collect()
}

fn pour_in(pour: &Pour, mix: &MixRule, recipe: &SheetRecipe) -> Step {
    let volumes = || {
        let at = mix.components.iter().position(|it| it.name == pour.component)?;
        let (mass, comes) = recipe.in_can(at, pour.amount, pour.thinner)?;
        let mut masses = vec![None; recipe.len()];
        *masses.get_mut(at)? = Some(mass);
        if let Some(reducer) = recipe.reducer().filter(|reducer| *reducer != at) {
            *masses.get_mut(reducer)? = Some(comes);
        }
        reducer_and_rest(recipe, mix, &masses)
    };
    volumes().map_or(Step::UnknownIn, |(reducer, rest)| Step::In { reducer, rest })
}

fn fresh_in(fresh: &Fresh, mix: &MixRule, recipe: &SheetRecipe) -> Step {
    let Some(ml) = fresh.ml else { return Step::FreshIn };
    let plan = recipe.plan(Told { ml: Some(ml), g: None }).ok();
    let volumes = plan.and_then(|plan| reducer_and_rest(recipe, mix, &masses_of(&plan)));
    volumes.map_or(Step::FreshIn, |(reducer, rest)| Step::In { reducer, rest })
}

fn masses_of(plan: &PotOf) -> Vec<Option<Mass>> {
    plan.lines().iter().map(|line| Some(line.mass)).collect()
}

/// Coats that came from it, and what went back to its can.
fn steps_out(state: &State, plan: &Plan, mixing: &Mixing) -> Vec<(Moment, Step)> {
    let mut out = Vec::new();
    for (face, history) in state.faces.iter().enumerate() {
        let area_m2 = plan.area_m2(&state.work, face);
        let from_it = coats_of(history).filter(|(coat, _)| coat.pot.as_ref() == Some(&mixing.pot));
        out.extend(from_it.map(|(coat, on)| (coat.begun, Step::Spray { area_m2, on })));
    }
    out.extend(mixing.returned.iter().map(|it| (it.at, Step::Back { ml: it.ml })));
    out
}

/// The coats sprayed on a face with the time at which each was on; one wiped off before that was
/// sprayed all the same.
fn coats_of(history: &FaceHistory) -> impl Iterator<Item = (&CoatOn, Option<Moment>)> {
    let on = history.coats.iter().map(|coat| (coat, coat.finished));
    let off = history.wiped_off.iter().map(|coat| (coat, coat.finished.or(Some(coat.begun))));
    on.chain(off).filter(|(coat, _)| !coat.skipped)
}

/// What the scale told, as it was told: what came in and went back after that is taken out again.
fn weighed(pot: &Pot, steps: &[(Moment, Step)]) -> Option<(Moment, Step)> {
    let (when, left) = pot.weighed?;
    let since = steps.iter().filter(|(at, _)| *at > when).map(|(_, step)| match step {
        Step::In { reducer, rest } => reducer + rest,
        Step::Back { ml } => -ml,
        _ => 0.0,
    });
    Some((when, Step::Weighed { ml: (left - since.sum::<f64>()).max(0.0) }))
}

/// The story as far as it was told.
struct Telling<'a> {
    state: &'a State,
    layer: u32,
    story: PotStory,
    /// Reducer and the rest that are in it, mL, where that is known.
    amounts: Option<(f64, f64)>,
    /// Reducer per volume of the rest, where only that is known.
    ratio: Option<f64>,
    /// The sheet's own.
    of_recipe: Option<f64>,
}

impl<'a> Telling<'a> {
    fn of(state: &'a State, layer: u32, sheet: &Sheet, recipe: &SheetRecipe) -> Self {
        let whole = recipe.plan(Told { ml: Some(1.0), g: None }).ok();
        let volumes =
            whole.and_then(|plan| reducer_and_rest(recipe, &sheet.mix, &masses_of(&plan)));
        let story = PotStory {
            solids_pct: sheet.solids_pct(),
            by_recipe: crate::session::demand::solids_as_mixed(sheet),
            thinner: Vec::new(),
            sprayed: Vec::new(),
        };
        let of_recipe = volumes.and_then(|(reducer, rest)| per_rest(reducer, rest));
        Self { state, layer, story, amounts: Some((0.0, 0.0)), ratio: None, of_recipe }
    }

    fn thinner(&self) -> Option<f64> {
        match self.amounts {
            Some((reducer, rest)) => per_rest(reducer, rest),
            None => self.ratio,
        }
    }

    fn take(&mut self, at: Moment, step: Step) {
        match step {
            Step::In { reducer, rest } => {
                self.pour(reducer, rest);
                self.story.thinner.push((at, self.thinner()));
            }
            Step::FreshIn => {
                let empty = self.amounts.is_some_and(|(reducer, rest)| reducer + rest <= 0.0);
                let alike = empty || same(self.thinner(), self.of_recipe);
                self.amounts = None;
                self.ratio = self.of_recipe.filter(|_| alike);
                self.story.thinner.push((at, self.ratio));
            }
            Step::UnknownIn => {
                (self.amounts, self.ratio) = (None, None);
                self.story.thinner.push((at, None));
            }
            Step::Spray { area_m2, on } => {
                let solids = self.story.solids(Some(at));
                let per_m2 = solids.and_then(|it| ml_per_m2_at(self.state, self.layer, it));
                let ml = per_m2.map(|per_m2| per_m2 * area_m2);
                self.story.sprayed.push(Sprayed { on, ml });
                self.draw(ml.ok());
            }
            Step::Back { ml } => self.draw(Some(ml)),
            Step::Weighed { ml } => {
                let share = self.thinner().map(|thinner| thinner / (1.0 + thinner));
                self.amounts = share.map(|share| (ml * share, ml * (1.0 - share)));
            }
        }
    }

    fn pour(&mut self, reducer: f64, rest: f64) {
        match &mut self.amounts {
            Some(amounts) => *amounts = (amounts.0 + reducer, amounts.1 + rest),
            // into an unknown amount: it stays as thin as it is only by more of the same
            None => self.ratio = self.ratio.filter(|it| same(Some(*it), per_rest(reducer, rest))),
        }
    }

    /// So much is gone, as thin as the rest. Where that empties it, how much is in it is not known:
    /// the coats took less than was taken for them.
    fn draw(&mut self, ml: Option<f64>) {
        let (thinner, amounts) = (self.thinner(), self.amounts);
        let left = amounts.zip(ml).and_then(|((reducer, rest), ml)| {
            let keeps = 1.0 - ml / (reducer + rest);
            (keeps > 0.0).then_some((reducer * keeps, rest * keeps))
        });
        (self.amounts, self.ratio) = (left, thinner);
    }
}

fn per_rest(reducer: f64, rest: f64) -> Option<f64> {
    (rest > 0.0).then(|| reducer / rest)
}

fn same(one: Option<f64>, other: Option<f64>) -> bool {
    one.zip(other).is_some_and(|(one, other)| (one - other).abs() <= SAME)
}

impl PotStory {
    /// Volume solids of what is in the pot, as a share: at a moment, else now. Before anything was
    /// poured by the sheet's recipe.
    ///
    /// # Errors
    /// [`NotSet`] names the missing figure.
    pub fn solids(&self, at: Option<Moment>) -> Result<f64, NotSet> {
        let by_recipe = self.by_recipe?;
        let until = self.thinner.iter().rev().find(|(since, _)| at.is_none_or(|at| *since <= at));
        let Some((_, thinner)) = until else { return Ok(by_recipe) };
        let solids_pct = self.solids_pct.ok_or(NotSet::Solids)?;
        solids_thinned(solids_pct, thinner.ok_or(NotSet::InPot)?)
    }

    /// What the coats that were on after `since` took from it: an estimate, mL.
    ///
    /// # Errors
    /// [`NotSet`] names the missing figure.
    pub fn sprayed_ml(&self, since: Option<Moment>) -> Result<f64, NotSet> {
        // a face on the gun still needs what it takes: it counts once it is on
        let counts = |it: &&Sprayed| it.on.is_some_and(|on| since.is_none_or(|since| on > since));
        self.sprayed.iter().filter(counts).map(|it| it.ml).sum()
    }
}
