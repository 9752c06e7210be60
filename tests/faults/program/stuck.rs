//! A terminal that stops reading: a window that hangs, a connection that stalls. Clocks, keys, saving and
//! signals go on.

use std::path::Path;
use std::time::Duration;

use boothside_core::session::event::Event;

use crate::hand::{
    Stopwatch, boothside, inspected, is_gone, notes, only_log, opened, rest, wait_for_saved,
};
use crate::pty::Program;
use crate::terminal::signal;

/// Ends a sequence that was cut (ECMA-48, CANCEL), before the terminal is given back.
const CUT: u8 = 0x18;

/// A program in a session, whose terminal has stopped reading and can hold no more.
fn stuck(data: &Path) -> Program {
    let mut program = opened(boothside(data));
    wait_for_saved(&mut program);
    program.keys("?");
    program.pass(Duration::from_millis(300));
    program.hold(true);
    // every size is drawn whole: more than a line of the system's holds
    for size in 0..120 {
        program.resize_unseen(160 + size % 40, 60);
        rest(Duration::from_millis(15));
    }
    program
}

/// Waits until the log holds so many entries.
fn wait_for_entries(data: &Path, count: usize) {
    let watch = Stopwatch::start();
    while inspected(&only_log(data)).entries.len() < count {
        assert!(watch.shows() < Duration::from_secs(5), "nothing is saved");
        rest(Duration::from_millis(20));
    }
}

#[test]
fn keys_count_from_when_they_are_pressed_and_are_saved_at_once() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = stuck(data.path());
    let before = inspected(&only_log(data.path())).entries.len();
    let watch = Stopwatch::start();
    let mut pressed = Vec::new();
    for (told, text) in ["one", "two", "three"].into_iter().enumerate() {
        // the key before it makes a second note no repeat of the first
        program.keys("1");
        rest(Duration::from_millis(150));
        program.keys("n");
        rest(Duration::from_millis(300));
        program.keys(&format!("{text}\r"));
        pressed.push(watch.shows());
        wait_for_entries(data.path(), before + told + 1);
        rest(Duration::from_millis(1_500));
    }
    let entries = inspected(&only_log(data.path())).entries;
    assert_eq!(notes(&entries), ["one", "two", "three"]);
    let told: Vec<i64> = entries.iter().skip(before).map(|entry| entry.t_ms.ms()).collect();
    for (of_hand, of_log) in pressed.windows(2).zip(told.windows(2)) {
        let hand_ms = (of_hand[1] - of_hand[0]).as_millis() as i64;
        let log_ms = of_log[1] - of_log[0];
        assert!((hand_ms - log_ms).abs() < 250, "{hand_ms} ms at the keys, {log_ms} in the log");
    }
    // and when the terminal goes on, it shows what is newest
    program.hold(false);
    program.resize(80, 24);
    // a line of the first screen: the last picture before was the one of all keys
    program.wait_for("? not known  gloves clean before keys");
    assert!(!entries.iter().any(|entry| entry.events.contains(&Event::Closed {})));
    program.kill();
}

#[test]
fn signals_end_it_and_the_terminal_finds_itself_given_back() {
    for name in ["TERM", "INT", "HUP"] {
        let data = tempfile::tempdir().expect("a folder");
        let mut program = stuck(data.path());
        program.bytes.clear();
        signal(program.pid(), name);
        let watch = Stopwatch::start();
        while !is_gone(program.pid()) {
            assert!(watch.shows() < Duration::from_secs(3), "{name} does not end it");
            rest(Duration::from_millis(10));
        }
        program.hold(false);
        program.ended();
        if name != "HUP" {
            let cut = program.bytes.iter().rposition(|byte| *byte == CUT);
            let last = &program.bytes[cut.expect("what was on its way is cut") + 1..];
            let last = String::from_utf8_lossy(last);
            assert!(last.contains("\x1b[?1049l") && last.contains("\x1b[?25h"), "{name}: {last:?}");
            assert!(!last.contains("\x1b[?2026h"), "{name}: no picture after it: {last:?}");
        }
    }
}
