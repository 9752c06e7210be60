//! Film readings and weighings.

use super::Fold;
use crate::session::event::Event;
use crate::session::film::{Accounted, DryRead, WetFilm};

impl Fold<'_> {
    pub(super) fn film_event(&mut self, event: &Event) {
        let at = self.when;
        match event {
            Event::FilmRead { face, layer, coat, wet } => {
                self.wet_read(face, (*layer, *coat), wet);
            }
            Event::DryFilmRead { face, layer, spots_um, under_um } => {
                let n = self.n;
                let read =
                    DryRead { at, layer: *layer, spots_um: spots_um.clone(), under_um: *under_um };
                self.change_face(face, |history| {
                    let on = |coat: &&mut crate::session::CoatOn| {
                        coat.layer == *layer && coat.finished.is_some() && !coat.skipped
                    };
                    if let Some(coat) = history.coats.iter_mut().rev().find(on) {
                        coat.told_by.push(n);
                        history.dry.push(read);
                    }
                });
            }
            Event::PotAccounted { pot, coat, weighing } => {
                let (pot, coat, weighing) = (pot.clone(), *coat, *weighing);
                self.change_pot(&pot, |_, _| {});
                self.state.accounted.push(Accounted { at, pot, coat, weighing });
            }
            _ => {}
        }
    }

    fn wet_read(&mut self, face: &str, (layer, coat): (u32, u32), wet: &[WetFilm]) {
        let n = self.n;
        self.change_face(face, |history| {
            let mut of_layer = history.coats.iter_mut().filter(|on| on.is_nth_of(layer));
            let nth = (coat as usize).checked_sub(1).and_then(|nth| of_layer.nth(nth));
            // a coat left out has no film
            if let Some(on) = nth.filter(|on| !on.skipped) {
                on.told_by.push(n);
                on.wet.extend_from_slice(wet);
            }
        });
    }
}
