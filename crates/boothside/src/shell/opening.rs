//! Opening sessions: new ones, open ones, damaged ones, ones that another program holds.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use boothside_core::session::Session;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::stock::SeenCan;
use boothside_core::session::time::Moment;
use boothside_core::work::job::FullJob;
use boothside_store::log::{
    Damage, Ending, Follower, Inspection, LogWriter, OpenError, Opened, Recovery, Stamp,
    continue_after, inspect, log_name, open,
};
use boothside_store::make_folders;
use boothside_store::storage::RealDisk;

use super::clocks::wall::LocalZone;
use super::clocks::{Clocks, MachineClocks};
use super::places::Places;
use super::stock;
use super::time::Time;
use crate::update::at_hand::AtHand;
use crate::update::desk::Times;
use crate::update::scene::Notice;

/// How a session is tied to its file.
pub enum Tie {
    /// This program writes it.
    Writer(Box<LogWriter<RealDisk>>),
    /// Another program writes it; this one reads along.
    Follower(Box<Follower<RealDisk>>),
    /// Nobody here writes it.
    None,
}

/// A session ready for the screen.
pub struct Ready {
    /// The session.
    pub session: Session,
    /// Its time.
    pub time: Time,
    /// Its file.
    pub tie: Tie,
    /// Why it is only read, where so.
    pub read_only: Option<String>,
    /// How its time went on.
    pub resumption: Option<super::clocks::session::Resumption>,
    /// What is to be told first.
    pub notices: Vec<Notice>,
    /// Its file.
    pub path: PathBuf,
    /// The cans on the shelf of its sheets, where they were looked at.
    pub cans: Option<Vec<SeenCan>>,
    /// What the Book has at hand for it.
    pub at_hand: AtHand,
}

impl Ready {
    /// The same with the cans of `places`, where this program writes the session and it is not
    /// closed.
    #[must_use]
    pub fn with_cans(mut self, places: &Places) -> Self {
        let is_closed = self.session.state().closed.is_some();
        if is_closed || !matches!(self.tie, Tie::Writer(_)) {
            return self;
        }
        let stock = stock::look(&places.book(), &places.sessions(), Some(&self.path));
        let cans = stock.seen_by(&self.session, &LocalZone);
        self.notices.extend(stock.not_exact().filter(|_| !cans.is_empty()).map(Notice::Text));
        self.cans = Some(cans);
        self
    }
}

/// Why a session is not ready.
#[derive(Debug, thiserror::Error)]
pub enum NotReady {
    /// Damage in the middle: the painter chooses how to go on.
    #[error("{}", damage_told(.0))]
    Damaged(Box<Damage>),
    /// Anything else, in words.
    #[error("{0}")]
    Words(String),
}

fn damage_told(damage: &Damage) -> String {
    let file = boothside_store::printable_path(&damage.file);
    format!("{file} is damaged in line {}, byte {}: {}", damage.line, damage.byte, damage.why)
}

fn words(why: impl std::fmt::Display) -> NotReady {
    NotReady::Words(why.to_string())
}

/// The machine's clocks.
#[must_use]
pub fn machine() -> Box<dyn Clocks> {
    Box::new(MachineClocks::new())
}

/// Opens a new session of `work` in the folder `sessions`, on `time`.
///
/// # Errors
/// The file cannot be made.
pub fn new_session(
    sessions: &Path,
    work: FullJob,
    time: Time,
    rehearsal: bool,
) -> Result<Ready, NotReady> {
    let at = time.at(Moment::OPENING);
    let date = at.split('T').next().unwrap_or_default();
    let name = log_name(date, &work.job.name);
    let opening = Opening { format: LOG_FORMAT, rehearsal, work, factors: BTreeMap::new() };
    let first = Entry {
        n: 0,
        t_ms: Moment::OPENING,
        at: at.clone(),
        by: By::Key,
        when_ms: None,
        events: vec![Event::Opened(Box::new(opening))],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: time.boot_mark(),
    };
    let session = Session::open(vec![first.clone()]).map_err(words)?;
    make_folders(&RealDisk, sessions).map_err(words)?;
    let writer = LogWriter::create(&RealDisk, sessions, &name, &first).map_err(words)?;
    let path = writer.path().to_owned();
    let tie = Tie::Writer(Box::new(writer));
    let (notices, read_only) = (Vec::new(), None);
    let at_hand = AtHand::default();
    Ok(Ready {
        session,
        time,
        tie,
        read_only,
        resumption: None,
        notices,
        path,
        cans: None,
        at_hand,
    })
}

