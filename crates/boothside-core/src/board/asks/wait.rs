//! Nothing to do: the next thing to do is named, not the next edge.

use super::Asks;
use crate::board::hero::{Waited, waited_for};
use crate::board::next::Next;
use crate::session::clocks::DueAt;
use crate::session::standing::{FaceNow, FaceStanding, Wanting};
use crate::session::time::{Moment, Span};

/// With nothing else to do for so long between two coats an old reading is taken anew.
const IDLE: Span = Span::from_minutes(10);
const NEVER: Moment = Moment::from_ms(i64::MAX);

pub(super) fn before_step(step: String, until: Option<Moment>) -> Next {
    Next::Wait { what: Waited::StageBeforeStep { step }, until: until.map(DueAt::At) }
}

pub(super) fn after_step(step: String, until: Option<DueAt>) -> Next {
    Next::Wait { what: Waited::AfterStep { step }, until }
}

pub(super) fn stand(pot: String, until: Option<DueAt>) -> Next {
    Next::Wait { what: Waited::Stand { pot }, until }
}

impl Asks<'_> {
    /// The first face or pot of `layer` that there will be something to do with.
    pub(super) fn wait(&self, layer: u32) -> Next {
        let (what, until) = self.face_to_wait_for(layer);
        let at = until.and_then(DueAt::moment).unwrap_or(NEVER);
        let next_pot = self.next_pot_from(layer).filter(|from| *from < self.gate_from(layer));
        if let Some(from) = next_pot.filter(|from| !self.watch.reached(*from)) {
            return Next::Wait { what: Waited::PotTime { layer }, until: Some(DueAt::At(from)) };
        }
        let from = self.gate_from(layer);
        if from < at && !self.watch.reached(from) {
            let wipe = self.stand_of(layer).is_none()
                && matches!(self.wipe(layer), Some(Next::Wipe { .. }));
            let what = match (wipe, self.pot_for(layer)) {
                (false, Some(Wanting::Stand { pot, .. })) => Waited::Stand { pot },
                (false, Some(_)) => Waited::PotTime { layer },
                _ => Waited::WipeTime { layer },
            };
            return Next::Wait { what, until: Some(DueAt::At(from)) };
        }
        let idle = !self.watch.reached(at.minus(IDLE));
        if idle
            && self.gate.is_begun(layer)
            && let Some(why) = self.reading_for(layer)
        {
            return Next::Reading { why };
        }
        Next::Wait { what, until }
    }

    fn face_to_wait_for(&self, layer: u32) -> (Waited, Option<DueAt>) {
        let until = |face: &FaceStanding| match face.turn {
            Some(turn) => turn.ready.map(DueAt::At),
            None => face.until,
        };
        let moment = |face: &FaceStanding| until(face).and_then(DueAt::moment).unwrap_or(NEVER);
        let waits = |face: &FaceStanding| {
            let early = matches!(face.now, FaceNow::Flashing | FaceNow::LayerDone | FaceNow::Look);
            early || face.turn.is_some()
        };
        let waiting = self.in_layer(layer).filter(|(_, _, face)| waits(face));
        let all = || self.in_layer(layer).collect::<Vec<_>>();
        let waiting: Vec<_> = waiting.collect();
        let faces = if waiting.is_empty() { all() } else { waiting };
        let first =
            faces.into_iter().min_by_key(|(number, coat, face)| (moment(face), *coat, *number));
        match first {
            Some((number, _, face)) => (waited_for(number, face), until(face)),
            // no face of the layer is left to wait for: the layer would not be in work
            None => (Waited::ToHang { layer }, None),
        }
    }
}
