//! Figures of line 0 that are mended, or taken from the Book.

use super::{Deciding, Events};
use crate::session::changed::BOOK_CHANGED;
use crate::session::event::{Event, KeptFigure};
use crate::session::figures::set_figure;
use crate::session::refusal::Refusal;

impl Deciding<'_> {
    pub(super) fn change_figure(&self, field: &str, new: f64, why: &str) -> Events {
        let mut work = self.session.state().work.clone();
        let old = set_figure(&mut work, field, new)?;
        let (field, why) = (field.to_owned(), why.to_owned());
        Ok(vec![Event::FigureChanged { field, old, new, why }])
    }

    pub(super) fn change_figures(&self, changes: &[(String, f64)], why: &str) -> Events {
        if changes.is_empty() {
            return Err(Refusal::Nothing);
        }
        let mut work = self.session.state().work.clone();
        let change = |(field, new): &(String, f64)| {
            let old = set_figure(&mut work, field, *new)?;
            Ok(Event::FigureChanged { field: field.clone(), old, new: *new, why: why.to_owned() })
        };
        changes.iter().map(change).collect()
    }

    /// Each figure that holds together with those before it, in as many rounds as it takes: one may
    /// need another. The rest stays, and is told as kept.
    pub(super) fn take_figures(&self, figures: &[(String, f64)]) -> Events {
        let mut work = self.session.state().work.clone();
        let mut events = Vec::new();
        let mut left = figures.to_vec();
        loop {
            let before = left.len();
            left.retain(|(field, new)| {
                let Ok(old) = set_figure(&mut work, field, *new) else { return true };
                let (field, why) = (field.clone(), BOOK_CHANGED.to_owned());
                events.push(Event::FigureChanged { field, old, new: *new, why });
                false
            });
            if left.is_empty() || left.len() == before {
                break;
            }
        }
        events.extend(kept(left));
        if events.is_empty() { Err(Refusal::Nothing) } else { Ok(events) }
    }
}

/// Figures that stay as they are; nothing where there is none.
pub(super) fn kept(figures: Vec<(String, f64)>) -> Option<Event> {
    let fields: Vec<KeptFigure> =
        figures.into_iter().map(|(field, book)| KeptFigure { field, book }).collect();
    (!fields.is_empty()).then_some(Event::FiguresKept { fields })
}
