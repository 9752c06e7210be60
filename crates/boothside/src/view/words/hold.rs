//! Holds: what speaks against it, the figure, and how to clear it.

use boothside_core::session::clocks::DueAt;
use boothside_core::session::standing::{AirLimit, Hold, OpenedCold, PotWhy, Wanting};
use boothside_core::session::time::Moment;

use super::Words;
use super::figure::short;
use super::time::Time;
use crate::view::text::clean;

/// One hold in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoldWords {
    /// What speaks against it, with its figure.
    pub what: String,
    /// How to clear it.
    pub clear: String,
}

fn say(what: impl Into<String>, clear: impl Into<String>) -> HoldWords {
    HoldWords { what: what.into(), clear: clear.into() }
}

fn masks(counted_in: u32, counted_out: Option<u32>) -> HoldWords {
    let out = counted_out
        .map_or_else(|| "none counted out".to_owned(), |number| format!("{number} counted out"));
    let what = format!("plugs and masks: {counted_in} counted in, {out}");
    say(what, "find them all, then count them on 3")
}

impl Words<'_> {
    /// A hold.
    #[must_use]
    pub fn hold(&self, hold: &Hold) -> HoldWords {
        match hold {
            Hold::Wanting(wanting) => self.wanting(wanting),
            Hold::TooEarly { face, until } => {
                let until = self.running(*until);
                say(format!("too early: {}{until}", self.face_of(face)), "wait")
            }
            Hold::OpenedCold { cold, .. } => self.opened_cold(cold.as_ref()),
            Hold::LookFirst { face }
            | Hold::WipeFirst { face }
            | Hold::SandFirst { face }
            | Hold::NotTurned { face }
            | Hold::Away { face }
            | Hold::Left { face }
            | Hold::AllOn { face } => self.face_hold(hold, face),
            Hold::LayerBefore { layer } => {
                say(format!("{} is not on every face", self.layer(*layer)), "spray it first")
            }
            Hold::PotShort { pot } => {
                say(format!("{} does not do the coats ahead", self.pot(pot)), "mix the next pot")
            }
            Hold::CleanGun { pot } => {
                say(format!("{} is still in the gun", self.pot(pot)), "clean the gun")
            }
            Hold::Leftover { pot } => {
                say(format!("leftover of {} stands open", self.pot(pot)), "put it aside, open")
            }
            Hold::CoatsLeft => say("coats are still to come", "spray them first"),
            Hold::CureRuns { until } => {
                say(format!("the cure is not over{}", self.running(until.map(DueAt::At))), "wait")
            }
            Hold::StopAndClean { pot } | Hold::PotDead { pot } | Hold::OutOfRatio { pot } => {
                self.pot_hold(hold, pot)
            }
            Hold::CanPast { can } => {
                let what = format!("past its date: {}", self.can_with_lot(can));
                say(what, "past the maker's date; take another can")
            }
            Hold::Air { limit, outside, .. } => {
                let what = outside.map_or_else(
                    || limit_word(*limit).to_owned(),
                    |outside| self.out_of_limits(&outside),
                );
                say(what, change_air(*limit))
            }
            Hold::Cartridges { used_h, change_h } => {
                let hours = format!("at least {} of {} h", short(*used_h, 1), short(*change_h, 1));
                say(format!("cartridges: {hours}"), "change them, then enter their hours on 3")
            }
            Hold::Masks { counted_in, counted_out } => masks(*counted_in, *counted_out),
        }
    }

    fn opened_cold(&self, cold: Option<&OpenedCold>) -> HoldWords {
        let figures = self.figures();
        let what = cold.map_or_else(
            || "opened in air colder than the sheet allows".to_owned(),
            |cold| {
                let [was, stated, least] = [cold.was_c, cold.stated_c, cold.least_c]
                    .map(|celsius| figures.stated_temperature(celsius));
                format!("the earliest coat is stated at {stated}; it was {was}, the sheet says {least} or more")
            },
        );
        say(what, "warm it and wait longer, then read again")
    }

    fn face_hold(&self, hold: &Hold, face: &str) -> HoldWords {
        let name = self.face_of(face);
        match hold {
            Hold::LookFirst { .. } => {
                say(format!("{name} has not been looked at"), "look; d dulled, w still wet")
            }
            Hold::WipeFirst { .. } => say(format!("{name} must be wiped first"), "wipe it, then o"),
            Hold::SandFirst { .. } => {
                say(format!("{name} must be sanded first"), "sand it, then o")
            }
            Hold::NotTurned { .. } => say(format!("{name} is not turned over"), "turn it, then o"),
            Hold::Away { .. } => say(format!("{name} does not hang here"), "hang it, then h"),
            Hold::Left { .. } => say(format!("{name} is left out"), "to take it in again: h"),
            _ => say(format!("{name} has all its coats"), "an extra coat: o"),
        }
    }

    fn pot_hold(&self, hold: &Hold, pot: &str) -> HoldWords {
        let name = self.pot(pot);
        match hold {
            Hold::PotDead { .. } => {
                let dead = self.pot_edge(pot, "since", |pot| pot.dead.and_then(|due| due.moment()));
                say(format!("{name} is dead{dead}"), "clean the gun, then mix a pot: m")
            }
            Hold::OutOfRatio { .. } => {
                say(format!("{name} is out of the sheet's ratio"), "what to add: 2")
            }
            _ => {
                let at = self.pot_edge(pot, "last trigger was", |pot| pot.last_trigger);
                say(
                    format!("{name} is past its last trigger{at}"),
                    "clean the gun, then mix a pot: m",
                )
            }
        }
    }

    fn pot_edge(
        &self,
        id: &str,
        before: &str,
        edge: impl Fn(&boothside_core::session::standing::PotStanding) -> Option<Moment>,
    ) -> String {
        let row = self.board.pots.iter().find(|row| row.at.id == id);
        let at = row.and_then(|row| edge(&row.at));
        let comma = if before == "since" { "" } else { "," };
        at.map_or_else(String::new, |at| {
            format!("{comma} {before} {}", self.clock(at, Time::Limit))
        })
    }

    fn wanting(&self, wanting: &Wanting) -> HoldWords {
        match wanting {
            Wanting::Step { step, again: false } => {
                say(format!("not done: {}", self.step(step)), "do it")
            }
            Wanting::Step { step, again: true } => {
                say(format!("{} too long ago", self.step(step)), "do it again")
            }
            Wanting::StepNotYet { step, until } => {
                let until = self.running(until.map(DueAt::At));
                say(format!("too early{until}: {}", self.step(step)), "wait")
            }
            Wanting::StepWait { step, until } => {
                say(format!("{}: its wait runs{}", self.step(step), self.running(*until)), "wait")
            }
            Wanting::Check { layer, check, .. } => say(
                format!("not answered: {}?", self.check(*layer, check)),
                "check it, then Enter on 3",
            ),
            Wanting::Reading => say("no reading of the last hour", "take one: a"),
            Wanting::SomeoneKnows => say("nobody knows that I spray alone", "tell someone"),
            Wanting::Masks => say("plugs and masks not counted", "count them"),
            Wanting::Pot { layer, .. } => {
                say(format!("no pot is mixed for {}", self.layer(*layer)), "mix one: m")
            }
            Wanting::Pour { pot, component } => {
                let what = format!("{} still lacks {}", self.pot(pot), clean(component));
                say(what, "pour it (how much: 2)")
            }
            Wanting::Stir { pot } => say(format!("{} is not stirred", self.pot(pot)), "stir it"),
            Wanting::Stand { pot, until } => {
                say(format!("{} stands{}", self.pot(pot), self.running(*until)), "wait")
            }
        }
    }

    /// ' until 10:49, 6:44 left', or why it never comes.
    fn running(&self, until: Option<DueAt>) -> String {
        match until {
            Some(DueAt::At(at)) if at > self.now() => {
                format!(
                    " until {}, {} left",
                    self.clock(at, Time::Wait),
                    self.left_until(at, Time::Wait)
                )
            }
            Some(DueAt::At(_)) | None => String::new(),
            Some(DueAt::Never(because)) => format!(", {}", self.never(because)),
        }
    }

    /// A rule that was broken or gone past, from the text form that the log keeps.
    #[must_use]
    pub fn broken(&self, text: &str) -> String {
        if let Some(text) = self.broken_of_pot(text) {
            return text;
        }
        match text {
            "cartridges" => "cartridges past their hours".into(),
            "masks-out" => "plugs and masks not counted out as counted in".into(),
            _ => parse(text).map_or_else(|| clean(text), |hold| self.hold(&hold).what),
        }
    }

    /// A rule that a fact of a pot breaks.
    fn broken_of_pot(&self, text: &str) -> Option<String> {
        let (key, rest) = text.split_once(' ')?;
        Some(match key {
            "returned-more" => format!("more went back than was left in {}", self.pot(rest)),
            "returned-reacted" => {
                format!("activator is in {}: it may not go back to a can", self.pot(rest))
            }
            "handle" => format!("{} was not fit to handle yet", self.face_of(rest)),
            "quick" => format!("on the gun for less than 3 s: {}", self.face_of(rest)),
            "thinned-late" => format!(
                "{} is past half its life: never thin a pot that is setting",
                self.pot(rest)
            ),
            "can-empty" => {
                format!("more was poured from {} than was in it: count it", self.can(rest))
            }
            "lot-past" => format!("past its date: lot {}", clean(rest)),
            _ => return None,
        })
    }
}

