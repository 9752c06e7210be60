//! A form as it is being filled in: every field's text as it was typed, by the field's place. A draft is kept on
//! disk while it is not saved into the book, so that leaving or a kill loses nothing.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// A form being filled in.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Draft {
    /// Format of the file: 1.
    pub format: u32,
    /// What is filled in: `sheet`, `part`, …
    pub kind: String,
    /// The file in the book that is changed; nothing for a new one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<String>,
    /// That file's text when the form was opened, so that a change made meanwhile is not lost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub was: Option<String>,
    /// What was typed, by the field's place. What is empty is left out.
    #[serde(default)]
    pub texts: BTreeMap<String, String>,
    /// How many rows each list has, by the list's place.
    #[serde(default)]
    pub rows: BTreeMap<String, usize>,
}

/// Format of a draft's file.
pub const DRAFT_FORMAT: u32 = 1;

impl Draft {
    /// An empty draft of a kind.
    #[must_use]
    pub fn new(kind: &str) -> Self {
        Self {
            format: DRAFT_FORMAT,
            kind: kind.to_owned(),
            of: None,
            was: None,
            texts: BTreeMap::new(),
            rows: BTreeMap::new(),
        }
    }

    /// What was typed at `path`; empty where nothing was.
    #[must_use]
    pub fn text(&self, path: &str) -> &str {
        self.texts.get(path).map_or("", String::as_str)
    }

    /// Sets what was typed at `path`.
    pub fn set(&mut self, path: &str, text: String) {
        if text.is_empty() {
            self.texts.remove(path);
        } else {
            self.texts.insert(path.to_owned(), text);
        }
    }

    /// How many rows the list at `list` has.
    #[must_use]
    pub fn rows(&self, list: &str) -> usize {
        self.rows.get(list).copied().unwrap_or(0)
    }

    /// Whether anything was typed at `prefix` or below it.
    #[must_use]
    pub fn has_any(&self, prefix: &str) -> bool {
        let below = |path: &str| {
            path.strip_prefix(prefix).is_some_and(|rest| {
                rest.is_empty() || prefix.is_empty() || rest.starts_with(['.', '[', '{'])
            })
        };
        self.texts
            .range(prefix.to_owned()..)
            .take_while(|(path, _)| path.starts_with(prefix))
            .any(|(path, text)| below(path) && !path.ends_with(".id") && !text.trim().is_empty())
    }

    /// Takes the row `row` out of `list`; the rows after it move up.
    pub fn remove_row(&mut self, list: &str, row: usize) {
        let rows = self.rows(list);
        if row >= rows {
            return;
        }
        self.renumber(list, |at| match at {
            at if at == row => None,
            at if at > row => Some(at - 1),
            at => Some(at),
        });
        self.set_rows(list, rows - 1);
    }

    /// Changes the places of two rows of `list`.
    pub fn swap_rows(&mut self, list: &str, one: usize, other: usize) {
        if one.max(other) < self.rows(list) {
            self.renumber(list, |at| match at {
                at if at == one => Some(other),
                at if at == other => Some(one),
                at => Some(at),
            });
        }
    }

    /// Says how many rows `list` has.
    pub fn set_rows(&mut self, list: &str, rows: usize) {
        if rows == 0 {
            self.rows.remove(list);
        } else {
            self.rows.insert(list.to_owned(), rows);
        }
    }

    fn renumber(&mut self, list: &str, to: impl Fn(usize) -> Option<usize>) {
        let moved = |path: String| match row_of(list, &path) {
            Some((row, rest)) => to(row).map(|row| format!("{list}[{row}]{rest}")),
            None => Some(path),
        };
        let texts = std::mem::take(&mut self.texts).into_iter();
        self.texts = texts.filter_map(|(path, text)| Some((moved(path)?, text))).collect();
        let rows = std::mem::take(&mut self.rows).into_iter();
        self.rows = rows.filter_map(|(path, count)| Some((moved(path)?, count))).collect();
    }
}

/// The row of `list` in which `path` lies, and what follows it there.
fn row_of<'a>(list: &str, path: &'a str) -> Option<(usize, &'a str)> {
    let rest = path.strip_prefix(list)?.strip_prefix('[')?;
    let (row, rest) = rest.split_once(']')?;
    Some((row.parse().ok()?, rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn draft() -> Draft {
        let mut draft = Draft::new("system");
        for (path, text) in [
            ("layers[0].name", "Primer"),
            ("layers[0].prep[0].name", "sand"),
            ("layers[0].prep[1].name", "wipe"),
            ("layers[1].name", "Colour"),
            ("layers[1].prep[0].name", "scuff"),
        ] {
            draft.set(path, text.into());
        }
        draft.set_rows("layers", 2);
        draft.set_rows("layers[0].prep", 2);
        draft.set_rows("layers[1].prep", 1);
        draft
    }

    #[test]
    fn a_row_taken_out_moves_the_others_with_all_they_hold() {
        let mut draft = draft();
        draft.remove_row("layers", 0);
        assert_eq!(draft.text("layers[0].name"), "Colour");
        assert_eq!(draft.text("layers[0].prep[0].name"), "scuff");
        assert_eq!((draft.rows("layers"), draft.rows("layers[0].prep")), (1, 1));
        assert_eq!(draft.texts.len(), 2);
    }

    #[test]
    fn rows_change_places_with_all_they_hold() {
        let (before, mut draft) = (draft(), draft());
        draft.swap_rows("layers", 0, 1);
        assert_eq!(draft.text("layers[1].prep[1].name"), "wipe");
        assert_eq!(draft.rows("layers[1].prep"), 2);
        draft.swap_rows("layers", 0, 1);
        assert_eq!(draft, before);
    }

    #[test]
    fn something_below_a_place_is_told_from_a_like_name() {
        let draft = draft();
        assert!(draft.has_any("layers[1]") && draft.has_any("layers[0].prep"));
        assert!(!draft.has_any("layers[2]") && !draft.has_any("layer"));
    }
}
