//! The start screen: keys in, a choice out.

use super::desk::Pressed;
use super::gate::Stroke;
use super::scene::{Notice, StartItem, StartScene};

/// 'q' twice within this long leaves.
const LEAVE_MS: i64 = 5_000;
/// A repeat of the same key within this long counts once.
const REPEAT_MS: i64 = 1_000;

/// What the painter chose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Chose {
    /// The item of this number.
    Item(usize),
    /// To leave.
    Leave,
}

/// The start screen.
pub struct Start {
    items: Vec<StartItem>,
    chosen: usize,
    notices: Vec<Notice>,
    data: String,
    leaving: Option<i64>,
    opened: Option<Stroke<Pressed>>,
}

impl Start {
    /// The start screen with these lines.
    #[must_use]
    pub fn new(items: Vec<StartItem>, notices: Vec<Notice>, data: String) -> Self {
        Self { items, chosen: 0, notices, data, leaving: None, opened: None }
    }

    /// With the item of this number chosen, as it was before another one could not be opened.
    #[must_use]
    pub fn on(mut self, number: usize) -> Self {
        self.chosen = number.min(self.items.len().saturating_sub(1));
        self
    }

    /// What there is to draw.
    #[must_use]
    pub fn scene<'a>(&'a self, keep_awake: &'a str) -> StartScene<'a> {
        StartScene {
            items: &self.items,
            chosen: self.chosen,
            notices: &self.notices,
            data: &self.data,
            keep_awake,
            leaving: self.leaving.is_some(),
        }
    }

    /// The item of this number.
    #[must_use]
    pub fn item(&self, number: usize) -> Option<&StartItem> {
        self.items.get(number)
    }

    /// A key at `hand_ms` of the hand's time.
    pub fn press(&mut self, key: Pressed, hand_ms: i64) -> Option<Chose> {
        let last = self.items.len().saturating_sub(1);
        let leaving = self.leaving.take().filter(|since| hand_ms - since < LEAVE_MS);
        match key {
            Pressed::Up | Pressed::PageUp => self.chosen = self.chosen.saturating_sub(1),
            Pressed::Down => self.chosen = (self.chosen + 1).min(last),
            Pressed::Char(' ') | Pressed::Enter | Pressed::PageDown => {
                return self.open(key, hand_ms);
            }
            Pressed::Char('q' | 'Q') if leaving.is_some() => return Some(Chose::Leave),
            Pressed::Char('q' | 'Q') => self.leaving = Some(hand_ms),
            Pressed::Char(c) => {
                let digit = c.to_digit(10).and_then(|digit| (digit as usize).checked_sub(1));
                self.chosen = digit.filter(|digit| *digit <= last).unwrap_or(self.chosen);
            }
            Pressed::Esc | Pressed::Backspace => {}
        }
        None
    }

    fn open(&mut self, key: Pressed, hand_ms: i64) -> Option<Chose> {
        let again = |last: &Stroke<Pressed>| last.key == key && hand_ms - last.hand_ms < REPEAT_MS;
        let repeated = self.opened.as_ref().is_some_and(again);
        self.opened = Some(Stroke { key, hand_ms });
        (!repeated && !self.items.is_empty()).then_some(Chose::Item(self.chosen))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn arrows_choose_space_opens_and_q_twice_leaves() {
        let items = vec![StartItem::Example, StartItem::ExampleRehearsal];
        let mut start = Start::new(items, Vec::new(), String::new());
        assert_eq!(start.press(Pressed::Down, 0), None);
        assert_eq!(start.press(Pressed::Down, 10), None);
        assert_eq!(start.press(Pressed::Char(' '), 20), Some(Chose::Item(1)));
        assert_eq!(start.press(Pressed::Char(' '), 900), None, "a repeat counts once");
        assert_eq!(start.press(Pressed::Char('1'), 2_000), None);
        assert_eq!(start.press(Pressed::Enter, 2_010), Some(Chose::Item(0)));
        assert_eq!(start.press(Pressed::Char('q'), 3_000), None);
        assert_eq!(start.press(Pressed::Char('q'), 9_000), None, "too late: once again");
        assert_eq!(start.press(Pressed::Char('q'), 9_500), Some(Chose::Leave));
    }
    #[test]
    fn what_could_not_be_opened_stays_chosen() {
        let items = vec![StartItem::Example, StartItem::ExampleRehearsal];
        let mut start = Start::new(items.clone(), Vec::new(), String::new()).on(1);
        assert_eq!(start.press(Pressed::Char(' '), 0), Some(Chose::Item(1)));
        let mut gone = Start::new(items, Vec::new(), String::new()).on(7);
        assert_eq!(gone.press(Pressed::Enter, 0), Some(Chose::Item(1)), "the last there is");
    }
}
