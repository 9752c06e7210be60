//! The front: which sessions there are, the start screen, and what was chosen.

use std::path::{Path, PathBuf};

use boothside_core::board::board;
use boothside_core::session::Session;
use boothside_store::book::{BookError, Kind, load_job};
use boothside_store::log::{Ending, Inspection, inspect, logs_in};
use boothside_store::storage::RealDisk;
use boothside_store::{printable, printable_path};
use chrono::{DateTime, FixedOffset};

use super::at_hand::at_hand;
use super::awake::keep_awake;
use super::clocks::paced::Pace;
use super::hall::{Came, Hall, HallError, Message};
use super::opening::{self, NotReady, Ready, machine};
use super::places::Places;
use super::sitting::{Left, sit};
use super::time::Time;
use crate::example::example;
use crate::update::scene::{Eye, Notice, StartItem};
use crate::update::start::{Chose, Start};
use crate::view;

/// How fast a rehearsal runs unless it is said.
pub const REHEARSAL_PACE: f64 = 60.0;

/// How the full screen ended.
#[derive(Debug, Default)]
pub struct Ended {
    /// The session that was left, and where it is.
    pub left: Option<PathBuf>,
    /// Numbers of entries that the disk did not take.
    pub unsaved: Vec<u64>,
    /// Whether the terminal is gone, so that nothing can be told.
    pub gone: bool,
}

/// Runs the full screen: the open session where there is just one, else the start screen.
///
/// # Errors
/// [`HallError`].
pub fn run(places: &Places) -> Result<Ended, HallError> {
    let mut hall = Hall::open()?;
    let ended = Front { places, hall: &mut hall }.run();
    if ended.as_ref().is_ok_and(|ended| ended.gone) {
        hall.screen.abandon();
    }
    ended
}

/// Rehearses `work` at `pace`, its own wall beginning at `start`, logging to a throw-away folder.
///
/// # Errors
/// [`HallError`].
pub fn rehearse(
    work: boothside_core::work::job::FullJob,
    pace: Pace,
    start: Option<DateTime<FixedOffset>>,
) -> Result<Ended, HallError> {
    let mut hall = Hall::open()?;
    let ended = rehearse_in(&mut hall, work, pace, start);
    if ended.as_ref().is_ok_and(|ended| ended.gone) {
        hall.screen.abandon();
    }
    ended
}

fn rehearse_in(
    hall: &mut Hall,
    work: boothside_core::work::job::FullJob,
    pace: Pace,
    start: Option<DateTime<FixedOffset>>,
) -> Result<Ended, HallError> {
    // the folder goes when this does
    let folder = tempfile::Builder::new().prefix("boothside-rehearsal-").tempdir()?;
    let start = start.unwrap_or_else(|| machine().read().wall);
    let time = Time::rehearse(machine(), start, pace);
    let ready = opening::new_session(folder.path(), work, time, true)
        .map_err(|why| std::io::Error::other(why.to_string()))?;
    let left = sit(hall, ready, Some(pace.times()))?;
    Ok(Ended { left: None, unsaved: Vec::new(), gone: left.gone })
}

/// A session file and what the start screen says of it.
struct Found {
    path: PathBuf,
    item: StartItem,
}

struct Front<'a> {
    places: &'a Places,
    hall: &'a mut Hall,
}

