//! A sitting: the loop of one session, from opening to leaving.

use std::time::Duration;

use boothside_core::session::Session;
use boothside_core::session::time::Span;
use boothside_store::log::{Follower, News};
use boothside_store::storage::RealDisk;

use super::awake::keep_awake;
use super::clocks::session::{Happened, Resumption};
use super::hall::{Came, Hall, HallError, Message};
use super::opening::{Ready, Tie};
use super::time::{Time, away};
use super::writer::{Pace, Report, Writer};
use crate::update::desk::{Desk, Effect, Now, Written};
use crate::update::scene::{Notice, Rehearsal};
use crate::view;

/// How long leaving waits for entries that are not saved yet.
const LAST_SAVES: Duration = Duration::from_secs(3);
/// A rehearsal's clocks run too fast for every second to be shown: so often a second is enough.
const REHEARSAL_FRAME: Duration = Duration::from_millis(200);
/// How often a follower looks for news.
const FOLLOW: Duration = Duration::from_millis(500);

/// How a sitting ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Left {
    /// Whether the terminal is gone.
    pub gone: bool,
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
    match ended {
        Ok(came) => Ok(Left { gone: came == Came::Gone, unsaved }),
        // a terminal that cannot be drawn on is gone: the log is safe, and that is what counts
        Err(HallError::Terminal(_)) => Ok(Left { gone: true, unsaved }),
        Err(other) => Err(other),
    }
}

struct Sitting {
    desk: Desk,
    time: Time,
    writer: Option<Writer>,
    follower: Option<Box<Follower<RealDisk>>>,
    followed_ms: i64,
}

impl Sitting {
    fn begin(hall: &Hall, ready: Ready, pace: Option<f64>) -> Result<Self, HallError> {
        let Ready { session, mut time, tie, read_only, resumption, notices, .. } = ready;
        time.tick();
        let rehearsal = pace.map(|pace| Rehearsal { pace });
        let now = Now { t: time.t, hand_ms: time.hand_ms, times: &time };
        let mut desk = Desk::new(session, &now, time.boot_mark(), read_only, rehearsal);
        for notice in notices {
            desk.notice(notice, time.hand_ms);
        }
        if pace.is_none() {
            desk.notice(Notice::Text(keep_awake().to_owned()), time.hand_ms);
        }
        let (writer, follower) = match tie {
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
        let mut sitting = Self { desk, time, writer, follower, followed_ms: 0 };
        sitting.tell_resumption(resumption);
        Ok(sitting)
    }

    fn tell_resumption(&mut self, resumption: Option<Resumption>) {
        let Some(resumption) = resumption else { return };
        let now = Now { t: self.time.t, hand_ms: self.time.hand_ms, times: &self.time };
        let effects = match (away(&resumption), resumption) {
            (Some(away), _) => self.desk.restarted(away, &now),
            (None, Resumption::SameBoot { wall_jumped_ms }) if wall_jumped_ms != 0 => {
                self.desk.wall_clock_set(Span::from_ms(wall_jumped_ms), &now)
            }
            _ => Vec::new(),
        };
        if let Resumption::Held { .. } = resumption {
            let text = "this machine's clock stands before the last entry: set it right";
            self.desk.notice(Notice::Text(text.to_owned()), self.time.hand_ms);
        }
        self.save(effects);
    }

    fn run(&mut self, hall: &mut Hall) -> Result<Came, HallError> {
        loop {
            let happened = self.time.tick();
            self.tell(&happened);
            let effects = self.with_now(Desk::time);
            if let Some(came) = self.carry_out(hall, effects)? {
                return Ok(came);
            }
            self.follow();
            self.paint(hall)?;
            let Some(message) = hall.wait(self.wait()) else { continue };
            if let Some(came) = self.take(hall, message)? {
                return Ok(came);
            }
        }
    }

    fn with_now(&mut self, act: impl FnOnce(&mut Desk, &Now<'_>) -> Vec<Effect>) -> Vec<Effect> {
        let now = Now { t: self.time.t, hand_ms: self.time.hand_ms, times: &self.time };
        act(&mut self.desk, &now)
    }

    fn take(&mut self, hall: &mut Hall, message: Message) -> Result<Option<Came>, HallError> {
        match message {
            Message::Report(Report::Saved { n }) => self.desk.written(Written::Saved { n }),
            Message::Report(Report::Refused { waiting, why }) => {
                self.desk.written(Written::Refused { waiting, why });
            }
            Message::In(incoming) => match hall.take(&incoming)? {
                Came::Key(key) => {
                    let happened = self.time.tick();
                    self.tell(&happened);
                    let effects = self.with_now(|desk, now| desk.press(key, now));
                    return self.carry_out(hall, effects);
                }
                Came::Nothing => {}
                end => return Ok(Some(end)),
            },
        }
        Ok(None)
    }

    /// What the clocks say happened goes to the desk and into the log.
    fn tell(&mut self, happened: &[Happened]) {
        for happened in happened {
            let effects = self.with_now(|desk, now| match *happened {
                Happened::Slept { from_ms, to_ms } => {
                    desk.slept(Span::from_ms(to_ms - from_ms), now)
                }
                Happened::WallJumped { by_ms } => desk.wall_clock_set(Span::from_ms(by_ms), now),
                Happened::CaughtUp { from_ms, to_ms } => {
                    desk.restarted(Span::from_ms(to_ms - from_ms), now)
                }
            });
            self.save(effects);
        }
    }

    fn save(&mut self, effects: Vec<Effect>) {
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
                Effect::Ring => hall.screen.ring()?,
                Effect::JumpTo(to) => self.time.jump_to(to),
                Effect::Pace(times) => self.time.set_pace(times),
                Effect::Leave => return Ok(Some(Came::End)),
            }
        }
        Ok(None)
    }

