//! The pot against the coat ahead: is there one, will it last, is there enough in it, and is it
//! the same colour.

use crate::material::sheet::Role;
use crate::session::demand;
use crate::session::mixing::{Ratio, ratio};
use crate::session::standing::{Gate, Hold, PotNow, PotStanding, PotWhy, Wanting};
use crate::session::time::Span;
use crate::work::system::Group;

use super::{Clears, Item, Look, ReadyLine, ReadyNow};

pub(super) fn lines(look: &Look<'_>) -> Vec<ReadyLine> {
    let in_use = look.state.pot_in_use(look.layer);
    let standing = in_use.and_then(|pot| look.standing.pot(&pot.id));
    let mut lines = vec![being_poured(look).unwrap_or_else(|| pot(look, standing))];
    if let Some(standing) = standing.filter(|pot| pot.now <= PotNow::Good) {
        lines.extend(lasts(look, standing));
        lines.push(enough(look, standing));
        lines.extend(in_ratio(look, standing));
        lines.extend(in_date(look, standing));
    }
    lines.extend(one_colour(look));
    lines
}

/// The pot being mixed, where no other may be sprayed.
fn being_poured(look: &Look<'_>) -> Option<ReadyLine> {
    let gate = Gate::new(look.session, look.standing, look.watch);
    let wanting = gate.wanting(look.layer, look.coat);
    let hold = wanting.into_iter().find_map(|wanting| match &wanting {
        Wanting::Pour { pot, .. } | Wanting::Stir { pot } => Some((pot.clone(), wanting)),
        _ => None,
    });
    let (pot, wanting) = hold?;
    let mixing = look.state.mixing(&pot).filter(|mixing| mixing.is_open())?;
    let item = Item::Pot {
        pot: Some(mixing.pot.clone()),
        now: None,
        stands_until: None,
        last_trigger: None,
    };
    let line = ReadyLine::new("pot", Group::Mix, item, ReadyNow::Hold, Clears::Pour);
    Some(line.holding(Some(Hold::Wanting(wanting)), look.state))
}

/// The ratio of what was poured; nothing where no pour was told.
fn in_ratio(look: &Look<'_>, pot: &PotStanding) -> Option<ReadyLine> {
    let mixing = look.state.mixing(&pot.id).filter(|mixing| !mixing.is_open())?;
    let ratio = ratio(look.state, mixing);
    let (now, clears, hold) = match ratio {
        Ratio::NotTold => return None,
        Ratio::NotSet { .. } => (ReadyNow::NotKnown, Clears::Figure, None),
        Ratio::Within { .. } => (ReadyNow::Clear, Clears::Nothing, None),
        Ratio::Out { .. } => {
            (ReadyNow::Hold, Clears::Pour, Some(Hold::OutOfRatio { pot: pot.id.clone() }))
        }
    };
    let item = Item::Ratio { pot: pot.id.clone(), ratio };
    Some(ReadyLine::new("ratio", Group::Mix, item, now, clears).holding(hold, look.state))
}

/// Whether the lots told were in date.
fn in_date(look: &Look<'_>, pot: &PotStanding) -> Option<ReadyLine> {
    let mixing = look.state.mixing(&pot.id)?;
    let dated = mixing.lots.iter().filter(|lot| lot.until.is_some()).count();
    let now = match (dated, mixing.expired.is_empty()) {
        (_, false) => ReadyNow::Caution,
        (0, true) => ReadyNow::NotKnown,
        (_, true) => ReadyNow::Clear,
    };
    let item = Item::LotsInDate { told: mixing.lots.len(), expired: mixing.expired.clone() };
    Some(ReadyLine::new("lots in date", Group::Mix, item, now, Clears::Nothing))
}