impl Front<'_> {
    fn run(&mut self) -> Result<Ended, HallError> {
        let found = self.find();
        let open: Vec<&Found> =
            found.iter().filter(|found| matches!(found.item, StartItem::GoOn { .. })).collect();
        let mut notices = Vec::new();
        if let [only] = open.as_slice() {
            match opening::go_on(&only.path) {
                Ok(ready) => return self.sit(ready),
                Err(why) => notices.push(Notice::Text(why.to_string())),
            }
        }
        self.start(notices)
    }

    /// The start screen, until a session was left or the painter leaves.
    fn start(&mut self, mut notices: Vec<Notice>) -> Result<Ended, HallError> {
        let mut on = 0;
        loop {
            let found = self.find();
            let items = self.items(&found);
            let data = printable_path(self.places.data());
            let mut start = Start::new(items, std::mem::take(&mut notices), data).on(on);
            let chosen = match self.choose(&mut start)? {
                Ok(number) => {
                    on = number;
                    start.item(number).cloned()
                }
                Err(Came::Gone) => return Ok(Ended { gone: true, ..Ended::default() }),
                Err(_) => return Ok(Ended::default()),
            };
            let Some(item) = chosen else { continue };
            match self.open(&item, &found) {
                Ok(Opening::Session(ready)) => return self.sit(*ready),
                Ok(Opening::Rehearsal) => return self.rehearse_example(),
                Err(why) => notices.push(Notice::Text(why.to_string())),
            }
        }
    }

    fn choose(&mut self, start: &mut Start) -> Result<Result<usize, Came>, HallError> {
        let mut time = Time::open(machine());
        loop {
            self.hall.paint(|frame, theme| {
                view::draw_start(frame, &start.scene(keep_awake()), theme);
            })?;
            let Some(message) = self.hall.wait(std::time::Duration::from_secs(60)) else {
                continue;
            };
            let Message::In(incoming) = message else { continue };
            time.tick();
            match self.hall.take(&incoming)? {
                Came::Key(key) => match start.press(key, time.hand_ms) {
                    Some(Chose::Item(number)) => return Ok(Ok(number)),
                    Some(Chose::Leave) => return Ok(Err(Came::End)),
                    None => {}
                },
                Came::Nothing => {}
                end => return Ok(Err(end)),
            }
        }
    }

    fn sit(&mut self, mut ready: Ready) -> Result<Ended, HallError> {
        let path = ready.path.clone();
        ready.at_hand = at_hand(&self.places.book(), &ready.session);
        let Left { gone, unsaved } = sit(self.hall, ready, None)?;
        Ok(Ended { left: Some(path), unsaved, gone })
    }

    fn rehearse_example(&mut self) -> Result<Ended, HallError> {
        let work = example().map_err(|why| std::io::Error::other(why.to_string()))?;
        let pace = Pace::new(REHEARSAL_PACE).unwrap_or(Pace::EVEN);
        rehearse_in(self.hall, work, pace, None)
    }

    fn open(&self, item: &StartItem, found: &[Found]) -> Result<Opening, NotReady> {
        let words = |why: String| NotReady::Words(why);
        let of_item = found.iter().find(|found| found.item == *item);
        let session = |ready: Ready| Opening::Session(Box::new(ready));
        match item {
            StartItem::Example => {
                let work = example().map_err(|why| words(why.to_string()))?;
                let time = Time::open(machine());
                opening::new_session(&self.places.sessions(), work, time, false).map(session)
            }
            StartItem::ExampleRehearsal => Ok(Opening::Rehearsal),
            StartItem::OwnJob { name, .. } => {
                let work = load_job(&self.places.book(), name);
                let work = work.map_err(|why| words(told(&why)))?;
                let time = Time::open(machine());
                opening::new_session(&self.places.sessions(), work, time, false).map(session)
            }
            StartItem::GoOnAfterDamage { .. } => match of_item.map(|it| opening::go_on(&it.path)) {
                Some(Err(NotReady::Damaged(damage))) => opening::go_on_after(&damage).map(session),
                Some(other) => other.map(session),
                None => Err(words("that session is gone".to_owned())),
            },
            StartItem::LookAtDamaged { name } => {
                let path = self.places.sessions().join(format!("{name}.jsonl"));
                let inspected = inspect(&RealDisk, &path).map_err(|why| words(why.to_string()))?;
                let why = "damaged: only read here".to_owned();
                opening::only_read(&path, inspected.entries, why).map(session)
            }
            StartItem::GoOn { .. } | StartItem::Past { .. } => match of_item {
                Some(found) => opening::go_on(&found.path).map(session),
                None => Err(words("that session is gone".to_owned())),
            },
        }
    }

    /// The lines of the start screen: open sessions first, soonest edge first.
    fn items(&self, found: &[Found]) -> Vec<StartItem> {
        let mut open: Vec<&StartItem> = Vec::new();
        let mut past: Vec<&StartItem> = Vec::new();
        for found in found {
            match &found.item {
                StartItem::Past { .. } => past.push(&found.item),
                item => open.push(item),
            }
        }
        let soonest = |item: &StartItem| match item {
            StartItem::GoOn { soonest, .. } => {
                soonest.unwrap_or(DateTime::<FixedOffset>::MAX_UTC.into())
            }
            _ => DateTime::<FixedOffset>::MAX_UTC.into(),
        };
        open.sort_by_key(|item| soonest(item));
        let mut items: Vec<StartItem> = open.into_iter().cloned().collect();
        items.extend([StartItem::Example, StartItem::ExampleRehearsal]);
        items.extend(self.own_jobs());
        items.extend(past.into_iter().rev().cloned());
        items
    }

    fn own_jobs(&self) -> Vec<StartItem> {
        let book = self.places.book();
        let names = book.names(Kind::Job).unwrap_or_default();
        let job = |name: String| {
            let loaded = load_job(&book, &name);
            let title = loaded.map(|work| work.job.name).map_err(|why| told(&why));
            StartItem::OwnJob { name, title }
        };
        names.into_iter().map(job).collect()
    }

    /// Every session file, with what the start screen says of it. What cannot be read is left out
    /// here; `boothside sessions` lists it.
    fn find(&self) -> Vec<Found> {
        let logs = logs_in(&RealDisk, &self.places.sessions()).unwrap_or_default();
        let mut found = Vec::new();
        for path in logs {
            let Ok(inspection) = inspect(&RealDisk, &path) else { continue };
            let items = items_of(&path, inspection);
            found.extend(items.into_iter().map(|item| Found { path: path.clone(), item }));
        }
        found
    }
}

