//! Clocks that their sheet does not speak for: without a law in other air than they are stated for, or
//! carried on beyond a table. They are minded; what is colder than the sheet allows also holds.

use crate::session::clocks::Doubt;
use crate::session::standing::{FaceNow, FaceStanding, Hold, PotNow, opened_cold};
use crate::work::system::Group;

use super::{Clears, DoubtedClock, Item, Look, ReadyLine, ReadyNow};

pub(super) fn lines(look: &Look<'_>) -> Vec<ReadyLine> {
    let faces = [opens(look), closes(look), cure(look)].into_iter().flatten();
    faces.chain(pot(look)).collect()
}

/// Stages of cure: when a part may be handled, turned, masked or sanded goes by them.
fn cure(look: &Look<'_>) -> Option<ReadyLine> {
    let hanging = look.standing.faces.iter().enumerate().filter(|(_, face)| !face.now.is_absent());
    let of = |(number, face): (usize, &FaceStanding)| {
        let doubts: Vec<(usize, Doubt)> =
            face.cure.iter().filter_map(|cure| Some((number, cure.doubt?))).collect();
        Some((number, worst(&doubts, f64::min)?))
    };
    let doubted: Vec<(usize, Doubt)> = hanging.filter_map(of).collect();
    let doubt = worst(&doubted, f64::min)?;
    let item = Item::InDoubt { clock: DoubtedClock::Cure(numbers(&doubted)), doubt };
    let (id, group) = ("cure in doubt", Group::Surface);
    Some(ReadyLine::new(id, group, item, ReadyNow::Caution, Clears::WaitLonger))
}

/// The faces that get the coat ahead.
fn ahead<'a>(look: &'a Look<'_>) -> impl Iterator<Item = (usize, &'a FaceStanding)> {
    let faces = look.standing.faces.iter().enumerate();
    faces
        .filter(|(_, face)| face.next.is_some_and(|(layer, _)| layer == look.layer))
        .filter(|(_, face)| face.now != FaceNow::OnTheGun && !face.now.is_absent())
}

fn opens(look: &Look<'_>) -> Option<ReadyLine> {
    let of = |(number, face): (usize, &FaceStanding)| Some((number, face.opens_doubt?));
    let doubted: Vec<(usize, Doubt)> = ahead(look).filter_map(of).collect();
    let doubt = worst(&doubted, f64::min)?;
    let holds = ahead(look).filter_map(|(number, face)| opened_cold(look.state, face, number));
    let hold = holds.min_by(|a, b| coldest(a).total_cmp(&coldest(b)));
    let now = if hold.is_some() { ReadyNow::Hold } else { ReadyNow::Caution };
    let item = Item::InDoubt { clock: DoubtedClock::Opens(numbers(&doubted)), doubt };
    let line = ReadyLine::new("opens in doubt", Group::Surface, item, now, Clears::WaitLonger);
    Some(line.holding(hold, look.state))
}

const fn coldest(hold: &Hold) -> f64 {
    match hold {
        Hold::OpenedCold { cold: Some(cold), .. } => cold.was_c,
        _ => f64::INFINITY,
    }
}

fn closes(look: &Look<'_>) -> Option<ReadyLine> {
    let of = |(number, face): (usize, &FaceStanding)| Some((number, face.closes_doubt?));
    let doubted: Vec<(usize, Doubt)> = ahead(look).filter_map(of).collect();
    let doubt = worst(&doubted, f64::max)?;
    let item = Item::InDoubt { clock: DoubtedClock::Closes(numbers(&doubted)), doubt };
    let (id, group) = ("closes in doubt", Group::Surface);
    Some(ReadyLine::new(id, group, item, ReadyNow::Caution, Clears::BeSooner))
}

fn pot(look: &Look<'_>) -> Vec<ReadyLine> {
    let in_use = look.state.pot_in_use(look.layer);
    let at = in_use.and_then(|pot| look.standing.pot(&pot.id));
    let Some(at) = at.filter(|at| matches!(at.now, PotNow::Standing | PotNow::Good)) else {
        return Vec::new();
    };
    let line = |id: &str, clock: DoubtedClock, doubt: Doubt, clears: Clears| {
        let item = Item::InDoubt { clock, doubt };
        ReadyLine::new(id, Group::Mix, item, ReadyNow::Caution, clears)
    };
    let stand = at.stand_doubt.map(|doubt| {
        let clock = DoubtedClock::Stand(at.id.clone());
        line("stand in doubt", clock, doubt, Clears::WaitLonger)
    });
    let life = at.life_doubt.map(|doubt| {
        let clock = DoubtedClock::Life(at.id.clone());
        line("life in doubt", clock, doubt, Clears::BeSooner)
    });
    stand.into_iter().chain(life).collect()
}

fn numbers(doubted: &[(usize, Doubt)]) -> Vec<usize> {
    doubted.iter().map(|(number, _)| *number).collect()
}

/// The doubt with the temperature that is furthest off, else the first.
fn worst(doubted: &[(usize, Doubt)], further: fn(f64, f64) -> f64) -> Option<Doubt> {
    let temperatures = doubted.iter().filter_map(|(_, doubt)| doubt.was_c());
    let furthest = temperatures.reduce(further);
    let is_it = |doubt: &&(usize, Doubt)| doubt.1.was_c() == furthest;
    doubted.iter().find(is_it).or(doubted.first()).map(|(_, doubt)| *doubt)
}
