//! What lies in a data folder may lead elsewhere: links, pipes, second names. Nothing outside the folder is
//! opened for writing, and nothing waits.

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::time::Duration;

use boothside_core::session::event::Event;
use boothside_store::log::{LogWriter, OpenError, open};
use boothside_store::storage::RealDisk;

use crate::hand::{SIZE, Stopwatch, boothside, logs, opened, rest, wait_for_saved};
use crate::pty::Program;
use crate::writer::{entry, opening};

const PRECIOUS: &str = "years of work\n";

/// A data folder with the log of a session, and a file of somebody's beside the folder.
struct Ground {
    root: tempfile::TempDir,
}

impl Ground {
    fn new() -> Self {
        let root = tempfile::tempdir().expect("a folder");
        boothside_store::make_folders(&RealDisk, &root.path().join("data/sessions"))
            .expect("folders");
        fs::write(root.path().join("precious"), PRECIOUS).expect("written");
        Self { root }
    }

    fn data(&self) -> PathBuf {
        self.root.path().join("data")
    }

    fn sessions(&self) -> PathBuf {
        self.data().join("sessions")
    }

    fn precious(&self) -> PathBuf {
        self.root.path().join("precious")
    }

    /// A session of these events in the folder `folder`; its file. Its lock is removed.
    fn log(folder: &Path, events: &[Event]) -> PathBuf {
        let mut log = LogWriter::create(&RealDisk, folder, "2026-05-12-float", &opening())
            .expect("a session");
        for (n, event) in (1..).zip(events) {
            log.append(&entry(n, vec![event.clone()])).expect("saved");
        }
        let path = log.path().to_owned();
        drop(log);
        fs::remove_file(path.with_extension("lock")).expect("its lock");
        path
    }

    fn assert_untouched(&self) {
        assert_eq!(fs::read_to_string(self.precious()).expect("there"), PRECIOUS);
    }
}

fn fifo(path: &Path) {
    let made = Command::new("mkfifo").arg(path).status().expect("mkfifo");
    assert!(made.success());
}

/// What a command of one line says, which ends within ten seconds.
fn says(data: &Path, words: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_boothside"));
    command.arg("--data").arg(data).args(words).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    let watch = Stopwatch::start();
    while child.try_wait().expect("a child").is_none() {
        if watch.shows() > Duration::from_secs(10) {
            child.kill().expect("killed");
            panic!("{words:?} hangs");
        }
        rest(Duration::from_millis(10));
    }
    child.wait_with_output().expect("it said something")
}

fn leave(program: &mut Program) {
    program.pass(Duration::from_millis(300));
    program.keys("q");
    program.wait_for("q again leaves");
    program.keys("q");
    assert_eq!(program.ended(), 0);
}

#[test]
fn a_lock_that_leads_elsewhere_is_not_written_to_and_the_session_is_only_read() {
    for kind in ["a link", "a link to nothing", "a pipe"] {
        let ground = Ground::new();
        let log = Ground::log(&ground.sessions(), &[Event::Note { text: "seen".into() }]);
        let lock = log.with_extension("lock");
        let nothing = ground.root.path().join("nothing");
        match kind {
            "a link" => symlink(ground.precious(), &lock).expect("linked"),
            "a pipe" => fifo(&lock),
            _ => symlink(&nothing, &lock).expect("linked"),
        }
        let before = fs::read(&log).expect("the log");
        let listed = says(&ground.data(), &["sessions"]);
        assert!(String::from_utf8_lossy(&listed.stdout).contains("2026-05-12-float"), "{kind}");
        assert!(matches!(open(&RealDisk, &log), Err(OpenError::Elsewhere { .. })), "{kind}");
        let mut program = Program::run(boothside(&ground.data()), SIZE);
        program.wait_for("READ ONLY");
        assert!(program.text().contains("its lock file: "), "{}", program.text());
        leave(&mut program);
        assert_eq!(fs::read(&log).expect("the log"), before, "{kind}");
        assert!(!nothing.exists(), "a file was made through the link");
        ground.assert_untouched();
    }
}

