//! Forms of the bench: pours, amounts, lots, the flow cup, what became of a pot, and the figures on
//! which an amount rests.

use boothside_core::board::mixing::{Gauge, MixBoard, Shows, layer_on_bench};
use boothside_core::material::recipe::Told;
use boothside_core::material::sheet::Component;
use boothside_core::session::bounds::Unit;
use boothside_core::session::command::Poured;
use boothside_core::session::event::Lot;
use boothside_core::session::stock::SeenCan;
use boothside_core::session::{Session, figures};
use boothside_core::units::parse::{parse_mass_or, parse_plain, parse_volume_or};
use boothside_core::work::job::ShopUnits;

use super::build::empty_means;
use super::build::{field, form};
use super::measure::Measure;
use super::read::{Failed, Fields};
use super::say::{by_units, masses, unread, volumes};
use super::{Field, FieldName, Form, FormKind};

/// Which form of the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum MixForm {
    /// A component (from 0) is poured: what scale or mark show.
    Pour(usize),
    /// Reducer (from 0) went into a mixed pot.
    Reducer(usize),
    /// How much is to be mixed.
    Amount,
    /// The makers' lots.
    Lots,
    /// Seconds in the flow cup.
    FlowCup,
    /// What is left in the pot.
    Weighed,
    /// What went back to the can.
    Returned,
    /// The figures on which the amount rests.
    Rests,
}

/// Which field of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MixField {
    /// What scale or mark show, or what went in.
    Poured,
    /// How much is wanted.
    Wanted,
    /// How much there is of a component (from 0).
    Short(usize),
    /// What the container holds.
    Container,
    /// Seconds.
    Seconds,
    /// What is left.
    Left,
    /// What the container weighs empty.
    Tare,
    /// What went back.
    Returned,
    /// What the can held.
    Can,
    /// A figure, by its place among those on which the amount rests.
    Figure(usize),
}

/// What a form of the bench holds.
#[derive(Debug, Clone, PartialEq)]
pub enum MixFilled {
    /// A pour of a component (from 0); nothing typed: as planned.
    Pour(usize, Option<Poured>),
    /// Reducer (from 0) into a mixed pot; nothing where nothing was typed.
    Reducer(usize, Option<Told>),
    /// How much is wanted, of what there is only so much, what the container holds in mL.
    Amount(Told, Vec<(usize, Told)>, Option<f64>),
    /// Lots.
    Lots(Vec<Lot>),
    /// Seconds; nothing where nothing was typed.
    FlowCup(Option<f64>),
    /// What is left; nothing where nothing was typed.
    Weighed(Option<Told>),
    /// What went back, and what the can held before, mL.
    Returned(Option<Told>, Option<f64>),
    /// Figures with their new values.
    Rests(Vec<(String, f64)>),
}

fn mix_form(kind: MixForm, title: impl Into<String>, fields: Vec<Field>) -> Form {
    form(FormKind::Mix(kind), title, fields)
}

fn mix_field(name: MixField, label: impl Into<String>, hint: impl Into<String>) -> Field {
    field(FieldName::Mix(name), label, hint)
}

fn units_of(session: &Session) -> ShopUnits {
    session.state().work.shop.units
}

fn components(session: &Session, layer: u32) -> &[Component] {
    session.state().sheet(layer).map_or(&[][..], |sheet| &sheet.mix.components)
}

fn name_of(session: &Session, layer: u32, component: usize) -> String {
    let named = components(session, layer).get(component);
    named.map_or_else(|| format!("component {}", component + 1), |it| it.name.clone())
}

/// A pour of a component (from 0), as `planned` where nothing is typed.
#[must_use]
pub fn pour(session: &Session, mix: &MixBoard, component: usize, planned: &str) -> Form {
    let label = match mix.by {
        Gauge::Scale => "the scale shows",
        Gauge::Mark => "the mark shows",
    };
    let hint = format!("empty: {planned}; with + before it: this pour alone");
    let name = name_of(session, mix.layer, component);
    let title = format!("{name} into pot {}{}", mix.pot, from_can(session, mix, component));
    let fields = vec![mix_field(MixField::Poured, label, hint)];
    mix_form(MixForm::Pour(component), title, fields)
}

/// ', from Grey primer base, big tin', where a can is taken for a component.
fn from_can(session: &Session, mix: &MixBoard, component: usize) -> String {
    let ahead = mix.cans.iter().find(|ahead| ahead.component == component);
    let seen = ahead.and_then(|ahead| session.state().stock.can(&ahead.can));
    seen.map_or_else(String::new, |seen| format!(", from {}", seen.name))
}

/// The lots that stand on the cans from which a pot is still to be poured.
pub(super) fn lots_on_cans(session: &Session, mix: &MixBoard) -> Vec<Lot> {
    let seen = mix.cans.iter().filter_map(|ahead| session.state().stock.can(&ahead.can));
    seen.filter_map(SeenCan::lot).collect()
}

