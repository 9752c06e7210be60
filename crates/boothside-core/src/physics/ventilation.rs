//! The booth's air: changes an hour, purge times, dilution of solvent vapour.
//!
//! Figures for planning. What protects is decided by the safety data sheet and local codes.

use super::figure::{FigureError, not_negative, positive, some_share};
use crate::units::{Flow, Share, VapourVolume, Volume};

const ML_PER_M3: f64 = 1e6;

/// Air changes per hour: flow / volume.
///
/// # Errors
/// [`FigureError::NotPositive`] for a flow or a volume that is not above zero.
pub fn air_changes_per_h(volume: Volume, flow: Flow) -> Result<f64, FigureError> {
    let m3 = positive("volume of the booth", volume.ml())? / ML_PER_M3;
    Ok(positive("flow of air", flow.m3_per_h())? / m3)
}

/// The seconds until only a share of the vapour is left: `−ln(left) / ACH × mixing`. The share
/// is above 0 and up to 50 %; the mixing factor is 1 (perfect) to 10 and belongs to the booth.
///
/// # Errors
/// A share or a factor outside these, or air changes that are not above zero.
pub fn purge_s(air_changes_per_h: f64, left: Share, mixing: f64) -> Result<f64, FigureError> {
    let fraction = some_share("share left", left)?;
    if fraction > 0.5 {
        return Err(FigureError::LeftOverHalf { percent: fraction * 100.0 });
    }
    let changes = positive("count of air changes", air_changes_per_h)?;
    Ok(-fraction.ln() / changes * factor(mixing)? * 3600.0)
}

/// The share of the vapour still there after a time: the inverse of [`purge_s`].
///
/// # Errors
/// A factor outside 1 to 10, or air changes that are not above zero.
pub fn share_left(air_changes_per_h: f64, after_s: f64, mixing: f64) -> Result<Share, FigureError> {
    let changes = positive("count of air changes", air_changes_per_h)?;
    Ok(Share::from_fraction((-changes * after_s.max(0.0) / 3600.0 / factor(mixing)?).exp()))
}

/// The air that thins the vapour of a volume of solvent to a quarter of its lower flammable limit:
/// `4 (1 − LEL) × vapour / LEL`, per volume of solvent. The limit is the sheet's.
///
/// Source: 29 CFR 1910.94(c)(6), from memory: 8,564 ft³ for a gallon of toluene.
///
/// # Errors
/// A limit that is not above 0 and up to 100 %, or a vapour volume that is not above zero.
pub fn dilution_air(limit: Share, vapour: VapourVolume) -> Result<VapourVolume, FigureError> {
    let limit = some_share("lower flammable limit", limit)?;
    let vapour = positive("vapour volume", vapour.m3_per_l())?;
    Ok(VapourVolume::from_m3_per_l(4.0 * (1.0 - limit) * vapour / limit))
}

/// The share of its lower flammable limit that the vapour reaches while `solvent_l_per_h` of solvent
/// evaporate into a flow of air: an estimate, 0.25 is a quarter of the limit. Where
/// [`dilution_air`] is moved for every litre, mixed as the factor says, it is a quarter.
///
/// # Errors
/// As [`dilution_air`]; a flow that is not above zero, a negative rate, a factor outside 1 to 10.
pub fn share_of_limit(
    limit: Share,
    vapour: VapourVolume,
    solvent_l_per_h: f64,
    flow: Flow,
    mixing: f64,
) -> Result<Share, FigureError> {
    let wanted_m3_per_l = dilution_air(limit, vapour)?.m3_per_l();
    let evaporates = not_negative("rate of evaporation", solvent_l_per_h)?;
    let moved = positive("flow of air", flow.m3_per_h())? / factor(mixing)?;
    Ok(Share::from_fraction(0.25 * wanted_m3_per_l * evaporates / moved))
}

fn factor(mixing: f64) -> Result<f64, FigureError> {
    if (1.0..=10.0).contains(&mixing) { Ok(mixing) } else { Err(FigureError::MixingFactor(mixing)) }
}
