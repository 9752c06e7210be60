//! Every coat is on: leftovers, masks off, cure, the close.

use super::Asks;
use crate::board::hero::Waited;
use crate::board::next::Next;
use crate::material::sheet::CureStage;
use crate::session::clocks::DueAt;
use crate::session::demand::left_ml;
use crate::session::standing::{FaceNow, PotNow, Wanting, holds_on_close};
use crate::session::time::Moment;

/// Less than this left of a two-part mix is not asked about, mL.
const LITTLE_ML: f64 = 50.0;

impl Asks<'_> {
    pub(super) fn closing(&self) -> Next {
        if let Some(next) = self.to_hang() {
            return next;
        }
        let steps = self.gate.steps();
        let to_do = steps.iter().find(|wanting| matches!(wanting, Wanting::Step { .. }));
        if let Some(wanting) = to_do {
            return self.wanted(wanting.clone());
        }
        if let Some(waits) = steps
            .iter()
            .find(|it| matches!(it, Wanting::StepNotYet { until, .. } if self.is_first(*until)))
        {
            return self.wanted(waits.clone());
        }
        if holds_on_close(self.session, self.standing, self.watch).is_empty() {
            return self.close();
        }
        self.wait_for_cure(steps)
    }

    /// Whether a moment comes before the next stage of cure.
    fn is_first(&self, until: Option<Moment>) -> bool {
        let cure = self.next_stage().and_then(|(_, until)| until.moment());
        until.is_some_and(|until| cure.is_none_or(|cure| until <= cure))
    }

    /// What is left of a two-part mix heats as it sets, once no coat of it is to come.
    pub(super) fn leftover(&self) -> Option<Next> {
        let state = self.session.state();
        let pots = state.pots.iter().filter(|pot| pot.emptied.is_none() && pot.aside.is_none());
        let two_part =
            pots.filter(|pot| state.sheet(pot.layer).is_some_and(|sheet| sheet.reacts()));
        let over = two_part.filter(|pot| {
            let done =
                self.layer_ahead().is_none_or(|layer| layer > pot.layer) || self.is_spent(&pot.id);
            let in_gun = state.gun.as_deref() == Some(pot.id.as_str());
            done && !in_gun && !state.went_past(&format!("leftover {}", pot.id))
        });
        let mut much = over.filter_map(|pot| {
            let ml = left_ml(state, self.session.plan(), pot);
            ml.is_none_or(|ml| ml > LITTLE_ML).then(|| Next::Leftover { pot: pot.id.clone(), ml })
        });
        much.next()
    }

    /// Where none of the faces hangs that want a coat: no step is done on what is not there.
    fn to_hang(&self) -> Option<Next> {
        let layer = self.session.state().layer_to_hang()?;
        Some(Next::Wait { what: Waited::ToHang { layer }, until: None })
    }

    /// The session is closed, unless a face that is away is still to get a coat.
    fn close(&self) -> Next {
        let mut faces = self.standing.faces.iter();
        match faces.position(|face| face.now == FaceNow::Away && face.next.is_some()) {
            Some(face) => Next::Wait { what: Waited::Away { face }, until: None },
            None => Next::Close,
        }
    }

    fn next_stage(&self) -> Option<(CureStage, DueAt)> {
        let stages = [
            CureStage::DustFree,
            CureStage::Handle,
            CureStage::Mask,
            CureStage::Sand,
            CureStage::Full,
        ];
        let hanging = || self.standing.faces.iter().filter(|face| !face.now.is_absent());
        let open = stages.into_iter().filter_map(|stage| {
            let dues = hanging().filter_map(|face| face.cure_due(stage)).map(|due| due.at);
            let dues: Vec<DueAt> =
                dues.filter(|due| due.moment().is_none_or(|at| !self.watch.reached(at))).collect();
            let never = dues.iter().find(|due| due.moment().is_none()).copied();
            let last = dues.iter().filter_map(|due| due.moment()).max().map(DueAt::At);
            never.or(last).map(|until| (stage, until))
        });
        open.min_by_key(|(stage, until)| {
            (until.moment().unwrap_or(Moment::from_ms(i64::MAX)), *stage)
        })
    }

    /// Waits for the next stage of cure: on all faces together, for parts are moved together.
    fn wait_for_cure(&self, steps: Vec<Wanting>) -> Next {
        match (self.next_stage(), steps.into_iter().next()) {
            (Some((stage, until)), _) => {
                Next::Wait { what: Waited::Cure { stage }, until: Some(until) }
            }
            (None, Some(wanting)) => self.wanted(wanting),
            (None, None) => self.close(),
        }
    }

    /// Whether a pot is dead: of no use to any coat.
    fn is_spent(&self, pot: &str) -> bool {
        self.standing.pot(pot).is_some_and(|at| at.now == PotNow::Dead)
    }
}
