//! A sitting: the loop of one session, from opening to leaving.

use std::time::Duration;

use boothside_core::session::Session;
use boothside_core::session::time::Span;
use boothside_store::log::{Follower, News, holder};
use boothside_store::storage::RealDisk;
use crossterm::event::KeyModifiers;

use super::hall::{Came, Hall, HallError, Message};
use super::opening::{Ready, Tie};
use super::seat::Seat;
use super::signals::Incoming;
use super::writer::{Pace, Report, Writer};
use crate::update::desk::{Effect, Now, Written};
use crate::update::scene::Notice;
use crate::view;

/// How long leaving waits for entries that are not saved yet.
const LAST_SAVES: Duration = Duration::from_secs(3);
/// A rehearsal's clocks run too fast for every second to be shown: so often a second is enough.
const REHEARSAL_FRAME: Duration = Duration::from_millis(200);
/// How often a follower looks for news.
const FOLLOW: Duration = Duration::from_millis(500);
/// How often it looks whether the writer is still there.
const WRITER: Duration = Duration::from_secs(2);

/// How a sitting ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Left {
    /// Whether the terminal is gone.
    pub gone: bool,
    /// Whether the session is closed.
    pub closed: bool,
    /// Whether the painter goes back to the book; the program goes on.
    pub to_book: bool,
    /// Numbers of entries that the disk did not take.
    pub unsaved: Vec<u64>,
}

/// Runs a sitting until the painter leaves, the program is ended or the terminal is gone.
///
/// # Errors
/// The terminal or the writer thread cannot be had.
pub fn sit(hall: &mut Hall, ready: Ready, pace: Option<f64>) -> Result<Left, HallError> {
    let mut sitting = Sitting::begin(hall, ready, pace)?;
    let ended = sitting.run(hall);
    let unsaved = sitting.writer.take().map(|writer| writer.close(LAST_SAVES)).unwrap_or_default();
    let closed = sitting.seat.desk.session().state().closed.is_some();
    match ended {
        Ok(came) => {
            Ok(Left { gone: came == Came::Gone, closed, unsaved, to_book: sitting.to_book })
        }
        // a terminal that cannot be drawn on is gone: the log is safe, and that is what counts
        Err(HallError::Terminal(_)) => Ok(Left { gone: true, closed, unsaved, to_book: false }),
        Err(other) => Err(other),
    }
}

struct Sitting {
    seat: Seat,
    writer: Option<Writer>,
    follower: Option<Box<Follower<RealDisk>>>,
    followed_ms: i64,
    to_book: bool,
    /// When it was last looked who writes.
    asked_ms: i64,
}

impl Sitting {
    fn begin(hall: &Hall, mut ready: Ready, pace: Option<f64>) -> Result<Self, HallError> {
        let (writer, follower) = match std::mem::replace(&mut ready.tie, Tie::None) {
            Tie::Writer(log) => (
                Some(
                    Writer::start(*log, Pace::default(), hall.reports())
                        .map_err(|why| HallError::Signals(std::io::Error::other(why)))?,
                ),
                None,
            ),
            Tie::Follower(follower) => (None, Some(follower)),
            Tie::None => (None, None),
        };
        let (seat, effects) = Seat::take(ready, pace);
        let sitting = Self { seat, writer, follower, followed_ms: 0, asked_ms: 0, to_book: false };
        sitting.save(effects);
        Ok(sitting)
    }

    fn run(&mut self, hall: &mut Hall) -> Result<Came, HallError> {
        loop {
            let effects = self.seat.pass();
            if let Some(came) = self.carry_out(hall, effects)? {
                return Ok(came);
            }
            self.follow();
            self.paint(hall)?;
            // what has come is taken before time passes: keys of one burst belong together
            let mut message = hall.wait(self.wait());
            while let Some(came) = message {
                if let Some(came) = self.take(hall, came)? {
                    return Ok(came);
                }
                message = hall.waiting();
            }
        }
    }

