//! What was done, in the past tense.

use boothside_core::material::recipe::Told;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::{Event, KeptFigure, Reason, Way};
use boothside_core::session::time::Span;

use super::Words;
use super::fault::fault_name;
use super::figure::short;
use super::time::{Time, spoken};
use crate::update::scene::Said;
use crate::view::text::clean;

/// An event in words: what, and of what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EventWords {
    /// What: 'coat 1 is on'.
    pub what: String,
    /// Of what: 'Rudder · left'; may be empty.
    pub of: String,
}

impl EventWords {
    /// Both in one: 'coat 1 is on: Rudder · left'.
    #[must_use]
    pub fn whole(&self) -> String {
        if self.of.is_empty() { self.what.clone() } else { format!("{}: {}", self.what, self.of) }
    }
}

/// How the last key's effect is taken back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Back {
    /// `u` takes it back.
    TakeBack,
    /// It took something back itself: the log restores that; `u` would take back what is older.
    Restore,
}

fn say(what: impl Into<String>, of: impl Into<String>) -> EventWords {
    EventWords { what: what.into(), of: of.into() }
}

/// What became of the session and its clocks.
fn clock_event(event: &Event) -> Option<EventWords> {
    Some(match event {
        Event::Slept { span_ms } => say("the machine slept", spoken(*span_ms, Time::Past)),
        Event::WallClockSet { by_ms } => say("the wall clock was set", moved(*by_ms)),
        Event::Restarted { away_ms, rules } if away_ms.ms() == 0 => {
            say(format!("goes on by the clock rules of this version, {rules}"), "")
        }
        Event::Restarted { away_ms, .. } => say("started anew after", spoken(*away_ms, Time::Past)),
        Event::Closed {} => say("session closed", ""),
        _ => return None,
    })
}

