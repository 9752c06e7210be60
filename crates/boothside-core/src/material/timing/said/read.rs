//! From text to timing.

use super::clause::{Clause, Reader, Stated};
use super::{SaidError, stated_row};
use crate::material::timing::{LEAST_APART_C, LawName, TablePoint, Timing};
use crate::units::parse::without_fractions;

/// Reads a timing as it is said; a bare temperature is in °F where `us`, else in °C. What is read
/// fits [`Timing::check`].
///
/// # Errors
/// [`SaidError`] says what was given and what is accepted.
pub fn read(text: &str, us: bool) -> Result<Timing, SaidError> {
    let text = plain_text(text);
    if text.is_empty() {
        return Err(SaidError::Empty);
    }
    if has_decimal_comma(&text) {
        return Err(SaidError::Comma(text));
    }
    let reader = Reader { us };
    let (headline, rest) = split_headline(&text);
    let mut said = Said { text: &text, headline: None, ..Said::default() };
    if let Some(headline) = headline {
        said.headline = Some(reader.stated(headline)?);
    }
    let clauses = rest.split([',', ';']).map(str::trim).filter(|clause| !clause.is_empty());
    for clause in clauses {
        said.take(clause, reader.clause(clause)?)?;
    }
    said.timing()
}

/// Blanks as one blank each, dashes of all kinds as one kind.
fn plain_text(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    let dashes = ['‐', '‑', '‒', '–', '—', '―', '−', '﹣', '－'];
    // a fraction's hyphen is no range, and its stroke no humidity
    without_fractions(&words.join(" ").replace(dashes, "-"))
}

fn has_decimal_comma(text: &str) -> bool {
    text.as_bytes()
        .windows(3)
        .any(|three| matches!(three, [a, b',', c] if a.is_ascii_digit() && c.is_ascii_digit()))
}

/// What stands before the colon of a list, and the rest; `1:30` is none.
fn split_headline(text: &str) -> (Option<&str>, &str) {
    match text.split_once(':') {
        Some((head, rest)) if !rest.starts_with(|next: char| next.is_ascii_digit()) => {
            (Some(head.trim()), rest)
        }
        _ => (None, text),
    }
}

/// What was said so far.
#[derive(Default)]
struct Said<'a> {
    text: &'a str,
    headline: Option<Stated>,
    stated: Vec<Stated>,
    law: Option<Law>,
    floor_c: Option<f64>,
}

#[derive(Clone, Copy)]
enum Law {
    DoublesPer(f64),
    Energy(f64),
    Water,
}

impl Said<'_> {
    fn take(&mut self, text: &str, clause: Clause) -> Result<(), SaidError> {
        let twice = || SaidError::Twice(text.to_owned());
        let law = match clause {
            Clause::Stated(stated) => {
                self.stated.push(stated);
                return Ok(());
            }
            Clause::Humidity(percent) => {
                let last = self.stated.last_mut().ok_or_else(|| SaidError::NoTime(text.into()))?;
                return last.at_pct.replace(percent).map_or(Ok(()), |_| Err(twice()));
            }
            Clause::Floor(celsius) => {
                return self.floor_c.replace(celsius).map_or(Ok(()), |_| Err(twice()));
            }
            Clause::DoublesPer(step) => Law::DoublesPer(step),
            Clause::Energy(energy) => Law::Energy(energy),
            Clause::Water => Law::Water,
        };
        self.law.replace(law).map_or(Ok(()), |_| Err(twice()))
    }

    fn timing(self) -> Result<Timing, SaidError> {
        let timing = match (self.headline, self.stated.as_slice()) {
            (None, []) => return Err(SaidError::NoTime(self.text.to_owned())),
            (None, [stated]) => self.one(*stated)?,
            _ => self.table()?,
        };
        Ok(Timing { floor_c: self.floor_c, ..timing })
    }

    fn one(&self, stated: Stated) -> Result<Timing, SaidError> {
        let Stated { duration_s, up_to_s, at_c, at_pct } = stated;
        let steady = Timing { up_to_s, at_c, at_pct, ..Timing::steady(duration_s) };
        let text = || self.text.to_owned();
        match self.law {
            None => Ok(steady),
            Some(Law::Water) if at_c.is_none() || at_pct.is_none() => Err(SaidError::NoAir(text())),
            Some(Law::Water) if at_pct.is_some_and(|pct| pct >= 100.0) => {
                Err(SaidError::Saturated(text()))
            }
            Some(Law::Water) => Ok(Timing { law: LawName::Water, ..steady }),
            Some(_) if at_c.is_none() => Err(SaidError::NoTemperature(text())),
            Some(Law::DoublesPer(step)) => {
                Ok(Timing { law: LawName::Warmth, doubles_per_c: Some(step), ..steady })
            }
            Some(Law::Energy(energy)) => {
                Ok(Timing { law: LawName::Warmth, energy_kj_per_mol: Some(energy), ..steady })
            }
        }
    }

    fn table(&self) -> Result<Timing, SaidError> {
        if self.law.is_some() {
            return Err(SaidError::TableAndLaw(self.text.to_owned()));
        }
        let rows = || SaidError::Rows(self.text.to_owned());
        let row = |stated: &Stated| match (stated.up_to_s, stated.at_c) {
            (Some(_), _) => Err(SaidError::RangeInTable(self.text.to_owned())),
            (None, None) => Err(rows()),
            (None, Some(at_c)) => Ok(TablePoint { at_c, duration_s: stated.duration_s }),
        };
        let mut table = self.stated.iter().map(row).collect::<Result<Vec<_>, _>>()?;
        table.sort_by(|a, b| a.at_c.total_cmp(&b.at_c));
        let apart = table.is_sorted_by(|a, b| b.at_c - a.at_c > LEAST_APART_C);
        let at_pct = self.humidity()?;
        let stated = match (self.headline, stated_row(&table)) {
            (Some(headline), _) => Stated { at_pct, ..headline },
            (None, Some(row)) => {
                Stated { duration_s: row.duration_s, up_to_s: None, at_c: Some(row.at_c), at_pct }
            }
            (None, None) => return Err(rows()),
        };
        if table.len() < 2 || !apart {
            return Err(rows());
        }
        let Stated { duration_s, up_to_s, at_c, at_pct } = stated;
        let law = LawName::Table;
        Ok(Timing { up_to_s, at_c, at_pct, law, table, ..Timing::steady(duration_s) })
    }

    /// The one humidity that holds for the list.
    fn humidity(&self) -> Result<Option<f64>, SaidError> {
        let told = self.headline.iter().chain(&self.stated).filter_map(|stated| stated.at_pct);
        let told: Vec<f64> = told.collect();
        let same = told.windows(2).all(|two| matches!(two, [a, b] if (a - b).abs() < 1e-9));
        if same { Ok(told.first().copied()) } else { Err(SaidError::Twice(self.text.to_owned())) }
    }
}
