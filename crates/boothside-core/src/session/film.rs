//! Film readings and weighings as they were told, and what of a sheet they need.

use serde::{Deserialize, Serialize};

use super::bounds::{FILM, MASS, UNDER};
use super::demand::NotSet;
use super::refusal::Refusal;
use super::time::Moment;
use crate::material::recipe;
use crate::material::sheet::{Basis, MixRule};
use crate::physics::film::{self, Weighed};
use crate::units::{Density, Film, Mass, Share, Volume};

/// A wet film as a comb or wheel shows it: it lies between the last tooth that came away wet and the
/// first that stayed dry. Both are the same where one figure was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WetFilm {
    /// The last wet tooth, µm.
    pub wet_um: f64,
    /// The first dry tooth, µm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dry_tooth_um: Option<f64>,
}

impl WetFilm {
    /// Its thin and its thick end, µm.
    #[must_use]
    pub fn ends_um(&self) -> (f64, f64) {
        (self.wet_um, self.dry_tooth_um.unwrap_or(self.wet_um))
    }
}

/// Dry readings of a face, a spot each: the mean of the gauge's readings at that spot.
#[derive(Debug, Clone, PartialEq)]
pub struct DryRead {
    /// When.
    pub at: Moment,
    /// The uppermost layer then, counted from 1.
    pub layer: u32,
    /// What the gauge showed, µm.
    pub spots_um: Vec<f64>,
    /// What lies under this layer and is taken off, µm.
    pub under_um: Option<f64>,
}

/// What the scale said about a pot.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Weighing {
    /// Pot and mix before spraying, g.
    pub gross_g: f64,
    /// The empty pot, g; 0 where the scale was tared.
    pub tare_g: f64,
    /// What was left over, without the pot, g.
    pub left_g: f64,
    /// What went with cleaning the gun, g.
    pub wash_g: f64,
}

/// A pot that was accounted for.
#[derive(Debug, Clone, PartialEq)]
pub struct Accounted {
    /// When.
    pub at: Moment,
    /// The pot's letter.
    pub pot: String,
    /// The coat weighed, counted from 1; nothing for all that came from the pot.
    pub coat: Option<u32>,
    /// The weights.
    pub weighing: Weighing,
}

const MOST_READINGS: usize = 60;

impl Weighing {
    /// The same as masses.
    #[must_use]
    pub fn weighed(&self) -> Weighed {
        Weighed {
            gross: Mass::from_g(self.gross_g),
            tare: Mass::from_g(self.tare_g),
            left: Mass::from_g(self.left_g),
            wash: Mass::from_g(self.wash_g),
        }
    }

    /// What no scale shows was mistyped.
    ///
    /// # Errors
    /// [`Refusal::Figure`] names the figure, and where more went out of the pot than was in it.
    pub fn check(&self) -> Result<(), Refusal> {
        let figures = [
            ("gross", self.gross_g),
            ("tare", self.tare_g),
            ("left", self.left_g),
            ("wash", self.wash_g),
        ];
        for (field, value) in figures {
            MASS.check(field, value)?;
        }
        let used_g = self.weighed().used().g();
        if used_g > 0.0 {
            return Ok(());
        }
        let given = format!("{used_g:.1} g sprayed");
        let accepted = "less than gross − tare − wash";
        Err(Refusal::Figure { field: "left", given, accepted })
    }
}

/// What no comb shows was mistyped.
///
/// # Errors
/// [`Refusal::Figure`].
pub fn check_wet(read: &[WetFilm]) -> Result<(), Refusal> {
    counted(read.len())?;
    for film in read {
        FILM.check("film", film.wet_um)?;
        let Some(dry_um) = film.dry_tooth_um else { continue };
        FILM.check("film", dry_um)?;
        if dry_um <= film.wet_um {
            let given = format!("{} to {dry_um} µm", film.wet_um);
            let accepted = "the last wet tooth first, such as 75-100";
            return Err(Refusal::Figure { field: "film", given, accepted });
        }
    }
    Ok(())
}

