//! The terminal's life in a real pseudo-terminal: each `child_…` runs there, in this test program
//! started anew, and the test that starts it looks at what came out.

use std::io::Read;
use std::sync::mpsc::channel;
use std::thread;
use std::time::Duration;

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use ratatui::style::Stylize;

use super::super::signals::{self, Incoming, Sig};
use super::*;

/// Runs `script` in a shell in a pseudo-terminal of 80 columns and 24 rows; `"$@"` in it runs `child`.
fn started(script: &str, child: &str) -> (Box<dyn Child + Send + Sync>, Box<dyn MasterPty + Send>) {
    let size = PtySize { rows: 24, cols: 80, ..PtySize::default() };
    let pair = native_pty_system().openpty(size).unwrap();
    let mut command = CommandBuilder::new("sh");
    command.args(["-c", script, "sh"]);
    command.arg(env::current_exe().unwrap());
    let path = format!("shell::terminal::tests::{child}");
    command.args([&path, "--exact", "--ignored", "--nocapture"]);
    command.env("TERM", "xterm-256color");
    command.env("NO_COLOR", "1");
    command.env("RUST_BACKTRACE", "0");
    (pair.slave.spawn_command(command).unwrap(), pair.master)
}

/// All that came out of `script`, when it has ended.
fn shown(script: &str, child: &str) -> String {
    let (mut process, master) = started(script, child);
    let mut bytes = Vec::new();
    // a pseudo-terminal whose last user is gone ends with an error, not with an end of file
    let _ = master.try_clone_reader().unwrap().read_to_end(&mut bytes);
    process.wait().unwrap();
    String::from_utf8(bytes).unwrap()
}

const ENTERING: &str = "\u{1b}[?1049h";
const LEAVING: &str = "\u{1b}[?1049l\u{1b}[?25h";

/// What came out before the terminal was entered, while it was, and after it was given back.
fn parts(all: &str) -> (&str, &str, &str) {
    let (before, rest) = all.split_once(ENTERING).expect(all);
    let (within, after) = rest.split_once(LEAVING).expect(all);
    (before, within, after)
}

/// stty(1) tells modes that are off with a hyphen before them.
fn assert_cooked(after: &str) {
    for mode in ["icanon", "echo", "isig"] {
        let on = after.split_whitespace().any(|word| word == mode);
        assert!(on, "{mode} is off:\n{after}");
    }
}

#[test]
#[ignore = "runs in a pseudo-terminal, started by another test"]
fn child_draws() {
    let mut screen = Screen::open().unwrap();
    screen.set_title("LOOK · Fin");
    screen.draw(|f| f.render_widget("LOOK".bold().reversed(), f.area())).unwrap();
    screen.ring();
}

#[test]
fn a_frame_is_one_synchronized_update_and_leaving_gives_the_terminal_back() {
    let all = shown("\"$@\"; stty -a", "child_draws");
    let (_, within, after) = parts(&all);
    let (_, frame) = within.split_once("\u{1b}[?2026h").unwrap();
    let (frame, end) = frame.split_once("\u{1b}[?2026l").unwrap();
    assert!(frame.contains("LOOK"), "{frame:?}");
    assert!(within.starts_with("\u{1b}[?2004h\u{1b}[?25l"), "{within:?}");
    assert!(within.contains("\u{1b}]0;LOOK · Fin\u{7}"), "{within:?}");
    // two titles end with one each, and one rings
    assert_eq!(all.matches('\u{7}').count(), 3, "{all:?}");
    assert!(end.ends_with("\u{1b}[?2004l\u{1b}]0;\u{7}"), "title or paste stays: {end:?}");
    assert_cooked(after);
}

#[test]
fn without_colour_bold_and_reverse_are_kept() {
    let all = shown("\"$@\"", "child_draws");
    let (_, within, _) = parts(&all);
    let mut screen = vt100::Parser::new(24, 80, 0);
    screen.process(within.as_bytes());
    let cell = screen.screen().cell(0, 0).unwrap();
    assert!(cell.bold() && cell.inverse() && cell.contents() == "L");
    assert!(!within.contains("\u{1b}[m"), "a bare reset: {within:?}");
}

