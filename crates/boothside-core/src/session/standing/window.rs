//! The gap after a coat: when the next may go on, and until when it still may.

use std::borrow::Cow;

use crate::material::sheet::{Gap, OpenedBy, WipeRule};
use crate::material::timing::Timing;
use crate::session::clocks::{Doubt, Due, DueAt, Dues, Kind, Start, doubt};
use crate::session::state::{CoatOn, FaceHistory, Preparing, State};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;

use super::OVERNIGHT;
use super::face::FaceNow;

/// A second look comes after this share of the eye clock.
const NEXT_LOOK_SHARE: f64 = 0.15;
/// … but not sooner than this.
const NEXT_LOOK_LEAST: Span = Span::from_minutes(2);
/// A window is closing in its last quarter, but not for longer than this.
const CLOSING_MOST: Span = Span::from_minutes(15);

/// The edges of a gap.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Edges {
    /// When to look whether the film has dulled.
    pub(super) look: Option<Due>,
    /// The stated minimum.
    pub(super) opens: Option<Due>,
    /// Until when the next coat may go on directly.
    pub(super) open_until: Option<Due>,
    /// Until when it may go on after a wipe or scuff.
    pub(super) wipe_until: Option<Due>,
}

/// Where a face stands in a gap.
pub(super) struct InGap {
    pub(super) now: FaceNow,
    pub(super) until: Option<DueAt>,
    pub(super) wipe_flashes: bool,
    /// Since when that runs, where a wipe or sanding began it.
    pub(super) since: Option<Moment>,
}

impl InGap {
    const fn new(now: FaceNow, until: Option<DueAt>) -> Self {
        Self { now, until, wipe_flashes: false, since: None }
    }
}

/// One gap on one face.
pub(super) struct GapOnFace<'a> {
    pub(super) gap: &'a Gap,
    pub(super) wipe: Option<WipeRule>,
    pub(super) coat: &'a CoatOn,
    /// Minima start here: the end of the coat or of the last touch-up.
    pub(super) minima_from: Moment,
    /// Maxima start here: the beginning of the coat.
    pub(super) maxima_from: Moment,
    /// When the surface was sanded since.
    sanded: Option<Moment>,
    /// When it was last wiped or scuffed since.
    wiped: Option<Moment>,
    /// When solvent was last on it since.
    solvent: Option<Moment>,
    factor: f64,
}

impl<'a> GapOnFace<'a> {
    pub(super) fn new(
        gap: &'a Gap,
        wipe: Option<WipeRule>,
        history: &FaceHistory,
        coat: &'a CoatOn,
        factor: f64,
    ) -> Self {
        let minima_from = history.minima_from(coat);
        let sanded = history.last_prepared(Preparing::Sanded, minima_from);
        let since = sanded.unwrap_or(minima_from);
        let solvent = history.last_prepared(Preparing::Wiped, since);
        let scuffed = history.last_prepared(Preparing::Scuffed, since);
        Self {
            gap,
            wipe,
            coat,
            minima_from,
            maxima_from: sanded.unwrap_or(coat.begun),
            sanded,
            wiped: solvent.max(scuffed),
            solvent,
            factor,
        }
    }

    /// The edges.
    pub(super) fn edges(&self, dues: &impl Dues) -> Edges {
        let minimum = |timing| dues.due(timing, Kind::Minimum, self.told(self.minima_from), 1.0);
        let maximum = |timing| {
            let (timing, kind) = self.end(timing);
            dues.due(&timing, kind, self.told(self.maxima_from), 1.0)
        };
        let by_eye = self.gap.by != OpenedBy::Clock && self.sanded.is_none();
        // sanding answers the eye; the stated minimum is chemistry, and nothing ends it
        let by_clock = self.gap.by != OpenedBy::Eye;
        let eye_timing = self.gap.dulls.as_ref().unwrap_or(&self.gap.earliest);
        let look = || dues.due(eye_timing, Kind::Eye, self.told(self.minima_from), self.factor);
        Edges {
            look: by_eye.then(look).map(|first| self.after_wet_looks(first)),
            opens: by_clock.then(|| minimum(&self.gap.earliest)),
            open_until: self.gap.open_until.as_ref().map(maximum),
            wipe_until: self.gap.wipe_until.as_ref().map(maximum),
        }
    }

    /// What is to be minded of the minimum that opens it.
    pub(super) fn opens_doubt(&self, edges: &Edges, state: &State, watch: &Watch) -> Option<Doubt> {
        let span = (self.minima_from, edges.opens?.moment());
        doubt(&self.gap.earliest, Kind::Minimum, span, state.by())?.standing(watch)
    }

    /// What is to be minded of the maxima that close it.
    pub(super) fn closes_doubt(&self, edges: &Edges, state: &State) -> Option<Doubt> {
        let of = |timing: &Option<Timing>, due: Option<Due>| {
            let span = (self.maxima_from, due?.moment());
            let (timing, kind) = self.end(timing.as_ref()?);
            doubt(&timing, kind, span, state.by())
        };
        let doubted = of(&self.gap.open_until, edges.open_until)
            .or_else(|| of(&self.gap.wipe_until, edges.wipe_until));
        doubted.map(|doubted| doubted.doubt)
    }

