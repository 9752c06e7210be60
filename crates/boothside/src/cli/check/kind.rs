//! What a file is meant to be: by its ending, its folder, its name, and last by its content.

use std::path::Path;

use boothside_store::book::Kind;
use serde_json::{Map, Value};

/// What a file is meant to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FileKind {
    Log,
    Book(Kind),
}

const KNOWN: &str = "a sheet, part, system, job, can, shop file or log";

/// Says what the file is meant to be.
pub(super) fn recognise(file: &Path, bytes: &[u8]) -> Result<FileKind, String> {
    if file.extension().is_some_and(|ending| ending == "jsonl") {
        return Ok(FileKind::Log);
    }
    by_folder(file).map_or_else(|| by_content(bytes), |kind| Ok(FileKind::Book(kind)))
}

fn by_folder(file: &Path) -> Option<Kind> {
    if file.file_name()? == "shop.json" {
        return Some(Kind::Shop);
    }
    let folder = file.parent()?.file_name()?.to_str()?;
    Kind::ALL.into_iter().find(|kind| kind.folder() == Some(folder))
}

fn by_content(bytes: &[u8]) -> Result<FileKind, String> {
    let first_line = bytes.split(|byte| *byte == b'\n').next().unwrap_or_default();
    if let Ok(Value::Object(line)) = serde_json::from_slice(first_line)
        && line.contains_key("events")
    {
        return Ok(FileKind::Log);
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let object: Map<String, Value> = serde_json::from_slice(bytes)
        .map_err(|why| format!("is not JSON: {why}; accepted: {KNOWN}"))?;
    let found = MARKS.iter().find(|(_, keys)| keys.iter().any(|key| object.contains_key(*key)));
    let (kind, _) = found.ok_or_else(|| format!("is none of ours; accepted: {KNOWN}"))?;
    Ok(FileKind::Book(*kind))
}

/// Fields that only one kind has; the first that fits wins.
const MARKS: [(Kind, &[&str]); 6] = [
    (Kind::Sheet, &["mix", "between_coats", "carrier"]),
    (Kind::System, &["layers", "close"]),
    (Kind::Part, &["faces"]),
    (Kind::Job, &["parts", "system"]),
    (Kind::Can, &["component", "left_ml", "left_g"]),
    (Kind::Shop, &["units", "transfer_pct", "loss_ml", "spare_pct", "bell"]),
];
