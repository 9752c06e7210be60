//! What the bench needs of a pot: the one being mixed, else the one to be mixed, else the one in use.

use super::Next;
use crate::material::recipe::Told;
use crate::material::stock::Content;
use crate::session::command::Poured;
use crate::session::demand::{self, Need, NotSet};
use crate::session::event::Lot;
use crate::session::mixing::{
    FlowNow, MixNow, Mixing, NoPlan, Ratio, Returned, done_by_pot_in_use, flow_now, mix_on_bench,
    pot_amounts,
};
use crate::session::standing::{PotStanding, Standing};
use crate::session::stock::{CanAhead, can_of_pot, cans_ahead, level_of, overdrawn};
use crate::session::watch::Watch;
use crate::session::{Session, State};
use crate::units::{Share, Volume};

/// By what a pour is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gauge {
    /// The scale's running total.
    Scale,
    /// The mark on the pot.
    Mark,
}

/// What the gauge shows after a pour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shows {
    /// The scale, g.
    Scale(f64),
    /// The mark, mL.
    Mark(f64),
}

impl From<Shows> for Poured {
    fn from(shows: Shows) -> Self {
        match shows {
            Shows::Scale(g) => Self::ScaleShows(g),
            Shows::Mark(ml) => Self::MarkShows(ml),
        }
    }
}

/// What is to be done with the pot on the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnBench {
    /// Nothing was told of it yet.
    ToMix,
    /// Pours or the stir are still to come.
    Mixing,
    /// It is mixed.
    Mixed,
}

/// Material that went back to a can.
#[derive(Debug, Clone, PartialEq)]
pub struct BackInCan {
    /// How much, mL.
    pub ml: f64,
    /// Reducer in it, % by volume, where the sheet's densities tell.
    pub reducer_pct: Option<f64>,
    /// What the can holds now, mL, and reducer in that, %, where the can was told.
    pub can: Option<(f64, f64)>,
    /// Which can that is, where it is on the shelf: its file.
    pub to: Option<String>,
}

/// The pot on the bench.
#[derive(Debug, Clone, PartialEq)]
pub struct MixBoard {
    /// Its letter.
    pub pot: String,
    /// Its layer, counted from 1.
    pub layer: u32,
    /// What is to be done with it.
    pub stands: OnBench,
    /// By what it is poured.
    pub by: Gauge,
    /// Its lines, or why there are none.
    pub now: Result<MixNow, NoPlan>,
    /// Whether pours were told, not only the whole.
    pub poured: bool,
    /// What the amount needed rests on, or the figure that is not set.
    pub need: Result<Need, NotSet>,
    /// By how much the pot is short of the need, mL; nothing where it is not.
    pub short_of_need_ml: Option<f64>,
    /// Lots told.
    pub lots: Vec<Lot>,
    /// Components whose lot was past its date.
    pub expired: Vec<String>,
    /// The flow cup.
    pub flow: Option<FlowNow>,
    /// Where the pot stands, once it is there.
    pub standing: Option<PotStanding>,
    /// What should be left in it, mL.
    pub left_ml: Option<f64>,
    /// What was left when it was weighed, if that is more than went in: by how much, mL.
    pub more_than_mixed_ml: Option<f64>,
    /// What went back to the can last.
    pub returned: Option<BackInCan>,
    /// By how much more went back than was left, mL.
    pub returned_more_ml: Option<f64>,
    /// The cans from which it is still to be poured.
    pub cans: Vec<CanAhead>,
    /// The cans of its layer from which more was poured than was in them: their files.
    pub overdrawn: Vec<String>,
    /// The can to which what is left of it would go back: its file.
    pub back_to: Option<String>,
}

impl MixBoard {
    /// The ratio of what is in it.
    #[must_use]
    pub fn ratio(&self) -> Ratio {
        self.now.as_ref().map_or(Ratio::NotTold, |now| now.ratio)
    }

    /// The component (from 0) to pour next and what the gauge shows then.
    #[must_use]
    pub fn next_pour(&self) -> Option<(usize, Shows)> {
        let now = self.now.as_ref().ok()?;
        let at = now.pot.next()?;
        shows(now, at, self.by).map(|shows| (at, shows))
    }

    /// Pours by `gauge` from now on, where the sheet's densities allow it.
    pub fn measure_by(&mut self, gauge: Gauge) {
        let allowed = self.now.as_ref().is_ok_and(|now| allows(now, gauge));
        if allowed {
            self.by = gauge;
        }
    }
}

