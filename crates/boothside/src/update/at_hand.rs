//! What the Book has at hand for a session: read once, when the sitting begins.

use boothside_core::work::part::Part;

/// What the Book has at hand.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AtHand {
    /// Its parts by the name of their file, in the order of names.
    pub parts: Vec<(String, Part)>,
}
