//! Where a face stands.

use crate::material::sheet::{CureStage, Sheet};
use crate::material::timing::Timing;
use crate::session::Session;
use crate::session::clocks::{Doubt, Due, DueAt, Dues, Kind, Speed, Start, doubt, speed};
use crate::session::state::{CoatOn, FaceHistory, State};
use crate::session::time::Moment;
use crate::session::watch::Watch;

use super::window::{Edges, GapOnFace};
use super::wipe::{WipeWhy, Wiping};

/// The states of a face, in the order in which it goes through them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FaceNow {
    /// No coat is on it.
    Bare,
    /// It is being sprayed.
    OnTheGun,
    /// Too early for the next coat.
    Flashing,
    /// Due for a look whether it has dulled.
    Look,
    /// It may be recoated.
    Open,
    /// It may be recoated, and not for much longer.
    Closing,
    /// It may be recoated after a wipe or scuff.
    Wipe,
    /// It must be sanded first.
    Sand,
    /// Its last coat of this layer is on, and it is too early for the next layer.
    LayerDone,
    /// Its last coat is on.
    Finished,
    /// Its part does not hang in the booth: its clocks run on.
    Away,
    /// It is not sprayed in this job: its clocks run on.
    Left,
}

impl FaceNow {
    /// Whether it does not take part.
    #[must_use]
    pub const fn is_absent(self) -> bool {
        matches!(self, Self::Away | Self::Left)
    }

    /// Whether the next coat may go on.
    #[must_use]
    pub const fn takes_a_coat(self) -> bool {
        matches!(self, Self::Bare | Self::Open | Self::Closing)
    }
}

/// A stage of cure and when it is due.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CureDue {
    /// The stage.
    pub stage: CureStage,
    /// When.
    pub due: Due,
    /// What is to be minded of it.
    pub doubt: Option<Doubt>,
}

/// Where a face stands.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceStanding {
    /// Its state.
    pub now: FaceNow,
    /// The state that its clocks tell, also while it is away or left.
    pub film: FaceNow,
    /// The layer and coat that it gets next.
    pub next: Option<(u32, u32)>,
    /// When the coat on the gun was begun.
    pub begun: Option<Moment>,
    /// When its last coat was on.
    pub finished: Option<Moment>,
    /// Since when its state runs, where a wipe or sanding began it; else that is its coat.
    pub since: Option<Moment>,
    /// When its state ends by time alone: the look, the opening, the closing.
    pub until: Option<DueAt>,
    /// Where a later reading makes an announced edge otherwise.
    pub recomputed: Option<DueAt>,
    /// When to look whether it has dulled.
    pub look: Option<Due>,
    /// The stated minimum of the gap.
    pub opens: Option<Due>,
    /// Until when the next coat may go on directly.
    pub open_until: Option<Due>,
    /// Until when it may go on after a wipe.
    pub wipe_until: Option<Due>,
    /// Why it wants a wipe, where it does.
    pub wipe: Option<WipeWhy>,
    /// Whether it is a wipe on it that flashes, not the coat.
    pub wipe_flashes: bool,
    /// How its clock runs.
    pub speed: Option<Speed>,
    /// What is to be minded of the stated minimum that opens it.
    pub opens_doubt: Option<Doubt>,
    /// What is to be minded of the maximum that closes it.
    pub closes_doubt: Option<Doubt>,
    /// Stages of cure since its last coat.
    pub cure: Vec<CureDue>,
    /// The face that must be fit to handle before this one is turned up, while that is awaited.
    pub turn: Option<TurnWait>,
}

/// A face that waits to be turned up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TurnWait {
    /// The other face's number.
    pub after: usize,
    /// When the other may be handled; nothing while that cannot be told.
    pub ready: Option<Moment>,
    /// Whether it may be turned now.
    pub may_be_turned: bool,
}

