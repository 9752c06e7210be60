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

    /// A name of part and face, with the dot between them or, where that lets it be larger,
    /// without.
    pub(super) fn name(name: &str, width: u16, height: u16) -> Self {
        let [whole, bare] = variants(name).map(|name| Self::fitting(&name, width, height));
        if bare.scale.is_some() && bare.rows > whole.rows { bare } else { whole }
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

/// A name as it is, and without the dot between part and face: it takes less room.
pub(super) fn variants(name: &str) -> [String; 2] {
    [name.to_owned(), name.replace(" · ", " ")]
}
