//! Facts: taken as they are told, so long as they name what this session has.

use super::figures::{count, hours};
use super::{Deciding, Events};
use crate::physics::rate::Rules;
use crate::session::command::Command;
use crate::session::event::{Event, Way};
use crate::session::gun::GunSetting;
use crate::session::hanging::join;
use crate::session::refusal::Refusal;
use crate::session::standing::{Gate, StepNow, StepStanding, Wanting};
use crate::work::film_fault::film_fault;
use crate::work::part::Part;
use crate::work::system::Step;

impl Deciding<'_> {
    pub(super) fn fact(&self, command: &Command) -> Events {
        let event = match command {
            Command::StepDone { step } => Event::StepDone { step: self.step(step)? },
            Command::HangPart { part } => Event::PartHung { part: self.part(part)? },
            Command::TakePartAway { part } => Event::PartAway { part: self.part(part)? },
            Command::JoinPart { part, is } => self.join_part(part, is)?,
            Command::PassCheck { layer, coat, check } => {
                Event::CheckPassed { layer: self.layer(*layer)?, coat: *coat, check: check.clone() }
            }
            Command::GoPast { hold, reason } => {
                Event::HoldOverridden { hold: hold.clone(), reason: *reason }
            }
            Command::SkipReading => Event::ReadingSkipped {},
            Command::CountMasks { way, number } => {
                return Ok(self.masks_counted(*way, count(*number)?));
            }
            Command::LeaveMasksUncounted { way } => return Ok(self.masks_not_counted(*way)),
            Command::SetFan { on } => Event::FanSet { on: *on },
            Command::SomeoneKnows => Event::SomeoneKnows {},
            Command::ReadCartridges { used_h } => Event::CartridgesRead { used_h: hours(*used_h)? },
            Command::Pause { why } => Event::Paused { why: why.clone() },
            Command::Resume => Event::Resumed {},
            Command::Note { text } => Event::Note { text: text.clone() },
            Command::NoteAbout { n, text } => {
                Event::EntryNoted { entry: self.entry(*n)?, text: text.clone() }
            }
            Command::SetGun(setting) => self.set_gun(setting)?,
            Command::ReadWetFilm { .. }
            | Command::ReadDryFilm { .. }
            | Command::AccountForPot { .. } => self.film_fact(command)?,
            Command::Slept { span } => Event::Slept { span_ms: *span },
            Command::WallClockSet { by } => Event::WallClockSet { by_ms: *by },
            Command::Restarted { away } => {
                Event::Restarted { away_ms: *away, rules: Rules::NOW.number() }
            }
            _ => match self.pot_fact(command)? {
                Some(event) => event,
                None => self.face_fact(command)?,
            },
        };
        Ok(vec![event])
    }

    /// A count answers the step that asks for it, where that is to be done; off the parts again only
    /// where as many came off as went on.
    fn masks_counted(&self, way: Way, number: u32) -> Vec<Event> {
        let agrees = match (way, self.session.state().masks.on) {
            (Way::Out, Some((on, _))) => on == number,
            _ => true,
        };
        let step = self.mask_step(way).filter(|_| agrees);
        let counted = Event::MasksCounted { way, number };
        step.map(|step| Event::StepDone { step }).into_iter().chain([counted]).collect()
    }

    /// Left uncounted, the step is done all the same.
    fn masks_not_counted(&self, way: Way) -> Vec<Event> {
        let step = self.mask_step(way).map(|step| Event::StepDone { step });
        step.into_iter().chain([Event::MasksNotCounted { way }]).collect()
    }

    /// The step that is to be done now and at which plugs and masks are counted.
    fn mask_step(&self, way: Way) -> Option<String> {
        let asked = if self.standing.layer.is_some() { Way::In } else { Way::Out };
        let state = self.session.state();
        let masks = |step: &&StepStanding| {
            step.now == StepNow::ToDo && state.step(&step.id).is_some_and(Step::counts_masks)
        };
        if way != asked {
            return None;
        }
        let step = self.standing.steps.iter().find(masks).map(|step| step.id.clone());
        step.or_else(|| self.masks_again())
    }

    /// The step of masks that have been on for too long.
    fn masks_again(&self) -> Option<String> {
        let gate = Gate::new(self.session, &self.standing, &self.watch);
        match gate.masks_again(self.standing.layer?)? {
            Wanting::Step { step, .. } => Some(step),
            _ => None,
        }
    }

    fn face_fact(&self, command: &Command) -> Result<Event, Refusal> {
        Ok(match command {
            Command::Dulled { face } => Event::Dulled { face: self.face(face)?.1 },
            Command::StillWet { face } => Event::StillWet { face: self.face(face)?.1 },
            Command::Wiped { faces } => Event::Wiped { faces: self.faces(faces)? },
            Command::Scuffed { faces } => Event::Scuffed { faces: self.faces(faces)? },
            Command::Sanded { faces } => Event::Sanded { faces: self.faces(faces)? },
            Command::Turned { face } => Event::Turned { face: self.face(face)?.1 },
            Command::WipedOff { face } => Event::CoatWipedOff { face: self.face(face)?.1 },
            Command::LeaveFace { face } => Event::FaceLeft { face: self.face(face)?.1 },
            Command::TakeFaceBack { face } => Event::FaceBack { face: self.face(face)?.1 },
            Command::StillSpraying { face } => Event::StillSpraying { face: self.face(face)?.1 },
            Command::SeeFault { face, fault } => self.see_fault(face, fault)?,
            Command::TouchedUp { face } => Event::TouchedUp { face: self.face(face)?.1 },
            Command::StopFace { face } => {
                let (number, face) = self.face(face)?;
                let (layer, coat) = self.coat_to_spray(number);
                Event::FaceStopped { face, layer, coat, pot: self.pot_for(layer) }
            }
            Command::SkipCoat { face } => {
                let (number, face) = self.face(face)?;
                Event::CoatSkipped { face, layer: self.coat_to_spray(number).0 }
            }
            Command::ExtraCoat { face } => {
                let (number, face) = self.face(face)?;
                let history = &self.session.state().faces[number];
                let layer = history.coats.last().map_or(1, |coat| coat.layer);
                Event::ExtraCoat { face, layer }
            }
            _ => return Err(Refusal::Nothing),
        })
    }

    /// A fault belongs to the coat being sprayed, else to the last one on.
    fn see_fault(&self, face: &str, fault: &str) -> Result<Event, Refusal> {
        let (number, face) = self.face(face)?;
        let fault = film_fault(fault).ok_or_else(|| not_there("fault", fault))?.id.to_owned();
        let history = &self.session.state().faces[number];
        let last = history.last_sprayed();
        let (layer, coat) = last.map_or((0, 0), |(on, nth)| (on.layer, nth));
        Ok(Event::FaultSeen {
            face,
            layer,
            coat,
            fault,
            pot: last.and_then(|(on, _)| on.pot.clone()),
        })
    }

    fn set_gun(&self, setting: &GunSetting) -> Result<Event, Refusal> {
        setting.check()?;
        let last = self.session.state().gun_cards.last();
        let last = last.map(|card| card.setting.clone()).unwrap_or_default();
        Ok(Event::GunSet(setting.clone().over(&last)))
    }

    fn part(&self, name: &str) -> Result<String, Refusal> {
        let known = self.session.state().work.parts.contains_key(name);
        known.then(|| name.to_owned()).ok_or_else(|| not_there("part", name))
    }

    fn join_part(&self, name: &str, is: &Part) -> Result<Event, Refusal> {
        let state = self.session.state();
        if state.work.parts.contains_key(name) {
            return Err(Refusal::InTheJob { part: name.to_owned() });
        }
        join(&mut state.work.clone(), self.session.plan(), name, is)?;
        Ok(Event::PartJoined { part: name.to_owned(), is: Box::new(is.clone()) })
    }

    fn entry(&self, n: u64) -> Result<u64, Refusal> {
        self.session.entry(n).map(|_| n).ok_or_else(|| not_there("entry", &n.to_string()))
    }

    pub(super) fn face(&self, id: &str) -> Result<(usize, String), Refusal> {
        let number = self.session.plan().index(id);
        number.map(|number| (number, id.to_owned())).ok_or_else(|| not_there("face", id))
    }

    fn faces(&self, ids: &[String]) -> Result<Vec<String>, Refusal> {
        ids.iter().map(|id| self.face(id).map(|(_, id)| id)).collect()
    }

    pub(super) fn layer(&self, layer: u32) -> Result<u32, Refusal> {
        let known = self.session.state().layer(layer).map(|_| layer);
        known.ok_or_else(|| not_there("layer", &layer.to_string()))
    }

    fn step(&self, id: &str) -> Result<String, Refusal> {
        let system = &self.session.state().work.system;
        let mut steps = system.layers.iter().flat_map(|layer| &layer.prep).chain(&system.close);
        steps.find(|step| step.id == id).map(|_| id.to_owned()).ok_or_else(|| not_there("step", id))
    }
}

pub(super) fn not_there(what: &'static str, name: &str) -> Refusal {
    Refusal::NotThere { what, name: name.to_owned() }
}
