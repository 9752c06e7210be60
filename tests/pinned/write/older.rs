//! A log as a program wrote it that named no rules, and left out what this one always writes: made
//! line by line, for the store of today writes more.

use std::collections::BTreeSet;

use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;
use boothside_core::session::time::Span;
use boothside_core::work::job::Shop;
use serde_json::Value;
use sha2::{Digest, Sha256};

use super::book::{full_job, opened};
use super::hand::Hand;
use crate::rig::Rig;

pub(super) fn older() -> Vec<u8> {
    let mut work = full_job();
    (work.shop, work.system.close) = (Shop::default(), Vec::new());
    let mut hand = Hand::at(Rig::of(opened(work, false, &[]), None));
    hand.tell(Command::HangPart { part: "lid".into() });
    hand.rig.space();
    hand.tell(Command::Restarted { away: Span::from_minutes(9) });
    hand.rig.space();
    let mut chain = "0".repeat(64);
    let mut bytes = Vec::new();
    for mut entry in hand.entries() {
        entry.events.iter_mut().for_each(by_first_rules);
        let body = body(&entry);
        let head = body.strip_suffix('}').expect("an object");
        let hash = Sha256::new().chain_update(&chain).chain_update(head).finalize();
        chain = hash.iter().map(|byte| format!("{byte:02x}")).collect();
        bytes.extend_from_slice(format!("{head},\"chain\":\"{chain}\"}}\n").as_bytes());
    }
    bytes
}

fn by_first_rules(event: &mut Event) {
    match event {
        Event::Opened(opening) => opening.rules = 1,
        Event::Restarted { rules, .. } => *rules = 1,
        _ => {}
    }
}

/// An entry's line without all that goes without saying, and is written all the same.
fn body(entry: &Entry) -> String {
    let mut spared = BTreeSet::new();
    spare(entry, &serde_json::to_value(entry).expect("JSON"), "", &mut spared);
    let mut text = serde_json::to_string(entry).expect("JSON");
    for pair in spared {
        text = text.replace(&format!("{pair},"), "").replace(&format!(",{pair}"), "");
    }
    assert_eq!(&serde_json::from_str::<Entry>(&text).expect("an entry"), entry);
    text
}

/// Finds every key without which the entry says the same, with its value.
fn spare(entry: &Entry, whole: &Value, path: &str, spared: &mut BTreeSet<String>) {
    let keys: Vec<String> = match whole.pointer(path) {
        Some(Value::Object(object)) => object.keys().cloned().collect(),
        Some(Value::Array(list)) => (0..list.len()).map(|row| row.to_string()).collect(),
        _ => return,
    };
    for key in keys {
        let mut without = whole.clone();
        let object = without.pointer_mut(path).and_then(Value::as_object_mut);
        let value = object.and_then(|object| object.remove(&key));
        let says = serde_json::from_value::<Entry>(without).ok();
        match value.filter(|_| says.as_ref() == Some(entry)) {
            Some(value) => {
                spared.insert(format!("\"{key}\":{value}"));
            }
            None => spare(entry, whole, &format!("{path}/{key}"), spared),
        }
    }
}