    fn follow(&mut self) {
        let Some(follower) = &mut self.follower else { return };
        if self.time.hand_ms - self.followed_ms < FOLLOW.as_millis() as i64 {
            return;
        }
        self.followed_ms = self.time.hand_ms;
        let news = follower.look();
        let now = Now { t: self.time.t, hand_ms: self.time.hand_ms, times: &self.time };
        match news {
            Ok(News::More(entries)) => self.desk.follow(entries, &now),
            Ok(News::Anew(entries)) => {
                if let Ok(session) = Session::open(entries) {
                    self.desk.replace(session, &now);
                }
            }
            Ok(News::Nothing) => {}
            Ok(News::Damaged { line, byte, why }) => {
                let text = format!("the log is damaged in line {line}, byte {byte}: {why}");
                self.desk.notice(Notice::Text(text), self.time.hand_ms);
            }
            Err(why) => {
                let text = format!("the log cannot be read: {why}");
                self.desk.notice(Notice::Text(text), self.time.hand_ms);
            }
        }
    }

    fn paint(&mut self, hall: &mut Hall) -> Result<(), HallError> {
        let scene = self.desk.scene(&self.time, self.time.hand_ms);
        let title = title(&scene);
        hall.screen.set_title(&title)?;
        hall.paint(|frame, theme| view::draw(frame, &scene, theme))?;
        Ok(())
    }

    /// Until the picture may change: the next whole second of the session, something of the hand's
    /// time, or a look at a file that is followed.
    fn wait(&self) -> Duration {
        let hand = self.desk.next_hand_ms(self.time.hand_ms).map_or(Duration::MAX, |at_ms| {
            Duration::from_millis(u64::try_from(at_ms - self.time.hand_ms).unwrap_or(0))
        });
        let second = if self.time.is_paced() {
            REHEARSAL_FRAME
        } else {
            let into_second = self.time.t.ms().rem_euclid(1000);
            // saturating: a log from anywhere may stand at the end of time
            self.time.hand_until(self.time.t.plus(Span::from_ms(1000 - into_second)))
        };
        let follow = if self.follower.is_some() { FOLLOW } else { Duration::MAX };
        hand.min(second).min(follow).max(Duration::from_millis(1))
    }
}

/// The window's title: what is due, else what SPACE does.
fn title(scene: &crate::update::scene::Scene<'_>) -> String {
    let words = view::words::Words::of(scene);
    format!("{} · boothside", words.next(&scene.board.next))
}
