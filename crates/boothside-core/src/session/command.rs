//! What the painter, or the machine, asks to be written down.

use super::event::{Lot, Reading, Reason, Way};
use super::film::{Weighing, WetFilm};
use super::gun::GunSetting;
use super::stock::SeenCan;
use super::time::{Moment, Span};
use crate::material::recipe::Told;
use crate::work::part::Part;

/// How a pour is told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Poured {
    /// The component alone.
    Amount(Told),
    /// The scale's running total, g.
    ScaleShows(f64),
    /// The pot's running mark, mL.
    MarkShows(f64),
}

/// A command: facts, intentions, corrections and the machine's own news.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Fact: a part of the job came to hang in the booth.
    HangPart {
        /// Its name in the job.
        part: String,
    },
    /// Fact: a part of the job went from the booth.
    TakePartAway {
        /// Its name in the job.
        part: String,
    },
    /// Intention: a part that is not in the job joins it.
    JoinPart {
        /// Its name: that of its file.
        part: String,
        /// The part.
        is: Box<Part>,
    },
    /// Fact: a face is not sprayed in this job.
    LeaveFace {
        /// The face's id.
        face: String,
    },
    /// Fact: a face that was left is sprayed again.
    TakeFaceBack {
        /// The face's id.
        face: String,
    },
    /// Fact: a step is done.
    StepDone {
        /// Its id.
        step: String,
    },
    /// Fact: a check is answered.
    PassCheck {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1; 0 for a check of the layer.
        coat: u32,
        /// Its id.
        check: String,
    },
    /// Fact: a pot is mixed.
    MixPot {
        /// For which layer, counted from 1.
        layer: u32,
        /// How much, mL.
        amount_ml: Option<f64>,
        /// Lots, where told.
        lots: Vec<Lot>,
    },
    /// A pot is to be poured: so much, or as much as short components allow.
    PlanPot {
        /// For which layer, counted from 1.
        layer: u32,
        /// How much is wanted; nothing for what the coats to come need.
        wanted: Told,
        /// Components (from 0) of which there is only so much.
        short: Vec<(usize, Told)>,
        /// What the container holds, mL, where told.
        container_ml: Option<f64>,
    },
    /// Fact: a component was poured.
    Pour {
        /// Into which pot; nothing for the one being mixed, or a new one.
        pot: Option<String>,
        /// For which layer, counted from 1.
        layer: u32,
        /// The component, from 0.
        component: usize,
        /// How much of it went in.
        amount: Poured,
    },
    /// Fact: the lots of a pot.
    TellLots {
        /// Its letter.
        pot: String,
        /// Its layer, counted from 1.
        layer: u32,
        /// The lots.
        lots: Vec<Lot>,
    },
    /// Fact: seconds in the flow cup.
    ReadFlowCup {
        /// The pot's letter.
        pot: String,
        /// Seconds.
        seconds: f64,
    },
    /// Fact: what is left in a pot.
    WeighPot {
        /// Its letter.
        pot: String,
        /// What is left in it.
        left: Told,
    },
    /// Fact: material went back to the can.
    ReturnToCan {
        /// The pot's letter.
        pot: String,
        /// How much.
        amount: Told,
        /// What the can held before the pot was poured from it, mL, where told.
        can_ml: Option<f64>,
    },
    /// Fact: another can of a component is taken from now on.
    PickCan {
        /// The layer whose sheet it is, counted from 1.
        layer: u32,
        /// The component, from 0.
        component: usize,
        /// The can's file; nothing for a can that is not on the shelf.
        can: Option<String>,
    },
    /// Figures of line 0 are mended together.
    ChangeFigures {
        /// Name and value of each.
        changes: Vec<(String, f64)>,
        /// Why.
        why: String,
    },
    /// Fact: fresh mix went into a pot.
    TopUpPot {
        /// Its letter.
        pot: String,
        /// How much, mL.
        amount_ml: Option<f64>,
    },
    /// Fact: a pot was emptied.
    EmptyPot {
        /// Its letter.
        pot: String,
    },
    /// Fact: the gun's cup was filled.
    FillCup {
        /// From which pot.
        pot: String,
    },
    /// Fact: the gun is clean.
    CleanGun,
    /// Intention: begin the next coat of a face. May meet a hold.
    BeginCoat {
        /// The face's id.
        face: String,
        /// Why the painter goes past the holds, where there are any.
        past: Option<Reason>,
    },
    /// Fact: the coat is on.
    CoatOn {
        /// The face's id.
        face: String,
    },
    /// Fact: the rest of a coat is on.
    RestOn {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1.
        coat: u32,
    },
    /// Fact: spraying the face on the gun stopped part-way.
    StopFace {
        /// The face's id.
        face: String,
    },
    /// Fact: it has dulled.
    Dulled {
        /// The face's id.
        face: String,
    },
    /// Fact: it is still wet.
    StillWet {
        /// The face's id.
        face: String,
    },
    /// Fact: faces were wiped.
    Wiped {
        /// Their ids.
        faces: Vec<String>,
    },
    /// Fact: faces were scuffed.
    Scuffed {
        /// Their ids.
        faces: Vec<String>,
    },
    /// Fact: faces were sanded.
    Sanded {
        /// Their ids.
        faces: Vec<String>,
    },
    /// Fact: a face was turned up.
    Turned {
        /// Its id.
        face: String,
    },
    /// Fact: the next coat of a face is left out.
    SkipCoat {
        /// Its id.
        face: String,
    },
    /// Fact: the last coat was wiped off.
    WipedOff {
        /// The face's id.
        face: String,
    },
    /// Fact: a face gets one coat more.
    ExtraCoat {
        /// Its id.
        face: String,
    },
    /// Fact: a face was touched up.
    TouchedUp {
        /// Its id.
        face: String,
    },
    /// Fact: a face on the gun for far longer than usual is still being sprayed.
    StillSpraying {
        /// The face's id.
        face: String,
    },
    /// Fact: a fault was seen in the film of a face.
    SeeFault {
        /// The face's id.
        face: String,
        /// The fault's id.
        fault: String,
    },
    /// Fact: the gun is set so; what is left out stays as it was.
    SetGun(GunSetting),
    /// Fact: a reading.
    Read(Reading),
    /// Fact: a reading, with where it was taken and with what.
    ReadBy {
        /// The figures.
        reading: Reading,
        /// The place.
        place: Option<String>,
        /// The instruments.
        with: Option<String>,
    },
    /// Fact: no reading can be taken now.
    SkipReading,
    /// Fact: plugs and masks were counted.
    CountMasks {
        /// Which way.
        way: Way,
        /// How many.
        number: u32,
    },
    /// Fact: plugs and masks were asked for, and not counted.
    LeaveMasksUncounted {
        /// Which way.
        way: Way,
    },
    /// Fact: the exhaust fan went off, or on again.
    SetFan {
        /// Whether it runs.
        on: bool,
    },
    /// Fact: somebody knows that the painter works alone, and when to look in.
    SomeoneKnows,
    /// Fact: what was left of a mixed pot was put aside, open.
    PutAside {
        /// The pot's letter.
        pot: String,
    },
    /// Fact: hours of use behind the respirator's cartridges.
    ReadCartridges {
        /// Hours.
        used_h: f64,
    },
    /// The painter does not wait any longer.
    GoPast {
        /// The hold's text form.
        hold: String,
        /// Why.
        reason: Reason,
    },
    /// A figure of line 0 is mended.
    ChangeFigure {
        /// Its name.
        field: String,
        /// Its value.
        new: f64,
        /// Why.
        why: String,
    },
    /// Figures that the Book has otherwise now are taken from there; those that would not hold
    /// together stay as they are.
    TakeFigures {
        /// Name and value of each.
        figures: Vec<(String, f64)>,
    },
    /// Figures that the Book has otherwise now stay as they are.
    KeepFigures {
        /// Name of each, and its value in the Book.
        figures: Vec<(String, f64)>,
    },
    /// Fact: work is interrupted.
    Pause {
        /// Why.
        why: String,
    },
    /// Fact: work goes on.
    Resume,
    /// Fact: the wet film of the coat on the gun, else of the last one on, was read.
    ReadWetFilm {
        /// The face's id.
        face: String,
        /// The readings.
        wet: Vec<WetFilm>,
    },
    /// Fact: the dry film on a face was read.
    ReadDryFilm {
        /// The face's id.
        face: String,
        /// What the gauge showed, µm: a spot each.
        spots_um: Vec<f64>,
        /// What lies under the uppermost layer and is taken off, µm.
        under_um: Option<f64>,
    },
    /// Fact: a pot is accounted for by the scale.
    AccountForPot {
        /// Its letter.
        pot: String,
        /// The coat weighed, counted from 1; nothing for all that came from the pot.
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
    NoteAbout {
        /// The entry's number.
        n: u64,
        /// The text.
        text: String,
    },
    /// Takes back the last key.
    TakeBack,
    /// Strikes an entry and what rests on it.
    Strike {
        /// Its number.
        n: u64,
    },
    /// Gives an entry its true time.
    Retime {
        /// Its number.
        n: u64,
        /// The true time.
        when: Moment,
    },
    /// Moves the last key's true time.
    Earlier {
        /// By how much.
        by: Span,
    },
    /// Intention: close the session. May meet a hold.
    Close {
        /// Why the painter goes past the holds, where there are any.
        past: Option<Reason>,
    },
    /// The machine slept.
    Slept {
        /// How long.
        span: Span,
    },
    /// The wall clock was set.
    WallClockSet {
        /// By how much.
        by: Span,
    },
    /// The cans on the shelf of the session's sheets.
    SeeStock {
        /// The cans.
        cans: Vec<SeenCan>,
    },
    /// The machine was started anew.
    Restarted {
        /// How long the program did not run.
        away: Span,
    },
}

impl Command {
    /// Whether it tells of work at faces, pots or steps: whoever does that is back from an
    /// interruption.
    #[must_use]
    pub const fn is_work(&self) -> bool {
        matches!(
            self,
            Self::BeginCoat { .. }
                | Self::CoatOn { .. }
                | Self::RestOn { .. }
                | Self::StopFace { .. }
                | Self::Dulled { .. }
                | Self::StillWet { .. }
                | Self::Wiped { .. }
                | Self::Scuffed { .. }
                | Self::Sanded { .. }
                | Self::Turned { .. }
                | Self::WipedOff { .. }
                | Self::StepDone { .. }
                | Self::PassCheck { .. }
                | Self::MixPot { .. }
                | Self::Pour { .. }
                | Self::FillCup { .. }
                | Self::CleanGun
        )
    }

    /// Whether the machine says it, not a key.
    #[must_use]
    pub const fn is_machines(&self) -> bool {
        matches!(
            self,
            Self::Slept { .. }
                | Self::WallClockSet { .. }
                | Self::Restarted { .. }
                | Self::SeeStock { .. }
        )
    }
}
