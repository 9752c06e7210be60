//! Why a command was not written down.

use super::bounds::{Bounds, Unit, in_base};
use super::figures::FigureError;
use super::standing::Hold;
use super::time::Moment;

/// Why a command was not written down. Facts are refused only where they name what is not there,
/// lie in the future, or would make an impossible sequence.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// The intention meets holds.
    #[error("held: {}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))]
    Held(Vec<Hold>),
    /// It would lie in the future.
    #[error("that lies in the future; accepted: now or before")]
    Future {
        /// The nearest possible time.
        nearest: Moment,
    },
    /// It would change the order of what happened.
    #[error("that cannot be, for what happened before or after it")]
    OutOfOrder {
        /// The nearest possible time.
        nearest: Moment,
    },
    /// A figure of a reading cannot be.
    #[error("{field}: {given} was given; accepted: {accepted}")]
    Figure {
        /// Which figure.
        field: &'static str,
        /// What was given.
        given: String,
        /// What is accepted.
        accepted: &'static str,
    },
    /// A figure lies outside its range.
    #[error("{field}: {} was given; accepted: {bounds}", in_base(*.given, .bounds.unit))]
    Outside {
        /// Which figure.
        field: &'static str,
        /// What was given, in the unit of the range.
        given: f64,
        /// The range.
        bounds: Bounds,
    },
    /// A gauge shows no more than before the pour.
    #[error(
        "{field}: {} was given; accepted: more than is in the pot, {}",
        in_base(*.given, *.unit),
        in_base(*.than, *.unit)
    )]
    NotMore {
        /// Which figure.
        field: &'static str,
        /// What was given.
        given: f64,
        /// What is in the pot already.
        than: f64,
        /// What both are counted in.
        unit: Unit,
    },
    /// It names something that this session does not have.
    #[error("this session has no {what} '{name}'")]
    NotThere {
        /// What kind of thing.
        what: &'static str,
        /// Its name.
        name: String,
    },
    /// The part is in the job already.
    #[error("part '{part}' is in this job already; accepted: a part that is not")]
    InTheJob {
        /// Its name.
        part: String,
    },
    /// Nothing is left that it could apply to.
    #[error("nothing is left that this could apply to")]
    Nothing,
    /// The face is on the gun already.
    #[error("that face is on the gun already")]
    OnTheGun,
    /// The figure cannot be changed so.
    #[error(transparent)]
    Unfit(#[from] FigureError),
}
