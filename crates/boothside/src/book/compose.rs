//! A filled form as what the file holds, with everything that does not fit beside its field.

use std::collections::BTreeMap;

use boothside_core::fault::Fault;
use boothside_core::material::can::Can;
use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{Job, Shop};
use boothside_core::work::part::{Face, Part};
use boothside_core::work::system::System;
use boothside_store::book::{Item as BookItem, Kind};
use boothside_store::log::slug;
use serde_json::{Value, json};

use super::draft::Draft;
use super::lines::{is_shown, join};
use super::path;
use super::spec::{Field, Item, List, Need, Spec};
use super::takes::{Around, Takes};
use super::words;

/// Whether what is still to be filled in counts as wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// While the form is filled in: only what was typed is judged.
    SoFar,
    /// Before saving: everything that must be there is.
    Whole,
}

/// A form as the file would hold it.
#[derive(Debug, Clone, PartialEq)]
pub struct Composed {
    /// The file's content.
    pub value: Value,
    /// What does not fit, in words, by the field's place in the form.
    pub faults: BTreeMap<String, String>,
}

/// What the form fills in.
#[must_use]
pub fn compose(spec: &'static Spec, around: &Around<'_>, how: How) -> Composed {
    let mut composer = Composer {
        around,
        how,
        value: json!({ "format": 1 }),
        faults: BTreeMap::new(),
        places: BTreeMap::new(),
        typed: BTreeMap::new(),
        ids: Vec::new(),
    };
    composer.items(spec.items, "", None);
    composer.finish(spec.kind)
}

/// When a can was counted whose form does not say it: it is replaced by the moment of saving.
pub const NEVER_COUNTED: &str = "2000-01-01T00:00:00Z";

/// Said where a reducer of 0 parts has no upper end.
const WITHOUT_MOST: &str = "0 parts, and at most? the upper end of the thinning range is accepted";

/// Where a value of the file came from.
struct Came {
    path: String,
    takes: Takes,
    stand_in: bool,
}

struct Composer<'a> {
    around: &'a Around<'a>,
    how: How,
    value: Value,
    faults: BTreeMap<String, String>,
    /// Every value of the file by its place in the file.
    places: BTreeMap<String, Came>,
    typed: BTreeMap<String, String>,
    ids: Vec<String>,
}

