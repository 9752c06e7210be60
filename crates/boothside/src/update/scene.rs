//! What there is to draw: a snapshot that the views read and never change. Words for it are in
//! `view::words`.

use boothside_core::board::{Board, News};
use boothside_core::session::event::{Event, Reason};
use boothside_core::session::pace::Forgotten;
use boothside_core::session::standing::Hold;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{ChangedFigure, Refusal, Session};
use chrono::{DateTime, FixedOffset};

use super::at_hand::AtHand;
use super::table::KeyRow;
use crate::forms::Form;
use crate::update::picker::Picker;

/// Session time as the wall shows it, for the eye.
pub trait Eye {
    /// The wall's time at a moment of the session, in the zone of the place at that time.
    fn wall(&self, moment: Moment) -> DateTime<FixedOffset>;
}

/// Whether what was told is on the disk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Saved {
    /// Every entry's sync has returned.
    Saved,
    /// An entry is on its way.
    Saving,
    /// The disk refuses.
    NotSaved {
        /// How many entries wait.
        waiting: usize,
        /// What the disk says.
        why: String,
    },
    /// This program only reads along.
    ReadOnly {
        /// Why.
        why: String,
    },
}

/// What becomes of a half filled form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Kept {
    /// What was typed is on the disk.
    Yes,
    /// It is on its way.
    Soon,
    /// The disk refuses.
    No(String),
}

/// The last key's effect, shown large for five seconds.
#[derive(Debug, Clone, PartialEq)]
pub struct Said {
    /// What was written down.
    pub events: Vec<Event>,
    /// Its true time.
    pub when: Moment,
    /// The rules that it breaks, in the text form of a hold.
    pub breaks: Vec<String>,
    /// Whether `u` takes it back.
    pub can_take_back: bool,
}

/// Something to tell besides the clocks.
#[derive(Debug, Clone, PartialEq)]
pub enum Notice {
    /// A command was refused.
    Refused(Refusal),
    /// A key was pressed while there is nothing to do.
    OnlyWaiting,
    /// The machine slept.
    Slept {
        /// How long.
        span: Span,
        /// What changed meanwhile.
        news: Vec<News>,
    },
    /// The wall clock was set; nothing changes.
    WallClockSet {
        /// By how much.
        by: Span,
    },
    /// The machine was started anew, and its clock was believed.
    Restarted {
        /// How long the program did not run.
        away: Span,
        /// What changed meanwhile.
        news: Vec<News>,
    },
    /// A reading entered later moves an edge that was announced.
    ReadingMoves {
        /// The face's number.
        face: usize,
        /// By how much: later is positive.
        by: Span,
    },
    /// A torn end of the log was set aside.
    Torn {
        /// Where it was put.
        file: String,
        /// How many bytes.
        bytes: u64,
    },
    /// Several keys at once were taken for a palm on the keyboard.
    Palm,
    /// Free text of the program's own.
    Text(String),
}

/// A question beside the clocks; it is answered with one digit, or left.
#[derive(Debug, Clone, PartialEq)]
pub enum Asking {
    /// An intention meets holds: why go on all the same?
    Holds {
        /// What was intended.
        intention: Intention,
        /// What speaks against it.
        holds: Vec<Hold>,
    },
    /// What else happened to a face.
    OtherFacts {
        /// The face's number.
        face: usize,
    },
    /// Take back a key that is older than ten minutes?
    TakeBackOld {
        /// The entry.
        n: u64,
        /// What it told.
        events: Vec<Event>,
        /// Its true time.
        when: Moment,
    },
    /// Why is work interrupted?
    PauseWhy,
    /// What to do with a pot.
    Pot,
    /// What was read of a film.
    Film {
        /// The face's number.
        face: usize,
    },
    /// What to do with an entry of the log, each by its digit.
    Entry {
        /// Its number.
        n: u64,
        /// What can be done.
        choices: Vec<EntryDo>,
    },
}

/// What can be done with an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum EntryDo {
    /// Strike it, and what rests on it.
    Strike {
        /// All that is struck, itself among it.
        group: Vec<u64>,
    },
    /// Strike the strike that took it back.
    Restore {
        /// That strike.
        strike: u64,
        /// All that counts again, itself among it.
        group: Vec<u64>,
    },
    /// Give it its true time.
    TrueTime,
    /// A note about it.
    Note,
}

/// What was intended when holds were met.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Intention {
    /// Begin a coat of this face.
    Begin {
        /// The face's id.
        face: String,
    },
    /// Not wait any longer.
    GoOn,
    /// Close the session.
    Close,
}

/// The reasons by their digit.
pub const REASONS: [Reason; 5] =
    [Reason::SheetAllows, Reason::Tried, Reason::FigureWrong, Reason::Repair, Reason::OwnDecision];

