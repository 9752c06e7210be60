//! The front: the book, and the sessions that are opened from it.

use std::path::PathBuf;
use std::time::Duration;

use boothside_core::work::job::FullJob;
use boothside_store::book::{Kind, load_job};
use boothside_store::log::inspect;
use boothside_store::printable;
use boothside_store::storage::RealDisk;
use chrono::{DateTime, FixedOffset, Timelike};
use tempfile::TempDir;

use super::at_hand::at_hand;
use super::awake::keep_awake;
use super::clocks::paced::Pace;
use super::hall::{Came, Hall, HallError, Message};
use super::opening::{self, NotReady, Ready, machine};
use super::places::Places;
use super::room::{Hand, Room, Went};
use super::sitting::{Left, sit};
use super::terminal::is_stuck;
use super::time::Time;
use crate::example::example;
use crate::update::book::list::Entry;
use crate::update::desk::Times;
use crate::update::scene::{Eye, Notice};
use crate::view;
use crate::view::book::RoomScene;

/// How fast a rehearsal runs unless it is said.
pub const REHEARSAL_PACE: f64 = 60.0;

/// How the full screen ended.
#[derive(Debug, Default)]
pub struct Ended {
    /// The session that was left, and where it is.
    pub left: Option<PathBuf>,
    /// Numbers of entries that the disk did not take.
    pub unsaved: Vec<u64>,
    /// Whether that session is closed.
    pub closed: bool,
    /// Whether the terminal is gone, so that nothing can be told.
    pub gone: bool,
}

/// Runs the full screen: the open session where there is just one, else the book.
///
/// # Errors
/// [`HallError`].
pub fn run(places: &Places) -> Result<Ended, HallError> {
    in_hall(|hall| Front { places, hall }.run())
}

/// Rehearses `work` at `pace`, its own wall beginning at `start`, logging to a throw-away folder.
///
/// # Errors
/// [`HallError`].
pub fn rehearse(
    work: FullJob,
    pace: Pace,
    start: Option<DateTime<FixedOffset>>,
) -> Result<Ended, HallError> {
    // asked first: what is missing is told without a flash of the full screen
    let rehearsal = Rehearsal::of(work, pace, start);
    let rehearsal = rehearsal.map_err(|why| HallError::Rehearsal(why.to_string()))?;
    in_hall(|hall| Ok(Ended { gone: rehearsal.sit(hall)?.gone, ..Ended::default() }))
}

/// Does `what` on the terminal, and gives it back.
fn in_hall(what: impl FnOnce(&mut Hall) -> Result<Ended, HallError>) -> Result<Ended, HallError> {
    let mut hall = Hall::open()?;
    let ended = what(&mut hall);
    if ended.as_ref().is_ok_and(|ended| ended.gone) {
        hall.screen.abandon();
    } else {
        drop(hall);
    }
    // a terminal that took nothing takes no words either
    ended.map(|ended| Ended { gone: ended.gone || is_stuck(), ..ended })
}

/// A rehearsal and its throw-away folder, which goes when this does.
struct Rehearsal {
    ready: Ready,
    pace: Pace,
    _folder: TempDir,
}

impl Rehearsal {
    fn of(
        work: FullJob,
        pace: Pace,
        start: Option<DateTime<FixedOffset>>,
    ) -> Result<Self, NotReady> {
        let folder = throw_away_folder()?;
        let start = start.unwrap_or_else(|| machine().read().wall);
        let time = Time::rehearse(machine(), start, pace);
        let ready = opening::new_session(folder.path(), work, time, true)?;
        Ok(Self { ready, pace, _folder: folder })
    }

    fn sit(self, hall: &mut Hall) -> Result<Left, HallError> {
        sit(hall, self.ready, Some(self.pace.times()))
    }
}

/// A folder that only its owner can enter, whatever the umask.
fn throw_away_folder() -> Result<TempDir, NotReady> {
    let mut builder = tempfile::Builder::new();
    builder.prefix("boothside-rehearsal-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(std::fs::Permissions::from_mode(0o700));
    }
    builder.tempdir().map_err(|why| {
        let place = boothside_store::printable_path(&std::env::temp_dir());
        NotReady::Words(format!(
            "no rehearsal: its throw-away folder cannot be made in {place}: {why} · \
             accepted: TMPDIR=DIR, a folder that you may write to"
        ))
    })
}

struct Front<'a> {
    places: &'a Places,
    hall: &'a mut Hall,
}

/// How the stay in the book, or in a session, ended.
enum Step {
    /// The program ends.
    End(Ended),
    /// Back to the book.
    Book,
}

