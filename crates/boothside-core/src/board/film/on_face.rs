//! The film on one face.

use crate::physics::film::{Readings, Side, SpotVerdict, side, spot_verdict};
use crate::session::CoatOn;
use crate::session::film::{DryRead, WetFilm, dries_to};
use crate::session::{FaceHistory, State};
use crate::units::Film;

use super::stories::Stories;

/// A coat's film.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatFilm {
    /// The coat, counted from 1.
    pub coat: u32,
    /// Whether it was left out.
    pub skipped: bool,
    /// How often its wet film was read.
    pub count: usize,
    /// Mean wet film, thin and thick end, µm.
    pub wet_um: Option<(f64, f64)>,
    /// The dry film that this makes, thin and thick end, µm: an estimate.
    pub dry_um: Option<(f64, f64)>,
}

/// How a film stands against what is wanted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Against {
    /// No coat of the layer is on.
    Bare,
    /// No coat of it was read.
    NotRead,
    /// What is wanted, or what the film makes, is not set.
    NotSet,
    /// Thinner than wanted of the coats read.
    Under,
    /// As wanted of the coats read, to the whole µm.
    At,
    /// Thicker than wanted of the coats read.
    Over,
}

/// The gauge's readings of a face since its last coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryFilm {
    /// How many spots.
    pub count: usize,
    /// Their mean, µm.
    pub mean_um: f64,
    /// The thinnest, µm.
    pub least_um: f64,
    /// The thickest, µm.
    pub most_um: f64,
    /// Whether they are of this layer alone; else of all layers down to the part.
    pub own: bool,
    /// Against the specified range, by the 80 % / 120 % rule; nothing where none is specified, or
    /// while a coat is to come.
    pub verdict: Option<SpotVerdict>,
}

/// The film of one layer on one face.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceFilm {
    /// The face's number.
    pub face: usize,
    /// Its coats of the layer that are on.
    pub coats: Vec<CoatFilm>,
    /// Coats wanted of it.
    pub wanted: u32,
    /// The numbers of the coats on that were not read.
    pub not_read: Vec<u32>,
    /// Dry film of the coats read, thin and thick end, µm: an estimate.
    pub sum_um: Option<(f64, f64)>,
    /// Dry film wanted of the coats read, µm.
    pub so_far_um: Option<f64>,
    /// Dry film wanted of all coats, µm.
    pub target_um: Option<f64>,
    /// What is there as a share of that, thin and thick end.
    pub share: Option<(f64, f64)>,
    /// The coats read against what is wanted of them.
    pub against: Against,
    /// The estimate against the specified range, once every coat is on and read.
    pub in_range: Option<Side>,
    /// Dry readings.
    pub dry: Option<DryFilm>,
}

pub(super) fn on_face(state: &State, stories: &Stories<'_>, face: usize, layer: u32) -> FaceFilm {
    let history = &state.faces[face];
    let coats = coat_films(stories, history, layer);
    let read = || coats.iter().filter(|coat| coat.count > 0);
    let wanted = state.coats_wanted(face, layer);
    let coat_um = state.layer(layer).and_then(|layer| layer.dry_um);
    let so_far_um = coat_um.map(|um| um * read().count() as f64);
    let target_um = coat_um.map(|um| um * f64::from(wanted));
    let on = coats.iter().filter(|coat| !coat.skipped);
    let not_read: Vec<u32> = on.filter(|coat| coat.count == 0).map(|coat| coat.coat).collect();
    let sum_um = sum(read().map(|coat| coat.dry_um));
    let of_target = |(thin, thick): (f64, f64)| Some((thin / target_um?, thick / target_um?));
    let all_read = not_read.is_empty() && coats.len() >= wanted as usize;
    let range = state.layer(layer).and_then(|layer| layer.dry_range_um());
    FaceFilm {
        face,
        wanted,
        against: against(&coats, sum_um.zip(so_far_um)),
        in_range: sum_um.zip(range).filter(|_| all_read).map(|(sum, range)| estimate(sum, range)),
        share: sum_um.and_then(of_target),
        dry: dry(state, face, layer),
        not_read,
        sum_um,
        so_far_um,
        target_um,
        coats,
    }
}

/// The dry film by comb of every coat of a layer on a face, thin and thick end, µm; nothing unless
/// each of them was read.
pub(super) fn by_comb(
    state: &State,
    stories: &Stories<'_>,
    face: usize,
    layer: u32,
) -> Option<(f64, f64)> {
    let coats = coat_films(stories, &state.faces[face], layer);
    sum(coats.iter().filter(|coat| !coat.skipped).map(|coat| coat.dry_um))
}

