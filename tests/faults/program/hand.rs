//! A hand on the real program: where its files are, a session of notes, what its screens showed.

use std::path::{Path, PathBuf};
use std::time::Duration;

use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;
use boothside_store::log::{Inspection, inspect};
use boothside_store::storage::RealDisk;
use portable_pty::CommandBuilder;

use crate::pty::Program;

pub(crate) const SIZE: (u16, u16) = (80, 24);
/// Ends a picture: it is sent as one synchronized update.
const END_OF_PICTURE: &[u8] = b"\x1b[?2026l";

/// The program on this data folder, as a shell would start it.
pub(crate) fn boothside(data: &Path) -> CommandBuilder {
    command(&[env!("CARGO_BIN_EXE_boothside").as_ref(), "--data".as_ref(), data.as_ref()])
}

/// Any command, in a terminal that can.
pub(crate) fn command(words: &[&std::ffi::OsStr]) -> CommandBuilder {
    let mut command = CommandBuilder::new(words[0]);
    command.args(&words[1..]);
    command.env("TERM", "xterm-256color");
    command.env("TZ", "UTC");
    command.env_remove("NO_COLOR");
    command
}

/// Starts the program and opens the example for real.
pub(crate) fn opened(command: CommandBuilder) -> Program {
    let mut program = Program::run(command, SIZE);
    program.wait_for("the example job, for real");
    program.keys(" ");
    program.wait_for("yes: respirator");
    program
}

/// The logs in a data folder.
pub(crate) fn logs(data: &Path) -> Vec<PathBuf> {
    boothside_store::log::logs_in(&RealDisk, &data.join("sessions")).expect("the sessions' folder")
}

/// The only log in a data folder.
pub(crate) fn only_log(data: &Path) -> PathBuf {
    let logs = logs(data);
    assert_eq!(logs.len(), 1, "{logs:?}");
    logs[0].clone()
}

pub(crate) fn inspected(log: &Path) -> Inspection {
    inspect(&RealDisk, log).expect("it can be read")
}

/// The notes among entries, in order.
pub(crate) fn notes(entries: &[Entry]) -> Vec<String> {
    let events = entries.iter().flat_map(|entry| &entry.events);
    let note = |event: &Event| match event {
        Event::Note { text } => Some(text.clone()),
        _ => None,
    };
    events.filter_map(note).collect()
}

impl Program {
    /// Types a note and its Enter, and returns at once.
    pub(crate) fn note(&mut self, text: &str) {
        self.wait_until("no form", |text| !text.contains("A note"));
        // the key before it makes a second note within a second no repeat of the first
        self.keys("1n");
        self.wait_for("A note");
        self.keys(&format!("{text}\r"));
    }
}

/// What a top line says of the disk.
fn says_saved(text: &str) -> bool {
    text.lines().next().is_some_and(|top| top.trim_end().ends_with(" saved"))
}

/// Waits until everything told so far is shown as saved.
pub(crate) fn wait_for_saved(program: &mut Program) {
    program.wait_until("saved", says_saved);
}

/// Whether some whole picture, or the last half of one, showed the note `text` as told, under a top
/// line that said 'saved'.
pub(crate) fn was_shown_as_saved(bytes: &[u8], size: (u16, u16), text: &str) -> bool {
    let told = |shown: &String| shown.contains(text) && !shown.contains("A note");
    pictures(bytes, size).iter().any(|shown| says_saved(shown) && told(shown))
}

/// Every picture in what was sent to a terminal.
pub(crate) fn pictures(bytes: &[u8], (columns, rows): (u16, u16)) -> Vec<String> {
    let mut screen = vt100::Parser::new(rows, columns, 0);
    let mut pictures = Vec::new();
    let mut rest = bytes;
    while !rest.is_empty() {
        let end = rest.windows(END_OF_PICTURE.len()).position(|window| window == END_OF_PICTURE);
        let end = end.map_or(rest.len(), |at| at + END_OF_PICTURE.len());
        screen.process(&rest[..end]);
        pictures.push(screen.screen().contents());
        rest = &rest[end..];
    }
    pictures
}

/// Lets time pass without looking at anything.
pub(crate) fn rest(span: Duration) {
    std::thread::park_timeout(span);
}

/// Whether a program is gone, or dead and waiting for its parent to notice.
pub(crate) fn is_gone(pid: u32) -> bool {
    let stat = std::fs::read_to_string(format!("/proc/{pid}/stat")).unwrap_or_default();
    stat.rsplit(") ").next().is_none_or(|rest| rest.is_empty() || rest.starts_with('Z'))
}

/// Processor time of a program so far, in hundredths of a second (proc(5): `utime` and `stime`, at
/// 100 ticks a second on every Linux that has a user).
pub(crate) fn ticks(pid: u32) -> Option<u64> {
    let stat = std::fs::read_to_string(format!("/proc/{pid}/stat")).ok()?;
    let mut fields = stat.rsplit_once(") ")?.1.split(' ');
    let user: u64 = fields.nth(11)?.parse().ok()?;
    let system: u64 = fields.next()?.parse().ok()?;
    Some(user + system)
}

/// Says on standard error why a test looked at nothing.
pub(crate) fn skipped(why: &str) {
    use std::io::Write;
    let _ = writeln!(std::io::stderr(), "skipped: {why}");
}

/// Measures how long the machine takes.
pub(crate) struct Stopwatch(std::time::Instant);

impl Stopwatch {
    #[allow(clippy::disallowed_methods, reason = "a test measures the program from outside")]
    pub(crate) fn start() -> Self {
        Self(std::time::Instant::now())
    }

    pub(crate) fn shows(&self) -> Duration {
        self.0.elapsed()
    }
}
