//! The book's files as the forms need them: what there is, its content, and saving.

use std::path::Path;

use boothside_core::material::can::Can;
use boothside_core::material::date::is_past;
use boothside_core::material::sheet::{Basis, Carrier, Sheet};
use boothside_core::units::show;
use boothside_core::units::{Area, Mass, Volume};
use boothside_core::work::job::{Job, Shop};
use boothside_core::work::part::Part;
use boothside_core::work::system::System;
use boothside_store::book::{BookError, FolderShelf, Item, Kind, Shelf, load, load_can, save};
use boothside_store::printable;
use boothside_store::storage::RealDisk;
use serde_json::Value;

use crate::book::index::{Entry, Index};
use crate::shell::stock::{self, OnShelf};

/// What there is in the book; of a can what is left in it, by what the logs in `sessions` drew, and
/// whether its date is past on the day `today`.
pub(super) fn index(
    shelf: &FolderShelf<RealDisk>,
    sessions: &Path,
    us: bool,
    today: &str,
) -> Index {
    let kinds = [Kind::Sheet, Kind::Part, Kind::System, Kind::Job, Kind::Can];
    let mut entries = kinds.map(|kind| (kind, entries(shelf, kind, us)));
    let stock = stock::look(shelf, sessions, None);
    for entry in entries.iter_mut().flat_map(|(kind, list)| list.iter_mut().map(|it| (*kind, it))) {
        if let (Kind::Can, entry) = entry
            && let Some(on) = stock.cans.iter().find(|on| on.file == entry.name)
        {
            entry.about = can(on, us, today);
        }
    }
    Index::new(entries)
}

fn entries(shelf: &FolderShelf<RealDisk>, kind: Kind, us: bool) -> Vec<Entry> {
    let names = shelf.names(kind).unwrap_or_default();
    names.into_iter().map(|name| entry(shelf, kind, name, us)).collect()
}

fn entry(shelf: &FolderShelf<RealDisk>, kind: Kind, name: String, us: bool) -> Entry {
    let made = match kind {
        Kind::Sheet => load(shelf, &name).map(|it| sheet(&it)),
        Kind::Part => load(shelf, &name).map(|it| part(&it, us)),
        Kind::System => load(shelf, &name).map(|it| system(&it)),
        Kind::Job => load(shelf, &name).map(|it| job(&it, shelf)),
        Kind::Can => load_can(shelf, &name).map(|it| Entry {
            title: it.name.clone(),
            retired: it.retired,
            ..Entry::default()
        }),
        Kind::Shop => load(shelf, &name).map(|_: Shop| Entry::default()),
    };
    match made {
        Ok(entry) => Entry { name, title: printable(&entry.title), ..entry },
        Err(why) => {
            Entry { title: name.clone(), name, broken: Some(told(&why)), ..Entry::default() }
        }
    }
}

/// What is wrong, in one line.
pub(super) fn told(why: &BookError) -> String {
    printable(&why.to_string().replace('\n', " · "))
}

fn sheet(sheet: &Sheet) -> Entry {
    let carrier = match sheet.carrier {
        Carrier::Water => "waterborne",
        Carrier::Solvent => "solventborne",
    };
    let by = match sheet.mix.by {
        Basis::Volume => "by volume",
        Basis::Weight => "by weight",
    };
    let parts = sheet.mix.components.iter().map(|it| show::plain(it.parts));
    let ratio = parts.collect::<Vec<_>>().join(" : ");
    let holds = sheet.mix.components.iter().map(|it| (it.name.clone(), it.name.clone()));
    Entry {
        title: sheet.name.clone(),
        about: format!("{carrier} · {ratio} {by}"),
        retired: sheet.retired,
        holds: holds.collect(),
        ..Entry::default()
    }
}

fn system_of(us: bool) -> show::System {
    if us { show::System::Us } else { show::System::Metric }
}

fn part(part: &Part, us: bool) -> Entry {
    let area = part.faces.iter().map(|face| face.area_m2).sum();
    let faces = counted(part.faces.len(), "face");
    Entry {
        title: part.name.clone(),
        about: format!("{faces} · {}", show::area(Area::from_m2(area), system_of(us))),
        retired: part.retired,
        holds: part.faces.iter().map(|face| (face.id.clone(), face.name.clone())).collect(),
        ..Entry::default()
    }
}

fn counted(count: usize, one: &str) -> String {
    let end = if count == 1 { "" } else { "s" };
    format!("{count} {one}{end}")
}

fn system(system: &System) -> Entry {
    let layer = |layer: &boothside_core::work::system::Layer| {
        format!("{} × {}", printable(&layer.name), layer.coats)
    };
    Entry {
        title: system.name.clone(),
        about: system.layers.iter().map(layer).collect::<Vec<_>>().join(" · "),
        retired: system.retired,
        ..Entry::default()
    }
}

