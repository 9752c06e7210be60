//! Units of a quantity as multiples of its base unit.

use super::number::{measurable, number};
use super::{Problem, UnitError};

/// The units of one quantity.
pub(super) struct Scale {
    /// Spellings as [`normal`] leaves them, with what one of the unit is in base units.
    units: &'static [(&'static [&'static str], f64)],
    pub(super) accepted: &'static str,
    signed: bool,
}

/// A unit without case, blanks, points and carets, and with plain digits and letters.
pub(super) fn normal(unit: &str) -> String {
    unit.to_lowercase()
        .replace(" per ", "/")
        .chars()
        .filter(|letter| !letter.is_whitespace() && !matches!(letter, '.' | '^'))
        .map(|letter| match letter {
            'µ' | 'μ' => 'u',
            '²' => '2',
            '³' => '3',
            other => other,
        })
        .collect()
}

impl Scale {
    /// What one of a unit is in base units.
    pub(super) fn factor(&self, unit: &str) -> Result<f64, Problem> {
        let wanted = normal(unit);
        if wanted.is_empty() {
            return Err(Problem::NoUnit);
        }
        self.units
            .iter()
            .find(|(spellings, _)| spellings.contains(&wanted.as_str()))
            .map(|(_, factor)| *factor)
            .ok_or_else(|| Problem::UnknownUnit(unit.trim().to_owned()))
    }

    /// A number and its unit, in base units.
    pub(super) fn parse(&self, text: &str) -> Result<f64, UnitError> {
        self.parse_or(text, "")
    }

    /// As [`Self::parse`], a bare number being in the default unit.
    pub(super) fn parse_or(&self, text: &str, default_unit: &str) -> Result<f64, UnitError> {
        let (value, unit) = number(text, self.accepted)?;
        let unit = if unit.is_empty() { default_unit } else { unit };
        self.scaled(value, unit).map_err(|problem| UnitError::new(text, problem, self.accepted))
    }

    /// A sum of numbers with units that become smaller, as `2lb 4oz` or `1h30min`.
    pub(super) fn parse_sum(&self, text: &str) -> Result<f64, UnitError> {
        let refuse = |problem| UnitError::new(text, problem, self.accepted);
        let (mut rest, mut sum, mut last) = (text.trim(), 0.0, f64::INFINITY);
        loop {
            let (value, tail) =
                number(rest, self.accepted).map_err(|error| refuse(error.problem))?;
            let (unit, next) = tail.split_at(unit_length(tail));
            let factor = self.factor(unit).map_err(refuse)?;
            if factor >= last {
                return Err(refuse(Problem::Order));
            }
            sum += self.scaled(value, unit).map_err(refuse)?;
            if next.is_empty() {
                return Ok(sum);
            }
            (rest, last) = (next, factor);
        }
    }

