//! A terminal that goes away: the program ends within a second, and does not spin until then.
//!
//! The terminal belongs to a process of its own, which is killed: so everything that holds it open
//! is gone at once, as when a window is closed.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use crate::hand::{SIZE, Stopwatch, boothside, inspected, is_gone, only_log, rest, ticks};
use crate::pty::Program;

const DATA: &str = "BOOTHSIDE_TEST_DATA";
const DETACHED: &str = "BOOTHSIDE_TEST_DETACHED";
const WAITS_FOR: &str = "BOOTHSIDE_TEST_WAITS_FOR";

/// Not a test by itself: the owner of a terminal, in which it starts the program.
#[test]
fn owner_of_a_terminal() {
    let Some(data) = std::env::var_os(DATA) else { return };
    let mut command = boothside(data.as_ref());
    command.env_remove(DATA);
    // a terminal that is not the controlling one sends no SIGHUP when it goes
    command.set_controlling_tty(std::env::var_os(DETACHED).is_none());
    let mut program = Program::run(command, SIZE);
    let steps = std::env::var(WAITS_FOR).unwrap_or_default();
    for step in steps.split('|') {
        match step {
            "SPACE" => program.keys(" "),
            text => program.wait_for(text),
        }
        program.pass(Duration::from_millis(1_100));
    }
    let mut out = std::io::stdout();
    writeln!(out, "\nready {}", program.pid()).expect("somebody listens");
    out.flush().expect("somebody listens");
    loop {
        program.pass(Duration::from_secs(1));
    }
}

fn owner(data: &Path, steps: &str, detached: bool) -> (Child, u32) {
    let mut command = Command::new(std::env::current_exe().expect("this program"));
    command.args(["--exact", "closed::owner_of_a_terminal", "--nocapture", "--test-threads=1"]);
    command.env(DATA, data).env(WAITS_FOR, steps).stdout(Stdio::piped()).stderr(Stdio::null());
    if detached {
        command.env(DETACHED, "1");
    }
    let mut child = command.spawn().expect("it starts");
    let lines = BufReader::new(child.stdout.take().expect("piped")).lines();
    let mut lines = lines.map_while(Result::ok);
    let ready = lines.find_map(|line| line.strip_prefix("ready ").map(str::to_owned));
    let pid = ready.expect("the program is up").parse().expect("a process");
    (child, pid)
}

fn closing_ends_it(steps: &str, detached: bool) {
    let data = tempfile::tempdir().expect("a folder");
    let (mut owner, pid) = owner(data.path(), steps, detached);
    let before = ticks(pid).expect("it runs");
    owner.kill().expect("killed");
    owner.wait().expect("gone");
    let watch = Stopwatch::start();
    let mut used = before;
    while !is_gone(pid) {
        used = ticks(pid).unwrap_or(used).max(used);
        let case = format!("{steps}, detached: {detached}");
        assert!(watch.shows() < Duration::from_secs(1), "{case}: {} ticks", used - before);
        rest(Duration::from_millis(10));
    }
    // ending takes some: opening a session uses more than this
    assert!(used - before <= 30, "{steps}: {} hundredths of a second", used - before);
    if steps.contains("SPACE") {
        assert!(!inspected(&only_log(data.path())).entries.is_empty());
    }
}

#[test]
fn a_closed_terminal_ends_the_program_within_a_second_without_spinning() {
    let start = "the example job, for real";
    let steps = "the example job, for real|SPACE|yes: respirator";
    // four questions and the first step: then the parts dry, and a clock runs
    let waits = "the example job, for real|SPACE|yes: respirator|SPACE|yes: gloves|SPACE|\
                 yes: this screen|SPACE|yes: someone knows|SPACE|done: cleaned|SPACE|waiting: parts must dry";
    let cases = [start, steps, waits].into_iter().flat_map(|steps| [(steps, false), (steps, true)]);
    let tried: Vec<_> = cases
        .map(|(steps, detached)| std::thread::spawn(move || closing_ends_it(steps, detached)))
        .collect();
    let failed = tried.into_iter().filter_map(|case| case.join().err()).count();
    assert_eq!(failed, 0, "cases failed");
}
