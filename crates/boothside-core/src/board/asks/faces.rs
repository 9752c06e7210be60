//! The faces: looks, rounds, and which is sprayed next.

use super::Asks;
use crate::board::next::Next;
use crate::session::pace::usual_time;
use crate::session::standing::{FaceNow, FaceStanding};
use crate::session::time::{Moment, Span};

/// A look waits for the rest of a coat where the pot has no more than this to spare.
const POT_FIRST: Span = Span::from_minutes(10);
const NEVER: Moment = Moment::from_ms(i64::MAX);

impl Asks<'_> {
    /// Faces due for a look: nearest to closing first, then earliest due, then spraying order. A look
    /// keeps; where the pot does not, the rest of its coat goes first.
    pub(super) fn look(&self) -> Option<Next> {
        let closes = |face: &FaceStanding| {
            let edge = face.open_until.or(face.wipe_until);
            edge.and_then(|due| due.moment()).unwrap_or(NEVER)
        };
        let due = |face: &FaceStanding| face.look.and_then(|look| look.moment());
        let looks = self.standing.faces.iter().enumerate();
        let looks = looks.filter(|(_, face)| face.now == FaceNow::Look);
        let (face, _) = looks.min_by_key(|(number, face)| (closes(face), due(face), *number))?;
        self.pot_before_looks().or(Some(Next::Dulled { face }))
    }

    /// The next face of the coat in hand, where its pot would else run out over the looks.
    fn pot_before_looks(&self) -> Option<Next> {
        let layer = self.standing.layer?;
        let (face, coat) = self.sprayable(layer)?;
        let pot = self.session.state().gun.as_ref()?;
        let last = self.standing.pot(pot).filter(|pot| pot.layer == layer)?.last_trigger?;
        let (this, rest) =
            (self.usual(layer, face), self.usual_of(&self.still_to_get(layer, coat), layer));
        // late for the rest of the coat and the looks, and in time for one face
        let tight = self.watch.reached(last.minus(rest).minus(POT_FIRST));
        let fits = !self.watch.reached(last.minus(this));
        let ready = tight && fits && self.is_ready(layer, coat, face);
        ready.then_some(Next::BeginCoat { face, layer, coat })
    }

    /// The next face that may be sprayed, where nothing else is wanted of its gate.
    pub(super) fn begin(&self, layer: u32) -> Option<Next> {
        let (face, coat) = self.sprayable(layer)?;
        let ready = self.is_ready(layer, coat, face);
        ready.then_some(Next::BeginCoat { face, layer, coat })
    }

    /// The first face whose own state allows the next coat of `layer`: lowest coat, then order.
    pub(super) fn sprayable(&self, layer: u32) -> Option<(usize, u32)> {
        self.in_layer(layer)
            .filter(|(_, _, face)| face.now.takes_a_coat() && face.turn.is_none())
            .filter(|(number, coat, _)| !self.waits_for_the_round(layer, *number, *coat))
            .map(|(number, coat, _)| (number, coat))
            .min_by_key(|(number, coat)| (*coat, *number))
    }

    /// Whether a face that could be sprayed waits for others: one whose coat was skipped until the
    /// first of the round opens.
    fn waits_for_the_round(&self, layer: u32, number: usize, coat: u32) -> bool {
        let state = self.session.state();
        let history = &state.faces[number];
        let skipped = coat > 1 && history.coats.last().is_some_and(|coat| coat.skipped);
        let others = || self.in_layer(layer).filter(|(other, ..)| *other != number);
        let sprayed = |face: usize| state.faces[face].coats.last().is_some_and(|it| !it.skipped);
        let has_it = |face: &crate::session::FaceHistory| {
            let mut of_layer = face.coats.iter().filter(|it| it.is_nth_of(layer));
            of_layer.nth(coat as usize - 1).is_some_and(|it| !it.skipped)
        };
        let opened = || {
            let may = others().any(|(other, next, face)| {
                next >= coat && sprayed(other) && face.now.takes_a_coat()
            });
            may || state.faces.iter().any(has_it)
        };
        let to_open = others().any(|(other, next, face)| {
            let early = matches!(face.now, FaceNow::Flashing | FaceNow::Look | FaceNow::Bare);
            next <= coat && (early || next < coat) && (sprayed(other) || next < coat)
        });
        skipped && to_open && !opened()
    }

    /// Whether coat `coat` of `layer`, or part of it, has begun on a face.
    pub(super) fn is_round_begun(&self, layer: u32, coat: u32) -> bool {
        let state = self.session.state();
        let mates = state.layer_mates(layer).into_iter();
        mates.filter_map(|face| state.faces.get(face)).any(|face| {
            let mut nth = 0;
            face.coats.iter().filter(|it| it.layer == layer).any(|it| {
                let of = nth + 1;
                nth += u32::from(!it.part_way);
                of >= coat && !it.skipped
            })
        })
    }

    /// Whether the round of a coat is in hand: begun, and sprayed on in this sitting.
    pub(super) fn is_round_in_hand(&self, layer: u32, coat: u32) -> bool {
        let state = self.session.state();
        let sitting = state.sitting.filter(|sitting| !self.watch.reached(sitting.ends));
        let coats = state.faces.iter().flat_map(|face| &face.coats);
        let sprayed = coats.filter(|coat| !coat.skipped).map(|coat| coat.begun).max();
        let here = sitting.zip(sprayed).is_some_and(|(sitting, last)| last >= sitting.began);
        here && self.is_round_begun(layer, coat)
    }

    /// The faces that hang and lack coat `coat` of `layer`, in spraying order.
    pub(super) fn still_to_get(&self, layer: u32, coat: u32) -> Vec<usize> {
        let lacking = self.in_layer(layer).filter(|(_, next, _)| *next <= coat);
        lacking.map(|(number, ..)| number).collect()
    }

    pub(super) fn usual(&self, layer: u32, face: usize) -> Span {
        usual_time(self.session.state(), self.session.plan(), layer, face).time
    }

    pub(super) fn usual_of(&self, faces: &[usize], layer: u32) -> Span {
        Span::from_ms(faces.iter().map(|face| self.usual(layer, *face).ms()).sum())
    }

    /// The lowest coat of `layer` that a face that hangs lacks.
    pub(super) fn coat_ahead(&self, layer: u32) -> u32 {
        self.in_layer(layer).map(|(_, coat, _)| coat).min().unwrap_or(1)
    }

    /// The faces that get a coat of `layer` next: (number, coat, standing). Those of a part that came
    /// late and waits are no part of it yet.
    pub(super) fn in_layer(&self, layer: u32) -> impl Iterator<Item = (usize, u32, &FaceStanding)> {
        let late = self.gate.waiting_late(layer);
        self.standing.faces.iter().enumerate().filter_map(move |(number, face)| {
            let (next_layer, coat) = face.next.filter(|_| !face.now.is_absent())?;
            (next_layer == layer && !late.contains(&number)).then_some((number, coat, face))
        })
    }
}
