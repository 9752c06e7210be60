//! Disks that fill, refuse or go away while a session runs: told within a second, and everything
//! written in order, once, as soon as there is room.

use std::ffi::OsStr;
use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Duration;

use portable_pty::CommandBuilder;
use rustix::process::{Pid, Resource, Rlimit, prlimit};

use crate::hand::{
    SIZE, Stopwatch, boothside, command, inspected, notes, only_log, opened, skipped,
    wait_for_saved,
};
use crate::pty::Program;

/// A refusal is told within this long (a file's test may be tried anew on a busy machine).
const TOLD: Duration = Duration::from_secs(1);

/// Types a note that the disk refuses, and waits until the screen says so; how long that took.
fn refused(program: &mut Program, text: &str, waiting: usize) -> Duration {
    program.note(text);
    let watch = Stopwatch::start();
    program.wait_until("the banner", |shown| shown.contains(&format!("NOT SAVED {waiting}")));
    watch.shows()
}

/// What the log holds is what was told, in order, once.
fn all_is_there(data: &Path, told: &[&str]) {
    let found = inspected(&only_log(data));
    assert_eq!(found.ending, boothside_store::log::Ending::Whole);
    assert_eq!(notes(&found.entries), told);
}

/// Three notes meet a disk that `shut` makes refuse; then `open` makes it take them.
fn through(program: &mut Program, data: &Path, shut: impl Fn(), open: impl Fn()) {
    let mut told = vec!["before".to_owned()];
    program.note("before");
    wait_for_saved(program);
    let mut quickest = Duration::MAX;
    for round in 0..3 {
        shut();
        let text = |n: u32| format!("r{round} n{n}.");
        quickest = quickest.min(refused(program, &text(1), 1));
        refused(program, &text(2), 2);
        let held = notes(&inspected(&only_log(data)).entries);
        assert_eq!(held, told, "nothing of what was refused is in the log, whole or glued");
        refused(program, &text(3), 3);
        told.extend((1..=3).map(text));
        open();
        wait_for_saved(program);
        let told: Vec<&str> = told.iter().map(String::as_str).collect();
        all_is_there(data, &told);
        if quickest < TOLD {
            return;
        }
    }
    panic!("a refusal was told after {quickest:?}");
}

fn limit_file_size(pid: u32, bytes: Option<u64>) {
    let pid = Pid::from_raw(i32::try_from(pid).expect("a process")).expect("a process");
    let limit = Rlimit { current: bytes, maximum: None };
    prlimit(Some(pid), Resource::Fsize, limit).expect("a limit of our own program");
}

#[test]
fn a_limit_that_tears_a_line_is_told_and_everything_is_written_once_it_is_lifted() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    let pid = program.pid();
    // a second program reads along: it never tells half a line
    let mut second = Program::run(boothside(data.path()), SIZE);
    second.wait_for("READ ONLY");
    let shut = || {
        let length = fs::metadata(only_log(data.path())).expect("the log").len();
        limit_file_size(pid, Some(length + 40));
    };
    through(&mut program, data.path(), shut, || limit_file_size(pid, None));
    assert!(!second.text().contains("damaged"), "{}", second.text());
    program.note("goes on");
    wait_for_saved(&mut program);
    program.kill();
    second.kill();
}

#[test]
fn leaving_while_the_disk_refuses_says_what_is_not_saved() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    limit_file_size(program.pid(), Some(10));
    refused(&mut program, "lost", 1);
    program.keys("q");
    program.pass(Duration::from_millis(300));
    program.keys("q");
    assert_eq!(program.ended(), 1);
    let told = String::from_utf8_lossy(&program.bytes).into_owned();
    let (_, after) = told.rsplit_once("\x1b[?1049l").expect("the screen is given back");
    assert!(after.contains("NOT SAVED: the disk did not take entries [1]"), "{after:?}");
    all_is_there(data.path(), &[]);
}

#[test]
fn a_folder_that_goes_away_is_told_and_everything_is_written_when_it_is_back() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    let (here, gone) = (data.path().join("sessions"), data.path().join("gone"));
    let away = || fs::rename(&here, &gone).expect("moved");
    program.note("before");
    wait_for_saved(&mut program);
    away();
    refused(&mut program, "one.", 1);
    refused(&mut program, "two.", 2);
    fs::rename(&gone, &here).expect("moved back");
    wait_for_saved(&mut program);
    all_is_there(data.path(), &["before", "one.", "two."]);
    program.kill();
}