/// A limit of air, part or paint that was passed, where by how much is not told.
const fn limit_word(limit: AirLimit) -> &'static str {
    match limit {
        AirLimit::Cold => "too cold for the sheet",
        AirLimit::Warm => "too warm for the sheet",
        AirLimit::Dry => "too dry for the sheet",
        AirLimit::Humid => "too humid for the sheet",
        AirLimit::DewPoint => "too near to the dew point",
        AirLimit::DewTrend => "the margin over the dew point goes before the coat dulls",
        AirLimit::PaintCold => "paint too cold for the sheet",
        AirLimit::PaintWarm => "paint too warm for the sheet",
    }
}

/// What to do about it.
pub(super) const fn change_air(limit: AirLimit) -> &'static str {
    match limit {
        AirLimit::Cold => "warm air and part, then read again",
        AirLimit::Warm => "cool air and part, then read again",
        AirLimit::Dry => "moisten the air, then read again",
        AirLimit::Humid => "dry or warm the air, then read again",
        AirLimit::DewPoint | AirLimit::DewTrend => "warm the part or dry the air, then read again",
        AirLimit::PaintCold => "warm the paint, then read again",
        AirLimit::PaintWarm => "cool the paint, then read again",
    }
}

/// The hold that a text form tells; its moments are not in it.
fn parse(text: &str) -> Option<Hold> {
    let (key, rest) = text.split_once(' ').unwrap_or((text, ""));
    let name = rest.to_owned();
    if let Some(limit) = AirLimit::of_key(key) {
        return Some(Hold::Air { layer: rest.parse().ok()?, limit, outside: None });
    }
    Some(match key {
        "too-early" => Hold::TooEarly { face: name, until: None },
        "opened-cold" => {
            let (layer, coat) = rest.split_once('.')?;
            Hold::OpenedCold { layer: layer.parse().ok()?, coat: coat.parse().ok()?, cold: None }
        }
        "look" => Hold::LookFirst { face: name },
        "wipe" => Hold::WipeFirst { face: name },
        "sand" => Hold::SandFirst { face: name },
        "turn" => Hold::NotTurned { face: name },
        "away" => Hold::Away { face: name },
        "left" => Hold::Left { face: name },
        "all-on" => Hold::AllOn { face: name },
        "layer" => Hold::LayerBefore { layer: rest.parse().ok()? },
        "coats-left" => Hold::CoatsLeft,
        "cure" => Hold::CureRuns { until: None },
        "stop-and-clean" => Hold::StopAndClean { pot: name },
        "dead" => Hold::PotDead { pot: name },
        "pot-short" => Hold::PotShort { pot: name },
        "clean" => Hold::CleanGun { pot: name },
        "leftover" => Hold::Leftover { pot: name },
        "ratio" => Hold::OutOfRatio { pot: name },
        "can-past" => Hold::CanPast { can: name },
        _ => Hold::Wanting(parse_wanting(key, rest)?),
    })
}

