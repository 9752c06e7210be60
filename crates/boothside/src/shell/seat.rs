//! A desk and its time: all of a sitting that needs neither terminal nor disk, so that a whole
//! sitting can be played on any clocks.

use boothside_core::session::time::Span;

use super::clocks::Look;
use super::clocks::session::{Happened, Resumption};
use super::opening::Ready;
use super::time::{Time, away};
use crate::update::desk::{Desk, Effect, Now, Pressed};
use crate::update::scene::{Notice, Rehearsal, Scene};

/// A desk and its time.
pub struct Seat {
    /// The desk.
    pub desk: Desk,
    /// Its time.
    pub time: Time,
}

impl Seat {
    /// Takes the session of `ready` to the desk, and tells how its time went on. Give the effects
    /// to the disk.
    #[must_use]
    pub fn take(ready: Ready, pace: Option<f64>) -> (Self, Vec<Effect>) {
        let Ready { session, mut time, read_only, resumption, notices, cans, at_hand, .. } = ready;
        time.tick();
        let rehearsal = pace.map(|pace| Rehearsal { pace });
        let now = Now { t: time.t, hand_ms: time.hand_ms, times: &time };
        let mut desk = Desk::new(session, &now, time.boot_mark(), read_only, rehearsal);
        desk.lay_at_hand(at_hand, time.hand_ms);
        for notice in notices {
            desk.notice(notice, time.hand_ms);
        }
        let mut seat = Self { desk, time };
        let mut effects = resumption.map(|how| seat.tell_resumption(how)).unwrap_or_default();
        if let Some(cans) = cans {
            effects.extend(seat.with_now(|desk, now| desk.see_cans(cans, now)));
        }
        (seat, effects)
    }

    fn tell_resumption(&mut self, resumption: Resumption) -> Vec<Effect> {
        if let Resumption::Held { .. } = resumption {
            let text = "this machine's clock stands before the last entry: set it right";
            self.desk.notice(Notice::Text(text.to_owned()), self.time.hand_ms);
        }
        self.with_now(|desk, now| match (away(&resumption), resumption) {
            (Some(away), _) => desk.restarted(away, now),
            (None, Resumption::SameBoot { wall_jumped_ms }) if wall_jumped_ms != 0 => {
                desk.wall_clock_set(Span::from_ms(wall_jumped_ms), now)
            }
            _ => Vec::new(),
        })
    }

    /// Reads the clocks: what they say happened goes to the desk, and what has come due since.
    pub fn pass(&mut self) -> Vec<Effect> {
        let mut effects = self.read_clocks();
        effects.extend(self.with_now(Desk::time));
        effects
    }

    /// Reads the clocks, and presses a key.
    pub fn press(&mut self, key: Pressed) -> Vec<Effect> {
        let look = self.time.look();
        self.press_at(key, &look)
    }

    /// Presses a key that was read when the clocks stood as in `look`.
    pub fn press_at(&mut self, key: Pressed, look: &Look) -> Vec<Effect> {
        self.at(look, |desk, now| desk.press(key, now))
    }

    /// Pastes a text that was read when the clocks stood as in `look`.
    pub fn paste_at(&mut self, text: &str, look: &Look) -> Vec<Effect> {
        self.at(look, |desk, now| desk.paste(text, now))
    }

    fn at(
        &mut self,
        look: &Look,
        act: impl FnOnce(&mut Desk, &Now<'_>) -> Vec<Effect>,
    ) -> Vec<Effect> {
        let happened = self.time.tick_at(look);
        let mut effects = self.tell_all(happened);
        let (t, hand_ms) = self.time.moment_of(look);
        let now = Now { t, hand_ms, times: &self.time };
        effects.extend(act(&mut self.desk, &now));
        effects
    }

    /// What there is to draw.
    #[must_use]
    pub fn scene(&self) -> Scene<'_> {
        self.desk.scene(&self.time, self.time.hand_ms)
    }

    fn read_clocks(&mut self) -> Vec<Effect> {
        let happened = self.time.tick();
        self.tell_all(happened)
    }

    fn tell_all(&mut self, happened: Vec<Happened>) -> Vec<Effect> {
        happened.into_iter().flat_map(|happened| self.tell(happened)).collect()
    }

    fn tell(&mut self, happened: Happened) -> Vec<Effect> {
        if let Happened::CaughtUp { .. } = happened {
            let mark = self.time.boot_mark();
            self.with_now(|desk, now| desk.mark(mark, now));
        }
        self.with_now(|desk, now| match happened {
            Happened::Slept { from_ms, to_ms } => desk.slept(Span::from_ms(to_ms - from_ms), now),
            Happened::WallJumped { by_ms } => desk.wall_clock_set(Span::from_ms(by_ms), now),
            Happened::CaughtUp { from_ms, to_ms } => {
                desk.restarted(Span::from_ms(to_ms - from_ms), now)
            }
        })
    }

    fn with_now<T>(&mut self, act: impl FnOnce(&mut Desk, &Now<'_>) -> T) -> T {
        let now = Now { t: self.time.t, hand_ms: self.time.hand_ms, times: &self.time };
        act(&mut self.desk, &now)
    }
}
