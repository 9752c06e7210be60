//! The real terminal: given back whatever ends the program, kept through stops, storms of sizes,
//! few colours and none, and inside tmux.

use std::ffi::OsStr;
use std::path::Path;
use std::process::{Command, Output};
use std::time::Duration;

use boothside_core::session::entry::By;
use portable_pty::CommandBuilder;

use crate::hand::{
    SIZE, boothside, command, inspected, notes, only_log, opened, rest, skipped, wait_for_saved,
};
use crate::pty::Program;

/// What a shell runs; `"$@"` in it is the program.
fn in_a_shell(script: &str, data: &Path) -> CommandBuilder {
    let program = boothside(data);
    let words = ["sh", "-c", script, "sh"].map(OsStr::new).into_iter();
    let argv = program.get_argv().iter().map(std::ops::Deref::deref);
    command(&words.chain(argv).collect::<Vec<_>>())
}

pub(crate) fn signal(pid: u32, name: &str) {
    let sent = Command::new("kill").args(["-s", name, &pid.to_string()]).status();
    assert!(sent.expect("kill").success());
}

/// The program of a shell in the pseudo-terminal.
fn child_of(shell: u32) -> u32 {
    let children = std::fs::read_to_string(format!("/proc/{shell}/task/{shell}/children"));
    let children = children.expect("a shell with children");
    children.split_whitespace().next().expect("a child").parse().expect("a process")
}

/// stty(1) tells modes that are off with a hyphen before them.
fn assert_cooked(after: &str) {
    for mode in ["icanon", "echo", "isig"] {
        assert!(after.split_whitespace().any(|word| word == mode), "{mode} is off:\n{after}");
    }
}

#[test]
fn signals_give_the_shell_its_terminal_back() {
    for (name, status) in [("TERM", 0), ("INT", 0), ("QUIT", 0)] {
        let data = tempfile::tempdir().expect("a folder");
        let script = "trap '' INT QUIT; \"$@\"; echo STATUS $?; stty -a";
        let mut program = opened(in_a_shell(script, data.path()));
        program.note("kept");
        wait_for_saved(&mut program);
        signal(child_of(program.pid()), name);
        program.ended();
        let all = String::from_utf8_lossy(&program.bytes).into_owned();
        let (_, after) = all.rsplit_once("\x1b[?1049l").expect("the screen is given back");
        assert!(after.contains("\x1b[?25h"), "no cursor after {name}: {after:?}");
        assert!(after.contains(&format!("STATUS {status}")), "{name}: {after}");
        assert_cooked(after);
        assert_eq!(notes(&inspected(&only_log(data.path())).entries), ["kept"]);
    }
}

#[test]
fn stopped_and_continued_it_draws_all_anew_and_the_clocks_have_run_on() {
    let data = tempfile::tempdir().expect("a folder");
    let script =
        "set -m; \"$@\"; echo STOPPED; stty -a; sleep 1; fg >/dev/null; echo ENDED; stty -a";
    let mut program = opened(in_a_shell(script, data.path()));
    program.pass(Duration::from_millis(1_100));
    program.keys(" ");
    program.wait_for("yes: gloves");
    program.bytes.clear();
    program.keys("\x1a");
    program.wait_for("STOPPED");
    program.wait_for("yes: gloves");
    let all = String::from_utf8_lossy(&program.bytes).into_owned();
    let (stopped, again) = all.split_once("\x1b[?1049h").expect("entered anew");
    assert!(stopped.contains("\x1b[?1049l"), "{stopped:?}");
    assert_cooked(stopped.rsplit("STOPPED").next().expect("modes"));
    assert!(again.contains("yes: gloves"));
    // it takes keys again, and nothing was taken for sleep
    program.note("goes on");
    wait_for_saved(&mut program);
    let found = inspected(&only_log(data.path()));
    assert_eq!(notes(&found.entries), ["goes on"]);
    assert_eq!(found.entries.iter().find(|entry| entry.by == By::Machine), None);
    program.kill();
}

#[test]
fn stopped_from_outside_it_draws_all_anew() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    program.pass(Duration::from_millis(300));
    signal(program.pid(), "STOP");
    rest(Duration::from_millis(300));
    program.bytes.clear();
    signal(program.pid(), "CONT");
    program.wait_until("drawn anew", |text| text.contains("yes: respirator"));
    program.pass(Duration::from_millis(500));
    let again = String::from_utf8_lossy(&program.bytes).into_owned();
    assert!(again.contains("\x1b[?1049h") && again.contains("yes: respirator"), "{again:?}");
    program.note("goes on");
    wait_for_saved(&mut program);
    program.kill();
}

/// A line that stands on the first screen alone.
const FIRST_SCREEN: &str = "gloves clean before keys";

#[test]
fn a_storm_of_sizes_down_to_one_cell_breaks_nothing() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = opened(boothside(data.path()));
    let mut seed = 7_u32;
    for round in 0..400 {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let (columns, rows) = match round % 8 {
            0 => (1, 1),
            1 => (1, 60),
            2 => (200, 1),
            _ => ((seed >> 8) as u16 % 200 + 1, (seed >> 20) as u16 % 60 + 1),
        };
        program.resize_unseen(columns, rows);
        if round % 20 == 0 {
            program.keys("?");
            program.pass(Duration::from_millis(50));
        }
    }
    program.resize(80, 24);
    // keys that come in a bunch, once it has caught up with the sizes, are taken for a palm
    for _ in 0..40 {
        program.pass(Duration::from_millis(200));
        program.keys("1");
        program.pass(Duration::from_millis(200));
        if program.text().contains(FIRST_SCREEN) {
            break;
        }
    }
    assert!(program.text().contains(FIRST_SCREEN), "it takes keys again:\n{}", program.text());
    program.note("still here");
    wait_for_saved(&mut program);
    assert_eq!(notes(&inspected(&only_log(data.path())).entries), ["still here"]);
    program.kill();
}

