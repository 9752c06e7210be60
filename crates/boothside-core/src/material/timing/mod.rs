//! A duration as a technical sheet states it: for which air, and how it bends in another.

pub mod said;

use serde::{Deserialize, Serialize};

use crate::fault::{Bound, Faults};
use crate::physics::rate::{RateError, Table};
use crate::units::Temperature;

/// What a sheet can state as a duration, s: from what an eye can follow to ten years, no source.
const DURATION_S: (f64, f64) = (0.001, 3652.0 * 86_400.0);
/// Air and surface for which a duration is stated, °C.
const STATED_C: (f64, f64) = (-10.0, 60.0);
/// Humidity for which it is stated, %.
const HUMIDITY_PCT: (f64, f64) = (1.0, 100.0);
/// Humidity at which no water dries, %.
const SATURATED_PCT: f64 = 100.0;
/// A floor under which nothing happens, °C.
const FLOOR_C: (f64, f64) = (-50.0, 60.0);
/// Activation energy, kJ/mol.
const ENERGY_KJ_PER_MOL: (f64, f64) = (1.0, 200.0);
/// A difference that doubles the speed, °C.
const DOUBLES_C: (f64, f64) = (1.0, 100.0);
/// Rows of a table lie further apart than this, °C: no thermometer of a shop tells less.
const LEAST_APART_C: f64 = 0.001;

/// How a stated duration follows the air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LawName {
    /// As stated, whatever the air.
    #[default]
    Steady,
    /// The sheet's own durations at several temperatures.
    Table,
    /// Faster when warmer, by an activation energy or a doubling difference.
    Warmth,
    /// The drying of water: faster in warm dry air.
    Water,
    /// For the end of a window alone, where its sheet states no law: that of the same gap's
    /// `earliest`, taken by the painter, and used to shorten only.
    AsEarliest,
}

/// One row of a sheet's own table.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct TablePoint {
    /// Temperature of the row, °C.
    pub at_c: f64,
    /// The duration that the sheet gives there, s.
    pub duration_s: f64,
}

/// A duration with the law that bends it. A range ('10–15 min') gives its upper end to minima and
/// its lower end to maxima.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Timing {
    /// The stated duration, or the lower end of a stated range, s.
    pub duration_s: f64,
    /// The upper end of a stated range, s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up_to_s: Option<f64>,
    /// The temperature for which it is stated, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_c: Option<f64>,
    /// The humidity for which it is stated, %.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_pct: Option<f64>,
    /// How it follows the air.
    #[serde(default)]
    pub law: LawName,
    /// Activation energy for `warmth`, kJ/mol.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub energy_kj_per_mol: Option<f64>,
    /// 'Doubles every n °C' for `warmth`: a difference of temperature, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doubles_per_c: Option<f64>,
    /// Below this temperature nothing happens, °C; at it, it does.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floor_c: Option<f64>,
    /// The rows for `table`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub table: Vec<TablePoint>,
}

impl Timing {
    /// A `steady` timing of `duration_s` seconds.
    #[must_use]
    pub fn steady(duration_s: f64) -> Self {
        Self {
            duration_s,
            up_to_s: None,
            at_c: None,
            at_pct: None,
            law: LawName::Steady,
            energy_kj_per_mol: None,
            doubles_per_c: None,
            floor_c: None,
            table: Vec::new(),
        }
    }

    /// The upper end of the stated range, s: what a minimum takes.
    #[must_use]
    pub fn upper_s(&self) -> f64 {
        self.up_to_s.unwrap_or(self.duration_s)
    }

    /// Notes what does not fit.
    pub fn check(&self, faults: &mut Faults) {
        self.check_figures(faults);
        self.check_law(faults);
    }

    /// The same for the end of a window, which may go by the law of its gap's `earliest`.
    pub(super) fn check_end(&self, earliest: &Self, faults: &mut Faults) {
        self.check_figures(faults);
        if self.law != LawName::AsEarliest {
            return self.check_law(faults);
        }
        if matches!(earliest.law, LawName::Steady | LawName::AsEarliest) {
            let accepted = "as_earliest where earliest has the law table, warmth or water";
            faults.add("law", "as_earliest", accepted);
        } else if self.at_c.or(earliest.at_c).is_none() {
            let accepted = "the temperature for which it is stated: earliest tells none";
            faults.add("at_c", "nothing", accepted);
        }
        if earliest.law == LawName::Water {
            self.check_dries(faults);
        }
        self.check_strays(faults);
    }

    fn check_dries(&self, faults: &mut Faults) {
        let accepted = "less than 100, at which no water dries";
        faults.bounded("at_pct", self.at_pct, Bound::Below(SATURATED_PCT), accepted);
    }

