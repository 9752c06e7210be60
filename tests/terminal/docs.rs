//! Generated documentation agrees with the program. `UPDATE_DOCS=1` rewrites it.

use std::collections::HashMap;
use std::fmt::Write;
use std::path::Path;

use boothside::update::book::{edit, list};
use boothside::update::table::{Applies, TABLE};

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