impl Composer<'_> {
    fn items(&mut self, items: &'static [Item], prefix: &str, list: Option<&'static List>) {
        if list.is_some_and(|list| list.ids) {
            self.id(prefix);
        }
        for item in items {
            match item {
                Item::Section(_) => {}
                Item::Field(field) if is_shown(field, prefix, self.around.draft) => {
                    self.field(field, prefix);
                }
                Item::Field(_) => {}
                Item::List(list) => self.list(list, prefix),
            }
        }
    }

    fn list(&mut self, list: &'static List, prefix: &str) {
        let at = join(prefix, list.key);
        let rows = self.around.draft.rows(&at);
        // what is wrong with the list as a whole is said where its next row would begin
        if let Some(Item::Field(first)) = list.items.first() {
            let path = join(&format!("{at}[{rows}]"), first.key);
            self.places.insert(at.clone(), Came { path, takes: Takes::Words, stand_in: false });
        }
        if rows > 0 || list.kept_empty {
            path::set(&mut self.value, &at, Value::Array(Vec::new()));
        }
        for row in 0..rows {
            self.items(list.items, &format!("{at}[{row}]"), Some(list));
        }
    }

    /// The identifier of the row at `prefix`: the one that it has, or one made from its name.
    fn id(&mut self, prefix: &str) {
        let known = self.around.draft.text(&join(prefix, "id"));
        let id = match known {
            "" => free_id(self.around.draft.text(&join(prefix, "name")), &self.ids),
            known => known.to_owned(),
        };
        path::set(&mut self.value, &join(prefix, "id"), id.clone().into());
        self.ids.push(id);
    }

    fn field(&mut self, field: &'static Field, prefix: &str) {
        let at = join(prefix, field.key);
        let text = self.around.draft.text(&at).trim();
        if text.is_empty() {
            return self.empty(field, &at);
        }
        match field.takes.read(text, &at, self.around) {
            Ok(value) => {
                if field.takes.keeps_text() && field.takes.text_of(&value, false) != text {
                    let place = path::by_number(&self.value, &at);
                    self.typed.insert(place, text.to_owned());
                }
                self.put(field, &at, value, false);
            }
            Err(why) => {
                self.faults.insert(at.clone(), why);
                self.put(field, &at, field.takes.stand_in(), true);
            }
        }
    }

    fn empty(&mut self, field: &'static Field, at: &str) {
        if field.need == Need::Always {
            if self.how == How::Whole {
                self.faults.insert(at.to_owned(), words::needed(field));
            }
            self.put(field, at, field.takes.stand_in(), true);
        }
    }

    fn put(&mut self, field: &'static Field, at: &str, value: Value, stand_in: bool) {
        let place = path::set(&mut self.value, at, value);
        self.places.insert(place, Came { path: at.to_owned(), takes: field.takes, stand_in });
    }

    fn finish(mut self, kind: Kind) -> Composed {
        if kind == Kind::Part {
            self.measure();
        }
        let has_left = ["left_ml", "left_g"].iter().any(|key| self.value.get(*key).is_some());
        if kind == Kind::Can {
            self.count(has_left);
        }
        if self.around.draft.text("retired") == "true" {
            self.value["retired"] = true.into();
        }
        if !self.typed.is_empty() {
            self.value["typed"] = json!(self.typed);
        }
        self.check(kind);
        self.name_is_free(kind);
        Composed { value: self.value, faults: self.faults }
    }

    /// Who saves a can says when it was counted; one that was not is counted never.
    fn count(&mut self, has_left: bool) {
        let known = self.around.draft.text("counted");
        let counted = if known.is_empty() { NEVER_COUNTED } else { known };
        if has_left {
            self.value["counted"] = counted.into();
        }
    }

    /// Areas of faces that are given by a shape and its edges.
    fn measure(&mut self) {
        let faces = self.value.get_mut("faces").and_then(Value::as_array_mut);
        for face in faces.into_iter().flatten() {
            if face.get("shape").is_none() {
                continue;
            }
            face["area_m2"] = 1.0.into();
            let measured = serde_json::from_value::<Face>(face.clone()).ok();
            if let Some(area_m2) = measured.and_then(|face| face.measured_m2()) {
                face["area_m2"] = area_m2.into();
            }
        }
    }

    fn check(&mut self, kind: Kind) {
        let value = self.value.clone();
        let checked = match kind {
            Kind::Sheet => faults_of::<Sheet>(value),
            Kind::Part => faults_of::<Part>(value),
            Kind::System => faults_of::<System>(value),
            Kind::Job => faults_of::<Job>(value),
            Kind::Shop => faults_of::<Shop>(value),
            Kind::Can => faults_of::<Can>(value),
        };
        match checked {
            Ok(faults) => faults.iter().for_each(|fault| self.place(fault)),
            // the form and the file's type would not fit together
            Err(why) => {
                self.faults.entry(String::new()).or_insert(why);
            }
        }
    }

    /// Puts a fault of the file beside the field that it is about.
    fn place(&mut self, fault: &Fault) {
        if let Some(most) = self.thinned_from_nothing(&fault.field) {
            if self.how == How::Whole {
                self.faults.entry(most).or_insert_with(|| WITHOUT_MOST.to_owned());
            }
            return;
        }
        let about = |place: &str| {
            let rest = fault.field.strip_prefix(place);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        let nearest = self.places.iter().filter(|(place, _)| about(place));
        let found = nearest.max_by_key(|(place, _)| place.len());
        let (at, told) = match found {
            Some((_, came)) if came.stand_in => return,
            Some((place, _)) if self.leans_on_stand_in(place) => return,
            Some((_, came)) => (came.path.clone(), words::fault(fault, came.takes, self.around.us)),
            None => (String::new(), fault.to_string()),
        };
        if at.is_empty() && self.how == How::SoFar {
            return;
        }
        // a list that is empty is judged when the form is saved
        let of_list = found_is_list(&at, self.around.draft);
        if !(of_list && self.how == How::SoFar) {
            self.faults.entry(at).or_insert(told);
        }
    }

    /// Where a reducer of 0 parts says how far the mix may be thinned, while that is not filled in yet.
    fn thinned_from_nothing(&self, field: &str) -> Option<String> {
        let row = field.strip_suffix(".parts")?;
        let text = |key: &str| self.around.draft.text(&join(row, key)).trim();
        let zero = text("parts").trim_end_matches('%').trim().parse::<f64>() == Ok(0.0);
        let most = join(row, "max_parts");
        (text("role") == "reducer" && zero && text("max_parts").is_empty()).then_some(most)
    }

    /// Whether what stands beside `place` was judged by a timing that is not there yet.
    fn leans_on_stand_in(&self, place: &str) -> bool {
        let parent = |place: &str| place.rsplit_once('.').map(|(parent, _)| parent.to_owned());
        let of = parent(place);
        let leans = |(other, came): (&String, &Came)| {
            came.stand_in && came.takes == Takes::Timing && parent(other) == of
        };
        of.is_some() && self.places.iter().any(leans)
    }

    fn name_is_free(&mut self, kind: Kind) {
        let Draft { of, .. } = self.around.draft;
        let name = self.around.draft.text("name").trim();
        let same = |entry: &&super::index::Entry| {
            of.as_deref() != Some(entry.name.as_str())
                && (entry.title.to_lowercase() == name.to_lowercase()
                    || (of.is_none() && entry.name == slug(name)))
        };
        if let Some(entry) = self.around.index.all(kind).iter().find(same)
            && !name.is_empty()
        {
            let told = format!("there is a {} named {} already", kind.name(), entry.title);
            self.faults.insert("name".to_owned(), told);
        }
    }
}

/// Whether the fault is about a list as a whole: it stands where the next row would begin.
fn found_is_list(at: &str, draft: &Draft) -> bool {
    let Some((list, rest)) = at.rsplit_once('[') else { return false };
    let row = rest.split(']').next().and_then(|row| row.parse::<usize>().ok());
    row.is_some_and(|row| row >= draft.rows(list))
}

fn faults_of<T: BookItem>(value: Value) -> Result<Vec<Fault>, String> {
    serde_json::from_value::<T>(value).map(|item| item.faults()).map_err(|why| why.to_string())
}

/// An identifier made from a name, that nobody else has.
#[must_use]
pub fn free_id(name: &str, taken: &[String]) -> String {
    // a name in other letters than ours has none of its own
    let base = Some(slug(name)).filter(|slug| !slug.is_empty()).unwrap_or_else(|| "row".into());
    let numbered = (2..).map(|number| format!("{base}-{number}"));
    let mut candidates = std::iter::once(base.clone()).chain(numbered);
    candidates.find(|id| !taken.contains(id)).unwrap_or(base)
}
