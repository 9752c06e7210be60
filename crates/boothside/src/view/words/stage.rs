//! Where the work stands, for the top line.

use boothside_core::board::Stage;

use super::Words;

/// The layer that a stage belongs to; nothing once every coat is on.
#[must_use]
pub const fn layer_of(stage: Stage) -> Option<u32> {
    match stage {
        Stage::Prep { layer }
        | Stage::Ready { layer }
        | Stage::Mix { layer }
        | Stage::Coat { layer, .. }
        | Stage::Flash { layer, .. }
        | Stage::Gap { layer } => Some(layer),
        Stage::Cure | Stage::Close | Stage::Closed => None,
    }
}

/// The stage's own word.
#[must_use]
pub const fn stage_word(stage: Stage) -> &'static str {
    match stage {
        Stage::Prep { .. } => "prep",
        Stage::Ready { .. } => "ready",
        Stage::Mix { .. } => "mix",
        Stage::Coat { .. } => "coat",
        Stage::Flash { .. } => "flash",
        Stage::Gap { .. } => "gap",
        Stage::Cure => "cure",
        Stage::Close => "close",
        Stage::Closed => "closed",
    }
}

impl Words<'_> {
    /// Layer and stage: 'Primer · coat 1 of 2', 'gap before Colour', 'cure'.
    #[must_use]
    pub fn stage(&self) -> String {
        match self.board.stage {
            Stage::Coat { layer, coat } => {
                format!("{} · coat {coat} of {}", self.layer(layer), self.coats(layer))
            }
            Stage::Flash { layer, coat } => {
                format!("{} · flash, coat {coat} of {}", self.layer(layer), self.coats(layer))
            }
            Stage::Gap { layer } => format!("gap before {}", self.layer(layer)),
            stage => match layer_of(stage) {
                Some(layer) => format!("{} · {}", self.layer(layer), stage_word(stage)),
                None => stage_word(stage).into(),
            },
        }
    }
}