impl FaceStanding {
    pub(super) fn of(state: &State, number: usize, watch: &Watch) -> Self {
        let history = &state.faces[number];
        let mut standing = Self::bare(state.next_coat(number));
        if let Some(coat) = history.on_the_gun() {
            standing.now = FaceNow::OnTheGun;
            standing.begun = Some(coat.begun);
            return standing;
        }
        let Some(coat) = history.last_on() else {
            match standing.next {
                Some((layer, _)) => standing.take_wipe(state, history, layer, watch),
                None => standing.now = FaceNow::Finished,
            }
            return standing;
        };
        standing.begun = Some(coat.begun);
        standing.finished = coat.finished;
        let Some(sheet) = state.sheet(coat.layer) else {
            return standing;
        };
        standing.cure =
            cure_dues(state, sheet, Start::told(history.minima_from(coat), coat.known), watch);
        match standing.next {
            Some((layer, _)) => {
                standing.take_gap(state, number, sheet, coat, layer, watch);
                standing.take_wipe(state, history, layer, watch);
            }
            None => standing.now = FaceNow::Finished,
        }
        standing
    }

    const fn bare(next: Option<(u32, u32)>) -> Self {
        Self {
            now: FaceNow::Bare,
            film: FaceNow::Bare,
            next,
            begun: None,
            finished: None,
            since: None,
            until: None,
            recomputed: None,
            look: None,
            opens: None,
            open_until: None,
            wipe_until: None,
            wipe: None,
            wipe_flashes: false,
            speed: None,
            opens_doubt: None,
            closes_doubt: None,
            cure: Vec::new(),
            turn: None,
        }
    }

    fn take_gap(
        &mut self,
        state: &State,
        number: usize,
        sheet: &Sheet,
        coat: &CoatOn,
        next_layer: u32,
        watch: &Watch,
    ) {
        let within_layer = next_layer == coat.layer;
        let gap =
            if within_layer { Some(&sheet.between_coats) } else { sheet.to_next_layer.as_ref() };
        let Some(gap) = gap else {
            // the sheet does not say: no edge holds, and none is claimed
            self.now = FaceNow::Open;
            return;
        };
        let history = &state.faces[number];
        let factor = eye_factor(state, coat.layer);
        let wipe = state.sheet(next_layer).and_then(|sheet| sheet.wipe).or(sheet.wipe);
        let gap_on_face = GapOnFace::new(gap, wipe, history, coat, factor);
        let edges = gap_on_face.edges(state);
        let stands = gap_on_face.stands(&edges, watch);
        self.take_edges(&edges);
        self.now = match stands.now {
            FaceNow::Flashing if !within_layer && !stands.wipe_flashes => FaceNow::LayerDone,
            now => now,
        };
        self.until = stands.until;
        self.since = stands.since;
        self.wipe = (stands.now == FaceNow::Wipe).then_some(WipeWhy::Window);
        self.wipe_flashes = stands.wipe_flashes;
        let eye = gap.dulls.as_ref().unwrap_or(&gap.earliest);
        let (timing, kind): (&Timing, Kind) = match edges.look {
            Some(_) => (eye, Kind::Eye),
            None => (&gap.earliest, Kind::Minimum),
        };
        self.speed = Some(speed(timing, kind, state.by()));
        self.opens_doubt = gap_on_face.opens_doubt(&edges, state, watch);
        self.closes_doubt = gap_on_face.closes_doubt(&edges, state);
    }

    /// The wipe is the last thing before the film: where one is lacking, it comes first, and one that
    /// was done has its flash.
    fn take_wipe(&mut self, state: &State, history: &FaceHistory, layer: u32, watch: &Watch) {
        if !self.now.takes_a_coat() {
            return;
        }
        let wiping = Wiping::of(state, history, layer);
        if let Some(why) = wiping.lacks(watch) {
            (self.now, self.wipe) = (FaceNow::Wipe, Some(why));
            return;
        }
        let wet = |dry: &DueAt| dry.moment().is_none_or(|dry| !watch.reached(dry));
        if let Some(dry) = wiping.dry().filter(wet) {
            (self.now, self.wipe_flashes) = (FaceNow::Flashing, true);
            self.since = wiping.wiped();
            self.until = Some(dry);
        }
    }

    fn take_edges(&mut self, edges: &Edges) {
        self.look = edges.look;
        self.opens = edges.opens;
        self.open_until = edges.open_until;
        self.wipe_until = edges.wipe_until;
        let all = [edges.look, edges.opens, edges.open_until, edges.wipe_until];
        self.recomputed = all.into_iter().flatten().find_map(|due| due.recomputed);
    }

