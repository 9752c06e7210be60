//! `boothside sessions` on a data folder.

use std::fs;
use std::path::Path;

use boothside_core::session::event::Event;
use serde_json::Value;

use super::{SessionsArgs, run};
use crate::cli::check::tests::{entry, new_log};

fn listed(data: &Path, json: bool) -> (u8, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = run(&SessionsArgs { json }, data, &mut out, &mut err);
    assert!(err.is_empty());
    (status, String::from_utf8(out).expect("text"))
}

/// Four logs, made out of the order of their times.
fn four_logs(data: &Path) -> boothside_store::log::LogWriter<boothside_store::storage::RealDisk> {
    let folder = data.join("sessions");
    let mut closed = new_log(&folder, "2026-05-12T23:00:00-05:00");
    closed.append(&entry(1, "2026-05-13T09:30:00-05:00", Event::Closed {})).expect("room");
    // 2026-05-12T22:30 in New York is before the one above in Chicago
    let mut reopened = new_log(&folder, "2026-05-12T23:30:00-04:00");
    reopened.append(&entry(1, "2026-05-13T00:00:00-04:00", Event::Closed {})).expect("room");
    let back = Event::Struck { entries: vec![1] };
    reopened.append(&entry(2, "2026-05-13T00:01:00-04:00", back)).expect("room");
    let damaged = new_log(&folder, "2026-05-14T08:00:00-05:00").path().to_owned();
    let mut bytes = fs::read(&damaged).expect("there");
    bytes[9] ^= 1;
    fs::write(&damaged, bytes).expect("written");
    fs::write(folder.join("empty.jsonl"), "").expect("written");
    new_log(&folder, "2026-05-15T08:00:00-05:00")
}

#[test]
fn sessions_are_listed_newest_first_with_their_state() {
    let root = tempfile::tempdir().expect("a folder");
    let held = four_logs(root.path());
    let (status, out) = listed(root.path(), true);
    let answer: Value = serde_json::from_str(&out).expect("one JSON object");
    let rows = answer["sessions"].as_array().expect("a list");
    let told: Vec<(&str, &str)> = rows
        .iter()
        .map(|row| {
            (row["session"].as_str().expect("a name"), row["state"].as_str().expect("a state"))
        })
        .collect();
    let name = "2026-05-12-float-set";
    assert_eq!(status, 0);
    assert_eq!(
        told,
        [
            (format!("{name}-4").as_str(), "open"),
            (name, "closed"),
            (&format!("{name}-2"), "open"),
            ("empty", "empty"),
            (&format!("{name}-3"), "damaged"),
        ]
    );
    assert_eq!(rows[1]["job"], "Float set");
    assert_eq!(rows[1]["opened_at"], "2026-05-12T23:00:00-05:00");
    assert_eq!(rows[1]["last_at"], "2026-05-13T09:30:00-05:00");
    assert_eq!(rows[1]["held_by"], Value::Null);
    let pid = format!("another boothside (process {})", std::process::id());
    assert_eq!(rows[0]["held_by"], pid);
    drop(held);
    let (_, out) = listed(root.path(), false);
    assert!(out.contains("Float set  2026-05-12 23:00  2026-05-13 09:30  closed"), "{out}");
}

#[test]
fn a_data_folder_without_sessions_is_no_error() {
    let root = tempfile::tempdir().expect("a folder");
    let (status, out) = listed(&root.path().join("none"), false);
    assert_eq!(status, 0);
    assert!(out.starts_with("no sessions in "), "{out}");
    let (_, out) = listed(root.path(), true);
    assert_eq!(
        serde_json::from_str::<Value>(&out).expect("JSON")["sessions"],
        Value::Array(vec![])
    );
}
