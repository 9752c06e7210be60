//! Keys that only look act at once. Where they turn out to be part of a palm, everything that they
//! changed goes back to what it was.

use super::{Desk, Timed};
use crate::update::desk::Pressed;
use crate::update::gate::Repeats;
use crate::update::scene::{Notice, Screen};

/// What keys that only look can change, as it was before the first of a burst.
#[derive(Debug, Clone)]
pub(super) struct Before {
    screen: Screen,
    chosen: Option<Timed<usize>>,
    ready_line: Option<String>,
    log_chosen: u64,
    leaving: Option<i64>,
    notices: Vec<Timed<Notice>>,
    repeats: Repeats,
}

impl Desk {
    /// Whether `key` only looks here: nothing is asked or filled in that it could answer.
    pub(super) fn only_looks(&self, key: Pressed) -> bool {
        let looks = matches!(
            key,
            Pressed::Char('1'..='7' | '9' | '?') | Pressed::Up | Pressed::Down | Pressed::Esc
        );
        let open = self.asking.is_some() || self.form.is_some() || self.picker.is_some();
        looks && !open && self.forgotten().is_none() && self.offer().is_empty()
    }

    /// Remembers what keys that act at once can change, where no other did before in this burst.
    pub(super) fn remember(&mut self) {
        if self.before_burst.is_some() {
            return;
        }
        self.before_burst = Some(Before {
            screen: self.screen,
            chosen: self.chosen.clone(),
            ready_line: self.ready_line.clone(),
            log_chosen: self.log_chosen,
            leaving: self.leaving,
            notices: self.notices.clone(),
            repeats: self.repeats.clone(),
        });
    }

    /// The burst is a palm: nothing of it is taken.
    pub(super) fn put_back(&mut self) {
        let Some(before) = self.before_burst.take() else { return };
        self.screen = before.screen;
        self.chosen = before.chosen;
        self.ready_line = before.ready_line;
        self.log_chosen = before.log_chosen;
        self.leaving = before.leaving;
        self.repeats = before.repeats;
        // what the machine told meanwhile stays as well
        let told = std::mem::replace(&mut self.notices, before.notices);
        for notice in told {
            if !self.notices.iter().any(|kept| kept.it == notice.it) {
                self.notices.push(notice);
            }
        }
        self.show_notices();
    }
}
