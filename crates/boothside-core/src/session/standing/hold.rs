//! What speaks against beginning a coat. Only intentions meet a hold; a fact is flagged with it.

use std::fmt;

use crate::session::Session;
use crate::session::clocks::{Doubt, DueAt};
use crate::session::mixing::{Ratio, ratio};
use crate::session::state::{Overridden, State};
use crate::session::stock::past_cans;
use crate::session::time::Moment;
use crate::session::watch::Watch;

use super::Standing;
use super::air::{AirLimit, OutOfLimits, air_for, is_less};
use super::face::{FaceNow, FaceStanding};
use super::gate::{Gate, Wanting};
use super::pot::PotNow;
use super::trend::trend_breaks;

/// One hold. Its text form is what the log keeps.
#[derive(Debug, Clone, PartialEq)]
pub enum Hold {
    /// A step of preparation is not done, or waits.
    Wanting(Wanting),
    /// Too early for the next coat.
    TooEarly {
        /// The face's id.
        face: String,
        /// Until when.
        until: Option<DueAt>,
    },
    /// A minimum without a law opened it, though it was colder meanwhile than its sheet allows: how
    /// much longer it needs, nobody told.
    OpenedCold {
        /// Layer of the coat ahead, counted from 1.
        layer: u32,
        /// The coat ahead, counted from 1.
        coat: u32,
        /// The coldest that it was, the temperature for which it is stated, and the sheet's least, °C;
        /// nothing where only the text form is known.
        cold: Option<OpenedCold>,
    },
    /// Nobody looked whether it has dulled.
    LookFirst {
        /// The face's id.
        face: String,
    },
    /// A wipe or scuff must come first.
    WipeFirst {
        /// The face's id.
        face: String,
    },
    /// It must be sanded first.
    SandFirst {
        /// The face's id.
        face: String,
    },
    /// It is not turned up yet.
    NotTurned {
        /// The face's id.
        face: String,
    },
    /// Its part does not hang in the booth.
    Away {
        /// The face's id.
        face: String,
    },
    /// It is not sprayed in this job.
    Left {
        /// The face's id.
        face: String,
    },
    /// It has all its coats.
    AllOn {
        /// The face's id.
        face: String,
    },
    /// An earlier layer is not on every face.
    LayerBefore {
        /// The layer in work, counted from 1.
        layer: u32,
    },
    /// Coats are still to be sprayed.
    CoatsLeft,
    /// The last cure is not over.
    CureRuns {
        /// Until when; nothing where it cannot be told.
        until: Option<Moment>,
    },
    /// The pot is past its last trigger.
    StopAndClean {
        /// Its letter.
        pot: String,
    },
    /// The pot is past its life.
    PotDead {
        /// Its letter.
        pot: String,
    },
    /// The pot does not do the coats ahead, and the next one is wanted.
    PotShort {
        /// Its letter.
        pot: String,
    },
    /// The gun is to be cleaned.
    CleanGun {
        /// The pot whose material is in it.
        pot: String,
    },
    /// What is left of a mixed pot is to be put aside.
    Leftover {
        /// Its letter.
        pot: String,
    },
    /// The pot is out of the sheet's ratio.
    OutOfRatio {
        /// Its letter.
        pot: String,
    },
    /// The pot was drawn from a can past its date.
    CanPast {
        /// The can's file.
        can: String,
    },
    /// Air, part or paint lie outside the sheet, or too near to the dew point.
    Air {
        /// For which layer, counted from 1.
        layer: u32,
        /// Which limit is passed.
        limit: AirLimit,
        /// By how much; nothing where only the text form is known.
        outside: Option<OutOfLimits>,
    },
    /// The cartridges have the hours at which the painter changes them.
    Cartridges {
        /// Hours of use.
        used_h: f64,
        /// The painter's own schedule, hours.
        change_h: f64,
    },
    /// Not as many plugs and masks came off as were counted in.
    Masks {
        /// How many were counted in.
        counted_in: u32,
        /// How many came off; nothing while nobody counted.
        counted_out: Option<u32>,
    },
}