#[test]
#[ignore = "runs in a pseudo-terminal, started by another test"]
fn child_panics() {
    let mut screen = Screen::open().unwrap();
    screen.draw(|f| f.render_widget("LOOK", f.area())).unwrap();
    panic!("a fault of ours");
}

#[test]
fn a_panic_is_told_after_the_terminal_was_given_back() {
    let all = shown("\"$@\"; stty -a", "child_panics");
    let (before, within, after) = parts(&all);
    assert!(!before.contains("a fault of ours") && !within.contains("a fault of ours"));
    assert!(after.contains("a fault of ours"), "{after}");
    assert_cooked(after);
}

/// A panic cannot leave this: it aborts, and nothing is dropped.
extern "C" fn aborts() {
    panic!("a fault of ours");
}

#[test]
#[ignore = "runs in a pseudo-terminal, started by another test"]
fn child_aborts() {
    let mut screen = Screen::open().unwrap();
    screen.draw(|f| f.render_widget("LOOK", f.area())).unwrap();
    aborts();
}

/// As in a program that is built with `panic = "abort"`: docs/reliability.md says how these tests
/// are run in one.
#[test]
fn an_abort_gives_the_terminal_back_as_well() {
    let all = shown("ulimit -c 0; \"$@\"; echo STATUS $?; stty -a", "child_aborts");
    let (before, within, after) = parts(&all);
    assert!(!before.contains("a fault of ours") && !within.contains("a fault of ours"));
    assert!(after.contains("a fault of ours"), "{after}");
    // a shell tells an end by SIGABRT, number 6, as 128 + 6; where panics abort, the tests' harness
    // stands between and ends with a status of its own
    let status = if cfg!(panic = "abort") { "STATUS 101" } else { "STATUS 134" };
    assert!(after.contains(status), "{after}");
    assert_cooked(after);
}

#[test]
#[ignore = "runs in a pseudo-terminal, started by another test"]
fn child_goes_on_when_another_thread_panics() {
    let mut screen = Screen::open().unwrap();
    let other = thread::Builder::new().name("writer".to_owned());
    let other = other.spawn(|| panic!("a fault elsewhere")).unwrap();
    other.join().unwrap_err();
    screen.draw(|f| f.render_widget("ALIVE", f.area())).unwrap();
}

#[test]
fn a_panic_of_another_thread_is_told_on_leaving() {
    let all = shown("\"$@\"", "child_goes_on_when_another_thread_panics");
    let (_, within, after) = parts(&all);
    // where panics abort there is no going on
    assert!(within.contains("ALIVE") != cfg!(panic = "abort"), "{within:?}");
    assert!(!within.contains("a fault elsewhere"), "{within:?}");
    assert!(after.contains("writer") && after.contains("a fault elsewhere"), "{after}");
}

#[test]
#[ignore = "runs in a pseudo-terminal, started by another test"]
fn child_suspends() {
    let mut screen = Screen::open().unwrap();
    screen.draw(|f| f.render_widget("SAME", f.area())).unwrap();
    screen.suspend().unwrap();
    screen.draw(|f| f.render_widget("SAME", f.area())).unwrap();
}

#[test]
fn ctrl_z_gives_the_terminal_back_and_going_on_draws_all() {
    let script = "set -m; \"$@\"; echo STOPPED; stty -a; fg >/dev/null; echo ENDED; stty -a";
    let all = shown(script, "child_suspends");
    let (_, first, rest) = parts(&all);
    assert!(first.contains("SAME"), "{first:?}");
    let (stopped, again, after) = parts(rest);
    assert!(stopped.contains("STOPPED"), "{stopped:?}");
    assert_cooked(stopped);
    assert!(again.contains("\u{1b}[?25l") && again.contains("SAME"), "{again:?}");
    assert!(after.contains("ENDED"), "{after:?}");
    assert_cooked(after);
}