#[test]
fn a_new_session_whose_name_was_foretold_takes_another() {
    // the name of the day and the job
    let other = tempfile::tempdir().expect("a folder");
    opened(boothside(other.path())).kill();
    let foretold = logs(other.path())[0].file_name().expect("a name").to_owned();
    for kind in ["a link", "a link to nothing", "a pipe"] {
        let ground = Ground::new();
        let lock = ground.sessions().join(&foretold).with_extension("lock");
        let nothing = ground.root.path().join("nothing");
        match kind {
            "a link" => symlink(ground.precious(), &lock).expect("linked"),
            "a pipe" => fifo(&lock),
            _ => symlink(&nothing, &lock).expect("linked"),
        }
        let mut program = opened(boothside(&ground.data()));
        program.note("mine");
        wait_for_saved(&mut program);
        program.kill();
        let made = logs(&ground.data());
        assert_eq!(made.len(), 1, "{kind}");
        assert!(made[0].to_string_lossy().ends_with("-2.jsonl"), "{kind}: {made:?}");
        assert!(!nothing.exists(), "a file was made through the link");
        ground.assert_untouched();
    }
}

#[test]
fn a_log_that_leads_elsewhere_is_only_read() {
    for kind in ["a link", "a second name"] {
        let ground = Ground::new();
        let far = ground.root.path().join("far");
        fs::create_dir(&far).expect("a folder");
        let log = Ground::log(&far, &[Event::Note { text: "seen".into() }]);
        // a torn end would be cut off
        let torn = [fs::read(&log).expect("the log"), b"{\"n\":2".to_vec()].concat();
        fs::write(&log, &torn).expect("torn");
        let here = ground.sessions().join("2026-05-12-float.jsonl");
        match kind {
            "a link" => symlink(&log, &here).expect("linked"),
            _ => fs::hard_link(&log, &here).expect("linked"),
        }
        assert!(matches!(open(&RealDisk, &here), Err(OpenError::Elsewhere { .. })), "{kind}");
        let mut program = Program::run(boothside(&ground.data()), SIZE);
        program.wait_for("READ ONLY");
        assert!(program.text().contains("link"), "it says why:\n{}", program.text());
        leave(&mut program);
        assert_eq!(fs::read(&log).expect("the log"), torn, "{kind}");
        let beside: Vec<_> = fs::read_dir(&far).expect("a folder").collect();
        assert_eq!(beside.len(), 1, "{kind}: {beside:?}");
    }
}

#[test]
fn a_log_that_was_put_elsewhere_while_it_was_written_is_written_no_more() {
    let ground = Ground::new();
    let mut log =
        LogWriter::create(&RealDisk, &ground.sessions(), "float", &opening()).expect("made");
    let far = ground.root.path().join("far.jsonl");
    fs::rename(log.path(), &far).expect("moved");
    symlink(&far, log.path()).expect("linked");
    let before = fs::read(&far).expect("the log");
    let why =
        log.append(&entry(1, vec![Event::Note { text: "mine".into() }])).expect_err("refused");
    assert!(why.to_string().contains("link"), "{why}");
    assert_eq!(fs::read(&far).expect("the log"), before);
}

#[test]
fn folders_that_are_links_take_no_files() {
    let ground = Ground::new();
    let far = ground.root.path().join("far");
    fs::create_dir(&far).expect("a folder");
    fs::remove_dir(ground.sessions()).expect("empty");
    for folder in ["sessions", "drafts", "sheets"] {
        symlink(&far, ground.data().join(folder)).expect("linked");
    }
    let mut program = Program::run(boothside(&ground.data()), SIZE);
    program.wait_for("the example job, for real");
    program.keys(" ");
    program.wait_for("is a link");
    program.keys("\x1b[C");
    program.wait_for("new sheet");
    program.keys("+");
    program.wait_for("carried by");
    program.keys("Green primer\r");
    program.wait_for("NOT KEPT");
    program.kill();
    assert_eq!(fs::read_dir(&far).expect("a folder").count(), 0, "something was written there");
}

