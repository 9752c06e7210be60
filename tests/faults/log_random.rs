//! Random sessions, with a fault at every call to the disk in turn; and what one entry costs: one
//! write and one sync.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, Lot, Reading, Reason};
use boothside_core::session::time::Moment;
use boothside_store::double::{Failure, Loss, MemoryDisk, MemoryFile, MemoryLock};
use boothside_store::log::{Follower, LogWriter, News, OpenError, logs_in, open};
use boothside_store::make_folders;
use boothside_store::storage::{Disk, DiskFile};
use common::{folder, opening};
use proptest::prelude::*;

fn text() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[a-z ]{0,20}",
        1 => any::<String>(),
        1 => Just("\",\"chain\":\"0\"}\n{\"n\":1".to_owned()),
        1 => (0..2000_usize).prop_map(|long| "é".repeat(long)),
    ]
}

fn event() -> impl Strategy<Value = Event> {
    let figure = || prop_oneof![any::<i16>().prop_map(f64::from), -1e300..1e300, Just(-0.0)];
    prop_oneof![
        text().prop_map(|text| Event::Note { text }),
        text().prop_map(|face| Event::Dulled { face }),
        (text(), 0..9_u32).prop_map(|(face, coat)| Event::FaceFinished {
            face,
            layer: 1,
            coat,
            pot: None
        }),
        prop::collection::vec(text(), 0..4).prop_map(|faces| Event::Wiped { faces }),
        (text(), text()).prop_map(|(component, lot)| Event::PotMixed {
            pot: "A".into(),
            layer: 1,
            amount_ml: Some(0.1 + 0.2),
            lots: vec![Lot { component, lot, until: None }],
            cans: Vec::new(),
        }),
        prop::option::of(figure())
            .prop_map(|air_c| Event::Reading(Reading { air_c, ..Reading::default() })),
        (text(), figure()).prop_map(|(field, new)| Event::FigureChanged {
            field,
            old: None,
            new,
            why: "mistyped".into()
        }),
        text().prop_map(|hold| Event::HoldOverridden { hold, reason: Reason::Tried }),
        prop::collection::vec(any::<u64>(), 0..4).prop_map(|entries| Event::Struck { entries }),
        any::<i64>().prop_map(|ms| Event::Retimed { entry: 1, when_ms: Moment::from_ms(ms) }),
        Just(Event::GunCleaned {}),
    ]
}

fn entry() -> impl Strategy<Value = Entry> {
    let late = prop::option::of(any::<i64>());
    (prop::collection::vec(event(), 0..3), any::<i64>(), late, text(), any::<bool>()).prop_map(
        |(events, t_ms, when, holds, key)| Entry {
            n: 0,
            t_ms: Moment::from_ms(t_ms),
            at: "2026-05-12T10:42:07.120-05:00".into(),
            by: if key { By::Key } else { By::Machine },
            when_ms: when.map(Moment::from_ms),
            events,
            breaks: Vec::new(),
            seen: Seen { due: Vec::new(), holds: vec![holds] },
            anchor: None,
        },
    )
}

/// A session of up to `most` entries, and where the program is started anew in between.
fn sessions(most: usize) -> impl Strategy<Value = (Vec<Entry>, Vec<bool>)> {
    prop::collection::vec((entry(), prop::bool::weighted(0.2)), 1..most).prop_map(|rows| {
        let (later, anew): (Vec<Entry>, Vec<bool>) = rows.into_iter().unzip();
        let entries = std::iter::once(opening()).chain(later);
        let numbered = entries.zip(0..).map(|(entry, n)| Entry { n, ..entry });
        (numbered.collect(), anew)
    })
}

