//! Films, weights and moments in words.

use boothside_core::board::film::{
    Added, Against, CoatFilm, CoatWeights, DryFilm, FaceFilm, FilmBoard, NoFilm, PlannedFilm,
    PotFilm,
};
use boothside_core::physics::film::{Side, SpotVerdict};
use boothside_core::session::demand::NotSet;
use boothside_core::session::event::Event;
use boothside_core::session::film::{Weighing, WetFilm};
use boothside_core::units::show::{self, System};
use boothside_core::units::{Area, Film, Length, Mass, Moment};
use boothside_core::work::job::ShopUnits;

use super::Words;
use super::event::EventWords;
use super::figure::short;
use crate::view::text::clean;

/// How a face's film stands: a shape and a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FilmState {
    /// A shape of its own for each.
    pub shape: &'static str,
    /// The word.
    pub word: &'static str,
    /// Whether it is as wanted; nothing where that cannot be told.
    pub good: Option<bool>,
}

const fn state(shape: &'static str, word: &'static str, good: Option<bool>) -> FilmState {
    FilmState { shape, word, good }
}

/// How a face's film stands: against the specified range once all is there, else against what is
/// wanted of the coats read.
#[must_use]
pub fn film_state(face: &FaceFilm) -> FilmState {
    if let Some(side) = face.in_range {
        return match side {
            Side::Below => state("▼", "below range", Some(false)),
            Side::Within => state("●", "in range", Some(true)),
            Side::Above => state("▲", "above range", Some(false)),
        };
    }
    match face.against {
        Against::Bare => state(" ", "bare", None),
        Against::NotRead => state("○", "not read", None),
        Against::NotSet => state("?", "not set", None),
        Against::Under => state("▼", "under", Some(false)),
        Against::At => state("●", "as wanted", Some(true)),
        Against::Over => state("▲", "over", Some(false)),
    }
}

/// What is not set.
#[must_use]
pub const fn not_set(missing: NotSet) -> &'static str {
    match missing {
        NotSet::DryFilm => "dry film a coat not set",
        NotSet::Solids => "solids not set",
        NotSet::Density => "a component's density not set",
        NotSet::Transfer => "the share that lands not set",
        NotSet::InPot => "how much was in the pot not known",
    }
}