fn parse_wanting(key: &str, rest: &str) -> Option<Wanting> {
    let name = rest.to_owned();
    Some(match key {
        "step" => Wanting::Step { step: name, again: false },
        "early" => Wanting::StepNotYet { step: name, until: None },
        "wait" => Wanting::StepWait { step: name, until: None },
        "reading" => Wanting::Reading,
        "someone" => Wanting::SomeoneKnows,
        "masks-in" => Wanting::Masks,
        "pot" => Wanting::Pot { layer: rest.parse().ok()?, why: PotWhy::None },
        "stand" => Wanting::Stand { pot: name, until: None },
        "stir" => Wanting::Stir { pot: name },
        "pour" => {
            let (pot, component) = rest.split_once(' ')?;
            Wanting::Pour { pot: pot.to_owned(), component: component.to_owned() }
        }
        "check" => {
            let (place, check) = rest.split_once(' ')?;
            let (layer, coat) = place.split_once('.')?;
            let (layer, coat) = (layer.parse().ok()?, coat.parse().ok()?);
            Wanting::Check { layer, coat, check: check.to_owned() }
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_text_form_of_every_hold_is_understood() {
        let (face, pot) = (|| "fin-left".to_owned(), || "A".to_owned());
        let air = AirLimit::ALL.map(|limit| Hold::Air { layer: 2, limit, outside: None });
        for hold in air {
            assert_eq!(parse(&hold.to_string()), Some(hold));
        }
        let holds = [
            Hold::TooEarly { face: face(), until: None },
            Hold::OpenedCold { layer: 2, coat: 3, cold: None },
            Hold::LookFirst { face: face() },
            Hold::WipeFirst { face: face() },
            Hold::SandFirst { face: face() },
            Hold::NotTurned { face: face() },
            Hold::Away { face: face() },
            Hold::Left { face: face() },
            Hold::AllOn { face: face() },
            Hold::LayerBefore { layer: 2 },
            Hold::CoatsLeft,
            Hold::CureRuns { until: None },
            Hold::StopAndClean { pot: pot() },
            Hold::PotDead { pot: pot() },
            Hold::OutOfRatio { pot: pot() },
            Hold::CanPast { can: "grey-base-1".into() },
            Hold::Wanting(Wanting::Pour { pot: pot(), component: "Base, grey".into() }),
            Hold::Wanting(Wanting::Stir { pot: pot() }),
            Hold::Wanting(Wanting::Step { step: "mask".into(), again: false }),
            Hold::Wanting(Wanting::StepNotYet { step: "mask".into(), until: None }),
            Hold::Wanting(Wanting::StepWait { step: "mask".into(), until: None }),
            Hold::Wanting(Wanting::Check { layer: 1, coat: 2, check: "fan".into() }),
            Hold::Wanting(Wanting::Reading),
            Hold::Wanting(Wanting::Pot { layer: 1, why: PotWhy::None }),
            Hold::Wanting(Wanting::Stand { pot: pot(), until: None }),
        ];
        for hold in holds {
            assert_eq!(parse(&hold.to_string()), Some(hold));
        }
        assert_eq!(parse("something else"), None);
    }
}
