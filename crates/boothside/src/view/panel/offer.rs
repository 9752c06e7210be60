//! Figures that the Book has otherwise: asked beside the clocks.

use super::asking::{Lines, asked};
use crate::view::page::Page;
use crate::view::text::cut;

/// Most figures that are listed one by one.
const MOST: usize = 4;

/// The lines of the question; none where nothing is offered.
pub(super) fn lines(page: &Page<'_, '_>, width: u16) -> Lines {
    let offer = page.scene.offer;
    if offer.is_empty() {
        return Lines::new();
    }
    let title = "the Book has other figures than this session: which count here?".to_owned();
    let choices = ["take them all", "stay as they are (Esc asks again another time)"];
    let mut asked = asked(page, title, &choices, width);
    let answers = asked.split_off(1);
    for changed in offer.iter().take(MOST) {
        let words = page.words.changed_figure(changed);
        let line = format!("  {}: {} → {}", words.name, words.session, words.book);
        asked.push((cut(&line, width.saturating_sub(2)), page.theme.plain()));
    }
    if offer.len() > MOST {
        asked.push((format!("  and {} more", offer.len() - MOST), page.theme.plain()));
    }
    asked.extend(answers);
    asked
}
