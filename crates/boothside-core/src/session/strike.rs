//! What is struck together: an entry and those that rest on it.

use std::collections::BTreeSet;

use super::Session;
use super::limits::speaks_of_alone;
use super::state::CoatOn;

/// The entries struck with entry `n`: itself and those that rest on it (the end of a face on its
/// beginning, looks on the end, fillings on their pot, what was told of a part on its joining). In rising order; `n` alone where nothing
/// rests on it.
#[must_use]
pub fn group(session: &Session, n: u64) -> Vec<u64> {
    let mut group = BTreeSet::from([n]);
    let mut open = vec![n];
    while let Some(n) = open.pop() {
        let resting = resting_on(session, n);
        open.extend(resting.into_iter().filter(|later| group.insert(*later)));
    }
    let joined: Vec<u64> = group.iter().flat_map(|n| resting_on_join(session, *n)).collect();
    group.into_iter().chain(joined).collect::<BTreeSet<u64>>().into_iter().collect()
}

fn resting_on(session: &Session, n: u64) -> Vec<u64> {
    let state = session.state();
    let coats = state.faces.iter().flat_map(|face| face.coats.iter().chain(&face.wiped_off));
    let mut resting: Vec<u64> = coats.flat_map(|coat| resting_in_coat(coat, n)).collect();
    let pots = state.pots.iter().filter(|pot| pot.made_by == n);
    resting.extend(pots.flat_map(|pot| pot.told_by.iter().copied()));
    resting
}

/// What was told of the faces of a part that joined by entry `n`. An entry that speaks of other faces
/// as well stays, for those.
fn resting_on_join(session: &Session, n: u64) -> Vec<u64> {
    let state = session.state();
    let mut joined = state.joined.iter().filter(|(_, by)| **by == n);
    let Some((name, part)) = joined.find_map(|(name, _)| Some((name, state.work.parts.get(name)?)))
    else {
        return Vec::new();
    };
    let told = session.in_force().into_iter().map(|(_, entry)| entry);
    let own = told.filter(|entry| entry.n != n && speaks_of_alone(entry, name, part));
    own.map(|entry| entry.n).collect()
}

fn resting_in_coat(coat: &CoatOn, n: u64) -> Vec<u64> {
    match coat.made_by.iter().position(|entry| *entry == n) {
        Some(at) => coat.made_by[at + 1..].iter().chain(&coat.told_by).copied().collect(),
        None => Vec::new(),
    }
}