    fn take(&mut self, hall: &mut Hall, message: Message) -> Result<Option<Came>, HallError> {
        match message {
            Message::Woken => {}
            Message::Report(Report::Saved { n }) => self.seat.desk.written(Written::Saved { n }),
            Message::Report(Report::Refused { waiting, why }) => {
                self.seat.desk.written(Written::Refused { waiting, why });
            }
            // a cloth on the keyboard neither leaves nor stops the program
            Message::In(Incoming::Key(key)) if self.seat.desk.is_locked() && is_control(&key) => {}
            Message::In(incoming) => match hall.take(incoming)? {
                Came::Key(key, look) => {
                    let effects = self.seat.press_at(key, &look);
                    return self.carry_out(hall, effects);
                }
                Came::Pasted(text, look) => {
                    let effects = self.seat.paste_at(&text, &look);
                    return self.carry_out(hall, effects);
                }
                Came::Nothing => {}
                end => return Ok(Some(end)),
            },
        }
        Ok(None)
    }

    fn save(&self, effects: Vec<Effect>) {
        for effect in effects {
            if let (Effect::Write(entry), Some(writer)) = (effect, &self.writer) {
                writer.save(*entry);
            }
        }
    }

    fn carry_out(
        &mut self,
        hall: &mut Hall,
        effects: Vec<Effect>,
    ) -> Result<Option<Came>, HallError> {
        for effect in effects {
            match effect {
                Effect::Write(_) => self.save(vec![effect]),
                Effect::Ring => hall.screen.ring(),
                Effect::JumpTo(to) => self.seat.time.jump_to(to),
                Effect::Pace(times) => self.seat.time.set_pace(times),
                Effect::Leave => return Ok(Some(Came::End)),
                Effect::Book => {
                    self.to_book = true;
                    return Ok(Some(Came::End));
                }
            }
        }
        Ok(None)
    }

    fn follow(&mut self) {
        let Some(follower) = &mut self.follower else { return };
        let Seat { desk, time } = &mut self.seat;
        if time.hand_ms - self.followed_ms < FOLLOW.as_millis() as i64 {
            return;
        }
        self.followed_ms = time.hand_ms;
        if time.hand_ms - self.asked_ms >= WRITER.as_millis() as i64 {
            self.asked_ms = time.hand_ms;
            // where that cannot be told, what was told last stands
            if let Ok(holder) = holder(&RealDisk, follower.path()) {
                desk.written_by(holder.map(|holder| holder.to_string()).as_deref());
            }
        }
        let now = Now { t: time.t, hand_ms: time.hand_ms, times: time };
        match follower.look() {
            Ok(News::More(entries)) => desk.follow(entries, &now),
            Ok(News::Anew(entries)) => {
                if let Ok(session) = Session::open(entries) {
                    desk.replace(session, &now);
                }
            }
            Ok(News::Nothing) => {}
            Ok(News::Damaged { line, byte, why }) => {
                let text = format!("the log is damaged in line {line}, byte {byte}: {why}");
                desk.notice(Notice::Text(text), time.hand_ms);
            }
            Err(why) => {
                let text = format!("the log cannot be read: {why}");
                desk.notice(Notice::Text(text), time.hand_ms);
            }
        }
    }

    fn paint(&mut self, hall: &mut Hall) -> Result<(), HallError> {
        let scene = self.seat.scene();
        let title = title(&scene);
        hall.screen.set_title(&title);
        hall.paint(|frame, theme| view::draw(frame, &scene, theme))?;
        Ok(())
    }

    /// Until the picture may change: the next whole second of the session, something of the hand's
    /// time, or a look at a file that is followed.
    fn wait(&self) -> Duration {
        let Seat { desk, time } = &self.seat;
        let hand = desk.next_hand_ms(time.hand_ms).map_or(Duration::MAX, |at_ms| {
            Duration::from_millis(u64::try_from(at_ms - time.hand_ms).unwrap_or(0))
        });
        let second = if time.is_paced() {
            REHEARSAL_FRAME
        } else {
            let into_second = time.t.ms().rem_euclid(1000);
            // saturating: a log from anywhere may stand at the end of time
            time.hand_until(time.t.plus(Span::from_ms(1000 - into_second)))
        };
        let follow = if self.follower.is_some() { FOLLOW } else { Duration::MAX };
        hand.min(second).min(follow).max(Duration::from_millis(1))
    }
}

fn is_control(key: &super::signals::Pressed) -> bool {
    key.key.modifiers.contains(KeyModifiers::CONTROL)
}

/// The window's title: what is due, else what SPACE does.
fn title(scene: &crate::update::scene::Scene<'_>) -> String {
    let words = view::words::Words::of(scene);
    format!("{} · boothside", words.next(&scene.board.next))
}