/// What no gauge shows was mistyped.
///
/// # Errors
/// [`Refusal::Figure`]; likewise for a film that is thinner than what lies under it.
pub fn check_dry(spots_um: &[f64], under_um: Option<f64>) -> Result<(), Refusal> {
    counted(spots_um.len())?;
    for um in spots_um {
        FILM.check("film", *um)?;
    }
    let Some(under_um) = under_um else { return Ok(()) };
    UNDER.check("under", under_um)?;
    match spots_um.iter().find(|um| **um < under_um) {
        Some(um) => {
            let given = format!("{under_um} µm under a film of {um} µm");
            let accepted = "no more than the thinnest reading";
            Err(Refusal::Figure { field: "under", given, accepted })
        }
        None => Ok(()),
    }
}

fn counted(count: usize) -> Result<(), Refusal> {
    if (1..=MOST_READINGS).contains(&count) {
        return Ok(());
    }
    let given = if count == 0 { "nothing".to_owned() } else { format!("{count} readings") };
    Err(Refusal::Figure { field: "film", given, accepted: "1 to 60 readings" })
}

/// The dry film of a wet one of such solids (a share), thin and thick end.
///
/// # Errors
/// [`NotSet::Solids`] for solids of which nothing dries.
pub fn dries_to(as_mixed: f64, wet_um: (f64, f64)) -> Result<(Film, Film), NotSet> {
    let as_mixed = Share::from_fraction(as_mixed);
    let dry = |um| film::dry_film(Film::from_um(um), as_mixed).map_err(|_| NotSet::Solids);
    Ok((dry(wet_um.0)?, dry(wet_um.1)?))
}

/// The density of the mix by the sheet's recipe.
///
/// # Errors
/// [`NotSet::Density`] where one of the components has none.
pub fn mix_density(mix: &MixRule) -> Result<Density, NotSet> {
    let by = match mix.by {
        Basis::Volume => recipe::Basis::Volume,
        Basis::Weight => recipe::Basis::Weight,
    };
    let component = |component: &crate::material::sheet::Component| {
        let density = Density::from_g_per_ml(component.density_g_per_ml.ok_or(NotSet::Density)?);
        Ok(recipe::Component { parts: component.parts, density })
    };
    let components = mix.components.iter().map(component).collect::<Result<_, NotSet>>()?;
    let planned = recipe::Recipe::with_optional(by, components)
        .and_then(|recipe| recipe.for_volume(Volume::from_ml(1.0)));
    planned.map(|plan| plan.density()).map_err(|_| NotSet::Density)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wet(wet_um: f64, dry_tooth_um: Option<f64>) -> WetFilm {
        WetFilm { wet_um, dry_tooth_um }
    }

    #[test]
    fn what_no_comb_gauge_or_scale_shows_is_refused() {
        assert_eq!(check_wet(&[wet(75.0, Some(100.0)), wet(80.0, None)]), Ok(()));
        for wrong in [wet(100.0, Some(75.0)), wet(0.0, None), wet(f64::NAN, None)] {
            assert!(check_wet(&[wrong]).is_err(), "{wrong:?}");
        }
        assert!(check_wet(&[]).is_err());
        assert!(check_wet(&[wet(75.0, None); 61]).is_err());
        assert_eq!(check_dry(&[45.0, 50.0], Some(20.0)), Ok(()));
        assert!(check_dry(&[45.0, 15.0], Some(20.0)).is_err());
        assert!(check_dry(&[-1.0], None).is_err());
        let weighing = Weighing { gross_g: 500.0, tare_g: 100.0, left_g: 90.0, wash_g: 10.0 };
        assert_eq!(weighing.check(), Ok(()));
        assert!(Weighing { left_g: 390.0, ..weighing }.check().is_err(), "nothing sprayed");
        assert!(Weighing { wash_g: -1.0, ..weighing }.check().is_err());
    }
}