#[test]
fn a_terminal_that_cannot_is_told_why() {
    let data = tempfile::tempdir().expect("a folder");
    let mut dumb = boothside(data.path());
    dumb.env("TERM", "dumb");
    let mut program = Program::run(dumb, SIZE);
    assert_eq!(program.ended(), 2);
    let said = String::from_utf8_lossy(&program.bytes).into_owned();
    assert!(said.contains("TERM is 'dumb'") && said.contains("move its cursor"), "{said}");
    assert!(!said.contains('\x1b'), "{said:?}");
}

/// The parameters of every 'select graphic rendition' (ECMA-48, 8.3.117) in what was sent.
fn renditions(bytes: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(bytes);
    let sequences = text.split("\x1b[").skip(1);
    let rendition = |sequence: &str| {
        let end = sequence.find(|c: char| c.is_ascii_alphabetic())?;
        sequence[end..].starts_with('m').then(|| sequence[..end].to_owned())
    };
    sequences.filter_map(rendition).collect()
}

#[test]
fn colours_are_of_the_sixteen_the_ground_is_left_alone_and_no_color_means_none() {
    for no_color in [false, true] {
        let data = tempfile::tempdir().expect("a folder");
        let mut command = boothside(data.path());
        if no_color {
            command.env("NO_COLOR", "1");
        }
        let mut program = opened(command);
        program.keys("?");
        program.pass(Duration::from_millis(400));
        program.note("seen");
        wait_for_saved(&mut program);
        let seen = renditions(&program.bytes);
        let painted = |rendition: &String| rendition.contains("38;") || rendition.contains("48;");
        let beyond = |rendition: &&String| {
            let mut fields = rendition.split(';').skip_while(|field| *field != "38");
            let indexed = fields.nth(1) == Some("5");
            let of_sixteen = fields.next().is_some_and(|n| n.parse().is_ok_and(|n: u8| n < 16));
            rendition.contains("48;") || (rendition.contains("38;") && !(indexed && of_sixteen))
        };
        assert_eq!(seen.iter().find(beyond), None, "a colour of its own, or a painted ground");
        assert_eq!(seen.iter().any(painted), !no_color, "{seen:?}");
        // a bare reset would end bold and reverse as well
        assert!(seen.iter().all(|rendition| !rendition.is_empty()));
        assert!(seen.iter().any(|rendition| rendition.split(';').any(|field| field == "1")));
        program.kill();
    }
}

/// A tmux server of its own, ended when dropped.
struct Tmux(String);

impl Tmux {
    fn start(data: &Path) -> Option<Self> {
        let tmux = Self(format!("boothside-{}", std::process::id()));
        let program = boothside(data);
        let argv = program.get_argv().iter().map(std::ops::Deref::deref);
        let words = ["new-session", "-d", "-x", "80", "-y", "24"].map(OsStr::new);
        let started = tmux.run(words.into_iter().chain(argv));
        match started {
            Ok(output) => {
                assert!(output.status.success(), "{output:?}");
                Some(tmux)
            }
            Err(_) => {
                skipped("there is no tmux here");
                None
            }
        }
    }

    fn run<'a>(&self, words: impl IntoIterator<Item = &'a OsStr>) -> std::io::Result<Output> {
        let mut command = Command::new("tmux");
        command.args(["-f", "/dev/null", "-L", &self.0]).args(words);
        command.env_remove("TMUX").env("TERM", "xterm-256color").env("LC_ALL", "C.UTF-8").output()
    }

    fn told(&self, words: &[&str]) -> String {
        let output = self.run(words.iter().map(OsStr::new)).expect("tmux");
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    fn wait_for(&self, wanted: &str) -> String {
        for _ in 0..600 {
            let shown = self.told(&["capture-pane", "-p"]);
            if shown.contains(wanted) {
                return shown;
            }
            rest(Duration::from_millis(50));
        }
        panic!("never came: {wanted}\n{}", self.told(&["capture-pane", "-p"]));
    }
}

impl Drop for Tmux {
    fn drop(&mut self) {
        let _ = self.run([OsStr::new("kill-server")]);
    }
}

#[test]
fn inside_tmux_it_draws_takes_keys_is_resized_and_ends_with_the_server() {
    let data = tempfile::tempdir().expect("a folder");
    let Some(tmux) = Tmux::start(data.path()) else { return };
    tmux.wait_for("the example job, for real");
    tmux.told(&["send-keys", "-l", " "]);
    tmux.wait_for("yes: respirator");
    rest(Duration::from_millis(1_100));
    tmux.told(&["send-keys", "-l", " "]);
    let shown = tmux.wait_for("yes: gloves");
    assert!(shown.contains("Float set · Primer · ready"), "{shown}");
    tmux.told(&["resize-window", "-x", "40", "-y", "12"]);
    rest(Duration::from_millis(300));
    tmux.told(&["resize-window", "-x", "100", "-y", "30"]);
    tmux.wait_for("SPACE  yes: gloves");
    let pid = tmux.told(&["display-message", "-p", "#{pane_pid}"]);
    let pid: u32 = pid.trim().parse().expect("a process");
    assert!(!crate::hand::is_gone(pid));
    tmux.told(&["kill-server"]);
    let watch = crate::hand::Stopwatch::start();
    while !crate::hand::is_gone(pid) {
        assert!(watch.shows() < Duration::from_secs(1), "it does not end");
        rest(Duration::from_millis(10));
    }
    assert_eq!(inspected(&only_log(data.path())).entries.len(), 2);
}
