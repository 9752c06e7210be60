//! Film by comb, by gauge, by weight: the forms and what is read from them.

use boothside_core::session::film::{Weighing, WetFilm};
use boothside_core::session::{Pot, Session};
use boothside_core::units::parse::{UnitError, parse_film_or, parse_mass_or, parse_plain};
use boothside_core::work::job::ShopUnits;

use super::build::{field, form, when};
use super::read::{Failed, Fields};
use super::say::{by_units, films, masses, unread};
use super::{FieldName, Form, FormKind, sheet};

const fn is_us(units: ShopUnits) -> bool {
    matches!(units, ShopUnits::Us)
}

fn face_name(session: &Session, face: usize) -> String {
    let faces = session.plan().faces();
    faces.get(face).map_or_else(String::new, |face| format!("{} · {}", face.part, face.face))
}

/// The wet film of the coat on the gun, else of the last one on, of a face.
#[must_use]
pub fn wet_film(session: &Session, face: usize) -> Form {
    let last = session.state().faces.get(face).and_then(|history| history.last_sprayed());
    let coat = last.map_or_else(String::new, |(_, coat)| format!(" · coat {coat}"));
    let (state, units) = (session.state(), session.state().work.shop.units);
    let layer = last.map(|(coat, _)| coat.layer).or_else(|| state.layer_in_work());
    let hint = if is_us(units) {
        "3-4 3: last wet tooth, first dry; in mil"
    } else {
        "75-100 80: last wet tooth, first dry; in µm"
    };
    let hint = sheet::wet_film(layer.and_then(|layer| state.sheet(layer)), units, hint);
    let fields = vec![field(FieldName::Films, "readings", hint), when("read")];
    let title = format!("Wet film · {}{coat}", face_name(session, face));
    form(FormKind::WetFilm(face), title, fields)
}

/// The dry film on a face.
#[must_use]
pub fn dry_film(session: &Session, face: usize) -> Form {
    let units = session.state().work.shop.units;
    let hint = if is_us(units) { "2.1 2.3 2, a spot each" } else { "52 55 49, a spot each" };
    let fields = vec![
        field(FieldName::Films, "gauge shows", hint),
        field(
            FieldName::Under,
            "under this layer",
            "subtract the film below this layer; empty: all layers",
        ),
        when("read"),
    ];
    let title = format!("Dry film · {}", face_name(session, face));
    form(FormKind::DryFilm(face), title, fields)
}

/// A pot accounted for by the scale.
#[must_use]
pub fn weighing(pot: &Pot, units: ShopUnits) -> Form {
    let gross =
        by_units(units, "pot and mix before spraying; in g", "pot and mix before spraying; in oz");
    let fields = vec![
        field(FieldName::Gross, "gross", gross),
        field(FieldName::Tare, "tare", "the empty pot; empty: the scale was tared"),
        field(FieldName::Left, "left", "left over, without the pot; empty: 0"),
        field(FieldName::Wash, "wash", "what went with cleaning the gun; empty: 0"),
        field(FieldName::Coat, "of coat", "a coat's number; empty: all that came from it"),
        when("weighed"),
    ];
    form(FormKind::Weighing, format!("Pot {} by weight", pot.id), fields)
}

impl Fields<'_> {
    pub(super) fn wet_films(&self) -> Result<Vec<WetFilm>, Failed> {
        let films =
            self.parsed(FieldName::Films, |text| each(text, |text| wet(text, self.units)))?;
        Ok(films.unwrap_or_default())
    }

    pub(super) fn dry_films(&self) -> Result<(Vec<f64>, Option<f64>), Failed> {
        let accepted = films(self.units);
        let read = |text: &str| film_um(text, self.units).map_err(|error| unread(&error, accepted));
        let spots = self.parsed(FieldName::Films, |text| each(text, read))?;
        Ok((spots.unwrap_or_default(), self.parsed(FieldName::Under, read)?))
    }

    /// The weights and the coat weighed; nothing where no gross weight was typed.
    pub(super) fn weighing(&self) -> Result<Option<(Weighing, Option<u32>)>, Failed> {
        let (unit, accepted) = (by_units(self.units, "g", "oz"), masses(self.units));
        let grams = |name| {
            self.parsed(name, |text| {
                let mass = parse_mass_or(text, unit).map_err(|error| unread(&error, accepted))?;
                Ok(mass.g())
            })
        };
        let gross = grams(FieldName::Gross)?;
        let weighing = Weighing {
            gross_g: gross.unwrap_or_default(),
            tare_g: grams(FieldName::Tare)?.unwrap_or_default(),
            left_g: grams(FieldName::Left)?.unwrap_or_default(),
            wash_g: grams(FieldName::Wash)?.unwrap_or_default(),
        };
        let coat = self.parsed(FieldName::Coat, coat)?;
        Ok(gross.map(|_| (weighing, coat)))
    }
}

