//! A form of the book being filled in: where the painter stands, what was typed, what does not fit.

use std::collections::BTreeMap;

use boothside_store::book::Kind;
use boothside_store::log::slug;
use serde_json::Value;

use super::undo::{Step, Undo};
use crate::book::compose::{How, compose, free_id};
use crate::book::draft::Draft;
use crate::book::index::Index;
use crate::book::lines::{Line, What, join, lines};
use crate::book::spec::{self, Field, Pair, Spec};
use crate::book::takes::{Around, Offer, fitting, split};

/// What a key in the form comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// The form goes on.
    Stays,
    /// It is to be saved into the book.
    Save {
        /// The name of its file.
        name: String,
        /// The file's content, sound.
        value: Value,
    },
    /// The painter goes back to the book; what was typed is kept.
    Leave,
    /// What was typed is thrown away, and the painter goes back.
    Drop,
}

/// A form of the book being filled in.
#[derive(Debug, Clone)]
pub struct Filling {
    pub(super) spec: &'static Spec,
    pub(super) draft: Draft,
    pub(super) index: Index,
    pub(super) us: bool,
    pub(super) lines: Vec<Line>,
    pub(super) at: usize,
    /// Where in the text the next character goes, counted in characters.
    pub(super) cursor: usize,
    /// Whether printable keys type.
    pub(super) typing: bool,
    /// What was typed to find an offer.
    pub(super) find: String,
    pub(super) undo: Undo,
    pub(super) faults: BTreeMap<String, String>,
    /// What the last key came to, where that needs words.
    pub(super) told: Option<String>,
    /// Counts up with every change, so that a keeper knows when there is something to keep.
    pub(super) revision: u64,
    pub(super) dropping: bool,
    /// Whether the next character begins the field anew: what stands there was accepted or refused.
    pub(super) anew: bool,
}

impl Filling {
    /// A form with what `draft` holds.
    #[must_use]
    pub fn new(kind: Kind, draft: Draft, index: Index, us: bool) -> Self {
        let spec = spec::of(kind);
        let mut filling = Self {
            lines: lines(spec, &draft),
            spec,
            draft,
            index,
            us,
            at: 0,
            cursor: 0,
            typing: true,
            find: String::new(),
            undo: Undo::default(),
            faults: BTreeMap::new(),
            told: None,
            revision: 0,
            dropping: false,
            anew: false,
        };
        filling.at = filling.lines.iter().position(Line::takes_focus).unwrap_or(0);
        filling.enter_line();
        filling.judge(How::SoFar);
        filling
    }

    /// The same, of a draft that was kept before.
    #[must_use]
    pub fn resumed(self) -> Self {
        // a text that was cut short is typed on
        Self { revision: 1, anew: false, ..self }
    }

