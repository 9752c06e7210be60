//! What the machine tells: sleep, a clock that was set, a start anew, a file that goes on after
//! damage.

use boothside::update::desk::{Now, Times};
use boothside_core::session::Session;
use boothside_core::session::command::Command;
use boothside_core::session::entry::{Anchor, By, Entry, Seen};
use boothside_core::session::event::{Continuation, Event, LOG_FORMAT};
use boothside_core::session::time::{Moment, Span};

use super::hand::Hand;
use crate::rig::{Rig, Wall};

pub(super) fn machine() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.until_the_first_coat();
    hand.rig.space().pass(90.0).space();
    hand.rig.sleep(Span::from_minutes(47));
    hand.mark(99_000_000);
    hand.tell(Command::WallClockSet { by: Span::from_ms(-3_600_000) });
    hand.rig.pass(2.0).space();
    let away = Span::from_hours(9);
    hand.rig.t = hand.rig.t.plus(away);
    hand.mark(60_000);
    hand.tell(Command::Restarted { away });
    hand.until_the_first_coat();
    hand.rig.space();
    hand.rig.sleep(Span::from_hours(2));
    hand.rig.space();
    hand.tell(Command::WallClockSet { by: Span::from_ms(5_400_000) });
    hand.minutes(30);
    hand.entries()
}

/// A log damaged after its first coat, and the file in which it goes on.
pub(super) fn continued() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.until_the_first_coat();
    hand.rig.space().pass(90.0).space();
    let carried = hand.entries();
    let t = hand.rig.t.plus(Span::from_minutes(3));
    let first = goes_on(carried.clone(), t);
    let session = Session::open(vec![first.clone()]).expect("a session");
    let mut hand = Hand::at(Rig::going_on(session, t, None));
    let now = Now { t, hand_ms: 0, times: &Wall };
    hand.rig.desk.mark(None, &now);
    // the last one quicker than any hand sprays
    for seconds in [100.0, 100.0, 0.0] {
        hand.rig.space().pass(seconds).space();
    }
    hand.minutes(40);
    let later = hand.entries().into_iter().skip(carried.len() + 1);
    std::iter::once(first).chain(later).collect()
}

fn goes_on(entries: Vec<Entry>, t: Moment) -> Entry {
    let n = entries.len() as u64;
    let (file, line, byte) = ("2026-05-12-covers.jsonl".to_owned(), n + 1, 20_480);
    let continuation = Continuation { format: LOG_FORMAT, file, line, byte, entries };
    Entry {
        n,
        t_ms: t,
        at: Wall.at(t),
        by: By::Machine,
        when_ms: None,
        events: vec![Event::Continued(Box::new(continuation))],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: Some(Anchor { boot: "b2".into(), since_boot_ms: 77_000 }),
    }
}
