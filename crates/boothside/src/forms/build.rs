//! The forms as they are opened.

use boothside_core::board::mixing::MixBoard;
use boothside_core::session::bounds::Unit;
use boothside_core::session::event::{Reading, Way};
use boothside_core::session::{PlannedFace, Session};
use boothside_core::work::job::ShopUnits;

use super::say::{by_units, figure};
use super::{Field, FieldName, Form, FormKind};

/// How a true time is typed.
const WHEN: &str = "10min ago, 10:20, or 10:20:30";

pub(super) fn field(name: FieldName, label: impl Into<String>, hint: impl Into<String>) -> Field {
    Field {
        name,
        label: label.into(),
        text: String::new(),
        hint: hint.into(),
        error: None,
        understood: None,
        aside: false,
        stands: false,
    }
}

pub(super) fn form(kind: FormKind, title: impl Into<String>, fields: Vec<Field>) -> Form {
    Form { kind, title: title.into(), fields, focus: 0, at_rest: true }
}

pub(super) fn when(label: &str) -> Field {
    field(FieldName::When, label, "empty means now; 10min ago, or 10:20")
}

/// 'empty: 239 mL, what the coats to come need'.
pub(super) fn empty_means(figure: &str, why: &str) -> String {
    format!("empty: {figure}, {why}")
}

/// A reading of air and surface. Three figures are asked; the rest stands below them.
#[must_use]
pub fn reading(session: &Session) -> Form {
    let units = session.state().work.shop.units;
    let (place, with) = (last_of(session, true), last_of(session, false));
    let title = title_of_reading(place.as_deref(), with.as_deref());
    let figure = |name, label: &str| reading_figure(session, name, label);
    let warmest = by_units(units, "where it was read apart: 20.1", "where it was read apart: 68.2");
    let at = "empty means now; 10min ago, 10:20";
    let fields = vec![
        figure(FieldName::Air, "air"),
        figure(FieldName::Humidity, "humidity"),
        figure(FieldName::Surface, "surface, coldest place"),
        aside(FieldName::SurfaceWarmest, "surface, warmest place", warmest, None),
        aside(FieldName::PotTemperature, "mixed pot", "where it was read", None),
        aside(FieldName::When, "read at", at, None),
        aside(FieldName::Place, "where", "at the part", place),
        aside(FieldName::With, "with what", "the instruments", with),
    ];
    form(FormKind::Reading, title, fields)
}

/// Where and with what, as last told: what is kept with the figures is in sight.
fn title_of_reading(place: Option<&str>, with: Option<&str>) -> String {
    let told = [place, with].into_iter().flatten();
    std::iter::once("Air and surface").chain(told).collect::<Vec<_>>().join(" \u{b7} ")
}

/// A figure of a reading, the last one beside it; else an example.
fn reading_figure(session: &Session, name: FieldName, label: &str) -> Field {
    let state = session.state();
    let units = state.work.shop.units;
    let (unit, example) = match name {
        FieldName::Humidity => (Unit::Percent, "58"),
        _ => (Unit::Celsius, by_units(units, "19.4, or 194", "67.2, or 672")),
    };
    let of = |reading: &Reading| match name {
        FieldName::Air => reading.air_c,
        FieldName::Humidity => reading.humidity_pct,
        _ => reading.surface_c,
    };
    let last = state.readings.iter().rev().find_map(|taken| of(&taken.reading));
    let last = last.map(|value| format!("last {}", figure(value, unit, units)));
    let stands = last.is_some();
    let hint = last.unwrap_or_else(|| example.to_owned());
    Field { stands, ..field(name, label, hint) }
}

fn aside(name: FieldName, label: &str, hint: &str, text: Option<String>) -> Field {
    Field { text: text.unwrap_or_default(), aside: true, ..field(name, label, hint) }
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
    let hint = "6.5; 0 when they were changed";
    let fields = vec![field(FieldName::Hours, "hours of use", hint), when("true at")];
    let title = "The respirator's cartridges: hours behind them; when to change, their maker says";
    form(FormKind::Cartridges, title, fields)
}

/// A pot was mixed for `layer`, with the amount that the coats to come need and the lots that stand
/// on the cans of the bench.
#[must_use]
pub fn pot(session: &Session, mix: Option<&MixBoard>, layer: u32, amount_ml: Option<f64>) -> Form {
    let state = session.state();
    let units = state.work.shop.units;
    let needs = amount_ml.map_or_else(
        || by_units(units, "900, or 1.5L", "30, or 1qt").to_owned(),
        |ml| empty_means(&figure(ml, Unit::Millilitre, units), "what the coats to come need"),
    );
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
pub fn top_up(pot: &str, units: ShopUnits) -> Form {
    let hint = by_units(units, "100, or 100mL", "4, or 4floz");
    let fields = vec![field(FieldName::Amount, "amount added", hint), when("added")];
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
pub fn correction() -> Form {
    let fields = vec![
        field(FieldName::Figure, "which figure", "part of its name: pot life"),
        field(FieldName::Value, "its true value", "in the shop's unit; a time as 15min"),
        field(FieldName::Why, "why", "mistyped"),
    ];
    form(FormKind::Figure, "Correct a figure, for the whole session", fields)
}
