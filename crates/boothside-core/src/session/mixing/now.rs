//! Where the mixing of a pot stands, by the sheet's recipe.

use super::contents::reducer_and_rest;
use super::{Mixing, done_by_pot_in_use};
use crate::material::recipe::{Fineness, InPot, Plan, PotPlan, SheetRecipe, Told};
use crate::material::sheet::{MixRule, Sheet};
use crate::session::Plan as JobPlan;
use crate::session::demand;
use crate::session::state::State;
use crate::session::stock::thinner_for;
use crate::session::watch::Watch;
use crate::units::{Mass, Share};

/// Why no pot can be planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoPlan {
    /// How much is wanted is not told, and cannot be reckoned.
    NoAmount,
    /// A density is missing, so that the amount wanted cannot be shared out.
    NoDensity,
}

/// Whether the container holds the pot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Container {
    /// Nothing is told of containers, or the pot's volume cannot be told.
    NotTold,
    /// It does.
    Holds {
        /// What the container holds, mL.
        ml: f64,
    },
    /// It does not.
    TooSmall {
        /// What the container holds, mL: the one in use, or the largest of the shop.
        ml: f64,
        /// By how much the pot is larger, mL.
        over_ml: f64,
    },
}

/// A pot whose smallest component the scale does not weigh to the sheet's tolerance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TooCoarse {
    /// The component (from 0).
    pub component: usize,
    /// What one step of the scale is of it, %.
    pub step_pct: f64,
    /// The smallest pot that can be weighed to the tolerance.
    pub smallest: Told,
}

/// A component of which there is too little for what was asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limited {
    /// The component (from 0).
    pub component: usize,
    /// By how much the pot is smaller than was asked.
    pub less: Told,
    /// How much more of the component all that was asked would take.
    pub lacks: Told,
}

/// How the ratio in a pot stands against the sheet's tolerance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ratio {
    /// No pours were told.
    NotTold,
    /// The sheet states no tolerance.
    NotSet {
        /// The component (from 0) of which the pot is shortest.
        component: usize,
        /// By how much, %.
        short_pct: f64,
        /// Reducer past what the sheet allows.
        thinned: Option<Thinned>,
    },
    /// Within the tolerance.
    Within {
        /// The component (from 0) of which the pot is shortest.
        component: usize,
        /// By how much, %.
        short_pct: f64,
    },
    /// Out of it.
    Out {
        /// The component (from 0) of which the pot is shortest.
        component: usize,
        /// By how much, %: within the tolerance where only the reducer is out of it.
        short_pct: f64,
        /// Reducer past what the sheet allows by more than the tolerance.
        thinned: Option<Thinned>,
    },
}

/// More reducer in a pot than the sheet allows to what else is in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thinned {
    /// The reducer (from 0).
    pub component: usize,
    /// How much more.
    pub over: Told,
    /// That as a share of what is allowed, %.
    pub over_pct: f64,
}

/// Where the mixing of a pot stands.
#[derive(Debug, Clone, PartialEq)]
pub struct MixNow {
    /// How much was wanted.
    pub wanted: Told,
    /// Lines, running totals, what it makes.
    pub pot: PotPlan,
    /// Whether it can be weighed.
    pub weighs: bool,
    /// Whether it can be poured by marks.
    pub marks: bool,
    /// Components (from 0) whose density the sheet does not give.
    pub without_density: Vec<usize>,
    /// Which short component keeps it smaller than was asked.
    pub limited: Option<Limited>,
    /// Its container.
    pub container: Container,
    /// Whether the scale is too coarse for it.
    pub too_coarse: Option<TooCoarse>,
    /// The ratio of what is in it.
    pub ratio: Ratio,
    /// Thinner in the can of each component, a share by volume; 0 where there is none.
    pub thinner: Vec<f64>,
    /// Components (from 0) whose can has thinner with which nothing can be reckoned.
    pub unreckoned: Vec<usize>,
}

/// What is in a pot.
#[derive(Debug, Clone, PartialEq)]
pub struct PotAmounts {
    /// Of each component, in terms of the recipe's inner densities; nothing where none was poured.
    pub(crate) masses: Vec<Option<Mass>>,
    /// All of it; nothing where an addition was told without its amount.
    pub told: Told,
    /// All of which the amount was told: where scale and mark start from.
    pub(crate) running: Told,
    /// Density of the mix, g/mL; nothing where the sheet lacks one.
    pub density: Option<f64>,
    /// Reducer among it that came with other components out of their cans.
    pub(crate) carried: Mass,
}

