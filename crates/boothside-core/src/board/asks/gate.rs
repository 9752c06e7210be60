//! The gate before a coat, in the order of work: the wipe is the last thing before the film, and no
//! pot is mixed before the air is known to be fit.

use super::Asks;
use crate::board::hero::Waited;
use crate::board::next::Next;
use crate::session::State;
use crate::session::clocks::DueAt;
use crate::session::event::Way;
use crate::session::standing::{FaceNow, StepNow, StepStanding, Wanting, WipeWhy};
use crate::session::time::Moment;
use crate::work::system::{Does, Step};

impl Asks<'_> {
    /// The first thing wanted before the next coat of `layer`; nothing while it only waits.
    pub(super) fn gate(&self, layer: u32) -> Option<Next> {
        let early =
            self.prepared(layer).or_else(|| self.surfaces(layer)).or_else(|| self.laid_out(layer));
        // nobody suits up for a wait: what is asked once a sitting comes before what is done
        match early {
            Some(wait @ Next::Wait { .. }) => Some(wait),
            Some(first) => self.once_a_sitting(layer).or(Some(first)),
            None if self.watch.reached(self.gate_from(layer)) => self
                .once_a_sitting(layer)
                .or_else(|| self.just_before(layer, self.coat_ahead(layer))),
            None => None,
        }
    }

    /// What is asked once a sitting.
    fn once_a_sitting(&self, layer: u32) -> Option<Next> {
        let first = self.gate.once_a_sitting(layer).into_iter().next()?;
        Some(self.wanted(first))
    }

    /// The steps but the wipe; and masking again that has been on for too long.
    fn prepared(&self, layer: u32) -> Option<Next> {
        let wipes = |wanting: &Wanting| self.is_wipe_wanting(wanting);
        let Some(first) =
            self.gate.steps_in_round(layer).into_iter().find(|wanting| !wipes(wanting))
        else {
            let in_hand = self.is_round_in_hand(layer, self.coat_ahead(layer));
            let again = self.gate.masks_again(layer).filter(|_| !in_hand)?;
            return Some(self.wanted(again));
        };
        if let Wanting::Step { step, .. } = &first
            && let Some(until) = self.film_before_step(layer, step)
        {
            let what = Waited::StageBeforeStep { step: step.clone() };
            return Some(Next::Wait { what, until: Some(until) });
        }
        let waits = matches!(first, Wanting::StepNotYet { .. } | Wanting::StepWait { .. });
        // a face of the layer before that is still to be looked at is waited for by `wait`
        let next = self.wanted(first);
        let early = waits && self.gate.is_begun(layer);
        (!early).then_some(next)
    }

    /// A step whose system names no stage is not done on a film that is too young for the next layer:
    /// until when the last of those is.
    fn film_before_step(&self, layer: u32, step: &str) -> Option<DueAt> {
        if self.session.state().step(step)?.after.is_some() {
            return None;
        }
        let young = self.in_layer(layer).filter(|(_, _, face)| face.now == FaceNow::LayerDone);
        let untils: Vec<DueAt> = young.filter_map(|(_, _, face)| face.until).collect();
        let never = untils.iter().find(|until| until.moment().is_none()).copied();
        never.or_else(|| untils.iter().filter_map(|it| it.moment()).max().map(DueAt::At))
    }

    pub(super) fn is_wipe_wanting(&self, wanting: &Wanting) -> bool {
        let (Wanting::Step { step, .. }
        | Wanting::StepNotYet { step, .. }
        | Wanting::StepWait { step, .. }) = wanting
        else {
            return false;
        };
        let step = self.session.state().step(step);
        step.is_some_and(|step| step.does == Some(Does::Wipe))
    }

    /// A step as what SPACE does: one at which plugs and masks are counted asks for the number first.
    pub(super) fn step(&self, step: String, again: bool) -> Next {
        let state = self.session.state();
        if !state.step(&step).is_some_and(Step::counts_masks) {
            return Next::Step { step, again };
        }
        let way = if self.standing.layer.is_some() { Way::In } else { Way::Out };
        match way {
            Way::In => Next::CountMasks { way, again: false },
            Way::Out => count_out(state, step),
        }
    }

    /// Turned, then sanded.
    fn surfaces(&self, layer: u32) -> Option<Next> {
        let turn = self
            .in_layer(layer)
            .find(|(_, _, face)| face.turn.is_some_and(|turn| turn.may_be_turned));
        if let Some((face, ..)) = turn {
            return Some(Next::Turn { face });
        }
        let faces = self.faces_now(layer, FaceNow::Sand);
        (!faces.is_empty()).then_some(Next::Sand { faces })
    }

    fn faces_now(&self, layer: u32, now: FaceNow) -> Vec<usize> {
        let found = self.in_layer(layer).filter(|(_, _, face)| face.now == now);
        found.filter(|(_, _, face)| face.turn.is_none()).map(|(number, ..)| number).collect()
    }

    fn laid_out(&self, layer: u32) -> Option<Next> {
        let first = self.gate.laid_out_in_round(layer).into_iter().next()?;
        Some(self.wanted(first))
    }

    /// From the reading to the test pattern.
    fn just_before(&self, layer: u32, coat: u32) -> Option<Next> {
        if let Some(reading) = self.reading_before(layer, coat) {
            return Some(reading);
        }
        let stands = self.stand_of(layer).is_some();
        let pot = self.pot_for(layer);
        // before a pot also within a round
        if matches!(pot, Some(Wanting::Pot { .. }))
            && let Some(why) = self.reading_for(layer)
        {
            return Some(Next::Reading { why });
        }
        let standing = matches!(pot, Some(Wanting::Stand { .. }));
        let to_mix = pot.clone().filter(|_| !standing).map(|pot| self.wanted(pot));
        let fan = || self.fan(layer, coat);
        let wipe = || self.wipe(layer);
        // the wipe flashes off while one mixes, or while a pot stands
        let to_wipe = || wipe().filter(Next::is_action);
        // without a stand it comes before the pot; after a stand that is longer than its limit
        let first = if stands || self.is_mixing(layer) {
            to_mix.or_else(fan)
        } else {
            fan().or_else(to_wipe).or(to_mix)
        };
        let early_wipe = || if self.outlasts_a_wipe(layer) { None } else { to_wipe() };
        first
            .or_else(early_wipe)
            .or_else(|| pot.filter(|_| standing).map(|pot| self.wanted(pot)))
            .or_else(wipe)
            .or_else(|| self.with_paint(layer, coat))
    }

    /// What is left before a face that is closing: in a layer that is begun the wipe of others does not
    /// keep it waiting.
    pub(super) fn gate_of_closing(&self, layer: u32, coat: u32) -> Option<Next> {
        let early = self
            .once_a_sitting(layer)
            .or_else(|| self.prepared(layer))
            .or_else(|| self.laid_out(layer));
        if !self.gate.is_begun(layer) {
            return early.or_else(|| self.just_before(layer, coat));
        }
        early
            .or_else(|| self.reading_before(layer, coat))
            .or_else(|| self.pot_for(layer).map(|pot| self.wanted(pot)))
            .or_else(|| self.fan(layer, coat))
            .or_else(|| self.with_paint(layer, coat))
    }

    fn is_mixing(&self, layer: u32) -> bool {
        self.session.state().open_mixing(layer).is_some()
    }

    fn fan(&self, layer: u32, coat: u32) -> Option<Next> {
        let first = self.gate.before_paint(layer, coat).into_iter().next();
        let off = self.session.state().fan_off.is_some();
        first.map(|first| self.wanted(first)).or_else(|| off.then_some(Next::FanOn))
    }

    fn with_paint(&self, layer: u32, coat: u32) -> Option<Next> {
        let first = self.gate.with_paint(layer, coat).into_iter().next()?;
        Some(self.wanted(first))
    }

    /// The wipe of the hanging faces that lack it, and its flash.
    pub(super) fn wipe(&self, layer: u32) -> Option<Next> {
        let lacking = self.faces_now(layer, FaceNow::Wipe);
        let why = lacking.first().and_then(|face| self.standing.faces[*face].wipe);
        let steps = self.gate.steps_in_round(layer);
        let step = steps.into_iter().find(|wanting| self.is_wipe_wanting(wanting));
        match step {
            Some(Wanting::Step { step, .. }) => {
                let faces = self.faces_of_step(layer, &step);
                let why = why.filter(|why| *why == WipeWhy::Sanded);
                Some(Next::Wipe { faces, step: Some(step), why })
            }
            _ if !lacking.is_empty() => Some(Next::Wipe { faces: lacking, step: None, why }),
            Some(wanting) => Some(self.wanted(wanting)),
            None => None,
        }
    }

    fn faces_of_step(&self, layer: u32, step: &str) -> Vec<usize> {
        let at = |at: &&StepStanding| at.id == step && at.now == StepNow::ToDo;
        let lacking = self.standing.steps.iter().find(at).map(|at| at.lacking.clone());
        let all = || self.in_layer(layer).map(|(number, ..)| number).collect();
        lacking.filter(|faces| !faces.is_empty()).unwrap_or_else(all)
    }

    /// Whether nothing is wanted any more before a face gets its coat.
    pub(super) fn is_ready(&self, layer: u32, coat: u32, face: usize) -> bool {
        let gate = &self.gate;
        self.reading_before(layer, coat).is_none()
            && self.pot_for(layer).is_none()
            && gate.once_a_sitting(layer).is_empty()
            && self.gate.steps_in_round(layer).is_empty()
            && self.gate.laid_out_in_round(layer).is_empty()
            && self.fan(layer, coat).is_none()
            && gate.with_paint(layer, coat).is_empty()
            && self.standing.faces[face].turn.is_none()
    }

    /// How many checks the hand still answers before the next coat: plugs and masks are one, and the
    /// step at which they are counted.
    pub(in crate::board) fn to_check(&self) -> usize {
        let Some(layer) = self.standing.layer else { return 0 };
        let coat = self.coat_ahead(layer);
        let by_hand = |wanting: &&Wanting| match wanting {
            Wanting::Check { .. } | Wanting::SomeoneKnows | Wanting::Masks => true,
            Wanting::Step { step, .. } | Wanting::StepNotYet { step, .. } => {
                self.session.state().step(step).is_some_and(Step::counts_masks)
            }
            _ => false,
        };
        self.gate.wanting_in_round(layer, coat).iter().filter(by_hand).count()
    }

    /// Whether every wait and pour left of the gate of `layer` ends before `at`.
    pub(super) fn can_begin_before(&self, layer: u32, at: Moment) -> bool {
        let before = |until: Option<Moment>| until.is_none_or(|until| until < at);
        let waits = self.gate.steps_in_round(layer).into_iter().all(|wanting| match wanting {
            Wanting::StepWait { until, .. } => before(until.and_then(|until| until.moment())),
            Wanting::StepNotYet { until, .. } => before(until),
            _ => true,
        });
        let pot = match self.pot_for(layer) {
            None => true,
            Some(Wanting::Stand { until, .. }) => before(until.and_then(|until| until.moment())),
            Some(_) => {
                let from = at.minus(self.mixing_time(layer)).minus(self.stand(layer));
                !self.watch.reached(from)
            }
        };
        waits && pot
    }
}

/// Off the parts again: counted, unless they agree, or that was gone past, or asked twice.
fn count_out(state: &State, step: String) -> Next {
    let past = state.went_past("masks-out");
    let counted = state.masks.off.is_some();
    let again = state.masks.agree() == Some(false) && counted;
    let asked = counted && !again || state.masks.uncounted_out > 0;
    if asked || (again && past) {
        return Next::Step { step, again: false };
    }
    Next::CountMasks { way: Way::Out, again }
}
