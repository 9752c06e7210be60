//! What a field takes: how a text becomes what the file holds, and back.

mod choose;
mod pair;
mod quantity;
mod read;
mod sieve;

pub use choose::{Choice, Offer, choice, fitting};
pub use pair::split;
pub use quantity::Quantity;

use boothside_core::material::timing::said;
use boothside_store::book::Kind;
use serde_json::Value;

use super::draft::Draft;
use super::index::Index;

/// What a field takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Takes {
    /// A name of 1 to 60 characters.
    Name,
    /// Words.
    Words,
    /// A plain number.
    Number,
    /// A whole number.
    Count,
    /// Percent.
    Percent,
    /// Seconds of a flow cup.
    Seconds,
    /// A duration.
    Span,
    /// A duration as a technical sheet states it, with the air for which it is.
    Timing,
    /// A temperature.
    Temperature,
    /// A difference of temperatures.
    Difference,
    /// A mass per volume.
    Density,
    /// A film or a mesh.
    Film,
    /// What a strainer lets through: an opening, or the number of a sieve.
    Strainer,
    /// Hours.
    Hours,
    /// Months.
    Months,
    /// The bore of a nozzle.
    Bore,
    /// An area.
    Area,
    /// A length.
    Length,
    /// A pressure.
    Pressure,
    /// A flow of air.
    Flow,
    /// The volume of a room.
    Room,
    /// A volume of liquid.
    Volume,
    /// Several of them.
    Volumes,
    /// A mass.
    Mass,
    /// A content of volatile organics.
    Content,
    /// An area for a volume of paint.
    Spread,
    /// The vapour of a volume of solvent.
    Vapour,
    /// A date: `2027`, `2027-03`, `2027-03-15`.
    Date,
    /// Parts in a ratio; of a reducer also a share of the other parts.
    Parts,
    /// A flow cup.
    Cup,
    /// Whether it is so.
    Flag,
    /// One of several.
    Choice(&'static [Choice]),
    /// Something of the book.
    Named(Kind),
    /// A face of this part that stands before this one.
    EarlierFace,
    /// A part of this job.
    PartOfJob,
    /// A face of this job.
    FaceOfJob,
    /// A component of this can's sheet.
    ComponentOfSheet,
}

/// What reading and showing a field may look at.
#[derive(Clone, Copy)]
pub struct Around<'a> {
    /// Whether the shop works in US units.
    pub us: bool,
    /// What the book has.
    pub index: &'a Index,
    /// The form as it is filled in.
    pub draft: &'a Draft,
}

impl Takes {
    /// Whether it is picked from a list, not typed.
    #[must_use]
    pub const fn is_picked(self) -> bool {
        matches!(
            self,
            Self::Cup
                | Self::Flag
                | Self::Choice(_)
                | Self::Named(_)
                | Self::EarlierFace
                | Self::PartOfJob
                | Self::FaceOfJob
                | Self::ComponentOfSheet
        )
    }

    /// Whether the text as typed is kept beside the number in the file.
    #[must_use]
    pub const fn keeps_text(self) -> bool {
        quantity::of(self).is_some()
            || matches!(self, Self::Timing | Self::Span | Self::Parts | Self::Volumes)
    }

    /// What stands for the field while it is not filled in yet, so that the rest can be checked.
    #[must_use]
    pub fn stand_in(self) -> Value {
        match self {
            Self::Timing => serde_json::json!({ "duration_s": 1e-6 }),
            Self::Count => 1.into(),
            Self::Volumes => Value::Array(Vec::new()),
            Self::Choice(choices) => choices.first().map_or(Value::Null, |it| it.as_value()),
            Self::Flag => false.into(),
            Self::Cup => "iso-4".into(),
            it if quantity::of(it).is_some() => 1.0.into(),
            Self::Number | Self::Percent | Self::Seconds | Self::Span | Self::Parts => 1.0.into(),
            _ => "x".into(),
        }
    }

    /// What stands in the file, as it would be typed. It reads back to the same.
    #[must_use]
    pub fn text_of(self, value: &Value, us: bool) -> String {
        if let Some(quantity) = quantity::of(self) {
            return value.as_f64().map_or_else(String::new, |value| quantity.exactly(value));
        }
        match (self, value) {
            (Self::Timing, value) => serde_json::from_value(value.clone())
                .map_or_else(|_| String::new(), |timing| said::say(&timing, us)),
            (Self::Volumes, Value::Array(list)) => {
                let each = list.iter().filter_map(Value::as_f64);
                each.map(|ml| quantity::VOLUME.exactly(ml)).collect::<Vec<_>>().join(", ")
            }
            (Self::Span, Value::Number(number)) => {
                number.as_f64().map_or_else(String::new, span_text)
            }
            (_, Value::String(text)) => text.clone(),
            (_, Value::Bool(yes)) => yes.to_string(),
            (_, Value::Number(number)) => {
                number.as_f64().map_or_else(|| number.to_string(), |number| number.to_string())
            }
            _ => String::new(),
        }
    }

    /// How the file's value reads in the shop's units, for an eye that checks what it typed.
    #[must_use]
    pub fn echo(self, value: &Value, us: bool) -> String {
        if let (Some(quantity), Some(value)) = (quantity::of(self), value.as_f64()) {
            return quantity.rounded(value, us);
        }
        match self {
            Self::Date => value.as_str().unwrap_or_default().to_owned(),
            Self::Parts => value.as_f64().map_or_else(String::new, |parts| {
                format!("{} parts", boothside_core::units::show::plain(parts))
            }),
            Self::Timing => serde_json::from_value(value.clone())
                .map_or_else(|_| String::new(), |timing| said::say(&timing, us)),
            _ => String::new(),
        }
    }

    /// `text` with the shop's unit behind a bare number, so that it says what it means anywhere.
    #[must_use]
    pub fn completed(self, text: &str, us: bool) -> String {
        let text = text.trim();
        match quantity::of(self) {
            Some(_) if self == Self::Density && quantity::is_weight(text) => format!("{text}/gal"),
            Some(_) if quantity::is_bare_product(text) => {
                format!("{text} {}", quantity::LENGTH.unit(us))
            }
            Some(quantity) if is_bare(text) => format!("{text} {}", quantity.unit(us)),
            _ if self == Self::Timing => timing_with_units(text, us),
            _ if self == Self::Volumes => self.with_units(text, us),
            _ => text.to_owned(),
        }
    }
}

/// A timing whose temperatures stand without a unit would say another thing in another shop.
fn timing_with_units(text: &str, us: bool) -> String {
    match (said::read(text, us), said::read(text, !us)) {
        (Ok(here), elsewhere) if elsewhere.as_ref() != Ok(&here) => said::say(&here, us),
        _ => text.to_owned(),
    }
}

fn is_bare(text: &str) -> bool {
    boothside_core::units::parse::parse_plain(text).is_ok()
}

/// A duration in the largest unit that says it exactly.
fn span_text(seconds: f64) -> String {
    for (unit, length) in [("h", 3600.0), ("min", 60.0)] {
        let count = seconds / length;
        if seconds > 0.0 && count.fract() == 0.0 {
            return format!("{count}{unit}");
        }
    }
    format!("{seconds}s")
}
