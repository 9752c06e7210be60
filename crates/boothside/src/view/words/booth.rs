//! The booth's air in words.

use boothside_core::board::{BoothAir, Clocked, FanOn, Lacks, PURGE_LEFT_PCT, ShareOfLimit};
use boothside_core::session::clocks::DueAt;
use boothside_core::session::demand::NotSet;

use super::Words;
use super::figure::{Figures, short};
use super::time::{Time, spoken};
use crate::view::text::clean;

/// What an estimate lacks, joined.
#[must_use]
pub fn lacks(lacks: &[Lacks]) -> String {
    let words: Vec<&str> = lacks.iter().map(|lack| lack_word(*lack)).collect();
    words.join(", ")
}

const fn lack_word(lacks: Lacks) -> &'static str {
    match lacks {
        Lacks::Volume => "the booth's volume",
        Lacks::Flow => "the fan's flow",
        Lacks::Mixing => "the mixing factor",
        Lacks::Vapour => "LEL and vapour",
        Lacks::Pace => "two faces sprayed",
        Lacks::Film(NotSet::DryFilm) => "the dry film wanted",
        Lacks::Film(NotSet::Solids) => "the solids",
        Lacks::Film(NotSet::Density) => "a density",
        Lacks::Film(NotSet::Transfer) => "the share that reaches the part",
        Lacks::Film(NotSet::InPot) => "how much was in the pot",
    }
}

impl Words<'_> {
    /// 'fan on until 20:31 · calculated, not measured: …'.
    #[must_use]
    pub fn fan(&self, fan: &FanOn) -> String {
        let until = match &fan.until {
            Ok(DueAt::At(until)) => {
                let until = self.clock(*until, Time::Wait);
                if fan.over {
                    format!("the fan's time to {until} is over")
                } else {
                    format!("fan on until {until}")
                }
            }
            Ok(DueAt::Never(because)) => {
                format!("fan on: the flash does not end: {}", self.never(*because))
            }
            Err(missing) => {
                return format!("fan on until: not known: {} not set", short_lacks(missing));
            }
        };
        format!(
            "{until} · calculated, not measured: it proves no air safe to breathe or free of fire risk"
        )
    }
}

/// 'booth volume and fan flow'.
fn short_lacks(lacks: &[Lacks]) -> String {
    let words = lacks.iter().map(|lack| match lack {
        Lacks::Volume => "booth volume",
        Lacks::Flow => "fan flow",
        Lacks::Mixing => "mixing factor",
        other => lack_word(*other),
    });
    words.collect::<Vec<_>>().join(" and ")
}

/// Air changes and purge.
#[must_use]
pub fn exhaust(booth: &BoothAir) -> String {
    let changes = match &booth.air_changes_per_h {
        Ok(changes) => format!("{} air changes/h", short(*changes, 1)),
        Err(missing) => format!("air changes not known: set {}", lacks(missing)),
    };
    let purge = match (&booth.purge, booth.mixing_factor) {
        (Ok(span), Some(factor)) => format!(
            "{} to clear {} % (mixing factor {}), counted from the end of flash",
            spoken(*span, Time::Wait),
            short(100.0 - PURGE_LEFT_PCT, 0),
            short(factor, 1)
        ),
        (Err(missing), _) if booth.air_changes_per_h.is_err() => {
            return format!("air changes and purge not known; not set: {}", lacks(missing));
        }
        (Err(missing), _) => format!("purge not known; not set: {}", lacks(missing)),
        (Ok(span), None) => spoken(*span, Time::Wait),
    };
    format!("{changes} · {purge}")
}

/// The share of the lower flammable limit.
#[must_use]
pub fn share(share: &Result<ShareOfLimit, Vec<Lacks>>) -> String {
    let share = match share {
        Ok(share) => share,
        Err(missing) => {
            return format!(
                "share of the lower flammable limit not known: not set: {}",
                lacks(missing)
            );
        }
    };
    let percent = share.share * 100.0;
    let percent = if percent < 1.0 { "under 1".to_owned() } else { format!("about {percent:.0}") };
    format!("{percent} % of the lower flammable limit at this rate: an estimate")
}

/// What that share was reckoned from.
#[must_use]
pub fn share_from(share: &ShareOfLimit, figures: Figures) -> String {
    let solvent = short(share.solvent_pct, 0);
    let solvent = if share.solvent_assumed {
        format!("{solvent} % counted as solvent, all that is not solids")
    } else {
        format!("{solvent} % solvent")
    };
    let source = share.source.as_deref().map_or_else(|| "origin not noted".into(), clean);
    format!(
        "{}, {solvent}, limit {} % by volume ({source})",
        figures.feed(share.spraying_ml_per_min),
        short(share.lel_pct, 2)
    )
}

/// A clock whose speed is drawn: its letter and its name.
#[must_use]
pub const fn clocked(clock: Clocked) -> (char, &'static str) {
    match clock {
        Clocked::Flash => ('f', "flash"),
        Clocked::PotLife => ('p', "pot life"),
        Clocked::NextLayer => ('n', "next layer"),
    }
}
