//! Film thickness, spreading, and how much to mix for an area.
//!
//! 1 L at 1 µm covers 1000 m², so an area in m² times a film in µm is a volume in mL.

use super::figure::{FigureError, not_negative, positive, some_share};
use crate::units::{Area, Density, Film, Mass, Share, Volume};

/// Volume solids of the mix: solids before thinning / (1 + thinner), the thinner as volume added
/// per volume of paint.
///
/// # Errors
/// Solids not above 0 and up to 100 %, or a negative thinner.
pub fn solids_as_mixed(solids: Share, thinner: f64) -> Result<Share, FigureError> {
    let solids = some_share("volume of solids", solids)?;
    Ok(Share::from_fraction(solids / (1.0 + not_negative("thinner", thinner)?)))
}

/// The dry film of a wet one.
///
/// # Errors
/// A film that is not above zero, or solids not above 0 and up to 100 %.
pub fn dry_film(wet: Film, as_mixed: Share) -> Result<Film, FigureError> {
    positive("wet film", wet.um())?;
    Ok(wet * some_share("volume of solids", as_mixed)?)
}

/// The wet film that dries to a wanted one.
///
/// # Errors
/// As [`dry_film`].
pub fn wet_film(dry: Film, as_mixed: Share) -> Result<Film, FigureError> {
    let um = positive("dry film", dry.um())? / some_share("volume of solids", as_mixed)?;
    Ok(Film::from_um(um))
}

/// What a litre of the mix covers at a dry film, all of it landing: `1000 × solids / dry`, m²/L.
///
/// # Errors
/// As [`dry_film`].
pub fn spread_m2_per_l(dry: Film, as_mixed: Share) -> Result<f64, FigureError> {
    Ok(1000.0 / wet_film(dry, as_mixed)?.um())
}

/// What a layer asks of a mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Demand {
    /// The area of all faces.
    pub area: Area,
    /// The dry film of one coat.
    pub dry_per_coat: Film,
    /// How many coats.
    pub coats: u32,
    /// Volume solids as mixed.
    pub as_mixed: Share,
    /// The share of what is sprayed that lands.
    pub transfer: Share,
    /// What stays in gun and pot.
    pub loss: Volume,
    /// Spare on paint and loss, a fraction (0.1 is 10 %).
    pub spare: f64,
}

impl Demand {
    /// What lands and what flies past, all coats: `area × dry × coats / (solids × transfer)`.
    ///
    /// # Errors
    /// [`FigureError`] for an area, film or count that is not above zero, or shares out of range.
    pub fn sprayed(&self) -> Result<Volume, FigureError> {
        let wet = wet_film(self.dry_per_coat, self.as_mixed)?;
        let coats = positive("count of coats", f64::from(self.coats))?;
        let ml = positive("area", self.area.m2())? * wet.um() * coats;
        Ok(Volume::from_ml(ml / some_share("share that lands", self.transfer)?))
    }

    /// How much to mix: what is sprayed and the loss, then the spare on the whole.
    ///
    /// # Errors
    /// As [`Self::sprayed`], and for a loss or spare that is negative.
    pub fn to_mix(&self) -> Result<Volume, FigureError> {
        let loss = Volume::from_ml(not_negative("loss", self.loss.ml())?);
        Ok((self.sprayed()? + loss) * (1.0 + not_negative("spare", self.spare)?))
    }
}

/// What the scale said about a pot: mixed and used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weighed {
    /// Pot and mix before spraying.
    pub gross: Mass,
    /// The empty pot.
    pub tare: Mass,
    /// What was left over.
    pub left: Mass,
    /// What went with cleaning the gun.
    pub wash: Mass,
}

impl Weighed {
    /// What was sprayed: `gross − tare − left − wash`.
    #[must_use]
    pub fn used(&self) -> Mass {
        self.gross - self.tare - self.left - self.wash
    }

    /// The dry film from what was sprayed: `used / density × transfer × solids as mixed / area`.
    ///
    /// # Errors
    /// [`FigureError`] for an amount, density or area that is not above zero, or shares out of
    /// range.
    pub fn dry_film(
        &self,
        density: Density,
        transfer: Share,
        as_mixed: Share,
        area: Area,
    ) -> Result<Film, FigureError> {
        positive("amount used", self.used().g())?;
        positive("density of the mix", density.g_per_ml())?;
        let landed = (self.used() / density).ml()
            * some_share("share that lands", transfer)?
            * some_share("volume of solids", as_mixed)?;
        Ok(Film::from_um(landed / positive("area", area.m2())?))
    }
}

/// Readings of a film on one face and coat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    /// How many.
    pub count: usize,
    /// Their mean.
    pub mean: Film,
    /// The thinnest.
    pub least: Film,
    /// The thickest.
    pub most: Film,
}