    fn scaled(&self, value: f64, unit: &str) -> Result<f64, Problem> {
        let factor = self.factor(unit)?;
        if value < 0.0 && !self.signed {
            return Err(Problem::Negative);
        }
        measurable(value * factor)
    }
}

/// How many bytes of a text go before its next number.
fn unit_length(text: &str) -> usize {
    let starts_number = |at: usize| {
        let mut letters = text.get(at..).unwrap_or_default().chars();
        let first = letters.next();
        matches!(first, Some('-' | '−' | '0'..='9'))
            || (first == Some('.') && letters.next().is_some_and(|next| next.is_ascii_digit()))
    };
    let starts = text.char_indices().map(|(at, _)| at);
    starts.into_iter().find(|at| starts_number(*at)).unwrap_or(text.len())
}

const ML_PER_GAL: f64 = 3_785.411_784;
const ML_PER_FT3: f64 = 28_316.846_592;
const G_PER_LB: f64 = 453.592_37;
const M_PER_IN: f64 = 0.0254;
const M2_PER_FT2: f64 = 0.092_903_04;
const M3_PER_H_PER_CFM: f64 = ML_PER_FT3 * 60.0 / 1e6;
const PA_PER_PSI: f64 = G_PER_LB / 1000.0 * 9.806_65 / (M_PER_IN * M_PER_IN);
const G_PER_ML_PER_LB_PER_GAL: f64 = G_PER_LB / ML_PER_GAL;

pub(super) const AMOUNT: &str = "900mL, 1.5L, 50floz, 2gal, or by weight 690g, 1.2kg, 2lb, 4oz";

pub(super) const VOLUME: Scale = Scale {
    units: &[
        (&["ml", "cc", "cm3", "milliliter", "milliliters", "millilitre", "millilitres"], 1.0),
        (&["cl"], 10.0),
        (&["dl"], 100.0),
        (&["l", "liter", "liters", "litre", "litres"], 1000.0),
        (&["floz", "fluidounce", "fluidounces", "usfloz"], ML_PER_GAL / 128.0),
        (&["pt", "pint", "pints", "uspt"], ML_PER_GAL / 8.0),
        (&["qt", "quart", "quarts", "usqt"], ML_PER_GAL / 4.0),
        (&["gal", "gallon", "gallons", "usgal"], ML_PER_GAL),
    ],
    accepted: "900mL, 1.5L, 50floz, 1pt, 3qt, 2gal (US)",
    signed: false,
};

pub(super) const MASS: Scale = Scale {
    units: &[
        (&["g", "gram", "grams"], 1.0),
        (&["kg", "kilogram", "kilograms"], 1000.0),
        (&["mg"], 0.001),
        (&["lb", "lbs", "pound", "pounds"], G_PER_LB),
        (&["oz", "ounce", "ounces"], G_PER_LB / 16.0),
    ],
    accepted: "690g, 1.2kg, 2lb, 4oz",
    signed: false,
};

pub(super) const DURATION: Scale = Scale {
    units: &[
        (&["s", "sec", "secs", "second", "seconds"], 1.0),
        (&["min", "mins", "minute", "minutes", "m"], 60.0),
        (&["h", "hr", "hrs", "hour", "hours"], 3600.0),
        (&["d", "day", "days"], 86_400.0),
        (&["wk", "wks", "week", "weeks"], 604_800.0),
    ],
    accepted: "90s, 15min, 2h, 1h30min, 3d",
    signed: false,
};

pub(super) const FILM: Scale = Scale {
    units: &[
        (&["um", "micron", "microns", "micrometer", "micrometre"], 1.0),
        (&["mm"], 1000.0),
        (&["mil", "mils", "thou"], 25.4),
    ],
    accepted: "50um, 0.05mm, 2mil",
    signed: false,
};

pub(super) const LENGTH: Scale = Scale {
    units: &[
        (&["m", "meter", "meters", "metre", "metres"], 1.0),
        (&["cm"], 0.01),
        (&["mm"], 0.001),
        (&["km"], 1000.0),
        (&["in", "inch", "inches", "\""], M_PER_IN),
        (&["ft", "foot", "feet", "'"], 12.0 * M_PER_IN),
    ],
    accepted: "0.14m, 14cm, 140mm, 5.5in, 3ft",
    signed: true,
};

pub(super) const AREA: Scale = Scale {
    units: &[
        (&["m2", "sqm"], 1.0),
        (&["cm2", "sqcm"], 1e-4),
        (&["dm2"], 1e-2),
        (&["ft2", "sqft"], M2_PER_FT2),
        (&["in2", "sqin"], M_PER_IN * M_PER_IN),
    ],
    accepted: "1.1m2, 900cm2, 12ft2, 300in2",
    signed: false,
};

/// Masses per volume, g/mL.
const PER_VOLUME: &[(&[&str], f64)] = &[
    (&["g/ml", "g/cm3", "g/cc", "kg/l"], 1.0),
    (&["g/l", "kg/m3"], 0.001),
    (&["lb/gal", "lbs/gal", "lb/usgal"], G_PER_ML_PER_LB_PER_GAL),
];

pub(super) const DENSITY: Scale =
    Scale { units: PER_VOLUME, accepted: "1.17g/mL, 1.17kg/L, 9.8lb/gal", signed: false };

pub(super) const VOC: Scale =
    Scale { units: PER_VOLUME, accepted: "350g/L, 2.9lb/gal", signed: false };

pub(super) const PRESSURE: Scale = Scale {
    units: &[
        (&["pa"], 1.0),
        (&["hpa", "mbar"], 100.0),
        (&["kpa"], 1000.0),
        (&["bar"], 1e5),
        (&["psi"], PA_PER_PSI),
        (&["inhg"], 3_386.388_640_341),
        (&["mmhg"], 133.322_387_415),
    ],
    accepted: "22psi, 150kPa, 1.5bar, 1013hPa, 29.92inHg",
    signed: false,
};

pub(super) const FLOW: Scale = Scale {
    units: &[
        (&["m3/h", "m3/hr"], 1.0),
        (&["m3/min"], 60.0),
        (&["m3/s"], 3600.0),
        (&["l/s"], 3.6),
        (&["cfm", "ft3/min"], M3_PER_H_PER_CFM),
    ],
    accepted: "4000m3/h, 1.1m3/s, 2400cfm",
    signed: false,
};

pub(super) const ROOM: Scale = Scale {
    units: &[(&["m3", "cum"], 1e6), (&["ft3", "cuft"], ML_PER_FT3), (&["l"], 1000.0)],
    accepted: "60m3, 2000ft3",
    signed: false,
};

pub(super) const KINEMATIC: Scale = Scale {
    units: &[(&["mm2/s", "cst"], 1.0), (&["m2/s"], 1e6), (&["st"], 100.0)],
    accepted: "60mm2/s, 60cSt",
    signed: false,
};

pub(super) const ENERGY: Scale = Scale {
    units: &[(&["kj/mol"], 1.0), (&["j/mol"], 0.001), (&["kcal/mol"], 4.184)],
    accepted: "60kJ/mol, 14.3kcal/mol",
    signed: false,
};

/// The area that a volume of paint covers, m²/L.
pub(super) const SPREAD: Scale = Scale {
    units: &[(&["m2/l"], 1.0), (&["ft2/gal", "sqft/gal"], M2_PER_FT2 / ML_PER_GAL * 1000.0)],
    accepted: "9.8m2/L, 400ft2/gal",
    signed: false,
};

pub(super) const VAPOUR: Scale = Scale {
    units: &[
        (&["m3/l"], 1.0),
        (&["l/l"], 0.001),
        (&["ft3/gal", "cuft/gal"], ML_PER_FT3 / ML_PER_GAL / 1000.0),
    ],
    accepted: "30.4ft3/gal, 0.227m3/L",
    signed: false,
};
