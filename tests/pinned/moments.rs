//! The state and the board of each log, at forty moments: at entries, between them, where a clock
//! turns, and long after.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;

use boothside_core::board::{Board, board};
use boothside_core::session::Session;
use boothside_core::session::entry::Entry;
use boothside_core::session::time::{Moment, Span};

use crate::asks::shown;
use crate::board_text::{changes, lines};
use crate::logs::{Log, logs};
use crate::state_text::state_text;
use crate::texts::{path, pinned, utc};

const MOMENTS: usize = 40;

/// A look at a session: how many of its lines are there, and when.
type Look = (usize, Moment);

#[test]
fn every_log_folds_to_what_it_did() {
    for log in logs() {
        let session = log.session(usize::MAX);
        pinned(&format!("{}.state.txt", log.name), &state_text(&session));
    }
}

#[test]
fn every_board_shows_what_it_did() {
    for log in logs() {
        let name = format!("{}.board.txt", log.name);
        let entries = log.entries();
        let looks = kept(&name).unwrap_or_else(|| chosen(&log));
        assert_eq!(looks.len(), MOMENTS, "{name}");
        pinned(&name, &text_of(&entries, &looks));
    }
}

/// The board at each look, in order.
fn along(entries: &[Entry], looks: &[Look], mut with: impl FnMut(&Session, Look, Board)) {
    let mut session = Session::open(entries[..1].to_vec()).expect("a session");
    let mut known = 1;
    for (there, now) in looks {
        for entry in &entries[known..*there] {
            session.apply(entry.clone());
        }
        known = *there;
        with(&session, (known, *now), board(&session, *now));
    }
}

fn text_of(entries: &[Entry], looks: &[Look]) -> String {
    let (mut text, mut before) = (String::new(), Vec::new());
    along(entries, looks, |session, (known, now), board| {
        let (n, ms, when) = (entries[known - 1].n, now.ms(), utc(now));
        let shown = lines(session, &board);
        let _ = writeln!(text, "== after {known} lines, at {ms} ms: entry {n}, {when}");
        text.push_str(&changes(&before, &shown));
        before = shown;
    });
    text
}

/// The boards of all logs at all their moments.
pub(crate) fn boards_of() -> Vec<Board> {
    let mut boards = Vec::new();
    for log in logs() {
        let looks = kept(&format!("{}.board.txt", log.name)).expect("its moments");
        along(&log.entries(), &looks, |_, _, board| boards.push(board));
    }
    boards
}

/// The moments that the text names already: they stay, whatever the clocks say now.
fn kept(name: &str) -> Option<Vec<Look>> {
    let text = fs::read_to_string(path(name)).ok()?;
    let heads = text.lines().filter_map(|line| line.strip_prefix("== after "));
    let look = |head: &str| {
        let (lines, rest) = head.split_once(" lines, at ").expect("a moment");
        let (ms, _) = rest.split_once(" ms").expect("a moment");
        (lines.parse().expect("a number"), Moment::from_ms(ms.parse().expect("a number")))
    };
    Some(heads.map(look).collect())
}

/// Moments for a log that has none yet: where something is shown for the first time, the rest
/// spread over the session.
fn chosen(log: &Log) -> Vec<Look> {
    let entries = log.entries();
    let mut all = looks_between(&entries, 2);
    for parts in 3..40 {
        if parts < 5 || all.len() < MOMENTS * 2 {
            all.extend(looks_between(&entries, parts));
        }
    }
    all.extend(after_the_last(&entries));
    let all: Vec<Look> = all.into_iter().collect();
    let mut looks: BTreeSet<Look> = after_the_last(&entries).into_iter().collect();
    let mut seen = BTreeSet::new();
    along(&entries, &all, |_, look, board| {
        let shown = shown(&board);
        if looks.len() < MOMENTS && !shown.is_subset(&seen) {
            seen.extend(shown);
            looks.insert(look);
        }
    });
    // from coarse to fine, until there are enough
    for step in (0..10).rev().map(|halved| 1 << halved) {
        for look in all.iter().step_by(step) {
            if looks.len() < MOMENTS {
                looks.insert(*look);
            }
        }
    }
    looks.into_iter().collect()
}

/// At each entry, in parts of the time to the next and just before it, and where the board says that
/// it turns.
fn looks_between(entries: &[Entry], parts: i64) -> BTreeSet<Look> {
    let mut looks = BTreeSet::new();
    let at_entries = (1..entries.len()).map(|known| (known, entries[known - 1].t_ms));
    let at_entries: Vec<Look> = at_entries.collect();
    along(entries, &at_entries, |_, (known, from), board| {
        let to = entries[known].t_ms;
        let gap = to.since(from).ms();
        let between = (1..parts).map(|part| from.plus(Span::from_ms(gap * part / parts)));
        let turns = board.next_change.filter(|turns| *turns < to);
        // as it stood under the hand of the next key
        let before = Some(to.minus(Span::from_ms(1))).filter(|before| *before > from);
        let others = between.chain(turns).chain(before);
        looks.extend(std::iter::once(from).chain(others).map(|at| (known, at)));
    });
    looks
}

fn after_the_last(entries: &[Entry]) -> Vec<Look> {
    let last = entries.last().expect("a line").t_ms;
    let after = [Span::default(), Span::from_minutes(30)];
    let later = [3, 12, 24 * 8].map(Span::from_hours);
    after.into_iter().chain(later).map(|span| (entries.len(), last.plus(span))).collect()
}
