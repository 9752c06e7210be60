//! What the book has, as the forms need it: names, titles, faces, components.

use std::collections::BTreeMap;

use boothside_store::book::Kind;

/// Something in the book.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Entry {
    /// The name of its file, without ending.
    pub name: String,
    /// What the painter calls it.
    pub title: String,
    /// What there is to say of it, in a few words.
    pub about: String,
    /// Whether it is retired.
    pub retired: bool,
    /// What is wrong with its file, where something is.
    pub broken: Option<String>,
    /// Of a part: its faces, by id and name. Of a sheet: its components, by name.
    pub holds: Vec<(String, String)>,
}

/// What the book has.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Index {
    entries: BTreeMap<Kind, Vec<Entry>>,
}

impl Index {
    /// An index with these entries of each kind, sorted by title.
    #[must_use]
    pub fn new(entries: impl IntoIterator<Item = (Kind, Vec<Entry>)>) -> Self {
        let mut index = Self { entries: entries.into_iter().collect() };
        for list in index.entries.values_mut() {
            list.sort_by_key(|entry| (entry.title.to_lowercase(), entry.name.clone()));
        }
        index
    }

    /// Everything of a kind, retired or not.
    #[must_use]
    pub fn all(&self, kind: Kind) -> &[Entry] {
        self.entries.get(&kind).map_or(&[], Vec::as_slice)
    }

    /// What may be chosen for new work.
    pub fn in_use(&self, kind: Kind) -> impl Iterator<Item = &Entry> {
        self.all(kind).iter().filter(|entry| !entry.retired)
    }

    /// The entry of a name.
    #[must_use]
    pub fn find(&self, kind: Kind, name: &str) -> Option<&Entry> {
        self.all(kind).iter().find(|entry| entry.name == name)
    }

    /// What the painter calls it; its name where there is none.
    #[must_use]
    pub fn title(&self, kind: Kind, name: &str) -> String {
        self.find(kind, name).map_or_else(|| name.to_owned(), |entry| entry.title.clone())
    }

    /// The faces of a part as a job names them, each with what it is called.
    #[must_use]
    pub fn faces(&self, part: &str) -> Vec<(String, String)> {
        let Some(entry) = self.find(Kind::Part, part) else { return Vec::new() };
        let face = |(id, name): &(String, String)| {
            let word = format!("{} · {name}", entry.title);
            (boothside_core::work::job::face_id(part, id), word)
        };
        entry.holds.iter().map(face).collect()
    }

    /// The components of a sheet.
    #[must_use]
    pub fn components(&self, sheet: &str) -> Vec<String> {
        let entry = self.find(Kind::Sheet, sheet);
        let holds = entry.map_or(&[][..], |entry| entry.holds.as_slice());
        holds.iter().map(|(_, name)| name.clone()).collect()
    }
}
