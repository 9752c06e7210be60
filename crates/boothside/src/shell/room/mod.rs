//! The room of the book: its list and its forms over the files, under the painter's keys. It knows no terminal, so
//! that a test can sit in it.

mod drafts;
mod sessions;
mod shelf;

use std::path::PathBuf;

use boothside_store::book::{FolderShelf, Kind, Shelf};
use boothside_store::printable_path;
use boothside_store::storage::RealDisk;
use serde_json::Value;

use super::keeper::Keeper;
use super::places::Places;
use crate::book::compose::NEVER_COUNTED;
use crate::book::draft::Draft;
use crate::book::fill::fill;
use crate::book::index::Index;
use crate::book::spec;
use crate::update::book::filling::{Filling, Outcome};
use crate::update::book::list::{Act, Chose, Entry, List};
use crate::update::desk::{NO_FIELD, Pressed};
use crate::update::scene::{Kept, Notice};
use sessions::Found;

/// The moment at which a key comes.
#[derive(Debug, Clone, Copy)]
pub struct Hand<'a> {
    /// The hand's time, ms.
    pub ms: i64,
    /// The wall's time, RFC 3339.
    pub at: &'a str,
}

/// What a key in the room comes to.
#[derive(Debug, Clone, PartialEq)]
pub enum Went {
    /// Nothing that leaves the room.
    Stays,
    /// The painter leaves the program.
    Leave,
    /// A session is to be opened.
    Session {
        /// What was chosen.
        entry: Box<Entry>,
        /// Its file, where it has one.
        path: Option<PathBuf>,
        /// Whether it is a rehearsal.
        rehearsal: bool,
    },
}

/// A form on the screen, and the file that keeps it.
struct Open {
    filling: Filling,
    file: String,
    kept: u64,
    /// Whether the painter was told that leaving loses what was typed.
    warned: bool,
}

/// The room of the book.
pub struct Room {
    places: Places,
    list: List,
    found: Vec<Found>,
    index: Index,
    us: bool,
    form: Option<Open>,
    keeper: Keeper,
}

impl Room {
    /// The room over the files at `places`; `notify` is called when the disk has kept something.
    #[must_use]
    pub fn new(places: &Places, notices: Vec<Notice>, notify: impl Fn() + Send + 'static) -> Self {
        let mut room = Self {
            places: places.clone(),
            list: List::new(Vec::new(), notices),
            found: Vec::new(),
            index: Index::default(),
            us: false,
            form: None,
            keeper: Keeper::start(notify),
        };
        room.look(None);
        room
    }

    /// The list.
    #[must_use]
    pub const fn list(&self) -> &List {
        &self.list
    }

    /// The form that is filled in, and whether what was typed is kept.
    #[must_use]
    pub fn form(&self) -> Option<(&Filling, Kept)> {
        let open = self.form.as_ref()?;
        Some((&open.filling, self.keeper.kept()))
    }

    /// Tells something.
    pub fn tell(&mut self, text: impl Into<String>) {
        self.list.tell(Notice::Text(text.into()));
    }

    /// The only session that is open, where it is just one.
    #[must_use]
    pub fn only_open(&self) -> Option<PathBuf> {
        let open = |found: &&Found| matches!(found.entry, Entry::GoOn { .. });
        let open: Vec<&Found> = self.found.iter().filter(open).collect();
        match open.as_slice() {
            [only] => Some(only.path.clone()),
            _ => None,
        }
    }

    /// Waits until what was typed is on the disk, or the disk refuses.
    pub fn flush(&self) {
        self.keeper.flush();
    }

    fn shelf(&self) -> FolderShelf<RealDisk> {
        self.places.book()
    }

    fn drafts(&self) -> PathBuf {
        self.places.data().join("drafts")
    }

    /// A minute passed: where open sessions stand is looked at anew, and nothing moves under the thumb.
    pub fn tick(&mut self) {
        let found = sessions::find(&self.places.sessions());
        for found in &found {
            self.list.refresh(&found.entry);
        }
        for old in &mut self.found {
            if let Some(new) = found.iter().find(|new| new.path == old.path) {
                old.entry.clone_from(&new.entry);
            }
        }
    }

    /// Looks at the files anew, after a session.
    pub fn look_again(&mut self) {
        self.look(None);
        self.list.to_work();
    }

    /// Looks at the files anew.
    fn look(&mut self, on: Option<(Kind, &str)>) {
        let shelf = self.shelf();
        self.us = shelf::is_us(&shelf);
        self.index = shelf::index(&shelf, &self.places.sessions(), self.us);
        self.found = sessions::find(&self.places.sessions());
        self.list.renew(self.entries(), on);
    }

