//! Between the keyboard and the table: a palm on the keys is no command, and a key held down counts
//! once. Runs on the hand's time.

use boothside_core::session::time::Moment;

use super::table::Do;

/// Three keys within this long are a palm on the keyboard.
pub(super) const PALM_MS: i64 = 100;
/// So many keys within [`PALM_MS`] are a palm.
const PALM_KEYS: usize = 3;
/// A repeat of the same key within this long of the last one counts once.
const REPEAT_MS: i64 = 1_000;

/// A key with the moment at which it was pressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stroke<K> {
    /// The key.
    pub key: K,
    /// When, ms of the hand's time.
    pub hand_ms: i64,
    /// When, in the session.
    pub t: Moment,
}

/// Holds keys for as long as they could be part of a palm.
#[derive(Debug, Clone)]
pub struct PalmGate<K> {
    held: Vec<Held<K>>,
}

/// A key that could be part of a palm.
#[derive(Debug, Clone, Copy)]
struct Held<K> {
    stroke: Stroke<K>,
    /// Whether it acted at once.
    acted: bool,
}

impl<K> Default for PalmGate<K> {
    fn default() -> Self {
        Self { held: Vec::new() }
    }
}

/// What came out of the gate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Out<K> {
    /// A key that was meant, and waited.
    Key(Stroke<K>),
    /// Keys that came from a palm, and count for nothing.
    Palm,
}

impl<K: Copy + PartialEq> PalmGate<K> {
    /// Takes a key. It acts at once where `acts` says so, no key waits before it and it makes no palm of
    /// what is held; whether it does.
    ///
    /// Let out first what can be no palm any more.
    pub fn press(&mut self, stroke: Stroke<K>, acts: bool) -> bool {
        let first = self.held.iter().all(|held| held.acted);
        self.held.push(Held { stroke, acted: false });
        let acted = acts && first && !self.is_palm();
        if let Some(held) = self.held.last_mut() {
            held.acted = acted;
        }
        acted
    }

    /// Whether what is held came from a palm.
    #[must_use]
    pub fn is_palm(&self) -> bool {
        // one key held down comes many times: that is no palm
        let mut pairs = self.held.iter().zip(self.held.iter().skip(1));
        let several = pairs.any(|(one, other)| one.stroke.key != other.stroke.key);
        self.held.len() >= PALM_KEYS && several
    }

    /// Whether nothing is held.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.held.is_empty()
    }

    /// What can be no palm any more at `hand_ms`. A key that acted at once does not come out again.
    pub fn let_out(&mut self, hand_ms: i64) -> Vec<Out<K>> {
        match self.held.first() {
            Some(first) if hand_ms - first.stroke.hand_ms >= PALM_MS => self.empty(),
            _ => Vec::new(),
        }
    }

    /// When something comes out by time alone, ms of the hand's time.
    #[must_use]
    pub fn next_out_ms(&self) -> Option<i64> {
        self.held.first().map(|first| first.stroke.hand_ms + PALM_MS)
    }

    fn empty(&mut self) -> Vec<Out<K>> {
        let palm = self.is_palm();
        let held = std::mem::take(&mut self.held);
        if palm {
            return vec![Out::Palm];
        }
        held.into_iter().filter(|held| !held.acted).map(|held| Out::Key(held.stroke)).collect()
    }
}

/// Counts a repeat of the same key within a second once.
#[derive(Debug, Clone, Default)]
pub struct Repeats {
    last: Option<(Do, i64)>,
}

impl Repeats {
    /// Whether this stroke counts. A key held down goes on counting once, however long.
    pub fn counts(&mut self, does: Do, repeats: bool, hand_ms: i64) -> bool {
        let same = |(last, last_ms)| last == does && hand_ms - last_ms < REPEAT_MS;
        let again = self.last.is_some_and(same);
        self.last = Some((does, hand_ms));
        repeats || !again
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn stroke(key: char, hand_ms: i64) -> Stroke<char> {
        Stroke { key, hand_ms, t: Moment::from_ms(hand_ms) }
    }

    fn through(strokes: &[(char, i64)]) -> Vec<Out<char>> {
        let mut gate = PalmGate::default();
        let mut out = Vec::new();
        for (key, hand_ms) in strokes {
            out.extend(gate.let_out(*hand_ms));
            assert!(!gate.press(stroke(*key, *hand_ms), false));
        }
        out.extend(gate.let_out(i64::MAX));
        out
    }

    #[test]
    fn three_keys_at_once_are_a_palm_and_two_are_not() {
        assert_eq!(through(&[('j', 0), (' ', 40), ('k', 99)]), [Out::Palm]);
        let two = [Out::Key(stroke('j', 0)), Out::Key(stroke(' ', 40))];
        assert_eq!(through(&[('j', 0), (' ', 40)]), two);
        assert_eq!(through(&[('j', 0), (' ', 40), ('k', 100)]).len(), 3);
    }

    #[test]
    fn a_key_held_down_is_no_palm() {
        let held = through(&[(' ', 0), (' ', 33), (' ', 66), (' ', 99)]);
        assert!(held.iter().all(|out| matches!(out, Out::Key(_))), "{held:?}");
    }

    #[test]
    fn a_key_waits_until_it_can_be_no_palm() {
        let mut gate = PalmGate::default();
        assert!(!gate.press(stroke(' ', 500), false));
        assert_eq!(gate.next_out_ms(), Some(600));
        assert_eq!(gate.let_out(599), []);
        assert_eq!(gate.let_out(600), [Out::Key(stroke(' ', 500))]);
        assert_eq!(gate.next_out_ms(), None);
    }

    #[test]
    fn a_key_that_acts_at_once_is_still_part_of_a_palm() {
        let mut gate = PalmGate::default();
        assert!(gate.press(stroke('1', 0), true));
        assert!(gate.press(stroke('2', 30), true));
        assert!(!gate.press(stroke('3', 60), true), "the third makes it a palm");
        assert!(gate.is_palm());
        assert!(!gate.press(stroke('4', 90), true), "so does what comes after it");
        assert_eq!(gate.let_out(100), [Out::Palm]);
        assert!(gate.is_empty() && !gate.is_palm());
    }

    #[test]
    fn a_key_that_acted_does_not_come_out_and_none_goes_before_one_that_waits() {
        let mut gate = PalmGate::default();
        assert!(gate.press(stroke('1', 0), true));
        assert!(!gate.press(stroke('x', 50), false));
        assert_eq!(gate.let_out(100), [Out::Key(stroke('x', 50))]);
        assert!(!gate.press(stroke('x', 200), false));
        assert!(!gate.press(stroke('1', 250), true), "it follows one that waits");
        assert_eq!(gate.let_out(300), [Out::Key(stroke('x', 200)), Out::Key(stroke('1', 250))]);
        for at in [400, 430, 460, 490] {
            assert!(gate.press(stroke('2', at), true), "a key held down is no palm");
        }
    }

    #[test]
    fn a_repeat_within_a_second_counts_once() {
        let mut repeats = Repeats::default();
        assert!(repeats.counts(Do::Next, false, 0));
        assert!(!repeats.counts(Do::Next, false, 900));
        assert!(!repeats.counts(Do::Next, false, 1_800), "held down: each is a repeat of the last");
        assert!(repeats.counts(Do::Dulled, false, 1_900));
        assert!(repeats.counts(Do::Next, false, 1_950), "another key lay between");
        assert!(repeats.counts(Do::Next, false, 2_950));
        assert!(repeats.counts(Do::Down, true, 3_000) && repeats.counts(Do::Down, true, 3_010));
    }
}
