//! Flow cups: efflux seconds and kinematic viscosity.

use super::figure::{FigureError, positive};
use crate::units::show::plain;
use crate::units::{KinematicViscosity, Share};

/// A flow cup: `ν = slope t − offset − drag / t` within its range of seconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cup {
    name: &'static str,
    slope: f64,
    offset: f64,
    drag: f64,
    range_s: (f64, f64),
}

/// Why a viscosity was refused.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ViscosityError {
    /// No cup of that name.
    #[error("'{0}' is no cup; accepted: iso-3 … iso-6, ford-1 … ford-5, zahn-1 … zahn-5, din-4")]
    NoCup(String),
    /// Seconds outside the cup's range.
    #[error("{} s is outside the {from} to {to} s of {cup}; take another cup", plain(*seconds))]
    Seconds {
        /// What was given.
        seconds: f64,
        /// Which cup.
        cup: &'static str,
        /// From how many seconds on the cup is valid.
        from: f64,
        /// Up to how many seconds it is valid.
        to: f64,
    },
    /// A viscosity that this cup would not measure in its range of seconds.
    #[error(
        "{} mm²/s is outside the {from:.1} to {to:.1} mm²/s of {cup}; take another cup",
        plain(*kinematic)
    )]
    Kinematic {
        /// What was given, mm²/s.
        kinematic: f64,
        /// Which cup.
        cup: &'static str,
        /// The viscosity at the shortest time, mm²/s.
        from: f64,
        /// The viscosity at the longest time, mm²/s.
        to: f64,
    },
}

const fn cup(
    name: &'static str,
    (slope, offset, drag): (f64, f64, f64),
    range_s: (f64, f64),
) -> Cup {
    Cup { name, slope, offset, drag, range_s }
}

/// All cups.
///
/// Sources: ASTM D1200 (Ford 1, 2 read; 3–5 from memory), ASTM D4212 (Zahn, read), ISO 2431 and
/// DIN 53211, withdrawn (both from memory), in `tests/published/data/cup_equations.csv`.
pub const CUPS: [Cup; 15] = [
    cup("iso-3", (0.443, 0.0, 200.0), (30.0, 100.0)),
    cup("iso-4", (1.37, 0.0, 200.0), (30.0, 100.0)),
    cup("iso-5", (3.28, 0.0, 220.0), (30.0, 100.0)),
    cup("iso-6", (6.90, 0.0, 570.0), (30.0, 100.0)),
    cup("ford-1", (0.49, 0.49 * 35.0, 0.0), (55.0, 100.0)),
    cup("ford-2", (1.44, 1.44 * 18.0, 0.0), (40.0, 100.0)),
    cup("ford-3", (2.31, 2.31 * 6.58, 0.0), (20.0, 100.0)),
    cup("ford-4", (3.85, 3.85 * 4.49, 0.0), (20.0, 100.0)),
    cup("ford-5", (12.1, 12.1 * 2.00, 0.0), (20.0, 100.0)),
    cup("zahn-1", (1.1, 1.1 * 29.0, 0.0), (35.0, 80.0)),
    cup("zahn-2", (3.5, 3.5 * 14.0, 0.0), (20.0, 80.0)),
    cup("zahn-3", (11.7, 11.7 * 7.5, 0.0), (20.0, 80.0)),
    cup("zahn-4", (14.8, 14.8 * 5.0, 0.0), (20.0, 80.0)),
    cup("zahn-5", (23.0, 0.0, 0.0), (20.0, 80.0)),
    cup("din-4", (4.57, 0.0, 452.0), (25.0, 150.0)),
];

impl Cup {
    /// The cup of a name such as `ford-4`; case and blanks do not matter.
    ///
    /// # Errors
    /// [`ViscosityError::NoCup`] with the names that there are.
    pub fn named(name: &str) -> Result<Self, ViscosityError> {
        let wanted = name.trim().to_lowercase().replace([' ', '_'], "-");
        CUPS.into_iter()
            .find(|cup| cup.name == wanted)
            .ok_or_else(|| ViscosityError::NoCup(name.to_owned()))
    }

