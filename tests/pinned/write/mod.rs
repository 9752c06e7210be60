//! How the logs came about: played by keys and by commands, and written once. A log that is there is
//! never written again; where a kind of entry comes to be, a log beside the others plays it:
//! `cargo test -p boothside --test pinned -- --ignored`.

mod air;
mod asks;
mod book;
mod cans;
mod coats;
mod ends;
mod hand;
mod holds;
mod machine;
mod mends;
mod mixing;
mod older;
mod parts;

use std::fmt::Write as _;
use std::fs;

use boothside_core::session::entry::Entry;

use crate::bytes::{sum, written};
use crate::logs::{OLDER, folder, logs};

type Play = fn() -> Vec<Entry>;

const PLAYS: [(&str, Play); 19] = [
    ("air", air::air),
    ("asks", asks::asks),
    ("away", asks::away),
    ("book", book::book),
    ("cans", cans::cans),
    ("closes", asks::closes),
    ("coats", coats::coats),
    ("cold", air::cold),
    ("continued", machine::continued),
    ("ends", ends::ends),
    ("gates", holds::gates),
    ("heat", air::heat),
    ("machine", machine::machine),
    ("mends", mends::mends),
    ("mixing", mixing::mixing),
    ("parts", parts::parts),
    ("pots", holds::pots),
    ("unmixed", holds::unmixed),
    ("weighed", cans::weighed),
];

#[test]
#[ignore = "writes the logs that are not there yet"]
fn write_the_logs() {
    let put = |name: &str, bytes: Vec<u8>| {
        let path = folder().join(format!("{name}.jsonl"));
        if !path.exists() {
            fs::write(path, bytes).expect("written");
        }
    };
    for (name, play) in PLAYS {
        put(name, written(&play()));
    }
    put(OLDER, older::older());
    let kept = fs::read_to_string(folder().join("SHA256SUMS")).unwrap_or_default();
    let mut sums = String::new();
    for log in logs() {
        let name = format!("  {}.jsonl", log.name);
        // a sum that stands is not made to fit a log that was changed
        let stands = kept.lines().find(|line| line.ends_with(&name)).map(str::to_owned);
        let line = stands.unwrap_or_else(|| format!("{}{name}", sum(&log.bytes)));
        let _ = writeln!(sums, "{line}");
    }
    fs::write(folder().join("SHA256SUMS"), sums).expect("written");
}