/// The other facts of a face, by their digit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OtherFact {
    /// The next coat is left out.
    Skipped,
    /// The last coat was wiped off.
    WipedOff,
    /// One coat more.
    ExtraCoat,
    /// Touched up.
    TouchedUp,
    /// Wiped with solvent.
    Wiped,
    /// Scuffed.
    Scuffed,
    /// Sanded.
    Sanded,
    /// Turned up.
    Turned,
}

/// The other facts in the order of their digits.
pub const OTHER_FACTS: [OtherFact; 8] = [
    OtherFact::Skipped,
    OtherFact::WipedOff,
    OtherFact::ExtraCoat,
    OtherFact::TouchedUp,
    OtherFact::Wiped,
    OtherFact::Scuffed,
    OtherFact::Sanded,
    OtherFact::Turned,
];

/// What can be told of the pot in use, by its digit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PotFact {
    /// A new pot is mixed: the form asks how much.
    Mixed,
    /// Fresh mix went into the pot in use.
    ToppedUp,
    /// Reducer went into the pot in use.
    ReducerAdded,
    /// The pot was weighed: what is left in it.
    Weighed,
    /// Material went back to the can.
    Returned,
    /// The pot in use was emptied.
    Emptied,
    /// The gun was cleaned.
    GunCleaned,
    /// Another can is poured from.
    OtherCan,
}

/// The pot facts in the order of their digits.
pub const POT_FACTS: [PotFact; 8] = [
    PotFact::Mixed,
    PotFact::ToppedUp,
    PotFact::ReducerAdded,
    PotFact::Weighed,
    PotFact::Returned,
    PotFact::Emptied,
    PotFact::GunCleaned,
    PotFact::OtherCan,
];

/// What can be told of a film, by its digit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FilmFact {
    /// The wet film was read.
    Wet,
    /// The dry film was read.
    Dry,
    /// The pot was weighed.
    Weighed,
}

/// The film facts in the order of their digits.
pub const FILM_FACTS: [FilmFact; 3] = [FilmFact::Wet, FilmFact::Dry, FilmFact::Weighed];

/// Why work is interrupted, by its digit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PauseWhy {
    /// Somebody or something calls.
    Called,
    /// A break.
    Break,
    /// Trouble with gun, hose or air.
    Equipment,
    /// Something is wrong with the finish.
    Fault,
    /// The air is not fit.
    Air,
}

/// The pause reasons in the order of their digits.
pub const PAUSES: [PauseWhy; 5] =
    [PauseWhy::Called, PauseWhy::Break, PauseWhy::Equipment, PauseWhy::Fault, PauseWhy::Air];

/// The digit that locks the keys, in the question why work is interrupted.
pub const LOCKS_KEYS: u32 = 9;

/// Which screen is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Screen {
    /// 1: the clocks.
    #[default]
    Clocks,
    /// 2: what to pour.
    Mix,
    /// 5: the film.
    Film,
    /// 7: the log.
    Log,
    /// 3: whether everything is ready.
    Ready,
    /// 6: the air.
    Air,
    /// `?`: all keys.
    Keys,
}

impl Screen {
    /// Whether it is a screen of the bench, which stays while things are told on it.
    #[must_use]
    pub const fn is_of_the_bench(self) -> bool {
        matches!(self, Self::Mix | Self::Ready | Self::Air)
    }
}

/// How a rehearsal runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rehearsal {
    /// How many times faster than the hand's time.
    pub pace: f64,
}

/// A session on the screen.
pub struct Scene<'a> {
    /// The session.
    pub session: &'a Session,
    /// The board at the moment drawn.
    pub board: &'a Board,
    /// Wall times for the eye.
    pub eye: &'a dyn Eye,
    /// Whether all is on the disk.
    pub saved: &'a Saved,
    /// Which screen.
    pub screen: Screen,
    /// Whether the glance is due: no key for a minute.
    pub glance: bool,
    /// The face chosen by the arrows.
    pub chosen: Option<usize>,
    /// The line chosen on Ready, by its number among the board's.
    pub ready_line: Option<usize>,
    /// The last key's effect.
    pub said: Option<&'a Said>,
    /// Notices, newest last.
    pub notices: &'a [Notice],
    /// A question.
    pub asking: Option<&'a Asking>,
    /// A form being filled in.
    pub form: Option<&'a Form>,
    /// A face or fault being picked.
    pub picker: Option<&'a Picker>,
    /// What the Book has at hand.
    pub at_hand: &'a AtHand,
    /// Figures that the Book has otherwise, where that is asked.
    pub offer: &'a [ChangedFigure],
    /// The face that may have been forgotten on the gun, where that is asked.
    pub forgotten: Option<Forgotten>,
    /// The number of the entry chosen in the log.
    pub log_chosen: u64,
    /// Whether and how it is a rehearsal.
    pub rehearsal: Option<Rehearsal>,
    /// `q` was pressed once.
    pub leaving: bool,
    /// The keys are locked, so that the keyboard can be wiped.
    pub locked: bool,
    /// The keys that work here, for the bottom line and the key table.
    pub keys: &'a [KeyRow],
}
