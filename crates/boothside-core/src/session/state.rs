//! What follows from the entries: facts with their true times. Every clock is computed from these
//! when it is looked at; none is kept.

use std::collections::BTreeMap;

use super::clocks::By;
use super::event::{Lot, Opening, Reading, Reason};
use super::film::{Accounted, DryRead, WetFilm};
use super::gun::GunCard;
use super::hanging::Place;
use super::mixing::Mixing;
use super::plan::Plan;
use super::readings::Readings;
use super::sitting::Sitting;
use super::stock::Stock;
use super::time::{Moment, Span};
use crate::material::sheet::Sheet;
use crate::physics::rate::Rules;
use crate::work::job::FullJob;
use crate::work::system::{Layer, Step};

/// Something that was done: when, and by which entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Done {
    /// Its true time.
    pub at: Moment,
    /// Since when that is known.
    pub known: Moment,
    /// Number of the entry.
    pub n: u64,
}

/// A check that was answered.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Passed {
    /// When.
    pub at: Moment,
    /// The pot in use for its layer then.
    pub pot: Option<String>,
}

/// One coat on a face.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatOn {
    /// Layer, counted from 1.
    pub layer: u32,
    /// When the face was begun.
    pub begun: Moment,
    /// Whether nobody tapped the beginning.
    pub assumed: bool,
    /// When it was on; nothing while the face is on the gun.
    pub finished: Option<Moment>,
    /// Whether its end was not tapped for itself: told with other faces, or by the beginning of the
    /// next one.
    pub end_assumed: bool,
    /// From which pot.
    pub pot: Option<String>,
    /// When a look found it dulled.
    pub dulled: Option<Moment>,
    /// When looks found it still wet.
    pub still_wet: Vec<Moment>,
    /// When the painter said that it was still being sprayed.
    pub still_spraying: Vec<Moment>,
    /// Wet-film readings.
    pub wet: Vec<WetFilm>,
    /// Whether the coat was left out.
    pub skipped: bool,
    /// Whether spraying stopped part-way: it is film, and no coat.
    pub part_way: bool,
    /// Since when beginning and end are known: nothing was announced before.
    pub known: Moment,
    /// The entries that made it: its beginning, its end.
    pub made_by: Vec<u64>,
    /// The entries that rest on those: looks, a wiping off.
    pub told_by: Vec<u64>,
}

impl CoatOn {
    /// Whether it has a number among the coats of `layer`: one left out has, one stopped part-way not.
    #[must_use]
    pub const fn is_nth_of(&self, layer: u32) -> bool {
        self.layer == layer && !self.part_way
    }
}

/// What was done to a face's surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Preparing {
    /// Wiped with solvent.
    Wiped,
    /// Scuffed.
    Scuffed,
    /// Sanded.
    Sanded,
}

/// A preparation of a face's surface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Prepared {
    /// What was done.
    pub how: Preparing,
    /// When.
    pub at: Moment,
}

/// What happened to a face.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FaceHistory {
    /// The coats on it, first first.
    pub coats: Vec<CoatOn>,
    /// Coats wiped off again.
    pub wiped_off: Vec<CoatOn>,
    /// Wipes, scuffs and sandings.
    pub prepared: Vec<Prepared>,
    /// When it was turned over.
    pub turned: Option<Moment>,
    /// When a coat was last wiped off it, and that coat's number in its layer.
    pub came_off: Option<(Moment, u32)>,
    /// Coats beyond the system's, by layer.
    pub extra: BTreeMap<u32, u32>,
    /// Touch-ups.
    pub touched_up: Vec<Moment>,
    /// Dry-film readings.
    pub dry: Vec<DryRead>,
    /// Where it is, as to this job.
    pub place: Place,
    /// Steps done on it, by id; a step done again counts from then.
    pub steps: BTreeMap<String, Done>,
}

impl FaceHistory {
    /// The coat that is being sprayed.
    #[must_use]
    pub fn on_the_gun(&self) -> Option<&CoatOn> {
        self.coats.last().filter(|coat| coat.finished.is_none())
    }

    /// The last coat that is on.
    #[must_use]
    pub fn last_on(&self) -> Option<&CoatOn> {
        self.coats.iter().rev().find(|coat| coat.finished.is_some() && !coat.skipped)
    }

    /// The coat being sprayed, else the last one that is on, with its number in its layer from 1: one
    /// that stopped part-way has the number of the coat that it was to be.
    #[must_use]
    pub fn last_sprayed(&self) -> Option<(&CoatOn, u32)> {
        let at = self.coats.iter().rposition(|coat| !coat.skipped)?;
        let on = &self.coats[at];
        let before = self.coats[..at].iter().filter(|coat| coat.is_nth_of(on.layer)).count();
        Some((on, u32::try_from(before + 1).unwrap_or(u32::MAX)))
    }

