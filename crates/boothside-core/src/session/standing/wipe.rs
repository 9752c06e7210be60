//! The wipe is the last thing before the film: which face lacks it, and why.

use crate::session::clocks::{DueAt, Dues, Kind, Start};
use crate::session::state::{FaceHistory, Preparing, State};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;
use crate::work::system::{Does, Step};

use super::OVERNIGHT;

/// Why a face wants a wipe before its next coat.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WipeWhy {
    /// The window for going on without one is over.
    Window,
    /// A coat was wiped off it: the coat's number.
    CameOff(u32),
    /// It was sanded: that leaves dust.
    Sanded,
    /// It was turned over, and handled.
    Turned,
    /// Its last wipe or coat is 8 h ago.
    Overnight,
    /// The wipe's own limit is over, and no coat has gone on since.
    TooOld,
}

/// What was done to one face as to wipes.
pub(super) struct Wiping {
    /// The last wipe.
    wiped: Option<Moment>,
    /// When the wipe is dry.
    dry: Option<DueAt>,
    /// When it is too old, unless a coat or part of one has gone on since.
    too_old: Option<Moment>,
    /// What was last on the surface: a coat, a wipe, a scuff.
    handled: Option<Moment>,
    /// What undid the wipe since.
    undone: Option<WipeWhy>,
}

impl Wiping {
    /// The wipes of a face that gets a coat of `layer` next.
    pub(super) fn of(state: &State, history: &FaceHistory, layer: u32) -> Self {
        let step = wipe_step(state, layer);
        let sheet = |layer: u32| state.sheet(layer).and_then(|sheet| sheet.wipe);
        let coat = history.last_on();
        let rule = sheet(layer).or_else(|| sheet(coat?.layer));
        let wiped = history.last_wiped();
        let on = coat.map(|coat| history.minima_from(coat));
        let limits = [step.and_then(|step| step.within_s), rule.map(|rule| rule.limit_s)];
        let limit = limits.into_iter().flatten().min_by(f64::total_cmp).map(Span::from_seconds);
        let bare_since = wiped.filter(|wiped| on.is_none_or(|on| on < *wiped));
        let since = on.unwrap_or(Moment::from_ms(i64::MIN));
        let flash = rule.map_or(Span::default(), |rule| Span::from_seconds(rule.flash_s));
        let scuffed = history.last_prepared(Preparing::Scuffed, since);
        Self {
            wiped,
            dry: bare_since.map(|wiped| {
                let dry = DueAt::At(wiped.plus(flash));
                later(dry, step.and_then(|step| wait_of(state, history, step, wiped)))
            }),
            too_old: bare_since.zip(limit).map(|(wiped, limit)| wiped.plus(limit)),
            handled: [wiped, on, scuffed].into_iter().flatten().max(),
            undone: undone(history, since, wiped, step.is_some()),
        }
    }

    /// Why a wipe is lacking; nothing where none is. A layer's first wipe is its step's.
    pub(super) fn lacks(&self, watch: &Watch) -> Option<WipeWhy> {
        if self.undone.is_some() {
            return self.undone;
        }
        if self.handled.is_some_and(|last| watch.reached(last.plus(OVERNIGHT))) {
            return Some(WipeWhy::Overnight);
        }
        self.too_old.is_some_and(|end| watch.reached(end)).then_some(WipeWhy::TooOld)
    }

    /// The last wipe.
    pub(super) const fn wiped(&self) -> Option<Moment> {
        self.wiped
    }

    /// When the wipe is dry, where it is the last thing on the surface.
    pub(super) fn dry(&self) -> Option<DueAt> {
        self.dry.filter(|_| self.wiped.is_some())
    }
}

/// The wait of the step that wipes, for a wipe that was told of the face alone: after the step itself
/// the step waits.
fn wait_of(state: &State, history: &FaceHistory, step: &Step, wiped: Moment) -> Option<DueAt> {
    let by_step = history.steps.get(&step.id).is_some_and(|done| done.at >= wiped);
    let wait = step.wait.as_ref().filter(|_| !by_step)?;
    Some(state.due(wait, Kind::Minimum, Start::told(wiped, wiped), 1.0).at)
}

/// The later of two; what never comes is the latest.
fn later(one: DueAt, other: Option<DueAt>) -> DueAt {
    match (one, other) {
        (DueAt::At(one), Some(DueAt::At(other))) => DueAt::At(one.max(other)),
        (_, Some(never)) => never,
        (one, None) => one,
    }
}

/// What undid the last wipe, since the last coat on the face: sanding and a coat that came off leave
/// dust or solvent in any case; turning it over only undoes a wipe that was wanted.
fn undone(
    history: &FaceHistory,
    since: Moment,
    wiped: Option<Moment>,
    wanted: bool,
) -> Option<WipeWhy> {
    let sanded = history.last_prepared(Preparing::Sanded, since);
    let came_off = history.came_off.filter(|(at, _)| *at >= since);
    let turned = history.turned.filter(|at| *at >= since && (wanted || wiped.is_some()));
    let undoings = [
        sanded.map(|at| (at, WipeWhy::Sanded)),
        came_off.map(|(at, coat)| (at, WipeWhy::CameOff(coat))),
        turned.map(|at| (at, WipeWhy::Turned)),
    ];
    let last = undoings.into_iter().flatten().max_by_key(|(at, _)| *at);
    last.filter(|(at, _)| wiped.is_none_or(|wiped| wiped < *at)).map(|(_, why)| why)
}

/// The step of a layer's preparation that wipes.
pub(super) fn wipe_step(state: &State, layer: u32) -> Option<&Step> {
    state.layer(layer)?.prep.iter().find(|step| step.does == Some(Does::Wipe))
}
