//! The next action: what SPACE does. docs/rules.md, 'The asks, in order'.

use super::hero::Waited;
use super::mixing::Shows;
use crate::session::Session;
use crate::session::clocks::DueAt;
use crate::session::command::Command;
use crate::session::event::Way;
use crate::session::standing::{OutOfLimits, PotWhy, WipeWhy};
use crate::session::time::{Moment, Span};

/// Why the gun is to be cleaned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CleanWhy {
    /// The pot is past its last trigger.
    PastTrigger,
    /// The pot is dead.
    Dead,
    /// Its last trigger comes before one more face would be on.
    TooLate,
    /// No coat of its material is still to come.
    NoCoatsLeft,
}

/// Why a reading is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ReadWhy {
    /// None was taken.
    Missing,
    /// The last one is too old.
    Old,
    /// The last one lies outside the sheet.
    Unfit(OutOfLimits),
    /// By its trend the margin over the dew point is gone before a coat begun now dulls.
    Trend {
        /// When it falls under what is wanted.
        gone: Moment,
        /// How long a coat that is begun now stays wet.
        wet: Span,
    },
    /// Water condenses on the part.
    Condensing,
}

/// The next action.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// A face is on the gun: its coat is on.
    CoatOn {
        /// The face's number.
        face: usize,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1.
        coat: u32,
    },
    /// The gun is clean.
    CleanGun {
        /// Whose material is in it.
        pot: String,
        /// Why.
        why: CleanWhy,
    },
    /// Work goes on after an interruption.
    Resume,
    /// A face has dulled.
    Dulled {
        /// The face's number.
        face: usize,
    },
    /// Begin a coat.
    BeginCoat {
        /// The face's number.
        face: usize,
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1.
        coat: u32,
    },
    /// A step is done.
    Step {
        /// Its id.
        step: String,
        /// Whether it was done before and is to be done again.
        again: bool,
    },
    /// Plugs and masks are counted: it needs a number, so SPACE opens the form.
    CountMasks {
        /// Which way.
        way: Way,
        /// Whether they were counted off and do not agree.
        again: bool,
    },
    /// A check is answered.
    Check {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1; 0 for a check of the layer.
        coat: u32,
        /// Its id.
        check: String,
    },
    /// Somebody knows that the painter works alone.
    SomeoneKnows,
    /// The fan runs again, where the system has no check of it.
    FanOn,
    /// A reading: it needs figures, so SPACE opens the form.
    Reading {
        /// Why.
        why: ReadWhy,
    },
    /// A pot is mixed.
    MixPot {
        /// For which layer, counted from 1.
        layer: u32,
        /// What the coats to come need with loss and spare, mL; nothing where a figure is not set.
        amount_ml: Option<f64>,
        /// Why.
        why: PotWhy,
    },
    /// A component is poured, as planned: until scale or mark show so much.
    Pour {
        /// Into which pot.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// The component, from 0.
        component: usize,
        /// What scale or mark show then.
        shows: Shows,
        /// Why the pot is mixed, where nothing is in it yet.
        why: Option<PotWhy>,
    },
    /// All of a pot is in: it is stirred.
    Stir {
        /// Its letter.
        pot: String,
        /// Layer, counted from 1.
        layer: u32,
        /// How much it is, mL, where that can be told.
        amount_ml: Option<f64>,
    },
    /// Faces are wiped.
    Wipe {
        /// Their numbers.
        faces: Vec<usize>,
        /// The step that says so, where it is to be done.
        step: Option<String>,
        /// Why, where the faces say it.
        why: Option<WipeWhy>,
    },
    /// Faces are sanded.
    Sand {
        /// Their numbers.
        faces: Vec<usize>,
    },
    /// A face is turned over.
    Turn {
        /// The face's number.
        face: usize,
    },
    /// What is left of a mixed pot is put aside.
    Leftover {
        /// Its letter.
        pot: String,
        /// How much, mL; nothing where it is not known.
        ml: Option<f64>,
    },
    /// The session is closed.
    Close,
    /// Nothing to do: the next thing to do, and when if that can be told.
    Wait {
        /// What.
        what: Waited,
        /// Until when.
        until: Option<DueAt>,
    },
    /// The session was closed.
    Over,
}

impl Next {
    /// The command that does it; nothing for a wait, and for what needs figures.
    #[must_use]
    pub fn command(&self, session: &Session) -> Option<Command> {
        let id = |face: &usize| session.plan().faces()[*face].id.clone();
        let ids = |faces: &[usize]| faces.iter().map(id).collect();
        Some(match self {
            Self::CoatOn { face, .. } => Command::CoatOn { face: id(face) },
            Self::CleanGun { .. } => Command::CleanGun,
            Self::Resume => Command::Resume,
            Self::Dulled { face } => Command::Dulled { face: id(face) },
            Self::BeginCoat { face, .. } => Command::BeginCoat { face: id(face), past: None },
            Self::Step { step, .. } | Self::Wipe { step: Some(step), .. } => {
                Command::StepDone { step: step.clone() }
            }
            Self::Check { layer, coat, check } => {
                Command::PassCheck { layer: *layer, coat: *coat, check: check.clone() }
            }
            Self::SomeoneKnows => Command::SomeoneKnows,
            Self::FanOn => Command::SetFan { on: true },
            Self::MixPot { layer, amount_ml, .. } | Self::Stir { layer, amount_ml, .. } => {
                Command::MixPot { layer: *layer, amount_ml: *amount_ml, lots: Vec::new() }
            }
            Self::Pour { pot, layer, component, shows, .. } => Command::Pour {
                // one of which nothing was told gets its letter with the pour
                pot: session.state().mixing(pot).map(|_| pot.clone()),
                layer: *layer,
                component: *component,
                amount: (*shows).into(),
            },
            Self::Wipe { faces, .. } => Command::Wiped { faces: ids(faces) },
            Self::Sand { faces } => Command::Sanded { faces: ids(faces) },
            Self::Turn { face } => Command::Turned { face: id(face) },
            Self::Leftover { pot, .. } => Command::PutAside { pot: pot.clone() },
            Self::Close => Command::Close { past: None },
            Self::CountMasks { .. } | Self::Reading { .. } | Self::Wait { .. } | Self::Over => {
                return None;
            }
        })
    }

    /// Whether it waits for the painter, not for a clock.
    #[must_use]
    pub const fn is_action(&self) -> bool {
        !matches!(self, Self::Wait { .. } | Self::Over)
    }
}
