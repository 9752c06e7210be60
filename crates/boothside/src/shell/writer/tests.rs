//! The writer thread on the disk in memory.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{self, Receiver};
use std::time::Duration;

use boothside_core::physics::rate::Rules;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::time::Moment;
use boothside_core::work::job::{FullJob, Job, Shop};
use boothside_core::work::system::System;
use boothside_store::double::{Failure, Loss, MemoryDisk};
use boothside_store::log::{LogWriter, inspect, open};

use super::{Pace, Report, Writer};

const QUICK: Pace = Pace { first: Duration::from_millis(5), then: Duration::from_millis(10) };
const LONG: Duration = Duration::from_secs(20);
const NONE: [u64; 0] = [];

fn entry(n: u64, event: Event) -> Entry {
    Entry {
        n,
        t_ms: Moment::from_ms(i64::try_from(n).expect("small")),
        at: "2026-05-12T10:42:07.120-05:00".into(),
        by: By::Key,
        when_ms: None,
        events: vec![event],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: None,
    }
}

fn note(n: u64) -> Entry {
    entry(n, Event::Note { text: format!("note {n}") })
}

fn new_log(disk: &MemoryDisk) -> (LogWriter<MemoryDisk>, PathBuf) {
    let (format, name) = (1, "Tail".to_owned());
    let work = FullJob {
        job: Job {
            format,
            name: name.clone(),
            system: "s".into(),
            parts: vec![],
            order: vec![],
            away: vec![],
            retired: false,
            typed: [].into(),
        },
        system: System {
            format,
            name,
            layers: vec![],
            close: vec![],
            retired: false,
            typed: [].into(),
        },
        parts: [].into(),
        sheets: [].into(),
        shop: Shop::default(),
    };
    let opening = Opening {
        format: LOG_FORMAT,
        rules: Rules::NOW.number(),
        rehearsal: false,
        work,
        factors: [].into(),
    };
    let first = entry(0, Event::Opened(Box::new(opening)));
    let log = LogWriter::create(disk, Path::new(""), "tail", &first).expect("a log");
    let path = log.path().to_owned();
    (log, path)
}

struct Bench {
    disk: MemoryDisk,
    path: PathBuf,
    writer: Writer,
    reports: Receiver<Report>,
}

fn bench(pace: Pace) -> Bench {
    let disk = MemoryDisk::new();
    let (log, path) = new_log(&disk);
    let (tell, reports) = mpsc::channel();
    let report = move |report| tell.send(report).expect("the test listens");
    let writer = Writer::start(log, pace, report).expect("a thread");
    Bench { disk, path, writer, reports }
}

impl Bench {
    fn next(&self) -> Report {
        self.reports.recv_timeout(LONG).expect("a report")
    }

    fn next_saved(&self) -> u64 {
        loop {
            if let Report::Saved { n } = self.next() {
                return n;
            }
        }
    }

    fn there(&self) -> usize {
        inspect(&self.disk, &self.path).expect("readable").entries.len()
    }
}

#[test]
fn entries_are_saved_in_order_and_once() {
    let bench = bench(Pace::default());
    for n in 1..200 {
        bench.writer.save(note(n));
    }
    for n in 1..200 {
        assert_eq!(bench.next(), Report::Saved { n });
    }
    assert_eq!(bench.writer.close(LONG), NONE);
    let opened = open(&bench.disk, &bench.path).expect("the lock is free");
    assert_eq!(opened.entries[1..], (1..200).map(note).collect::<Vec<_>>());
}

#[test]
fn saved_is_said_after_the_sync_and_a_slow_disk_keeps_nobody_waiting() {
    let bench = bench(QUICK);
    bench.disk.shut_gate();
    for n in 1..=50 {
        bench.writer.save(note(n));
    }
    // the sender came through while the disk stands still in the first sync
    assert_eq!(bench.writer.unsaved(), (1..=50).collect::<Vec<_>>());
    let early = bench.reports.recv_timeout(Duration::from_millis(100));
    assert!(early.is_err(), "{early:?} before any sync");
    bench.disk.open_gate();
    assert_eq!(bench.next(), Report::Saved { n: 1 });
    assert_eq!(bench.writer.close(LONG), NONE);
}

