//! What a clock cannot be sure of: air for which its sheet does not speak.

use super::due::Kind;
use super::{By, rate_clock};
use crate::material::timing::{LawName, Timing};
use crate::physics::rate::{AirPoint, Due, Outside, Rules};
use crate::session::time::Moment;
use crate::session::watch::Watch;

/// So far off its stated temperature a clock without a law is to be minded, K.
const MINDED_K: f64 = 3.0;
/// What rounding leaves of a temperature that was typed in other units, K.
const HAIR_K: f64 = 1e-6;

/// Why a clock is to be minded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// It has no law, and had air on the unsafe side of the one for which it is stated.
    OffStated {
        /// The sheet's temperature, °C.
        stated_c: f64,
        /// What it was: the coldest for a minimum, the warmest for a maximum, °C.
        was_c: f64,
    },
    /// It was carried on beyond the sheet's table.
    CarriedOn,
    /// It is the end of a window, and sooner than stated by the law of the gap's earliest.
    AsEarliest,
}

impl Doubt {
    /// The temperature that it had, where it has no law, °C.
    #[must_use]
    pub const fn was_c(&self) -> Option<f64> {
        match self {
            Self::OffStated { was_c, .. } => Some(*was_c),
            Self::CarriedOn | Self::AsEarliest => None,
        }
    }
}

/// A doubt, and until when it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Doubted {
    /// The doubt.
    pub doubt: Doubt,
    /// When the clock has had its stated time in air that was near enough after all.
    pub until: Option<Moment>,
}

impl Doubted {
    /// The doubt, while it stands.
    pub(in crate::session) fn standing(self, watch: &Watch) -> Option<Doubt> {
        (!self.until.is_some_and(|until| watch.reached(until))).then_some(self.doubt)
    }
}

/// What is to be minded of the clock of `timing` that runs from `from` and is due at `due`. One with a
/// stated temperature and no law: where it was more than 3 °C on the unsafe side, colder for minima,
/// warmer for maxima; nothing can be reckoned then. One with a table: where that was carried on. A
/// window's end by the law of its gap's earliest: where that makes it sooner.
#[must_use]
pub fn doubt(
    timing: &Timing,
    kind: Kind,
    (from, due): (Moment, Option<Moment>),
    by: By<'_>,
) -> Option<Doubted> {
    if kind == Kind::Shortened {
        return shortened(timing, from, due?);
    }
    let table = timing.law == LawName::Table;
    let stated_c = timing.at_c.filter(|_| timing.law == LawName::Steady);
    if !table && stated_c.is_none() {
        return None;
    }
    let (from_s, to_s) = (from.seconds(), due.map_or(f64::INFINITY, Moment::seconds));
    let tables = by.readings.tables();
    let air = tables.air(by.readings, by.asked(timing, kind), |air| air.air_over(from_s, to_s))?;
    if table {
        let clock = rate_clock(timing, kind, by.rules).ok()?;
        let carried =
            |air: &AirPoint| clock.outside_table(air.temperature) == Some(Outside::CarriedOn);
        return air.iter().any(carried).then_some(Doubted { doubt: Doubt::CarriedOn, until: None });
    }
    let (stated_c, was_c) = (stated_c?, furthest_c(kind, &air)?);
    let off_k = if kind.takes_upper() { stated_c - was_c } else { was_c - stated_c };
    if off_k <= MINDED_K + HAIR_K {
        return None;
    }
    let made_up = || near_enough(timing, stated_c, (kind, from_s), by)?.at_s();
    let until = kind.takes_upper().then(made_up).flatten().map(Moment::from_seconds_up);
    Some(Doubted { doubt: Doubt::OffStated { stated_c, was_c }, until })
}

/// Whether a window's end is sooner than stated.
fn shortened(timing: &Timing, from: Moment, due: Moment) -> Option<Doubted> {
    let sooner = due < Moment::from_seconds_down(from.seconds() + timing.duration_s);
    sooner.then_some(Doubted { doubt: Doubt::AsEarliest, until: None })
}

/// The temperature furthest on the unsafe side.
fn furthest_c(kind: Kind, air: &[AirPoint]) -> Option<f64> {
    let temperatures = air.iter().map(|point| point.temperature.celsius());
    if kind.takes_upper() {
        temperatures.min_by(f64::total_cmp)
    } else {
        temperatures.max_by(f64::total_cmp)
    }
}

/// When the clock is due that counts the time in air near enough to the stated.
fn near_enough(
    timing: &Timing,
    stated_c: f64,
    (kind, from_s): (Kind, f64),
    by: By<'_>,
) -> Option<Due> {
    let floor_c = Some(stated_c - MINDED_K - HAIR_K);
    let near = Timing { floor_c, ..Timing::steady(timing.upper_s()) };
    // only by the rules of now does a floor stop a clock without a law
    let by = By { rules: Rules::NOW, ..by };
    let tables = by.readings.tables();
    tables
        .look(by.readings, by.asked(&near, kind), |table| table.due(table.arrivals(), from_s, 1.0))
}