impl super::Board {
    /// The same board with pours measured by `gauge`, as far as the sheet's densities allow it.
    #[must_use]
    pub fn measured_by(mut self, gauge: Option<Gauge>) -> Self {
        let (Some(gauge), Some(mixing)) = (gauge, &mut self.mixing) else { return self };
        mixing.measure_by(gauge);
        if let Next::Pour { pot, component, shows, .. } = &mut self.next
            && *pot == mixing.pot
            && let Some((next, measured)) = mixing.next_pour()
            && next == *component
        {
            *shows = measured;
        }
        self
    }
}

const fn allows(now: &MixNow, gauge: Gauge) -> bool {
    match gauge {
        Gauge::Scale => now.weighs,
        Gauge::Mark => now.marks,
    }
}

fn shows(now: &MixNow, component: usize, by: Gauge) -> Option<Shows> {
    let told = now.pot.lines.get(component)?.shows?;
    match by {
        Gauge::Scale => told.g.map(Shows::Scale),
        Gauge::Mark => told.ml.map(Shows::Mark),
    }
}

/// By the gauge of the last pour; before one by the scale where the shop has one, else as the
/// sheet counts.
fn gauge(state: &State, mixing: &Mixing, now: &MixNow) -> Gauge {
    let last = mixing.pours.last().map(|pour| match pour.amount {
        Told { g: Some(_), .. } => Gauge::Scale,
        Told { .. } => Gauge::Mark,
    });
    let has_scale = state.work.shop.scale_step_g.is_some();
    let usual = if has_scale || !now.marks { Gauge::Scale } else { Gauge::Mark };
    let usual = if allows(now, usual) { usual } else { Gauge::Mark };
    last.filter(|gauge| allows(now, *gauge)).unwrap_or(usual)
}

/// The layer of the pot on the bench: of the pot being mixed, else the layer in work, else the last.
#[must_use]
pub fn layer_on_bench(state: &State) -> u32 {
    let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
    on_bench(state, layer).map_or(layer, |mixing| mixing.layer)
}

/// The pot being mixed: for `layer`, else for any.
fn on_bench(state: &State, layer: u32) -> Option<&Mixing> {
    let any = || state.mixings.iter().rev().find(|mixing| mixing.is_open());
    state.open_mixing(layer).or_else(any)
}

/// The pot on the bench.
pub(super) fn mix_board(
    session: &Session,
    standing: &Standing,
    next: &Next,
    watch: &Watch,
) -> Option<MixBoard> {
    let state = session.state();
    let layer = standing.layer.unwrap_or_else(|| state.layer_count());
    if let Some(mixing) = on_bench(state, layer) {
        return Some(of_mixing(session, standing, mixing, OnBench::Mixing, watch));
    }
    let to_mix = || {
        let mixing = Mixing { pot: session.next_letter(), layer, ..Mixing::default() };
        Some(of_mixing(session, standing, &mixing, OnBench::ToMix, watch))
    };
    // while a pot is good the next one may be asked for
    if matches!(next, Next::MixPot { .. } | Next::Pour { why: Some(_), .. }) {
        return to_mix();
    }
    let in_use = state.pot_in_use(layer).and_then(|pot| state.mixing(&pot.id));
    let good = in_use.filter(|mixing| {
        use crate::session::standing::PotNow;
        let now = standing.pot(&mixing.pot).map(|pot| pot.now);
        matches!(now, Some(PotNow::Standing | PotNow::Good)) || standing.layer.is_none()
    });
    match good {
        Some(mixing) => Some(of_mixing(session, standing, mixing, OnBench::Mixed, watch)),
        None if standing.layer.is_some() => to_mix(),
        None => None,
    }
}