/// How cold it was while a clock without a law ran, °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenedCold {
    /// The coldest.
    pub was_c: f64,
    /// For which the clock is stated.
    pub stated_c: f64,
    /// The sheet's least.
    pub least_c: f64,
}

impl fmt::Display for Hold {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Wanting(wanting) => wanting.fmt(f),
            Self::TooEarly { face, .. } => write!(f, "too-early {face}"),
            Self::OpenedCold { layer, coat, .. } => write!(f, "opened-cold {layer}.{coat}"),
            Self::LookFirst { face } => write!(f, "look {face}"),
            Self::WipeFirst { face } => write!(f, "wipe {face}"),
            Self::SandFirst { face } => write!(f, "sand {face}"),
            Self::NotTurned { face } => write!(f, "turn {face}"),
            Self::Away { face } => write!(f, "away {face}"),
            Self::Left { face } => write!(f, "left {face}"),
            Self::AllOn { face } => write!(f, "all-on {face}"),
            Self::LayerBefore { layer } => write!(f, "layer {layer}"),
            Self::CoatsLeft => write!(f, "coats-left"),
            Self::CureRuns { .. } => write!(f, "cure"),
            Self::StopAndClean { pot } => write!(f, "stop-and-clean {pot}"),
            Self::PotDead { pot } => write!(f, "dead {pot}"),
            Self::PotShort { pot } => write!(f, "pot-short {pot}"),
            Self::CleanGun { pot } => write!(f, "clean {pot}"),
            Self::Leftover { pot } => write!(f, "leftover {pot}"),
            Self::OutOfRatio { pot } => write!(f, "ratio {pot}"),
            Self::CanPast { can } => write!(f, "can-past {can}"),
            Self::Air { layer, limit, .. } => write!(f, "{limit} {layer}"),
            Self::Cartridges { .. } => write!(f, "cartridges"),
            Self::Masks { .. } => write!(f, "masks-out"),
        }
    }
}

impl fmt::Display for Wanting {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Step { step, .. } => write!(f, "step {step}"),
            Self::StepNotYet { step, .. } => write!(f, "early {step}"),
            Self::StepWait { step, .. } => write!(f, "wait {step}"),
            Self::Check { layer, coat, check } => write!(f, "check {layer}.{coat} {check}"),
            Self::SomeoneKnows => write!(f, "someone"),
            Self::Masks => write!(f, "masks-in"),
            Self::Reading => write!(f, "reading"),
            Self::Pot { layer, .. } => write!(f, "pot {layer}"),
            Self::Pour { pot, component } => write!(f, "pour {pot} {component}"),
            Self::Stir { pot } => write!(f, "stir {pot}"),
            Self::Stand { pot, .. } => write!(f, "stand {pot}"),
        }
    }
}

/// What speaks against beginning the next coat of a face now.
#[must_use]
pub fn holds_on_begin(
    session: &Session,
    standing: &Standing,
    face: usize,
    watch: &Watch,
) -> Vec<Hold> {
    let id = session.plan().faces()[face].id.clone();
    let at = &standing.faces[face];
    let mut holds = Vec::new();
    match at.now {
        FaceNow::Away => holds.push(Hold::Away { face: id.clone() }),
        FaceNow::Left => holds.push(Hold::Left { face: id.clone() }),
        _ => {}
    }
    let Some((layer, coat)) = at.next else {
        holds.push(Hold::AllOn { face: id });
        return holds;
    };
    if let Some(before) = session.state().layer_before(layer) {
        holds.push(Hold::LayerBefore { layer: before });
    }
    if at.turn.is_some() {
        holds.push(Hold::NotTurned { face: id.clone() });
    }
    match at.film {
        FaceNow::Flashing | FaceNow::LayerDone => {
            holds.push(Hold::TooEarly { face: id, until: at.until });
        }
        FaceNow::Look => holds.push(Hold::LookFirst { face: id }),
        FaceNow::Wipe => holds.push(Hold::WipeFirst { face: id }),
        FaceNow::Sand => holds.push(Hold::SandFirst { face: id }),
        _ => {}
    }
    holds.extend(pot_holds(session, standing, layer));
    let gate = Gate::new(session, standing, watch);
    // asked for, but their lack alone holds nothing
    let asked_only = |wanting: &Wanting| {
        matches!(wanting, Wanting::Reading | Wanting::SomeoneKnows | Wanting::Masks)
    };
    let wanting = gate
        .wanting_on((layer, coat), face)
        .into_iter()
        .filter(|wanting| !asked_only(wanting) && !has_old_pot(wanting, &holds));
    let wanting: Vec<Hold> = wanting.map(Hold::Wanting).collect();
    holds.extend(wanting);
    let state = session.state();
    let trend = trend_breaks(session, layer, face, watch).map(|_| Hold::Air {
        layer,
        limit: AirLimit::DewTrend,
        outside: None,
    });
    let of_the_air = air_holds(state, layer, watch).into_iter().chain(trend);
    holds.extend(of_the_air.filter(|hold| !is_past(state, hold)));
    holds.extend(opened_cold(state, at, face).filter(|hold| !is_past(state, hold)));
    holds.extend(cartridge_hold(state).filter(|hold| !is_past(state, hold)));
    holds
}