/// What is in a pot; nothing where its layer has no sheet.
#[must_use]
pub fn pot_amounts(state: &State, mixing: &Mixing) -> Option<PotAmounts> {
    let mix = &state.sheet(mixing.layer)?.mix;
    let recipe = SheetRecipe::of(mix).ok()?;
    let mut masses: Vec<Option<Mass>> = vec![None; recipe.len()];
    let mut carried = Mass::from_g(0.0);
    let mut put = |at: usize, mass: Mass| {
        masses[at] = Some(masses[at].unwrap_or(Mass::from_g(0.0)) + mass);
    };
    for pour in &mixing.pours {
        let at = mix.components.iter().position(|it| it.name == pour.component);
        let poured = at.and_then(|at| Some((at, recipe.in_can(at, pour.amount, pour.thinner)?)));
        let Some((at, (mass, comes))) = poured else { continue };
        put(at, mass);
        if let Some(reducer) = recipe.reducer().filter(|_| comes.g() > 0.0) {
            put(reducer, comes);
            carried = carried + comes;
        }
    }
    let mut known = true;
    for fresh in &mixing.fresh {
        let plan = fresh.ml.and_then(|ml| recipe.plan(Told { ml: Some(ml), g: None }).ok());
        known &= plan.is_some();
        let lines = masses.iter_mut().zip(plan.iter().flat_map(Plan::lines));
        for (mass, line) in lines.filter(|(_, line)| line.mass.g() > 0.0) {
            *mass = Some(mass.unwrap_or(Mass::from_g(0.0)) + line.mass);
        }
    }
    let sum = |unit: fn(Told) -> Option<f64>| -> f64 {
        let told = masses.iter().enumerate().filter_map(|(at, mass)| Some((at, (*mass)?)));
        told.filter_map(|(at, mass)| unit(recipe.told(at, mass))).sum()
    };
    let (g, ml) = (sum(|told| told.g), sum(|told| told.ml));
    let nominal = recipe.plan(Told { ml: Some(1.0), g: Some(1.0) }).ok();
    let nominal = nominal.map(|plan| plan.density().g_per_ml());
    let density = if ml > 0.0 { Some(g / ml) } else { nominal };
    let running = Told { g: recipe.weighs().then_some(g), ml: recipe.marks().then_some(ml) };
    Some(PotAmounts {
        masses,
        told: if known { running } else { Told::default() },
        running,
        density: density.filter(|_| recipe.all_known()),
        carried,
    })
}

/// More than this is no pot, but a mistyped area or film.
const LARGEST_POT_ML: f64 = 100_000.0;

/// What the coats of a layer still to come need beyond those that a pot which is there finishes, to
/// whole millilitres upwards: nobody pours tenths.
#[must_use]
pub fn need(state: &State, plan: &JobPlan, layer: u32, watch: &Watch) -> Told {
    let done = done_by_pot_in_use(state, plan, layer, watch);
    let beyond = demand::need_beyond(state, plan, layer, &done).ok();
    let ml = beyond.and_then(|need| need.to_mix_ml).map(f64::ceil);
    Told { ml: ml.filter(|ml| *ml <= LARGEST_POT_ML), g: None }
}

/// What is planned of the pot that is being mixed for a layer, mL: a short component kept it as small
/// as it is. Nothing where none is planned, or no volume of it can be told.
#[must_use]
pub fn planned_ml(state: &State, layer: u32) -> Option<f64> {
    let wanted = state.open_mixing(layer)?.wanted;
    let recipe = SheetRecipe::of(&state.sheet(layer)?.mix).ok().filter(SheetRecipe::marks);
    wanted.ml.or_else(|| Some(recipe?.plan(wanted).ok()?.total_volume().ml()))
}

/// Where the mixing of a pot stands; a stirred one as it is, so that only its ratio asks for more.
///
/// # Errors
/// [`NoPlan`] where nothing can be planned.
pub fn mix_on_bench(
    state: &State,
    plan: &JobPlan,
    mixing: &Mixing,
    watch: &Watch,
) -> Result<MixNow, NoPlan> {
    let need = need(state, plan, mixing.layer, watch);
    match mixing.stirred {
        Some(_) => mix_now(state, &as_it_is(state, mixing), need, watch),
        None => mix_now(state, mixing, need, watch),
    }
}

