//! The surface: its preparation, old enough and not too old, and the recoat windows.

use crate::session::clocks::DueAt;
use crate::session::standing::{FaceNow, FaceStanding, Hold, StepNow, StepStanding, Wanting};
use crate::session::time::{Moment, Span};
use crate::work::system::{Does, Group, Step};

use super::{Clears, Item, Look, ReadyLine, ReadyNow};

/// The steps of the layer ahead, or of the closing.
pub(super) fn steps(look: &Look<'_>) -> Vec<ReadyLine> {
    look.standing.steps.iter().map(|step| step_line(look, step)).collect()
}

fn step_line(look: &Look<'_>, at: &StepStanding) -> ReadyLine {
    let ready = at.wait.map(|wait| wait.at);
    let fresh_until = fresh_until(look, at);
    let past = fresh_until.is_some_and(|until| look.watch.reached(until));
    let (now, clears) = match at.now {
        StepNow::ToDo => (ReadyNow::Hold, Clears::Step),
        StepNow::NotYet => (ReadyNow::Hold, Clears::Wait { until: at.not_before.map(DueAt::At) }),
        StepNow::Waiting => (ReadyNow::Hold, Clears::Wait { until: ready }),
        StepNow::Done if past => (ReadyNow::Caution, Clears::Step),
        StepNow::Done => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::Step {
        step: at.id.clone(),
        now: at.now,
        done: at.done,
        ready,
        fresh_until,
        again: at.again,
    };
    let line = ReadyLine::new(format!("step {}", at.id), Group::Surface, item, now, clears);
    line.holding(step_hold(at), look.state)
}

fn step_hold(at: &StepStanding) -> Option<Hold> {
    let step = at.id.clone();
    let wanting = match at.now {
        StepNow::ToDo => Wanting::Step { step, again: at.again },
        StepNow::NotYet => Wanting::StepNotYet { step, until: at.not_before },
        // a wait that was not kept to its end, by the painter's word
        StepNow::Waiting | StepNow::Done => {
            Wanting::StepWait { step, until: at.wait.map(|wait| wait.at) }
        }
    };
    let hold = Hold::Wanting(wanting);
    Some(hold).filter(|_| at.now != StepNow::Done || at.wait.is_some())
}

/// Until when a step is fresh: its own age limit, and for a wipe of a layer not yet begun also the
/// sheet's limit of a wipe.
fn fresh_until(look: &Look<'_>, at: &StepStanding) -> Option<Moment> {
    let layer = look.state.layer(look.layer);
    let step: Option<&Step> = layer.and_then(|layer| layer.prep.iter().find(|s| s.id == at.id));
    let wipes = step.is_some_and(|step| step.does == Some(Does::Wipe)) && !begun(look);
    let rule = look.state.sheet(look.layer).and_then(|sheet| sheet.wipe).filter(|_| wipes);
    let by_sheet =
        rule.zip(at.done).map(|(wipe, done)| done.plus(Span::from_seconds(wipe.limit_s)));
    [at.too_old, by_sheet].into_iter().flatten().min()
}

fn begun(look: &Look<'_>) -> bool {
    look.state.layer_begun(look.layer)
}

/// The recoat windows of the faces that get the coat; nothing while all are bare.
pub(super) fn windows(look: &Look<'_>) -> Option<ReadyLine> {
    let ahead: Vec<(usize, &FaceStanding)> = look
        .standing
        .faces
        .iter()
        .enumerate()
        .filter(|(_, face)| face.next.is_some_and(|(layer, _)| layer == look.layer))
        .filter(|(_, face)| face.now != FaceNow::OnTheGun && !face.now.is_absent())
        .collect();
    if ahead.iter().all(|(_, face)| face.now == FaceNow::Bare) {
        return None;
    }
    let of = |now: FaceNow| -> Vec<usize> {
        ahead.iter().filter(|(_, face)| face.now == now).map(|(number, _)| *number).collect()
    };
    let (wipe, sand) = (of(FaceNow::Wipe), of(FaceNow::Sand));
    let open = ahead.iter().filter(|(_, face)| face.now.takes_a_coat() && face.turn.is_none());
    let open = open.count();
    let early = ahead.len() - open - wipe.len() - sand.len();
    let closes = ahead.iter().filter(|(_, face)| face.now.takes_a_coat());
    let closes = closes.filter_map(|(number, face)| Some((*number, face.until?.moment()?)));
    let closes = closes.min_by_key(|(_, at)| *at);
    let closing = !of(FaceNow::Closing).is_empty();
    let until = ahead.iter().filter(|(_, face)| !face.now.takes_a_coat());
    let until = until.filter_map(|(_, face)| face.until?.moment()).min().map(DueAt::At);
    let (now, clears) = match () {
        () if !sand.is_empty() => (ReadyNow::Hold, Clears::Sand),
        () if !wipe.is_empty() => (ReadyNow::Hold, Clears::Wipe),
        () if open == 0 => (ReadyNow::Hold, Clears::Wait { until }),
        () if closing => (ReadyNow::Caution, Clears::Nothing),
        () => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::Windows { open, early, closes, wipe, sand };
    Some(ReadyLine::new("windows", Group::Surface, item, now, clears))
}