/// The hold of a face that a clock without a law opened under the least temperature of its sheet, gone
/// past or not.
#[must_use]
pub fn opened_cold(state: &State, at: &FaceStanding, face: usize) -> Option<Hold> {
    let Some(Doubt::OffStated { stated_c, was_c }) = at.opens_doubt else { return None };
    let on = state.faces.get(face)?.last_on()?;
    let least_c = state.sheet(on.layer)?.limits.min_c?;
    let (layer, coat) = at.next?;
    let cold = Some(OpenedCold { was_c, stated_c, least_c });
    (is_less(was_c, least_c) && at.film.takes_a_coat()).then_some(Hold::OpenedCold {
        layer,
        coat,
        cold,
    })
}

/// What of the air, the part and the paint speaks against a coat of `layer`, gone past or not. What
/// is not known holds nothing.
#[must_use]
pub fn air_holds(state: &State, layer: u32, watch: &Watch) -> Vec<Hold> {
    let air = air_for(state, layer, watch);
    let hold =
        |outside: OutOfLimits| Hold::Air { layer, limit: outside.limit(), outside: Some(outside) };
    air.out_of_limits.into_iter().map(hold).collect()
}

/// Whether water condenses on the part by the last reading: the surface, else the air, is at or under
/// the dew point. No coat of `layer` is begun and no pot mixed for it then, unless the painter went
/// past that since.
#[must_use]
pub fn condenses(state: &State, layer: u32, watch: &Watch) -> bool {
    let wet = air_for(state, layer, watch).margin_k.is_some_and(|margin_k| margin_k <= 0.0);
    let hold = Hold::Air { layer, limit: AirLimit::DewPoint, outside: None };
    wet && !is_past(state, &hold)
}

/// Whether the cartridges want changing by the painter's own schedule, gone past or not.
#[must_use]
pub fn cartridge_hold(state: &State) -> Option<Hold> {
    let (used_h, change_h) = (cartridge_hours(state)?, state.work.shop.cartridge_h?);
    (used_h >= change_h).then_some(Hold::Cartridges { used_h, change_h })
}

/// Hours behind the cartridges: those told, and since then the time with a face on the gun; so they
/// have at least these.
#[must_use]
pub fn cartridge_hours(state: &State) -> Option<f64> {
    let (used_h, told) = state.cartridges?;
    let coats = state.faces.iter().flat_map(|face| face.coats.iter().chain(&face.wiped_off));
    let sprayed = coats.filter(|coat| !coat.assumed && !coat.skipped).filter_map(|coat| {
        let from = coat.begun.max(told);
        coat.finished.map(|end| end.since(from).seconds().max(0.0))
    });
    Some(used_h + sprayed.sum::<f64>() / 3600.0)
}

