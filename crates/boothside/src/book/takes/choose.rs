//! Fields that are picked from a list: a letter or two find the one that is meant.

use boothside_core::physics::viscosity::{CUPS, Cup};
use serde_json::Value;

use super::{Around, Takes};

/// One of several.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// What the file holds.
    pub value: &'static str,
    /// What it is called.
    pub word: &'static str,
}

/// A choice of a form.
#[must_use]
pub const fn choice(value: &'static str, word: &'static str) -> Choice {
    Choice { value, word }
}

impl Choice {
    /// What the file holds: `true` and `false` are no texts.
    #[must_use]
    pub fn as_value(self) -> Value {
        as_value(self.value)
    }
}

fn as_value(text: &str) -> Value {
    match text {
        "true" => true.into(),
        "false" => false.into(),
        text => text.into(),
    }
}

/// Something to pick.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// What the file holds.
    pub value: String,
    /// What it is called.
    pub word: String,
}

impl Takes {
    /// What can be picked at `path` of the form; nothing for a field that is typed.
    #[must_use]
    pub fn offers(self, path: &str, around: &Around<'_>) -> Vec<Offer> {
        let offer = |value: &str, word: &str| Offer { value: value.into(), word: word.into() };
        match self {
            Self::Choice(choices) => choices.iter().map(|it| offer(it.value, it.word)).collect(),
            Self::Flag => vec![offer("true", "yes"), offer("false", "no")],
            Self::Cup => CUPS.iter().map(Cup::name).map(|name| offer(name, name)).collect(),
            Self::Named(kind) => {
                around.index.in_use(kind).map(|it| offer(&it.name, &it.title)).collect()
            }
            Self::EarlierFace => earlier_faces(path, around),
            Self::PartOfJob => {
                let parts = parts_of_job(around);
                let word = |name: &str| around.index.title(boothside_store::book::Kind::Part, name);
                parts.iter().map(|name| Offer { value: name.clone(), word: word(name) }).collect()
            }
            Self::FaceOfJob => faces_of_job(around),
            Self::ComponentOfSheet => {
                let names = around.index.components(around.draft.text("sheet"));
                names.iter().map(|name| offer(name, name)).collect()
            }
            _ => Vec::new(),
        }
    }

    pub(super) fn picked(
        self,
        text: &str,
        path: &str,
        around: &Around<'_>,
    ) -> Result<Value, String> {
        let offers = self.offers(path, around);
        if offers.iter().any(|offer| offer.value == text) {
            return Ok(as_value(text));
        }
        let words: Vec<&str> = offers.iter().take(4).map(|offer| offer.word.as_str()).collect();
        let accepted = match (self, words.as_slice()) {
            (Self::Named(kind), []) => format!("there is no {} yet: make one first", kind.name()),
            (Self::Named(kind), _) => format!("there is no {} of that name", kind.name()),
            (_, []) => "there is nothing to choose yet".to_owned(),
            (_, words) => format!("accepted: {}", words.join(", ")),
        };
        Err(format!("'{text}' was given; {accepted}"))
    }

    /// What stands in a picked field, as it is called.
    #[must_use]
    pub fn word_of(self, text: &str, path: &str, around: &Around<'_>) -> String {
        if let Self::Named(kind) = self {
            return around.index.title(kind, text);
        }
        let offers = self.offers(path, around);
        let found = offers.into_iter().find(|offer| offer.value == text);
        found.map_or_else(|| text.to_owned(), |offer| offer.word)
    }
}

/// The offers that fit what was typed, those that begin with it first.
#[must_use]
pub fn fitting(offers: &[Offer], typed: &str) -> Vec<Offer> {
    let typed = typed.trim().to_lowercase();
    let words: Vec<&str> = typed.split_whitespace().collect();
    let begins = |offer: &&Offer| offer.word.to_lowercase().starts_with(&typed);
    let holds = |offer: &&Offer| {
        let word = offer.word.to_lowercase();
        words.iter().all(|part| word.contains(part))
    };
    let mut fitting: Vec<Offer> = offers.iter().filter(begins).cloned().collect();
    let rest = offers.iter().filter(|offer| holds(offer) && !begins(offer)).cloned();
    fitting.extend(rest);
    fitting
}

fn earlier_faces(path: &str, around: &Around<'_>) -> Vec<Offer> {
    let row = path.strip_prefix("faces[").and_then(|rest| rest.split_once(']'));
    let row: usize = row.and_then(|(row, _)| row.parse().ok()).unwrap_or(0);
    let text = |row: usize, key: &str| around.draft.text(&format!("faces[{row}].{key}")).to_owned();
    (0..row).map(|row| Offer { value: text(row, "id"), word: text(row, "name") }).collect()
}

fn parts_of_job(around: &Around<'_>) -> Vec<String> {
    let rows = 0..around.draft.rows("parts");
    let names = rows.map(|row| around.draft.text(&format!("parts[{row}]")).to_owned());
    names.filter(|name| !name.is_empty()).collect()
}

fn faces_of_job(around: &Around<'_>) -> Vec<Offer> {
    let parts = parts_of_job(around);
    let faces = parts.iter().flat_map(|part| around.index.faces(part));
    faces.map(|(value, word)| Offer { value, word }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_or_two_find_the_one_that_is_meant() {
        let offers: Vec<Offer> = ["wipe with solvent", "scuff", "sand"]
            .map(|word| Offer { value: word.into(), word: word.into() })
            .into();
        let first = |typed: &str| fitting(&offers, typed).first().map(|it| it.word.clone());
        assert_eq!(first("s").as_deref(), Some("scuff"));
        assert_eq!(first("sa").as_deref(), Some("sand"));
        assert_eq!(first("W").as_deref(), Some("wipe with solvent"));
        assert_eq!(first("solvent").as_deref(), Some("wipe with solvent"));
        assert_eq!(first("x"), None);
    }
}
