//! Figures that the Book has otherwise: offered beside the clocks, never instead of them.

use boothside_core::session::command::Command;
use boothside_core::session::event::Event;
use boothside_core::session::{ChangedFigure, offered_figures};

use super::{Desk, Effect, Now, Pressed, THUMB_MS};
use crate::update::at_hand::AtHand;
use crate::update::scene::Screen;

impl Desk {
    /// Lays down what the Book has at hand for this session; figures that it has otherwise now are
    /// offered from `hand_ms` on, where this program writes the session.
    pub fn lay_at_hand(&mut self, at_hand: AtHand, hand_ms: i64) {
        self.at_hand = at_hand;
        let reads_only = self.reads_only();
        let closed = self.session.state().closed.is_some();
        let book = self.at_hand.work.as_ref().filter(|_| !reads_only && !closed);
        self.offer = book.map_or_else(Vec::new, |book| offered_figures(&self.session, book));
        self.offered_ms = hand_ms;
    }

    /// What is offered, unless something else is asked or filled in.
    pub(super) fn offer(&self) -> &[ChangedFigure] {
        let free = self.asking.is_none() && self.form.is_none() && self.picker.is_none();
        let shown = free && self.screen == Screen::Clocks && self.forgotten().is_none();
        if shown { &self.offer } else { &[] }
    }

    /// Takes `key` as the answer: 1 takes them, 2 lets them be, Esc puts the question off. Any other
    /// key goes its usual way, and the question stays.
    pub(super) fn answer_offer(&mut self, key: Pressed, now: &Now<'_>) -> Option<Vec<Effect>> {
        if self.offer().is_empty() || now.hand_ms - self.offered_ms < THUMB_MS {
            return None;
        }
        let figures = || self.offer.iter().map(|it| (it.field.clone(), it.book)).collect();
        let command = match key {
            Pressed::Char('1') => Command::TakeFigures { figures: figures() },
            Pressed::Char('2') => Command::KeepFigures { figures: figures() },
            Pressed::Esc => {
                self.offer.clear();
                return Some(Vec::new());
            }
            _ => return None,
        };
        let takes = matches!(command, Command::TakeFigures { .. });
        self.offer.clear();
        let effects = self.tell(&command, None, now);
        if takes {
            self.say_left(&effects, now);
        }
        Some(effects)
    }

    /// Says which figures were left because the job would not hold together with them.
    fn say_left(&mut self, effects: &[Effect], now: &Now<'_>) {
        let told = effects.iter().filter_map(|effect| match effect {
            Effect::Write(entry) => Some(entry),
            _ => None,
        });
        let left = told.flat_map(|entry| &entry.events).map(|event| match event {
            Event::FiguresKept { fields } => fields.len(),
            _ => 0,
        });
        let left: usize = left.sum();
        if left > 0 {
            let text = format!("{left} left as before: this job would not hold together with them");
            self.say(&text, now);
        }
    }
}