/// Where the painter went past `hold`, that counts until what it rests on is told anew: the air, the
/// paint and what the cold did until the next reading, the cartridges until their hours are told again, plugs and
/// masks until they are counted again, and that somebody knows for the sitting.
#[must_use]
pub fn gone_past<'a>(state: &'a State, hold: &Hold) -> Option<&'a Overridden> {
    let since = match hold {
        Hold::Air { .. } | Hold::OpenedCold { .. } => state.readings.last_known(),
        Hold::Cartridges { .. } => state.cartridges.map(|(_, told)| told),
        Hold::Masks { .. } => {
            let counts = [state.masks.on, state.masks.off];
            counts.into_iter().flatten().map(|(_, told)| told).max()
        }
        Hold::Wanting(Wanting::SomeoneKnows) => state.sitting.map(|sitting| sitting.began),
        _ => None,
    };
    let key = hold.to_string();
    let fits = |it: &&Overridden| it.hold == key && since.is_none_or(|since| it.at >= since);
    state.overridden.iter().rev().find(fits)
}

fn is_past(state: &State, hold: &Hold) -> bool {
    gone_past(state, hold).is_some()
}

/// Whether plugs and masks were counted out as they were counted in, gone past or not. Where none
/// were counted in, nothing holds.
#[must_use]
pub fn masks_hold(state: &State) -> Option<Hold> {
    let (counted_in, _) = state.masks.on?;
    let counted_out = state.masks.off.map(|(number, _)| number);
    (state.masks.agree() == Some(false)).then_some(Hold::Masks { counted_in, counted_out })
}

fn has_old_pot(wanting: &Wanting, holds: &[Hold]) -> bool {
    let told = |hold: &Hold| match (wanting, hold) {
        (Wanting::Pot { .. }, Hold::StopAndClean { .. } | Hold::PotDead { .. }) => true,
        (Wanting::Pour { pot, .. }, Hold::OutOfRatio { pot: other }) => pot == other,
        _ => false,
    };
    holds.iter().any(told)
}

fn pot_holds(session: &Session, standing: &Standing, layer: u32) -> Vec<Hold> {
    let state = session.state();
    let Some(pot) = state.pot_in_use(layer) else { return Vec::new() };
    let old = standing.pot(&pot.id).and_then(|standing| match standing.now {
        PotNow::StopAndClean => Some(Hold::StopAndClean { pot: pot.id.clone() }),
        PotNow::Dead => Some(Hold::PotDead { pot: pot.id.clone() }),
        _ => None,
    });
    let out = pot.stirred.is_some()
        && state.mixing(&pot.id).is_some_and(|it| matches!(ratio(state, it), Ratio::Out { .. }))
        && !state.went_past(&format!("ratio {}", pot.id));
    let ratio = out.then(|| Hold::OutOfRatio { pot: pot.id.clone() });
    let cans = state.mixing(&pot.id).map(|mixing| past_cans(state, mixing)).unwrap_or_default();
    let cans = cans.into_iter().map(|can| Hold::CanPast { can });
    let cans = cans.filter(|hold| !is_past(state, hold));
    old.into_iter().chain(ratio).chain(cans).collect()
}

/// What speaks against closing the session now.
#[must_use]
pub fn holds_on_close(session: &Session, standing: &Standing, watch: &Watch) -> Vec<Hold> {
    if standing.layer.is_some() {
        return vec![Hold::CoatsLeft];
    }
    let mut holds: Vec<Hold> =
        Gate::new(session, standing, watch).steps().into_iter().map(Hold::Wanting).collect();
    let hanging = standing.faces.iter().filter(|face| !face.now.is_absent());
    let ends = hanging.flat_map(|face| &face.cure).map(|cure| cure.due.moment());
    let running: Vec<_> = ends.filter(|end| end.is_none_or(|end| !watch.reached(end))).collect();
    if !running.is_empty() {
        let known = running.iter().all(Option::is_some);
        let until = running.into_iter().flatten().max().filter(|_| known);
        holds.push(Hold::CureRuns { until });
    }
    let state = session.state();
    holds.extend(masks_hold(state).filter(|hold| !is_past(state, hold)));
    holds
}
