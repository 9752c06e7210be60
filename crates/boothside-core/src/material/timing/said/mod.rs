//! A timing as it is said: read from one line of text, and written as one.
//!
//! Our own plain grammar, after the way in which technical sheets print times; clauses stand
//! between commas or semicolons, in upper or lower case, with any blanks and dashes:
//!
//! - a time, with the air for which it is stated: `15min`, `10-15min`, `1h30min`, `2d`,
//!   `4h at 75F`, `4h at 24C 50%`;
//! - several of them, each at its temperature: `6h at 24C, 10h at 18C, 3h at 32C`, the law `table`.
//!   The one nearest to 23 °C (of two as near, the colder) is the stated duration; another one
//!   stands before a colon: `15min: 30min at 10C, 16min at 20C`;
//! - how it follows the air: `halves every 10C` (a difference) or `60kJ/mol`, the law `warmth`;
//!   `as water`, the law `water`; without any of them, `steady`;
//! - `not below 5C`: nothing happens in colder air.
//!
//! A bare temperature is in °C, or in °F where the painter works in US units.

mod clause;
mod error;
mod read;
mod say;

pub use error::SaidError;
pub use read::read;
pub use say::say;

use super::TablePoint;

/// The temperature to which the stated row of a table lies nearest, °C: the one at which sheets
/// state their times (ISO 3270, from memory).
const USUAL_C: f64 = 23.0;

/// The row of a table whose duration is the stated one, unless another is told.
fn stated_row(table: &[TablePoint]) -> Option<&TablePoint> {
    let off = |row: &TablePoint| (row.at_c - USUAL_C).abs();
    // the colder of two as near, also where the last bits differ
    let nearer = |best, row| if off(row) < off(best) - 1e-6 { row } else { best };
    table.iter().reduce(nearer)
}
