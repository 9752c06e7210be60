//! A real program, killed while it saves, and one that meets a real limit in the middle of a line.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use boothside_core::session::event::Event;
use boothside_store::log::{Ending, Holder, OpenError, holder, inspect, open};
use boothside_store::storage::RealDisk;
use common::{entry, saved, session};

const LOG: &str = "BOOTHSIDE_TEST_LOG";

/// Not a test by itself: the other program. It saves notes until it is killed or refused, and
/// says which are saved.
#[test]
fn saving_program() {
    let Some(log) = std::env::var_os(LOG) else { return };
    let mut writer = open(&RealDisk, Path::new(&log)).expect("sound").writer;
    loop {
        let n = writer.next_n();
        let text = format!("note {n}: {}", "x".repeat(usize::try_from(n % 300).expect("small")));
        let refused = writer.append(&entry(n, vec![Event::Note { text }])).is_err();
        let mut out = std::io::stdout();
        let said = if refused { "refused" } else { "saved" };
        writeln!(out, "\n{said} {n}").expect("somebody listens");
        out.flush().expect("somebody listens");
        if refused {
            // stay, so that nothing is tidied up by ending
            loop {
                std::thread::park();
            }
        }
    }
}

fn new_log() -> (tempfile::TempDir, PathBuf) {
    let root = tempfile::tempdir().expect("a folder");
    let (path, _) = saved(&RealDisk, &root.path().join("sessions"), &session(2));
    (root, path)
}

fn spawn(mut command: Command, log: &Path) -> (Child, impl Iterator<Item = (String, u64)>) {
    let arguments = ["--exact", "saving_program", "--nocapture", "--test-threads=1"];
    let command =
        command.args(arguments).env(LOG, log).stdout(Stdio::piped()).stderr(Stdio::null());
    let mut child = command.spawn().expect("it starts");
    let lines = BufReader::new(child.stdout.take().expect("piped")).lines();
    let said = lines.map_while(Result::ok).filter_map(|line| {
        let (said, n) = line.split_once(' ')?;
        let known = said == "saved" || said == "refused";
        known.then(|| Some((said.to_owned(), n.parse().ok()?)))?
    });
    (child, said)
}

fn this_program() -> PathBuf {
    std::env::current_exe().expect("this program")
}

#[test]
fn a_program_killed_while_saving_loses_nothing_that_it_said_and_lets_go_of_the_lock() {
    for round in 0..12_usize {
        let (_root, log) = new_log();
        let (mut child, mut said) = spawn(Command::new(this_program()), &log);
        let (_, first) = said.next().expect("it saves");
        assert_eq!(first, 2);
        let pid = Some(child.id());
        assert_eq!(holder(&RealDisk, &log).expect("an answer"), Some(Holder { pid }));
        assert!(
            matches!(open(&RealDisk, &log), Err(OpenError::Locked(Holder { pid: p })) if p == pid)
        );
        let some = said.by_ref().take(round * 7).count();
        assert_eq!(some, round * 7);
        child.kill().expect("killed");
        let last = said.last().map_or(first + some as u64, |(_, n)| n);
        child.wait().expect("it ended");
        let opened = open(&RealDisk, &log).expect("free, and mended");
        let there = opened.entries.len() as u64;
        assert!(there == last + 1 || there == last + 2, "{last} said, {there} there");
        assert!(opened.entries.iter().zip(0..).all(|(entry, n)| entry.n == n));
    }
}

#[cfg(unix)]
#[test]
fn a_write_that_the_system_cuts_short_leaves_whole_lines() {
    let (_root, log) = new_log();
    // the largest file that the program may write: its write is cut short in the middle of a line
    let mut shell = Command::new("sh");
    shell.args(["-c", "trap '' XFSZ; ulimit -f 16; exec \"$0\" \"$@\""]).arg(this_program());
    let (mut child, said) = spawn(shell, &log);
    let mut saved = 1;
    for (word, n) in said {
        if word == "refused" {
            assert_eq!(n, saved + 1);
            break;
        }
        saved = n;
    }
    let lines = inspect(&RealDisk, &log).expect("readable");
    child.kill().expect("killed");
    child.wait().expect("it ended");
    assert_eq!(lines.ending, Ending::Whole, "cut back while the program still ran");
    assert_eq!(lines.entries.len() as u64, saved + 1);
    assert!(saved > 10, "the limit was met after a while: {saved}");
    common::reopened(&RealDisk, &log);
}