/// Reducer (from 0) went into a mixed pot.
#[must_use]
pub fn reducer(session: &Session, mix: &MixBoard, component: usize) -> Form {
    let name = name_of(session, mix.layer, component);
    let title = format!("{name} added to pot {}: it keeps its birth", mix.pot);
    let hint = by_units(units_of(session), "12mL, or 10g", "0.5floz, or 0.4oz");
    let fields = vec![mix_field(MixField::Poured, "how much went in", hint)];
    mix_form(MixForm::Reducer(component), title, fields)
}

/// How much is to be mixed, or how much there is of a short component.
#[must_use]
pub fn amount(session: &Session, mix: &MixBoard, needed: Option<&str>) -> Form {
    let units = units_of(session);
    let needed = needed.map_or_else(
        || by_units(units, "520mL, or 690g", "18floz, or 24oz").to_owned(),
        |needed| empty_means(needed, "what the coats to come need; or a weight"),
    );
    let mut fields = vec![mix_field(MixField::Wanted, "amount wanted", needed)];
    for (number, component) in components(session, mix.layer).iter().enumerate() {
        let label = format!("{} on hand", component.name);
        let hint = by_units(units, "61g, or 50mL", "2oz, or 1.5floz");
        let hint = format!("{hint}: gives the largest pot that it allows");
        fields.push(mix_field(MixField::Short(number), label, hint));
    }
    let hint = by_units(units, "600mL", "20floz");
    let hint = format!("{hint}; empty: the smallest of the shop that is large enough");
    fields.push(mix_field(MixField::Container, "the container holds", hint));
    mix_form(MixForm::Amount, format!("Pot {}: how much", mix.pot), fields)
}

/// The makers' lots of a pot: as told, else as they stand on its cans, else those of the layer's
/// last pot, to be looked at.
#[must_use]
pub fn lots(session: &Session, mix: &MixBoard) -> Form {
    let mixings = session.state().mixings.iter().rev();
    let before = mixings.filter(|mixing| mixing.layer == mix.layer).flat_map(|it| &it.lots);
    let on_cans = lots_on_cans(session, mix);
    let all: Vec<&Lot> = mix.lots.iter().chain(&on_cans).chain(before).collect();
    let known = |name: &str| all.iter().find(|lot| lot.component == name).copied();
    let fields = components(session, mix.layer).iter().enumerate().map(|(number, component)| {
        let label = format!("lot of {}", component.name);
        let text = known(&component.name).map(lot_text).unwrap_or_default();
        Field { text, ..field(FieldName::Lot(number), label, LOT) }
    });
    mix_form(MixForm::Lots, format!("Lots in pot {}", mix.pot), fields.collect())
}

/// How a lot is typed.
pub(super) const LOT: &str = "24-117 until 2027-03";

pub(super) fn lot_text(lot: &Lot) -> String {
    let until = lot.until.as_ref().map(|until| format!(" until {until}"));
    format!("{}{}", lot.lot, until.unwrap_or_default())
}

/// Seconds in the flow cup.
#[must_use]
pub fn flow_cup(mix: &MixBoard, wants: &str) -> Form {
    let fields = vec![mix_field(MixField::Seconds, "seconds", wants)];
    mix_form(MixForm::FlowCup, format!("Flow cup, pot {}", mix.pot), fields)
}

/// What is left in a pot.
#[must_use]
pub fn weighed(mix: &MixBoard, units: ShopUnits) -> Form {
    let hint = by_units(units, "310g, or 250mL", "11oz, or 8floz");
    let fields = vec![
        mix_field(MixField::Left, "scale or mark show", hint),
        mix_field(MixField::Tare, "container weighs", "empty: the scale was tared"),
    ];
    mix_form(MixForm::Weighed, format!("What is left in pot {}", mix.pot), fields)
}

/// What went back to the can. What a can on the shelf held before is known.
#[must_use]
pub fn returned(session: &Session, mix: &MixBoard) -> Form {
    let units = units_of(session);
    let hint = by_units(units, "120mL, or 140g", "4floz, or 5oz");
    let mut fields = vec![mix_field(MixField::Returned, "how much went back", hint)];
    let seen = mix.back_to.as_ref().and_then(|can| session.state().stock.can(can));
    if seen.is_none() {
        let hint = by_units(units, "1000mL; empty: not known", "32floz; empty: not known");
        fields.push(mix_field(MixField::Can, "can held before the pot", hint));
    }
    let can = seen.map_or("the can", |seen| &seen.name);
    let title = format!("Back to {can} from pot {}: never once activator is in", mix.pot);
    mix_form(MixForm::Returned, title, fields)
}

