//! Generated documentation agrees with the program. `UPDATE_DOCS=1` rewrites it.

use std::collections::HashMap;
use std::fmt::Write;
use std::path::Path;

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
fn no_key_stands_twice() {
    let mut seen = HashMap::new();
    for row in TABLE {
        let before = seen.insert(format!("{:?}", row.key), row.does);
        assert_eq!(before, None, "{} stands twice", row.shown);
    }
}
