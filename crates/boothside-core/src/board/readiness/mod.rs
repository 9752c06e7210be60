//! Readiness before a coat: one line a check, in the order of work. The computed ones answer
//! themselves, the others take one key. What is not known is said to be so and holds nothing.

mod air;
mod cans;
mod doubt;
mod keyed;
mod mix;
mod surface;

use super::mixing::MixBoard;
use crate::material::sheet::Hazard;
use crate::session::clocks::{Doubt, DueAt};
use crate::session::event::Way;
use crate::session::mixing::Ratio;
use crate::session::pace::{Pace, pace};
use crate::session::standing::{
    AirNow, Hold, MarginRule, MarginTrend, PotNow, Standing, StepNow, gone_past,
};
use crate::session::stock::CanAhead;
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;
use crate::session::{Overridden, Session, State};
use crate::work::system::Group;

/// The states of a check.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ReadyNow {
    /// It speaks for going on: a figure that was read, against one that is stated.
    Clear,
    /// A person said so. The program knows no more than that: it is never called clear.
    Said,
    /// To be borne in mind.
    Caution,
    /// It speaks against going on.
    Hold,
    /// It cannot be told, or nobody has answered it.
    NotKnown,
}

/// What is checked, with its figures.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A check of the system, answered by key.
    Check {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1; 0 for a check of the layer.
        coat: u32,
        /// Its id.
        check: String,
    },
    /// A step of preparation or closing: done, old enough, and not too old.
    Step {
        /// Its id.
        step: String,
        /// Where it stands.
        now: StepNow,
        /// When it was done.
        done: Option<Moment>,
        /// When its wait is over.
        ready: Option<DueAt>,
        /// Until when it is fresh, where that is said.
        fresh_until: Option<Moment>,
        /// Whether it is to be done again.
        again: bool,
    },
    /// The recoat windows of the faces ahead, by the faces' numbers.
    Windows {
        /// How many may take the coat.
        open: usize,
        /// How many are too early, or wait for a look or to be turned up.
        early: usize,
        /// The first window to close.
        closes: Option<(usize, Moment)>,
        /// Those that must be wiped first.
        wipe: Vec<usize>,
        /// Those that must be sanded first.
        sand: Vec<usize>,
    },
    /// A clock that its sheet does not speak for in such air.
    InDoubt {
        /// Whose clock.
        clock: DoubtedClock,
        /// The worst doubt of them.
        doubt: Doubt,
    },
    /// The age of the reading.
    ReadingAge {
        /// When it was taken.
        taken: Option<Moment>,
    },
    /// The air's temperature against the sheet.
    AirTemperature(InRange),
    /// The surface's temperature against the sheet: its coldest place, else its warmest where that
    /// is the one outside.
    SurfaceTemperature(InRange),
    /// The humidity against the sheet, %.
    Humidity(InRange),
    /// The surface over the dew point.
    DewMargin {
        /// The margin, K.
        margin_k: Option<f64>,
        /// Where that cannot be told so low: it is more than this, K.
        over_k: Option<f64>,
        /// By which rule.
        rule: MarginRule,
        /// Whether it is over a surface that was read, not the air's temperature.
        of_surface: bool,
        /// Whether it is not lower than at the reading before.
        rising: Option<bool>,
    },
    /// Where the margin is going.
    MarginTrend {
        /// The trend.
        trend: Option<MarginTrend>,
        /// How long the coat ahead takes to dry, as far as the sheet says: until then the margin
        /// must hold.
        film_dry: Option<Span>,
    },
    /// The mixed paint's temperature against the sheet.
    PaintTemperature(InRange),
    /// The pot for the coat ahead.
    Pot {
        /// Its letter; nothing while none is mixed.
        pot: Option<String>,
        /// Its state.
        now: Option<PotNow>,
        /// When its stand is over.
        stands_until: Option<DueAt>,
        /// Its last trigger.
        last_trigger: Option<Moment>,
    },
    /// Whether the pot lasts for the coat ahead at the pace of this hand.
    PotLasts {
        /// Its letter.
        pot: String,
        /// Its last trigger.
        last_trigger: Moment,
        /// What the rest of the coat takes.
        coat: Option<Span>,
    },
    /// Whether enough is in the pot for the coat ahead, mL: estimates.
    PotEnough {
        /// Its letter.
        pot: String,
        /// What should be left.
        left_ml: Option<f64>,
        /// What the rest of the coat needs.
        need_ml: Option<f64>,
    },
    /// The ratio of what was poured into the pot.
    Ratio {
        /// Its letter.
        pot: String,
        /// The ratio.
        ratio: Ratio,
    },
    /// The dates of the lots in the pot.
    LotsInDate {
        /// How many lots were told.
        told: usize,
        /// Components whose lot was past its date when it was told.
        expired: Vec<String>,
    },
    /// The can from which a component is poured next.
    Can(Box<CanAhead>),
    /// A can past its date from which the pot was drawn: its file.
    DrawnPast {
        /// The can's file.
        can: String,
    },
    /// Lots of the base in the pots of this layer: one colour from one lot.
    OneColour {
        /// The lots, each once.
        lots: Vec<String>,
        /// How many pots were mixed without telling their lot.
        untold: usize,
    },
    /// Hours of use behind the respirator's cartridges.
    Cartridges {
        /// Hours, at least.
        used_h: Option<f64>,
        /// The painter's own schedule, hours.
        change_h: Option<f64>,
    },
    /// Whether somebody knows that the painter works alone, and when to look in.
    SomeoneKnows,
    /// What the safety data sheet warns of.
    Hazard(Warning),
    /// Plugs and masks, counted.
    Masks {
        /// Which count is asked for.
        way: Way,
        /// Counted in.
        counted_in: Option<u32>,
        /// Counted out since.
        counted_out: Option<u32>,
    },
}

