//! Every kind of event, every optional key and every named value stands in one of the logs, by the
//! schema that the types make.

use std::collections::{BTreeMap, BTreeSet};

use boothside_core::session::entry::Entry;
use serde_json::Value;

use crate::logs::logs;
use crate::schema::{Met, Schema};

fn met() -> Met {
    let (schema, mut met) = (Schema::of_entry(), Met::default());
    for log in logs() {
        log.values().iter().for_each(|entry| schema.walk(entry, &mut met));
    }
    met
}

fn lacking<'a>(wanted: &'a BTreeSet<String>, there: &'a BTreeSet<String>) -> Vec<&'a String> {
    wanted.difference(there).collect()
}

#[test]
fn every_kind_of_event_stands_in_a_log() {
    let logs = logs();
    let events = logs.iter().flat_map(crate::logs::Log::values).flat_map(|entry| {
        let events = entry["events"].as_array().expect("events");
        events.iter().map(|event| event.as_object().expect("an event").clone()).collect::<Vec<_>>()
    });
    let there: BTreeSet<String> =
        events.flat_map(|event| event.into_iter().map(|(tag, _)| tag)).collect();
    let kinds: BTreeSet<String> = Schema::of_entry().kinds().into_iter().collect();
    assert_eq!(lacking(&kinds, &there), Vec::<&String>::new(), "no log has these");
    assert!(kinds.len() >= 60, "{}", kinds.len());
}

#[test]
fn every_optional_key_is_once_there_and_once_not() {
    let (keys, _) = Schema::of_entry().all();
    let met = met();
    assert_eq!(lacking(&keys, &met.present), Vec::<&String>::new(), "never there");
    assert_eq!(lacking(&keys, &met.missing), Vec::<&String>::new(), "never missing");
    assert!(keys.len() >= 160, "{}", keys.len());
}

#[test]
fn every_named_value_stands_in_a_log() {
    let (_, values) = Schema::of_entry().all();
    assert_eq!(lacking(&values, &met().branches), Vec::<&String>::new(), "no log has these");
}

/// The schema is believed as to what is optional; here the parser itself is asked.
#[test]
fn a_key_is_optional_for_the_parser_where_the_schema_says_so() {
    let schema = Schema::of_entry();
    let (keys, _) = schema.all();
    // one entry for each key that stands anywhere
    let mut witness: BTreeMap<String, Value> = BTreeMap::new();
    for entry in logs().iter().flat_map(crate::logs::Log::values) {
        let mut met = Met::default();
        schema.walk(&entry, &mut met);
        for key in met.present {
            witness.entry(key).or_insert_with(|| entry.clone());
        }
    }
    for (key, entry) in witness {
        let name = key.rsplit('.').next().expect("a key");
        for without in removals(&entry, name) {
            let mut met = Met::default();
            let parsed = serde_json::from_value::<Entry>(without.clone()).is_ok();
            if !parsed {
                continue;
            }
            // what the parser takes, the schema calls optional there
            schema.walk(&without, &mut met);
            let wrong: Vec<&String> = met.missing.difference(&keys).collect();
            assert_eq!(wrong, Vec::<&String>::new(), "required by the schema alone");
        }
        if keys.contains(&key) {
            let bare = removals(&entry, name);
            let takes = |it: Value| serde_json::from_value::<Entry>(it).is_ok();
            assert!(bare.into_iter().any(takes), "{key} cannot be left out");
        }
    }
}

/// The entry without each of its keys of this name, one at a time.
fn removals(entry: &Value, name: &str) -> Vec<Value> {
    let mut paths = Vec::new();
    find(entry, name, "", &mut paths);
    let without = |path: &String| {
        let mut entry = entry.clone();
        let at = entry.pointer_mut(path).expect("found").as_object_mut().expect("an object");
        at.remove(name);
        entry
    };
    paths.iter().map(without).collect()
}

fn find(value: &Value, name: &str, path: &str, paths: &mut Vec<String>) {
    match value {
        Value::Object(object) => {
            if object.contains_key(name) {
                paths.push(path.to_owned());
            }
            for (key, value) in object {
                let key = key.replace('~', "~0").replace('/', "~1");
                find(value, name, &format!("{path}/{key}"), paths);
            }
        }
        Value::Array(list) => {
            for (at, value) in list.iter().enumerate() {
                find(value, name, &format!("{path}/{at}"), paths);
            }
        }
        _ => {}
    }
}
