//! 'Saved' through the whole chain: desk, writer thread, log, a disk that holds its syncs back.

use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

use boothside::shell::writer::{Pace, Report, Writer};
use boothside::update::desk::{Pressed, Written};
use boothside::view;
use boothside::view::theme::Theme;
use boothside_store::double::{Loss, MemoryDisk};
use boothside_store::log::{LogWriter, open};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use crate::rig::{Rig, first_entry};

const PATIENCE: Duration = Duration::from_secs(20);

fn top_line(rig: &Rig) -> String {
    let mut page = Terminal::new(TestBackend::new(80, 24)).expect("a page");
    let scene = rig.scene();
    page.draw(|frame| view::draw(frame, &scene, &Theme::new(false))).expect("drawn");
    let buffer = page.backend().buffer();
    let lines = (0..2).map(|y| (0..80).map(|x| buffer[(x, y)].symbol()).collect::<String>());
    lines.collect::<Vec<_>>().join("\n")
}

/// Hands reports to the desk until `enough`.
fn hear(rig: &mut Rig, reports: &Receiver<Report>, enough: impl Fn(&Report) -> bool) {
    loop {
        let report = reports.recv_timeout(PATIENCE).expect("the writer reports");
        let done = enough(&report);
        rig.desk.written(match report {
            Report::Saved { n } => Written::Saved { n },
            Report::Refused { waiting, why } => Written::Refused { waiting, why },
        });
        if done {
            return;
        }
    }
}

struct Chain {
    rig: Rig,
    disk: MemoryDisk,
    writer: Writer,
    reports: Receiver<Report>,
    sent: usize,
}

impl Chain {
    fn new() -> Self {
        let disk = MemoryDisk::new();
        let folder = Path::new("/sessions");
        boothside_store::make_folders(&disk, folder).expect("a folder");
        let log = LogWriter::create(&disk, folder, "float", &first_entry(false)).expect("a log");
        let (tx, reports) = channel();
        let report = move |report| {
            let _ = tx.send(report);
        };
        let pace = Pace { first: Duration::from_millis(5), then: Duration::from_millis(5) };
        let writer = Writer::start(log, pace, report).expect("a writer");
        let mut rig = Rig::example();
        rig.saves = false;
        Self { rig, disk, writer, reports, sent: 0 }
    }

    /// Presses SPACE and sends what it wrote to the writer.
    fn note(&mut self, text: &str) {
        self.rig.pass(1.0).press(Pressed::Char('n'));
        self.rig.enter(text);
        for entry in &self.rig.written[self.sent..] {
            self.writer.save(entry.clone());
        }
        self.sent = self.rig.written.len();
    }
}

#[test]
fn saved_is_never_drawn_before_the_sync_of_that_entry_returned() {
    let mut chain = Chain::new();
    assert!(top_line(&chain.rig).contains(" saved"));
    chain.disk.shut_gate();
    chain.note("one");
    assert!(top_line(&chain.rig).contains("saving"), "{}", top_line(&chain.rig));
    // the sync hangs: nothing is reported, and the clocks go on
    assert!(chain.reports.recv_timeout(Duration::from_millis(200)).is_err());
    chain.rig.pass(3.0);
    assert!(top_line(&chain.rig).contains("saving"));
    // what a crash leaves now does not hold the entry
    chain.disk.open_gate();
    hear(&mut chain.rig, &chain.reports, |report| matches!(report, Report::Saved { n: 1 }));
    assert!(top_line(&chain.rig).contains(" saved"));
    // and from now on a crash that loses all that was not synced keeps it
    drop(chain.writer);
    chain.disk.crash(Loss::All);
    let opened = open(&chain.disk, Path::new("/sessions/float.jsonl")).expect("the log");
    assert_eq!(opened.entries.last().map(|entry| entry.n), Some(1));
}

#[test]
fn a_full_disk_is_told_in_a_banner_and_all_is_written_in_order_once_there_is_room() {
    let mut chain = Chain::new();
    chain.disk.leave_room(Some(0));
    for text in ["one", "two", "three"] {
        chain.note(text);
    }
    hear(&mut chain.rig, &chain.reports, |report| {
        matches!(report, Report::Refused { waiting: 3, .. })
    });
    assert!(top_line(&chain.rig).contains("NOT SAVED 3"), "{}", top_line(&chain.rig));
    chain.disk.leave_room(None);
    hear(&mut chain.rig, &chain.reports, |report| matches!(report, Report::Saved { n: 3 }));
    assert!(!top_line(&chain.rig).contains("NOT SAVED"));
    drop(chain.writer);
    chain.disk.crash(Loss::All);
    let opened = open(&chain.disk, Path::new("/sessions/float.jsonl")).expect("the log");
    assert_eq!(opened.entries[1..], chain.rig.written[..], "in order, each once");
}