/// A figure on which the amount rests: its name in the log, and what it is called.
struct Rest {
    field: String,
    label: String,
}

fn rests(session: &Session) -> Vec<Rest> {
    let state = session.state();
    let layer = layer_on_bench(state);
    let sheet = state.layer(layer).map_or("", |layer| &layer.sheet);
    let rest = |field: String, label: &str| Rest { field, label: label.to_owned() };
    let mut rests = vec![
        rest(format!("layers.{layer}.dry_um"), "dry film a coat"),
        rest(format!("layers.{layer}.coats"), "coats"),
        rest(format!("sheets.{sheet}.solids_pct"), "solids before reducer"),
        rest("shop.transfer_pct".into(), "share that lands"),
        rest("shop.loss_ml".into(), "stays in gun and strainer"),
        rest("shop.spare_pct".into(), "spare, % on top"),
        rest(format!("sheets.{sheet}.tolerance_pct"), "ratio may be off by"),
        rest("shop.scale_step_g".into(), "scale's step"),
    ];
    if state.sheet(layer).is_some_and(|sheet| sheet.coverage.is_some()) {
        let at = format!("sheets.{sheet}.coverage");
        rests.push(rest(format!("{at}.m2_per_l"), "coverage, where solids are not set"));
        rests.push(rest(format!("{at}.at_um"), "dry film of that coverage"));
    }
    for component in components(session, layer) {
        let field = format!("sheets.{sheet}.mix.{}.density_g_per_ml", component.name);
        rests.push(rest(field, &format!("density of {}", component.name)));
    }
    let work = &state.work;
    for (name, part) in &work.parts {
        for face in &part.faces {
            let field = format!("parts.{name}.{}.area_m2", face.id);
            rests.push(rest(field, &format!("{} · {}", part.name, face.name)));
        }
    }
    rests
}

/// Every figure on which the amount rests, each open to change.
#[must_use]
pub fn rests_on(session: &Session) -> Form {
    let units = units_of(session);
    let known = figures(&session.state().work);
    let value = |name: &str| known.iter().find(|figure| figure.field == name)?.value;
    let fields = rests(session).into_iter().enumerate().map(|(number, rest)| {
        let shown = |value| Measure::of(&rest.field).show(value, units);
        let now = value(&rest.field).map_or("not set".to_owned(), shown);
        let hint = format!("{now} now");
        Field { stands: true, ..mix_field(MixField::Figure(number), rest.label, hint) }
    });
    mix_form(MixForm::Rests, "What the amount rests on: change any of these", fields.collect())
}

