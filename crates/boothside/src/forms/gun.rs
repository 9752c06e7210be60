//! The gun's card: the form and what is read from it.

use boothside_core::session::Session;
use boothside_core::session::gun::{GunCard, GunResult, GunSetting};
use boothside_core::units::parse::{parse_length, parse_plain, parse_pressure_or};
use boothside_core::units::{Pressure, show};
use boothside_core::work::job::ShopUnits;

use super::build::{field, form, when};
use super::read::{Failed, Fields};
use super::say::{by_units, pressures, unread};
use super::{FieldName, Form, FormKind, sheet};

/// How the gun is set. What is left empty stays as the last card has it.
#[must_use]
pub fn gun(session: &Session) -> Form {
    let state = session.state();
    let units = state.work.shop.units;
    let last = state.gun_cards.last();
    let stays = |value: Option<String>, example: &str| {
        value.map_or_else(|| example.to_owned(), |value| format!("empty: {value} stays"))
    };
    let set = last.map(|card| card.setting.clone()).unwrap_or_default();
    let inlet = set.inlet_kpa.map(|kpa| pressure(kpa, units));
    let example = by_units(units, "150, or 1.5bar", "22, or 22psi");
    let turns = |value: Option<f64>| value.map(|turns| format!("{turns}"));
    let in_work = state.layer_in_work().and_then(|layer| state.sheet(layer));
    let nozzle = stays(set.nozzle_mm.map(|mm| format!("{mm}")), "1.3");
    let inlet = sheet::pressure(in_work, units, &stays(inlet, example));
    let fields = vec![
        field(FieldName::Nozzle, "nozzle, mm", sheet::nozzle(in_work, &nozzle)),
        field(FieldName::Inlet, "inlet, trigger pulled", inlet),
        field(FieldName::FanTurns, "fan, turns open", stays(turns(set.fan_turns), "2.5")),
        field(FieldName::FluidTurns, "fluid, turns open", stays(turns(set.fluid_turns), "1.5")),
        field(FieldName::Cap, "air cap", stays(set.cap, "as its maker marks it")),
        field(FieldName::Result, "how it sprays", "good or bad; empty: not tried"),
        field(FieldName::Text, "note", "heavy in the middle"),
        when("set"),
    ];
    form(FormKind::Gun, title(last), fields)
}

fn title(last: Option<&GunCard>) -> String {
    let Some(card) = last else { return "How the gun is set".to_owned() };
    let result = match card.setting.result {
        Some(GunResult::Good) => "good",
        Some(GunResult::Bad) => "bad",
        None => "result not told",
    };
    let note = card.setting.note.as_ref().map_or_else(String::new, |note| format!(", {note}"));
    format!("How the gun is set \u{b7} last card: {result}{note}")
}

fn pressure(kpa: f64, units: ShopUnits) -> String {
    let system = if units == ShopUnits::Us { show::System::Us } else { show::System::Metric };
    show::pressure(Pressure::from_pa(kpa * 1000.0), system)
}

impl Fields<'_> {
    pub(super) fn gun(&self) -> Result<GunSetting, Failed> {
        let unit = if self.units == ShopUnits::Us { "psi" } else { "kPa" };
        let text = |name| Some(self.text(name)).filter(|text| !text.is_empty());
        Ok(GunSetting {
            nozzle_mm: self.parsed(FieldName::Nozzle, millimetres)?,
            inlet_kpa: self.parsed(FieldName::Inlet, |text| {
                let pressure = parse_pressure_or(text, unit)
                    .map_err(|error| unread(&error, pressures(self.units)))?;
                Ok(pressure.pa() / 1000.0)
            })?,
            fan_turns: self.parsed(FieldName::FanTurns, turns)?,
            fluid_turns: self.parsed(FieldName::FluidTurns, turns)?,
            cap: text(FieldName::Cap),
            result: self.parsed(FieldName::Result, result)?,
            note: text(FieldName::Text),
        })
    }
}

/// A nozzle: a bare number is in mm, as makers everywhere mark them.
fn millimetres(text: &str) -> Result<f64, String> {
    match parse_plain(text) {
        Ok(mm) => Ok(mm),
        Err(_) => parse_length(text)
            .map(|length| length.m() * 1000.0)
            .map_err(|error| unread(&error, "1.3, or 1.3mm")),
    }
}

fn turns(text: &str) -> Result<f64, String> {
    let number = text.trim_end_matches(|c: char| c.is_alphabetic()).trim_end();
    parse_plain(number).map_err(|_| format!("'{text}' was given; accepted: turns such as 2 or 2.5"))
}

fn result(text: &str) -> Result<GunResult, String> {
    match text.to_lowercase().as_str() {
        "good" | "g" => Ok(GunResult::Good),
        "bad" | "b" => Ok(GunResult::Bad),
        _ => Err(format!("'{text}' was given; accepted: good or bad")),
    }
}
