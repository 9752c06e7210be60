//! The pots: which faces a pot finishes, whether it is too late for one, and when the next is mixed.

use super::Asks;
use crate::board::next::Next;
use crate::session::demand::{left_ml, ml_per_m2_of_pot};
use crate::session::mixing::NEAR_ML;
use crate::session::standing::{FaceNow, PotNow, PotWhy, Wanting};
use crate::session::time::{Moment, Span};

/// From the first pour to the stir, before a pot of this session says it: our own choice.
const MIXING: Span = Span::from_minutes(15);

impl Asks<'_> {
    /// The next pot is mixed before the round: the one in use does not do all its faces, or the next
    /// one's time has come, or would come within the round.
    pub(super) fn next_pot(&self, layer: u32) -> Option<Next> {
        let in_use = self.to_follow(layer)?;
        let why = self
            .bench_in_hand(layer)
            .or_else(|| self.short(layer, &in_use))
            .or_else(|| self.in_time(layer, &in_use))?;
        if why != PotWhy::None && self.would_be_lost(layer, &in_use) {
            return None;
        }
        // once the first pour is in, the bench goes on
        let first = self.before_pot(layer);
        first.or_else(|| Some(self.wanted(self.gate.pot_to_mix(layer, why))))
    }

    /// The pot in use that another is to follow: none is there yet, and the painter did not go past it.
    fn to_follow(&self, layer: u32) -> Option<String> {
        let in_use = self.usable(layer)?;
        let past = self.session.state().went_past(&format!("pot-short {in_use}"));
        (!past && !self.has_another(layer, &in_use)).then_some(in_use)
    }

    /// From when the pot for the next round is mixed, where the one in use does nothing of it.
    pub(super) fn next_pot_from(&self, layer: u32) -> Option<Moment> {
        let in_use = self.to_follow(layer)?;
        self.for_next_round(layer, &in_use).map(|(from, _)| from)
    }

    /// Whether the pot in use would be past its last trigger over the mixing of another, with faces
    /// that it does: those go first.
    fn would_be_lost(&self, layer: u32, pot: &str) -> bool {
        let Some(last) = self.standing.pot(pot).and_then(|at| at.last_trigger) else {
            return false;
        };
        let Some((_, coat)) = self.sprayable(layer) else { return false };
        let faces = self.still_to_get(layer, coat);
        let does = self.finishes(pot, &faces).unwrap_or(faces);
        let from = last.minus(self.usual_of(&does, layer)).minus(self.mixing_time(layer));
        !does.is_empty() && self.watch.reached(from)
    }

    /// A pot that is poured while another is in use is poured to its end.
    fn bench_in_hand(&self, layer: u32) -> Option<PotWhy> {
        let mixing = self.session.state().open_mixing(layer)?;
        (!mixing.pours.is_empty()).then_some(PotWhy::None)
    }

    /// What comes before a pot: protection and a reading.
    fn before_pot(&self, layer: u32) -> Option<Next> {
        let sitting = self.gate.once_a_sitting(layer).into_iter().next();
        let sitting = sitting.map(|wanting| self.wanted(wanting));
        sitting.or_else(|| self.reading_for(layer).map(|why| Next::Reading { why }))
    }

    /// The pot in use, where it may be sprayed or stands.
    fn usable(&self, layer: u32) -> Option<String> {
        let pot = self.session.state().pot_in_use(layer).filter(|pot| pot.stirred.is_some())?;
        let now = self.standing.pot(&pot.id)?.now;
        let ready = matches!(now, PotNow::Good | PotNow::Standing);
        (ready && !self.is_too_late(&pot.id, layer)).then(|| pot.id.clone())
    }

    /// Whether another pot of the layer is mixed that can take over: that does a face at least, so far
    /// as is known.
    fn has_another(&self, layer: u32, than: &str) -> bool {
        let coat = self.sprayable(layer).map_or_else(|| self.coat_ahead(layer), |(_, coat)| coat);
        let faces = self.still_to_get(layer, coat);
        let does = |pot: &str| self.finishes(pot, &faces).is_none_or(|it| !it.is_empty());
        self.session.state().pots.iter().any(|pot| {
            let now = self.standing.pot(&pot.id).map(|at| at.now);
            let fit = matches!(now, Some(PotNow::Good | PotNow::Standing));
            pot.layer == layer
                && pot.id != than
                && pot.stirred.is_some()
                && fit
                && pot.aside.is_none()
                && does(&pot.id)
        })
    }

    /// The pot does not finish every face of the coat in hand.
    fn short(&self, layer: u32, pot: &str) -> Option<PotWhy> {
        let (_, coat) = self.sprayable(layer)?;
        let faces = self.still_to_get(layer, coat);
        let does = self.finishes(pot, &faces)?;
        (does.len() < faces.len()).then(|| PotWhy::Short(pot.to_owned(), does))
    }

    /// The leading faces that a pot finishes by what is left in it; nothing where that is not known.
    pub(super) fn finishes(&self, pot: &str, faces: &[usize]) -> Option<Vec<usize>> {
        let (state, plan) = (self.session.state(), self.session.plan());
        let pot = state.pot(pot)?;
        let left = left_ml(state, plan, pot)?;
        let per_m2 = ml_per_m2_of_pot(state, plan, pot).ok()?;
        let mut used = 0.0;
        let fits = |face: &&usize| {
            used += plan.area_m2(&state.work, **face) * per_m2;
            used <= left + NEAR_ML
        };
        Some(faces.iter().take_while(fits).copied().collect())
    }

    /// Whether a pot's last trigger comes before any face that may be sprayed now would be on. Where
    /// another pot would have no more time for it, this one is not too late.
    pub(super) fn is_too_late(&self, pot: &str, layer: u32) -> bool {
        let at = self.standing.pot(pot);
        let last = at.and_then(|at| at.last_trigger);
        let stood = at.and_then(|at| at.stands_until.and_then(|due| due.moment()).or(at.born));
        let has = last.zip(stood).map(|(last, stood)| last.since(stood));
        let may = |now: FaceNow| now.takes_a_coat();
        let faces =
            self.in_layer(layer).filter(|(_, _, face)| may(face.now) && face.turn.is_none());
        let quickest = faces.map(|(face, ..)| self.usual(layer, face)).min();
        last.zip(quickest).is_some_and(|(last, quickest)| {
            has.is_none_or(|has| quickest < has) && self.watch.reached(last.minus(quickest))
        })
    }

    /// The pot for the coat after this round has its time now, or would have it within the round.
    fn in_time(&self, layer: u32, pot: &str) -> Option<PotWhy> {
        match self.sprayable(layer) {
            Some((face, coat)) => self.in_round(layer, pot, face, coat),
            None => self.between_rounds(layer, pot),
        }
    }

    /// A round lies ahead: the next one begins when its first face has dulled.
    fn in_round(&self, layer: u32, pot: &str, face: usize, coat: u32) -> Option<PotWhy> {
        let last_coat = self.session.state().layer(layer)?.coats;
        if self.is_round_begun(layer, coat) || coat >= last_coat {
            return None;
        }
        let round = self.still_to_get(layer, coat);
        let next = self.faces_wanting(layer, coat + 1);
        let (wet, takes) = (self.wet_time(layer, face)?, self.usual_of(&round, layer));
        let last = self.standing.pot(pot)?.last_trigger;
        let ends = Span::from_ms(wet.ms() + self.usual_of(&next, layer).ms());
        let outlived = last.is_some_and(|last| self.watch.reached(last.minus(ends)));
        let lacking = self.lacks_after(layer, pot, coat, &next);
        // its time comes while the round is sprayed
        let within = wet.ms() - self.lead(layer).ms() <= takes.ms();
        (within && (outlived || lacking)).then_some(PotWhy::NextCoat(coat + 1))
    }

    fn between_rounds(&self, layer: u32, pot: &str) -> Option<PotWhy> {
        let (from, why) = self.for_next_round(layer, pot)?;
        self.watch.reached(from).then_some(why)
    }

    /// Where a pot does nothing of the next round: from when another is mixed for it.
    fn for_next_round(&self, layer: u32, pot: &str) -> Option<(Moment, PotWhy)> {
        let (coat, first) = (self.coat_ahead(layer), self.first_opens(layer)?);
        let faces = self.faces_wanting(layer, coat);
        let ends = first.plus(self.usual_of(&faces, layer));
        let last = self.standing.pot(pot)?.last_trigger;
        let outlived = last.is_some_and(|last| ends > last && first > self.watch.now());
        let lacking = self.finishes(pot, &faces).is_some_and(|does| does.is_empty());
        let wanted = !faces.is_empty() && (outlived || lacking);
        wanted.then(|| (first.minus(self.lead(layer)), PotWhy::NextCoat(coat)))
    }

    /// How long before it is needed a pot is begun.
    fn lead(&self, layer: u32) -> Span {
        Span::from_ms(self.stand(layer).ms() + self.mixing_time(layer).ms())
    }

    /// Whether what is left after coat `this` does no face of the next.
    fn lacks_after(&self, layer: u32, pot: &str, this: u32, next: &[usize]) -> bool {
        let mut all = self.still_to_get(layer, this);
        let round = all.len();
        all.extend(next);
        self.finishes(pot, &all).is_some_and(|does| does.len() <= round)
    }

    fn faces_wanting(&self, layer: u32, coat: u32) -> Vec<usize> {
        let state = self.session.state();
        let wants = |face: &usize| state.coats_wanted(*face, layer) >= coat;
        self.still_to_get(layer, coat).into_iter().filter(wants).collect()
    }

    /// When the first face of `layer` may be sprayed, so far as its clocks tell.
    pub(super) fn first_opens(&self, layer: u32) -> Option<Moment> {
        let opens = self.in_layer(layer).filter_map(|(_, _, face)| {
            if face.now.takes_a_coat() || matches!(face.now, FaceNow::Wipe | FaceNow::Sand) {
                return Some(self.watch.now());
            }
            let until = match face.turn {
                Some(turn) => turn.ready,
                None => face.until.and_then(|until| until.moment()),
            };
            // a wipe that flashes is of the gate itself
            if face.wipe_flashes { Some(self.watch.now()) } else { until }
        });
        opens.min()
    }

    /// From when the gate's last part is asked: so that a pot has stood when the first face may be
    /// sprayed, and not sooner, for its life runs.
    pub(super) fn gate_from(&self, layer: u32) -> Moment {
        let Some(first) = self.first_opens(layer) else { return Moment::from_ms(i64::MAX) };
        let lead = match self.pot_for(layer) {
            // its life runs, or it stands
            Some(Wanting::Stand { .. } | Wanting::Stir { .. }) => return self.watch.now(),
            Some(Wanting::Pour { pot, .. }) if self.session.state().pot(&pot).is_some() => {
                return self.watch.now();
            }
            Some(_) => self.lead(layer).ms(),
            None => 0,
        };
        let wipes = matches!(self.wipe(layer), Some(Next::Wipe { .. }));
        let flash = if wipes { self.wipe_flash(layer).ms() } else { 0 };
        first.minus(Span::from_ms(lead.max(flash)))
    }

    fn wipe_flash(&self, layer: u32) -> Span {
        let wipe = self.session.state().sheet(layer).and_then(|sheet| sheet.wipe);
        wipe.map_or(Span::default(), |wipe| Span::from_seconds(wipe.flash_s))
    }

    /// How long a fresh pot of `layer` stands.
    pub(super) fn stand(&self, layer: u32) -> Span {
        self.stand_of(layer).unwrap_or_default()
    }

    pub(super) fn stand_of(&self, layer: u32) -> Option<Span> {
        let induction = self.session.state().sheet(layer)?.induction.as_ref()?;
        let stand = Span::from_seconds(induction.stand.upper_s());
        Some(stand).filter(|stand| stand.ms() > 0)
    }

    /// Whether a pot stands longer than a wipe lasts.
    pub(super) fn outlasts_a_wipe(&self, layer: u32) -> bool {
        let limit = self.session.state().sheet(layer).and_then(|sheet| sheet.wipe);
        limit.is_some_and(|wipe| self.stand(layer) > Span::from_seconds(wipe.limit_s))
    }

    /// The median time from the first pour to the stir in this session, else a usual one.
    pub(super) fn mixing_time(&self, layer: u32) -> Span {
        let mixings = self.session.state().mixings.iter().filter(|mixing| mixing.layer == layer);
        let took = mixings.filter_map(|mixing| {
            let first = mixing.pours.iter().map(|pour| pour.at).min()?;
            Some(mixing.stirred?.since(first))
        });
        let mut took: Vec<Span> = took.filter(|span| span.ms() > 0).collect();
        took.sort();
        took.get(took.len() / 2).copied().unwrap_or(MIXING)
    }
}
