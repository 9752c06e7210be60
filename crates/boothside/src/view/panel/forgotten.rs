//! Whether a face that is long on the gun is on: asked beside the clocks.

use super::asking::{Lines, asked};
use crate::view::page::Page;

/// The lines of the question; none where it is not asked.
pub(super) fn lines(page: &Page<'_, '_>, width: u16) -> Lines {
    let Some(forgotten) = page.scene.forgotten else { return Lines::new() };
    let words = page.words.forgotten(&forgotten);
    let answers = words.answers.each_ref().map(String::as_str);
    asked(page, words.question, &answers, width)
}