impl Front<'_> {
    fn run(&mut self) -> Result<Ended, HallError> {
        let mut room = self.room();
        if let Some(path) = room.only_open() {
            match opening::go_on(&path) {
                Ok(ready) => match self.sit(ready)? {
                    Step::End(ended) => return Ok(ended),
                    Step::Book => room = self.room(),
                },
                Err(why) => room.tell(why.to_string()),
            }
        }
        // one hand's time for all stays: what the list remembers of a key is compared with the next
        let mut time = Time::open(machine());
        loop {
            match self.stay(&mut room, &mut time)? {
                Step::End(ended) => return Ok(ended),
                Step::Book => room.look_again(),
            }
        }
    }

    fn room(&self) -> Room {
        let warned = self.places.warning().map(Notice::Text);
        Room::new(self.places, warned.into_iter().collect(), self.hall.waker())
    }

    /// In the book, until a session was left or the painter leaves.
    fn stay(&mut self, room: &mut Room, time: &mut Time) -> Result<Step, HallError> {
        let mut rung = Vec::new();
        loop {
            self.ring(room, time, &mut rung);
            self.paint(room, time)?;
            let Some(message) = self.hall.wait(until_next_minute(time)) else {
                time.tick();
                room.tick();
                continue;
            };
            let Message::In(incoming) = message else {
                time.tick();
                continue;
            };
            let (key, look) = match self.hall.take(incoming)? {
                Came::Key(key, look) => (key, look),
                Came::Pasted(text, _) => {
                    room.paste(&text);
                    continue;
                }
                Came::Nothing => {
                    time.tick();
                    continue;
                }
                Came::Gone => return Ok(Step::End(Ended { gone: true, ..Ended::default() })),
                Came::End => return Ok(Step::End(Ended::default())),
            };
            time.tick_at(&look);
            let (t, ms) = time.moment_of(&look);
            let at = time.at(t);
            match room.press(key, &Hand { ms, at: &at }) {
                Went::Stays => {}
                Went::Leave => return Ok(Step::End(Ended::default())),
                Went::Session { entry, path, rehearsal } => {
                    match self.session(&entry, path, rehearsal) {
                        Ok(Opening::Session(ready)) => return self.sit(*ready),
                        Ok(Opening::Rehearsal(rehearsal)) => return self.rehearse(*rehearsal),
                        Err(why) => room.tell(why.to_string()),
                    }
                }
            }
        }
    }

    /// Rings once for every edge of an open session that comes while the book is open.
    fn ring(&self, room: &Room, time: &Time, rung: &mut Vec<DateTime<FixedOffset>>) {
        let now = time.wall(time.t);
        let edges = room.list().edges();
        let come = edges.iter().map(|(_, at)| *at).filter(|at| *at <= now && !rung.contains(at));
        let come: Vec<_> = come.collect();
        if !come.is_empty() {
            rung.extend(come);
            self.hall.screen.ring();
        }
    }

    fn paint(&mut self, room: &Room, time: &Time) -> Result<(), HallError> {
        let data = boothside_store::printable_path(self.places.data());
        let now = time.wall(time.t);
        let scene = RoomScene {
            list: room.list(),
            form: room.form(),
            data: &data,
            keep_awake: keep_awake(),
            now,
        };
        self.hall.paint(|frame, theme| view::draw_book(frame, &scene, theme))?;
        Ok(())
    }

    fn sit(&mut self, ready: Ready) -> Result<Step, HallError> {
        let mut ready = ready.with_cans(self.places);
        ready.at_hand = at_hand(&self.places.book(), &ready.session);
        ready.notices.extend(self.places.warning().map(Notice::Text));
        let path = ready.path.clone();
        let Left { gone, closed, unsaved, to_book } = sit(self.hall, ready, None)?;
        if to_book && !gone && unsaved.is_empty() {
            return Ok(Step::Book);
        }
        Ok(Step::End(Ended { left: Some(path), unsaved, closed, gone }))
    }

    fn rehearse(&mut self, rehearsal: Rehearsal) -> Result<Step, HallError> {
        let left = rehearsal.sit(self.hall)?;
        if left.to_book && !left.gone {
            return Ok(Step::Book);
        }
        Ok(Step::End(Ended { gone: left.gone, ..Ended::default() }))
    }

    fn session(
        &self,
        entry: &Entry,
        path: Option<PathBuf>,
        rehearsal: bool,
    ) -> Result<Opening, NotReady> {
        let words = |why: String| NotReady::Words(why);
        let session = |ready: Ready| Opening::Session(Box::new(ready));
        match entry {
            Entry::Example | Entry::ExampleRehearsal => {
                let work = example().map_err(|why| words(why.to_string()))?;
                self.begin(work, rehearsal)
            }
            Entry::Thing { kind: Kind::Job, name, .. } => {
                let work = load_job(&self.places.book(), name);
                let told = |why: String| words(printable(&why.replace('\n', " · ")));
                self.begin(work.map_err(|why| told(why.to_string()))?, rehearsal)
            }
            Entry::GoOnAfterDamage { .. } => match path.map(|path| opening::go_on(&path)) {
                Some(Err(NotReady::Damaged(damage))) => opening::go_on_after(&damage).map(session),
                Some(other) => other.map(session),
                None => Err(words("that session is gone".to_owned())),
            },
            Entry::LookAtDamaged { name } => {
                let path = self.places.sessions().join(format!("{name}.jsonl"));
                let inspected = inspect(&RealDisk, &path).map_err(|why| words(why.to_string()))?;
                let why = "damaged: only read here".to_owned();
                opening::only_read(&path, inspected.entries, why).map(session)
            }
            _ => match path {
                Some(path) => opening::go_on(&path).map(session),
                None => Err(words("that session is gone".to_owned())),
            },
        }
    }

    fn begin(&self, work: FullJob, rehearsal: bool) -> Result<Opening, NotReady> {
        if rehearsal {
            let pace = Pace::new(REHEARSAL_PACE).unwrap_or(Pace::EVEN);
            return Rehearsal::of(work, pace, None).map(Box::new).map(Opening::Rehearsal);
        }
        let time = Time::open(machine());
        let ready = opening::new_session(&self.places.sessions(), work, time, false)?;
        Ok(Opening::Session(Box::new(ready)))
    }
}

enum Opening {
    Session(Box<Ready>),
    Rehearsal(Box<Rehearsal>),
}

/// The book shows the minute.
fn until_next_minute(time: &Time) -> Duration {
    let second = u64::from(time.wall(time.t).second().min(59));
    Duration::from_secs(60 - second)
}