/// A figure against the sheet's limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InRange {
    /// What was read.
    pub read: Option<f64>,
    /// The lowest.
    pub min: Option<f64>,
    /// The highest.
    pub max: Option<f64>,
    /// Where the sheet sets neither: what a general rule says, which is not this sheet's.
    pub general: Option<(f64, f64)>,
}

/// A clock in doubt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DoubtedClock {
    /// The stated minimum of these faces, by their numbers.
    Opens(Vec<usize>),
    /// The maximum of these faces, by their numbers.
    Closes(Vec<usize>),
    /// The stand of a pot.
    Stand(String),
    /// The life of a pot.
    Life(String),
    /// Stages of cure of these faces, by their numbers.
    Cure(Vec<usize>),
}

/// What a caution is about. It never says that a protection is enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Warning {
    /// A hazard of the sheet.
    Of(Hazard),
    /// Waterborne: its mist is breathed all the same.
    Waterborne,
}

/// How a line is cleared.
#[derive(Debug, Clone, PartialEq)]
pub enum Clears {
    /// There is nothing to clear.
    Nothing,
    /// By looking, and one key: it is so.
    Answer,
    /// By doing it, and one key.
    Step,
    /// By waiting.
    Wait {
        /// Until when, if that can be told.
        until: Option<DueAt>,
    },
    /// By waiting longer than is stated, or by warmth; how much longer nobody told.
    WaitLonger,
    /// By being sooner than is stated, or by cooling; how much sooner nobody told.
    BeSooner,
    /// By a reading.
    Reading,
    /// By changing air, part or paint, and a reading after it.
    ChangeAir,
    /// By a wipe.
    Wipe,
    /// By sanding.
    Sand,
    /// By mixing a pot.
    Mix,
    /// By pouring what the bench asks.
    Pour,
    /// By cleaning the gun and mixing a pot.
    CleanAndMix,
    /// By taking another can.
    PickCan,
    /// By taking another can, or going past its date.
    CanPast,
    /// By telling how many.
    Count(Way),
    /// By telling the hours.
    Hours,
    /// By changing the cartridges and telling their hours.
    ChangeCartridges,
    /// By what the safety data sheet, local codes and licensed practice say; not by a key.
    SafetySheet,
    /// By a figure that is not set, in the sheet or the shop file.
    Figure,
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadyLine {
    /// Its name among the lines, the same at every look.
    pub id: String,
    /// Where it belongs in the order of work.
    pub group: Group,
    /// What is checked.
    pub item: Item,
    /// Where it stands.
    pub now: ReadyNow,
    /// When a person said so, where it stands by that alone.
    pub said: Option<Moment>,
    /// How it is cleared.
    pub clears: Clears,
    /// What it holds.
    pub hold: Option<Hold>,
    /// Where the painter went past that hold.
    pub overridden: Option<Overridden>,
}

impl ReadyLine {
    fn new(id: impl Into<String>, group: Group, item: Item, now: ReadyNow, clears: Clears) -> Self {
        Self { id: id.into(), group, item, now, said: None, clears, hold: None, overridden: None }
    }