/// Somebody whom permissions bind: the root of a container drops what makes it pass them.
fn bound(data: &Path) -> Option<CommandBuilder> {
    if !rustix::process::geteuid().is_root() {
        return Some(boothside(data));
    }
    let nobody = 65_534;
    let exe = OsStr::new(env!("CARGO_BIN_EXE_boothside"));
    let words = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"].map(OsStr::new);
    let tried = Command::new(words[0]).args(&words[1..]).args([exe, "--version".as_ref()]).output();
    if !tried.is_ok_and(|tried| tried.status.success()) {
        skipped("root passes every permission, and setpriv cannot start the program without it");
        return None;
    }
    std::os::unix::fs::chown(data, Some(nobody), Some(nobody)).expect("given away");
    let words = words.into_iter().chain([exe, "--data".as_ref(), data.as_os_str()]);
    Some(command(&words.collect::<Vec<_>>()))
}

fn permit(folder: &Path, mode: u32) {
    fs::set_permissions(folder, Permissions::from_mode(mode)).expect("permissions");
}

#[test]
fn a_folder_that_turns_read_only_or_shut_loses_nothing() {
    let data = tempfile::tempdir().expect("a folder");
    let Some(command) = bound(data.path()) else { return };
    let mut program = opened(command);
    let sessions = data.path().join("sessions");
    // the log is open already: a folder that takes no new names does not stop it
    permit(&sessions, 0o500);
    program.note("read only");
    wait_for_saved(&mut program);
    permit(&sessions, 0o000);
    refused(&mut program, "shut one.", 1);
    refused(&mut program, "shut two.", 2);
    permit(&sessions, 0o700);
    wait_for_saved(&mut program);
    all_is_there(data.path(), &["read only", "shut one.", "shut two."]);
    program.kill();
}

#[test]
fn where_nothing_can_be_written_the_start_screen_says_why() {
    let data = tempfile::tempdir().expect("a folder");
    let Some(command) = bound(data.path()) else { return };
    permit(data.path(), 0o500);
    let mut program = Program::run(command, SIZE);
    program.wait_for("the example job, for real");
    program.keys(" ");
    program.wait_for("ermission denied");
    program.wait_for("the example job, for real");
    permit(data.path(), 0o700);
    program.kill();
}

/// A small file system of its own, unmounted when dropped.
struct SmallDisk(PathBuf);

impl SmallDisk {
    fn mount(at: &Path) -> Option<Self> {
        let mount = Command::new("mount")
            .args(["-t", "tmpfs", "-o", "size=64k,mode=0700", "none"])
            .arg(at)
            .output();
        let mounted = mount.is_ok_and(|mount| mount.status.success());
        if !mounted {
            skipped("a small file system can be mounted by root alone");
        }
        mounted.then(|| Self(at.to_owned()))
    }
}

impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).output();
    }
}

/// Writes a file until the disk takes no more.
fn fill(file: &Path) {
    for size in (0..=64 * 1024_usize).rev().step_by(1024) {
        if fs::write(file, vec![b'x'; size]).is_ok() {
            return;
        }
    }
}

#[test]
fn a_small_file_system_that_fills_is_told_and_everything_is_written_when_there_is_room() {
    let root = tempfile::tempdir().expect("a folder");
    let Some(disk) = SmallDisk::mount(root.path()) else { return };
    let mut program = opened(boothside(root.path()));
    fill(&root.path().join("filler"));
    // what is left of the file's last page is still free
    let mut told = Vec::new();
    let waiting = loop {
        told.push(format!("{} {}", told.len(), "x".repeat(60)));
        program.note(told.last().expect("one"));
        program.wait_until("taken or refused", |text| {
            !text.contains("A note") && (text.contains(" saved") || text.contains("NOT SAVED 1"))
        });
        if program.text().contains("NOT SAVED 1") {
            break told.len();
        }
        assert!(told.len() < 60, "it never fills");
    };
    assert!(waiting > 1, "some fitted into the last page");
    told.push("while it is full".to_owned());
    refused(&mut program, "while it is full", 2);
    fs::remove_file(root.path().join("filler")).expect("room");
    wait_for_saved(&mut program);
    all_is_there(root.path(), &told.iter().map(String::as_str).collect::<Vec<_>>());
    program.kill();
    drop(disk);
}
