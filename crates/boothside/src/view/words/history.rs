//! The log's entries, as its screen shows them.

use boothside_core::board::{LogRow, Stands, retime_limits};
use boothside_core::session::entry::{By, Entry};
use boothside_core::session::event::{Event, Reason};
use boothside_core::work::film_fault::film_fault;

use super::Words;
use super::event::reason_words;
use super::fault::about;
use super::time::Time;

/// A line about an entry, and how much it matters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EntryLine {
    /// The text.
    pub text: String,
    /// Its kind.
    pub kind: LineKind,
}

/// The kinds of lines about an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// What it told.
    Told,
    /// When, and by whom.
    Plain,
    /// A rule that it breaks.
    Broken,
    /// That it was struck.
    Struck,
}

/// Who made an entry, where it was not the hand.
#[must_use]
pub const fn by(by: By) -> &'static str {
    match by {
        By::Key => "",
        By::Machine => "machine",
    }
}

fn overrides(entry: &Entry) -> impl Iterator<Item = (&str, Reason)> {
    entry.events.iter().filter_map(|event| match event {
        Event::HoldOverridden { hold, reason } => Some((hold.as_str(), *reason)),
        _ => None,
    })
}

impl Words<'_> {
    /// What stands at the end of an entry's row: 'struck by 26', 'told 10:45', 'breaks 2 rules'.
    #[must_use]
    pub fn entry_flag(&self, row: &LogRow<'_>) -> String {
        if let Stands::Struck { by } = row.stands {
            return format!("× struck by {by}");
        }
        let (broken, past) = (row.entry.breaks.len(), overrides(row.entry).count());
        match (past, broken) {
            (0, 0) if row.when != row.entry.t_ms => {
                format!("told {}", self.clock(row.entry.t_ms, Time::Past))
            }
            (0, 0) => String::new(),
            (0, 1) => "! breaks a rule".into(),
            (0, many) => format!("! breaks {many} rules"),
            (1, _) => "! past a hold".into(),
            (many, _) => format!("! past {many} holds"),
        }
    }

    /// What an entry told; the holds that it went past are told apart from it, where there is more.
    #[must_use]
    pub fn entry_told(&self, entry: &Entry) -> String {
        let told = |event: &&Event| !matches!(event, Event::HoldOverridden { .. });
        let told: Vec<Event> = entry.events.iter().filter(told).cloned().collect();
        if told.is_empty() { self.events(&entry.events) } else { self.events(&told) }
    }

    /// Everything about an entry: what it told, when, by whom, what it breaks, what struck it.
    #[must_use]
    pub fn entry_lines(&self, row: &LogRow<'_>) -> Vec<EntryLine> {
        let line = |kind, text: String| EntryLine { text, kind };
        let told = format!("{} · {}", row.entry.n, self.entry_told(row.entry));
        let mut lines = vec![line(LineKind::Told, told)];
        if let Stands::Struck { by } = row.stands {
            let at = self.session.entry(by).map(|strike| self.clock(strike.t_ms, Time::Past));
            let at = at.map_or_else(String::new, |at| format!(" at {at}"));
            lines.push(line(LineKind::Struck, format!("× struck by entry {by}{at}")));
        }
        lines.push(line(LineKind::Plain, self.entry_times(row)));
        lines.extend(overrides(row.entry).map(|(hold, reason)| {
            let hold = self.broken(hold);
            let text = format!("! went past: {hold} · because: {}", reason_words(reason));
            line(LineKind::Broken, text)
        }));
        let broken = row.entry.breaks.iter();
        lines.extend(
            broken.map(|rule| line(LineKind::Broken, format!("! breaks: {}", self.broken(rule)))),
        );
        for event in &row.entry.events {
            if let Event::FaultSeen { fault, .. } = event
                && let Some(fault) = film_fault(fault)
            {
                let about = about(fault).into_iter();
                lines.extend(about.map(|about| {
                    line(LineKind::Plain, format!("{}: {}", about.heading, about.text))
                }));
            }
        }
        lines
    }

    /// Between which times an entry can have happened: 'possible from 10:31:05 until now'.
    #[must_use]
    pub fn possible_times(&self, n: u64) -> Option<String> {
        let limits = retime_limits(self.session, n, self.now())?;
        let from = limits.earliest.map(|from| format!("from {} ", self.clock_to_the_second(from)));
        let until = if limits.latest >= self.now() {
            "now".to_owned()
        } else {
            self.clock_to_the_second(limits.latest)
        };
        Some(format!("possible {}until {until}", from.unwrap_or_default()))
    }

    fn entry_times(&self, row: &LogRow<'_>) -> String {
        let told = self.clock_to_the_second(row.entry.t_ms);
        let by = match row.entry.by {
            By::Key => "a key",
            By::Machine => "the machine",
        };
        if row.when == row.entry.t_ms {
            return format!("at {told}, by {by}");
        }
        let when = self.clock_to_the_second(row.when);
        let from = row.retimed_by.map_or_else(String::new, |n| format!(" (by entry {n})"));
        format!("true time {when}{from}, told {told} by {by}")
    }
}
