//! The core stays pure, and the workspace tidy: read from its own files.

use std::fs;
use std::path::{Path, PathBuf};

/// No file of the workspace is longer.
const MOST_LINES: usize = 600;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Every Rust file under `folder`.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap_or_else(|e| panic!("{}: {e}", folder.display()));
    let mut found = Vec::new();
    for entry in entries {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            if path.file_name().is_some_and(|name| name != "target") {
                found.extend(sources(&path));
            }
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
    found
}

/// The code of a file: without its comments, its strings, and its test modules, which stand last.
fn code(text: &str) -> String {
    let text = text.split("#[cfg(test)]").next().unwrap_or_default();
    let mut code = String::new();
    for line in text.lines() {
        let line = line.split("//").next().unwrap_or_default();
        for (part, piece) in line.split('"').enumerate() {
            code.push_str(if part % 2 == 0 { piece } else { " " });
        }
        code.push('\n');
    }
    code
}

/// The names under `[table]` of a manifest.
fn names_under(manifest: &str, table: &str) -> Vec<String> {
    let lines = manifest.lines().map(str::trim);
    let after = lines.skip_while(|line| *line != format!("[{table}]")).skip(1);
    after
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| Some(line.split(['=', '.']).next()?.trim().to_owned()))
        .filter(|name| !name.is_empty() && !name.starts_with('#'))
        .collect()
}

#[test]
fn the_core_depends_on_nothing_but_what_is_allowed() {
    let manifest = read(&root().join("crates/boothside-core/Cargo.toml"));
    // schemars describes the file types for docs/schemas; only tests switch it on
    assert_eq!(names_under(&manifest, "dependencies"), ["schemars", "serde", "thiserror"]);
    let optional = |line: &str| line.starts_with("schemars") && line.contains("optional = true");
    assert!(manifest.lines().any(optional) && !manifest.contains("default = ["));
    assert!(!manifest.contains("[build-dependencies]") && !manifest.contains("[target."));
    assert!(!manifest.contains("[dependencies."));
}

#[test]
fn only_tests_ask_the_core_for_schemas() {
    for krate in ["boothside", "boothside-store"] {
        let manifest = read(&root().join("crates").join(krate).join("Cargo.toml"));
        let before_tests = manifest.split("[dev-dependencies]").next().unwrap_or_default();
        assert!(!before_tests.contains("schema"), "{krate}");
    }
}

#[test]
fn the_core_reads_no_clock_file_terminal_or_chance() {
    let forbidden = [
        "std::fs",
        "std::io",
        "std::env",
        "std::net",
        "std::process",
        "std::thread",
        "std::os",
        "Instant",
        "SystemTime",
        "chrono",
        "rand::",
        "HashMap",
        "HashSet",
        "println!",
        "print!",
        "eprintln!",
        "eprint!",
        "dbg!",
        "static mut",
        "thread_local!",
        "env!(",
        "include_str!",
        "include_bytes!",
        "unsafe",
    ];
    let sources = sources(&root().join("crates/boothside-core/src"));
    assert!(sources.len() > 50, "the sources were found");
    for path in sources {
        let code = code(&read(&path));
        for word in forbidden {
            assert!(!code.contains(word), "{}: {word}", path.display());
        }
        // `use std::{fs, …}` would pass by the list above
        assert!(!code.contains("std::{"), "{}: name what is taken of std", path.display());
    }
}

#[test]
fn nothing_gives_up_outside_tests() {
    let forbidden =
        [".unwrap()", ".expect(", "panic!(", "todo!(", "unimplemented!(", "unreachable!("];
    for krate in ["boothside-core", "boothside-store", "boothside"] {
        for path in sources(&root().join("crates").join(krate).join("src")) {
            // a file that only its crate's tests see
            let inside = path.strip_prefix(root()).unwrap_or(&path);
            let folders = inside.parent().into_iter().flat_map(Path::iter);
            if folders.chain(path.file_stem()).any(|name| name == "tests") {
                continue;
            }
            let code = code(&read(&path));
            for word in forbidden {
                assert!(!code.contains(word), "{}: {word}", path.display());
            }
        }
    }
}

#[test]
fn files_stay_small() {
    for folder in ["crates", "tests"] {
        for path in sources(&root().join(folder)) {
            let lines = read(&path).lines().count();
            assert!(lines <= MOST_LINES, "{}: {lines} lines", path.display());
        }
    }
}

#[test]
fn arrows_run_one_way_inside_the_core() {
    // each may name itself and those before it; physics and units know nothing of the trade
    let order = ["units", "physics", "material", "work", "session", "board"];
    for (at, module) in order.iter().enumerate() {
        for path in sources(&root().join("crates/boothside-core/src").join(module)) {
            let code = code(&read(&path));
            for later in &order[at + 1..] {
                let arrow = format!("crate::{later}");
                assert!(!code.contains(&arrow), "{} names {arrow}", path.display());
            }
        }
    }
}

#[test]
fn every_change_checks_that_the_core_builds_alone() {
    let run = read(&root().join(".ci/run"));
    let alone = |line: &str| line.trim().starts_with("cargo check -p boothside-core");
    assert!(run.lines().any(alone), "{run}");
}

#[test]
fn comments_and_strings_are_no_code() {
    let text = "let a = \"std::fs\"; // std::io\nlet b = 1;\n#[cfg(test)]\nmod tests { std::env }";
    let code = code(text);
    assert!(code.contains("let b = 1;"));
    for word in ["std::fs", "std::io", "std::env"] {
        assert!(!code.contains(word), "{word}");
    }
}
