//! A form as lines, from top to bottom.

use boothside_core::material::timing::{Timing, said};

use super::draft::Draft;
use super::spec::{Field, Item, List, Shown, Spec};

/// What a line is.
#[derive(Debug, Clone, Copy)]
pub enum What {
    /// A heading.
    Section(&'static str),
    /// A field.
    Field(&'static Field),
    /// The first field of a row that is not there yet: typing makes the row.
    Another(&'static Field),
    /// The end of the form, where it is saved.
    Save,
}

/// A line.
#[derive(Debug, Clone)]
pub struct Line {
    /// What it is.
    pub what: What,
    /// The field's place in the file; empty for what is no field.
    pub path: String,
    /// What stands before it.
    pub label: String,
    /// How deep it lies in rows: 0 for the file's own fields.
    pub depth: usize,
    /// The innermost row that holds it.
    pub row: Option<RowAt>,
}

/// A row of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RowAt {
    /// The list's place.
    pub list: String,
    /// The row's number.
    pub row: usize,
    /// Whether the line is its first.
    pub first: bool,
}

impl Line {
    /// The field that is filled in here.
    #[must_use]
    pub const fn field(&self) -> Option<&'static Field> {
        match self.what {
            What::Field(field) | What::Another(field) => Some(field),
            What::Section(_) | What::Save => None,
        }
    }

    /// Whether the arrows stop here.
    #[must_use]
    pub const fn takes_focus(&self) -> bool {
        !matches!(self.what, What::Section(_))
    }
}

/// The place of `key` in the file or row at `prefix`.
#[must_use]
pub fn join(prefix: &str, key: &str) -> String {
    match (prefix, key) {
        ("", key) => key.to_owned(),
        (prefix, "") => prefix.to_owned(),
        (prefix, key) => format!("{prefix}.{key}"),
    }
}

/// Whether a field of the row or file at `prefix` is shown.
#[must_use]
pub fn is_shown(field: &Field, prefix: &str, draft: &Draft) -> bool {
    match field.shown {
        Shown::Always => true,
        Shown::Never => false,
        Shown::If(key, values) => values.contains(&draft.text(&join(prefix, key))),
        Shown::With(key) => !draft.text(&join(prefix, key)).is_empty(),
        Shown::Unless(key) => draft.text(&join(prefix, key)).is_empty(),
        Shown::Lends(earliest, end) => {
            let timing = |key| said_anywhere(draft.text(&join(prefix, key)));
            let both = timing(earliest).zip(timing(end));
            both.is_some_and(|(earliest, end)| end.lacks_the_law_of(&earliest))
        }
    }
}

/// A duration as it was typed. Whether it has a law is the same in every shop; its bare temperatures
/// may be too high or too low for one of them.
fn said_anywhere(text: &str) -> Option<Timing> {
    said::read(text, false).or_else(|_| said::read(text, true)).ok()
}

/// All lines of a form.
#[must_use]
pub fn lines(spec: &'static Spec, draft: &Draft) -> Vec<Line> {
    let mut list = Lines { draft, lines: Vec::new() };
    list.items(spec.items, "", 0, None);
    list.push(What::Save, "", String::new(), 0, None);
    list.lines
}

struct Lines<'a> {
    draft: &'a Draft,
    lines: Vec<Line>,
}

impl Lines<'_> {
    fn push(&mut self, what: What, path: &str, label: String, depth: usize, row: Option<RowAt>) {
        self.lines.push(Line { what, path: path.to_owned(), label, depth, row });
    }

    fn items(
        &mut self,
        items: &'static [Item],
        prefix: &str,
        depth: usize,
        row: Option<(&str, usize, &'static List)>,
    ) {
        for (at, item) in items.iter().enumerate() {
            let here = |first| row.map(|(list, row, _)| RowAt { list: list.into(), row, first });
            match item {
                Item::Section(title) => {
                    self.push(What::Section(title), "", (*title).to_owned(), depth, None);
                }
                Item::Field(field) if is_shown(field, prefix, self.draft) => {
                    let path = join(prefix, field.key);
                    // the first field of a row carries the row's own name
                    let (label, depth) = match row {
                        Some((_, row, list)) if at == 0 => (numbered(list, row), depth - 1),
                        _ => (field.label.to_owned(), depth),
                    };
                    self.push(What::Field(field), &path, label, depth, here(at == 0));
                }
                Item::Field(_) => {}
                Item::List(list) => self.list(list, &join(prefix, list.key), depth),
            }
        }
    }

    fn list(&mut self, list: &'static List, path: &str, depth: usize) {
        let rows = self.draft.rows(path);
        for row in 0..rows {
            let at = format!("{path}[{row}]");
            self.items(list.items, &at, depth + 1, Some((path, row, list)));
        }
        if let (true, Some(Item::Field(first))) = (rows < list.most, list.items.first()) {
            let at = join(&format!("{path}[{rows}]"), first.key);
            let row = RowAt { list: path.to_owned(), row: rows, first: true };
            self.push(What::Another(first), &at, numbered(list, rows), depth, Some(row));
        }
    }
}

fn numbered(list: &List, row: usize) -> String {
    format!("{} {}", list.one, row + 1)
}
