//! Questions beside the clocks: one digit answers, any other key leaves the question.

use boothside_core::session::command::Command;

use super::{Desk, Effect, Now, Pressed};
use crate::update::scene::{
    Asking, Intention, LOCKS_KEYS, OTHER_FACTS, OtherFact, PAUSES, POT_FACTS, PauseWhy, REASONS,
};

impl Desk {
    /// Takes `key` as the answer to the question asked. Nothing where none is asked, or where the
    /// key is no answer and goes its usual way.
    pub(super) fn answer(&mut self, key: Pressed, now: &Now<'_>) -> Option<Vec<Effect>> {
        if self.asking.is_none() {
            return self.answer_forgotten(key, now).or_else(|| self.answer_offer(key, now));
        }
        let asking = self.asking.take()?;
        let digit = match key {
            Pressed::Char(c) => c.to_digit(10),
            Pressed::Esc | Pressed::Enter | Pressed::Backspace => return Some(Vec::new()),
            _ => None,
        };
        if asking == Asking::PauseWhy && digit == Some(LOCKS_KEYS) {
            return Some(self.lock_keys());
        }
        let choice = (digit? as usize).checked_sub(1);
        let effects = choice.and_then(|choice| match &asking {
            Asking::Holds { intention, holds } => {
                let reason = *REASONS.get(choice)?;
                self.held = holds.iter().map(ToString::to_string).collect();
                let command = match intention {
                    Intention::Begin { face } => {
                        Command::BeginCoat { face: face.clone(), past: Some(reason) }
                    }
                    Intention::Close => Command::Close { past: Some(reason) },
                    Intention::GoOn => Command::GoPast { hold: holds.first()?.to_string(), reason },
                };
                Some(self.tell(&command, None, now))
            }
            Asking::OtherFacts { face } => {
                let fact = *OTHER_FACTS.get(choice)?;
                Some(self.other_fact(fact, *face, now))
            }
            Asking::TakeBackOld { .. } => {
                (choice == 0).then(|| self.tell(&Command::TakeBack, None, now))
            }
            Asking::PauseWhy => {
                let why = pause_word(*PAUSES.get(choice)?).to_owned();
                Some(self.tell(&Command::Pause { why }, None, now))
            }
            Asking::Entry { n, choices } => Some(self.do_with_entry(*n, choices.get(choice)?, now)),
            Asking::Film { face } => self.answer_film(choice, *face, now),
            Asking::Pot => Some(self.pot_fact(*POT_FACTS.get(choice)?, now)),
        });
        if effects.is_none() {
            // a digit that is no answer: the question stays
            self.asking = Some(asking);
        }
        Some(effects.unwrap_or_default())
    }

    fn other_fact(&mut self, fact: OtherFact, face: usize, now: &Now<'_>) -> Vec<Effect> {
        let face = self.face_id(face);
        let faces = || vec![face.clone()];
        let command = match fact {
            OtherFact::Skipped => Command::SkipCoat { face },
            OtherFact::WipedOff => Command::WipedOff { face },
            OtherFact::ExtraCoat => Command::ExtraCoat { face },
            OtherFact::TouchedUp => Command::TouchedUp { face },
            OtherFact::Wiped => Command::Wiped { faces: faces() },
            OtherFact::Scuffed => Command::Scuffed { faces: faces() },
            OtherFact::Sanded => Command::Sanded { faces: faces() },
            OtherFact::Turned => Command::Turned { face },
        };
        self.chosen = None;
        self.tell(&command, None, now)
    }
}

/// The word that the log keeps of an interruption.
const fn pause_word(why: PauseWhy) -> &'static str {
    match why {
        PauseWhy::Called => "called away",
        PauseWhy::Break => "break",
        PauseWhy::Equipment => "trouble with gun, hose or air",
        PauseWhy::Fault => "something wrong with the finish",
        PauseWhy::Air => "the air is not fit",
    }
}