    /// When a stage of cure is due.
    #[must_use]
    pub fn cure_due(&self, stage: CureStage) -> Option<Due> {
        self.cure.iter().find(|cure| cure.stage == stage).map(|cure| cure.due)
    }
}

/// Marks the faces that do not take part; one on the gun is on the gun wherever it hangs.
pub(super) fn settle_places(state: &State, faces: &mut [FaceStanding]) {
    for (face, history) in faces.iter_mut().zip(&state.faces) {
        face.film = face.now;
        face.now = match face.now {
            FaceNow::OnTheGun => FaceNow::OnTheGun,
            _ if history.place.left => FaceNow::Left,
            _ if history.place.away => FaceNow::Away,
            now => now,
        };
    }
}

/// When the last flash is over of the coats that are on: of each face the later of its look and its
/// stated minimum; nothing where no coat is on.
#[must_use]
pub fn last_flash(state: &State) -> Option<DueAt> {
    let ends = state.faces.iter().filter_map(|history| flash_ends(state, history));
    ends.reduce(later)
}

fn flash_ends(state: &State, history: &FaceHistory) -> Option<DueAt> {
    let coat = history.last_on()?;
    let on = DueAt::At(history.minima_from(coat));
    let Some(sheet) = state.sheet(coat.layer) else { return Some(on) };
    let factor = eye_factor(state, coat.layer);
    let gap = GapOnFace::new(&sheet.between_coats, sheet.wipe, history, coat, factor);
    let edges = gap.edges(state);
    Some([edges.look, edges.opens].into_iter().flatten().map(|due| due.at).fold(on, later))
}

/// What never comes is the latest.
fn later(one: DueAt, other: DueAt) -> DueAt {
    match (one.moment(), other.moment()) {
        (Some(first), Some(second)) if second > first => other,
        (_, None) => other,
        _ => one,
    }
}

/// The shop factor of a layer's eye clock.
fn eye_factor(state: &State, layer: u32) -> f64 {
    let sheet = state.layer(layer).map(|layer| &layer.sheet);
    let factor = sheet.and_then(|sheet| state.factors.get(sheet)).copied();
    factor.filter(|factor| factor.is_finite() && *factor > 0.0).unwrap_or(1.0)
}

fn cure_dues(state: &State, sheet: &Sheet, from: Start, watch: &Watch) -> Vec<CureDue> {
    let cure = sheet.cure.iter().map(|cure| {
        let due = state.due(&cure.after, Kind::Minimum, from, 1.0);
        let doubted = doubt(&cure.after, Kind::Minimum, (from.at, due.moment()), state.by());
        let doubt = doubted.and_then(|doubted| doubted.standing(watch));
        CureDue { stage: cure.stage, due, doubt }
    });
    cure.collect()
}

/// Finds the faces that wait to be turned up: the first coat of a layer on a face that lies under
/// another waits until that other has the layer and may be handled, and 'turned' was said.
pub(super) fn settle_turns(session: &Session, faces: &mut [FaceStanding], watch: &Watch) {
    for number in 0..faces.len() {
        let Some(other) = session.plan().faces()[number].turned_after else {
            continue;
        };
        let Some((layer, 1)) = faces[number].next else {
            continue;
        };
        let state = session.state();
        // one that is left gets no coat that could be waited for
        let left = state.faces[other].place.left;
        let done = left || state.layer_done(other, layer);
        let other_finished = faces[other].finished.filter(|_| done);
        let turned = state.faces[number].turned;
        // where every coat of the other was left out, any turning will do
        let since = other_finished.or(done.then_some(Moment::from_ms(i64::MIN)));
        if since.zip(turned).is_some_and(|(since, turned)| turned >= since) {
            continue;
        }
        let ready = faces[other].cure_due(CureStage::Handle).and_then(|due| due.moment());
        let ready = ready.filter(|_| done);
        // without a stated time to handle, the painter's word alone decides
        let unknown = done && faces[other].cure_due(CureStage::Handle).is_none();
        let may_be_turned = unknown || ready.is_some_and(|ready| watch.reached(ready));
        faces[number].turn = Some(TurnWait { after: other, ready, may_be_turned });
    }
}
