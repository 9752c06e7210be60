//! The writer thread over a disk that refuses again and again: what was not saved is written as
//! soon as there is room, in order, once.

use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use boothside::shell::writer::{Pace, Report, Writer};
use boothside_core::physics::rate::Rules;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::time::Moment;
use boothside_store::double::{Failure, Loss, MemoryDisk};
use boothside_store::log::{LogWriter, open};
use proptest::prelude::*;

const PATIENCE: Duration = Duration::from_secs(30);

pub(crate) fn entry(n: u64, events: Vec<Event>) -> Entry {
    Entry {
        n,
        t_ms: Moment::from_ms(i64::try_from(n).expect("small") * 1000),
        at: "2026-05-12T10:42:07.120-05:00".into(),
        by: By::Key,
        when_ms: None,
        events,
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: None,
    }
}

pub(crate) fn opening() -> Entry {
    let work = boothside::example::example().expect("the example");
    let opening = Opening {
        format: LOG_FORMAT,
        rules: Rules::NOW.number(),
        rehearsal: false,
        work,
        factors: [].into(),
    };
    entry(0, vec![Event::Opened(Box::new(opening))])
}

/// One thing that happens to disk or writer.
#[derive(Debug, Clone, Copy)]
enum Turn {
    Tell,
    Shut(Failure),
    Fill(usize),
    Room,
    FailSoon(usize, Failure),
}

fn turns() -> impl Strategy<Value = Vec<Turn>> {
    let bytes = prop_oneof![Just(0_usize), 0..400_usize];
    let failure = (any::<bool>(), bytes).prop_map(|(full, bytes)| match full {
        true => Failure::NoSpace(bytes),
        false => Failure::Io(bytes),
    });
    let failure = failure.boxed();
    let turn = prop_oneof![
        6 => Just(Turn::Tell),
        1 => failure.clone().prop_map(Turn::Shut),
        1 => (0..600_usize).prop_map(Turn::Fill),
        2 => Just(Turn::Room),
        2 => (0..9_usize, failure).prop_map(|(ahead, failure)| Turn::FailSoon(ahead, failure)),
    ];
    prop::collection::vec(turn, 1..40)
}

fn saved(reports: &Receiver<Report>, last: u64) -> Vec<u64> {
    let mut saved = Vec::new();
    while saved.last() != Some(&last) {
        match reports.recv_timeout(PATIENCE).expect("the writer reports") {
            Report::Saved { n } => saved.push(n),
            Report::Refused { waiting, why } => assert!(waiting > 0 && !why.is_empty()),
        }
    }
    saved
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(150) })]

    #[test]
    fn what_was_refused_is_written_in_order_once_there_is_room(turns in turns()) {
        let disk = MemoryDisk::new();
        let folder = Path::new("sessions");
        boothside_store::make_folders(&disk, folder).expect("room");
        let mut told = vec![opening()];
        let log = LogWriter::create(&disk, folder, "any", &told[0]).expect("room");
        let path = log.path().to_owned();
        let (tx, reports) = channel();
        let pace = Pace { first: Duration::from_millis(1), then: Duration::from_millis(1) };
        let report = move |report| drop(tx.send(report));
        let writer = Writer::start(log, pace, report).expect("a thread");
        for turn in turns {
            match turn {
                Turn::Tell => {
                    let n = told.len() as u64;
                    let note = entry(n, vec![Event::Note { text: format!("note {n}\n") }]);
                    told.push(note.clone());
                    writer.save(note);
                }
                Turn::Shut(failure) => disk.fail_all(Some(failure)),
                Turn::Fill(room) => disk.leave_room(Some(room)),
                Turn::Room => {
                    disk.fail_all(None);
                    disk.leave_room(None);
                }
                Turn::FailSoon(ahead, failure) => disk.fail(disk.calls() + ahead, failure),
            }
        }
        disk.fail_all(None);
        disk.leave_room(None);
        let last = told.len() as u64 - 1;
        if last > 0 {
            let saved = saved(&reports, last);
            prop_assert_eq!(saved, (1..=last).collect::<Vec<_>>(), "each is told as saved once");
        }
        prop_assert_eq!(writer.close(PATIENCE), Vec::<u64>::new());
        disk.crash(Loss::All);
        prop_assert_eq!(open(&disk, &path).expect("sound").entries, told);
    }
}
