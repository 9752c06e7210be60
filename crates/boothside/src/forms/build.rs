//! The forms as they are opened.

use boothside_core::board::mixing::MixBoard;
use boothside_core::session::event::Way;
use boothside_core::session::{PlannedFace, Session};
use boothside_core::work::job::ShopUnits;

use super::{Field, FieldName, Form, FormKind};

/// How a true time is typed.
const WHEN: &str = "10min ago, 10:20, or 10:20:30";

pub(super) fn field(name: FieldName, label: impl Into<String>, hint: impl Into<String>) -> Field {
    Field { name, label: label.into(), text: String::new(), hint: hint.into(), error: None }
}

pub(super) fn form(kind: FormKind, title: impl Into<String>, fields: Vec<Field>) -> Form {
    Form { kind, title: title.into(), fields, focus: 0 }
}

pub(super) fn when(label: &str) -> Field {
    field(FieldName::When, label, "now when empty; 10min ago, or 10:20")
}

/// A reading of air and surface.
#[must_use]
pub fn reading(session: &Session) -> Form {
    let (warm, cool) = match session.state().work.shop.units {
        ShopUnits::Metric => ("19.5, or 67F", "18.8, or 66F"),
        ShopUnits::Us => ("67, or 19.5C", "66, or 18.8C"),
    };
    let fields = vec![
        field(FieldName::Air, "air", warm),
        field(FieldName::Humidity, "humidity", "55"),
        field(FieldName::Surface, "surface, coldest place", cool),
        field(FieldName::SurfaceWarmest, "surface, warmest place", "where it was read apart"),
        field(FieldName::PotTemperature, "mixed pot", "where it was read"),
        field(FieldName::When, "taken", "now when empty; 10min ago, 10:20 · ↓ where, with what"),
        aside(FieldName::Place, "where", "at the part", last_of(session, true)),
        aside(FieldName::With, "with what", "the instruments", last_of(session, false)),
    ];
    form(FormKind::Reading, "Air and surface", fields)
}

fn aside(name: FieldName, label: &str, hint: &str, text: Option<String>) -> Field {
    Field { text: text.unwrap_or_default(), ..field(name, label, hint) }
}

/// Where, or with what, the last reading was taken that told it: likely the same again.
fn last_of(session: &Session, place: bool) -> Option<String> {
    let last = session.state().read_by.last()?;
    if place { last.place.clone() } else { last.with.clone() }
}

/// Plugs and masks were counted.
#[must_use]
pub fn count(session: &Session, way: Way) -> Form {
    let known = session.state().masks.on.map(|(number, _)| number);
    let (kind, title, hint) = match (way, known) {
        (Way::In, _) => (
            FormKind::CountIn,
            "Plugs and masks on the parts, all of them".to_owned(),
            "14: they are counted out before the session closes".to_owned(),
        ),
        (Way::Out, Some(number)) => (
            FormKind::CountOut,
            format!("Plugs and masks that came off: {number} were counted in"),
            format!("{number}"),
        ),
        (Way::Out, None) => (
            FormKind::CountOut,
            "Plugs and masks that came off: none were counted in".to_owned(),
            "14".to_owned(),
        ),
    };
    form(kind, title, vec![field(FieldName::Number, "how many", hint), when("counted")])
}

/// Hours of use behind the respirator's cartridges.
#[must_use]
pub fn cartridges() -> Form {
    let hint = "6.5h; 0 when they were changed";
    let fields = vec![field(FieldName::Hours, "hours of use", hint), when("so at")];
    let title = "The respirator's cartridges: hours behind them; when to change, their maker says";
    form(FormKind::Cartridges, title, fields)
}

/// A pot was mixed for `layer`, with the amount that the coats to come need and the lots that stand
/// on the cans of the bench.
#[must_use]
pub fn pot(session: &Session, mix: Option<&MixBoard>, layer: u32, amount_ml: Option<f64>) -> Form {
    let state = session.state();
    let needs = amount_ml.map_or("900mL, or 30floz".to_owned(), |ml| {
        format!("{ml:.0}mL for the coats to come when empty")
    });
    let mut fields = vec![field(FieldName::Amount, "amount mixed", needs)];
    let sheet = state.sheet(layer);
    let components = sheet.map(|sheet| sheet.mix.components.as_slice()).unwrap_or_default();
    let mix = mix.filter(|mix| mix.layer == layer);
    let on_cans = mix.map(|mix| super::mix::lots_on_cans(session, mix)).unwrap_or_default();
    for (number, component) in components.iter().enumerate() {
        let label = format!("lot of {}", component.name);
        let lot = on_cans.iter().find(|lot| lot.component == component.name);
        let text = lot.map(super::mix::lot_text).unwrap_or_default();
        fields.push(Field { text, ..field(FieldName::Lot(number), label, super::mix::LOT) });
    }
    let label =
        if sheet.is_some_and(|sheet| sheet.reacts()) { "activator met base" } else { "filled in" };
    fields.push(when(label));
    let name = sheet.map_or_else(String::new, |sheet| sheet.name.clone());
    form(FormKind::Pot, format!("A pot of {name}"), fields)
}

/// Fresh mix went into `pot`.
#[must_use]
pub fn top_up(pot: &str) -> Form {
    let fields = vec![field(FieldName::Amount, "amount added", "100mL, or 4floz"), when("added")];
    form(FormKind::TopUp, format!("Pot {pot} topped up: it keeps its oldest birth"), fields)
}

/// The true time of the last key; the view names what that key told.
#[must_use]
pub fn true_time() -> Form {
    let fields = vec![field(FieldName::When, "it happened", "10min ago, 12h ago, or 10:20")];
    form(FormKind::TrueTime, "The true time of the last key", fields)
}

/// A note.
#[must_use]
pub fn note() -> Form {
    let fields = vec![field(FieldName::Text, "note", "in your own words")];
    form(FormKind::Note, "A note", fields)
}

/// A note about the entry numbered `n`.
#[must_use]
pub fn note_about(n: u64) -> Form {
    let fields = vec![field(FieldName::Text, "note", "in your own words")];
    form(FormKind::NoteAbout(n), format!("A note about entry {n}"), fields)
}

/// The true time of the entry numbered `n`.
#[must_use]
pub fn time_of(n: u64) -> Form {
    let fields = vec![field(FieldName::When, "it happened", WHEN)];
    form(FormKind::TimeOf(n), format!("The true time of entry {n}"), fields)
}

/// When the face on the gun was on.
#[must_use]
pub fn was_on(face: &PlannedFace) -> Form {
    let fields = vec![field(FieldName::When, "it was on", WHEN)];
    form(FormKind::WasOn, format!("When was it on: {} · {}?", face.part, face.face), fields)
}

/// A figure to mend.
#[must_use]
pub fn figure() -> Form {
    let fields = vec![
        field(FieldName::Figure, "which figure", "part of its name: pot_life"),
        field(FieldName::Value, "its true value", "in the unit of its name; 15min for _s"),
        field(FieldName::Why, "why", "mistyped"),
    ];
    form(FormKind::Figure, "Mend a figure: it counts from the beginning", fields)
}