/// Plays a session to the disk as the program does: opened, each entry tried a second time where it
/// is refused, given up where that fails as well; begun anew where `anew` says so. How many entries
/// were said to be saved.
fn play<D: Disk>(disk: &D, entries: &[Entry], anew: &[bool]) -> usize {
    let made = (0..2).find_map(|_| {
        make_folders(disk, &folder()).ok()?;
        LogWriter::create(disk, &folder(), "2026-05-12-tail", &entries[0]).ok()
    });
    let Some(mut writer) = made else { return 0 };
    for (at, entry) in entries.iter().enumerate().skip(1) {
        if anew[at - 1] {
            let path = writer.path().to_owned();
            drop(writer);
            let Some(opened) = (0..2).find_map(|_| open(disk, &path).ok()) else { return at };
            assert_eq!(opened.entries, entries[..at], "a start in between shows what was saved");
            writer = opened.writer;
        }
        if !(0..2).any(|_| writer.append(entry).is_ok()) {
            return at;
        }
    }
    entries.len()
}

/// After a crash: the entries that were said to be saved are there, or those and the one in flight.
fn holds(disk: &MemoryDisk, entries: &[Entry], said: usize) -> Result<(), TestCaseError> {
    let logs = logs_in(disk, &folder()).unwrap_or_default();
    let mut found = Vec::new();
    for path in logs {
        match open(disk, &path) {
            Ok(opened) => found.push(opened.entries),
            Err(OpenError::Empty) => {}
            Err(why) => return Err(TestCaseError::fail(why.to_string())),
        }
    }
    prop_assert!(found.len() <= 1, "one session is one log");
    let there = found.pop().unwrap_or_default();
    prop_assert!(there.len() >= said, "{} said, {} there", said, there.len());
    prop_assert!(there.len() <= (said + 1).max(1), "{} said, {} there", said, there.len());
    prop_assert_eq!(&there[..], &entries[..there.len()]);
    Ok(())
}

fn failures() -> impl Strategy<Value = Failure> {
    let bytes = || prop_oneof![Just(0_usize), 1..600_usize, Just(1_000_000)];
    prop_oneof![
        bytes().prop_map(Failure::NoSpace),
        bytes().prop_map(Failure::Io),
        bytes().prop_map(Failure::PowerCut),
    ]
}

fn losses() -> impl Strategy<Value = Loss> {
    prop_oneof![
        Just(Loss::All),
        (0..600_usize).prop_map(Loss::Keep),
        (0..600_usize).prop_map(Loss::Zeros),
        Just(Loss::Keep(usize::MAX)),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(600) })]

    /// One fault, at every call in turn.
    #[test]
    fn a_fault_at_every_call_in_turn_loses_nothing_that_was_said_to_be_saved(
        (entries, anew) in sessions(6),
        failure in failures(),
        loss in losses(),
    ) {
        let whole = MemoryDisk::new();
        prop_assert_eq!(play(&whole, &entries, &anew), entries.len());
        for call in 0..whole.calls() {
            let disk = MemoryDisk::new();
            disk.fail(call, failure);
            let said = play(&disk, &entries, &anew);
            // one refusal and a second try: only the power stops a session
            let stops = matches!(failure, Failure::PowerCut(_));
            prop_assert!(stops || said == entries.len(), "call {}", call);
            disk.crash(loss);
            holds(&disk, &entries, said)?;
        }
    }

    /// A reader beside it never sees anything but a prefix, wherever the writer fails.
    #[test]
    fn who_reads_along_sees_whole_entries_in_order(
        (entries, _) in sessions(6),
        failure in failures(),
        call in 0..40_usize,
    ) {
        let disk = MemoryDisk::new();
        make_folders(&disk, &folder()).expect("room");
        let mut writer =
            LogWriter::create(&disk, &folder(), "2026-05-12-tail", &entries[0]).expect("room");
        let mut reader = Follower::new(&disk, writer.path());
        disk.fail(disk.calls() + call, failure);
        let mut said = 1;
        for entry in &entries[1..] {
            let saved = (0..2).any(|_| writer.append(entry).is_ok());
            said += usize::from(saved);
            match reader.look() {
                Ok(News::Damaged { .. }) => return Err(TestCaseError::fail("damage")),
                Ok(_) => {
                    let seen = reader.entries();
                    prop_assert!(entries.starts_with(seen));
                    prop_assert!(seen.len() >= said, "{} said, {} seen", said, seen.len());
                }
                Err(_) => {}
            }
            if !saved {
                break;
            }
        }
    }
}

