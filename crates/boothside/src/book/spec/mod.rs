//! What the forms of the book ask, in which order, and what each answer is good for. The forms are
//! data; one engine fills, checks and draws them all.

mod can;
mod job;
mod part;
mod sheet;
mod shop;
mod system;

use boothside_store::book::Kind;

use super::takes::Takes;

/// A form of the book.
#[derive(Debug)]
pub struct Spec {
    /// What is filled in.
    pub kind: Kind,
    /// Its lines in order.
    pub items: &'static [Item],
}

/// Something in a form.
#[derive(Debug)]
pub enum Item {
    /// A heading.
    Section(&'static str),
    /// One field.
    Field(Field),
    /// Rows of the same fields.
    List(List),
}

/// Rows of the same fields.
#[derive(Debug)]
pub struct List {
    /// Where the list lies, from the row or file that holds it.
    pub key: &'static str,
    /// What one of its rows is called.
    pub one: &'static str,
    /// What a row asks; the first of them is a field, and a row is there once it is filled.
    pub items: &'static [Item],
    /// The most rows.
    pub most: usize,
    /// Whether a row has an identifier, which is made from its name.
    pub ids: bool,
    /// Whether the file has the list though it is empty: then its own check says what is missing.
    pub kept_empty: bool,
}

/// Whether a field must be filled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Need {
    /// It may stay empty.
    No,
    /// Always, where the row that holds it is there.
    Always,
}

/// When a field is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shown {
    /// Always.
    Always,
    /// Where the field at this place has one of these values.
    If(&'static str, &'static [&'static str]),
    /// Where the field at this place is filled.
    With(&'static str),
    /// Where the field at this place is empty.
    Unless(&'static str),
    /// Where the duration at the first place has a law, and that at the second has none and could
    /// go by it.
    Lends(&'static str, &'static str),
    /// Never: the program keeps it.
    Never,
}

/// One field.
#[derive(Debug)]
pub struct Field {
    /// Where it lies, from the row or file that holds it; empty where the row is nothing but its value.
    pub key: &'static str,
    /// What stands before it.
    pub label: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// Whether it must be filled in.
    pub need: Need,
    /// When it is shown.
    pub shown: Shown,
    /// Where to find it on a technical sheet, or how to measure it.
    pub find: &'static str,
    /// What the program cannot tell without it; empty where nothing is lost.
    pub without: &'static str,
    /// The field that takes the other end, where two are typed into this one.
    pub pair: Option<Pair>,
}

/// Two figures typed into one field: this one takes the first, another field the second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pair {
    /// `20-24s`: the field at this place takes the upper end.
    Range(&'static str),
    /// `12 x 14`: the field at this place takes the other side.
    Times(&'static str),
}

impl Field {
    const fn must(self) -> Item {
        Item::Field(self.needed())
    }

    const fn needed(self) -> Self {
        Self { need: Need::Always, ..self }
    }

    const fn range_to(self, key: &'static str) -> Self {
        Self { pair: Some(Pair::Range(key)), ..self }
    }

    const fn times(self, key: &'static str) -> Self {
        Self { pair: Some(Pair::Times(key)), ..self }
    }

    const fn may(self) -> Item {
        Item::Field(self)
    }

    const fn only_if(self, key: &'static str, is: &'static [&'static str]) -> Self {
        Self { shown: Shown::If(key, is), ..self }
    }

    const fn beside(self, key: &'static str) -> Self {
        Self { shown: Shown::With(key), ..self }
    }

    const fn unless(self, key: &'static str) -> Self {
        Self { shown: Shown::Unless(key), ..self }
    }

    const fn where_lent(self, earliest: &'static str, end: &'static str) -> Self {
        Self { shown: Shown::Lends(earliest, end), ..self }
    }

    const fn kept(self) -> Item {
        Item::Field(Self { shown: Shown::Never, ..self })
    }
}

const fn field(
    key: &'static str,
    label: &'static str,
    takes: Takes,
    find: &'static str,
    without: &'static str,
) -> Field {
    Field { key, label, takes, need: Need::No, shown: Shown::Always, find, without, pair: None }
}

const fn list(key: &'static str, one: &'static str, most: usize, items: &'static [Item]) -> List {
    List { key, one, items, most, ids: false, kept_empty: false }
}

impl List {
    const fn with_ids(self) -> Self {
        Self { ids: true, ..self }
    }

    const fn kept_empty(self) -> Self {
        Self { kept_empty: true, ..self }
    }
}

/// The form of a kind.
#[must_use]
pub const fn of(kind: Kind) -> &'static Spec {
    match kind {
        Kind::Sheet => &sheet::SHEET,
        Kind::Part => &part::PART,
        Kind::System => &system::SYSTEM,
        Kind::Job => &job::JOB,
        Kind::Shop => &shop::SHOP,
        Kind::Can => &can::CAN,
    }
}
