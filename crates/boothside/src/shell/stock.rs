//! What is on the shelf: the cans of the book, and what the logs of all sessions drew from them.

use std::path::Path;

use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;
use boothside_core::session::Session;
use boothside_core::session::entry::Entry;
use boothside_core::session::stock::{Densities, Level, Move, SeenCan, level, moves};
use boothside_core::session::time::{Moment, Span};
use boothside_core::units::Share;
use boothside_store::book::{FolderShelf, Kind, load};
use boothside_store::log::{Ending, inspect, logs_in};
use boothside_store::printable;
use boothside_store::storage::RealDisk;
use chrono::{DateTime, Days, Months, NaiveDate, TimeDelta, Utc};

use super::clocks::wall::{Zone, first_of_day};

/// A can of the book.
#[derive(Debug, Clone, PartialEq)]
pub struct OnShelf {
    /// Its file's name.
    pub file: String,
    /// What is written on it, and its last count.
    pub can: Can,
    /// What is in it now.
    pub level: Level,
    /// Whether any session drew from it: such a can is retired, never removed.
    pub used: bool,
}

/// A file that does not count in full: what is told of cans is not exact.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// The file's name.
    pub file: String,
    /// Why.
    pub why: String,
}

/// What is on the shelf.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stock {
    /// The cans, retired ones too, by their files' names.
    pub cans: Vec<OnShelf>,
    /// Files that do not count in full.
    pub left_out: Vec<LeftOut>,
}

/// Looks at the cans of `book` and at the logs in `sessions`, but for the one at `except`. Without a
/// can no log is read.
#[must_use]
pub fn look(book: &FolderShelf<RealDisk>, sessions: &Path, except: Option<&Path>) -> Stock {
    let mut stock = Stock::default();
    let mut cans: Vec<(String, Can)> = Vec::new();
    for name in book.names(Kind::Can).unwrap_or_default() {
        match load::<Can>(book, &name) {
            Ok(can) => cans.push((name, can)),
            Err(why) => {
                let why = printable(&why.to_string().replace('\n', " · "));
                stock.left_out.push(LeftOut { file: name, why });
            }
        }
    }
    if cans.is_empty() {
        return stock;
    }
    let drawn = drawn_in(sessions, except, &mut stock.left_out);
    for (file, can) in cans {
        let own: Vec<&(DateTime<Utc>, Move)> =
            drawn.iter().filter(|(_, one)| one.can == file).collect();
        let counted = can.counted.as_deref().and_then(instant);
        let since = own.iter().filter(|(at, _)| counted.is_none_or(|counted| *at > counted));
        let since: Vec<Move> = since.map(|(_, one)| one.clone()).collect();
        let sheet = load::<Sheet>(book, &can.sheet).ok();
        let densities = sheet.map(|sheet| Densities::of(&sheet.mix, &can.component));
        let thinner = Share::from_fraction(can.thinner_pct / 100.0);
        let level = level(can.left(), thinner, &since, densities.unwrap_or_default());
        stock.cans.push(OnShelf { used: !own.is_empty(), file, can, level });
    }
    stock
}

/// What all logs but one tell of cans, in the order in which it happened.
fn drawn_in(
    sessions: &Path,
    except: Option<&Path>,
    left_out: &mut Vec<LeftOut>,
) -> Vec<(DateTime<Utc>, Move)> {
    let mut drawn = Vec::new();
    for path in logs_in(&RealDisk, sessions).unwrap_or_default() {
        if except == Some(path.as_path()) {
            continue;
        }
        let mut leave_out = |why: String| {
            let file = printable(&path.file_name().unwrap_or_default().to_string_lossy());
            left_out.push(LeftOut { file, why });
        };
        match of_log(&path) {
            Ok((moves, incomplete)) => {
                drawn.extend(moves);
                incomplete.into_iter().for_each(&mut leave_out);
            }
            Err(why) => leave_out(why),
        }
    }
    drawn.sort_by_key(|(at, _)| *at);
    drawn
}

type OfLog = (Vec<(DateTime<Utc>, Move)>, Option<String>);