impl Words<'_> {
    fn system(&self) -> System {
        match self.session.state().work.shop.units {
            ShopUnits::Metric => System::Metric,
            ShopUnits::Us => System::Us,
        }
    }

    /// A film: '34.8 µm'.
    #[must_use]
    pub fn film_um(&self, um: f64) -> String {
        show::film(Film::from_um(um), self.system())
    }

    /// A film without its unit: '34.8'.
    fn bare_film(&self, um: f64) -> String {
        let text = self.film_um(um);
        text.split_once(' ').map_or_else(|| text.clone(), |(number, _)| number.to_owned())
    }

    /// Both ends of a film, one where they look the same: '34.8–46.4'.
    #[must_use]
    pub fn bare_band(&self, (thin, thick): (f64, f64)) -> String {
        let (thin, thick) = (self.bare_film(thin), self.bare_film(thick));
        if thin == thick { thin } else { format!("{thin}–{thick}") }
    }

    /// Both ends with their unit: '34.8–46.4 µm'.
    #[must_use]
    pub fn band(&self, ends: (f64, f64)) -> String {
        format!("{} {}", self.bare_band(ends), self.film_unit())
    }

    /// The unit of films.
    #[must_use]
    pub fn film_unit(&self) -> &'static str {
        if self.system() == System::Us { "mil" } else { "µm" }
    }

    fn why_no_film(&self, missing: NoFilm) -> String {
        match missing {
            NoFilm::NotSet(missing) => not_set(missing).to_owned(),
            NoFilm::DryDensity(layer) => format!("dry density of {} not set", self.layer(layer)),
            NoFilm::NothingSprayed => "nothing was sprayed from it".to_owned(),
        }
    }

    /// What is wanted of the layer: '2 coats of 20.0 µm dry, the comb at 43.5 µm'.
    #[must_use]
    pub fn film_wanted(&self, film: &FilmBoard) -> String {
        let coats = if film.coats == 1 { "coat" } else { "coats" };
        let of = film.coat_um.map_or_else(
            || "dry film not set".to_owned(),
            |um| format!("of {} dry", self.film_um(um)),
        );
        let comb = film
            .coat_wet_um
            .map_or_else(String::new, |um| format!(", comb at {} wet", self.film_um(um)));
        let solids = match film.solids_pct {
            Ok(pct) => format!("{} % solids as mixed", short(pct, 1)),
            Err(missing) => not_set(missing).to_owned(),
        };
        format!("{} · {} {coats} {of}{comb} · {solids}", self.layer(film.layer), film.coats)
    }

    /// The specified range: 'specified 40.0–60.0 µm, a spot 32.0–72.0'.
    #[must_use]
    pub fn film_range(&self, film: &FilmBoard) -> String {
        match film.range_um.zip(film.spot_um) {
            Some((range, spot)) => {
                format!("specified {}, a spot {}", self.band(range), self.bare_band(spot))
            }
            None => "specified range not set".to_owned(),
        }
    }

    /// A coat's film: '34.8–46.4', 'not read', 'left out'.
    #[must_use]
    pub fn coat_film(&self, coat: &CoatFilm) -> String {
        match (coat.skipped, coat.wet_um, coat.dry_um) {
            (true, _, _) => "left out".to_owned(),
            (_, None, _) => "not read".to_owned(),
            (_, Some(wet), None) => format!("{} wet", self.bare_band(wet)),
            (_, _, Some(dry)) => self.bare_band(dry),
        }
    }

    /// A gauge's readings: 'gauge: Fin · left · 5 spots, mean 45.0 µm, 41.0–50.2'.
    #[must_use]
    pub fn dry_film(&self, face: usize, dry: &DryFilm) -> String {
        let spots =
            if dry.count == 1 { "1 spot".to_owned() } else { format!("{} spots", dry.count) };
        let of = if dry.own { "" } else { ", of all layers" };
        let ends = self.bare_band((dry.least_um, dry.most_um));
        let mean = self.film_um(dry.mean_um);
        format!("gauge: {} · {spots}, mean {mean}, {ends}{of}", self.face(face))
    }

    /// Whether they are as specified, and if not what is not.
    #[must_use]
    pub fn dry_verdict(&self, verdict: &SpotVerdict) -> String {
        if verdict.holds() {
            return "● as specified".to_owned();
        }
        let mean = match verdict.mean {
            Side::Below => Some("mean under the range".to_owned()),
            Side::Within => None,
            Side::Above => Some("mean over the range".to_owned()),
        };
        let spots = |count: usize, what: &str| (count > 0).then(|| format!("{count} {what}"));
        let thin = spots(verdict.thin, "under 80 % of the least");
        let thick = spots(verdict.thick, "over 120 % of the most");
        let wrong: Vec<String> = [mean, thin, thick].into_iter().flatten().collect();
        format!("× {}", wrong.join(", "))
    }

    /// A pot by weight: 'pot A, coat 1: 100.0 g over 1.00 m² · 100 g/m² · 23.4 µm a coat'.
    #[must_use]
    pub fn pot_film(&self, pot: &PotFilm) -> String {
        let of = pot.coat.map_or_else(String::new, |coat| format!(", coat {coat}"));
        let used = show::mass(Mass::from_g(pot.used_g), self.system());
        let film = match pot.dry_um {
            Ok(um) => format!("{} dry a coat", self.film_um(um)),
            Err(missing) => self.why_no_film(missing),
        };
        let weight = match pot.g_per_m2 {
            Ok(g_per_m2) => {
                let area = show::area(Area::from_m2(pot.area_m2), self.system());
                format!("over {area} · {} · ", show::mass_per_area(g_per_m2, self.system()))
            }
            Err(_) => String::new(),
        };
        format!("{}{of}: {used} sprayed {weight}{film}", self.pot(&pot.pot))
    }

    /// 'coat 2: 90.0 g/m², 10 % lighter than coat 1'.
    #[must_use]
    pub fn coat_weights(&self, weights: &CoatWeights) -> String {
        let own = format!(
            "coat {}: {}",
            weights.coat,
            show::mass_per_area(weights.g_per_m2, self.system())
        );
        let Some((before, change)) = weights.before.map(|(coat, _)| coat).zip(weights.change_pct)
        else {
            return own;
        };
        let than = match format!("{:.0}", change.abs()).as_str() {
            "0" => format!("as heavy as coat {before}"),
            pct if change < 0.0 => format!("{pct} % lighter than coat {before}"),
            pct => format!("{pct} % heavier than coat {before}"),
        };
        format!("{own}, {than}")
    }

    /// What is added to a part: 'Rudder: 110.6 g, moment +1548 g·cm about the hinge, film as planned'.
    #[must_use]
    pub fn added(&self, added: &Added) -> String {
        let part = clean(&added.part);
        let mass = match added.mass_g {
            Ok(g) => show::mass(Mass::from_g(g), self.system()),
            Err(missing) => return format!("{part}: {}", self.why_no_film(missing)),
        };
        let moment = added.moment_g_m.map(|g_m| format!(", moment {}", self.moment(g_m)));
        let arm = added.arm_m.map(|m| show::length(Length::from_m(m), self.system()));
        let arm = arm.map_or_else(|| ", arm not set".to_owned(), |arm| format!(" at {arm}"));
        let planned = match added.planned {
            PlannedFilm::None => "",
            PlannedFilm::Some => ", film in part as planned",
            PlannedFilm::All => ", film as planned",
        };
        format!("{part}: {mass}{}{arm}{planned}", moment.unwrap_or_default())
    }

    fn moment(&self, g_m: f64) -> String {
        let sign = if g_m > 0.0 { "+" } else { "" };
        format!("{sign}{}", show::moment(Moment::from_g_m(g_m), self.system()))
    }

    /// A reading of a film that was told.
    pub(super) fn film_event(&self, event: &Event) -> Option<EventWords> {
        let (what, face, read) = match event {
            Event::FilmRead { face, coat, wet, .. } => {
                let read = wet.iter().map(|film| self.bare_band(WetFilm::ends_um(film)));
                (format!("wet film of coat {coat}"), face, read.collect::<Vec<_>>())
            }
            Event::DryFilmRead { face, spots_um, .. } => {
                let read = spots_um.iter().map(|um| self.bare_film(*um));
                ("dry film".to_owned(), face, read.collect())
            }
            _ => return None,
        };
        let what = format!("{what} {} {}", read.join(", "), self.film_unit());
        Some(EventWords { what, of: self.face_of(face) })
    }

    /// A pot that was accounted for.
    pub(super) fn weighed(&self, pot: &str, coat: Option<u32>, told: &Weighing) -> EventWords {
        let of = coat.map_or_else(String::new, |coat| format!(", coat {coat}"));
        let used = show::mass(told.weighed().used(), self.system());
        EventWords {
            what: format!("{}{of} by weight", self.pot(pot)),
            of: format!("{used} sprayed"),
        }
    }
}
