//! The ready screen: a line chosen, answered, overridden.

use boothside_core::board::{Clears, Item, Next, ReadyLine, ReadyNow};
use boothside_core::session::command::Command;
use boothside_core::session::event::Way;
use boothside_core::session::standing::{Hold, Wanting};

use super::{Desk, Effect, Now};
use crate::forms::FormKind;
use crate::update::scene::{Asking, Intention, Screen};

impl Desk {
    /// Shows Ready, with the first line that wants something chosen.
    pub(super) fn show_ready(&mut self) -> Vec<Effect> {
        if self.screen != Screen::Ready {
            self.ready_line = None;
        }
        self.show(Screen::Ready)
    }

    /// The chosen line's number; without a choice the one that SPACE speaks of, else the first that a
    /// key answers, else the first hold, else the first line.
    pub(super) fn line_on_ready(&self) -> Option<usize> {
        let lines = &self.board.ready;
        let chosen = self.ready_line.as_ref();
        let at = |wanted: &dyn Fn(&ReadyLine) -> bool| lines.iter().position(wanted);
        chosen
            .and_then(|id| at(&|line| line.id == *id))
            .or_else(|| at(&|line| is_next(line, &self.board.next)))
            .or_else(|| at(&|line| matches!(line.clears, Clears::Answer | Clears::Step)))
            .or_else(|| at(&|line| line.now == ReadyNow::Hold))
            .or_else(|| (!lines.is_empty()).then_some(0))
    }

    pub(super) fn choose_line(&mut self, by: isize) -> Vec<Effect> {
        let last = self.board.ready.len().saturating_sub(1);
        let at = self.line_on_ready().unwrap_or(0).saturating_add_signed(by).min(last);
        self.ready_line = self.board.ready.get(at).map(|line| line.id.clone());
        Vec::new()
    }

    /// Enter: does what clears the line, or asks why to go past what it holds.
    pub(super) fn act_on_line(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let line = self.line_on_ready().and_then(|at| self.board.ready.get(at)).cloned();
        let Some(line) = line else { return Vec::new() };
        let next = self.ready_line.is_none();
        // an answered line stays chosen only where it was chosen by hand
        if !next {
            self.ready_line = Some(line.id.clone());
        }
        match &line.clears {
            Clears::Nothing => self.say("nothing to clear here", now),
            Clears::Answer | Clears::Step | Clears::Wipe | Clears::Sand => {
                self.tell_line(&line, now)
            }
            Clears::Wait { .. } | Clears::ChangeAir | Clears::WaitLonger | Clears::CanPast => {
                self.past_line(&line, now)
            }
            Clears::BeSooner => self.say("nothing to pass here: be sooner than stated", now),
            Clears::PickCan => match &line.item {
                Item::Can(ahead) => self.open_cans(Some(ahead.component), now),
                _ => Vec::new(),
            },
            Clears::Reading => self.open_form(FormKind::Reading, now),
            Clears::Mix => self.open_form(FormKind::Pot, now),
            Clears::Pour => self.show(Screen::Mix),
            Clears::CleanAndMix => self.ask(Asking::Pot),
            Clears::Count(Way::In) => self.open_form(FormKind::CountIn, now),
            Clears::Count(Way::Out) => self.open_form(FormKind::CountOut, now),
            Clears::Hours | Clears::ChangeCartridges => self.open_form(FormKind::Cartridges, now),
            Clears::Figure => self.open_form(FormKind::Figure, now),
            Clears::SafetySheet => {
                self.say("no key clears it: the safety data sheet and local codes say how", now)
            }
        }
    }

    fn tell_line(&mut self, line: &ReadyLine, now: &Now<'_>) -> Vec<Effect> {
        let ids = |faces: &[usize]| faces.iter().map(|face| self.face_id(*face)).collect();
        let command = match (&line.item, &line.clears) {
            (Item::Check { layer, coat, check }, _) => {
                Command::PassCheck { layer: *layer, coat: *coat, check: check.clone() }
            }
            (Item::SomeoneKnows, _) => Command::SomeoneKnows,
            (Item::Step { step, .. }, _) => Command::StepDone { step: step.clone() },
            (Item::Windows { wipe, .. }, Clears::Wipe) => Command::Wiped { faces: ids(wipe) },
            (Item::Windows { sand, .. }, _) => Command::Sanded { faces: ids(sand) },
            _ => return Vec::new(),
        };
        self.tell(&command, None, now)
    }

    /// Asks why to go past what the line holds, where that can be said beforehand: a wait, the air.
    fn past_line(&mut self, line: &ReadyLine, now: &Now<'_>) -> Vec<Effect> {
        if line.overridden.is_some() {
            return self.say("gone past already; u takes the last key back", now);
        }
        let beforehand = |hold: &&Hold| {
            let waits = |wanting: &Wanting| {
                matches!(
                    wanting,
                    Wanting::Stand { .. } | Wanting::StepWait { .. } | Wanting::StepNotYet { .. }
                )
            };
            matches!(hold, Hold::Air { .. } | Hold::OpenedCold { .. } | Hold::CanPast { .. })
                || matches!(hold, Hold::Wanting(wanting) if waits(wanting))
        };
        match line.hold.as_ref().filter(beforehand) {
            Some(hold) => {
                let holds = vec![hold.clone()];
                self.ask(Asking::Holds { intention: Intention::GoOn, holds })
            }
            None => self.say("nothing to pass here; you will be asked when the coat begins", now),
        }
    }
}

/// Whether SPACE speaks of this line.
fn is_next(line: &ReadyLine, next: &Next) -> bool {
    match (&line.item, next) {
        (Item::Check { check, .. }, Next::Check { check: next, .. }) => check == next,
        (Item::Step { step, .. }, Next::Step { step: next, .. }) => step == next,
        (Item::SomeoneKnows, Next::SomeoneKnows)
        | (Item::ReadingAge { .. }, Next::Reading { .. })
        | (Item::Pot { .. }, Next::MixPot { .. }) => true,
        (Item::Windows { .. }, Next::Wipe { .. } | Next::Sand { .. }) => true,
        _ => false,
    }
}