/// Opens the session in the file at `path` to go on with it.
///
/// # Errors
/// [`NotReady`]; the file is as it was.
pub fn go_on(path: &Path) -> Result<Ready, NotReady> {
    // a record must not change by being read
    if is_closed(path) {
        return look_at(path, CLOSED);
    }
    match open(&RealDisk, path) {
        Ok(opened) => ready(opened),
        Err(OpenError::Locked(holder)) => follow(path, format!("{holder} has it open")),
        Err(OpenError::ReadOnly(read_only)) => {
            let why = "written by a newer boothside".to_owned();
            only_read(path, read_only.entries, why)
        }
        Err(OpenError::Damaged(damage)) => Err(NotReady::Damaged(damage)),
        Err(OpenError::Elsewhere { why, .. }) => look_at(path, &why.to_string()),
        Err(other) => Err(words(other)),
    }
}

/// Why a closed session is only read.
const CLOSED: &str = "the session is closed";

/// Whether the session in the file at `path` was closed.
fn is_closed(path: &Path) -> bool {
    let Ok(Inspection { entries, ending, .. }) = inspect(&RealDisk, path) else { return false };
    let damaged = matches!(ending, Ending::Damaged { .. });
    !damaged && Session::open(entries).is_ok_and(|session| session.state().closed.is_some())
}

/// Shows the session in the file at `path`, and writes nothing.
///
/// # Errors
/// It cannot be read, or its entries tell no session.
pub fn look_at(path: &Path, why: &str) -> Result<Ready, NotReady> {
    let found = inspect(&RealDisk, path).map_err(words)?;
    only_read(path, found.entries, why.to_owned())
}

fn ready(opened: Opened<RealDisk>) -> Result<Ready, NotReady> {
    let (time, resumption) = Time::resume(machine(), &opened.entries);
    let session = Session::open(opened.entries).map_err(words)?;
    let notices = match opened.recovery {
        Recovery::TornSetAside { file, bytes, .. } => {
            vec![Notice::Torn { file: boothside_store::printable_path(&file), bytes }]
        }
        Recovery::Sound | Recovery::NewlineAdded => Vec::new(),
    };
    let path = opened.writer.path().to_owned();
    let tie = Tie::Writer(Box::new(opened.writer));
    let at_hand = AtHand::default();
    Ok(Ready {
        session,
        time,
        tie,
        read_only: None,
        resumption,
        notices,
        path,
        cans: None,
        at_hand,
    })
}

/// Reads along with the program that writes the session.
fn follow(path: &Path, why: String) -> Result<Ready, NotReady> {
    let mut follower = Follower::new(&RealDisk, path);
    follower.look().map_err(words)?;
    let mut ready = only_read(path, follower.entries().to_vec(), why)?;
    ready.tie = Tie::Follower(Box::new(follower));
    Ok(ready)
}

/// Shows a session without writing.
///
/// # Errors
/// Its entries tell no session.
pub fn only_read(path: &Path, entries: Vec<Entry>, why: String) -> Result<Ready, NotReady> {
    let (time, _) = Time::resume(machine(), &entries);
    let session = Session::open(entries).map_err(words)?;
    Ok(Ready {
        session,
        time,
        tie: Tie::None,
        read_only: Some(why),
        resumption: None,
        notices: Vec::new(),
        path: path.to_owned(),
        cans: None,
        at_hand: AtHand::default(),
    })
}

/// Goes on after damage, in a new file whose first line carries everything before it.
///
/// # Errors
/// [`NotReady`]; the damaged file is as it was.
pub fn go_on_after(damage: &Damage) -> Result<Ready, NotReady> {
    let (time, resumption) = Time::resume(machine(), &damage.good);
    let stamp = Stamp { t_ms: time.t, at: time.at(time.t), anchor: time.boot_mark() };
    let opened = continue_after(&RealDisk, damage, stamp).map_err(words)?;
    let told = format!(
        "goes on in {}; {} stays as it is, damaged from line {} on",
        boothside_store::printable_path(opened.writer.path()),
        boothside_store::printable_path(&damage.file),
        damage.line,
    );
    let mut ready = ready(opened)?;
    ready.resumption = resumption;
    ready.notices.push(Notice::Text(told));
    Ok(ready)
}
