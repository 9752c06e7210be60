//! How much is in a can, and how much of that is thinner.

use super::SeenCan;
use super::moves::moves_of;
use crate::material::recipe::Told;
use crate::material::sheet::{MixRule, Role};
use crate::material::stock::Content;
use crate::session::state::State;
use crate::session::time::Moment;
use crate::units::{Share, Volume};

/// Which way material went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Moved {
    /// Out of the can.
    Drawn,
    /// Back into it.
    Returned {
        /// Thinner in it, a share by volume, where that can be told.
        thinner: Option<Share>,
    },
}

/// Material that went out of a can, or back into it.
#[derive(Debug, Clone, PartialEq)]
pub struct Move {
    /// The can's file.
    pub can: String,
    /// When.
    pub at: Moment,
    /// Which way.
    pub moved: Moved,
    /// How much, in the units in which it can be told; in neither where nobody told it.
    pub amount: Told,
}

/// Densities of what may be in a can, g/mL, where the sheet gives them.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Densities {
    /// The component's.
    pub own: Option<f64>,
    /// The reducer's.
    pub reducer: Option<f64>,
}

impl Densities {
    /// Those of the component named `component`, and of the mix's first reducer.
    #[must_use]
    pub fn of(mix: &MixRule, component: &str) -> Self {
        let mut components = mix.components.iter();
        let own = components.clone().find(|it| it.name == component);
        let reducer = components.find(|it| it.role == Role::Reducer);
        Self {
            own: own.and_then(|it| it.density_g_per_ml),
            reducer: reducer.and_then(|it| it.density_g_per_ml),
        }
    }

    /// Density of the content with a share of thinner, ideal volumes.
    fn mixed(self, thinner: Share) -> Option<f64> {
        let share = thinner.fraction();
        if share <= 0.0 {
            return self.own;
        }
        Some(self.own? * (1.0 - share) + self.reducer? * share)
    }
}

/// What is in a can.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// How much, in the units in which it can be told; in neither where nobody counted it, or what
    /// was drawn cannot be told in the count's unit.
    pub left: Told,
    /// Thinner in it, a share by volume; nothing where that cannot be told.
    pub thinner: Option<Share>,
    /// Whether more was drawn from it than was in it: the count or a pour is wrong.
    pub overdrawn: bool,
}

impl Level {
    /// Whether it is known to be empty.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        [self.left.ml, self.left.g].into_iter().flatten().any(|left| left < LEAST)
    }
}

/// Less than this is what clings to the wall of a can, mL or g: our own figure.
const LEAST: f64 = 0.5;

/// What is in a can: `counted`, of which `thinner` was thinner, less and plus `moves` in the order
/// in which they happened.
#[must_use]
pub fn level(counted: Told, thinner: Share, moves: &[Move], densities: Densities) -> Level {
    let by_volume = counted.ml.is_some();
    let in_unit = |told: Told| if by_volume { told.ml } else { told.g };
    let mut left = in_unit(counted);
    let mut share = Some(thinner);
    let mut overdrawn = false;
    for one in moves {
        let amount = in_unit(one.amount);
        match one.moved {
            Moved::Drawn => {
                let after = left.zip(amount).map(|(left, amount)| left - amount);
                overdrawn |= after.is_some_and(|after| after < -LEAST);
                left = after.map(|after| after.max(0.0));
            }
            Moved::Returned { thinner } => {
                let there_ml = volume(left, by_volume, share, densities);
                share = mixed_share(share, there_ml, thinner, one.amount.ml);
                left = left.zip(amount).map(|(left, amount)| left + amount);
            }
        }
    }
    let ml = volume(left, by_volume, share, densities);
    let density = share.and_then(|share| densities.mixed(share));
    let g = if by_volume { ml.zip(density).map(|(ml, density)| ml * density) } else { left };
    Level { left: Told { g, ml }, thinner: share, overdrawn }
}

fn volume(
    left: Option<f64>,
    by_volume: bool,
    share: Option<Share>,
    densities: Densities,
) -> Option<f64> {
    if by_volume {
        return left;
    }
    Some(left? / densities.mixed(share?)?)
}

