//! The log screen: choosing an entry, and what can be done with it.

use boothside_core::board::{LogRow, Stands, log_rows};
use boothside_core::session::command::Command;
use boothside_core::session::event::Event;
use boothside_core::session::group;

use super::{Desk, Effect, Now};
use crate::forms::FormKind;
use crate::update::scene::{Asking, EntryDo, Screen};
use crate::update::table::Do;

impl Desk {
    /// Shows the log with its newest entry chosen.
    pub(super) fn show_log(&mut self) -> Vec<Effect> {
        self.chosen = None;
        self.log_chosen = self.session.next_n().saturating_sub(1);
        self.screen = Screen::Log;
        Vec::new()
    }

    /// What a key does on the log screen; nothing where it does there what it does everywhere.
    pub(super) fn act_in_log(&mut self, does: Do, now: &Now<'_>) -> Option<Vec<Effect>> {
        if self.screen != Screen::Log {
            return None;
        }
        Some(match does {
            Do::Up => self.choose_entry(1),
            Do::Down => self.choose_entry(-1),
            Do::Act => self.ask_of_entry(now),
            Do::TrueTime => self.true_time_of_entry(now),
            _ => return None,
        })
    }

    /// Newest first: up is later.
    fn choose_entry(&mut self, by: i64) -> Vec<Effect> {
        let newest = self.session.next_n().saturating_sub(1);
        self.log_chosen = self.log_chosen.saturating_add_signed(by).min(newest);
        Vec::new()
    }

    fn chosen_row(&self) -> Option<LogRow<'_>> {
        log_rows(&self.session).into_iter().find(|row| row.entry.n == self.log_chosen)
    }

    fn ask_of_entry(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let choices = self.chosen_row().map(|row| self.choices(&row)).unwrap_or_default();
        if choices.is_empty() {
            return self.say("nothing can be done with this entry", now);
        }
        self.asking = Some(Asking::Entry { n: self.log_chosen, choices });
        Vec::new()
    }

    fn choices(&self, row: &LogRow<'_>) -> Vec<EntryDo> {
        let n = row.entry.n;
        let strike = row.can_strike.then(|| EntryDo::Strike { group: group(&self.session, n) });
        let restore = match row.stands {
            Stands::Struck { by } => {
                Some(EntryDo::Restore { strike: by, group: struck_by(self, by) })
            }
            Stands::InForce => None,
        };
        let time = row.can_retime.then_some(EntryDo::TrueTime);
        [strike, restore, time, Some(EntryDo::Note)].into_iter().flatten().collect()
    }

    pub(super) fn do_with_entry(&mut self, n: u64, what: &EntryDo, now: &Now<'_>) -> Vec<Effect> {
        match what {
            EntryDo::Strike { .. } => self.tell(&Command::Strike { n }, None, now),
            EntryDo::Restore { strike, .. } => {
                self.tell(&Command::Strike { n: *strike }, None, now)
            }
            EntryDo::TrueTime => self.open_form(FormKind::TimeOf(n), now),
            EntryDo::Note => self.open_form(FormKind::NoteAbout(n), now),
        }
    }

    fn true_time_of_entry(&mut self, now: &Now<'_>) -> Vec<Effect> {
        match self.chosen_row() {
            Some(row) if row.can_retime => self.open_form(FormKind::TimeOf(self.log_chosen), now),
            _ => self.say("this entry keeps its time", now),
        }
    }
}

/// What the strike numbered `n` took back.
fn struck_by(desk: &Desk, n: u64) -> Vec<u64> {
    let events = desk.session.entry(n).map_or(&[][..], |entry| &entry.events);
    let struck = events.iter().filter_map(|event| match event {
        Event::Struck { entries } => Some(entries.as_slice()),
        _ => None,
    });
    struck.flatten().copied().collect()
}
