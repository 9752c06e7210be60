//! What the system sees of an entry: one write and one sync, where strace(1) may look.

use std::ffi::OsStr;
use std::process::Command;

use crate::hand::{boothside, command, opened, skipped, wait_for_saved};

/// The calls on the log in what strace wrote: the first characters of each.
fn calls_on_the_log(trace: &str) -> Vec<String> {
    let opening = trace.lines().find(|line| line.contains(".jsonl\"") && line.contains("O_CREAT"));
    let opening = opening.unwrap_or_else(|| panic!("the log is created:\n{trace}"));
    let descriptor = opening.rsplit("= ").next().expect("a descriptor").trim();
    let of_log = |call: &str| {
        ["write", "pwrite64", "writev", "fdatasync", "fsync", "ftruncate"].iter().any(|name| {
            let begins = call.strip_prefix(&format!("{name}({descriptor}"));
            begins.is_some_and(|rest| rest.starts_with([',', ')', ' ']))
        })
    };
    let after = trace.split_once(opening).expect("the line").1;
    // each line begins with the number of the thread
    let calls = after.lines().filter_map(|line| line.split_once(' ').map(|(_, call)| call.trim()));
    calls.filter(|call| of_log(call)).map(str::to_owned).collect()
}

#[test]
fn an_entry_is_one_write_and_one_sync() {
    let data = tempfile::tempdir().expect("a folder");
    let trace = data.path().join("trace");
    let may = Command::new("strace").args(["-o", "/dev/null", "true"]).output();
    if !may.is_ok_and(|may| may.status.success()) {
        skipped("there is no strace here, or it may not look");
        return;
    }
    let calls = "trace=openat,write,pwrite64,writev,fdatasync,fsync,ftruncate";
    let words = ["strace", "-f", "-s", "24", "-e", calls, "-o"].map(OsStr::new).into_iter();
    let program = boothside(data.path());
    let argv = program.get_argv().iter().map(std::ops::Deref::deref);
    let words: Vec<&OsStr> = words.chain([trace.as_os_str()]).chain(argv).collect();
    let mut program = opened(command(&words));
    for note in ["one", "two", "three"] {
        program.note(note);
        wait_for_saved(&mut program);
    }
    program.keys("q");
    program.pass(std::time::Duration::from_millis(300));
    program.keys("q");
    assert_eq!(program.ended(), 0);
    let calls = calls_on_the_log(&std::fs::read_to_string(&trace).expect("the trace"));
    assert_eq!(calls.len(), 8, "four lines, each a write and a sync: {calls:#?}");
    for (n, pair) in calls.chunks(2).enumerate() {
        assert!(pair[0].contains(&format!(r#""{{\"n\":{n},"#)), "{pair:?}");
        assert!(pair[0].starts_with("write(") && pair[1].starts_with("fdatasync("), "{pair:?}");
    }
}