/// A stirred pot: what was wanted is the pot of the recipe around what is in it, so that only the
/// ratio asks for more, and reducer that the sheet allows asks for nothing.
fn as_it_is(state: &State, mixing: &Mixing) -> Mixing {
    let around = || {
        let recipe = SheetRecipe::of(&state.sheet(mixing.layer)?.mix).ok()?;
        let amounts = pot_amounts(state, mixing)?;
        let known = amounts.told != Told::default();
        let in_pot = InPot { carried: amounts.carried, ..InPot::fresh(&amounts.masses) };
        recipe.around(in_pot).filter(|_| known)
    };
    Mixing { wanted: around().unwrap_or(mixing.wanted), ..mixing.clone() }
}

/// Where the mixing of a pot stands, or of one still to begin, with `need` for the amount where
/// none is told.
///
/// # Errors
/// [`NoPlan`] where nothing can be planned.
pub fn mix_now(
    state: &State,
    mixing: &Mixing,
    need: Told,
    watch: &Watch,
) -> Result<MixNow, NoPlan> {
    let layer = mixing.layer;
    let sheet = state.sheet(layer).ok_or(NoPlan::NoAmount)?;
    let recipe = SheetRecipe::of(&sheet.mix).map_err(|_| NoPlan::NoAmount)?;
    let amounts = pot_amounts(state, mixing);
    let masses = amounts.as_ref().map_or(&[][..], |amounts| &amounts.masses);
    let wanted = wanted(mixing, need);
    if wanted == Told::default() {
        return Err(NoPlan::NoAmount);
    }
    let plan = recipe.plan(wanted).map_err(|_| NoPlan::NoDensity)?;
    let fineness = Fineness {
        step_g: state.work.shop.scale_step_g.filter(|_| recipe.weighs()),
        tolerance_pct: sheet.mix.tolerance_pct,
    };
    let thinner = thinner_for(state, layer, watch);
    let carried = amounts.as_ref().map_or(Mass::from_g(0.0), |amounts| amounts.carried);
    let pot = recipe.pot(&plan, InPot { masses, carried, thinner: &thinner }, fineness);
    let has_thinner = thinner.iter().enumerate().filter(|(_, share)| **share > 0.0);
    let unreckoned = has_thinner.filter(|(at, share)| !recipe.reckons_thinner(*at, **share));
    let container = container(state, mixing, &plan, pot.makes.ml.filter(|_| recipe.marks()));
    Ok(MixNow {
        wanted,
        weighs: recipe.weighs(),
        marks: recipe.marks(),
        without_density: recipe.without_density(),
        limited: limited(&recipe, &plan, sheet, mixing),
        container,
        too_coarse: too_coarse(&recipe, &plan, &pot, fineness),
        ratio: ratio(state, mixing),
        unreckoned: unreckoned.map(|(at, _)| at).collect(),
        thinner,
        pot,
    })
}

fn limited(recipe: &SheetRecipe, plan: &Plan, sheet: &Sheet, mixing: &Mixing) -> Option<Limited> {
    let name = mixing.limited_by.as_ref()?;
    let component = sheet.mix.components.iter().position(|it| &it.name == name)?;
    let asked = recipe.plan(mixing.asked).ok()?;
    let less_ml = (asked.total_volume() - plan.total_volume()).ml();
    let less_g = (asked.total_mass() - plan.total_mass()).g();
    let lacks = asked.lines()[component].mass - plan.lines()[component].mass;
    Some(Limited {
        component,
        less: Told { g: recipe.weighs().then_some(less_g), ml: recipe.marks().then_some(less_ml) },
        lacks: recipe.told(component, lacks),
    })
}

/// As told; else what was mixed by the recipe; else what is needed.
fn wanted(mixing: &Mixing, need: Told) -> Told {
    let fresh: Option<f64> = mixing.fresh.iter().map(|fresh| fresh.ml).sum();
    match (mixing.wanted, fresh) {
        (Told { ml: None, g: None }, Some(ml)) if ml > 0.0 => Told { ml: Some(ml), g: None },
        (Told { ml: None, g: None }, _) => need,
        (wanted, _) => wanted,
    }
}

/// The container in use: as told, else the smallest of the shop that holds what was wanted.
fn container(state: &State, mixing: &Mixing, plan: &Plan, makes_ml: Option<f64>) -> Container {
    let Some(makes_ml) = makes_ml else { return Container::NotTold };
    let wanted_ml = plan.total_volume().ml();
    let shop = &state.work.shop.containers_ml;
    let holding = shop.iter().copied().filter(|ml| *ml >= wanted_ml).min_by(f64::total_cmp);
    let largest = shop.iter().copied().max_by(f64::total_cmp);
    match mixing.container_ml.or(holding).or(largest) {
        None => Container::NotTold,
        Some(ml) if makes_ml <= ml => Container::Holds { ml },
        Some(ml) => Container::TooSmall { ml, over_ml: makes_ml - ml },
    }
}