#[test]
fn where_nothing_could_continue_it_the_program_is_not_stopped() {
    // exec: the program leads the session, as when a terminal starts it itself
    let all = shown("exec \"$@\"", "child_suspends");
    let (_, _, rest) = parts(&all);
    let (_, again, _) = parts(rest);
    assert!(again.contains("SAME"), "{again:?}");
}

#[test]
#[ignore = "runs in a pseudo-terminal, started by another test"]
fn child_waits_for_a_signal() {
    let (tx, rx) = channel::<Incoming>();
    let mut screen = Screen::open().unwrap();
    signals::spawn(tx).unwrap();
    screen.draw(|f| f.render_widget("WAITING", f.area())).unwrap();
    loop {
        match rx.recv_timeout(Duration::from_secs(20)).unwrap() {
            Incoming::Signal(Sig::End) => return,
            Incoming::Signal(Sig::HungUp) => return screen.abandon(),
            Incoming::Key(key) => {
                let told = format!("KEY {:?}", key.key.code);
                screen.draw(|f| f.render_widget(told, f.area())).unwrap();
            }
            _ => {}
        }
    }
}

/// A child that waits for a signal, and what came out of it until it drew.
fn waiting() -> (Box<dyn Child + Send + Sync>, Box<dyn MasterPty + Send>, Box<dyn Read + Send>) {
    let (process, master) = started("exec \"$@\"", "child_waits_for_a_signal");
    let mut reader = master.try_clone_reader().unwrap();
    read_until(&mut reader, "WAITING");
    (process, master, reader)
}

fn read_until(reader: &mut impl Read, text: &str) {
    let mut seen = Vec::new();
    let mut piece = [0; 4096];
    while !String::from_utf8_lossy(&seen).contains(text) {
        let n = reader.read(&mut piece).unwrap();
        assert!(n > 0, "ended before {text}: {}", String::from_utf8_lossy(&seen));
        seen.extend_from_slice(&piece[..n]);
    }
}

/// Waits for the end, a second at most.
fn ended(mut process: Box<dyn Child + Send + Sync>) -> portable_pty::ExitStatus {
    let mut killer = process.clone_killer();
    let (tx, rx) = channel();
    thread::spawn(move || tx.send(process.wait().unwrap()));
    rx.recv_timeout(Duration::from_secs(1)).unwrap_or_else(|_| {
        killer.kill().unwrap();
        panic!("still running after a second")
    })
}

#[test]
#[cfg_attr(panic = "abort", ignore = "the harness stands between, and takes the signal")]
fn keys_come_in_and_sigterm_ends_the_program_within_a_second() {
    use rustix::process::{Pid, Signal, kill_process};
    let (process, master, mut reader) = waiting();
    master.take_writer().unwrap().write_all(b"d").unwrap();
    read_until(&mut reader, "KEY Char('d')");
    let pid = process.process_id().and_then(|id| Pid::from_raw(id.cast_signed()));
    kill_process(pid.unwrap(), Signal::TERM).unwrap();
    assert!(ended(process).success());
    let mut rest = Vec::new();
    let _ = reader.read_to_end(&mut rest);
    assert!(String::from_utf8_lossy(&rest).contains(LEAVING));
}

#[test]
fn a_terminal_that_is_gone_ends_the_program_within_a_second() {
    let (process, master, reader) = waiting();
    drop((master, reader));
    // its own report fails too, for that went to the terminal: only that it ends counts
    ended(process);
}

#[test]
fn a_dumb_terminal_or_a_pipe_is_refused_and_why_is_told() {
    assert!(fit(Some("xterm"), true).is_ok());
    assert!(fit(None, true).is_ok());
    let dumb = fit(Some("dumb"), true).unwrap_err().to_string();
    assert!(dumb.contains("TERM is 'dumb'"), "{dumb}");
    let pipe = fit(Some("xterm"), false).unwrap_err().to_string();
    assert!(pipe.contains("standard output is not one"), "{pipe}");
}
