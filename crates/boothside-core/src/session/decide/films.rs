//! Facts of films: readings and weighings.

use super::Deciding;
use super::facts::not_there;
use crate::session::command::Command;
use crate::session::event::Event;
use crate::session::film::{check_dry, check_wet};
use crate::session::refusal::Refusal;

impl Deciding<'_> {
    pub(super) fn film_fact(&self, command: &Command) -> Result<Event, Refusal> {
        Ok(match command {
            Command::ReadWetFilm { face, wet } => {
                check_wet(wet)?;
                let (number, face) = self.face(face)?;
                let last = self.session.state().faces[number].last_sprayed();
                let (on, coat) = last.ok_or_else(|| not_there("coat on face", &face))?;
                Event::FilmRead { face, layer: on.layer, coat, wet: wet.clone() }
            }
            Command::ReadDryFilm { face, spots_um, under_um } => {
                check_dry(spots_um, *under_um)?;
                let (number, face) = self.face(face)?;
                let last = self.session.state().faces[number].last_on();
                let layer = last.ok_or_else(|| not_there("coat on face", &face))?.layer;
                let (spots_um, under_um) = (spots_um.clone(), *under_um);
                Event::DryFilmRead { face, layer, spots_um, under_um }
            }
            Command::AccountForPot { pot, coat, weighing } => {
                weighing.check()?;
                if *coat == Some(0) {
                    return Err(not_there("coat", "0"));
                }
                Event::PotAccounted { pot: self.pot(pot)?, coat: *coat, weighing: *weighing }
            }
            _ => return Err(Refusal::Nothing),
        })
    }
}
