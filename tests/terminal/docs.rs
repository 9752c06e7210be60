//! Generated documentation agrees with the program. `UPDATE_DOCS=1` rewrites it.

use std::collections::HashMap;
use std::fmt::Write;
use std::path::Path;

use boothside::update::book::{edit, list};
use boothside::update::table::{Applies, FORM_KEYS, TABLE};

fn key_table() -> String {
    let mut text = String::from(
        "# All keys\n\nGenerated from the program's one table of keys. No key needs Alt, Ctrl or two \
         hands.\n\n| key | name | what it does |\n| --- | --- | --- |\n",
    );
    for row in TABLE {
        let also = row.also.map(|also| format!(", {also}")).unwrap_or_default();
        let only = if row.applies == Applies::Rehearsal { " (in a rehearsal)" } else { "" };
        let _ = writeln!(text, "| {}{also} | {} | {}{only} |", row.shown, row.short, row.long);
    }
    text.push_str(
        "\n## In a form of a session\n\nA bare number that cannot be is read as tenths: `194` is \
         19.4. Several figures of a reading can be typed in one field: `19.4 58 18.8`.\n\n| key | \
         what it does |\n| --- | --- |\n",
    );
    for (key, does) in FORM_KEYS {
        let _ = writeln!(text, "| {key} | {does} |");
    }
    text + &book_keys()
}

/// The keys of the book and its forms.
fn book_keys() -> String {
    let mut text =
        String::from("\n## In the book\n\n| key | name | what it does |\n| --- | --- | --- |\n");
    for (key, short, long) in list::KEYS {
        let _ = writeln!(text, "| {key} | {short} | {long} |");
    }
    text.push_str("\n## In a form of the book\n\n| key | what it does |\n| --- | --- |\n");
    for (key, long) in edit::KEYS {
        let _ = writeln!(text, "| {key} | {long} |");
    }
    text.push_str(
        "\nOnce typing is stopped, and on the last line:\n\n| key | name |\n| --- | --- |\n",
    );
    for (letter, _, name) in edit::LETTERS {
        let _ = writeln!(text, "| {letter} | {name} |");
    }
    text
}

/// Fails unless `docs/NAME` is `text`; writes it where `UPDATE_DOCS` is set.
pub(crate) fn kept(name: &str, text: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs").join(name);
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, text).expect("it is written");
    }
    let kept = std::fs::read_to_string(&path);
    let kept = kept.unwrap_or_else(|error| panic!("docs/{name}: {error}"));
    assert!(kept == text, "docs/{name} is not up to date: UPDATE_DOCS=1 rewrites it");
}

#[test]
fn the_key_table_in_the_docs_is_the_program_s() {
    kept("keys.md", &key_table());
}

#[test]
fn every_key_of_the_book_stands_in_the_docs() {
    let kept =
        std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/keys.md"));
    let kept = kept.expect("docs/keys.md");
    for (letter, _, name) in edit::LETTERS {
        assert!(kept.contains(&format!("| {letter} | {name} |")), "{letter} {name}");
    }
    for heading in ["## In the book", "## In a form of the book"] {
        assert!(kept.contains(heading), "{heading}");
    }
}

/// Only the forms of the book make a job; nobody is sent to folders.
#[test]
fn the_first_session_leads_to_the_book() {
    let text = include_str!("../../docs/first-session.md");
    let own = text.split("## Your own job").nth(1).expect("the section");
    assert!(own.contains("the-book.md") && !own.contains("Put files into"), "{own}");
}

#[test]
fn no_key_stands_twice() {
    let mut seen = HashMap::new();
    for row in TABLE {
        let before = seen.insert(format!("{:?}", row.key), row.does);
        assert_eq!(before, None, "{} stands twice", row.shown);
    }
}

/// Every file of this project that a person reads, but for what is made by building.
fn texts(folder: &Path, found: &mut Vec<std::path::PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
        let name = name.unwrap_or_default();
        if name.starts_with('.') || name == "target" {
            continue;
        }
        if path.is_dir() {
            texts(&path, found);
        } else if ["rs", "md", "toml", "py", "csv"]
            .iter()
            .any(|it| name.ends_with(&format!(".{it}")))
        {
            found.push(path);
        }
    }
}

/// The documents named in a text: `docs/keys.md` is `keys.md`.
fn documents(text: &str) -> Vec<&str> {
    let is_name = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let ends = text
        .match_indices(".md")
        .filter(|(at, _)| !text.get(at + 3..).is_some_and(|behind| behind.starts_with(is_name)));
    let names = ends.filter_map(|(at, _)| {
        let before = text.get(..at)?;
        let outside = before.char_indices().rev().find(|(_, c)| !is_name(*c));
        let start = outside.map_or(0, |(at, c)| at + c.len_utf8());
        text.get(start..at + 3).filter(|name| name.len() > 3)
    });
    names.collect()
}

#[test]
fn every_document_that_is_named_anywhere_is_there() {
    assert_eq!(documents("see docs/keys.md, or `a-b.md`; x.mdx"), ["keys.md", "a-b.md"]);
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut files = Vec::new();
    texts(&root, &mut files);
    assert!(files.len() > 200, "{} files", files.len());
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap_or_default();
        for name in documents(&text) {
            let there = ["", "docs"].iter().any(|folder| root.join(folder).join(name).is_file());
            // this test's own example
            assert!(there || name == "a-b.md", "{} names {name}", file.display());
        }
    }
}

/// Where a figure is known from is for who checks it; a painter reads what it asks of him.
#[test]
fn no_screen_says_from_memory() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    texts(&root.join("src/view"), &mut files);
    texts(&root.join("src/forms"), &mut files);
    for file in files {
        let text = std::fs::read_to_string(&file).expect("a source");
        let drawn = text.lines().filter(|line| !line.trim_start().starts_with("//"));
        for line in drawn {
            assert!(!line.contains("from memory"), "{}: {line}", file.display());
        }
    }
}
