//! What SPACE does, in plain words.

use boothside_core::board::{Next, Waited};
use boothside_core::session::clocks::DueAt;
use boothside_core::session::standing::PotNow;

use super::Words;
use super::state::cure_reached;
use super::time::Time;

impl Words<'_> {
    /// What SPACE does when `next` comes next.
    #[must_use]
    pub fn next(&self, next: &Next) -> String {
        match next {
            Next::CoatOn { face, coat, .. } => format!("coat {coat} is on: {}", self.face(*face)),
            Next::CleanGun { pot } => format!("gun cleaned: {}", self.why_clean(pot)),
            Next::Dulled { face } => format!("it has dulled: {}", self.face(*face)),
            Next::BeginCoat { face, coat, .. } => {
                format!("begin coat {coat}: {}", self.face(*face))
            }
            Next::Step { step, again: false } => format!("done: {}", self.step_on(step)),
            Next::Step { step, again: true } => {
                format!("done again after the break: {}", self.step(step))
            }
            Next::Check { layer, check, .. } => format!("it is so: {}", self.check(*layer, check)),
            Next::Reading => "a reading of air and surface".into(),
            Next::MixPot { amount_ml: Some(ml), .. } => {
                format!("{} is mixed: {}", self.next_pot(), self.figures().volume(*ml))
            }
            Next::MixPot { .. } => format!("{} is mixed", self.next_pot()),
            Next::Pour { layer, component, shows, .. } => {
                format!("poured: {}", self.pour(*layer, *component, *shows))
            }
            Next::Stir { pot, amount_ml, .. } => {
                let amount = amount_ml.map(|ml| format!(": {}", self.figures().volume(ml)));
                format!("{} is stirred{}", self.pot(pot), amount.unwrap_or_default())
            }
            Next::Wipe { faces } => format!("wiped: {}", self.faces(faces)),
            Next::Sand { faces } => format!("sanded: {}", self.faces(faces)),
            Next::Turn { face } => format!("turned up: {}", self.face(*face)),
            Next::Close => "close the session: every coat is on and cured".into(),
            Next::Wait { what, until } => self.wait(what, *until),
            Next::Over => "nothing more: the session is closed".into(),
        }
    }

    fn why_clean(&self, pot: &str) -> String {
        let name = self.pot(pot);
        let row = self.board.pots.iter().find(|row| row.at.id == pot);
        match row.map(|row| row.at.now) {
            Some(PotNow::StopAndClean) => format!("{name} is past its last trigger"),
            Some(PotNow::Dead) => format!("{name} is dead"),
            _ => format!("no coat of {name} is still to come"),
        }
    }

    /// What is waited for and until when: 'waits until 10:49: Fin · left dulls'.
    #[must_use]
    pub fn wait(&self, what: &Waited, until: Option<DueAt>) -> String {
        let waited = self.waited(what);
        match until {
            Some(DueAt::At(moment)) => {
                format!("waits until {}: {waited}", self.clock(moment, Time::Wait))
            }
            Some(DueAt::Never(because)) => format!("waits: {waited}; {}", self.never(because)),
            None => format!("waits: {waited}"),
        }
    }

    /// What a clock is waited for, as a clause.
    #[must_use]
    pub fn waited(&self, what: &Waited) -> String {
        match what {
            Waited::Look { face } => format!("{} dulls", self.face(*face)),
            Waited::Opens { face } => {
                format!("{} may take {}", self.face(*face), self.coat_to_come(*face))
            }
            Waited::WipeDry { face } => format!("the wipe on {} is dry", self.face(*face)),
            Waited::Closes { face } => format!("the window of {} closes", self.face(*face)),
            Waited::OnTheGun { face } => format!("{} is on the gun", self.face(*face)),
            Waited::Condensing => {
                "water condenses on the part; a reads again, Enter goes on".into()
            }
            Waited::ToHang { .. } => "a part hangs in the booth; h tells it".into(),
            Waited::Away { face } => {
                format!("{} comes to hang; h tells it, Enter closes", self.face(*face))
            }
            Waited::Turn { face } => format!("{} may be turned up", self.face(*face)),
            Waited::Stand { pot } => format!("{} has stood", self.pot(pot)),
            Waited::LastTrigger { pot } => format!("last trigger of {}", self.pot(pot)),
            Waited::AfterStep { step } => self.step(step),
            Waited::StageBeforeStep { step } => format!("then {}", self.step(step)),
            Waited::Cure { stage } => format!("all faces {}", on_all(cure_reached(*stage))),
        }
    }

    /// The coat that a face gets next: 'coat 2', or 'Colour' where the layer is another.
    #[must_use]
    pub fn coat_to_come(&self, face: usize) -> String {
        let next = self.board.faces.get(face).and_then(|row| row.at.next);
        match next {
            Some((layer, 1)) => self.layer(layer),
            Some((_, coat)) => format!("coat {coat}"),
            None => "a coat".into(),
        }
    }
}

/// 'dust free' needs its verb in a sentence, 'may be handled' has it.
fn on_all(reached: &str) -> String {
    if reached.starts_with("may ") { reached.into() } else { format!("are {reached}") }
}
