//! States: each a word and a shape of its own. Shapes are plain text symbols one column wide.

use boothside_core::material::sheet::{CureStage, Hazard};
use boothside_core::session::standing::{FaceNow, PotNow, StepNow};
use ratatui::style::Style;

use crate::view::theme::Theme;

/// The word for a face's state.
#[must_use]
pub const fn face_word(now: FaceNow) -> &'static str {
    match now {
        FaceNow::Bare => "bare",
        FaceNow::OnTheGun => "on the gun",
        FaceNow::Flashing => "flashing",
        FaceNow::Look => "look",
        FaceNow::Open => "open",
        FaceNow::Closing => "closing",
        FaceNow::Wipe => "wipe",
        FaceNow::Sand => "sand",
        FaceNow::LayerDone => "layer done",
        FaceNow::Finished => "finished",
        FaceNow::Away => "away",
        FaceNow::Left => "left out",
    }
}

/// Its shape.
#[must_use]
pub const fn face_shape(now: FaceNow) -> &'static str {
    match now {
        FaceNow::Bare => "·",
        FaceNow::OnTheGun => "●",
        FaceNow::Flashing => "~",
        FaceNow::Look => "◆",
        FaceNow::Open => "○",
        FaceNow::Closing => "!",
        FaceNow::Wipe => "/",
        FaceNow::Sand => "#",
        FaceNow::LayerDone => "=",
        FaceNow::Finished => "■",
        FaceNow::Away => "<",
        FaceNow::Left => "-",
    }
}

/// Its style.
#[must_use]
pub const fn face_style(now: FaceNow, theme: Theme) -> Style {
    match now {
        FaceNow::Bare | FaceNow::LayerDone | FaceNow::Finished | FaceNow::Flashing => theme.plain(),
        FaceNow::Away | FaceNow::Left => theme.quiet(),
        FaceNow::OnTheGun => theme.strong(),
        FaceNow::Look => theme.due(),
        FaceNow::Open => theme.good(),
        FaceNow::Closing | FaceNow::Wipe => theme.caution(),
        FaceNow::Sand => theme.hold(),
    }
}

/// What a face has become, in the middle of a sentence: 'Fin · left is open'.
#[must_use]
pub const fn face_became(now: FaceNow) -> &'static str {
    match now {
        FaceNow::Look => "is due for a look",
        FaceNow::Wipe => "must be wiped first",
        FaceNow::Sand => "must be sanded first",
        FaceNow::Bare => "is bare",
        FaceNow::OnTheGun => "is on the gun",
        FaceNow::Flashing => "is flashing",
        FaceNow::Open => "is open",
        FaceNow::Closing => "is closing",
        FaceNow::LayerDone => "has its layer done",
        FaceNow::Finished => "is finished",
        FaceNow::Away => "is away",
        FaceNow::Left => "is left out",
    }
}

/// The word for a pot's state.
#[must_use]
pub const fn pot_word(now: PotNow) -> &'static str {
    match now {
        PotNow::Standing => "stands",
        PotNow::Good => "good",
        PotNow::StopAndClean => "stop and clean",
        PotNow::Dead => "dead",
        PotNow::Emptied => "emptied",
    }
}

/// Its shape.
#[must_use]
pub const fn pot_shape(now: PotNow) -> &'static str {
    match now {
        PotNow::Standing => "~",
        PotNow::Good => "○",
        PotNow::StopAndClean => "!",
        PotNow::Dead => "×",
        PotNow::Emptied => "·",
    }
}

/// Its style.
#[must_use]
pub const fn pot_style(now: PotNow, theme: Theme) -> Style {
    match now {
        PotNow::Standing | PotNow::Emptied => theme.plain(),
        PotNow::Good => theme.good(),
        PotNow::StopAndClean => theme.due(),
        PotNow::Dead => theme.hold(),
    }
}

/// The word for a step's state.
#[must_use]
pub const fn step_word(now: StepNow) -> &'static str {
    match now {
        StepNow::NotYet => "too early",
        StepNow::ToDo => "to do",
        StepNow::Waiting => "waits",
        StepNow::Done => "done",
    }
}

/// Its shape.
#[must_use]
pub const fn step_shape(now: StepNow) -> &'static str {
    match now {
        StepNow::NotYet => "·",
        StepNow::ToDo => "○",
        StepNow::Waiting => "~",
        StepNow::Done => "■",
    }
}

/// A readiness state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Readiness {
    /// A figure that was read is as it should be.
    Clear,
    /// A person said so: never green, for the program knows no more than that.
    Said,
    /// It is so, with something to mind.
    Caution,
    /// It speaks against going on.
    Hold,
    /// Nobody answered it yet.
    NotKnown,
}