    /// An end of the window with the law by which it goes.
    fn end<'b>(&self, timing: &'b Timing) -> (Cow<'b, Timing>, Kind) {
        match self.gap.shortened(timing) {
            Some(bent) => (Cow::Owned(bent), Kind::Shortened),
            None => (Cow::Borrowed(timing), Kind::Maximum),
        }
    }

    fn told(&self, start: Moment) -> Start {
        Start::told(start, self.coat.known)
    }

    /// After 'still wet' the next look comes a while later, but never before the clock's own end.
    fn after_wet_looks(&self, first: Due) -> Due {
        let wet = self.coat.still_wet.iter().copied().filter(|at| *at >= self.minima_from).max();
        let (Some(wet), DueAt::At(at)) = (wet, first.at) else {
            return first;
        };
        let share = Span::from_seconds(at.since(self.minima_from).seconds() * NEXT_LOOK_SHARE);
        let again = wet.plus(share.max(NEXT_LOOK_LEAST));
        if again <= at { first } else { Due { at: DueAt::At(again), recomputed: None } }
    }

    /// Whether a look found the film dulled.
    fn dulled(&self) -> Option<Moment> {
        self.coat.dulled.filter(|at| *at >= self.minima_from)
    }

    /// Where the face stands.
    pub(super) fn stands(&self, edges: &Edges, watch: &Watch) -> InGap {
        let last = edges.wipe_until.or(edges.open_until).and_then(|due| due.moment());
        if last.is_some_and(|last| watch.reached(last)) {
            return InGap::new(FaceNow::Sand, None);
        }
        let closed = edges.open_until.and_then(|due| due.moment());
        if closed.is_some_and(|closed| watch.reached(closed)) {
            return self.after_the_window(last, watch);
        }
        if let Some(early) = self.too_early(edges, watch) {
            return early;
        }
        if let Some(wiped) = self.wipe_still_wet(watch) {
            return wiped;
        }
        let opened = self.opened(edges);
        let open = InGap::new(open_or_closing(opened, closed, watch), at(closed));
        InGap { since: self.sanded, ..open }
    }

    fn too_early(&self, edges: &Edges, watch: &Watch) -> Option<InGap> {
        if let Some(look) = edges.look
            && self.dulled().is_none()
        {
            let due = look.moment().is_some_and(|at| watch.reached(at));
            let now = if due { FaceNow::Look } else { FaceNow::Flashing };
            return Some(InGap::new(now, Some(look.at)));
        }
        let opens = edges.opens?;
        if opens.moment().is_some_and(|at| watch.reached(at)) {
            return None;
        }
        Some(InGap::new(FaceNow::Flashing, Some(opens.at)))
    }

    /// A solvent wipe has a flash of its own.
    fn wipe_still_wet(&self, watch: &Watch) -> Option<InGap> {
        let dry = self.wipe_dry()?;
        let flashing = InGap::new(FaceNow::Flashing, Some(DueAt::At(dry)));
        let since = self.solvent;
        (!watch.reached(dry)).then_some(InGap { wipe_flashes: true, since, ..flashing })
    }

    fn wipe_dry(&self) -> Option<Moment> {
        let flash = self.wipe.map_or(Span::default(), |wipe| Span::from_seconds(wipe.flash_s));
        // a scuff does not dry the wipe before it
        self.wiped.max(self.solvent.map(|at| at.plus(flash)))
    }

    /// Past `open_until`: open after a wipe, until the earlier of the last edge and the wipe's own
    /// limit.
    fn after_the_window(&self, last: Option<Moment>, watch: &Watch) -> InGap {
        let wipe_first = InGap { since: self.sanded, ..InGap::new(FaceNow::Wipe, at(last)) };
        let (Some(wiped), Some(dry)) = (self.wiped, self.wipe_dry()) else {
            return wipe_first;
        };
        let limit = self.wipe.map(|wipe| wiped.plus(Span::from_seconds(wipe.limit_s)));
        let until = [last, limit, Some(wiped.plus(OVERNIGHT))].into_iter().flatten().min();
        if until.is_some_and(|until| watch.reached(until)) {
            return wipe_first;
        }
        if let Some(wet) = self.wipe_still_wet(watch) {
            return wet;
        }
        let open = InGap::new(open_or_closing(dry, until, watch), at(until));
        InGap { since: Some(wiped), ..open }
    }

    fn opened(&self, edges: &Edges) -> Moment {
        let opens = edges.opens.and_then(|due| due.moment());
        [opens, self.dulled(), self.sanded]
            .into_iter()
            .flatten()
            .fold(self.minima_from, Moment::max)
    }
}

const fn at(moment: Option<Moment>) -> Option<DueAt> {
    match moment {
        Some(moment) => Some(DueAt::At(moment)),
        None => None,
    }
}

fn open_or_closing(opened: Moment, closes: Option<Moment>, watch: &Watch) -> FaceNow {
    let Some(closes) = closes else {
        return FaceNow::Open;
    };
    let quarter = Span::from_ms(closes.since(opened).ms() / 4);
    let from = closes.minus(quarter.min(CLOSING_MOST));
    if watch.reached(from) { FaceNow::Closing } else { FaceNow::Open }
}
