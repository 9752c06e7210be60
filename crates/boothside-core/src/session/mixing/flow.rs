//! The flow cup: seconds against the sheet's, and the next small addition of reducer, if any.

use super::{Mixing, pot_amounts};
use crate::material::flow_cup::FlowCup;
use crate::material::recipe::{SheetRecipe, Told};
use crate::material::sheet::{MixRule, Role};
use crate::physics::viscosity::Thinning;
use crate::session::standing::PotStanding;
use crate::session::state::State;
use crate::session::time::Moment;
use crate::session::watch::Watch;
use crate::units::{Share, Volume};

/// The largest addition that is advised at once, % of what is in the pot: common practice, our own
/// figure.
pub const SMALL_PCT: f64 = 2.0;
/// How far from the sheet's temperature seconds still compare, K: ISO 2431 wants the cup and the
/// sample at its temperature to 0.5 °C, from memory.
const SAME_K: f64 = 0.5;

/// How seconds compare with the sheet's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FlowVerdict {
    /// As the sheet wants it.
    Within,
    /// Thinner than the sheet wants it.
    Thin,
    /// Thicker than the sheet wants it.
    Thick,
}

/// Why nothing is advised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoAdvice {
    /// There is no reading.
    NoReading,
    /// It is not too thick.
    NotThick,
    /// Activator is in, and the sheet states no pot life.
    LifeNotSet,
    /// Activator is in, and half the pot's life is over.
    PastHalf,
    /// It flowed faster before with no more reducer: it thickens by reaction.
    Thickens,
    /// The pot is at another temperature than the sheet's seconds.
    OtherTemperature,
    /// The mix has no reducer.
    NoReducer,
    /// The sheet does not say how much reducer it allows.
    CapNotSet,
    /// All the reducer that the sheet allows is in.
    AtCap,
    /// How much is in the pot is not known.
    AmountNotKnown,
    /// Neither two readings nor the sheet tell how the seconds fall.
    NoSlope,
}

/// What to do about the seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Advice {
    /// Nothing is advised.
    None(NoAdvice),
    /// An estimate: add so much reducer, then measure again.
    Add {
        /// The reducer (from 0).
        component: usize,
        /// How much.
        add: Told,
        /// Seconds to expect then.
        then_s: f64,
    },
}

/// The flow cup of a pot.
#[derive(Debug, Clone, PartialEq)]
pub struct FlowNow {
    /// What the sheet wants.
    pub rule: FlowCup,
    /// Seconds read last, and when.
    pub read: Option<(f64, Moment)>,
    /// Against the sheet.
    pub verdict: Option<FlowVerdict>,
    /// The viscosity, mm²/s; nothing outside the cup's range of seconds.
    pub mm2_per_s: Option<f64>,
    /// The seconds between which the cup measures.
    pub range_s: (f64, f64),
    /// The pot's temperature, else the air's, °C.
    pub pot_c: Option<f64>,
    /// How much colder (below 0) or warmer than the sheet's temperature that is, K, where the
    /// seconds do not compare for it.
    pub off_k: Option<f64>,
    /// What to do.
    pub advice: Advice,
}

/// The flow cup of the pot being or last mixed; nothing where its sheet has none.
#[must_use]
pub fn flow_now(
    state: &State,
    mixing: &Mixing,
    standing: Option<&PotStanding>,
    left_ml: Option<f64>,
    watch: &Watch,
) -> Option<FlowNow> {
    let sheet = state.sheet(mixing.layer)?;
    let rule = sheet.mix.flow_cup.clone()?;
    let cup = rule.cup()?;
    let read = mixing.flows.last();
    let air = state.readings.air();
    let pot_c = air.and_then(|air| air.pot_c.or(air.air_c));
    let off_k = pot_c.zip(rule.at_c).map(|(pot_c, at_c)| pot_c - at_c);
    let off_k = off_k.filter(|off| off.abs() > SAME_K);
    let verdict = read.map(|read| match read.seconds {
        seconds if seconds < rule.low_s => FlowVerdict::Thin,
        seconds if seconds > rule.high_s => FlowVerdict::Thick,
        _ => FlowVerdict::Within,
    });
    let kinematic = read.and_then(|read| cup.kinematic(read.seconds).ok());
    let advising = Advising { state, mixing, mix: &sheet.mix, rule: &rule };
    let advice = match (read, verdict) {
        (None, _) => Err(NoAdvice::NoReading),
        (_, Some(FlowVerdict::Thick)) => advising
            .may_be_thinned(standing, sheet.reacts(), watch)
            .and_then(|()| off_k.map_or(Ok(()), |_| Err(NoAdvice::OtherTemperature)))
            .and_then(|()| advising.addition(left_ml)),
        _ => Err(NoAdvice::NotThick),
    };
    Some(FlowNow {
        read: read.map(|read| (read.seconds, read.at)),
        verdict,
        mm2_per_s: kinematic.map(|it| it.mm2_per_s()),
        range_s: cup.range_s(),
        pot_c,
        off_k,
        advice: advice.unwrap_or_else(Advice::None),
        rule,
    })
}