#[test]
fn a_data_folder_that_others_may_write_to_is_told() {
    let ground = Ground::new();
    fs::set_permissions(ground.data(), fs::Permissions::from_mode(0o777)).expect("opened up");
    let mut program = Program::run(boothside(&ground.data()), SIZE);
    program.wait_for("others may write to this data folder");
    program.kill();
    fs::set_permissions(ground.data(), fs::Permissions::from_mode(0o755)).expect("closed");
    let mut program = Program::run(boothside(&ground.data()), SIZE);
    program.wait_for("the example job, for real");
    assert!(!program.text().contains("others may write"), "{}", program.text());
    program.kill();
}

/// From the first page of the book to that of the past sessions.
fn to_the_past(program: &mut Program) {
    program.wait_for("the example job, for real");
    program.keys("\x1b[D");
    program.wait_for("the shop's settings");
    program.keys("\x1b[D");
    program.wait_for("past: Float set");
}

#[test]
fn a_closed_session_is_not_changed_by_being_read() {
    let ground = Ground::new();
    let log = Ground::log(&ground.sessions(), &[Event::Closed {}]);
    let before = fs::read(&log).expect("the log");
    let mut program = Program::run(boothside(&ground.data()), SIZE);
    to_the_past(&mut program);
    program.keys(" ");
    program.wait_for("READ ONLY");
    assert!(program.text().contains("the session is closed"), "{}", program.text());
    program.pass(Duration::from_millis(300));
    assert!(!program.text().contains("take back"), "{}", program.text());
    program.keys("u");
    program.pass(Duration::from_millis(1_300));
    program.keys("n");
    program.pass(Duration::from_millis(300));
    program.keys("8");
    program.wait_for("8 goes to the book");
    assert!(!program.text().contains("stays open"), "{}", program.text());
    program.keys("8");
    to_the_past(&mut program);
    program.keys(" ");
    program.wait_for("READ ONLY");
    leave(&mut program);
    let told = String::from_utf8_lossy(&program.bytes).into_owned();
    assert!(told.contains("the session is closed: "), "{told}");
    assert_eq!(fs::read(&log).expect("the log"), before);
    assert!(!log.with_extension("lock").exists(), "it was not even locked");
}

#[test]
fn the_folder_of_a_rehearsal_is_its_owner_s_alone_whatever_the_mask() {
    let temporary = tempfile::tempdir().expect("a folder");
    let data = tempfile::tempdir().expect("a folder");
    let mut command = boothside(data.path());
    command.arg("rehearse");
    command.env("TMPDIR", temporary.path());
    command.umask(Some(0));
    let mut program = Program::run(command, SIZE);
    program.wait_for("rehearsal");
    let made: Vec<_> = fs::read_dir(temporary.path()).expect("a folder").collect();
    assert_eq!(made.len(), 1);
    for folder in made {
        let path = folder.expect("a folder").path();
        let mode = fs::metadata(&path).expect("there").permissions().mode() & 0o777;
        assert_eq!(mode, 0o700, "{}", path.display());
    }
    leave(&mut program);
    assert_eq!(fs::read_dir(temporary.path()).expect("a folder").count(), 0, "it is gone");
}

#[test]
fn a_rehearsal_without_a_folder_says_which_one_is_missing() {
    let data = tempfile::tempdir().expect("a folder");
    let missing = data.path().join("missing");
    let mut command = boothside(data.path());
    command.arg("rehearse");
    command.env("TMPDIR", &missing);
    let mut program = Program::run(command, SIZE);
    assert_eq!(program.ended(), 2);
    let told = String::from_utf8_lossy(&program.bytes).into_owned();
    assert!(told.contains("missing") && told.contains("TMPDIR=DIR"), "{told}");
    assert!(!told.contains("signals") && !told.contains("\x1b[?1049h"), "{told:?}");
    // in the book it is told, and the book stays
    let mut command = boothside(data.path());
    command.env("TMPDIR", &missing);
    let mut program = Program::run(command, SIZE);
    program.wait_for("the example job, as a rehearsal");
    program.keys("\x1b[B ");
    program.wait_for("no rehearsal");
    program.kill();
}