/// The share after a return; fresh material into a can without thinner leaves it without, whatever
/// the amounts.
fn mixed_share(
    share: Option<Share>,
    there_ml: Option<f64>,
    thinner: Option<Share>,
    returned_ml: Option<f64>,
) -> Option<Share> {
    let (share, thinner) = (share?, thinner?);
    if share.fraction() <= 0.0 && thinner.fraction() <= 0.0 {
        return Some(share);
    }
    let there = Content { volume: Volume::from_ml(there_ml?), thinner: share };
    Some(there.with(Volume::from_ml(returned_ml?), thinner).thinner)
}

/// What is in a can now: as it was seen, with what this session drew and returned since its count.
#[must_use]
pub fn level_of(state: &State, seen: &SeenCan) -> Level {
    let mix = state.work.sheets.get(&seen.sheet).map(|sheet| &sheet.mix);
    let densities = mix.map_or_else(Densities::default, |mix| Densities::of(mix, &seen.component));
    let since = |one: &Move| seen.counted_ms.is_none_or(|counted| one.at > counted);
    let mut own = moves_of(state, &seen.can);
    own.retain(since);
    level(seen.left(), Share::from_fraction(seen.thinner_pct / 100.0), &own, densities)
}

#[cfg(test)]
mod tests {
    use super::*;

    const DENSITIES: Densities = Densities { own: Some(1.25), reducer: Some(0.85) };

    fn drawn(amount: Told) -> Move {
        Move { can: "tin".into(), at: Moment::OPENING, moved: Moved::Drawn, amount }
    }

    fn back(amount: Told, share: f64) -> Move {
        let thinner = Some(Share::from_fraction(share));
        Move { moved: Moved::Returned { thinner }, ..drawn(amount) }
    }

    fn ml(ml: f64) -> Told {
        Told { g: None, ml: Some(ml) }
    }

    fn g(g: f64) -> Told {
        Told { g: Some(g), ml: None }
    }

    fn close(one: Option<f64>, other: f64) -> bool {
        one.is_some_and(|one| (one - other).abs() < 1e-9)
    }

    const NONE: Share = Share::from_fraction(0.0);

    /// Invented: 1 L, 300 mL out, thinned by a tenth, 200 of the 330 used: 830 mL with
    /// 130 × 30/330 mL of thinner. The example of `reckon stock`.
    #[test]
    fn what_comes_back_brings_its_thinner() {
        let moves = [drawn(ml(300.0)), back(ml(130.0), 30.0 / 330.0)];
        let level = level(ml(1000.0), NONE, &moves, DENSITIES);
        assert!(close(level.left.ml, 830.0));
        let share = level.thinner.map(Share::fraction);
        assert!(close(share, 130.0 * 30.0 / 330.0 / 830.0));
        let share = share.unwrap_or_default();
        assert!(close(level.left.g, 830.0 * (1.25 * (1.0 - share) + 0.85 * share)));
    }

    #[test]
    fn a_can_counted_by_weight_tells_volumes_as_far_as_densities_go() {
        let known = level(g(1000.0), NONE, &[drawn(g(375.0))], DENSITIES);
        assert!(close(known.left.g, 625.0) && close(known.left.ml, 500.0));
        let not_set = level(g(1000.0), NONE, &[drawn(g(375.0))], Densities::default());
        assert_eq!(not_set.left, g(625.0));
        // a pour by the mark from it, with no density: what is left is not known
        let unknown = level(g(1000.0), NONE, &[drawn(ml(10.0))], Densities::default());
        assert_eq!(unknown.left, Told::default());
        assert!(!unknown.is_empty());
    }

    #[test]
    fn a_can_never_holds_less_than_nothing_and_says_so() {
        let level = level(ml(100.0), NONE, &[drawn(ml(130.0)), back(ml(20.0), 0.0)], DENSITIES);
        assert!(level.overdrawn);
        assert!(close(level.left.ml, 20.0));
        assert_eq!(level.thinner, Some(NONE));
    }

    #[test]
    fn a_return_of_unknown_share_leaves_the_share_unknown() {
        let moves = [Move { moved: Moved::Returned { thinner: None }, ..drawn(ml(50.0)) }];
        let level = level(ml(100.0), NONE, &moves, DENSITIES);
        assert!(close(level.left.ml, 150.0) && level.thinner.is_none() && level.left.g.is_none());
    }
}