    /// Leaves a coat out: the one on the gun, where there is one.
    pub(super) fn leave_out(&mut self, mut skipped: CoatOn) {
        if self.on_the_gun().is_some()
            && let Some(begun) = self.coats.pop()
        {
            skipped.layer = begun.layer;
            skipped.made_by.splice(0..0, begun.made_by);
        }
        self.coats.push(skipped);
    }

    /// Takes the last coat off that is on or on the gun: one left out cannot be wiped off.
    pub(super) fn take_off(&mut self) -> Option<CoatOn> {
        let last = self.coats.iter().rposition(|coat| !coat.skipped)?;
        Some(self.coats.remove(last))
    }

    /// Where the minima of a coat that is on start: at its end, or at the touch-up after it.
    #[must_use]
    pub fn minima_from(&self, coat: &CoatOn) -> Moment {
        let finished = coat.finished.unwrap_or(coat.begun);
        self.touched_up.iter().copied().filter(|at| *at >= finished).fold(finished, Moment::max)
    }

    /// How many coats of `layer` are on, those left out counted.
    #[must_use]
    pub fn coats_on(&self, layer: u32) -> u32 {
        let on = |coat: &&CoatOn| coat.is_nth_of(layer) && coat.finished.is_some();
        u32::try_from(self.coats.iter().filter(on).count()).unwrap_or(u32::MAX)
    }

    /// The last wipe with solvent.
    #[must_use]
    pub fn last_wiped(&self) -> Option<Moment> {
        self.last_prepared(Preparing::Wiped, Moment::from_ms(i64::MIN))
    }

    /// The latest preparation of one kind at or after `since`.
    #[must_use]
    pub fn last_prepared(&self, how: Preparing, since: Moment) -> Option<Moment> {
        let fits = |prepared: &&Prepared| prepared.how == how && prepared.at >= since;
        self.prepared.iter().filter(fits).map(|prepared| prepared.at).max()
    }
}

/// A mixed pot.
#[derive(Debug, Clone, PartialEq)]
pub struct Pot {
    /// Its letter.
    pub id: String,
    /// Layer for which it was mixed, counted from 1.
    pub layer: u32,
    /// When activator met base, or when a one-part material was filled in.
    pub mixed: Moment,
    /// Since when that is known.
    pub known: Moment,
    /// How much went in, mL.
    pub amount_ml: Option<f64>,
    /// Lots, where told.
    pub lots: Vec<Lot>,
    /// When all of it was in and stirred; nothing while pours are still to come.
    pub stirred: Option<Done>,
    /// What was left in it when it was last weighed, mL, and when. What came in since is counted.
    pub weighed: Option<(Moment, f64)>,
    /// When it was emptied.
    pub emptied: Option<Moment>,
    /// When what was left of it was put aside, open.
    pub aside: Option<Moment>,
    /// The entry that mixed it.
    pub made_by: u64,
    /// The entries that rest on that one.
    pub told_by: Vec<u64>,
}

/// A reading with the moment at which it was taken and the one from which it was known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Taken {
    /// When it was taken.
    pub at: Moment,
    /// When it was entered: nothing that was announced before is taken back by it.
    pub known: Moment,
    /// The figures.
    pub reading: Reading,
}

/// A hold that the painter went past.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overridden {
    /// The hold.
    pub hold: String,
    /// Why.
    pub reason: Reason,
    /// When.
    pub at: Moment,
}

/// A fault seen in a film.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FaultSeen {
    /// When.
    pub at: Moment,
    /// The entry that told it.
    pub n: u64,
    /// The face's number.
    pub face: usize,
    /// Layer, counted from 1; 0 where no coat was on it.
    pub layer: u32,
    /// Coat, counted from 1; 0 where no coat was on it.
    pub coat: u32,
    /// The fault's id.
    pub fault: String,
    /// The pot of that coat.
    pub pot: Option<String>,
}

/// An interruption.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pause {
    /// Since when.
    pub from: Moment,
    /// Until when; nothing while it lasts.
    pub until: Option<Moment>,
}

/// Where a reading was taken, and with what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadBy {
    /// When it was taken.
    pub at: Moment,
    /// The place.
    pub place: Option<String>,
    /// The instruments.
    pub with: Option<String>,
}

/// Plugs and masks: the last counts, each with its time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Masks {
    /// On the parts. Counting in anew, after masking again, begins anew.
    pub on: Option<(u32, Moment)>,
    /// Off them again since.
    pub off: Option<(u32, Moment)>,
    /// How often they were asked for, and not counted, on the way in since the last count.
    pub uncounted_in: u32,
    /// The same on the way out.
    pub uncounted_out: u32,
}