    /// Said by a person at a moment, where it stands by that.
    fn said_at(mut self, at: Option<Moment>) -> Self {
        self.said = at.filter(|_| self.now == ReadyNow::Said);
        self
    }

    fn holding(mut self, hold: Option<Hold>, state: &State) -> Self {
        self.overridden = hold.as_ref().and_then(|hold| gone_past(state, hold)).cloned();
        self.hold = hold;
        self
    }
}

/// What the lines are made from.
struct Look<'a> {
    session: &'a Session,
    state: &'a State,
    standing: &'a Standing,
    watch: &'a Watch,
    air: &'a AirNow,
    mixing: Option<&'a MixBoard>,
    pace: Option<Pace>,
    /// The layer ahead, counted from 1.
    layer: u32,
    /// Its lowest coat that a face lacks.
    coat: u32,
}

/// The lines for the coat ahead, or for the closing once every coat is on.
pub(super) fn readiness(
    session: &Session,
    standing: &Standing,
    (air, mixing): (&AirNow, Option<&MixBoard>),
    watch: &Watch,
) -> Vec<ReadyLine> {
    let state = session.state();
    let hanging = standing.faces.iter().filter(|face| !face.now.is_absent());
    let nexts = hanging.filter_map(|face| face.next);
    let layer = standing.layer.unwrap_or_else(|| state.layer_count());
    let coat = nexts.filter(|(of, _)| *of == layer).map(|(_, coat)| coat).min().unwrap_or(1);
    let pace = pace(session.state(), session.plan());
    let look = Look { session, state, standing, watch, air, mixing, pace, layer, coat };
    let mut lines = surface::steps(&look);
    if standing.layer.is_some() {
        lines.extend(surface::windows(&look));
        lines.extend(air::lines(&look));
        lines.extend(mix::lines(&look));
        lines.extend(cans::lines(&look));
        lines.extend(keyed::protection(&look));
        lines.extend(keyed::checks(&look));
        lines.push(keyed::someone(&look));
    }
    lines.extend(doubt::lines(&look));
    lines.push(keyed::masks(&look));
    lines.sort_by_key(|line| line.group);
    lines
}

/// How many checks a person still has to answer before the coat ahead.
#[must_use]
pub fn still_to_check(lines: &[ReadyLine]) -> usize {
    let open = |line: &&ReadyLine| line.now != ReadyNow::Said && line.overridden.is_none();
    lines.iter().filter(|line| line.clears == Clears::Answer).filter(open).count()
}

/// The holds that the painter went past and that still count for the work ahead.
pub(super) fn overridden(lines: &[ReadyLine]) -> Vec<Overridden> {
    let mut past: Vec<Overridden> = Vec::new();
    for overridden in lines.iter().filter_map(|line| line.overridden.as_ref()) {
        if past.iter().all(|known| known.hold != overridden.hold) {
            past.push(overridden.clone());
        }
    }
    past
}
