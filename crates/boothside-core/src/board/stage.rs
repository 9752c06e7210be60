//! Where the work stands, derived from what comes next.

use super::next::Next;
use crate::session::Session;
use crate::session::standing::Standing;

use super::hero::Waited;

/// The stages of a layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// The surface is prepared for a layer.
    Prep {
        /// Layer, counted from 1.
        layer: u32,
    },
    /// Readiness is checked.
    Ready {
        /// Layer, counted from 1.
        layer: u32,
    },
    /// A pot is mixed or stands.
    Mix {
        /// Layer, counted from 1.
        layer: u32,
    },
    /// A coat is sprayed.
    Coat {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1: the lowest that a face lacks.
        coat: u32,
    },
    /// A coat flashes.
    Flash {
        /// Layer, counted from 1.
        layer: u32,
        /// The coat that flashes.
        coat: u32,
    },
    /// The gap before a layer.
    Gap {
        /// The layer to come.
        layer: u32,
    },
    /// Every coat is on.
    Cure,
    /// Closing steps.
    Close,
    /// The session was closed.
    Closed,
}

pub(super) fn stage(session: &Session, standing: &Standing, next: &Next) -> Stage {
    if session.state().closed.is_some() {
        return Stage::Closed;
    }
    let Some(layer) = standing.layer else {
        return match next {
            Next::Wait { what: Waited::ToHang { layer }, .. } => Stage::Prep { layer: *layer },
            Next::Step { .. } | Next::CountMasks { .. } | Next::Close => Stage::Close,
            _ => Stage::Cure,
        };
    };
    if session.state().layer_begun(layer) {
        in_coats(standing, next, layer)
    } else {
        before_coats(next, layer)
    }
}

fn before_coats(next: &Next, layer: u32) -> Stage {
    match next {
        Next::Wait {
            what:
                Waited::Opens { .. }
                | Waited::Look { .. }
                | Waited::PotTime { .. }
                | Waited::WipeTime { .. },
            ..
        }
        | Next::Leftover { .. }
        | Next::Dulled { .. }
        | Next::CleanGun { .. } => Stage::Gap { layer },
        Next::Check { .. }
        | Next::SomeoneKnows
        | Next::CountMasks { .. }
        | Next::FanOn
        | Next::Reading { .. } => Stage::Ready { layer },
        Next::MixPot { .. }
        | Next::Pour { .. }
        | Next::Stir { .. }
        | Next::Wait { what: Waited::Stand { .. }, .. } => Stage::Mix { layer },
        Next::BeginCoat { coat, .. } => Stage::Coat { layer, coat: *coat },
        _ => Stage::Prep { layer },
    }
}

fn in_coats(standing: &Standing, next: &Next, layer: u32) -> Stage {
    let hanging = || standing.faces.iter().filter(|face| !face.now.is_absent());
    let coats = hanging().filter_map(|face| face.next);
    let lowest = coats.filter(|(of, _)| *of == layer).map(|(_, coat)| coat).min().unwrap_or(1);
    // while some face already has the next coat, the work is at that coat
    let at_lowest = hanging().all(|face| face.next <= Some((layer, lowest)));
    match next {
        Next::Wait { .. } | Next::Dulled { .. } if lowest > 1 && at_lowest => {
            Stage::Flash { layer, coat: lowest - 1 }
        }
        Next::MixPot { .. }
        | Next::Pour { .. }
        | Next::Stir { .. }
        | Next::Wait { what: Waited::Stand { .. }, .. } => Stage::Mix { layer },
        Next::CoatOn { layer, coat, .. } => Stage::Coat { layer: *layer, coat: *coat },
        _ => Stage::Coat { layer, coat: lowest },
    }
}