impl Readings {
    /// Count, mean, least and most; `None` without readings or where one is no film.
    #[must_use]
    pub fn of(films: &[Film]) -> Option<Self> {
        let um = || films.iter().map(|film| film.um());
        if films.is_empty() || um().any(|film| !(film.is_finite() && film >= 0.0)) {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "a gauge gives a handful of readings")]
        let mean = um().sum::<f64>() / films.len() as f64;
        Some(Self {
            count: films.len(),
            mean: Film::from_um(mean),
            least: Film::from_um(um().fold(f64::INFINITY, f64::min)),
            most: Film::from_um(um().fold(0.0, f64::max)),
        })
    }
}

/// The limits of a single spot: 80 % of the least and 120 % of the most that is specified.
///
/// Source: SSPC-PA 2, as summarised (see `tests/published/data/film.csv`).
#[must_use]
pub fn spot_limits(least: Film, most: Film) -> (Film, Film) {
    (least * 0.8, most * 1.2)
}

/// On which side of a specified range something lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Thinner than it allows.
    Below,
    /// In it, ends included.
    Within,
    /// Thicker than it allows.
    Above,
}

/// How dry readings stand against a specified range.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SpotVerdict {
    /// Their mean, against the range itself.
    pub mean: Side,
    /// Spots under 80 % of the least.
    pub thin: usize,
    /// Spots over 120 % of the most.
    pub thick: usize,
}

impl SpotVerdict {
    /// Whether mean and spots are as specified.
    #[must_use]
    pub const fn holds(&self) -> bool {
        matches!(self.mean, Side::Within) && self.thin == 0 && self.thick == 0
    }
}

/// Dry readings, a spot each, against a specified range: their mean lies in it, and every spot
/// within its [`spot_limits`]. `None` where there is no reading, or one is no film.
///
/// Source: SSPC-PA 2; the spots as summarised, the mean from memory.
#[must_use]
pub fn spot_verdict(spots: &[Film], least: Film, most: Film) -> Option<SpotVerdict> {
    let mean = Readings::of(spots)?.mean;
    let (thin, thick) = spot_limits(least, most);
    // a spot on a limit is in it, whatever the last bit of 1.2 × 12 says
    let (thin, thick) = (thin * (1.0 - 1e-9), thick * (1.0 + 1e-9));
    Some(SpotVerdict {
        mean: side(mean, least, most),
        thin: spots.iter().filter(|spot| **spot < thin).count(),
        thick: spots.iter().filter(|spot| **spot > thick).count(),
    })
}

/// On which side of a range a film lies.
#[must_use]
pub fn side(film: Film, least: Film, most: Film) -> Side {
    match film {
        film if film < least => Side::Below,
        film if film > most => Side::Above,
        _ => Side::Within,
    }
}

/// Into how many areas of five spots a surface is divided for dry readings: one for every 100 ft²
/// up to 300, three up to 1000, and one more for every further 1000 ft² or part of it.
///
/// Source: SSPC-PA 2, as summarised (see `tests/published/data/film.csv`).
///
/// # Errors
/// [`FigureError::NotPositive`] unless the area is above zero.
pub fn spot_areas(area: Area) -> Result<f64, FigureError> {
    const M2_PER_FT2: f64 = 0.092_903_04;
    let ft2 = positive("area", area.m2())? / M2_PER_FT2;
    Ok(if ft2 <= 300.0 {
        (ft2 / 100.0).ceil()
    } else {
        3.0 + ((ft2 - 1000.0) / 1000.0).ceil().max(0.0)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn readings_give_count_mean_least_and_most() {
        let films = [40.0, 55.0, 46.0].map(Film::from_um);
        let readings = Readings::of(&films).unwrap();
        assert_eq!((readings.count, readings.mean), (3, Film::from_um(47.0)));
        assert_eq!((readings.least, readings.most), (Film::from_um(40.0), Film::from_um(55.0)));
        assert_eq!(Readings::of(&[]), None);
        assert_eq!(Readings::of(&[Film::from_um(f64::NAN)]), None);
    }

    #[test]
    fn the_mean_keeps_to_the_range_and_a_spot_to_a_fifth_beyond_it() {
        // 8 to 12 allow spots from 6.4 to 14.4
        let verdict = |spots: &[f64]| {
            let spots: Vec<Film> = spots.iter().copied().map(Film::from_um).collect();
            spot_verdict(&spots, Film::from_um(8.0), Film::from_um(12.0)).unwrap()
        };
        assert!(verdict(&[6.4, 14.4, 9.0]).holds());
        assert_eq!(
            verdict(&[6.3, 14.5, 9.0]),
            SpotVerdict { mean: Side::Within, thin: 1, thick: 1 }
        );
        assert_eq!(verdict(&[7.0, 7.5]).mean, Side::Below);
        assert_eq!(verdict(&[13.0]).mean, Side::Above);
        assert!(!verdict(&[7.9]).holds());
    }
}
