//! What is told becomes an entry, is shown at once and sent to be written.

use boothside_core::session::command::Command;
use boothside_core::session::entry::{Anchor, Entry, Seen};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Refusal, Told, decide};

use super::{Desk, Effect, Now, Timed};
use crate::update::scene::{Asking, Intention, Notice, Said, Saved};

/// What a key is answered that would write.
pub(super) const READS_ONLY: &str = "read only here: nothing is written down";

impl Desk {
    /// Tells a command of the painter's. A refusal becomes a notice; a hold becomes a question.
    pub(super) fn tell(
        &mut self,
        command: &Command,
        when: Option<Moment>,
        now: &Now<'_>,
    ) -> Vec<Effect> {
        if self.reads_only() {
            return self.say(READS_ONLY, now);
        }
        match self.decide(command, when, now) {
            Ok(entry) => {
                let before = self.moved_edges();
                let retimed = Self::retimed_by(command).map(|n| (n, self.board.clone()));
                let effects = self.take(entry, now, true);
                self.notice_moves(&before, now.hand_ms);
                if let Some((n, board)) = retimed {
                    self.notice_true_time(n, &board, now.hand_ms);
                }
                effects
            }
            Err(Refusal::Held(holds)) => {
                if let Some(intention) = intention(command) {
                    self.asking = Some(Asking::Holds { intention, holds });
                }
                Vec::new()
            }
            Err(refusal) => {
                self.notice(Notice::Refused(refusal), now.hand_ms);
                Vec::new()
            }
        }
    }

    /// Writes the machine's own news down.
    pub(super) fn write(
        &mut self,
        command: &Command,
        when: Option<Moment>,
        now: &Now<'_>,
    ) -> Vec<Effect> {
        if self.reads_only() {
            self.look_anew(now.t);
            return Vec::new();
        }
        match self.decide(command, when, now) {
            Ok(entry) => self.take(entry, now, false),
            Err(_) => Vec::new(),
        }
    }

    pub(super) fn decide(
        &self,
        command: &Command,
        when: Option<Moment>,
        now: &Now<'_>,
    ) -> Result<Entry, Refusal> {
        let told = Told {
            t: now.t,
            at: now.times.at(now.t),
            when,
            seen: Seen { holds: self.held.clone(), ..self.board.seen(&self.session) },
            anchor: self.anchor_at(now.t),
        };
        decide(&self.session, command, &told)
    }

    /// The mark that the next entry carries: session time and the clock since boot go alike.
    fn anchor_at(&self, t: Moment) -> Option<Anchor> {
        let (mark, marked) = self.anchor.as_ref()?;
        let since_boot_ms = mark.since_boot_ms.saturating_add(t.since(*marked).ms());
        Some(Anchor { boot: mark.boot.clone(), since_boot_ms })
    }

    fn take(&mut self, entry: Entry, now: &Now<'_>, by_key: bool) -> Vec<Effect> {
        self.anchor = None;
        self.held.clear();
        self.sent = Some(entry.n);
        if matches!(self.saved, Saved::Saved) {
            self.saved = Saved::Saving;
        }
        self.session.apply(entry.clone());
        self.look_anew(now.t);
        if by_key {
            self.asking = None;
            let said = Said {
                when: entry.told_ms(),
                breaks: entry.breaks.clone(),
                can_take_back: true,
                events: entry.events.clone(),
            };
            self.said = Some(Timed { it: said, hand_ms: now.hand_ms });
        }
        vec![Effect::Write(Box::new(entry))]
    }

    /// By how much later readings move the edges that were announced, face by face.
    fn moved_edges(&self) -> Vec<Option<Span>> {
        let moved = |face: &boothside_core::board::FaceRow| {
            let at = &face.at;
            let moved = at.recomputed?.moment()?;
            let minima = [at.look, at.opens].into_iter().flatten();
            // what the eye has outranked, or what is behind it, a face no longer waits for
            let minima = minima.filter(|due| at.until == Some(due.at));
            let maxima = [at.open_until, at.wipe_until].into_iter().flatten();
            let mut edges = minima.chain(maxima);
            let edge = edges.find(|due| due.recomputed == at.recomputed)?.moment()?;
            (edge > self.board.now).then(|| moved.since(edge))
        };
        self.board.faces.iter().map(moved).collect()
    }

    fn notice_moves(&mut self, before: &[Option<Span>], hand_ms: i64) {
        let after = self.moved_edges();
        for (face, (before, after)) in before.iter().zip(after).enumerate() {
            if let Some(by) = after.filter(|_| *before != after) {
                self.notice(Notice::ReadingMoves { face, by }, hand_ms);
            }
        }
    }
}

fn intention(command: &Command) -> Option<Intention> {
    match command {
        Command::BeginCoat { face, .. } => Some(Intention::Begin { face: face.clone() }),
        Command::Close { .. } => Some(Intention::Close),
        _ => None,
    }
}