impl Readiness {
    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Said => "said",
            Self::Caution => "caution",
            Self::Hold => "hold",
            Self::NotKnown => "not known",
        }
    }

    /// Its shape.
    #[must_use]
    pub const fn shape(self) -> &'static str {
        match self {
            Self::Clear => "■",
            Self::Said => "»",
            Self::Caution => "!",
            Self::Hold => "×",
            Self::NotKnown => "?",
        }
    }

    /// Its style.
    #[must_use]
    pub const fn style(self, theme: Theme) -> Style {
        match self {
            Self::Clear => theme.good(),
            Self::Caution => theme.caution(),
            Self::Hold => theme.hold(),
            Self::Said | Self::NotKnown => theme.plain(),
        }
    }
}

/// What all faces may stand at a stage of cure.
#[must_use]
pub const fn cure_reached(stage: CureStage) -> &'static str {
    match stage {
        CureStage::DustFree => "dust free",
        CureStage::Handle => "may be handled",
        CureStage::Mask => "hard enough for tape",
        CureStage::Sand => "may be sanded",
        CureStage::Full => "cured in full",
    }
}

/// The same in a narrow column, before a time.
#[must_use]
pub const fn cure_from(stage: CureStage) -> &'static str {
    match stage {
        CureStage::DustFree => "dust free",
        CureStage::Handle => "handle",
        CureStage::Mask => "tape",
        CureStage::Sand => "may sand",
        CureStage::Full => "full cure",
    }
}

/// The calm line for the hazards of a sheet; nothing where it names none. It says who rules, and
/// never that anything is enough.
#[must_use]
pub fn caution(hazards: &[Hazard]) -> Option<String> {
    let names: Vec<&str> = hazards
        .iter()
        .map(|hazard| match hazard {
            Hazard::Isocyanate => "isocyanates",
            Hazard::Flammable => "flammable vapour",
            Hazard::Chromate => "chromates",
        })
        .collect();
    let names = names.join(", ");
    let rules = "follow the safety data sheet, local codes and licensed practice";
    (!names.is_empty()).then(|| format!("{names}: {rules}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    const FACES: [FaceNow; 12] = [
        FaceNow::Bare,
        FaceNow::OnTheGun,
        FaceNow::Flashing,
        FaceNow::Look,
        FaceNow::Open,
        FaceNow::Closing,
        FaceNow::Wipe,
        FaceNow::Sand,
        FaceNow::LayerDone,
        FaceNow::Finished,
        FaceNow::Away,
        FaceNow::Left,
    ];

    fn all_differ(texts: &[&str]) {
        for (i, text) in texts.iter().enumerate() {
            assert!(!texts[..i].contains(text), "{text}");
        }
    }

    #[test]
    fn every_state_has_a_word_and_a_shape_of_its_own() {
        all_differ(&FACES.map(face_word));
        all_differ(&FACES.map(face_shape));
        let pots = [PotNow::Standing, PotNow::Good, PotNow::StopAndClean, PotNow::Dead];
        all_differ(&pots.map(pot_word));
        all_differ(&pots.map(pot_shape));
        let steps = [StepNow::NotYet, StepNow::ToDo, StepNow::Waiting, StepNow::Done];
        all_differ(&steps.map(step_word));
        all_differ(&steps.map(step_shape));
    }

    #[test]
    fn what_a_person_said_is_neither_green_nor_clear() {
        let all = [
            Readiness::Clear,
            Readiness::Said,
            Readiness::Caution,
            Readiness::Hold,
            Readiness::NotKnown,
        ];
        all_differ(&all.map(Readiness::word));
        all_differ(&all.map(Readiness::shape));
        let theme = Theme::new(true);
        assert_ne!(Readiness::Said.style(theme), theme.good());
        assert_eq!(Readiness::Said.style(theme).fg, None);
    }

    #[test]
    fn shapes_are_one_column_wide() {
        for shape in FACES.map(face_shape) {
            assert_eq!(crate::view::text::columns(shape), 1, "{shape}");
        }
    }

    #[test]
    fn a_caution_names_the_hazards_and_who_rules() {
        let text = caution(&[Hazard::Isocyanate, Hazard::Flammable]).unwrap();
        assert!(text.starts_with("isocyanates, flammable vapour: "));
        assert!(text.contains("safety data sheet, local codes and licensed practice"));
        assert_eq!(caution(&[]), None);
    }
}