    /// The lines of the book.
    fn entries(&self) -> Vec<Entry> {
        let session = |past: bool| {
            let is_past = move |found: &&Found| matches!(found.entry, Entry::Past { .. }) == past;
            self.found.iter().filter(is_past).map(|found| found.entry.clone())
        };
        let mut entries: Vec<Entry> = session(false).collect();
        entries.extend(drafts::entries(&self.drafts()));
        entries.extend(self.things(Kind::Job));
        entries.extend([Entry::Example, Entry::ExampleRehearsal, Entry::New(Kind::Job)]);
        for kind in [Kind::Sheet, Kind::Part, Kind::System, Kind::Can] {
            entries.extend(self.things(kind));
            entries.push(Entry::New(kind));
        }
        let units = if self.us { "US units" } else { "metric units" };
        entries.push(Entry::Shop { about: units.to_owned() });
        entries.extend(session(true));
        entries
    }

    /// Everything of a kind, what is retired last.
    fn things(&self, kind: Kind) -> Vec<Entry> {
        let all = self.index.all(kind);
        let (retired, in_use): (Vec<_>, Vec<_>) = all.iter().partition(|entry| entry.retired);
        let line = |entry: &crate::book::index::Entry| Entry::Thing {
            kind,
            name: entry.name.clone(),
            title: entry.title.clone(),
            about: entry.about.clone(),
            retired: entry.retired,
            broken: entry.broken.clone(),
        };
        in_use.into_iter().chain(retired).map(line).collect()
    }

    /// A key.
    pub fn press(&mut self, key: Pressed, hand: &Hand<'_>) -> Went {
        if self.form.is_some() {
            self.press_in_form(key, hand);
            return Went::Stays;
        }
        match self.list.press(key, hand.ms) {
            Some(Chose::Leave) => Went::Leave,
            Some(Chose::Do(act, entry)) => self.act(act, *entry),
            None => Went::Stays,
        }
    }

    /// A text was pasted: into the field that is typed in, else nowhere.
    pub fn paste(&mut self, text: &str) {
        match &mut self.form {
            Some(open) if open.filling.is_typing() => {
                open.filling.paste(text);
                self.keep();
            }
            Some(open) => open.filling.tell(NO_FIELD.to_owned()),
            None => self.tell(NO_FIELD),
        }
    }

    /// Keeps what the form holds, where it changed.
    fn keep(&mut self) {
        let Some(open) = &mut self.form else { return };
        if open.filling.revision() != open.kept {
            open.kept = open.filling.revision();
            open.warned = false;
            let bytes = drafts::bytes(open.filling.draft());
            self.keeper.keep(&drafts::path(&self.places.data().join("drafts"), &open.file), bytes);
        }
    }

    fn press_in_form(&mut self, key: Pressed, hand: &Hand<'_>) {
        let Some(open) = &mut self.form else { return };
        let outcome = open.filling.press(key);
        self.keep();
        match outcome {
            Outcome::Stays => {}
            Outcome::Save { name, value } => self.save(&name, value, hand),
            Outcome::Leave => self.leave_form(),
            Outcome::Drop => {
                self.drop_draft();
                self.look(None);
                self.tell("the form is dropped");
            }
        }
    }

    /// Back to the list, once what was typed is on the disk; where the disk refuses, the painter says it twice.
    fn leave_form(&mut self) {
        self.keeper.flush();
        let kept = self.keeper.kept();
        let Some(open) = &mut self.form else { return };
        if let (Kept::No(why), false, true) = (&kept, open.warned, open.kept > 0) {
            open.warned = true;
            open.filling.tell(format!("NOT KEPT, q again loses what was typed: {why}"));
            return;
        }
        let told = open.kept > 0 && kept == Kept::Yes;
        self.form = None;
        self.look(None);
        if told {
            self.tell("the form is kept half filled: it stands in the book");
        }
    }

    fn drop_draft(&mut self) {
        if let Some(open) = self.form.take() {
            self.keeper.remove(&drafts::path(&self.drafts(), &open.file));
            self.keeper.flush();
        }
    }

    fn act(&mut self, act: Act, entry: Entry) -> Went {
        let told = match (act, &entry) {
            (Act::Open, Entry::New(kind)) => self.open(*kind, Draft::new(kind.name())),
            (Act::Open, Entry::Shop { .. }) => self.change(Kind::Shop, "shop"),
            (Act::Open, Entry::Half { file, .. }) => self.open_half(file),
            (Act::Drop, Entry::Half { file, .. }) => {
                self.keeper.remove(&drafts::path(&self.drafts(), file));
                self.keeper.flush();
                self.look(None);
                Ok(())
            }
            (Act::Open, Entry::Thing { broken: Some(why), .. }) => Err(why.clone()),
            (Act::Change, Entry::Thing { kind, name, .. }) => self.change(*kind, name),
            (Act::Copy, Entry::Thing { kind, name, .. }) => self.copy(*kind, name),
            (Act::Retire | Act::BringBack, Entry::Thing { kind, name, .. }) => {
                self.retire(*kind, name, act == Act::Retire)
            }
            _ => return self.session(act, entry),
        };
        if let Err(why) = told {
            self.tell(why);
        }
        Went::Stays
    }

