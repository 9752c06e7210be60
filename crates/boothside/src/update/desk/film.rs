//! The film screen: a face chosen, a film read, a pot weighed.

use super::{Desk, Effect, Now};
use crate::forms::FormKind;
use crate::update::scene::{Asking, FILM_FACTS, FilmFact, Screen};

impl Desk {
    /// The face chosen, else the one on the gun, else the one that left it last.
    pub(super) fn film_face(&self) -> usize {
        self.chosen().unwrap_or_else(|| self.face_last_touched())
    }

    /// The pot in the gun, else the last one mixed.
    pub(super) fn pot_to_weigh(&self) -> Option<&boothside_core::session::Pot> {
        let state = self.session.state();
        let in_the_gun = state.gun.as_ref().and_then(|pot| state.pot(pot));
        in_the_gun.or_else(|| state.pots.last())
    }

    /// Opens the form for the wet film of the coat just sprayed.
    pub(super) fn read_wet_film(&mut self, now: &Now<'_>) -> Vec<Effect> {
        self.open_film(FilmFact::Wet, now)
    }

    /// Enter on the film screen: what was read?
    pub(super) fn ask_film(&mut self) -> Vec<Effect> {
        self.asking = Some(Asking::Film { face: self.film_face() });
        Vec::new()
    }

    pub(super) fn answer_film(
        &mut self,
        choice: usize,
        face: usize,
        now: &Now<'_>,
    ) -> Option<Vec<Effect>> {
        let fact = *FILM_FACTS.get(choice)?;
        if fact == FilmFact::Weighed {
            return Some(self.open_form(FormKind::Weighing, now));
        }
        self.screen = Screen::Film;
        Some(self.open_film_of(fact, face, now))
    }

    fn open_film(&mut self, fact: FilmFact, now: &Now<'_>) -> Vec<Effect> {
        self.open_film_of(fact, self.film_face(), now)
    }

    fn open_film_of(&mut self, fact: FilmFact, face: usize, now: &Now<'_>) -> Vec<Effect> {
        let history = self.session.state().faces.get(face);
        let sprayed = match fact {
            FilmFact::Wet => history.is_some_and(|it| it.last_sprayed().is_some()),
            FilmFact::Dry => history.is_some_and(|it| it.last_on().is_some()),
            FilmFact::Weighed => true,
        };
        if !sprayed {
            return self.say("no coat is on that face: ↑ ↓ choose another", now);
        }
        let kind =
            if fact == FilmFact::Wet { FormKind::WetFilm(face) } else { FormKind::DryFilm(face) };
        self.open_form(kind, now)
    }
}
