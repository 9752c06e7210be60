//! What an entry says happened.

mod opening;
mod told;

use serde::{Deserialize, Serialize};

use super::film::{Weighing, WetFilm};
use super::gun::GunSetting;
pub use super::mixing::LimitedBy;
pub use super::stock::Lot;
use super::stock::{FromCan, SeenCan};
use super::time::{Moment, Span};
use crate::work::part::Part;

pub use opening::{Continuation, LOG_FORMAT, Opening};
pub use told::{KeptFigure, Reading, Reason, Way};

/// One thing that happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Event {
    /// The session opened.
    Opened(Box<Opening>),
    /// The session goes on in this file.
    Continued(Box<Continuation>),
    /// A part of the job came to hang in the booth.
    PartHung {
        /// Its name in the job.
        part: String,
    },
    /// A part of the job went from the booth: its clocks run on.
    PartAway {
        /// Its name in the job.
        part: String,
    },
    /// A part that was not in the job joined it, and hangs.
    PartJoined {
        /// Its name: that of its file.
        part: String,
        /// The part as it was then.
        is: Box<Part>,
    },
    /// A face is not sprayed in this job.
    FaceLeft {
        /// The face.
        face: String,
    },
    /// A face that was left is sprayed again.
    FaceBack {
        /// The face.
        face: String,
    },
    /// A step was done; its wait, if any, begins.
    StepDone {
        /// The step's id.
        step: String,
    },
    /// A readiness check was answered: it is so.
    CheckPassed {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1; 0 for a check of the layer.
        coat: u32,
        /// The check's id.
        check: String,
    },
    /// A pot was mixed; where activator met base this is its birth.
    PotMixed {
        /// The pot's letter.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// How much, mL.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        amount_ml: Option<f64>,
        /// Lots, where told.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        lots: Vec<Lot>,
        /// From which cans, where no pour was told: so much as the recipe's parts ask of each.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        cans: Vec<FromCan>,
    },
    /// Fresh mix went into a pot, which keeps its oldest birth.
    PotToppedUp {
        /// The pot's letter.
        pot: String,
        /// How much, mL.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        amount_ml: Option<f64>,
        /// From which cans: so much as the recipe's parts ask of each.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        cans: Vec<FromCan>,
    },
    /// A pot is to be poured: how much of it is wanted.
    PotPlanned {
        /// The pot's letter.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// How much is wanted, mL.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        wanted_ml: Option<f64>,
        /// How much is wanted, g, where a density is not set.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        wanted_g: Option<f64>,
        /// What its container holds, mL, where told.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        container_ml: Option<f64>,
        /// The short component that keeps it smaller than was asked.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        limited: Option<LimitedBy>,
    },
    /// One component was poured into a pot. Its birth is the first moment at which both base and
    /// activator are in.
    Poured {
        /// The pot's letter.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// How much of the mix was wanted, mL.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        wanted_ml: Option<f64>,
        /// How much of the mix was wanted, g, where a density is not set.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        wanted_g: Option<f64>,
        /// The component's name.
        component: String,
        /// How much of it went in, g: by the scale.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        poured_g: Option<f64>,
        /// How much of it went in, mL: by the pot's marks.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        poured_ml: Option<f64>,
        /// From which can.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        can: Option<String>,
        /// Thinner in what came out of that can, % by volume.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        thinner_pct: Option<f64>,
    },
    /// The makers' lots in a pot.
    LotsTold {
        /// The pot's letter.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// The lots.
        lots: Vec<Lot>,
    },
    /// So many seconds in the flow cup.
    FlowCup {
        /// The pot's letter.
        pot: String,
        /// The cup, as the sheet names it.
        cup: String,
        /// Seconds.
        seconds: f64,
    },
    /// A pot was weighed, or its mark read: what is left in it.
    PotWeighed {
        /// The pot's letter.
        pot: String,
        /// What is left, mL.
        left_ml: f64,
    },
    /// Material went back from a pot to its can.
    PotReturned {
        /// The pot's letter.
        pot: String,
        /// How much, mL.
        returned_ml: f64,
        /// What the can held before the pot was poured from it, mL, where told.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        can_ml: Option<f64>,
        /// To which can.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        can: Option<String>,
    },
    /// The cans on the shelf of the session's sheets, as the machine saw them.
    StockSeen {
        /// The cans.
        cans: Vec<SeenCan>,
    },
    /// The painter takes this can for a component from now on.
    CanPicked {
        /// The name of the material's sheet.
        sheet: String,
        /// The component's name.
        component: String,
        /// The can's file; nothing for a can that is not on the shelf.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        can: Option<String>,
    },
    /// What was left of a pot was disposed of.
    PotEmptied {
        /// The pot's letter.
        pot: String,
    },
    /// The gun's cup was filled.
    CupFilled {
        /// From which pot.
        pot: String,
    },
    /// The gun is clean.
    GunCleaned {},
    /// A face is on the gun.
    FaceBegun {
        /// The face.
        face: String,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat that the screen named, counted from 1.
        coat: u32,
        /// From which pot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pot: Option<String>,
    },
    /// A coat is on a face. Without a beginning, one is assumed on the safe side.
    FaceFinished {
        /// The face.
        face: String,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat that the screen named, counted from 1.
        coat: u32,
        /// From which pot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pot: Option<String>,
    },
    /// The rest of a coat is on: every face named, begun when the coat began.
    RestFinished {
        /// The faces.
        faces: Vec<String>,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat that the screen named, counted from 1.
        coat: u32,
        /// From which pot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pot: Option<String>,
    },
    /// Spraying a face stopped part-way: its coat does not count, and what is on it is film.
    FaceStopped {
        /// The face.
        face: String,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat that the screen named, counted from 1.
        coat: u32,
        /// From which pot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pot: Option<String>,
    },
    /// A look found the film dulled.
    Dulled {
        /// The face.
        face: String,
    },
    /// A look found the film still wet.
    StillWet {
        /// The face.
        face: String,
    },
    /// Faces were wiped with solvent.
    Wiped {
        /// The faces.
        faces: Vec<String>,
    },
    /// Faces were scuffed.
    Scuffed {
        /// The faces.
        faces: Vec<String>,
    },
    /// Faces were sanded.
    Sanded {
        /// The faces.
        faces: Vec<String>,
    },
    /// A face was turned up for spraying.
    Turned {
        /// The face.
        face: String,
    },
    /// A coat is left out on a face.
    CoatSkipped {
        /// The face.
        face: String,
        /// Layer, counted from 1.
        layer: u32,
    },
    /// The wet coat was wiped off a face.
    CoatWipedOff {
        /// The face.
        face: String,
    },
    /// A face gets one coat more than the system says.
    ExtraCoat {
        /// The face.
        face: String,
        /// Layer, counted from 1.
        layer: u32,
    },
    /// A face on the gun for far longer than usual is still being sprayed.
    StillSpraying {
        /// The face.
        face: String,
    },
    /// A fault was seen in the film.
    FaultSeen {
        /// The face.
        face: String,
        /// Layer, counted from 1; 0 where no coat was on it.
        layer: u32,
        /// Coat of that layer, counted from 1; 0 where no coat was on it.
        coat: u32,
        /// The fault, as `film_fault` of the core names it.
        fault: String,
        /// The pot of that coat.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        pot: Option<String>,
    },
    /// The gun is set so.
    GunSet(GunSetting),
    /// A face was touched up within its last coat.
    TouchedUp {
        /// The face.
        face: String,
    },
    /// A reading was taken.
    Reading(Reading),
    /// Where the reading of the same entry was taken, and with what.
    ReadingBy {
        /// The place.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<String>,
        /// The instruments.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        with: Option<String>,
    },
    /// No reading can be taken now.
    ReadingSkipped {},
    /// Plugs and masks were counted: all that are on the parts, or all that came off.
    MasksCounted {
        /// Which way.
        way: Way,
        /// How many.
        number: u32,
    },
    /// Plugs and masks were asked for, and not counted.
    MasksNotCounted {
        /// Which way.
        way: Way,
    },
    /// The exhaust fan went off, or on again.
    FanSet {
        /// Whether it runs.
        on: bool,
    },
    /// Somebody knows that the painter works alone, and when to look in.
    SomeoneKnows {},
    /// What was left of a mixed pot was put aside, open.
    LeftoverAside {
        /// The pot's letter.
        pot: String,
    },
    /// The respirator's cartridges have so many hours of use behind them now.
    CartridgesRead {
        /// Hours.
        used_h: f64,
    },
    /// The painter went on past a hold.
    HoldOverridden {
        /// The hold.
        hold: String,
        /// Why.
        reason: Reason,
    },
    /// A figure of line 0 was mended.
    FigureChanged {
        /// The figure, as `figures` of the core names it.
        field: String,
        /// What it was, in the figure's own unit; nothing where it was not set.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        old: Option<f64>,
        /// What it is.
        new: f64,
        /// Why.
        why: String,
    },
    /// Figures that the Book has otherwise now stay as they are in this session.
    FiguresKept {
        /// The figures, each as the Book has it.
        fields: Vec<KeptFigure>,
    },
    /// Work was interrupted; no clock stands still.
    Paused {
        /// Why.
        why: String,
    },
    /// Work goes on.
    Resumed {},
    /// The wet film of a coat was read.
    FilmRead {
        /// The face.
        face: String,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1.
        coat: u32,
        /// The readings.
        wet: Vec<WetFilm>,
    },
    /// The dry film on a face was read.
    DryFilmRead {
        /// The face.
        face: String,
        /// The uppermost layer, counted from 1.
        layer: u32,
        /// What the gauge showed, µm: a spot each.
        spots_um: Vec<f64>,
        /// What lies under this layer and is taken off, µm; nothing where the readings are of all
        /// layers.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        under_um: Option<f64>,
    },
    /// A pot was accounted for by the scale.
    PotAccounted {
        /// The pot's letter.
        pot: String,
        /// The coat weighed, counted from 1; nothing for all that came from the pot.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        coat: Option<u32>,
        /// The weights.
        weighing: Weighing,
    },
    /// A note.
    Note {
        /// The text.
        text: String,
    },
    /// A note about an entry.
    EntryNoted {
        /// The entry's number.
        entry: u64,
        /// The text.
        text: String,
    },
    /// Entries are taken back; a strike of a strike restores.
    Struck {
        /// Their numbers.
        entries: Vec<u64>,
    },
    /// An entry gets its true time.
    Retimed {
        /// Its number.
        entry: u64,
        /// The true time.
        when_ms: Moment,
    },
    /// The machine slept.
    Slept {
        /// How long, ms.
        span_ms: Span,
    },
    /// Somebody or the network set the wall clock. It changes nothing.
    WallClockSet {
        /// By how much, ms.
        by_ms: Span,
    },
    /// The machine was started anew, and its wall clock was believed; or, with no time away, a program
    /// with other rules went on.
    Restarted {
        /// How long the program did not run, by the wall clock, ms.
        away_ms: Span,
        /// The rules by which its clocks run from then on; 1 where none are named.
        #[serde(default = "opening::first_rules")]
        rules: u32,
    },
    /// The session is closed.
    Closed {},
}