struct Advising<'a> {
    state: &'a State,
    mixing: &'a Mixing,
    mix: &'a MixRule,
    rule: &'a FlowCup,
}

impl Advising<'_> {
    /// A two-part pot past half its life, or thickening by reaction, is never thinned back.
    fn may_be_thinned(
        &self,
        standing: Option<&PotStanding>,
        reacts: bool,
        watch: &Watch,
    ) -> Result<(), NoAdvice> {
        let born = standing.filter(|standing| reacts && standing.born.is_some());
        let Some(standing) = born else { return Ok(()) };
        let half = standing.half_life().ok_or(NoAdvice::LifeNotSet)?;
        if watch.reached(half) {
            return Err(NoAdvice::PastHalf);
        }
        if self.thickens() { Err(NoAdvice::Thickens) } else { Ok(()) }
    }

    fn thickens(&self) -> bool {
        let Some((last, before)) = self.mixing.flows.split_last() else { return false };
        before.iter().any(|it| it.pours <= last.pours && it.seconds < last.seconds)
    }

    fn addition(&self, left_ml: Option<f64>) -> Result<Advice, NoAdvice> {
        let reducer = self.mix.components.iter().position(|it| it.role == Role::Reducer);
        let reducer = reducer.ok_or(NoAdvice::NoReducer)?;
        let share = self.share_after(self.mixing.pours.len()).ok_or(NoAdvice::AmountNotKnown)?;
        let cap = self.cap(reducer)?;
        if share >= cap {
            return Err(NoAdvice::AtCap);
        }
        let amounts = pot_amounts(self.state, self.mixing);
        let pot_ml = left_ml.or_else(|| amounts?.told.ml).filter(|ml| *ml > 0.0);
        let pot_ml = pot_ml.ok_or(NoAdvice::AmountNotKnown)?;
        let thinning = self.thinning(share).ok_or(NoAdvice::NoSlope)?;
        let wanted_s = f64::midpoint(self.rule.low_s, self.rule.high_s);
        let aim = thinning.share_for(wanted_s).map_err(|_| NoAdvice::NoSlope)?.fraction();
        let to = |aim: f64| (aim - share) * pot_ml / (1.0 - aim);
        // half the way, for it is an estimate; small; within the sheet
        let half = to(f64::midpoint(share, aim).min(0.99));
        let ml = half.min(pot_ml * SMALL_PCT / 100.0).min(to(cap));
        let then = Share::from_fraction((share * pot_ml + ml) / (pot_ml + ml));
        let add = self.told(reducer, ml).ok_or(NoAdvice::AmountNotKnown)?;
        Ok(Advice::Add { component: reducer, add, then_s: thinning.seconds_at(then) })
    }

    fn told(&self, reducer: usize, ml: f64) -> Option<Told> {
        let recipe = SheetRecipe::of(self.mix).ok()?;
        Some(recipe.told(reducer, recipe.mass(reducer, Told { ml: Some(ml), g: None })?))
    }

    /// The reducer's share by volume once all that the sheet allows is in.
    fn cap(&self, reducer: usize) -> Result<f64, NoAdvice> {
        let most = self.mix.components[reducer].max_parts.ok_or(NoAdvice::CapNotSet)?;
        let mut mix = self.mix.clone();
        mix.components[reducer].parts = most;
        let recipe = SheetRecipe::of(&mix).ok().filter(SheetRecipe::marks);
        let plan = recipe.and_then(|it| it.plan(Told { ml: Some(1.0), g: None }).ok());
        let plan = plan.ok_or(NoAdvice::AmountNotKnown)?;
        Ok(plan.lines()[reducer].volume / Volume::from_ml(1.0))
    }

    /// The reducer's share by volume after so many pours; by the sheet's recipe where no pour was
    /// told.
    fn share_after(&self, pours: usize) -> Option<f64> {
        let then = Mixing {
            pours: self.mixing.pours.iter().take(pours).cloned().collect(),
            ..self.mixing.clone()
        };
        let (reducer, rest) = pot_amounts(self.state, &then)?.volumes(self.mix)?;
        Some(reducer / (reducer + rest))
    }

    /// How the seconds fall: through the last reading and one before it with less reducer, else by
    /// the sheet.
    fn thinning(&self, share: f64) -> Option<Thinning> {
        let (last, before) = self.mixing.flows.split_last()?;
        let now = (Share::from_fraction(share), last.seconds);
        let earlier = before.iter().rev().find(|it| it.pours < last.pours);
        let earlier = earlier
            .and_then(|it| Some((Share::from_fraction(self.share_after(it.pours)?), it.seconds)));
        let fit = earlier.and_then(|earlier| Thinning::through(earlier, now).ok()?);
        fit.or_else(|| {
            let falls = 1.0 - self.rule.falls_pct? / 100.0;
            let on = (Share::from_fraction(share + 0.01), last.seconds * falls);
            Thinning::through(now, on).ok()?
        })
    }
}