/// A disk that writes down what is asked of it.
#[derive(Debug, Clone, Default)]
struct Traced {
    disk: MemoryDisk,
    trace: Arc<Mutex<Vec<String>>>,
}

#[derive(Debug)]
struct TracedFile {
    file: MemoryFile,
    trace: Arc<Mutex<Vec<String>>>,
}

fn note(trace: &Mutex<Vec<String>>, call: String) {
    trace.lock().expect("whole").push(call);
}

impl Traced {
    fn took(&self) -> Vec<String> {
        std::mem::take(&mut self.trace.lock().expect("whole"))
    }

    fn traced(&self, file: MemoryFile) -> TracedFile {
        TracedFile { file, trace: Arc::clone(&self.trace) }
    }
}

impl Disk for Traced {
    type File = TracedFile;
    type Lock = MemoryLock;

    fn create_new(&self, path: &Path) -> io::Result<TracedFile> {
        note(&self.trace, "create".into());
        self.disk.create_new(path).map(|file| self.traced(file))
    }
    fn open(&self, path: &Path) -> io::Result<TracedFile> {
        note(&self.trace, "open".into());
        self.disk.open(path).map(|file| self.traced(file))
    }
    fn read(&self, path: &Path, from: u64) -> io::Result<Vec<u8>> {
        self.disk.read(path, from)
    }
    fn exists(&self, path: &Path) -> io::Result<bool> {
        self.disk.exists(path)
    }
    fn list(&self, folder: &Path) -> io::Result<Vec<String>> {
        self.disk.list(folder)
    }
    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        self.disk.make_folder(folder)
    }
    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        note(&self.trace, "sync folder".into());
        self.disk.sync_folder(folder)
    }
    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        note(&self.trace, "rename".into());
        self.disk.rename(from, to)
    }
    fn remove(&self, path: &Path) -> io::Result<()> {
        note(&self.trace, "remove".into());
        self.disk.remove(path)
    }
    fn lock(&self, path: &Path, holder: &str) -> io::Result<Option<MemoryLock>> {
        self.disk.lock(path, holder)
    }
    fn check_folder(&self, folder: &Path) -> io::Result<()> {
        self.disk.check_folder(folder)
    }

    fn check_place(&self, path: &Path) -> io::Result<()> {
        self.disk.check_place(path)
    }

    fn is_locked(&self, path: &Path) -> io::Result<bool> {
        self.disk.is_locked(path)
    }
}

impl DiskFile for TracedFile {
    fn append(&mut self, bytes: &[u8]) -> io::Result<()> {
        let lines = bytes.iter().filter(|byte| **byte == b'\n').count();
        note(&self.trace, format!("append {lines} line"));
        self.file.append(bytes)
    }
    fn sync(&mut self) -> io::Result<()> {
        note(&self.trace, "sync".into());
        self.file.sync()
    }
    fn set_len(&mut self, len: u64) -> io::Result<()> {
        note(&self.trace, "set length".into());
        self.file.set_len(len)
    }
    fn len_at(&self, path: &Path) -> io::Result<Option<u64>> {
        self.file.len_at(path)
    }
}

#[test]
fn an_entry_is_one_write_of_one_line_and_one_sync() {
    let entries = common::session(50);
    let disk = Traced::default();
    make_folders(&disk, &folder()).expect("room");
    disk.took();
    let mut writer =
        LogWriter::create(&disk, &folder(), "2026-05-12-tail", &entries[0]).expect("room");
    assert_eq!(disk.took(), ["create", "append 1 line", "sync", "sync folder"]);
    for entry in &entries[1..] {
        writer.append(entry).expect("room");
        assert_eq!(disk.took(), ["append 1 line", "sync"]);
    }
    let path: PathBuf = writer.path().to_owned();
    drop(writer);
    let opened = open(&disk, &path).expect("sound");
    assert_eq!(disk.took(), ["open", "sync", "sync folder"], "what opening shows is durable");
    assert_eq!(opened.entries, entries);
}
