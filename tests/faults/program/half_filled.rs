//! A form that is half filled in, and the program killed.

use std::fs;
use std::time::Duration;

use crate::hand::{boothside, rest};
use crate::pty::Program;

const SIZE: (u16, u16) = (80, 24);

#[test]
fn what_was_typed_in_a_form_survives_a_kill_once_it_is_shown_as_kept() {
    let root = tempfile::tempdir().expect("a folder");
    let data = root.path().join("data");
    let mut program = Program::run(boothside(&data), SIZE);
    program.wait_for("new job");
    // the page of the sheets, a new one
    program.keys("\x1b[C");
    program.wait_for("new sheet");
    program.keys("+");
    program.wait_for("carried by");
    program.keys("Green primer\r");
    program.wait_for("draft kept");
    program.keys("s\rData sheet 12");
    program.wait_for("Data sheet 12");
    // the last letters are kept after the key, not before it
    program.wait_until("the last letters kept", |text| {
        text.contains("Data sheet 12") && text.contains("draft kept")
    });
    program.kill();
    let mut program = Program::run(boothside(&data), SIZE);
    program.wait_for("go on filling in: Green primer");
    program.keys(" ");
    program.wait_for("Data sheet 12");
    program.wait_for("solvent");
    program.kill();
    let drafts: Vec<_> = fs::read_dir(data.join("drafts")).expect("a folder").collect();
    assert_eq!(drafts.len(), 1, "one draft, and nothing half written beside it");
}

#[test]
fn kills_while_typing_leave_a_whole_draft() {
    let root = tempfile::tempdir().expect("a folder");
    let data = root.path().join("data");
    for round in 0..12_u64 {
        let mut program = Program::run(boothside(&data), SIZE);
        program.wait_for("letters");
        program.keys("\x1b[C\x1b[C+");
        program.wait_for("New part");
        let text = format!("Part of round {round}");
        for c in text.chars() {
            program.keys(&c.to_string());
        }
        rest(Duration::from_millis(round * 7));
        program.kill();
        for file in fs::read_dir(data.join("drafts")).into_iter().flatten() {
            let path = file.expect("a file").path();
            if path.extension().is_some_and(|end| end == "json") {
                let text = fs::read_to_string(&path).expect("a draft");
                let draft: serde_json::Value = serde_json::from_str(&text).expect("whole JSON");
                let name = draft["texts"]["name"].as_str().unwrap_or_default();
                let so_far = (0..=round).any(|it| format!("Part of round {it}").starts_with(name));
                assert!(so_far, "{name}");
            }
        }
    }
}