fn of_mixing(
    session: &Session,
    standing: &Standing,
    mixing: &Mixing,
    stands: OnBench,
    watch: &Watch,
) -> MixBoard {
    let (state, plan) = (session.state(), session.plan());
    let now = mix_on_bench(state, plan, mixing, watch);
    let by = now.as_ref().map_or(Gauge::Scale, |now| gauge(state, mixing, now));
    let pot = state.pot(&mixing.pot);
    let left_ml = pot.and_then(|pot| demand::left_ml(state, plan, pot));
    let at = standing.pot(&mixing.pot);
    let done = done_by_pot_in_use(state, plan, mixing.layer, watch);
    let need = match pot {
        Some(pot) if pot.stirred.is_some() => demand::need_of_pot(state, plan, pot),
        _ => demand::need_beyond(state, plan, mixing.layer, &done),
    };
    let weighed = pot.and_then(|pot| Some((pot.weighed?.1, pot.amount_ml?)));
    let planned = now.as_ref().ok().map(|now| &now.pot);
    // of a mixed pot of unknown size nothing is still to be poured
    let cans = if stands != OnBench::Mixed || planned.is_some() {
        cans_ahead(state, mixing.layer, planned, watch)
    } else {
        Vec::new()
    };
    MixBoard {
        pot: mixing.pot.clone(),
        layer: mixing.layer,
        stands,
        by,
        poured: !mixing.pours.is_empty(),
        short_of_need_ml: short_of_need(&now, &need).filter(|_| stands != OnBench::Mixed),
        now,
        need,
        lots: mixing.lots.clone(),
        expired: mixing.expired.clone(),
        flow: flow_now(state, mixing, at, left_ml, watch),
        standing: at.cloned(),
        left_ml,
        more_than_mixed_ml: weighed.map(|(left, mixed)| left - mixed).filter(|more| *more > 0.5),
        returned: back_in_can(state, mixing),
        returned_more_ml: mixing.returned.last().and_then(|returned| returned.more_ml),
        cans,
        overdrawn: overdrawn(state, mixing.layer),
        back_to: can_of_pot(state, mixing, watch),
    }
}

fn short_of_need(now: &Result<MixNow, NoPlan>, need: &Result<Need, NotSet>) -> Option<f64> {
    let makes = now.as_ref().ok()?.pot.makes.ml?;
    let short = need.as_ref().ok()?.to_mix_ml? - makes;
    (short > 0.5).then_some(short)
}

/// What went back last: the reducer in it, and in the can now.
fn back_in_can(state: &State, mixing: &Mixing) -> Option<BackInCan> {
    let returned = mixing.returned.last()?;
    let on_shelf = returned.can.as_ref().and_then(|can| state.stock.can(can));
    let can = match on_shelf {
        Some(seen) => {
            let level = level_of(state, seen);
            level.left.ml.zip(level.thinner).map(|(ml, share)| (ml, share.fraction() * 100.0))
        }
        None => untold_can(state, mixing, returned),
    };
    let reducer_pct = returned.thinner.map(|share| share * 100.0);
    Some(BackInCan { ml: returned.ml, reducer_pct, can, to: returned.can.clone() })
}

/// A can that is not on the shelf, by what it was told to hold before the pot: as one without any
/// reducer.
fn untold_can(state: &State, mixing: &Mixing, returned: &Returned) -> Option<(f64, f64)> {
    let mix = &state.sheet(mixing.layer)?.mix;
    let (_, rest_ml) = pot_amounts(state, mixing)?.volumes(mix)?;
    let thinner = Share::from_fraction(returned.thinner?);
    let can = Content::new(Volume::from_ml(returned.can_ml?), Share::from_fraction(0.0)).ok()?;
    let after = can.less(Volume::from_ml(rest_ml)).with(Volume::from_ml(returned.ml), thinner);
    Some((after.volume.ml(), after.thinner.fraction() * 100.0))
}

/// What comes next of pouring: the component named into the pot named.
pub(super) fn next_pour(
    session: &Session,
    pot: &str,
    component: &str,
    watch: &Watch,
) -> Option<Next> {
    let (state, plan) = (session.state(), session.plan());
    let mixing = state.mixing(pot)?;
    let layer = mixing.layer;
    let now = mix_on_bench(state, plan, mixing, watch).ok()?;
    let components = &state.sheet(layer)?.mix.components;
    let at = components.iter().position(|it| it.name == component)?;
    let shows = shows(&now, at, gauge(state, mixing, &now))?;
    Some(Next::Pour { pot: pot.to_owned(), layer, component: at, shows, why: None })
}

/// The first pour of a new pot for `layer`; nothing where its parts cannot be told.
pub(super) fn first_pour(session: &Session, layer: u32, watch: &Watch) -> Option<Next> {
    let (state, plan) = (session.state(), session.plan());
    let mixing = Mixing { pot: session.next_letter(), layer, ..Mixing::default() };
    let now = mix_on_bench(state, plan, &mixing, watch).ok()?;
    let component = now.pot.next()?;
    let shows = shows(&now, component, gauge(state, &mixing, &now))?;
    Some(Next::Pour { pot: mixing.pot, layer, component, shows, why: None })
}

/// What comes next once all is in.
pub(super) fn stir(state: &State, pot: &str) -> Next {
    let mixing = state.mixing(pot);
    let amount_ml = mixing.and_then(|mixing| pot_amounts(state, mixing)?.told.ml);
    let layer = mixing.map_or(0, |mixing| mixing.layer);
    Next::Stir { pot: pot.to_owned(), layer, amount_ml }
}