    /// This duration bent by the law of `earliest`, from its own stated air where it has one, else
    /// from that of `earliest`. Nothing where `earliest` has no law, and where neither tells the
    /// temperature.
    #[must_use]
    pub fn as_earliest(&self, earliest: &Self) -> Option<Self> {
        let at_c = self.at_c.or(earliest.at_c);
        let at_pct = self.at_pct.or(earliest.at_pct);
        let bent = Self { at_c, at_pct, law: earliest.law, ..self.clone() };
        match earliest.law {
            LawName::Steady | LawName::AsEarliest => None,
            LawName::Warmth => {
                let energy_kj_per_mol = earliest.energy_kj_per_mol;
                let doubles_per_c = earliest.doubles_per_c;
                at_c.map(|_| Self { energy_kj_per_mol, doubles_per_c, ..bent })
            }
            LawName::Water => at_c.zip(at_pct.filter(|pct| *pct < SATURATED_PCT)).map(|_| bent),
            LawName::Table => {
                let shape = earliest.rate_table().ok()?;
                let table = shape.shaped_to(self.duration_s, Temperature::from_celsius(at_c?));
                let row = |(at, duration_s): (Temperature, f64)| TablePoint {
                    at_c: at.celsius(),
                    duration_s,
                };
                Some(Self { table: table.ok()?.pairs().map(row).collect(), ..bent })
            }
        }
    }

    /// Whether this is the end of a window without a law of its own, which could go by that of
    /// `earliest`.
    #[must_use]
    pub fn lacks_the_law_of(&self, earliest: &Self) -> bool {
        self.law == LawName::Steady && self.as_earliest(earliest).is_some()
    }

    /// The rows as a law.
    ///
    /// # Errors
    /// [`RateError`] when they make no table; one that was checked does.
    pub fn rate_table(&self) -> Result<Table, RateError> {
        let row = |point: &TablePoint| (Temperature::from_celsius(point.at_c), point.duration_s);
        Table::new(self.table.iter().map(row).collect())
    }

    fn check_figures(&self, faults: &mut Faults) {
        check_duration(faults, "duration_s", self.duration_s);
        if let Some(up_to_s) = self.up_to_s {
            check_duration(faults, "up_to_s", up_to_s);
        }
        faults.rising(("duration_s", self.duration_s), ("up_to_s", self.up_to_s));
        faults.within_range("at_c", self.at_c, STATED_C.0, STATED_C.1);
        faults.within_range("at_pct", self.at_pct, HUMIDITY_PCT.0, HUMIDITY_PCT.1);
        faults.within_range("floor_c", self.floor_c, FLOOR_C.0, FLOOR_C.1);
    }

    fn check_law(&self, faults: &mut Faults) {
        match self.law {
            LawName::Steady => {}
            LawName::Table => self.check_table(faults),
            LawName::Warmth => self.check_warmth(faults),
            LawName::Water if self.at_c.is_none() || self.at_pct.is_none() => {
                faults.add("law", "water", "water with at_c and at_pct, its stated air");
            }
            LawName::Water => self.check_dries(faults),
            LawName::AsEarliest => {
                let accepted =
                    "steady, table, warmth or water: as_earliest is for the end of a gap";
                faults.add("law", "as_earliest", accepted);
            }
        }
        self.check_strays(faults);
    }

    /// What belongs to another law.
    fn check_strays(&self, faults: &mut Faults) {
        if self.law != LawName::Warmth
            && (self.energy_kj_per_mol.is_some() || self.doubles_per_c.is_some())
        {
            faults.add("law", format!("{:?}", self.law), "warmth, where an energy is given");
        }
        if self.law != LawName::Table && !self.table.is_empty() {
            faults.add("law", format!("{:?}", self.law), "table, where a table is given");
        }
    }

    fn check_table(&self, faults: &mut Faults) {
        if self.table.len() < 2 {
            faults.add("table", format!("{} rows", self.table.len()), "two rows or more");
        }
        if !self.table.is_sorted_by(|a, b| b.at_c - a.at_c > LEAST_APART_C) {
            faults.add("table", "unordered rows", "rows in rising order of at_c, each once");
        }
        for (row, point) in self.table.iter().enumerate() {
            faults.within(format!("table[{row}]"), |faults| {
                faults.within_range("at_c", point.at_c, STATED_C.0, STATED_C.1);
                check_duration(faults, "duration_s", point.duration_s);
            });
        }
    }

    fn check_warmth(&self, faults: &mut Faults) {
        if self.at_c.is_none() {
            faults.add("at_c", "nothing", "the temperature for which the duration is stated");
        }
        let ((least, most), (low, high)) = (ENERGY_KJ_PER_MOL, DOUBLES_C);
        match (self.energy_kj_per_mol, self.doubles_per_c) {
            (Some(energy), None) => faults.within_range("energy_kj_per_mol", energy, least, most),
            (None, Some(step)) => faults.within_range("doubles_per_c", step, low, high),
            (Some(_), Some(_)) => {
                faults.add("doubles_per_c", "both", "energy_kj_per_mol or doubles_per_c");
            }
            (None, None) => {
                faults.add("law", "warmth", "warmth with energy_kj_per_mol or doubles_per_c");
            }
        }
    }
}

fn check_duration(faults: &mut Faults, field: &str, seconds: f64) {
    let (low, high) = DURATION_S;
    if seconds > 0.0 {
        faults.within_range(field, seconds, low, high);
    } else {
        faults.positive(field, seconds);
    }
}
