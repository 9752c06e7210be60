//! The script in docs/file-formats.md verifies the chain of a real log, and finds a change.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::fs;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output};

use boothside_store::storage::RealDisk;
use common::{saved, session};

/// The first Python block of the page, as a reader would copy it.
fn script() -> String {
    let page = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/file-formats.md");
    let page = fs::read_to_string(page).expect("the page");
    let (_, after) = page.split_once("```python\n").expect("a Python block");
    after.split_once("```").expect("its end").0.to_owned()
}

fn python(script: &str, log: &Path) -> Option<Output> {
    let run = Command::new("python3").args(["-c", script]).arg(log).output();
    match run {
        Err(why) if why.kind() == std::io::ErrorKind::NotFound => {
            let _ = writeln!(std::io::stderr(), "skipped: there is no python3 here");
            None
        }
        run => Some(run.expect("python3 runs")),
    }
}

#[test]
fn the_script_in_the_docs_verifies_a_log_and_names_the_line_of_a_change() {
    let script = script();
    assert!(script.lines().count() <= 12, "the page says that it is short");
    let root = tempfile::tempdir().expect("a folder");
    let (path, bytes) = saved(&RealDisk, &root.path().join("sessions"), &session(7));
    let Some(sound) = python(&script, &path) else { return };
    assert!(sound.status.success(), "{sound:?}");
    assert_eq!(String::from_utf8_lossy(&sound.stdout).trim(), "7 lines chained");

    let text = String::from_utf8(bytes).expect("text");
    let tampered = text.replacen("note 4", "note 5", 1);
    assert_ne!(text, tampered);
    let changes = [
        (tampered, 5),
        (
            text.lines()
                .enumerate()
                .filter(|(at, _)| *at != 2)
                .map(|(_, line)| format!("{line}\n"))
                .collect(),
            3,
        ),
        (text.replacen(":1.1}", ":1.2}", 1), 1),
    ];
    for (changed, line) in changes {
        fs::write(&path, changed).expect("written");
        let found = python(&script, &path).expect("python3 was there a moment ago");
        assert_eq!(found.status.code(), Some(1), "{found:?}");
        let told = String::from_utf8_lossy(&found.stderr).into_owned();
        assert!(told.contains(&format!("line {line} does not chain")), "{told}");
    }
}

#[test]
fn the_script_reads_bytes_as_they_are_written() {
    // text from a painter may hold what a careless reader splits lines at
    use boothside_core::session::event::Event;
    let root = tempfile::tempdir().expect("a folder");
    let mut entries = session(2);
    let text = "a\u{2028}b\u{85}c\rd\u{b}e ,\"chain\":\" é".to_owned();
    entries.push(common::entry(2, vec![Event::Note { text }]));
    let (path, _) = saved(&RealDisk, &root.path().join("sessions"), &entries);
    let Some(sound) = python(&script(), &path) else { return };
    assert!(sound.status.success(), "{sound:?}");
}