impl Fields<'_> {
    pub(super) fn mix(&self, kind: MixForm, session: &Session) -> Result<MixFilled, Failed> {
        Ok(match kind {
            MixForm::Pour(component) => MixFilled::Pour(component, self.poured()?),
            MixForm::Reducer(component) => {
                MixFilled::Reducer(component, self.told(MixField::Poured)?)
            }
            MixForm::Amount => {
                let wanted = self.told(MixField::Wanted)?.unwrap_or_default();
                let all = components(session, layer_on_bench(session.state())).len();
                let short = (0..all).map(|at| Ok((at, self.told(MixField::Short(at))?)));
                let short: Vec<(usize, Option<Told>)> = short.collect::<Result<_, Failed>>()?;
                let short = short.into_iter().filter_map(|(at, told)| Some((at, told?)));
                MixFilled::Amount(wanted, short.collect(), self.ml(MixField::Container)?)
            }
            MixForm::Lots => {
                MixFilled::Lots(self.lots_of(components(session, layer_on_bench(session.state())))?)
            }
            MixForm::FlowCup => {
                MixFilled::FlowCup(self.parsed(FieldName::Mix(MixField::Seconds), |text| {
                    let number = text.trim_end_matches('s').trim_end();
                    parse_plain(number)
                        .map_err(|_| format!("'{text}' was given; accepted: seconds such as 38"))
                })?)
            }
            MixForm::Weighed => MixFilled::Weighed(self.left()?),
            MixForm::Returned => {
                MixFilled::Returned(self.told(MixField::Returned)?, self.ml(MixField::Can)?)
            }
            MixForm::Rests => MixFilled::Rests(self.rests(session)?),
        })
    }

    /// The running total, or with '+' the pour alone.
    fn poured(&self) -> Result<Option<Poured>, Failed> {
        let by_mark = self
            .find(FieldName::Mix(MixField::Poured))
            .is_some_and(|(_, field)| field.label.starts_with("the mark"));
        self.parsed(FieldName::Mix(MixField::Poured), |text| {
            let told = self.amount_of(text, !by_mark)?;
            if text.starts_with('+') {
                return Ok(Poured::Amount(told));
            }
            match told {
                Told { g: Some(g), .. } => Ok(Poured::ScaleShows(g)),
                Told { ml: Some(ml), .. } => Ok(Poured::MarkShows(ml)),
                Told { .. } => Err("nothing was given".to_owned()),
            }
        })
    }

    fn told(&self, name: MixField) -> Result<Option<Told>, Failed> {
        self.parsed(FieldName::Mix(name), |text| self.amount_of(text, false))
    }

    /// A weight or a volume; a bare number is a weight where `weighed`, else a volume, in the
    /// shop's units.
    fn amount_of(&self, text: &str, weighed: bool) -> Result<Told, String> {
        let bare = parse_plain(text).is_ok();
        let mass = parse_mass_or(text, by_units(self.units, "g", "oz"));
        let volume = parse_volume_or(text, by_units(self.units, "mL", "floz"));
        let grams = mass.as_ref().ok().filter(|_| weighed || !bare);
        match (grams, &volume) {
            (Some(mass), _) => Ok(Told { g: Some(mass.g()), ml: None }),
            (None, Ok(volume)) => Ok(Told { g: None, ml: Some(volume.ml()) }),
            (None, Err(error)) => {
                let error = mass.as_ref().err().filter(|_| weighed).unwrap_or(error);
                let accepted = format!("{}, or {}", masses(self.units), volumes(self.units));
                Err(unread(error, &accepted))
            }
        }
    }

    fn ml(&self, name: MixField) -> Result<Option<f64>, Failed> {
        let (unit, accepted) = (by_units(self.units, "mL", "floz"), volumes(self.units));
        self.parsed(FieldName::Mix(name), |text| {
            let volume = parse_volume_or(text, unit).map_err(|error| unread(&error, accepted))?;
            Ok(volume.ml())
        })
    }

    /// What is left, the container's own weight taken off.
    fn left(&self) -> Result<Option<Told>, Failed> {
        let left = self.told(MixField::Left)?;
        let (unit, accepted) = (by_units(self.units, "g", "oz"), masses(self.units));
        let tare_g = self.parsed(FieldName::Mix(MixField::Tare), |text| {
            let mass = parse_mass_or(text, unit).map_err(|error| unread(&error, accepted))?;
            Ok(mass.g())
        })?;
        match (left, tare_g) {
            (Some(Told { g: Some(gross), .. }), Some(tare)) if tare > gross => {
                let at = self.at(FieldName::Mix(MixField::Tare));
                let typed = self.text(FieldName::Mix(MixField::Tare));
                let accepted = "less than container and mix together";
                Err((at, format!("'{typed}' was given; accepted: {accepted}")))
            }
            (Some(Told { g: Some(gross), .. }), Some(tare)) => {
                Ok(Some(Told { g: Some(gross - tare), ml: None }))
            }
            (left, _) => Ok(left),
        }
    }

    fn rests(&self, session: &Session) -> Result<Vec<(String, f64)>, Failed> {
        let mut changes = Vec::new();
        for (number, rest) in rests(session).into_iter().enumerate() {
            let name = FieldName::Mix(MixField::Figure(number));
            let value =
                self.parsed(name, |text| Measure::of(&rest.field).read(text, self.units))?;
            changes.extend(value.map(|value| (rest.field, value)));
        }
        Ok(changes)
    }

    /// Lots, each with its date where one is typed behind it.
    pub(super) fn lots_of(&self, components: &[Component]) -> Result<Vec<Lot>, Failed> {
        let mut lots = Vec::new();
        for (number, component) in components.iter().enumerate() {
            let lot = self.parsed(FieldName::Lot(number), |text| lot_in(&component.name, text))?;
            lots.extend(lot);
        }
        Ok(lots)
    }
}

/// '24-117 until 2027-03', or the lot alone.
fn lot_in(component: &str, text: &str) -> Result<Lot, String> {
    let (lot, until) = match text.split_once("until") {
        Some((lot, until)) => (lot, Some(until.trim())),
        None => (text, None),
    };
    let lot = lot.trim().trim_end_matches(',').trim_end().to_owned();
    let dated = |until: &str| {
        let digits = until.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
        digits && (until.len() == 7 || until.len() == 10)
    };
    if lot.is_empty() || until.is_some_and(|until| !dated(until)) {
        return Err(format!("'{text}' was given; accepted: {LOT}, or the lot alone"));
    }
    let until = until.map(ToOwned::to_owned);
    Ok(Lot { component: component.to_owned(), lot, until })
}

/// What a gauge shows, in the shop's units.
#[must_use]
pub fn as_typed(shows: Shows, units: ShopUnits) -> String {
    match shows {
        Shows::Scale(g) => super::figure_told(g, Unit::Gram, units),
        Shows::Mark(ml) => super::figure_told(ml, Unit::Millilitre, units),
    }
}
