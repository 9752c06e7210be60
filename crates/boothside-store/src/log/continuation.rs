//! Going on where a log was damaged: a new file whose first line carries everything before the
//! damage. The damaged file stays as it is.

use std::path::{Path, PathBuf};

use boothside_core::session::entry::{Anchor, By, Entry, Seen};
use boothside_core::session::event::{Continuation, Event, LOG_FORMAT};
use boothside_core::session::time::Moment;

use super::line::Unknown;
use super::lock::{self, Holder};
use super::open::{Damage, Opened, Recovery};
use super::scan::{self, End};
use super::writer::{CreateError, LogWriter};
use crate::printable_path;
use crate::save::folder_of;
use crate::storage::Disk;

/// When a continuation is made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// Session time.
    pub t_ms: Moment,
    /// The wall's time with its offset (RFC 3339).
    pub at: String,
    /// Where the machine's clocks stand.
    pub anchor: Option<Anchor>,
}

/// Why a damaged log is not continued.
#[derive(Debug, thiserror::Error)]
pub enum ContinueError {
    /// Nothing before the damage, or nothing that opens a session.
    #[error("nothing before the damage is whole: there is no session to go on with")]
    NothingGood,
    /// Something before the damage is newer than this program.
    #[error("line {} is not known to this program, which must not go on without it", .0.line)]
    Unknown(Unknown),
    /// Another program has the damaged log open.
    #[error("{0} has it open")]
    Locked(Holder),
    /// The session goes on in another file already.
    #[error("the session already goes on in {}", printable_path(.0))]
    Already(PathBuf),
    /// The file is not as it was when the damage was found.
    #[error("the file has changed since; open it again")]
    Changed,
    /// There is no new file.
    #[error(transparent)]
    Create(#[from] CreateError),
}

/// Makes `NAME-2.jsonl` (or the next free name) beside the damaged `NAME.jsonl`, and opens it.
///
/// # Errors
/// [`ContinueError`]; the damaged file is as it was in every case.
pub fn continue_after<D: Disk>(
    disk: &D,
    damage: &Damage,
    stamp: Stamp,
) -> Result<Opened<D>, ContinueError> {
    // a file whose first line carries no session would never open
    if !opens(&damage.good) {
        return Err(ContinueError::NothingGood);
    }
    if let Some(unknown) = damage.unknown.first() {
        return Err(ContinueError::Unknown(unknown.clone()));
    }
    let folder = folder_of(&damage.file);
    let refused = |source| CreateError::Disk { folder: folder.to_owned(), source };
    // two programs must not both go on
    let lock = lock::take(disk, &damage.file).map_err(refused)?;
    let _lock = lock.map_err(ContinueError::Locked)?;
    if let Some(other) = of(disk, &damage.file) {
        return Err(ContinueError::Already(other));
    }
    let bytes = disk.read(&damage.file, 0).map_err(refused)?;
    if !is_same(&bytes, damage) {
        return Err(ContinueError::Changed);
    }
    let first = first_entry(damage, stamp);
    let name = damage.file.file_stem().unwrap_or_default();
    let writer = LogWriter::create(disk, folder, &name.to_string_lossy(), &first)?;
    Ok(Opened { writer, entries: flattened(damage, first), recovery: Recovery::Sound })
}

fn opens(good: &[Entry]) -> bool {
    let first = good.first().and_then(|entry| entry.events.first());
    matches!(first, Some(Event::Opened(_)))
}

fn is_same(bytes: &[u8], damage: &Damage) -> bool {
    let (scanner, end) = scan::scan(bytes);
    let spot = End::Damaged { line: damage.line, byte: damage.byte, why: damage.why.clone() };
    end == spot && scanner.entries == damage.good
}

fn first_entry(damage: &Damage, stamp: Stamp) -> Entry {
    let file = damage.file.file_name().unwrap_or_default();
    Entry {
        n: damage.good.len() as u64,
        t_ms: stamp.t_ms,
        at: stamp.at,
        by: By::Machine,
        when_ms: None,
        events: vec![Event::Continued(Box::new(Continuation {
            format: LOG_FORMAT,
            file: file.to_string_lossy().into_owned(),
            line: damage.line,
            byte: damage.byte,
            entries: damage.good.clone(),
        }))],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: stamp.anchor,
    }
}

/// The entries as reading the new file gives them.
fn flattened(damage: &Damage, mut first: Entry) -> Vec<Entry> {
    if let Some(Event::Continued(continuation)) = first.events.first_mut() {
        continuation.entries.clear();
    }
    let mut entries = damage.good.clone();
    entries.push(first);
    entries
}

/// The file in which the session of the damaged log at `path` goes on, where there is one.
pub(crate) fn of<D: Disk>(disk: &D, path: &Path) -> Option<PathBuf> {
    let stem = path.file_stem()?.to_str()?;
    let name = path.file_name()?.to_str()?;
    let folder = folder_of(path);
    let names = disk.list(folder).ok()?;
    let named_after = |other: &&String| {
        let turn = other.strip_prefix(stem).and_then(|rest| rest.strip_prefix('-'));
        turn.is_some_and(|turn| turn.ends_with(".jsonl"))
    };
    let others = names.iter().filter(named_after).map(|other| folder.join(other));
    others.into_iter().find(|other| continues(disk, other, name))
}

fn continues<D: Disk>(disk: &D, other: &Path, name: &str) -> bool {
    let Ok(bytes) = disk.read(other, 0) else {
        return false;
    };
    let (scanner, _) = scan::scan(&bytes);
    let mut events = scanner.entries.iter().flat_map(|entry| &entry.events);
    // carried entries may hold the continuation of an earlier file; any of them names its file
    events.any(|event| matches!(event, Event::Continued(c) if c.file == name))
}