    fn session(&self, act: Act, entry: Entry) -> Went {
        let found = self.found.iter().find(|found| found.entry == entry);
        let rehearsal = act == Act::Rehearse || entry == Entry::ExampleRehearsal;
        Went::Session {
            path: found.map(|found| found.path.clone()),
            rehearsal,
            entry: Box::new(entry),
        }
    }

    fn open(&mut self, kind: Kind, draft: Draft) -> Result<(), String> {
        let file = drafts::name_for(&self.drafts(), &draft);
        self.open_as(kind, draft, file);
        Ok(())
    }

    fn open_as(&mut self, kind: Kind, draft: Draft, file: String) {
        let filling = Filling::new(kind, draft, self.index.clone(), self.us);
        self.form = Some(Open { filling, file, kept: 0, warned: false });
    }

    fn open_half(&mut self, file: &str) -> Result<(), String> {
        let (kind, draft) = drafts::read(&self.drafts(), file)?;
        self.open_as(kind, draft, file.to_owned());
        if let Some(open) = self.form.take() {
            let filling = open.filling.resumed();
            self.form = Some(Open { kept: filling.revision(), filling, ..open });
        }
        Ok(())
    }

    fn change(&mut self, kind: Kind, name: &str) -> Result<(), String> {
        if let Some(file) = drafts::of(&self.drafts(), kind, name) {
            return self.open_half(&file);
        }
        let mut draft = match shelf::content(&self.shelf(), kind, name)? {
            Some((mut value, text)) => {
                if kind == Kind::Can {
                    shelf::left_now(&self.shelf(), &self.places.sessions(), name, &mut value);
                }
                let draft = fill(spec::of(kind), &value, &self.index, self.us);
                Draft { was: Some(text), ..draft }
            }
            None => Draft::new(kind.name()),
        };
        draft.of = Some(name.to_owned());
        self.open(kind, draft)
    }

    fn copy(&mut self, kind: Kind, name: &str) -> Result<(), String> {
        let Some((value, _)) = shelf::content(&self.shelf(), kind, name)? else {
            return Err(format!("{name} is not there any more"));
        };
        let mut draft = fill(spec::of(kind), &value, &self.index, self.us);
        draft.set("retired", String::new());
        self.open(kind, draft)?;
        if let Some(open) = &mut self.form {
            open.filling.tell("a copy: give it a name of its own".to_owned());
        }
        Ok(())
    }

    fn retire(&mut self, kind: Kind, name: &str, retired: bool) -> Result<(), String> {
        let shelf = self.shelf();
        let Some((mut value, _)) = shelf::content(&shelf, kind, name)? else {
            return Err(format!("{name} is not there any more"));
        };
        value["retired"] = retired.into();
        shelf::put(&shelf, kind, name, value)?;
        self.look(Some((kind, name)));
        self.tell(if retired {
            "retired: it stays for what uses it, and is not offered for new work"
        } else {
            "brought back"
        });
        Ok(())
    }

    /// Saves what the form made. What was changed by another hand meanwhile is not lost unseen.
    fn save(&mut self, name: &str, mut value: Value, hand: &Hand<'_>) {
        let shelf = self.shelf();
        let Some(open) = &mut self.form else { return };
        let kind = open.filling.kind();
        let now = shelf.read(kind, name).ok().flatten();
        let now = now.map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
        if now != open.filling.draft().was {
            let told = match now {
                Some(_) => {
                    "not saved: its file was changed by another hand; save again to replace it"
                }
                None => "not saved: its file is gone; save again to make it anew",
            };
            open.filling.meanwhile(now);
            open.filling.tell(told.to_owned());
            return;
        }
        if kind == Kind::Can {
            count(&mut value, now.as_deref(), hand.at);
        }
        if let Err(why) = shelf::put(&shelf, kind, name, value) {
            open.filling.tell(format!("NOT SAVED, still here: {why}"));
            return;
        }
        self.drop_draft();
        self.look(Some((kind, name)));
        let title = self.index.title(kind, name);
        let file = shelf.path(kind, name).map(|path| printable_path(&path)).unwrap_or_default();
        self.tell(format!("saved: {title} · {file}"));
    }
}

/// Says when a can was counted: now, where how much is left was changed.
fn count(value: &mut Value, before: Option<&str>, at: &str) {
    let before: Value = before.and_then(|text| serde_json::from_str(text).ok()).unwrap_or_default();
    let keys = ["left_ml", "left_g", "thinner_pct"];
    let same = keys.iter().all(|key| value.get(*key) == before.get(*key));
    let new = value.get("counted").is_some_and(|counted| *counted == NEVER_COUNTED);
    if new || (!same && value.get("counted").is_some()) {
        value["counted"] = at.into();
    }
}
