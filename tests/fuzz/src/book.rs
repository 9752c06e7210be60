//! Sheets, parts, systems, jobs and the shop's settings.

use std::collections::BTreeMap;

use boothside_core::material::sheet::Sheet;
use boothside_core::physics::rate::Rules;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::time::Moment;
use boothside_core::work::job::FullJob;
use boothside_store::book::{BookError, Item, Kind, check_text, load_job};

use super::picture::look_at;

/// A sheet of `bytes`.
pub fn sheet(bytes: &[u8]) {
    check::<Sheet>(bytes);
}

/// A job of `bytes`: the texts of job, system, part, two sheets and shop, with a form feed between.
/// The part goes by any name, the first sheet where the second's name does not end in `2`.
pub fn job(bytes: &[u8]) {
    let texts: Vec<&[u8]> = bytes.split(|byte| *byte == b'\x0c').collect();
    let text = |at: usize| texts.get(at).and_then(|text| String::from_utf8(text.to_vec()).ok());
    let shelf = |kind: Kind, name: &str| match kind {
        Kind::Job => text(0),
        Kind::System => text(1),
        Kind::Part => text(2),
        Kind::Sheet if name.ends_with('2') => text(4),
        Kind::Sheet => text(3),
        Kind::Shop => text(5),
        Kind::Can => None,
    };
    match load_job(&shelf, "any") {
        Ok(work) => open(work),
        Err(why) => told(&why),
    }
}

fn check<T: Item>(bytes: &[u8]) {
    if let Err(why) = check_text::<T>("any.json".into(), bytes) {
        told(&why);
    }
}

fn told(why: &BookError) {
    let words = why.to_string();
    let steers = |c: char| c.is_control() && c != '\n';
    assert!(!words.is_empty() && !words.contains(steers), "{words:?}");
    if let BookError::Flawed(flaws) = why {
        assert!(
            flaws.iter().all(|flaw| flaw.line.is_some() && !flaw.accepted.is_empty()),
            "{flaws:?}"
        );
    }
}

fn open(work: FullJob) {
    let opening = Opening {
        format: LOG_FORMAT,
        rules: Rules::NOW.number(),
        rehearsal: false,
        work,
        factors: BTreeMap::new(),
    };
    look_at(vec![Entry {
        n: 0,
        t_ms: Moment::OPENING,
        at: "2026-05-12T10:00:00.000-05:00".into(),
        by: By::Key,
        when_ms: None,
        events: vec![Event::Opened(Box::new(opening))],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: None,
    }]);
}
