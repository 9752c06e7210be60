//! Locked keys: a keyboard can be wiped, and nothing comes of it. Runs on the hand's time.

use super::gate::PALM_MS;

/// The keys that open it, one after the other.
const OPENS: [char; 3] = ['1', '2', '3'];
/// No other key may follow for so long: a cloth that goes along the row goes on to the next.
const STILL_MS: i64 = 400;

/// Locked keys.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct KeyLock {
    /// When the keys that open it were pressed so far, ms.
    pressed: Vec<i64>,
}

impl KeyLock {
    /// A key; `None` for one that types nothing.
    pub(super) fn press(&mut self, key: Option<char>, hand_ms: i64) {
        let wanted = OPENS.get(self.pressed.len()).copied();
        if key.is_none() || key != wanted {
            self.pressed.clear();
        }
        if key == OPENS.get(self.pressed.len()).copied() {
            self.pressed.push(hand_ms);
        }
    }

    /// When it opens, unless a key comes before, ms.
    pub(super) fn opens_ms(&self) -> Option<i64> {
        match self.pressed.as_slice() {
            [first, _, last] if last - first >= PALM_MS => Some(last + STILL_MS),
            _ => None,
        }
    }

    /// Whether it opens at `hand_ms`.
    pub(super) fn opens(&self, hand_ms: i64) -> bool {
        self.opens_ms().is_some_and(|opens_ms| opens_ms <= hand_ms)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(keys: &[(char, i64)]) -> KeyLock {
        let mut lock = KeyLock::default();
        for (key, hand_ms) in keys {
            lock.press(Some(*key), *hand_ms);
        }
        lock
    }

    #[test]
    fn one_two_three_and_nothing_after_it_opens() {
        let lock = after(&[('1', 0), ('2', 200), ('3', 400)]);
        assert!(!lock.opens(799) && lock.opens(800));
        let lock = after(&[('1', 0), ('1', 100), ('2', 200), ('3', 400)]);
        assert!(lock.opens(800), "the first one may come twice");
    }

    #[test]
    fn a_cloth_does_not_open_it() {
        let along = [('1', 0), ('2', 200), ('3', 400), ('4', 600), ('5', 800)];
        assert_eq!(after(&along).opens_ms(), None);
        assert_eq!(after(&[('1', 0), ('2', 30), ('3', 60)]).opens_ms(), None, "all at once");
        assert_eq!(after(&[('3', 0), ('2', 200), ('1', 400)]).opens_ms(), None);
        assert_eq!(after(&[('1', 0), ('2', 200), ('q', 300), ('3', 400)]).opens_ms(), None);
        let mut lock = after(&[('1', 0), ('2', 200)]);
        lock.press(None, 300);
        lock.press(Some('3'), 400);
        assert_eq!(lock.opens_ms(), None);
    }
}