fn pot(look: &Look<'_>, standing: Option<&PotStanding>) -> ReadyLine {
    let layer = look.layer;
    let until = standing.and_then(|pot| pot.stands_until).map(|due| due.at);
    let (now, clears, hold) = match standing.map(|pot| (pot.now, pot.id.clone())) {
        None | Some((PotNow::Emptied, _)) => {
            let hold = Hold::Wanting(Wanting::Pot { layer, why: PotWhy::None });
            (ReadyNow::Hold, Clears::Mix, Some(hold))
        }
        Some((PotNow::Standing, pot)) => {
            let hold = Hold::Wanting(Wanting::Stand { pot, until });
            (ReadyNow::Hold, Clears::Wait { until }, Some(hold))
        }
        Some((PotNow::Good, pot)) => {
            let hold = Hold::Wanting(Wanting::Stand { pot, until });
            (ReadyNow::Clear, Clears::Nothing, Some(hold).filter(|_| until.is_some()))
        }
        Some((PotNow::StopAndClean, pot)) => {
            (ReadyNow::Hold, Clears::CleanAndMix, Some(Hold::StopAndClean { pot }))
        }
        Some((PotNow::Dead, pot)) => {
            (ReadyNow::Hold, Clears::CleanAndMix, Some(Hold::PotDead { pot }))
        }
    };
    let item = Item::Pot {
        pot: standing.map(|pot| pot.id.clone()),
        now: standing.map(|pot| pot.now),
        stands_until: until,
        last_trigger: standing.and_then(|pot| pot.last_trigger),
    };
    ReadyLine::new("pot", Group::Mix, item, now, clears).holding(hold, look.state)
}

/// Whether the last trigger comes before the coat is on, at the pace of this hand.
fn lasts(look: &Look<'_>, pot: &PotStanding) -> Option<ReadyLine> {
    let last_trigger = pot.last_trigger?;
    let area_m2 = demand::area_left_m2(look.state, look.session.plan(), look.layer, look.coat);
    let pace = look.pace.map(|pace| pace.s_per_m2);
    let coat = pace.map(|s_per_m2| Span::from_seconds(s_per_m2 * area_m2));
    let stood = pot.stands_until.and_then(|due| due.moment());
    // from now, or from the end of the stand
    let short = coat.is_some_and(|coat| {
        let start = last_trigger.minus(coat);
        stood.is_some_and(|stood| start <= stood) || look.watch.reached(start)
    });
    let (now, clears) = match coat {
        None => (ReadyNow::NotKnown, Clears::Nothing),
        Some(_) if short => (ReadyNow::Caution, Clears::Mix),
        Some(_) => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::PotLasts { pot: pot.id.clone(), last_trigger, coat };
    Some(ReadyLine::new("pot lasts", Group::Mix, item, now, clears))
}

fn enough(look: &Look<'_>, pot: &PotStanding) -> ReadyLine {
    let (state, plan) = (look.state, look.session.plan());
    let mixed = state.pot(&pot.id);
    let left_ml = mixed.and_then(|pot| demand::left_ml(state, plan, pot));
    let needs = mixed.and_then(|pot| demand::needs_of_pot_ml(state, plan, pot).ok());
    let need = |needs: Vec<(u32, f64)>| needs.into_iter().find(|(coat, _)| *coat == look.coat);
    let need_ml = needs.and_then(need).map(|(_, ml)| ml);
    let (now, clears) = match left_ml.zip(need_ml) {
        None => (ReadyNow::NotKnown, Clears::Figure),
        Some((left, need)) if left < need => (ReadyNow::Caution, Clears::Mix),
        Some(_) => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::PotEnough { pot: pot.id.clone(), left_ml, need_ml };
    ReadyLine::new("pot enough", Group::Mix, item, now, clears)
}

/// One visible colour comes from one lot of base; nothing while no pot is mixed.
fn one_colour(look: &Look<'_>) -> Option<ReadyLine> {
    let sheet = look.state.sheet(look.layer)?;
    let is_base = |name: &str| {
        let mut of = sheet.mix.components.iter().filter(|c| c.role == Role::Base);
        of.any(|component| component.name == name)
    };
    let pots: Vec<_> = look.state.pots.iter().filter(|pot| pot.layer == look.layer).collect();
    if pots.is_empty() {
        return None;
    }
    let base = |pot: &&&crate::session::Pot| pot.lots.iter().any(|lot| is_base(&lot.component));
    let untold = pots.len() - pots.iter().filter(base).count();
    let told = pots.iter().flat_map(|pot| &pot.lots).filter(|lot| is_base(&lot.component));
    let mut lots: Vec<String> = told.map(|lot| lot.lot.clone()).collect();
    lots.sort();
    lots.dedup();
    let now = match (lots.len(), untold) {
        (2.., _) => ReadyNow::Caution,
        (1, 0) => ReadyNow::Clear,
        _ => ReadyNow::NotKnown,
    };
    let item = Item::OneColour { lots, untold };
    Some(ReadyLine::new("one colour", Group::Mix, item, now, Clears::Nothing))
}
