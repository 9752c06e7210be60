//! How a reading that is being typed is understood, to be seen before it is kept; several figures typed in one
//! field.

use boothside_core::session::bounds::Unit;
use boothside_core::work::job::ShopUnits;

use super::say::figure;
use super::tenths::{parse, range_of};
use super::{FieldName, Form, FormKind};

impl Form {
    /// Writes beside every figure of a reading how it is understood.
    pub fn understand(&mut self, units: ShopUnits) {
        if self.kind != FormKind::Reading {
            return;
        }
        let names: Vec<FieldName> = self.fields.iter().map(|field| field.name).collect();
        for (at, field) in self.fields.iter_mut().enumerate() {
            let behind = names.get(at..).unwrap_or_default();
            field.understood = understood(behind, &field.text, units);
        }
    }

    /// Several figures typed in the field in focus go into the fields that follow. The number of the last
    /// one filled; nothing where only one figure stands there.
    pub fn spread(&mut self) -> Option<usize> {
        if self.kind != FormKind::Reading {
            return None;
        }
        let from = self.focus;
        let behind = self.fields.get_mut(from..)?;
        let names: Vec<FieldName> = behind.iter().map(|field| field.name).collect();
        let pieces = pieces(&behind.first()?.text)?;
        let figures = names.iter().take_while(|name| range_of(**name).is_some()).count();
        if pieces.len() > figures {
            return None;
        }
        let last = from + pieces.len() - 1;
        for (field, piece) in behind.iter_mut().zip(pieces) {
            field.text = piece;
            field.error = None;
        }
        Some(last)
    }
}

/// The figures of a text between blanks, each with the unit behind it; nothing for a single one.
fn pieces(text: &str) -> Option<Vec<String>> {
    let mut pieces: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let begins = word
            .trim_start_matches(['-', '−', '+'])
            .starts_with(|c: char| c.is_ascii_digit() || c == '.');
        match pieces.last_mut() {
            Some(before) if !begins => {
                before.push(' ');
                before.push_str(word);
            }
            _ => pieces.push(word.to_owned()),
        }
    }
    (pieces.len() > 1).then_some(pieces)
}

/// '= 19.4 °C', or of several figures '= 19.4 °C · 58 % · 18.8 °C'.
fn understood(names: &[FieldName], text: &str, units: ShopUnits) -> Option<String> {
    range_of(*names.first()?)?;
    let pieces = pieces(text).unwrap_or_else(|| vec![text.trim().to_owned()]);
    let mut read = Vec::new();
    for (at, piece) in pieces.iter().enumerate() {
        let name = *names.get(at)?;
        let range = range_of(name)?;
        let value = parse(name, piece, units).ok().filter(|value| range.hold(*value))?;
        let unit = if name == FieldName::Humidity { Unit::Percent } else { Unit::Celsius };
        read.push(figure(value, unit, units));
    }
    Some(format!("= {}", read.join(" \u{b7} ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    const NAMES: [FieldName; 3] = [FieldName::Air, FieldName::Humidity, FieldName::Surface];

    #[test]
    fn what_is_typed_is_shown_as_it_is_understood() {
        let metric = |text| understood(&NAMES, text, ShopUnits::Metric);
        assert_eq!(metric("194").as_deref(), Some("= 19.4 °C"));
        assert_eq!(metric("19.4 58 188").as_deref(), Some("= 19.4 °C · 58 % · 18.8 °C"));
        assert_eq!(metric("67 F").as_deref(), Some("= 19.4 °C"));
        for nothing in ["", "abc", "19.4 58 18.8 1", "-", "19.4 580000"] {
            assert_eq!(metric(nothing), None, "{nothing}");
        }
        let us = understood(&NAMES, "672", ShopUnits::Us);
        assert_eq!(us.as_deref(), Some("= 67.2 °F"));
    }

    #[test]
    fn a_unit_behind_a_blank_belongs_to_its_number() {
        assert_eq!(
            pieces("19.4 C 58 % 18.8"),
            Some(vec!["19.4 C".into(), "58 %".into(), "18.8".into()])
        );
        assert_eq!(pieces("19.4 °C"), None);
    }
}