fn coat(text: &str) -> Result<u32, String> {
    let accepted = || format!("'{text}' was given; accepted: a coat's number such as 2");
    text.parse().ok().filter(|coat| (1..=99).contains(coat)).ok_or_else(accepted)
}

/// A film; a bare number is in the shop's unit.
fn film_um(text: &str, units: ShopUnits) -> Result<f64, UnitError> {
    let unit = if is_us(units) { "mil" } else { "um" };
    parse_film_or(text, unit).map(|film| film.um())
}

/// Several readings: between commas, or bare ones between blanks.
fn each<T>(text: &str, read: impl Fn(&str) -> Result<T, String>) -> Result<Vec<T>, String> {
    let pieces = text.split([',', ';']).map(str::trim).filter(|piece| !piece.is_empty());
    let mut all = Vec::new();
    for piece in pieces {
        match read(piece) {
            Ok(one) => all.push(one),
            Err(_) if piece.contains(char::is_whitespace) => {
                for word in piece.split_whitespace() {
                    all.push(read(word)?);
                }
            }
            Err(error) => return Err(error),
        }
    }
    Ok(all)
}

/// As [`wet_ends`]; what does not parse is given back whole.
fn wet(text: &str, units: ShopUnits) -> Result<WetFilm, String> {
    let accepted = if is_us(units) { "3, 3mil, or 3-4" } else { "75, 75um, or 75-100" };
    wet_ends(text, units).map_err(|_| format!("'{text}' was given; accepted: {accepted}"))
}

/// A wet film, or '75-100' for the last wet and the first dry tooth. One unit behind both is for both.
fn wet_ends(text: &str, units: ShopUnits) -> Result<WetFilm, UnitError> {
    let film = |text: &str| film_um(text, units);
    let Some((low, high)) = text.split_once(['-', '–', '/']) else {
        return Ok(WetFilm { wet_um: film(text)?, dry_tooth_um: None });
    };
    let (low, high) = (low.trim(), high.trim());
    let unit = high.trim_start_matches(|c: char| c.is_ascii_digit() || c == '.').trim();
    let low = if parse_plain(low).is_ok() { format!("{low}{unit}") } else { low.to_owned() };
    Ok(WetFilm { wet_um: film(&low)?, dry_tooth_um: Some(film(high)?) })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str, units: ShopUnits) -> Result<Vec<(f64, Option<f64>)>, String> {
        let films = each(text, |text| wet(text, units))?;
        let rounded = |um: f64| (um * 10.0).round() / 10.0;
        let ends = |film: WetFilm| (rounded(film.wet_um), film.dry_tooth_um.map(rounded));
        Ok(films.into_iter().map(ends).collect())
    }

    #[test]
    fn a_comb_is_typed_as_it_is_read() {
        let metric = |text| read(text, ShopUnits::Metric);
        assert_eq!(metric("75-100 80"), Ok(vec![(75.0, Some(100.0)), (80.0, None)]));
        assert_eq!(
            metric("75 - 100, 80 µm; 3mil"),
            Ok(vec![(75.0, Some(100.0)), (80.0, None), (76.2, None)])
        );
        assert_eq!(metric("3-4mil"), Ok(vec![(76.2, Some(101.6))]));
        assert_eq!(read("3-4 3", ShopUnits::Us), Ok(vec![(76.2, Some(101.6)), (76.2, None)]));
        for wrong in ["75-", "-100", "thick", "75 g", "7x", "75-100-125"] {
            assert!(metric(wrong).is_err(), "{wrong}");
        }
        assert_eq!(metric(" , "), Ok(Vec::new()));
    }

    #[test]
    fn a_coat_is_a_number_from_1() {
        assert_eq!(coat("2"), Ok(2));
        for wrong in ["0", "-1", "1.5", "two", "100"] {
            assert!(coat(wrong).is_err(), "{wrong}");
        }
    }
}
