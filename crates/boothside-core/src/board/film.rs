//! What film is on the faces: by comb, by gauge, by weight; against what is wanted.

mod added;
mod by_weight;
mod on_face;
mod stories;

pub use added::{Added, PlannedFilm};
pub use by_weight::{CoatWeights, PotFilm};
pub use on_face::{Against, CoatFilm, DryFilm, FaceFilm};

use crate::physics::film::{spot_limits, wet_film};
use crate::session::Session;
use crate::session::State;
use crate::session::demand::{NotSet, solids_in_use};

use crate::units::{Film, Share};
use stories::Stories;

/// A figure that a film cannot be told without.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFilm {
    /// A figure of the sheet, the system or the shop.
    NotSet(NotSet),
    /// The dry film's density on the sheet of this layer, counted from 1.
    DryDensity(u32),
    /// Nothing was sprayed from the pot.
    NothingSprayed,
}

impl From<NotSet> for NoFilm {
    fn from(missing: NotSet) -> Self {
        Self::NotSet(missing)
    }
}

/// The film of the layer sprayed last. Estimates, but for the gauge's readings.
#[derive(Debug, Clone, PartialEq)]
pub struct FilmBoard {
    /// The layer, counted from 1.
    pub layer: u32,
    /// Its coats by the system.
    pub coats: u32,
    /// Volume solids of the pot in use with what reducer went into it, else as mixed, %.
    pub solids_pct: Result<f64, NotSet>,
    /// Dry film wanted a coat, µm.
    pub coat_um: Option<f64>,
    /// The wet film that dries to it, µm.
    pub coat_wet_um: Option<f64>,
    /// Dry film wanted of all coats, µm.
    pub layer_um: Option<f64>,
    /// The range that is specified for the layer, µm.
    pub range_um: Option<(f64, f64)>,
    /// The limits of a single spot in that range, µm.
    pub spot_um: Option<(f64, f64)>,
    /// The faces in spraying order.
    pub faces: Vec<FaceFilm>,
    /// The pots of the layer that were accounted for.
    pub pots: Vec<PotFilm>,
    /// Weight a coat, the last against the one before.
    pub weights: Option<CoatWeights>,
    /// What the finish so far adds to each part on which there is one.
    pub added: Vec<Added>,
}

/// The film of `session`.
#[must_use]
pub fn film(session: &Session) -> FilmBoard {
    let (state, plan) = (session.state(), session.plan());
    let number = layer_shown(state);
    let layer = state.layer(number);
    let coat_um = layer.and_then(|layer| layer.dry_um);
    let solids = solids_in_use(state, plan, number);
    let stories = Stories::of(state, plan);
    let wet = |um| {
        let as_mixed = Share::from_fraction(solids.ok()?);
        wet_film(Film::from_um(um), as_mixed).ok().map(Film::um)
    };
    let coats = layer.map_or(0, |layer| layer.coats);
    let range_um = layer.and_then(|layer| layer.dry_range_um());
    let spots = |(least, most)| spot_limits(Film::from_um(least), Film::from_um(most));
    FilmBoard {
        layer: number,
        coats,
        solids_pct: solids.map(|solids| solids * 100.0),
        coat_um,
        coat_wet_um: coat_um.and_then(wet),
        layer_um: coat_um.map(|um| um * f64::from(coats)),
        range_um,
        spot_um: range_um.map(spots).map(|(least, most)| (least.um(), most.um())),
        faces: (0..state.faces.len())
            .map(|face| on_face::on_face(state, &stories, face, number))
            .collect(),
        pots: by_weight::pots(state, plan, &stories, number),
        weights: by_weight::weights(state, plan, number),
        added: added::added(state, plan, &stories),
    }
}

/// The layer sprayed last, else the one in work.
fn layer_shown(state: &State) -> u32 {
    let coats = state.faces.iter().flat_map(|face| &face.coats).filter(|coat| !coat.skipped);
    let last = coats.max_by_key(|coat| (coat.layer, coat.begun)).map(|coat| coat.layer);
    last.or_else(|| state.layer_in_work()).unwrap_or_else(|| state.layer_count())
}
