//! A can of stock to which thinned material is returned.

use crate::units::show::plain;
use crate::units::{Share, Volume};

/// What is in a can, and how much of that is thinner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Content {
    /// What is in it.
    pub volume: Volume,
    /// The thinner's share of it, by volume.
    pub thinner: Share,
}

/// One use of a can: poured, thinned, sprayed, the rest returned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cycle {
    /// Poured from the can.
    pub poured: Volume,
    /// Thinner added per volume poured.
    pub thinner_per_poured: f64,
    /// Used of the thinned mix; the rest goes back.
    pub used: Volume,
}

/// A can after a cycle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AfterCycle {
    /// The can with what was returned. An empty can keeps the share that it had.
    pub can: Content,
    /// The thinner's share in the cup.
    pub cup: Share,
    /// What was returned.
    pub returned: Volume,
}

/// Why a can or a cycle was refused.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum StockError {
    /// A can that holds nothing.
    #[error("the can holds {0} mL, and must hold more than 0")]
    Volume(f64),
    /// A thinner's share outside 0 to 100 %.
    #[error("the thinner's share is {} %, and must be from 0 to 100 %", plain(*.0))]
    Share(f64),
    /// A pour that is not above zero or not in the can.
    #[error(
        "{} mL cannot be poured from a can that holds {} mL",
        plain(*poured),
        plain(*volume)
    )]
    Poured {
        /// The pour, mL.
        poured: f64,
        /// What the can holds, mL.
        volume: f64,
    },
    /// A negative ratio of thinner.
    #[error("the thinner per amount poured is {0}, and cannot be negative")]
    Ratio(f64),
    /// More used than was in the cup.
    #[error("{} mL cannot be used of a cup that holds {} mL", plain(*used), plain(*cup))]
    Used {
        /// What was used, mL.
        used: f64,
        /// What was in the cup, mL.
        cup: f64,
    },
}

/// A pour may exceed what is there by this share, for the last bit of a sum.
const SLACK: f64 = 1e-9;

impl Content {
    /// A can of a volume with a thinner's share.
    ///
    /// # Errors
    /// [`StockError`] unless it holds something and the share is from 0 to 100 %.
    pub fn new(volume: Volume, thinner: Share) -> Result<Self, StockError> {
        if !(volume.ml().is_finite() && volume.ml() > 0.0) {
            return Err(StockError::Volume(volume.ml()));
        }
        if !(0.0..=1.0).contains(&thinner.fraction()) {
            return Err(StockError::Share(thinner.fraction() * 100.0));
        }
        Ok(Self { volume, thinner })
    }

    /// Without what was poured out of it; never less than nothing. The share stays.
    #[must_use]
    pub fn less(self, poured: Volume) -> Self {
        Self { volume: Volume::from_ml((self.volume.ml() - poured.ml()).max(0.0)), ..self }
    }

    /// With what came back, of which the share `thinner` is thinner: ideal volumes.
    #[must_use]
    pub fn with(self, returned: Volume, thinner: Share) -> Self {
        let (kept, back) = (self.volume.ml(), returned.ml());
        let after = kept + back;
        if after <= 0.0 {
            return self;
        }
        let share = (self.thinner.fraction() * kept + thinner.fraction() * back) / after;
        Self { volume: Volume::from_ml(after), thinner: Share::from_fraction(share) }
    }

    /// The can after a cycle: `f' = (f (V − P) + g L) / (V − P + L)`, `g = (f + a) / (1 + a)`.
    ///
    /// # Errors
    /// [`StockError`] for a pour that the can does not hold, a negative ratio, or more used than
    /// was in the cup.
    pub fn after(&self, cycle: &Cycle) -> Result<AfterCycle, StockError> {
        let (volume, poured, ratio) =
            (self.volume.ml(), cycle.poured.ml(), cycle.thinner_per_poured);
        if !(poured > 0.0 && poured <= volume * (1.0 + SLACK)) {
            return Err(StockError::Poured { poured, volume });
        }
        if !(ratio.is_finite() && ratio >= 0.0) {
            return Err(StockError::Ratio(ratio));
        }
        let (cup, used) = (poured * (1.0 + ratio), cycle.used.ml());
        if !(used >= 0.0 && used <= cup * (1.0 + SLACK)) {
            return Err(StockError::Used { used, cup });
        }
        let share = self.thinner.fraction();
        let cup_share = Share::from_fraction((share + ratio) / (1.0 + ratio));
        let returned = Volume::from_ml((cup - used).max(0.0));
        let can = self.less(cycle.poured).with(returned, cup_share);
        Ok(AfterCycle { can, cup: cup_share, returned })
    }
}
