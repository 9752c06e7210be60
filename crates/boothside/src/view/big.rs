//! How large a text can be.

use super::text::columns;
use super::widgets::big::{BigText, Scale};

/// Rows of a text at its smallest.
pub(super) const LEAST_ROWS: u16 = 4;

/// A text as large as it is drawn, or ordinary where it cannot be large.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Large {
    pub(super) text: String,
    pub(super) scale: Option<Scale>,
    pub(super) columns: u16,
    pub(super) rows: u16,
}

impl Large {
    /// `text` as large as `width` and `height` allow.
    pub(super) fn fitting(text: &str, width: u16, height: u16) -> Self {
        Self::at(text, BigText::new(text).best_scale(width, height))
    }

    /// `text` at a given scale.
    pub(super) fn at(text: &str, scale: Option<Scale>) -> Self {
        let size = scale.map(|scale| BigText::new(text).size(scale));
        let (columns, rows) = size.map_or((columns(text), 1), |size| (size.width, size.height));
        Self { text: text.to_owned(), scale, columns, rows }
    }

    /// The widget that draws it.
    pub(super) fn widget(&self) -> BigText {
        BigText::new(&self.text).scale(self.scale.unwrap_or(Scale::ONE))
    }
}