/// The mean dry film by gauge of a layer alone on a face, µm.
pub(super) fn by_gauge(state: &State, face: usize, layer: u32) -> Option<f64> {
    dry(state, face, layer).filter(|dry| dry.own).map(|dry| dry.mean_um)
}

fn coat_films(stories: &Stories<'_>, history: &FaceHistory, layer: u32) -> Vec<CoatFilm> {
    let of_layer = history.coats.iter().filter(|coat| coat.is_nth_of(layer));
    (1..).zip(of_layer).map(|(number, coat)| coat_film(stories, number, coat)).collect()
}

fn coat_film(stories: &Stories<'_>, number: u32, coat: &CoatOn) -> CoatFilm {
    let ends = |pick: fn((f64, f64)) -> f64| {
        let films: Vec<Film> =
            coat.wet.iter().map(WetFilm::ends_um).map(pick).map(Film::from_um).collect();
        Readings::of(&films).map(|readings| readings.mean.um())
    };
    let wet_um = ends(|ends| ends.0).zip(ends(|ends| ends.1));
    let dry = wet_um.and_then(|wet_um| dries_to(stories.solids(coat).ok()?, wet_um).ok());
    CoatFilm {
        coat: number,
        skipped: coat.skipped,
        count: coat.wet.len(),
        wet_um,
        dry_um: dry.map(|(thin, thick)| (thin.um(), thick.um())),
    }
}

/// The sum of thin and of thick ends; nothing where one is not known, or there is none.
fn sum(films: impl Iterator<Item = Option<(f64, f64)>>) -> Option<(f64, f64)> {
    let films: Vec<(f64, f64)> = films.collect::<Option<_>>()?;
    let add = |sum: (f64, f64), film: (f64, f64)| (sum.0 + film.0, sum.1 + film.1);
    films.into_iter().reduce(add)
}

fn against(coats: &[CoatFilm], of: Option<((f64, f64), f64)>) -> Against {
    if !coats.iter().any(|coat| !coat.skipped) {
        return Against::Bare;
    }
    if coats.iter().all(|coat| coat.count == 0) {
        return Against::NotRead;
    }
    match of {
        None => Against::NotSet,
        Some(((_, thick), wanted)) if thick.round() < wanted.round() => Against::Under,
        Some(((thin, _), wanted)) if thin.round() > wanted.round() => Against::Over,
        Some(_) => Against::At,
    }
}

/// An estimate lies outside a range where all of it does.
fn estimate((thin, thick): (f64, f64), (least, most): (f64, f64)) -> Side {
    let ends =
        [thick, thin].map(|um| side(Film::from_um(um), Film::from_um(least), Film::from_um(most)));
    match ends {
        [Side::Below, _] => Side::Below,
        [_, Side::Above] => Side::Above,
        _ => Side::Within,
    }
}

/// The gauge's readings since the last coat of the layer went on.
fn dry(state: &State, face: usize, layer: u32) -> Option<DryFilm> {
    let history = &state.faces[face];
    let last_on = history.coats.iter().rev().find(|coat| coat.layer == layer && !coat.skipped);
    let since = last_on?.finished?;
    let fresh = |read: &&DryRead| read.layer == layer && read.at >= since;
    let reads: Vec<&DryRead> = history.dry.iter().filter(fresh).collect();
    // readings of all layers do not mix with those of this one
    let own = |read: &DryRead| read.under_um.is_some() || layer == 1;
    let alone = own(reads.last()?);
    let spots: Vec<Film> = reads
        .into_iter()
        .filter(|read| own(read) == alone)
        .flat_map(|read| {
            let under = read.under_um.unwrap_or(0.0);
            read.spots_um.iter().map(move |um| Film::from_um(um - under))
        })
        .collect();
    let readings = Readings::of(&spots)?;
    let range = if alone { own_range(state, layer) } else { whole_range(state, layer) };
    // the range is for all coats: while one is to come it says nothing
    let range = range.filter(|_| state.layer_done(face, layer));
    let verdict = range
        .and_then(|(least, most)| spot_verdict(&spots, Film::from_um(least), Film::from_um(most)));
    Some(DryFilm {
        count: readings.count,
        mean_um: readings.mean.um(),
        least_um: readings.least.um(),
        most_um: readings.most.um(),
        own: alone,
        verdict,
    })
}

fn own_range(state: &State, layer: u32) -> Option<(f64, f64)> {
    state.layer(layer)?.dry_range_um()
}

/// The ranges of every layer down to the part, added up.
fn whole_range(state: &State, layer: u32) -> Option<(f64, f64)> {
    sum((1..=layer).map(|layer| own_range(state, layer)))
}
