//! A day of twelve hours with two thousand entries: neither memory nor drawing grows beyond the log.
//!
//! What is measured is printed: `cargo test -p boothside --test faults day -- --nocapture`.

use std::io::Write;
use std::time::Duration;

use boothside_core::board::Next;
use boothside_core::session::time::Span;

use crate::hand::Stopwatch;
use crate::time::Shop;

const HOURS: i64 = 12;
const ENTRIES: usize = 2_000;

/// Memory that is this process's alone, bytes (proc(5): statm, resident less shared; pages of 4 KiB
/// assumed, which is the smallest there is).
fn memory() -> i64 {
    let statm = std::fs::read_to_string("/proc/self/statm").expect("proc");
    let mut fields = statm.split(' ').skip(1).map(|field| field.parse::<i64>().expect("pages"));
    let (resident, shared) = (fields.next().expect("one"), fields.next().expect("one"));
    (resident - shared) * 4096
}

/// What one part of the day showed.
struct Part {
    entries: usize,
    log_bytes: u64,
    memory: i64,
    /// Median of drawing the screen anew.
    draw: Duration,
    /// Median of a note: three keys, some letters and Enter, saved on the disk.
    note: Duration,
    /// Median of taking a note back, for which the whole session is folded anew.
    back: Duration,
}

impl std::fmt::Display for Part {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { entries, log_bytes, memory, draw, note, back } = self;
        write!(f, "{entries} entries: log {log_bytes} bytes, memory {memory} bytes, ")?;
        write!(f, "draw {draw:?}, note {note:?}, take back {back:?}")
    }
}

fn median(mut spans: Vec<Duration>) -> Duration {
    spans.sort_unstable();
    spans[spans.len() / 2]
}

fn measured(shop: &mut Shop) -> Part {
    let draws = (0..15).map(|_| {
        let watch = Stopwatch::start();
        let _ = shop.screen();
        watch.shows()
    });
    let draw = median(draws.collect());
    let (mut notes, mut backs) = (Vec::new(), Vec::new());
    for turn in 0..5 {
        let watch = Stopwatch::start();
        shop.note(&format!("measured {turn}"));
        notes.push(watch.shows());
        let watch = Stopwatch::start();
        shop.take_back();
        backs.push(watch.shows());
    }
    let (note, back) = (median(notes), median(backs));
    let log_bytes = std::fs::metadata(&shop.path).expect("the log").len();
    Part { entries: shop.entries(), log_bytes, memory: memory(), draw, note, back }
}

/// One turn of a busy day: what comes next, else a note.
fn turn(shop: &mut Shop) {
    let seconds = 3600 * HOURS as u64 / ENTRIES as u64;
    match shop.next() {
        Next::Wait { .. } | Next::Over | Next::Close => {
            shop.advance(seconds);
            shop.note("looked in, all as it should be");
        }
        _ => shop.advance(seconds).answer(),
    }
}

#[test]
fn two_thousand_entries_in_twelve_hours_cost_what_their_lines_do() {
    // a process of its own, so that other tests' memory is not counted
    if std::env::var_os("BOOTHSIDE_TEST_DAY").is_none() {
        let run = std::process::Command::new(std::env::current_exe().expect("this program"))
            .args(["--exact", "day::two_thousand_entries_in_twelve_hours_cost_what_their_lines_do"])
            .args(["--nocapture", "--test-threads=1"])
            .env("BOOTHSIDE_TEST_DAY", "1")
            .output()
            .expect("it runs");
        let told = String::from_utf8_lossy(&run.stderr);
        let _ = writeln!(std::io::stderr(), "{told}");
        assert!(run.status.success(), "{told}\n{}", String::from_utf8_lossy(&run.stdout));
        return;
    }
    let mut shop = Shop::open("2026-05-12T07:00:00-05:00", chrono_tz::America::Chicago);
    let mut parts = Vec::new();
    for part in 1..=4 {
        while shop.entries() < ENTRIES * part / 4 {
            turn(&mut shop);
        }
        parts.push(measured(&mut shop));
    }
    for part in &parts {
        let _ = writeln!(std::io::stderr(), "{part}");
    }
    assert!(shop.t().ms() >= Span::from_hours(HOURS).ms(), "a day");
    let [first, .., last] = parts.as_slice() else { panic!("parts") };
    // a line costs the same in the evening as in the morning
    let opening = std::fs::read_to_string(&shop.path).expect("text");
    let opening = opening.lines().next().expect("a line").len() as f64;
    let a_line = |part: &Part| (part.log_bytes as f64 - opening) / part.entries as f64;
    assert!(a_line(last) < 1.5 * a_line(first), "{} and {}", a_line(first), a_line(last));
    // and memory grows with the log: an entry in memory is a few times its line
    let log = last.log_bytes as i64 - first.log_bytes as i64;
    let memory = last.memory - first.memory;
    assert!(memory < 4 * log + (2 << 20), "{memory} bytes for {log} bytes of log");
    let after = shop.restart();
    assert!(after.entries() >= ENTRIES, "the day opens again");
}
