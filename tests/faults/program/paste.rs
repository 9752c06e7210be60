//! Pasted text: one piece into a field, nothing elsewhere, and no end to the keys where its end is lost.

use std::time::Duration;

use crate::hand::{boothside, inspected, notes, only_log, opened, rest, wait_for_saved};

#[test]
fn a_paste_goes_into_a_field_as_one_line_and_nowhere_else() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    assert!(String::from_utf8_lossy(&program.bytes).contains("\x1b[?2004h"));
    wait_for_saved(&mut program);
    program.pass(Duration::from_millis(300));
    // each of these would write or leave, were it keys
    program.keys("\x1b[200~qq d w u\r\r8 8  \x1b[201~");
    program.wait_for("pasted text goes into a field");
    assert_eq!(inspected(&only_log(data.path())).entries.len(), 1);
    program.keys("n");
    program.wait_for("A note");
    program.keys("\x1b[200~two\r\nlines\r\n\x1b[201~");
    program.wait_for("two lines");
    assert!(program.text().contains("A note"), "the form is still open:\n{}", program.text());
    program.keys("\r");
    program.wait_until("told", |text| !text.contains("A note"));
    wait_for_saved(&mut program);
    assert_eq!(notes(&inspected(&only_log(data.path())).entries), ["two lines"]);
    program.kill();
}

#[test]
fn a_paste_goes_into_a_field_of_the_book() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = crate::pty::Program::run(boothside(data.path()), (80, 24));
    program.wait_for("new job");
    program.keys("\x1b[200~q\rq\r\x1b[201~");
    program.wait_for("pasted text goes into a field");
    program.keys("\x1b[C");
    program.wait_for("new sheet");
    program.keys("+");
    program.wait_for("carried by");
    program.keys("\x1b[200~Green\nprimer\n\x1b[201~");
    program.wait_for("Green primer");
    program.wait_for("draft kept");
    program.kill();
}

#[test]
fn a_paste_or_a_sequence_without_its_end_does_not_swallow_the_keys() {
    for begun in ["\x1b[200~abc", "\x1b[1;", "\x1b[200~\x1b[201"] {
        let data = tempfile::tempdir().expect("a folder");
        let mut program = opened(boothside(data.path()));
        program.keys(begun);
        program.resize(100, 30);
        program.wait_until("the new size", |text| {
            text.lines().next().is_some_and(|top| top.trim_end().chars().count() > 90)
        });
        rest(Duration::from_millis(1_200));
        program.keys("q");
        program.wait_for("q again leaves");
        program.keys("q");
        assert_eq!(program.ended(), 0, "{begun:?}");
    }
}

#[test]
fn ctrl_c_ends_it_after_a_paste_that_does_not_end() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    program.keys("\x1b[200~");
    program.keys(&"d".repeat(2_000));
    rest(Duration::from_millis(1_200));
    program.keys("\x03");
    assert_eq!(program.ended(), 0);
    assert_eq!(inspected(&only_log(data.path())).entries.len(), 1, "none of it was a key");
}
