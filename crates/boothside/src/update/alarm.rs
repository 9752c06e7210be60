//! When the bell rings: once when something comes due, then once a minute until a key answers.

use boothside_core::board::{Board, Hero, Next};

/// A minute of the hand's time.
const AGAIN_MS: i64 = 60_000;

/// The bell.
#[derive(Debug, Clone, Default)]
pub(super) struct Alarm {
    /// When it last rang for what is due and not answered, ms of the hand's time.
    rang_ms: Option<i64>,
}

impl Alarm {
    /// Time has passed and the board changed from `before` to `after`. Whether to ring.
    pub(super) fn came_due(&mut self, before: &Board, after: &Board, hand_ms: i64) -> bool {
        let new = calls(after).into_iter().any(|call| !calls(before).contains(&call));
        if new {
            self.rang_ms = Some(hand_ms);
        }
        new
    }

    /// Whether it is time to ring again.
    pub(super) fn rings_again(&mut self, hand_ms: i64) -> bool {
        let due = self.next_ms().is_some_and(|next_ms| next_ms <= hand_ms);
        if due {
            self.rang_ms = Some(hand_ms);
        }
        due
    }

    /// When it rings again, ms of the hand's time.
    #[must_use]
    pub(super) fn next_ms(&self) -> Option<i64> {
        self.rang_ms.map(|rang_ms| rang_ms + AGAIN_MS)
    }

    /// A key answered.
    pub(super) fn answered(&mut self) {
        self.rang_ms = None;
    }
}

/// What calls for the painter: looks, a pot past its last trigger, and the end of a wait.
fn calls(board: &Board) -> Vec<Call> {
    let mut calls: Vec<Call> = board
        .faces
        .iter()
        .enumerate()
        .filter(|(_, face)| face.at.now == boothside_core::session::standing::FaceNow::Look)
        .map(|(face, _)| Call::Look(face))
        .collect();
    if let Some(Hero { due: true, what, .. }) = &board.hero {
        calls.push(Call::Due(format!("{what:?}")));
    }
    if board.next.is_action() && !matches!(board.next, Next::Dulled { .. }) {
        calls.push(Call::Work);
    }
    calls
}

#[derive(PartialEq, Eq)]
enum Call {
    Look(usize),
    Due(String),
    /// There is something to do where there was nothing.
    Work,
}