/// What one log tells of cans, and why that is not all, where so.
fn of_log(path: &Path) -> Result<OfLog, String> {
    let log = inspect(&RealDisk, path).map_err(|why| why.to_string())?;
    // where a damaged session goes on, its continuation carries everything before the damage
    if log.continued_in.is_some() {
        return Ok((Vec::new(), None));
    }
    let incomplete = match &log.ending {
        Ending::Damaged { line, why, .. } => Some(format!("is damaged from line {line} on: {why}")),
        _ => (!log.unknown.is_empty()).then(|| "was written by a newer boothside".to_owned()),
    };
    let session = match Session::open(log.entries) {
        Ok(session) => session,
        Err(why) => return Err(incomplete.unwrap_or_else(|| why.to_string())),
    };
    if session.opening().rehearsal {
        return Ok((Vec::new(), None));
    }
    let moves = moves(session.state());
    let placed = |one: Move| Some((instant_of(session.entries(), one.at)?, one));
    let count = moves.len();
    let placed: Vec<_> = moves.into_iter().filter_map(placed).collect();
    let untimed = (placed.len() < count).then(|| "tells no time that can be read".to_owned());
    Ok((placed, incomplete.or(untimed)))
}

fn instant(at: &str) -> Option<DateTime<Utc>> {
    DateTime::parse_from_rfc3339(at).ok().map(|at| at.to_utc())
}

/// The instant of a moment, by the wall of the last entry made by then, else of the first.
fn instant_of(entries: &[Entry], moment: Moment) -> Option<DateTime<Utc>> {
    let timed = entries.iter().filter_map(|entry| Some((entry.t_ms, instant(&entry.at)?)));
    let mut best = None;
    for (t, at) in timed {
        if best.is_none() || t <= moment {
            best = Some((t, at));
        }
    }
    let (t, at) = best?;
    at.checked_add_signed(TimeDelta::try_milliseconds(moment.since(t).ms())?)
}

/// The moment of an instant, by the wall of the last entry made by then, else of the first.
fn moment_of(entries: &[Entry], instant_wanted: DateTime<Utc>) -> Option<Moment> {
    let mut best = None;
    for entry in entries {
        let Some(at) = instant(&entry.at) else { continue };
        if best.is_none() || at <= instant_wanted {
            best = Some((entry.t_ms, at));
        }
    }
    let (t, at) = best?;
    Some(t.plus(Span::from_ms(instant_wanted.signed_duration_since(at).num_milliseconds())))
}

/// When a date is past: at the end of that day or month, as `zone` has it.
fn ends(date: &str, zone: &dyn Zone) -> Option<DateTime<Utc>> {
    let after = match NaiveDate::parse_from_str(date, "%Y-%m-%d") {
        Ok(day) => day.checked_add_days(Days::new(1))?,
        Err(_) => {
            let first = NaiveDate::parse_from_str(&format!("{date}-01"), "%Y-%m-%d").ok()?;
            first.checked_add_months(Months::new(1))?
        }
    };
    first_of_day(after, zone)
}

impl Stock {
    /// The cans of a session's sheets as the session is to know them. Give it a look at all logs but
    /// the session's own.
    #[must_use]
    pub fn seen_by(&self, session: &Session, zone: &dyn Zone) -> Vec<SeenCan> {
        let sheets = &session.state().work.sheets;
        let wanted = |on: &&OnShelf| !on.can.retired && sheets.contains_key(&on.can.sheet);
        self.cans.iter().filter(wanted).map(|on| on.seen(session.entries(), zone)).collect()
    }

    /// Why what is told of cans is not exact; nothing where it is.
    #[must_use]
    pub fn not_exact(&self) -> Option<String> {
        let (first, rest) = self.left_out.split_first()?;
        let more = match rest.len() {
            0 => String::new(),
            1 => "; one more file is left out".to_owned(),
            more => format!("; {more} more files are left out"),
        };
        Some(format!("what is left in cans is not exact: {} {}{more}", first.file, first.why))
    }
}

impl OnShelf {
    fn seen(&self, entries: &[Entry], zone: &dyn Zone) -> SeenCan {
        let Can { name, sheet, component, lot, until, opened, .. } = self.can.clone();
        let until_ms = until.as_deref().and_then(|date| ends(date, zone));
        let counted = self.can.counted.as_deref().and_then(instant);
        let share = self.level.thinner.map_or(0.0, |share| share.fraction());
        SeenCan {
            can: self.file.clone(),
            until_ms: until_ms.and_then(|until| moment_of(entries, until)),
            counted_ms: counted.and_then(|counted| moment_of(entries, counted)),
            left_ml: self.level.left.ml.filter(|_| self.can.left_ml.is_some()),
            left_g: self.level.left.g.filter(|_| self.can.left_g.is_some()),
            thinner_pct: share * 100.0,
            name,
            sheet,
            component,
            lot,
            until,
            opened,
        }
    }
}

#[cfg(test)]
mod tests;