impl Words<'_> {
    /// An event.
    #[must_use]
    pub fn event(&self, event: &Event) -> EventWords {
        match event {
            Event::Opened(_) => say("session opened", self.job()),
            Event::Continued(from) => say("session goes on from", clean(&from.file)),
            Event::StepDone { step } => say("done", self.step(step)),
            Event::CheckPassed { layer, check, .. } => say("yes", self.check(*layer, check)),
            Event::Reading(reading) => say("reading", self.figures().reading(reading)),
            Event::ReadingBy { place, with } => {
                let parts = [place, with].into_iter().flatten().map(|text| clean(text));
                say("taken", parts.collect::<Vec<_>>().join(", with "))
            }
            Event::MasksCounted { way: Way::In, number } => {
                say("plugs and masks counted in", number.to_string())
            }
            Event::MasksCounted { way: Way::Out, number } => {
                say("plugs and masks counted out", number.to_string())
            }
            Event::MasksNotCounted { .. } => say("plugs and masks not counted", ""),
            Event::FanSet { on: true } => say("fan on again", ""),
            Event::FanSet { on: false } => say("fan off", ""),
            Event::SomeoneKnows {} => say("someone knows", "I spray alone, and when to look in"),
            Event::CartridgesRead { used_h } => {
                say("cartridges", format!("{} h behind them", short(*used_h, 1)))
            }
            Event::ReadingSkipped {} => say("no reading now", ""),
            Event::HoldOverridden { hold, reason } => {
                say("gone past", format!("{} ({})", self.broken(hold), reason_words(*reason)))
            }
            Event::FigureChanged { field, old, new, .. } => {
                let value = |value: f64| self.figure_value(field, value);
                let old = old.map_or_else(|| "not set".into(), value);
                say(
                    "figure mended",
                    format!("{}: {old} → {}", self.figure_name(field), value(*new)),
                )
            }
            Event::FiguresKept { fields } => {
                let one = |kept: &KeptFigure| self.figure_name(&kept.field);
                let of = fields.iter().map(one).collect::<Vec<_>>().join(", ");
                say("figures kept", of)
            }
            Event::Paused { why } => say("paused", clean(why)),
            Event::Resumed {} => say("work goes on", ""),
            Event::Note { text } => say("noted", clean(text)),
            Event::EntryNoted { entry, text } => {
                say(format!("noted about entry {entry}"), clean(text))
            }
            Event::GunSet(setting) => say("gun set", self.gun_setting(setting)),
            Event::Struck { entries } => self.struck(entries),
            Event::Retimed { entry, when_ms } => {
                let at = self.clock_to_the_second(*when_ms);
                say(format!("at {at}"), self.entries(&[*entry]))
            }
            _ => clock_event(event)
                .or_else(|| self.face_event(event))
                .unwrap_or_else(|| self.pot_event(event)),
        }
    }

    fn face_event(&self, event: &Event) -> Option<EventWords> {
        Some(match event {
            Event::FaceBegun { face, coat, .. } => {
                say(format!("coat {coat} begun"), self.face_of(face))
            }
            Event::FaceFinished { face, coat, .. } => {
                say(format!("coat {coat} is on"), self.face_of(face))
            }
            Event::RestFinished { faces, coat, .. } => {
                say(format!("rest of coat {coat} is on"), self.faces_of(faces))
            }
            Event::FaceStopped { face, coat, .. } => {
                say(format!("coat {coat} stopped part-way"), self.face_of(face))
            }
            Event::Dulled { face } => say("dulled", self.face_of(face)),
            Event::StillSpraying { face } => say("still being sprayed", self.face_of(face)),
            Event::FaultSeen { face, coat, fault, .. } => {
                let of = match coat {
                    0 => format!("{}, before any coat", self.face_of(face)),
                    coat => format!("{}, coat {coat}", self.face_of(face)),
                };
                say(format!("seen: {}", fault_name(fault)), of)
            }
            Event::FilmRead { .. } | Event::DryFilmRead { .. } => return self.film_event(event),
            Event::PartHung { part } => say("hangs", self.part(part)),
            Event::PartAway { part } => say("taken away", self.part(part)),
            Event::PartJoined { is, .. } => say("joined", clean(&is.name)),
            Event::FaceLeft { face } => say("left out", self.face_of(face)),
            Event::FaceBack { face } => say("taken in again", self.face_of(face)),
            Event::StillWet { face } => say("still wet", self.face_of(face)),
            Event::Wiped { faces } => say("wiped", self.faces_of(faces)),
            Event::Scuffed { faces } => say("scuffed", self.faces_of(faces)),
            Event::Sanded { faces } => say("sanded", self.faces_of(faces)),
            Event::Turned { face } => say("turned over", self.face_of(face)),
            Event::CoatSkipped { face, .. } => say("coat skipped", self.face_of(face)),
            Event::CoatWipedOff { face } => say("coat wiped off", self.face_of(face)),
            Event::ExtraCoat { face, .. } => say("extra coat to come", self.face_of(face)),
            Event::TouchedUp { face } => say("touched up", self.face_of(face)),
            _ => return None,
        })
    }

    fn pot_event(&self, event: &Event) -> EventWords {
        let volume = |ml: &Option<f64>| ml.map_or_else(String::new, |ml| self.figures().volume(ml));
        match event {
            Event::PotMixed { pot, amount_ml, .. } => {
                say(format!("{} is mixed", self.pot(pot)), volume(amount_ml))
            }
            Event::PotToppedUp { pot, amount_ml, .. } => {
                say(format!("{} topped up", self.pot(pot)), volume(amount_ml))
            }
            Event::PotPlanned { pot, wanted_ml, wanted_g, .. } => {
                let wanted = wanted_ml.map(|ml| self.figures().volume(ml));
                let wanted = wanted.or_else(|| wanted_g.map(|g| self.figures().mass(g)));
                say(format!("{} to be poured", self.pot(pot)), wanted.unwrap_or_default())
            }
            Event::Poured { pot, component, poured_g, poured_ml, can, .. } => {
                let told = Told { g: *poured_g, ml: *poured_ml };
                let amount = self.figures().poured(told);
                let from = can.as_ref().map(|can| format!(", from {}", self.can(can)));
                let into = format!("into {}{}", self.pot(pot), from.unwrap_or_default());
                say(format!("{amount} {}", clean(component)), into)
            }
            Event::LotsTold { pot, lots, .. } => {
                let lots: Vec<String> = lots
                    .iter()
                    .map(|lot| clean(&format!("{} {}", lot.component, lot.lot)))
                    .collect();
                say(format!("lots in {}", self.pot(pot)), lots.join(", "))
            }
            Event::FlowCup { pot, cup, seconds } => {
                say(format!("{} s in {}", short(*seconds, 1), clean(cup)), self.pot(pot))
            }
            Event::PotWeighed { pot, left_ml } => {
                say(format!("left in {}", self.pot(pot)), self.figures().volume(*left_ml))
            }
            Event::PotReturned { pot, returned_ml, can, .. } => {
                let can = can.as_ref().map_or_else(|| "the can".into(), |can| self.can(can));
                let what = format!("back to {can} from {}", self.pot(pot));
                say(what, self.figures().volume(*returned_ml))
            }
            Event::PotEmptied { pot } => say(format!("{} emptied", self.pot(pot)), ""),
            Event::PotAccounted { pot, coat, weighing } => self.weighed(pot, *coat, weighing),
            Event::StockSeen { cans } => {
                let names: Vec<String> = cans.iter().map(|seen| clean(&seen.name)).collect();
                let names = if names.is_empty() { "none".into() } else { names.join("; ") };
                say("cans on the shelf", names)
            }
            Event::CanPicked { component, can, .. } => {
                let can = can.as_ref().map_or_else(
                    || "one that is not on the shelf".into(),
                    |can| self.can_with_lot(can),
                );
                say(format!("can of {}", clean(component)), can)
            }
            Event::LeftoverAside { pot } => {
                say(format!("leftover of {} put aside, open", self.pot(pot)), "")
            }
            Event::CupFilled { pot } => say("cup filled", self.pot(pot)),
            Event::GunCleaned {} => say("gun cleaned", ""),
            // every other event has its words above
            _ => say("told", ""),
        }
    }

    /// How the last key's effect is taken back, where it can be.
    #[must_use]
    pub fn way_back(&self, said: &Said) -> Option<Back> {
        let strikes = said.events.iter().any(|event| matches!(event, Event::Struck { .. }));
        match (strikes, said.can_take_back) {
            (true, _) => Some(Back::Restore),
            (false, can) => can.then_some(Back::TakeBack),
        }
    }

    /// Striking: what it took back; restored, where it struck a strike, and so on inward.
    fn struck(&self, entries: &[u64]) -> EventWords {
        let (mut of, mut back) = (entries.to_vec(), true);
        loop {
            // a strike reaches only what was before it, so this comes to an end
            let entries = of.iter().filter_map(|n| self.session.entry(*n));
            let inner: Vec<u64> = entries.flat_map(struck_before).collect();
            if inner.is_empty() {
                break;
            }
            (of, back) = (inner, !back);
        }
        say(if back { "taken back" } else { "restored" }, self.entries(&of))
    }

    /// What entries told, joined.
    #[must_use]
    pub fn entries(&self, numbers: &[u64]) -> String {
        let found = numbers.iter().filter_map(|n| self.session.entry(*n));
        let told = found.flat_map(|entry| &entry.events).map(|event| match event {
            // what is about other entries is not followed from here: a file may lead in circles
            Event::Struck { .. } => "something taken back".to_owned(),
            Event::Retimed { .. } => "a time set".to_owned(),
            event => self.event(event).whole(),
        });
        told.collect::<Vec<_>>().join("; ")
    }

    /// Several events, joined.
    #[must_use]
    pub fn events(&self, events: &[Event]) -> String {
        let told: Vec<String> = events.iter().map(|event| self.event(event).whole()).collect();
        told.join("; ")
    }
}

/// The entries before it that an entry struck.
fn struck_before(entry: &Entry) -> Vec<u64> {
    let struck = entry.events.iter().filter_map(|event| match event {
        Event::Struck { entries } => Some(entries),
        _ => None,
    });
    struck.flatten().copied().filter(|n| *n < entry.n).collect()
}

/// By how much, and which way.
#[must_use]
pub fn moved(by: Span) -> String {
    let way = if by.ms() < 0 { "back" } else { "ahead" };
    format!("{} {way}", spoken(by, Time::Past))
}

/// Why the painter goes on past a hold.
#[must_use]
pub const fn reason_words(reason: Reason) -> &'static str {
    match reason {
        Reason::SheetAllows => "the sheet allows it",
        Reason::Tried => "tried on a test panel",
        Reason::FigureWrong => "the figure or clock here is wrong",
        Reason::Repair => "a repair or touch-up",
        Reason::OwnDecision => "my own decision",
    }
}
