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
    /// What the trade calls it too.
    pub also: &'static [&'static str],
}

/// A choice of a form.
#[must_use]
pub const fn choice(value: &'static str, word: &'static str) -> Choice {
    Choice { value, word, also: &[] }
}

impl Choice {
    /// The same, found by other words of the trade too.
    #[must_use]
    pub const fn also(self, also: &'static [&'static str]) -> Self {
        Self { also, ..self }
    }

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
    /// What the trade calls it too.
    pub also: &'static [&'static str],
}

impl Offer {
    fn new(value: &str, word: &str) -> Self {
        Self { value: value.into(), word: word.into(), also: &[] }
    }

    /// Whether this is what the whole text names.
    fn is(&self, text: &str) -> bool {
        let names =
            [self.value.as_str(), self.word.as_str()].into_iter().chain(self.also.iter().copied());
        names.map(compact).any(|name| !name.is_empty() && name == compact(text))
    }
}

/// `text` in small letters and digits alone: `Ford #4` is `ford4`.
fn compact(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

impl Takes {
    /// What can be picked at `path` of the form; nothing for a field that is typed.
    #[must_use]
    pub fn offers(self, path: &str, around: &Around<'_>) -> Vec<Offer> {
        match self {
            Self::Choice(choices) => {
                let offer = |it: &Choice| Offer { also: it.also, ..Offer::new(it.value, it.word) };
                choices.iter().map(offer).collect()
            }
            Self::Flag => vec![Offer::new("true", "yes"), Offer::new("false", "no")],
            Self::Cup => CUPS.iter().map(Cup::name).map(|name| Offer::new(name, name)).collect(),
            Self::Named(kind) => {
                around.index.in_use(kind).map(|it| Offer::new(&it.name, &it.title)).collect()
            }
            Self::EarlierFace => earlier_faces(path, around),
            Self::PartOfJob => {
                let parts = parts_of_job(around);
                let word = |name: &str| around.index.title(boothside_store::book::Kind::Part, name);
                parts.iter().map(|name| Offer::new(name, &word(name))).collect()
            }
            Self::FaceOfJob => faces_of_job(around),
            Self::ComponentOfSheet => {
                let names = around.index.components(around.draft.text("sheet"));
                names.iter().map(|name| Offer::new(name, name)).collect()
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
        let named =
            |is: &dyn Fn(&&Offer) -> bool| offers.iter().find(is).map(|it| as_value(&it.value));
        if let Some(value) = named(&|it| it.value == text).or_else(|| named(&|it| it.is(text))) {
            return Ok(value);
        }
        let most = if self == Self::Cup { CUPS.len() } else { 4 };
        let words: Vec<&str> = offers.iter().take(most).map(|offer| offer.word.as_str()).collect();
        if is_lettered_part(text) && offers.iter().any(|offer| offer.value == "activator") {
            return Err(format!("'{text}' is base or activator? accepted: {}", words.join(", ")));
        }
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

/// 'part A': a can says so, and which of the components that is only its sheet.
fn is_lettered_part(text: &str) -> bool {
    matches!(
        compact(text).as_str(),
        "parta" | "partb" | "compa" | "compb" | "componenta" | "componentb"
    )
}

/// The offers that fit what was typed: those that begin with it first, then those that the trade calls so too,
/// then those of which every word typed begins a word. What fits nothing finds nothing.
#[must_use]
pub fn fitting(offers: &[Offer], typed: &str) -> Vec<Offer> {
    if typed.trim().is_empty() {
        return offers.to_vec();
    }
    let mut ranked: Vec<(u8, &Offer)> =
        offers.iter().filter_map(|offer| Some((rank(offer, typed)?, offer))).collect();
    ranked.sort_by_key(|(rank, _)| *rank);
    ranked.into_iter().map(|(_, offer)| offer.clone()).collect()
}

/// How near an offer is to what was typed; nothing where it does not fit.
fn rank(offer: &Offer, typed: &str) -> Option<u8> {
    let (small, whole) = (typed.trim().to_lowercase(), compact(typed));
    let split = |text: &str| -> Vec<String> {
        let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
        words.map(str::to_lowercase).collect()
    };
    let words = split(typed);
    // a number alone would be taken for the first of all that have it
    if !whole.contains(char::is_alphabetic) && !split(&offer.word).starts_with(&words) {
        return None;
    }
    let begins = |text: &str| {
        let of = split(text);
        !words.is_empty() && words.iter().all(|word| of.iter().any(|it| it.starts_with(word)))
    };
    let ranks = [
        offer.word.to_lowercase().starts_with(&small),
        compact(&offer.word).starts_with(&whole),
        offer.also.iter().any(|also| compact(also).starts_with(&whole)),
        begins(&offer.word),
        offer.also.iter().any(|also| begins(also)),
    ];
    ranks.iter().position(|fits| *fits).and_then(|at| u8::try_from(at).ok())
}

fn earlier_faces(path: &str, around: &Around<'_>) -> Vec<Offer> {
    let row = path.strip_prefix("faces[").and_then(|rest| rest.split_once(']'));
    let row: usize = row.and_then(|(row, _)| row.parse().ok()).unwrap_or(0);
    let text = |row: usize, key: &str| around.draft.text(&format!("faces[{row}].{key}")).to_owned();
    (0..row).map(|row| Offer::new(&text(row, "id"), &text(row, "name"))).collect()
}

fn parts_of_job(around: &Around<'_>) -> Vec<String> {
    let rows = 0..around.draft.rows("parts");
    let names = rows.map(|row| around.draft.text(&format!("parts[{row}]")).to_owned());
    names.filter(|name| !name.is_empty()).collect()
}

fn faces_of_job(around: &Around<'_>) -> Vec<Offer> {
    let parts = parts_of_job(around);
    let faces = parts.iter().flat_map(|part| around.index.faces(part));
    faces.map(|(value, word)| Offer::new(&value, &word)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_or_two_find_the_one_that_is_meant() {
        let offers: Vec<Offer> =
            ["wipe with solvent", "scuff", "sand"].map(|word| Offer::new(word, word)).into();
        let first = |typed: &str| fitting(&offers, typed).first().map(|it| it.word.clone());
        assert_eq!(first("s").as_deref(), Some("scuff"));
        assert_eq!(first("sa").as_deref(), Some("sand"));
        assert_eq!(first("W").as_deref(), Some("wipe with solvent"));
        assert_eq!(first("solvent").as_deref(), Some("wipe with solvent"));
        assert_eq!(first("x"), None);
        assert_eq!(first("ipe"), None, "the middle of a word is not what was meant");
    }

    #[test]
    fn a_cup_is_found_by_its_name_and_by_no_other() {
        let cups: Vec<Offer> = CUPS.iter().map(|cup| Offer::new(cup.name(), cup.name())).collect();
        let first = |typed: &str| fitting(&cups, typed).first().map(|it| it.value.clone());
        for (typed, cup) in [
            ("Ford #4", "ford-4"),
            ("Zahn #2", "zahn-2"),
            ("zahn2", "zahn-2"),
            ("DIN 4", "din-4"),
            ("z", "zahn-1"),
        ] {
            assert_eq!(first(typed).as_deref(), Some(cup), "{typed}");
        }
        for typed in ["#2 dip", "#2", "4", "S 90", "Ford 9", "fork"] {
            assert_eq!(first(typed), None, "{typed}");
        }
    }
}