    /// The cup's name.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        self.name
    }

    /// The seconds between which the cup is valid.
    #[must_use]
    pub const fn range_s(&self) -> (f64, f64) {
        self.range_s
    }

    /// The viscosity that flows out in a number of seconds.
    ///
    /// # Errors
    /// [`ViscosityError::Seconds`] outside the cup's range.
    pub fn kinematic(&self, seconds: f64) -> Result<KinematicViscosity, ViscosityError> {
        let (from, to) = self.range_s;
        if !(from..=to).contains(&seconds) {
            return Err(ViscosityError::Seconds { seconds, cup: self.name, from, to });
        }
        Ok(KinematicViscosity::from_mm2_per_s(self.at(seconds)))
    }

    /// The seconds in which a viscosity flows out.
    ///
    /// # Errors
    /// [`ViscosityError::Kinematic`] where those would lie outside the cup's range.
    pub fn seconds(&self, kinematic: KinematicViscosity) -> Result<f64, ViscosityError> {
        // a last bit may be lost on the way to a viscosity and back
        const SLACK: f64 = 1e-9;
        let ((from_s, to_s), nu) = (self.range_s, kinematic.mm2_per_s());
        let (from, to) = (self.at(from_s), self.at(to_s));
        if !(from * (1.0 - SLACK)..=to * (1.0 + SLACK)).contains(&nu) {
            let kinematic = nu;
            return Err(ViscosityError::Kinematic { kinematic, cup: self.name, from, to });
        }
        let linear = nu + self.offset;
        let root = (linear * linear + 4.0 * self.slope * self.drag).sqrt();
        Ok(((linear + root) / (2.0 * self.slope)).clamp(from_s, to_s))
    }

    fn at(&self, seconds: f64) -> f64 {
        self.slope * seconds - self.offset - self.drag / seconds
    }
}

/// How the seconds of one cup fall with the reducer's share: `ln t` linear in the share. An
/// estimate, and nothing else.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thinning {
    share: f64,
    ln_seconds: f64,
    slope: f64,
}

impl Thinning {
    /// A fit through two readings `(reducer's share, seconds)` of one pot in one cup; `None`
    /// unless more reducer gave fewer seconds.
    ///
    /// # Errors
    /// [`FigureError::NotPositive`] for seconds that are not above zero.
    pub fn through(first: (Share, f64), second: (Share, f64)) -> Result<Option<Self>, FigureError> {
        let ln = |reading: (Share, f64)| positive("time in the cup", reading.1).map(f64::ln);
        let slope = (ln(second)? - ln(first)?) / (second.0.fraction() - first.0.fraction());
        let share = second.0.fraction();
        let fit = Self { share, ln_seconds: ln(second)?, slope };
        Ok((slope.is_finite() && slope < 0.0).then_some(fit))
    }

    /// The seconds to expect at a reducer's share.
    #[must_use]
    pub fn seconds_at(&self, share: Share) -> f64 {
        (self.ln_seconds + self.slope * (share.fraction() - self.share)).exp()
    }

    /// The reducer's share at which to expect a number of seconds, which may lie outside 0…1.
    ///
    /// # Errors
    /// [`FigureError::NotPositive`] for seconds that are not above zero.
    pub fn share_for(&self, seconds: f64) -> Result<Share, FigureError> {
        let wanted = positive("time in the cup", seconds)?.ln();
        Ok(Share::from_fraction(self.share + (wanted - self.ln_seconds) / self.slope))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_readings_give_the_share_for_a_third() {
        let share = Share::from_fraction;
        let fit = Thinning::through((share(0.0), 40.0), (share(0.1), 20.0)).unwrap().unwrap();
        assert!((fit.seconds_at(share(0.05)) - 800f64.sqrt()).abs() < 1e-9);
        assert!((fit.share_for(20.0).unwrap().fraction() - 0.1).abs() < 1e-12);
        assert_eq!(Thinning::through((share(0.0), 20.0), (share(0.1), 40.0)), Ok(None));
        assert_eq!(Thinning::through((share(0.1), 30.0), (share(0.1), 20.0)), Ok(None));
    }
}
