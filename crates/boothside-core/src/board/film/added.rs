//! What the finish so far adds to a part: a figure for the maker's own check, not a balance check.

use super::NoFilm;
use super::on_face::{by_comb, by_gauge};
use super::stories::Stories;
use crate::physics::weight::{added_mass, moment};
use crate::session::demand::NotSet;
use crate::session::{Plan, State};
use crate::units::{Area, Density, Film, Length, Mass};

/// Whether a film was taken as planned where nothing was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlannedFilm {
    /// Every film was read.
    None,
    /// Some were, the rest is as planned.
    Some,
    /// None was read: all is as planned.
    All,
}

/// What the finish so far adds to a part. An estimate; not a balance check.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// What the painter calls the part.
    pub part: String,
    /// Its weight, g.
    pub mass_g: Result<f64, NoFilm>,
    /// The part's arm, m aft of the hinge line.
    pub arm_m: Option<f64>,
    /// The moment about the hinge line, g·m, positive aft.
    pub moment_g_m: Option<f64>,
    /// Whether films were taken as planned.
    pub planned: PlannedFilm,
}

/// A film on a face, and whether it was read.
struct OnFace {
    film: Film,
    read: bool,
}

pub(super) fn added(state: &State, plan: &Plan, stories: &Stories<'_>) -> Vec<Added> {
    let parts = state.work.job.parts.iter().filter_map(|name| state.work.parts.get_key_value(name));
    let of_part = parts.filter_map(|(name, part)| {
        let (mass, planned) = part_mass((state, plan, stories), &plan.of_part(name))?;
        let arm = part.arm_m.map(Length::from_m);
        let about_hinge = mass.ok().zip(arm).map(|(mass, arm)| moment(mass, arm).g_m());
        Some(Added {
            part: part.name.clone(),
            mass_g: mass.map(Mass::g),
            arm_m: part.arm_m,
            moment_g_m: about_hinge,
            planned,
        })
    });
    of_part.collect()
}

/// What is on the faces of a part, and how much of it was read; nothing where no coat is on.
fn part_mass(
    (state, plan, stories): (&State, &Plan, &Stories<'_>),
    faces: &[usize],
) -> Option<(Result<Mass, NoFilm>, PlannedFilm)> {
    let (mut mass, mut read, mut all) = (Ok(Mass::from_g(0.0)), 0, 0);
    let of_layers =
        (1..=state.layer_count()).flat_map(|layer| faces.iter().map(move |it| (*it, layer)));
    for (face, layer) in of_layers {
        let Some(on_face) = film_on(state, stories, face, layer) else { continue };
        all += 1;
        read += usize::from(on_face.as_ref().is_ok_and(|on_face| on_face.read));
        let area = Area::from_m2(plan.area_m2(&state.work, face));
        let added = on_face.and_then(|on_face| mass_of(state, layer, area, on_face.film));
        mass = mass.and_then(|mass| Ok(mass + added?));
    }
    let planned = match read {
        read if read == all => PlannedFilm::None,
        0 => PlannedFilm::All,
        _ => PlannedFilm::Some,
    };
    (all > 0).then_some((mass, planned))
}

fn mass_of(state: &State, layer: u32, area: Area, film: Film) -> Result<Mass, NoFilm> {
    let density = state.sheet(layer).and_then(|sheet| sheet.dry_density_g_per_ml);
    let density = Density::from_g_per_ml(density.ok_or(NoFilm::DryDensity(layer))?);
    if film.um() <= 0.0 {
        return Ok(Mass::from_g(0.0));
    }
    added_mass(area, film, density).map_err(|_| NoFilm::DryDensity(layer))
}

/// The film of a layer on a face: by gauge, else by comb, else as planned; nothing where no coat of
/// it is on.
fn film_on(
    state: &State,
    stories: &Stories<'_>,
    face: usize,
    layer: u32,
) -> Option<Result<OnFace, NoFilm>> {
    let coats = state.faces[face].coats.iter().filter(|coat| coat.is_nth_of(layer));
    let on = coats.filter(|coat| coat.finished.is_some() && !coat.skipped).count();
    if on == 0 {
        return None;
    }
    let by_comb =
        || by_comb(state, stories, face, layer).map(|(thin, thick)| f64::midpoint(thin, thick));
    if let Some(um) = by_gauge(state, face, layer).or_else(by_comb) {
        return Some(Ok(OnFace { film: Film::from_um(um), read: true }));
    }
    let planned = state.layer(layer).and_then(|layer| layer.dry_um);
    let film = planned.map(|um| Film::from_um(um * on as f64));
    Some(film.map(|film| OnFace { film, read: false }).ok_or(NoFilm::NotSet(NotSet::DryFilm)))
}
