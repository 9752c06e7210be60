//! The booth's air: changes an hour, minutes to purge, and an estimate of the vapour's share of the
//! lower flammable limit at this rate of spraying. What protects is decided by the safety data
//! sheet and local codes.

use crate::physics::ventilation::{air_changes_per_h, purge_s, share_of_limit};
use crate::session::clocks::{Kind, Start, due};
use crate::session::demand::{self, NotSet};
use crate::session::pace::pace;
use crate::session::time::{Moment, Span};
use crate::session::{Session, State};
use crate::units::{Flow, Share, VapourVolume, Volume};

/// The vapour still there when a purge is told as done: common practice, no source.
pub const PURGE_LEFT_PCT: f64 = 1.0;
/// A figure that an estimate of the booth's air lacks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lacks {
    /// The booth's volume, in the shop file.
    Volume,
    /// The air that the fan moves, in the shop file.
    Flow,
    /// How well the air mixes, in the shop file.
    Mixing,
    /// The solvent's lower flammable limit and vapour volume, in the sheet.
    Vapour,
    /// The pace: two faces sprayed.
    Pace,
    /// What the film needs.
    Film(NotSet),
}

/// The share of the lower flammable limit that the vapour reaches, and what it was reckoned from.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareOfLimit {
    /// Share of the lower flammable limit: 0.25 is a quarter of it.
    pub share: f64,
    /// Rate of spraying while a face is on the gun, mL/min.
    pub spraying_ml_per_min: f64,
    /// Solvent in the mix as sprayed, % by volume.
    pub solvent_pct: f64,
    /// Whether all that is not solids was counted as solvent, for the sheet does not say.
    pub solvent_assumed: bool,
    /// The lower flammable limit used, % by volume.
    pub lel_pct: f64,
    /// Where that comes from.
    pub source: Option<String>,
}

/// The booth's air. Each figure is there where all that it needs is set; else what it lacks.
#[derive(Debug, Clone, PartialEq)]
pub struct BoothAir {
    /// Air changes an hour.
    pub air_changes_per_h: Result<f64, Vec<Lacks>>,
    /// How long until [`PURGE_LEFT_PCT`] of the vapour is left once no film gives off more.
    pub purge: Result<Span, Vec<Lacks>>,
    /// Until when the fan must run for that: the purge from the end of the last flash. Nothing while a face
    /// is on the gun, or where a flash stands still.
    pub fan_until: Option<Moment>,
    /// The mixing factor used.
    pub mixing_factor: Option<f64>,
    /// The share of the lower flammable limit, all evaporating in the booth at once.
    pub share_of_limit: Result<ShareOfLimit, Vec<Lacks>>,
}

/// The booth's air for the layer in work.
#[must_use]
pub fn booth_air(session: &Session) -> BoothAir {
    let state = session.state();
    let shop = &state.work.shop;
    let volume = shop.booth_volume_m3.ok_or(Lacks::Volume);
    let flow = shop.booth_flow_m3_per_h.ok_or(Lacks::Flow);
    let mixing = shop.mixing_factor.ok_or(Lacks::Mixing);
    let changes = all([volume.err(), flow.err()]).and_then(|()| {
        let volume = Volume::from_ml(volume.unwrap_or_default() * 1e6);
        let flow = Flow::from_m3_per_h(flow.unwrap_or_default());
        air_changes_per_h(volume, flow).map_err(|_| vec![Lacks::Volume])
    });
    let left = Share::from_fraction(PURGE_LEFT_PCT / 100.0);
    let purge = all([volume.err(), flow.err(), mixing.err()]).and_then(|()| {
        let changes = changes.clone()?;
        let seconds = purge_s(changes, left, mixing.unwrap_or_default());
        seconds.map(Span::from_seconds).map_err(|_| vec![Lacks::Mixing])
    });
    BoothAir {
        air_changes_per_h: changes,
        fan_until: purge.as_ref().ok().and_then(|purge| Some(flash_end(state)?.plus(*purge))),
        purge,
        mixing_factor: mixing.ok(),
        share_of_limit: share(session, flow, mixing),
    }
}

/// When the film of every face has flashed off, by its sheet or by the painter's eye, whichever is later:
/// wet film goes on giving off vapour.
fn flash_end(state: &State) -> Option<Moment> {
    if state.faces.iter().any(|face| face.on_the_gun().is_some()) {
        return None;
    }
    let coats = state.faces.iter().filter_map(|face| Some((face, face.last_on()?)));
    let ends = coats.filter_map(|(face, coat)| {
        let between = &state.sheet(coat.layer)?.between_coats;
        let start = Start::told(face.minima_from(coat), coat.known);
        let clocks = [Some(&between.earliest), between.dulls.as_ref()].into_iter().flatten();
        let ends = clocks
            .map(|timing| due(timing, Kind::Minimum, start, 1.0, state.by()).at.moment());
        Some(ends.collect::<Option<Vec<_>>>().and_then(|ends| ends.into_iter().max()))
    });
    ends.collect::<Option<Vec<Moment>>>()?.into_iter().max()
}

fn all<const N: usize>(lacks: [Option<Lacks>; N]) -> Result<(), Vec<Lacks>> {
    let lacks: Vec<Lacks> = lacks.into_iter().flatten().collect();
    if lacks.is_empty() { Ok(()) } else { Err(lacks) }
}

fn share(
    session: &Session,
    flow: Result<f64, Lacks>,
    mixing: Result<f64, Lacks>,
) -> Result<ShareOfLimit, Vec<Lacks>> {
    let state = session.state();
    let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
    let sheet = state.sheet(layer);
    let vapour = sheet.and_then(|sheet| sheet.vapour.as_ref()).ok_or(Lacks::Vapour);
    let pace = pace(session.state(), session.plan()).ok_or(Lacks::Pace);
    let per_m2 = demand::ml_per_m2(state, layer).map_err(Lacks::Film);
    let solvent = sheet.ok_or(Lacks::Vapour).and_then(|sheet| {
        let told = sheet.vapour.as_ref().and_then(|vapour| vapour.solvent_pct);
        told.map(Ok).unwrap_or_else(|| {
            let solids = demand::solids_as_mixed(sheet).map_err(Lacks::Film)?;
            Ok((1.0 - solids) * 100.0)
        })
    });
    let lacks = [vapour.err(), flow.err(), mixing.err(), pace.err(), per_m2.err(), solvent.err()];
    let (Ok(vapour), Ok(flow), Ok(mixing), Ok(pace), Ok(per_m2), Ok(solvent_pct)) =
        (vapour, flow, mixing, pace, per_m2, solvent)
    else {
        let mut lacks: Vec<Lacks> = lacks.into_iter().flatten().collect();
        lacks.dedup();
        return Err(lacks);
    };
    let ml_per_s = per_m2 / pace.s_per_m2;
    let l_per_h = ml_per_s * 3.6 * solvent_pct / 100.0;
    let share = share_of_limit(
        Share::from_fraction(vapour.lel_pct / 100.0),
        VapourVolume::from_m3_per_l(vapour.m3_per_l),
        l_per_h,
        Flow::from_m3_per_h(flow),
        mixing,
    );
    Ok(ShareOfLimit {
        share: share.map_err(|_| vec![Lacks::Vapour])?.fraction(),
        spraying_ml_per_min: ml_per_s * 60.0,
        solvent_pct,
        solvent_assumed: vapour.solvent_pct.is_none(),
        lel_pct: vapour.lel_pct,
        source: vapour.source.clone(),
    })
}
