//! The program, killed at random moments: whatever a screen had shown as saved is in the log.
//!
//! A kill does not lose what the system has cached; that is the memory disk's part
//! (`log_faults.rs`, `log_random.rs`). The long form: `BOOTHSIDE_KILLS=300 cargo test -p boothside
//! --test faults killed -- --nocapture`.

use std::io::Write;
use std::path::PathBuf;
use std::time::Duration;

use boothside_store::log::{Ending, holder};
use boothside_store::storage::RealDisk;
use tempfile::TempDir;

use crate::hand::{self, SIZE, inspected, logs, notes, opened, was_shown_as_saved};
use crate::pty::Program;

/// Rounds of the short form, all hands together.
const ROUNDS: u64 = 20;
/// Hands at work side by side, each with a session of its own.
const HANDS: u64 = 4;

/// SplitMix64 (Steele, Lea and Flood 2014; the constants from memory): enough to vary moments.
struct Random(u64);

impl Random {
    fn below(&mut self, end: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % end
    }
}

struct Killer {
    data: TempDir,
    random: Random,
    /// Notes of which it is known that the log holds them.
    held: Vec<String>,
    typed: u64,
    /// Rounds in which a note was typed, not shown as saved, and there all the same.
    in_flight: u64,
    /// Notes that a screen had shown as saved.
    shown: u64,
}

impl Killer {
    fn new(seed: u64) -> Self {
        let data = tempfile::tempdir().expect("a folder");
        Self { data, random: Random(seed), held: Vec::new(), typed: 0, in_flight: 0, shown: 0 }
    }

    fn log(&self) -> Option<PathBuf> {
        let logs = logs(self.data.path());
        assert!(logs.len() <= 1, "{logs:?}");
        logs.first().cloned()
    }

    fn round(&mut self) {
        let torn = self.log().filter(|_| self.random.below(4) == 0);
        if let Some(log) = torn {
            let mut bytes = std::fs::read(&log).expect("the log");
            bytes.extend_from_slice(b"{\"n\":7,\"t_ms\":12");
            std::fs::write(log, bytes).expect("torn");
        }
        let (typed, bytes) = match self.random.below(5) {
            0 => (Vec::new(), self.kill_while_opening()),
            _ => self.kill_while_noting(),
        };
        self.compare(&typed, &bytes);
    }

    fn kill_while_opening(&mut self) -> Vec<u8> {
        let program = Program::run(hand::boothside(self.data.path()), SIZE);
        hand::rest(Duration::from_millis(self.random.below(150)));
        program.kill_and_read()
    }

    fn kill_while_noting(&mut self) -> (Vec<String>, Vec<u8>) {
        let command = hand::boothside(self.data.path());
        let mut program = match self.log() {
            None => opened(command),
            Some(_) => {
                let mut program = Program::run(command, SIZE);
                program.wait_for("yes: respirator");
                program
            }
        };
        let mut typed = Vec::new();
        for _ in 0..=self.random.below(3) {
            self.typed += 1;
            let text = format!("mark {}.", self.typed);
            program.note(&text);
            typed.push(text);
        }
        // most of the time within what one line needs, else anywhere within a picture or two
        let most_us = if self.random.below(3) == 0 { 300_000 } else { 3_000 };
        hand::rest(Duration::from_micros(self.random.below(most_us)));
        (typed, program.kill_and_read())
    }

    fn compare(&mut self, typed: &[String], bytes: &[u8]) {
        let Some(log) = self.log() else {
            assert!(typed.is_empty() && self.held.is_empty(), "the log is gone");
            return;
        };
        let found = inspected(&log);
        let sound =
            matches!(found.ending, Ending::Whole | Ending::NewlineMissing | Ending::Torn { .. });
        assert!(sound, "{:?}", found.ending);
        assert_eq!(holder(&RealDisk, &log).expect("an answer"), None, "the lock is free");
        assert!(found.entries.iter().zip(0..).all(|(entry, n)| entry.n == n));
        let there = notes(&found.entries);
        let new = there.strip_prefix(self.held.as_slice()).expect("nothing of before is missing");
        assert!(typed.starts_with(new), "typed {typed:?}, there {new:?}");
        let shown = |text: &String| was_shown_as_saved(bytes, SIZE, text);
        let count = typed.iter().filter(|text| shown(text)).count();
        let last = typed.iter().rposition(shown).map_or(0, |at| at + 1);
        assert!(new.len() >= last, "shown {last} of {typed:?}, there {new:?}");
        self.shown += count as u64;
        self.in_flight += (new.len() - last) as u64;
        self.held = there;
    }
}

fn killed(hand: u64, rounds: u64) -> Killer {
    let mut killer = Killer::new(0xb007_51de ^ (hand << 32) ^ u64::from(std::process::id()));
    for _ in 0..rounds {
        killer.round();
    }
    // in the end it opens, and all is there
    let mut program = Program::run(hand::boothside(killer.data.path()), SIZE);
    program.wait_for("SPACE");
    program.kill();
    killer.compare(&[], &[]);
    killer
}

#[test]
fn whatever_a_screen_had_shown_as_saved_is_in_the_log_of_a_killed_program() {
    let asked = std::env::var("BOOTHSIDE_KILLS").ok().and_then(|rounds| rounds.parse().ok());
    let rounds = asked.unwrap_or(ROUNDS).div_ceil(HANDS);
    let hands = (0..HANDS).map(|hand| std::thread::spawn(move || killed(hand, rounds)));
    let hands: Vec<_> = hands.collect();
    let killers: Vec<Killer> =
        hands.into_iter().map(|hand| hand.join().expect("nothing is lost")).collect();
    let sum = |of: fn(&Killer) -> u64| killers.iter().map(of).sum::<u64>();
    let typed = sum(|killer| killer.typed);
    let shown = sum(|killer| killer.shown);
    let in_flight = sum(|killer| killer.in_flight);
    let _ = writeln!(
        std::io::stderr(),
        "{} kills, {typed} notes typed, {shown} shown as saved, {in_flight} saved and not shown",
        rounds * HANDS
    );
    assert!(shown > 0, "the screens were read");
}
