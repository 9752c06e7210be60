//! Where faces, pots and steps stand at a moment: derived from the state whenever it is asked for.

mod air;
mod checks;
mod face;
mod gate;
mod hold;
mod pot;
mod step;
mod trend;
mod window;
mod wipe;

pub use air::{AirLimit, AirNow, OutOfLimits, air_now};
pub(crate) use air::{dew_point_c, is_less};
pub use checks::{answered, is_answered};
pub use face::{CureDue, FaceNow, FaceStanding, TurnWait, last_flash};
pub use gate::{Gate, PotWhy, STALE, Someone, Wanting};
pub use hold::{
    Hold, OpenedCold, air_holds, cartridge_hold, cartridge_hours, condenses, gone_past,
    holds_on_begin, holds_on_close, masks_hold, opened_cold,
};
pub use pot::{PotNow, PotStanding};
pub use step::{StepNow, StepStanding};
pub use trend::{MarginRule, MarginTrend, trend_breaks, wet_time};
pub use wipe::WipeWhy;

use super::Session;
pub use super::hanging::OVERNIGHT;
use super::watch::Watch;

/// Where everything stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// Faces, by their number in the plan.
    pub faces: Vec<FaceStanding>,
    /// Pots in the order of mixing.
    pub pots: Vec<PotStanding>,
    /// The steps of the layer in work, or the closing ones once all coats are on.
    pub steps: Vec<StepStanding>,
    /// The layer in work; nothing once every coat is on.
    pub layer: Option<u32>,
}

impl Standing {
    /// Looks at a session.
    #[must_use]
    pub fn of(session: &Session, watch: &Watch) -> Self {
        let state = session.state();
        let layer = state.layer_in_work();
        let mut faces: Vec<FaceStanding> =
            (0..state.faces.len()).map(|number| FaceStanding::of(state, number, watch)).collect();
        face::settle_turns(session, &mut faces, watch);
        face::settle_places(state, &mut faces);
        let pots = state.pots.iter().map(|pot| PotStanding::of(state, pot, watch)).collect();
        // where nothing hangs, what the first part to come is to get
        let ahead = layer.or_else(|| state.layer_to_hang());
        let steps = step::steps_of(state, ahead, &faces, watch);
        Self { faces, pots, steps, layer }
    }

    /// The number of the face on the gun.
    #[must_use]
    pub fn on_the_gun(&self) -> Option<usize> {
        self.faces.iter().position(|face| face.now == FaceNow::OnTheGun)
    }

    /// The standing of the pot with this letter.
    #[must_use]
    pub fn pot(&self, id: &str) -> Option<&PotStanding> {
        self.pots.iter().find(|pot| pot.id == id)
    }
}