    /// What is filled in.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        self.spec.kind
    }

    /// Its lines, from top to bottom.
    #[must_use]
    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// The number of the line on which the painter stands.
    #[must_use]
    pub const fn at(&self) -> usize {
        self.at
    }

    /// Where in the text the next character goes.
    #[must_use]
    pub const fn cursor(&self) -> usize {
        self.cursor
    }

    /// Whether printable keys type here.
    #[must_use]
    pub fn is_typing(&self) -> bool {
        self.typing && self.field().is_some()
    }

    /// Whether the next character replaces what stands in the field.
    #[must_use]
    pub fn begins_anew(&self) -> bool {
        self.anew && self.is_typing()
    }

    /// Whether nothing is being typed in the field in focus: SPACE goes on there, and is no blank.
    pub(super) fn at_rest(&self) -> bool {
        let text = self.draft.text(&self.path());
        let picked = self.field().is_some_and(|field| field.takes.is_picked());
        self.is_typing() && (self.anew || text.is_empty() || (picked && self.find.is_empty()))
    }

    /// What the form holds.
    #[must_use]
    pub const fn draft(&self) -> &Draft {
        &self.draft
    }

    /// How often it was changed.
    #[must_use]
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// What does not fit, by place.
    #[must_use]
    pub const fn faults(&self) -> &BTreeMap<String, String> {
        &self.faults
    }

    /// What the last key came to.
    #[must_use]
    pub fn told(&self) -> Option<&str> {
        self.told.as_deref()
    }

    /// Tells what became of the form, such as that the disk refused it.
    pub fn tell(&mut self, told: String) {
        self.told = Some(told);
    }

    /// Whether one more key throws away what was typed.
    #[must_use]
    pub const fn is_dropping(&self) -> bool {
        self.dropping
    }

    /// What reading and showing may look at.
    #[must_use]
    pub fn around(&self) -> Around<'_> {
        Around { us: self.is_us(), index: &self.index, draft: &self.draft }
    }

    /// The units of a bare number: the shop's, which its own form may be changing.
    fn is_us(&self) -> bool {
        match self.draft.text("units") {
            units if self.spec.kind == Kind::Shop && !units.is_empty() => units == "us",
            _ => self.us,
        }
    }

    /// The line on which the painter stands.
    #[must_use]
    pub fn line(&self) -> Option<&Line> {
        self.lines.get(self.at)
    }

    /// The field on which the painter stands.
    #[must_use]
    pub fn field(&self) -> Option<&'static Field> {
        self.line().and_then(Line::field)
    }

    pub(super) fn path(&self) -> String {
        self.line().map_or_else(String::new, |line| line.path.clone())
    }

    /// What can be picked here, the best first.
    #[must_use]
    pub fn offers(&self) -> Vec<Offer> {
        let Some(line) = self.line() else { return Vec::new() };
        let Some(field) = line.field().filter(|field| field.takes.is_picked()) else {
            return Vec::new();
        };
        fitting(&field.takes.offers(&line.path, &self.around()), &self.find)
    }

    /// What was typed to find an offer.
    #[must_use]
    pub fn find(&self) -> &str {
        &self.find
    }

    /// Figures that are not filled in, and what the program then cannot tell.
    #[must_use]
    pub fn cannot_tell(&self) -> Vec<(&str, &'static str)> {
        let empty = |line: &&Line| self.draft.text(&line.path).trim().is_empty();
        let fields = self.lines.iter().filter(|line| matches!(line.what, What::Field(_)));
        let without = |line: &Line| line.field().map_or("", |field| field.without);
        let told = fields.filter(empty).map(|line| (line.label.as_str(), without(line)));
        told.filter(|(_, without)| !without.is_empty()).collect()
    }

    /// The value of a field as the file would hold it; nothing where it is empty or does not fit.
    #[must_use]
    pub fn value(&self, line: &Line) -> Option<Value> {
        let text = self.draft.text(&line.path).trim();
        let field = line.field().filter(|_| !text.is_empty())?;
        field.takes.read(text, &line.path, &self.around()).ok()
    }

    /// The form as the file would hold it so far.
    #[must_use]
    pub fn so_far(&self) -> Value {
        compose(self.spec, &self.around(), How::SoFar).value
    }

    /// How many things do not fit or are still to be filled in, as saving would judge.
    #[must_use]
    pub fn wrong(&self) -> usize {
        compose(self.spec, &self.around(), How::Whole).faults.len()
    }

    pub(super) fn judge(&mut self, how: How) -> Value {
        let composed = compose(self.spec, &self.around(), how);
        self.faults = composed.faults;
        composed.value
    }

    /// Keeps how things are, before the field here is changed.
    pub(super) fn changing(&mut self, typing: bool) {
        let path = self.path();
        self.undo.before(&self.draft, &path, typing);
        self.revision += 1;
        self.told = None;
    }

    /// Makes the row whose first field is filled, and lines that depend on what was filled.
    pub(super) fn relay(&mut self) {
        let path = self.path();
        if let Some(Line { what: What::Another(_), row: Some(row), .. }) = self.line()
            && self.draft.has_any(&format!("{}[{}]", row.list, row.row))
        {
            let (list, rows) = (row.list.clone(), row.row + 1);
            self.draft.set_rows(&list, rows);
        }
        self.lines = lines(self.spec, &self.draft);
        self.stand_at(&path);
    }

    pub(super) fn stand_at(&mut self, path: &str) {
        let found = self.lines.iter().position(|line| line.takes_focus() && line.path == path);
        self.at = found.unwrap_or_else(|| self.at.min(self.lines.len().saturating_sub(1)));
        if self.lines.get(self.at).is_some_and(|line| !line.takes_focus()) {
            self.step(1);
        }
    }

    /// Moves by so many lines that take the focus, held at the ends.
    pub(super) fn step(&mut self, by: isize) {
        let mut at = self.at;
        let mut left = by;
        while left != 0 {
            let next = at.saturating_add_signed(left.signum());
            if next == at || next >= self.lines.len() {
                break;
            }
            at = next;
            if self.lines[at].takes_focus() {
                self.at = at;
                left -= left.signum();
            }
        }
    }

    /// The painter leaves the line: a bare number gets its unit, an empty row goes, a row that is new
    /// gets its identifier.
    pub(super) fn leave_line(&mut self) {
        self.undo.close();
        self.find.clear();
        let Some(line) = self.line().cloned() else { return };
        if let Some(field) = line.field().filter(|field| !field.takes.is_picked()) {
            self.split_pair(&line, field);
            let completed = field.takes.completed(self.draft.text(&line.path), self.is_us());
            self.draft.set(&line.path, completed);
        }
        if let Some(row) = &line.row {
            let at = format!("{}[{}]", row.list, row.row);
            let there = row.row < self.draft.rows(&row.list);
            if there && !self.draft.has_any(&at) {
                self.draft.remove_row(&row.list, row.row);
                self.relay();
            } else if there && row.first {
                self.identify(&row.list, &at);
            }
        }
        self.judge(How::SoFar);
    }

    /// Two figures typed into one field go to the two fields that they are for.
    fn split_pair(&mut self, line: &Line, field: &'static Field) {
        let Some(pair @ (Pair::Range(key) | Pair::Times(key))) = field.pair else { return };
        let prefix = line.path.strip_suffix(field.key).unwrap_or_default().trim_end_matches('.');
        let other = join(prefix, key);
        let Some((first, second)) = split(self.draft.text(&line.path), pair) else { return };
        let fits = |text: &str, path: &str| field.takes.read(text, path, &self.around()).is_ok();
        let shown = self.lines.iter().any(|line| line.path == other);
        if !(shown && fits(&first, &line.path) && fits(&second, &other)) {
            return;
        }
        self.changing(false);
        let us = self.is_us();
        self.draft.set(&line.path, field.takes.completed(&first, us));
        self.draft.set(&other, field.takes.completed(&second, us));
        self.relay();
    }

    fn identify(&mut self, list: &str, at: &str) {
        let id_at = format!("{at}.id");
        if !has_ids(self.spec.items, list) || !self.draft.text(&id_at).is_empty() {
            return;
        }
        let name = self.draft.text(&format!("{at}.name")).trim().to_owned();
        if !name.is_empty() {
            let ids = self.draft.texts.iter().filter(|(path, _)| path.ends_with(".id"));
            let taken: Vec<String> = ids.map(|(_, id)| id.clone()).collect();
            self.draft.set(&id_at, free_id(&name, &taken));
        }
    }

    /// The painter comes to the line.
    pub(super) fn enter_line(&mut self) {
        self.find.clear();
        self.told = None;
        self.dropping = false;
        let text = self.draft.text(&self.path());
        self.cursor = text.chars().count();
        self.anew = !text.is_empty() && self.field().is_some_and(|field| !field.takes.is_picked());
    }

    /// Goes where something does not fit, or says that all does.
    pub(super) fn save(&mut self) -> Outcome {
        self.leave_line();
        let value = self.judge(How::Whole);
        let is_wrong = |line: &Line| line.takes_focus() && self.faults.contains_key(&line.path);
        let wrong = self.lines.iter().position(is_wrong);
        if let Some(at) = wrong.filter(|_| !self.faults.is_empty()) {
            self.at = at;
            self.enter_line();
            self.told = Some(match self.faults.len() {
                1 => "not saved: one thing does not fit".to_owned(),
                count => format!("not saved: {count} things do not fit"),
            });
            return Outcome::Stays;
        }
        if let Some(why) = self.faults.values().next() {
            self.told = Some(format!("not saved: {why}"));
            return Outcome::Stays;
        }
        let name = self.draft.of.clone().unwrap_or_else(|| self.new_name());
        Outcome::Save { name, value }
    }

    /// A name for the file that no other has.
    fn new_name(&self) -> String {
        if self.spec.kind == Kind::Shop {
            return "shop".to_owned();
        }
        let all = self.index.all(self.spec.kind);
        let taken: Vec<String> = all.iter().map(|entry| entry.name.clone()).collect();
        let name = self.draft.text("name");
        let base = if slug(name).is_empty() { self.spec.kind.name() } else { name };
        free_id(base, &taken)
    }

    /// The file that is changed holds `now`, which the painter was told of.
    pub fn meanwhile(&mut self, now: Option<String>) {
        self.draft.was = now;
        self.revision += 1;
    }

    pub(super) fn here(&self) -> Step {
        Step { draft: self.draft.clone(), path: self.path() }
    }

    pub(super) fn go_to(&mut self, step: Step) {
        self.draft = step.draft;
        self.revision += 1;
        self.lines = lines(self.spec, &self.draft);
        self.stand_at(&step.path);
        self.enter_line();
        self.judge(How::SoFar);
    }
}

/// Whether the rows of the list at `path` have identifiers.
fn has_ids(items: &'static [spec::Item], path: &str) -> bool {
    let key = path.rsplit('.').next().unwrap_or(path);
    items.iter().any(|item| match item {
        spec::Item::List(list) => (list.key == key && list.ids) || has_ids(list.items, path),
        spec::Item::Section(_) | spec::Item::Field(_) => false,
    })
}
