//! What the Book has at hand for a session: read once, when the sitting begins.

use boothside_core::work::job::FullJob;
use boothside_core::work::part::Part;

/// What the Book has at hand.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AtHand {
    /// Its parts by the name of their file, in the order of names.
    pub parts: Vec<(String, Part)>,
    /// The session's job as the Book has it now: sheets, system, parts and shop of the same names.
    /// Nothing where the Book does not have its system.
    pub work: Option<FullJob>,
}