enum Opening {
    Session(Box<Ready>),
    Rehearsal,
}

fn told(why: &BookError) -> String {
    printable(&why.to_string().replace('\n', " · "))
}

fn items_of(path: &Path, inspection: Inspection) -> Vec<StartItem> {
    let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    if let Ending::Damaged { line, byte, why } = &inspection.ending {
        if inspection.continued_in.is_some() {
            return Vec::new();
        }
        let why = why.to_string();
        return vec![
            StartItem::GoOnAfterDamage { name: name.clone(), line: *line, byte: *byte, why },
            StartItem::LookAtDamaged { name },
        ];
    }
    let holder = inspection.holder.as_ref().map(ToString::to_string);
    let newer = (!inspection.unknown.is_empty()).then(|| "written by a newer boothside".to_owned());
    let (time, _) = Time::resume(machine(), &inspection.entries);
    let Ok(session) = Session::open(inspection.entries) else { return Vec::new() };
    let job = printable(&session.opening().work.job.name);
    if session.state().closed.is_some() {
        let opened = session.entries()[0].at.chars().take(16).collect::<String>().replace('T', " ");
        return vec![StartItem::Past { name, job, opened }];
    }
    vec![open_item(name, job, &session, &time, holder.or(newer))]
}

fn open_item(
    name: String,
    job: String,
    session: &Session,
    time: &Time,
    read_only: Option<String>,
) -> StartItem {
    let board = board(session, time.t);
    let soonest = board.hero.as_ref().map(|hero| time.wall(hero.at));
    let words = view::words::Words::new(session, &board, time);
    let stands = words.next(&board.next);
    StartItem::GoOn { name, job, stands, soonest, read_only }
}
