//! Figures that the Book has otherwise than an open session. The session stays as it is, unless the
//! painter takes them.

use std::collections::BTreeMap;

use super::Session;
use super::event::Event;
use super::figures::figures;
use crate::work::job::FullJob;

/// Why a figure was changed that was taken from the Book.
pub const BOOK_CHANGED: &str = "the sheet in the Book was changed";

/// A figure that the Book has otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct ChangedFigure {
    /// Its name, as [`figures`] has it.
    pub field: String,
    /// What it is in the session; nothing where it is not set.
    pub session: Option<f64>,
    /// What it is in the Book.
    pub book: f64,
}

/// The figures that `book` has otherwise than `session`, of those that both have, in the order of
/// [`figures`]. One that is set in the Book and not in the session is among them; one that is not set
/// in the Book any more is not, nor those of a layer that is another.
#[must_use]
pub fn changed_figures(session: &FullJob, book: &FullJob) -> Vec<ChangedFigure> {
    let theirs = by_name(book);
    let changed = figures(session).into_iter().filter_map(|figure| {
        let book_has = *theirs.get(&figure.field)?;
        let fits = is_same_layer(session, book, &figure.field) && figure.value != Some(book_has);
        let changed = ChangedFigure { field: figure.field, session: figure.value, book: book_has };
        fits.then_some(changed)
    });
    changed.collect()
}

/// The changed figures to offer: those that the Book has otherwise than the session, and otherwise
/// than when the painter last had to do with them. A figure mended in the session alone is not among
/// them.
#[must_use]
pub fn offered_figures(session: &Session, book: &FullJob) -> Vec<ChangedFigure> {
    let told = by_name(&as_told(session));
    let state = session.state();
    let known = |field: &String| state.book_seen.get(field).or_else(|| told.get(field)).copied();
    let mut changed = changed_figures(&state.work, book);
    changed.retain(|figure| known(&figure.field) != Some(figure.book));
    changed
}

/// The figures that are set, by name.
fn by_name(work: &FullJob) -> BTreeMap<String, f64> {
    figures(work).into_iter().filter_map(|figure| Some((figure.field, figure.value?))).collect()
}

fn is_same_layer(session: &FullJob, book: &FullJob, field: &str) -> bool {
    let row = field.strip_prefix("layers.").and_then(|rest| rest.split('.').next()?.parse().ok());
    let Some(row) = row.and_then(|row: usize| row.checked_sub(1)) else { return true };
    let layer = |work: &FullJob| {
        let layer = work.system.layers.get(row);
        layer.map(|layer| (layer.name.clone(), layer.sheet.clone()))
    };
    layer(session) == layer(book)
}

/// The job as it was told: of line 0 and of the parts that joined, without any mended figure.
fn as_told(session: &Session) -> FullJob {
    let mut work = session.opening().work.clone();
    for n in session.state().joined.values() {
        for event in session.entry(*n).map_or(&[][..], |entry| &entry.events) {
            if let Event::PartJoined { part, is } = event {
                work.parts.insert(part.clone(), (**is).clone());
            }
        }
    }
    work
}
