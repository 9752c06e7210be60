//! What changed between two looks, for the message after sleep.

use super::Board;
use crate::session::standing::{FaceNow, PotNow};
use crate::session::time::Span;

/// One change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum News {
    /// A face changed its state.
    Face {
        /// Its number.
        face: usize,
        /// What it is now.
        now: FaceNow,
    },
    /// A pot changed its state.
    Pot {
        /// Its letter.
        pot: String,
        /// What it is now.
        now: PotNow,
    },
}

/// What is otherwise on `after` than on `before`: faces in spraying order, then pots.
#[must_use]
pub fn news(before: &Board, after: &Board) -> Vec<News> {
    let faces = before.faces.iter().zip(&after.faces).enumerate();
    let mut news: Vec<News> = faces
        .filter(|(_, (before, after))| before.at.now != after.at.now)
        .map(|(face, (_, after))| News::Face { face, now: after.at.now })
        .collect();
    for pot in &after.pots {
        let known = before.pots.iter().find(|before| before.at.id == pot.at.id);
        if known.is_some_and(|before| before.at.now != pot.at.now) {
            news.push(News::Pot { pot: pot.at.id.clone(), now: pot.at.now });
        }
    }
    news
}

/// By how much the clocks of faces run otherwise on `after` than on `before`, face by face, where
/// they are in the same state: later is positive.
#[must_use]
pub fn moved(before: &Board, after: &Board) -> Vec<(usize, Span)> {
    let faces = before.faces.iter().zip(&after.faces).enumerate();
    let moved = faces.filter_map(|(face, (before, after))| {
        let same = before.at.now == after.at.now;
        let ends = before.at.until?.moment().zip(after.at.until?.moment()).filter(|_| same);
        let by = ends.map(|(before, after)| after.since(before))?;
        (by.ms() != 0).then_some((face, by))
    });
    moved.collect()
}