#[test]
fn what_was_said_to_be_saved_survives_a_power_cut_at_that_moment() {
    let disk = MemoryDisk::new();
    let (log, path) = new_log(&disk);
    let (tell, reports) = mpsc::channel();
    let at_once = disk.clone();
    let report = move |report| {
        if report == (Report::Saved { n: 2 }) {
            at_once.crash(Loss::All);
        }
        tell.send(report).expect("the test listens");
    };
    let writer = Writer::start(log, QUICK, report).expect("a thread");
    for n in 1..=3 {
        writer.save(note(n));
    }
    let seen: Vec<Report> = (0..2).map(|_| reports.recv_timeout(LONG).expect("a report")).collect();
    assert_eq!(seen, [Report::Saved { n: 1 }, Report::Saved { n: 2 }]);
    drop(writer);
    let entries = inspect(&disk, &path).expect("readable").entries;
    assert!(entries.len() >= 3, "0, 1 and 2 are there");
    assert_eq!(entries[1..3], [note(1), note(2)]);
}

#[test]
fn while_the_disk_refuses_everything_waits_and_is_saved_when_there_is_room() {
    let bench = bench(QUICK);
    bench.disk.fail_all(Some(Failure::NoSpace(20)));
    for n in 1..=3 {
        bench.writer.save(note(n));
    }
    loop {
        match bench.next() {
            Report::Refused { waiting: 3, why } => {
                assert!(!why.is_empty());
                break;
            }
            Report::Refused { waiting, .. } => assert!(waiting < 3),
            saved @ Report::Saved { .. } => panic!("{saved:?}"),
        }
    }
    bench.disk.fail_all(None);
    assert_eq!([1, 2, 3], [bench.next_saved(), bench.next_saved(), bench.next_saved()]);
    assert_eq!(bench.writer.unsaved(), NONE);
    assert_eq!(bench.there(), 4);
}

#[test]
fn a_failing_sync_saves_nothing_twice() {
    let bench = bench(QUICK);
    // append, sync: the second call from here on
    bench.disk.fail(bench.disk.calls() + 2, Failure::Io(0));
    bench.writer.save(note(1));
    assert!(matches!(bench.next(), Report::Refused { waiting: 1, .. }));
    assert_eq!(bench.next_saved(), 1);
    bench.writer.save(note(2));
    assert_eq!(bench.next_saved(), 2);
    bench.disk.crash(Loss::All);
    let entries = inspect(&bench.disk, &bench.path).expect("readable").entries;
    assert_eq!(entries[1..], [note(1), note(2)]);
}

#[test]
fn the_first_wait_is_shorter_than_the_ones_after_it() {
    let usual = Pace::default();
    assert_eq!(usual.first, Duration::from_millis(250));
    assert_eq!(usual.then, Duration::from_secs(1));
    // with a second wait that never ends, there is one retry and no more
    let bench = bench(Pace { first: Duration::from_millis(5), then: LONG * 100 });
    bench.disk.fail_all(Some(Failure::Io(0)));
    bench.writer.save(note(1));
    for _ in 0..2 {
        assert!(matches!(bench.next(), Report::Refused { waiting: 1, .. }));
    }
    let third = bench.reports.recv_timeout(Duration::from_millis(100));
    assert!(third.is_err(), "{third:?}");
    // another entry is a reason to try at once
    bench.disk.fail_all(None);
    bench.writer.save(note(2));
    assert_eq!([1, 2], [bench.next_saved(), bench.next_saved()]);
}

#[test]
fn closing_is_bounded_and_says_what_is_not_saved() {
    let bench = bench(QUICK);
    bench.writer.save(note(1));
    assert_eq!(bench.next_saved(), 1);
    bench.disk.fail_all(Some(Failure::NoSpace(0)));
    bench.writer.save(note(2));
    bench.writer.save(note(3));
    assert_eq!(bench.writer.close(Duration::from_millis(60)), [2, 3]);
    assert_eq!(bench.disk.content(&bench.path).expect("the log").last(), Some(&b'\n'));
}

#[test]
fn closing_does_not_wait_for_a_disk_that_hangs() {
    let bench = bench(QUICK);
    bench.disk.shut_gate();
    bench.writer.save(note(1));
    assert_eq!(bench.writer.close(Duration::from_millis(60)), [1]);
    bench.disk.open_gate();
}

#[test]
fn closing_waits_for_room_within_its_bound() {
    let bench = bench(QUICK);
    bench.disk.fail_all(Some(Failure::NoSpace(0)));
    bench.writer.save(note(1));
    assert!(matches!(bench.next(), Report::Refused { .. }));
    let disk = bench.disk.clone();
    let room = std::thread::spawn(move || {
        std::thread::park_timeout(Duration::from_millis(50));
        disk.fail_all(None);
    });
    assert_eq!(bench.writer.close(LONG), NONE);
    room.join().expect("it ended");
}
