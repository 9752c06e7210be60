//! JSON Schemas of every file that boothside keeps, generated from its types into docs/schemas, and
//! the files that they must take and refuse. `UPDATE_DOCS=1` rewrites them.

use std::fs;
use std::path::{Path, PathBuf};

use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;
use boothside_core::session::entry::Entry;
use boothside_core::work::job::{Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;
use jsonschema::Validator;
use schemars::{JsonSchema, SchemaGenerator};
use serde_json::{Value, json};

use crate::docs::kept;

/// Every schema by the name of its file; a new file type is one line more.
fn schemas() -> Vec<(&'static str, Value)> {
    vec![
        ("sheet", of::<Sheet>()),
        ("part", of::<Part>()),
        ("system", of::<System>()),
        ("job", of::<Job>()),
        ("shop", of::<Shop>()),
        ("can", of::<Can>()),
        ("log-line", log_line()),
    ]
}

fn of<T: JsonSchema>() -> Value {
    SchemaGenerator::default().into_root_schema_for::<T>().to_value()
}

/// A line of the log: an entry, and its chain, which the store adds. An entry inside of another has
/// none.
fn log_line() -> Value {
    let mut generator = SchemaGenerator::default();
    let _ = generator.subschema_for::<Entry>();
    let defs = Value::Object(generator.take_definitions(true));
    let mut line = defs["Entry"].clone();
    line["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    line["title"] = json!("LogLine");
    line["properties"]["chain"] = json!({
        "description": "SHA-256 over the chain of the line before and this line up to it, in hex.",
        "type": "string",
        "pattern": "^[0-9a-f]{64}$"
    });
    line["required"].as_array_mut().expect("what an entry must have").push(json!("chain"));
    line["$defs"] = defs;
    line
}

fn validator(name: &str) -> Validator {
    let (_, schema) = schemas().into_iter().find(|(known, _)| *known == name).expect("a schema");
    jsonschema::draft202012::new(&schema).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// Every file in a folder, with its text.
fn files(folder: &str) -> Vec<(PathBuf, String)> {
    let Ok(entries) = fs::read_dir(root().join(folder)) else { return Vec::new() };
    let paths = entries.map(|entry| entry.expect("an entry").path()).filter(|path| path.is_file());
    paths.map(|path| (path.clone(), fs::read_to_string(path).expect("text"))).collect()
}

fn example(path: &str) -> Value {
    let text = fs::read_to_string(root().join("assets/example").join(path)).expect("the example");
    serde_json::from_str(&text).expect("JSON")
}

#[test]
fn the_schemas_in_the_docs_are_the_types() {
    for (name, schema) in schemas() {
        let text = serde_json::to_string_pretty(&schema).expect("JSON");
        kept(&format!("schemas/{name}.schema.json"), &format!("{text}\n"));
    }
}

#[test]
fn every_schema_is_one_by_its_own_standard() {
    for (name, schema) in schemas() {
        assert!(jsonschema::draft202012::meta::is_valid(&schema), "{name}");
    }
}

#[test]
fn the_example_and_the_files_of_earlier_programs_fit() {
    let mut count = 0;
    for (name, folder) in [
        ("sheet", "sheets"),
        ("part", "parts"),
        ("system", "systems"),
        ("job", "jobs"),
        ("shop", ""),
    ] {
        let validator = validator(name);
        for book in ["assets/example", "tests/fixtures/format-1"] {
            let json = files(&format!("{book}/{folder}"));
            let json =
                json.iter().filter(|(path, _)| path.extension().is_some_and(|it| it == "json"));
            for (path, text) in json {
                let file: Value = serde_json::from_str(text).expect("JSON");
                let wrong = validator.iter_errors(&file).next().map(|error| error.to_string());
                assert_eq!(wrong, None, "{}", path.display());
                count += 1;
            }
        }
    }
    assert!(count >= 14, "{count} files");
}

#[test]
fn every_line_of_a_log_fits() {
    let validator = validator("log-line");
    let mut count = 0;
    for (path, text) in files("tests/fixtures/format-1/sessions") {
        // the damaged one is there to be damaged; its continuation is whole
        if path.ends_with("2026-05-13-damaged.jsonl") {
            continue;
        }
        for line in text.lines() {
            let line: Value = serde_json::from_str(line).expect("JSON");
            let wrong = validator.iter_errors(&line).next().map(|error| error.to_string());
            assert_eq!(wrong, None, "{}: {line}", path.display());
            count += 1;
        }
    }
    assert!(count > 10, "{count} lines");
}

/// A file with the value at `pointer` made another; where there was none, it is added.
fn with(mut file: Value, pointer: &str, value: Value) -> Value {
    let (at, key) = pointer.rsplit_once('/').expect("a pointer");
    file.pointer_mut(at).expect("an object")[key] = value;
    file
}

#[test]
fn what_the_program_refuses_to_read_does_not_fit() {
    let sheet = || example("sheets/grey-primer.json");
    let part = || example("parts/cuff.json");
    let shape = |shape| with(part(), "/faces/0/shape", shape);
    let wrong: [(&str, Value); 8] = [
        ("sheet", with(sheet(), "/colour", json!("grey"))),
        ("sheet", with(sheet(), "/name", json!(7))),
        ("sheet", with(sheet(), "/carrier", json!("oil"))),
        ("sheet", with(sheet(), "/pot_life/life/law", json!("linear"))),
        ("part", with(part(), "/faces", json!({}))),
        ("part", shape(json!({ "kind": "sphere", "diameter_m": 1 }))),
        ("part", shape(json!({ "kind": "disc" }))),
        ("part", shape(json!({ "kind": "disc", "diameter_m": 1, "height_m": 1 }))),
    ];
    for (name, file) in wrong {
        assert!(!validator(name).is_valid(&file), "{name}: {file}");
        let read = match name {
            "sheet" => serde_json::from_value::<Sheet>(file).map(drop),
            _ => serde_json::from_value::<Part>(file).map(drop),
        };
        assert!(read.is_err(), "the program reads it");
    }
    let fits = shape(json!({ "kind": "disc", "diameter_m": 1 }));
    assert!(validator("part").is_valid(&fits), "and so does a shape that it knows");
}

#[test]
fn a_line_of_the_log_has_a_chain_and_known_events() {
    let line = json!({
        "n": 1, "t_ms": 5000, "at": "2026-05-12T10:42:07.120-05:00", "by": "key",
        "events": [{ "note": { "text": "fan on" } }], "chain": "0".repeat(64)
    });
    let validator = validator("log-line");
    assert!(validator.is_valid(&line));
    let mut chainless = line.clone();
    chainless.as_object_mut().expect("a line").remove("chain");
    let wrong = [
        chainless,
        with(line.clone(), "/chain", json!("0".repeat(63))),
        with(line.clone(), "/by", json!("hand")),
        with(line.clone(), "/n", json!(-1)),
        with(line.clone(), "/events", json!([{ "sung": { "text": "a song" } }])),
        with(line.clone(), "/mood", json!("calm")),
    ];
    for line in wrong {
        assert!(!validator.is_valid(&line), "{line}");
    }
}

/// An entry that a continuation holds has no chain of its own.
#[test]
fn an_entry_inside_of_another_has_no_chain() {
    let entry = json!({
        "n": 0, "t_ms": 0, "at": "2026-05-12T10:42:07.120-05:00", "by": "key",
        "events": [{ "note": { "text": "fan on" } }]
    });
    let line = |inside: Value| {
        let told =
            json!({ "format": 1, "file": "a.jsonl", "line": 2, "byte": 9, "entries": [inside] });
        let line = with(entry.clone(), "/events", json!([{ "continued": told }]));
        with(line, "/chain", json!("0".repeat(64)))
    };
    let validator = validator("log-line");
    assert!(validator.is_valid(&line(entry.clone())));
    assert!(!validator.is_valid(&line(with(entry.clone(), "/chain", json!("0".repeat(64))))));
}