impl Masks {
    /// Whether as many came off as were counted in; nothing where none were counted in.
    #[must_use]
    pub fn agree(&self) -> Option<bool> {
        let (on, _) = self.on?;
        Some(self.off.is_some_and(|(off, _)| off == on))
    }
}

/// What follows from the entries.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// The rules by which its clocks run: this program's, whoever wrote the log.
    pub rules: Rules,
    /// The job as line 0 has it, with every mended figure.
    pub work: FullJob,
    /// Shop factors of the eye clocks, by sheet.
    pub factors: BTreeMap<String, f64>,
    /// What the Book had of a figure when the painter last took it from there, or let it be.
    pub book_seen: BTreeMap<String, f64>,
    /// Faces, by their number in the plan.
    pub faces: Vec<FaceHistory>,
    /// Steps done, by id; a step done again counts from then.
    pub steps: BTreeMap<String, Done>,
    /// Checks answered, by (layer, coat, id), each in the order of telling.
    pub checks: BTreeMap<(u32, u32, String), Vec<Passed>>,
    /// The sitting of the last key.
    pub sitting: Option<Sitting>,
    /// Parts that joined after the opening, each with the entry that told it.
    pub joined: BTreeMap<String, u64>,
    /// Pots in the order of mixing: those in which activator has met base.
    pub pots: Vec<Pot>,
    /// What was told of mixing every pot, poured away ones included.
    pub mixings: Vec<Mixing>,
    /// The pot whose material is in the gun.
    pub gun: Option<String>,
    /// The pot in the gun, where by what is left in it it does not finish the next face, and another
    /// of its layer is mixed.
    pub spent: Option<String>,
    /// When the gun last left a face, was filled, or a part was turned.
    pub gun_free: Option<Moment>,
    /// Readings in the order in which they were taken.
    pub readings: Readings,
    /// When the painter last said that no reading can be taken.
    pub reading_skipped: Option<Moment>,
    /// Where readings were taken, and with what, in the order of telling.
    pub read_by: Vec<ReadBy>,
    /// Plugs and masks.
    pub masks: Masks,
    /// Since when the fan is off, by what was told.
    pub fan_off: Option<Moment>,
    /// When the fan last went off: what was said of it before counts no more.
    pub fan_went_off: Option<Moment>,
    /// When the painter last said that somebody knows.
    pub someone_knows: Option<Moment>,
    /// Hours of use behind the cartridges, and when that was so.
    pub cartridges: Option<(f64, Moment)>,
    /// Holds gone past.
    pub overridden: Vec<Overridden>,
    /// Since when work is interrupted, and why.
    pub paused: Option<(Moment, String)>,
    /// Every interruption, first first.
    pub pauses: Vec<Pause>,
    /// Faults seen, in the order of their true times.
    pub faults: Vec<FaultSeen>,
    /// Gun settings, in the order of their true times; the last one is set.
    pub gun_cards: Vec<GunCard>,
    /// Pots that were accounted for, in the order of their true times.
    pub accounted: Vec<Accounted>,
    /// The cans on the shelf.
    pub stock: Stock,
    /// When the session was closed.
    pub closed: Option<Moment>,
}

impl State {
    /// The state before any entry but the opening.
    #[must_use]
    pub fn new(opening: &Opening, plan: &Plan) -> Self {
        let away = |face: usize| {
            plan.part_of(face).is_some_and(|part| opening.work.job.away.iter().any(|it| it == part))
        };
        let face = |face: usize| {
            let place = Place { away: away(face), ..Place::default() };
            FaceHistory { place, ..FaceHistory::default() }
        };
        Self {
            rules: Rules::NOW,
            work: opening.work.clone(),
            factors: opening.factors.clone(),
            book_seen: BTreeMap::new(),
            faces: (0..plan.faces().len()).map(face).collect(),
            steps: BTreeMap::new(),
            checks: BTreeMap::new(),
            sitting: None,
            joined: BTreeMap::new(),
            pots: Vec::new(),
            mixings: Vec::new(),
            gun: None,
            spent: None,
            gun_free: None,
            readings: Readings::default(),
            reading_skipped: None,
            read_by: Vec::new(),
            masks: Masks::default(),
            fan_off: None,
            fan_went_off: None,
            someone_knows: None,
            cartridges: None,
            overridden: Vec::new(),
            paused: None,
            pauses: Vec::new(),
            faults: Vec::new(),
            gun_cards: Vec::new(),
            accounted: Vec::new(),
            stock: Stock::default(),
            closed: None,
        }
    }

