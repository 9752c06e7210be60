//! Which rows of a long table are shown.

/// The rows shown, and how many are not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Seen {
    pub(super) from: usize,
    pub(super) to: usize,
    all: usize,
}

/// Which of `all` rows are shown in `room` lines so that row `focus` is among them. Where not all
/// fit, the last line tells how many are left out.
pub(super) fn visible(all: usize, room: usize, focus: usize) -> Seen {
    if all <= room {
        return Seen { from: 0, to: all, all };
    }
    let shown = if room > 1 { room - 1 } else { room };
    let from = focus.saturating_sub(shown / 2).min(all - shown);
    Seen { from, to: from + shown, all }
}

impl Seen {
    /// '2 more above, 3 more below'.
    pub(super) fn more(&self) -> Option<String> {
        if self.to - self.from < 2 && self.all > 1 {
            return None;
        }
        let (above, below) = (self.from, self.all - self.to);
        match (above, below) {
            (0, 0) => None,
            (above, 0) => Some(format!("{above} more above")),
            (0, below) => Some(format!("{below} more below")),
            (above, below) => Some(format!("{above} more above, {below} more below")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_focus_is_always_among_the_rows_shown() {
        for all in 0..20 {
            for room in 1..25 {
                for focus in 0..all {
                    let seen = visible(all, room, focus);
                    assert!((seen.from..seen.to).contains(&focus), "{all} {room} {focus}");
                    let lines = seen.to - seen.from + usize::from(seen.more().is_some());
                    assert!(lines <= room.max(1), "{all} {room} {focus}");
                }
            }
        }
    }

    #[test]
    fn what_is_left_out_is_counted() {
        assert_eq!(visible(8, 4, 0).more().as_deref(), Some("5 more below"));
        assert_eq!(visible(8, 4, 7).more().as_deref(), Some("5 more above"));
        assert_eq!(visible(8, 4, 4).more().as_deref(), Some("3 more above, 2 more below"));
        assert_eq!(visible(8, 8, 4).more(), None);
    }
}