fn job(job: &Job, shelf: &FolderShelf<RealDisk>) -> Entry {
    let system = load::<System>(shelf, &job.system).map(|system| system.name);
    let system = printable(&system.unwrap_or_else(|_| job.system.clone()));
    Entry {
        title: job.name.clone(),
        about: format!("{} · {system}", counted(job.parts.len(), "part")),
        retired: job.retired,
        ..Entry::default()
    }
}

/// A can's form begins with what is left in it now, not with what was counted before mixes drew from it.
pub(super) fn left_now(
    shelf: &FolderShelf<RealDisk>,
    sessions: &Path,
    name: &str,
    value: &mut Value,
) {
    let stock = stock::look(shelf, sessions, None);
    let Some(on) = stock.cans.iter().find(|on| on.file == name && on.used) else { return };
    let left = on.level.left;
    for (key, now) in [("left_ml", left.ml), ("left_g", left.g)] {
        if let Some(now) = now.filter(|_| value.get(key).is_some()) {
            value[key] = now.max(0.0).into();
        }
    }
    if let Some(thinner) = on.level.thinner {
        value["thinner_pct"] = (thinner.fraction() * 100.0).into();
    }
}

/// What there is to say of a can: component, what is left in it, until when it is good.
/// What wants minding first: of a narrow screen the end is cut.
fn can(on: &OnShelf, us: bool, today: &str) -> String {
    let (can, left) = (&on.can, on.level.left);
    let left = match (left.ml, left.g) {
        _ if on.level.is_empty() && !on.level.overdrawn => "! empty".to_owned(),
        _ if on.level.overdrawn => "! more was drawn than was counted".to_owned(),
        (Some(ml), _) => format!("{} left", show::volume(Volume::from_ml(ml), system_of(us))),
        (None, Some(g)) => format!("{} left", show::mass(Mass::from_g(g), system_of(us))),
        (None, None) => "not counted".to_owned(),
    };
    let lot = can.lot.as_deref().map(|lot| format!("lot {lot}"));
    let past = can.until.as_deref().filter(|until| is_past(until, today));
    let until = can.until.as_deref().filter(|_| past.is_none());
    let until = until.map(|until| format!("until {until}"));
    let past = past.map(|until| format!("! past its date {until}"));
    let parts = [past, Some(can.component.clone()), Some(left), until, lot];
    printable(&parts.into_iter().flatten().collect::<Vec<_>>().join(" · "))
}

/// A file's content and its text; nothing where there is none.
pub(super) fn content(
    shelf: &FolderShelf<RealDisk>,
    kind: Kind,
    name: &str,
) -> Result<Option<(Value, String)>, String> {
    let Some(bytes) = shelf.read(kind, name).map_err(|why| why.to_string())? else {
        return Ok(None);
    };
    let text = String::from_utf8(bytes).map_err(|why| why.to_string())?;
    let value = match kind {
        Kind::Sheet => parsed::<Sheet>(shelf, name),
        Kind::Part => parsed::<Part>(shelf, name),
        Kind::System => parsed::<System>(shelf, name),
        Kind::Job => parsed::<Job>(shelf, name),
        Kind::Shop => parsed::<Shop>(shelf, name),
        Kind::Can => parsed::<Can>(shelf, name),
    };
    value.map(|value| Some((value, text)))
}

fn parsed<T: Item>(shelf: &FolderShelf<RealDisk>, name: &str) -> Result<Value, String> {
    let item: T = load(shelf, name).map_err(|why| told(&why))?;
    serde_json::to_value(&item).map_err(|why| why.to_string())
}

/// Saves `value`, which a form made, under `name`; and checks what was saved as `boothside check` does.
pub(super) fn put(
    shelf: &FolderShelf<RealDisk>,
    kind: Kind,
    name: &str,
    value: Value,
) -> Result<(), String> {
    match kind {
        Kind::Sheet => put_as::<Sheet>(shelf, name, value),
        Kind::Part => put_as::<Part>(shelf, name, value),
        Kind::System => put_as::<System>(shelf, name, value),
        Kind::Job => put_as::<Job>(shelf, name, value),
        Kind::Shop => put_as::<Shop>(shelf, name, value),
        Kind::Can => put_as::<Can>(shelf, name, value),
    }
}

fn put_as<T: Item>(shelf: &FolderShelf<RealDisk>, name: &str, value: Value) -> Result<(), String> {
    let item: T = serde_json::from_value(value).map_err(|why| why.to_string())?;
    save(shelf, name, &item).map_err(|why| why.to_string())?;
    load::<T>(shelf, name).map(|_| ()).map_err(|why| told(&why))
}
