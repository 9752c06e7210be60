//! What a digit stands for in a question.

use crate::update::scene::{FilmFact, OtherFact, PauseWhy, PotFact};

/// Another fact of a face.
#[must_use]
pub const fn other_fact(fact: OtherFact) -> &'static str {
    match fact {
        OtherFact::Skipped => "next coat skipped",
        OtherFact::WipedOff => "last coat wiped off",
        OtherFact::ExtraCoat => "extra coat to come",
        OtherFact::TouchedUp => "touched up",
        OtherFact::Wiped => "wiped with solvent",
        OtherFact::Scuffed => "scuffed",
        OtherFact::Sanded => "sanded",
        OtherFact::Turned => "turned over",
        OtherFact::PartWay => "stopped part-way",
        OtherFact::Fan => "fan off, or on again",
    }
}

/// What can be told of a pot.
#[must_use]
pub const fn pot_fact(fact: PotFact) -> &'static str {
    match fact {
        PotFact::Mixed => "mixed in one go",
        PotFact::ToppedUp => "topped up with fresh mix",
        PotFact::ReducerAdded => "reducer added",
        PotFact::Weighed => "weighed: what is left",
        PotFact::Returned => "some went back to the can",
        PotFact::Emptied => "emptied",
        PotFact::GunCleaned => "gun cleaned",
        PotFact::OtherCan => "another can taken",
    }
}

/// What can be told of a film.
#[must_use]
pub const fn film_fact(fact: FilmFact) -> &'static str {
    match fact {
        FilmFact::Wet => "wet film by the comb",
        FilmFact::Dry => "dry film by the gauge",
        FilmFact::Weighed => "the pot by the scale",
    }
}

/// Why work is interrupted; the same text goes into the log.
#[must_use]
pub const fn pause_why(why: PauseWhy) -> &'static str {
    match why {
        PauseWhy::Called => "called away",
        PauseWhy::Break => "break",
        PauseWhy::Equipment => "trouble with gun, hose or air",
        PauseWhy::Fault => "something wrong with the finish",
        PauseWhy::Air => "the air is not fit",
    }
}