fn too_coarse(
    recipe: &SheetRecipe,
    plan: &Plan,
    pot: &PotPlan,
    fineness: Fineness,
) -> Option<TooCoarse> {
    let (step_g, tolerance_pct) = (fineness.step_g?, fineness.tolerance_pct?);
    let tolerance = Share::from_fraction(tolerance_pct / 100.0);
    let smallest = plan.smallest_mass(Mass::from_g(step_g), tolerance).ok()?;
    if plan.total_mass() * pot.factor >= smallest {
        return None;
    }
    let masses = plan.lines().iter().map(|line| line.mass.g() * pot.factor).enumerate();
    let planned = masses.filter(|(_, g)| *g > 0.0);
    let (component, least_g) = planned.min_by(|(_, one), (_, other)| one.total_cmp(other))?;
    let whole = recipe.plan(Told { g: Some(smallest.g()), ml: None }).ok();
    let ml = whole.filter(|_| recipe.marks()).map(|plan| plan.total_volume().ml());
    let smallest = Told { g: Some(smallest.g()), ml };
    Some(TooCoarse { component, step_pct: step_g / least_g * 100.0, smallest })
}

/// How the ratio in a pot stands, however much of it was wanted.
#[must_use]
pub fn ratio(state: &State, mixing: &Mixing) -> Ratio {
    if mixing.pours.is_empty() {
        return Ratio::NotTold;
    }
    let told = || {
        let rule = &state.sheet(mixing.layer)?.mix;
        let recipe = SheetRecipe::of(rule).ok()?;
        let PotAmounts { masses, carried, .. } = pot_amounts(state, mixing)?;
        let in_pot = InPot { carried, ..InPot::fresh(&masses) };
        // a whole pot of unknown size was mixed by the recipe: a pour into it is in no known ratio
        let unknown = mixing.fresh.iter().any(|fresh| fresh.ml.is_none());
        let (worst, thinned) = (recipe.shortest(in_pot)?, recipe.thinned(in_pot));
        let thinned =
            thinned.map(|(component, over, over_pct)| Thinned { component, over, over_pct });
        (!unknown).then_some((worst, thinned, rule.tolerance_pct))
    };
    let Some(((component, short_pct), thinned, tolerance_pct)) = told() else {
        return Ratio::NotTold;
    };
    let Some(tolerance) = tolerance_pct else {
        return Ratio::NotSet { component, short_pct, thinned };
    };
    let thinned = thinned.filter(|thinned| thinned.over_pct > tolerance);
    if short_pct <= tolerance && thinned.is_none() {
        Ratio::Within { component, short_pct }
    } else {
        Ratio::Out { component, short_pct, thinned }
    }
}

/// The largest pot that short components (from 0) allow, but not more than `wanted`, and which of
/// them keeps it smaller; nothing where a density for it is missing.
#[must_use]
pub fn largest_pot(
    recipe: &SheetRecipe,
    wanted: Told,
    short: &[(usize, Told)],
) -> Option<(Told, Option<usize>)> {
    // a pot goes without one that may be left out
    let needed = short.iter().filter(|(at, _)| !recipe.is_optional(*at));
    let plans = needed.map(|(at, there_is)| Some((Some(*at), recipe.from_short(*at, *there_is)?)));
    let plans: Vec<(Option<usize>, Plan)> = plans.collect::<Option<_>>()?;
    let whole = recipe.plan(wanted).ok().map(|plan| (None, plan));
    let grams = |(_, plan): &(Option<usize>, Plan)| plan.total_mass().g();
    let all = plans.into_iter().chain(whole);
    let (limited_by, least) = all.min_by(|one, other| grams(one).total_cmp(&grams(other)))?;
    let told = Told {
        ml: recipe.marks().then(|| least.total_volume().ml()),
        g: recipe.weighs().then(|| least.total_mass().g()),
    };
    Some((told, limited_by))
}

impl PotAmounts {
    /// Reducer and the rest, mL; nothing where a density for it is missing.
    pub(crate) fn volumes(&self, mix: &MixRule) -> Option<(f64, f64)> {
        let recipe = SheetRecipe::of(mix).ok().filter(SheetRecipe::marks)?;
        let sums = reducer_and_rest(&recipe, mix, &self.masses)?;
        (sums.0 + sums.1 > 0.0).then_some(sums)
    }
}
