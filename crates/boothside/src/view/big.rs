//! How large a text can be.

use super::text::columns;
use super::widgets::big::BigText;

/// Columns and rows of `text` at `scale`; nothing where it cannot be drawn large.
pub(super) fn size(text: &str, scale: u16) -> Option<(u16, u16)> {
    let large = BigText::new(text);
    large.best_scale(u16::MAX, u16::MAX)?;
    let size = large.size(scale);
    Some((size.width, size.height))
}

/// The largest scale at which `text` fits.
pub(super) fn scale(text: &str, width: u16, height: u16) -> Option<u16> {
    BigText::new(text).best_scale(width, height)
}

/// Rows of a large text.
pub(super) const fn rows(scale: u16) -> u16 {
    (scale * 7).div_ceil(2)
}

/// A name as it is, and without the dot between part and face: it takes less room.
pub(super) fn variants(name: &str) -> [String; 2] {
    [name.to_owned(), name.replace(" · ", " ")]
}

/// The variant of `name` that can be drawn largest in `width` × `height`, and its scale.
pub(super) fn largest_variant(name: &str, width: u16, height: u16) -> Option<(String, u16)> {
    let fits = |name: String| {
        let scale = scale(&name, width, height)?;
        Some((name, scale))
    };
    let found = variants(name).into_iter().filter_map(fits);
    // of two that are equally large the full one, which comes first
    found.rev().max_by_key(|(_, scale)| *scale)
}

/// The wider of a text's large and ordinary form, for a text that may be either.
pub(super) fn width_or_columns(text: &str, scale: u16) -> u16 {
    size(text, scale).map_or_else(|| columns(text), |(width, _)| width)
}