    /// What a clock is reckoned by.
    #[must_use]
    pub fn by(&self) -> By<'_> {
        By::new(&self.readings, self.rules)
    }

    /// The layer numbered `layer` from 1.
    #[must_use]
    pub fn layer(&self, layer: u32) -> Option<&Layer> {
        self.work.system.layers.get((layer as usize).checked_sub(1)?)
    }

    /// The step with this id, of a layer or of the closing.
    #[must_use]
    pub fn step(&self, id: &str) -> Option<&Step> {
        let system = &self.work.system;
        let prep = system.layers.iter().flat_map(|layer| &layer.prep);
        prep.chain(&system.close).find(|step| step.id == id)
    }

    /// How many layers the system has.
    #[must_use]
    pub fn layer_count(&self) -> u32 {
        u32::try_from(self.work.system.layers.len()).unwrap_or(u32::MAX)
    }

    /// The sheet of a layer.
    #[must_use]
    pub fn sheet(&self, layer: u32) -> Option<&Sheet> {
        self.work.sheets.get(&self.layer(layer)?.sheet)
    }

    /// The coats that `layer` wants on a face, extra ones counted.
    #[must_use]
    pub fn coats_wanted(&self, face: usize, layer: u32) -> u32 {
        let extra = self.faces.get(face).and_then(|face| face.extra.get(&layer)).copied();
        self.layer(layer).map_or(0, |layer| layer.coats).saturating_add(extra.unwrap_or(0))
    }

    /// Whether a face has every coat of `layer`.
    #[must_use]
    pub fn layer_done(&self, face: usize, layer: u32) -> bool {
        self.faces
            .get(face)
            .is_some_and(|history| history.coats_on(layer) >= self.coats_wanted(face, layer))
    }

    /// The layer and coat that a face gets next; nothing when it has all.
    #[must_use]
    pub fn next_coat(&self, face: usize) -> Option<(u32, u32)> {
        let layer = (1..=self.layer_count()).find(|layer| !self.layer_done(face, *layer))?;
        Some((layer, self.faces.get(face)?.coats_on(layer) + 1))
    }

    /// How long was worked between two moments: interruptions that were told are left out.
    #[must_use]
    pub fn worked(&self, from: Moment, to: Moment) -> Span {
        let overlap = |pause: &Pause| {
            let (begin, end) = (pause.from.max(from), pause.until.unwrap_or(to).min(to));
            end.since(begin).ms().max(0)
        };
        let interrupted: i64 = self.pauses.iter().map(overlap).sum();
        Span::from_ms((to.since(from).ms() - interrupted).max(0))
    }

    /// The moment at which so much was worked since `from`: interruptions that began before it push
    /// it back.
    #[must_use]
    pub fn after_work(&self, from: Moment, span: Span) -> Moment {
        let mut end = from.plus(span);
        for pause in self.pauses.iter().filter(|pause| pause.from >= from) {
            if let Some(until) = pause.until.filter(|_| pause.from < end) {
                end = end.plus(until.since(pause.from));
            }
        }
        end
    }

    /// The pot with this letter.
    #[must_use]
    pub fn pot(&self, id: &str) -> Option<&Pot> {
        self.pots.iter().find(|pot| pot.id == id)
    }

    /// The pot in use for a layer: the one in the gun, else the last one mixed for it, that was not
    /// emptied. So a pot that is mixed ahead, and may stand, changes nothing for the one in the gun.
    /// One into which pours are still to come is in use only where there is no other.
    #[must_use]
    pub fn pot_in_use(&self, layer: u32) -> Option<&Pot> {
        let usable =
            |pot: &&Pot| pot.layer == layer && pot.emptied.is_none() && pot.aside.is_none();
        let usable = |pot: &&Pot| usable(pot) && self.spent.as_ref() != Some(&pot.id);
        let in_the_gun = self.gun.as_ref().and_then(|pot| self.pot(pot)).filter(usable);
        let kept = || self.pots.iter().rev().filter(usable);
        let stirred = || kept().find(|pot| pot.stirred.is_some());
        in_the_gun.or_else(stirred).or_else(|| kept().next())
    }

    /// What was told of mixing the pot with this letter.
    #[must_use]
    pub fn mixing(&self, pot: &str) -> Option<&Mixing> {
        self.mixings.iter().find(|mixing| mixing.pot == pot)
    }

    /// The pot that is being mixed for a layer.
    #[must_use]
    pub fn open_mixing(&self, layer: u32) -> Option<&Mixing> {
        self.mixings.iter().rev().find(|mixing| mixing.layer == layer && mixing.is_open())
    }

    /// Whether a hold with this key was gone past.
    #[must_use]
    pub fn went_past(&self, hold: &str) -> bool {
        self.went_past_since(hold, None)
    }

    /// The same at or after `since`.
    #[must_use]
    pub fn went_past_since(&self, hold: &str, since: Option<Moment>) -> bool {
        let mut past = self.overridden.iter().filter(|overridden| overridden.hold == hold);
        past.any(|overridden| since.is_none_or(|since| overridden.at >= since))
    }
}
