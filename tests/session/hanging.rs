//! Parts and faces that join, leave, hang or are away.

use boothside_core::board::{Next, ReadyNow, Stage, Waited};
use boothside_core::session::command::Command;
use boothside_core::session::event::{Event, Reason};
use boothside_core::session::standing::{FaceNow, Hold};
use boothside_core::session::{Preparing, Refusal};
use boothside_core::work::job::FullJob;
use serde_json::json;

use crate::bench::{Bench, begin, begin_past, min, on};
use crate::jobs::{checked, late, layered, plain, sheet, step};

fn away(part: &str) -> Command {
    Command::TakePartAway { part: part.into() }
}

fn hang(part: &str) -> Command {
    Command::HangPart { part: part.into() }
}

fn join() -> Command {
    Command::JoinPart { part: "late".into(), is: Box::new(late()) }
}

/// Two layers over two faces; each layer has a step, the first a check too.
fn two_layers() -> FullJob {
    let gap =
        |s: u32| json!({ "to_next_layer": { "earliest": { "duration_s": s }, "by": "clock" } });
    let mut job = layered(vec![("one", sheet(gap(600)), 1), ("two", sheet(gap(600)), 2)], 2);
    job.system.layers[0].prep =
        vec![step(json!({ "id": "sand", "name": "sanded", "does": "sand" }))];
    job.system.layers[1].prep =
        vec![step(json!({ "id": "rub", "name": "rubbed", "does": "scuff" }))];
    job.system.layers[0].ready = serde_json::from_value(json!([
        { "id": "gloves", "name": "gloves", "group": "protection" },
        { "id": "mask", "name": "masked", "group": "plugs_and_masks" }
    ]))
    .expect("checks");
    checked(job)
}

/// Presses SPACE until `stop`, a minute a press.
fn space_until(bench: &mut Bench, stop: impl Fn(&Next) -> bool) -> Vec<Next> {
    let mut done = Vec::new();
    for _ in 0..60 {
        let next = bench.board().next;
        if stop(&next) {
            return done;
        }
        done.push(bench.space());
        bench.pass(1.0);
    }
    panic!("never came: {:?}", bench.board().next)
}

fn begins(next: &Next, layer: u32, face: usize) -> bool {
    matches!(next, Next::BeginCoat { face: of, layer: in_layer, .. } if (*of, *in_layer) == (face, layer))
}

#[test]
fn a_part_that_is_away_is_neither_offered_nor_counted_and_its_clock_runs_on() {
    let mut job = plain(sheet(json!({})), 2, 2);
    job.parts.insert("late".into(), late());
    job.job.parts.push("late".into());
    job.job.away = vec!["late".into()];
    let mut bench = Bench::new(checked(job));
    let board = bench.board();
    let nows: Vec<FaceNow> = board.faces.iter().map(|face| face.at.now).collect();
    assert_eq!(nows, [FaceNow::Bare, FaceNow::Bare, FaceNow::Away, FaceNow::Away]);
    bench.coat("panel-a", 0.0, 1.0).coat("panel-b", 1.0, 2.0);
    bench.at(3.0).tell(away("panel"));
    let face = bench.face(0);
    assert_eq!((face.now, face.film), (FaceNow::Away, FaceNow::Flashing));
    assert_eq!(face.opens.and_then(|due| due.moment()), Some(min(21.0)));
    let wait = Next::Wait { what: Waited::ToHang { layer: 1 }, until: None };
    assert_eq!(bench.board().next, wait);
    assert_eq!(bench.board().stage, Stage::Prep { layer: 1 });
    bench.at(22.0).tell(hang("panel"));
    assert_eq!(bench.face(0).now, FaceNow::Open);
}

#[test]
fn the_rest_of_a_coat_is_on_the_faces_that_hang() {
    let mut job = plain(sheet(json!({})), 3, 1);
    job.parts.insert("late".into(), late());
    job.job.parts.push("late".into());
    job.job.away = vec!["late".into()];
    let mut bench = Bench::new(checked(job));
    bench.at(1.0).tell(Command::LeaveFace { face: "panel-b".into() });
    bench.at(2.0).tell(Command::RestOn { layer: 1, coat: 1 });
    let last = bench.session.entries().last().expect("an entry");
    let Event::RestFinished { faces, .. } = &last.events[0] else { panic!("{last:?}") };
    assert_eq!(faces[..], ["panel-a", "panel-c"]);
    assert!(last.breaks.iter().all(|rule| !rule.starts_with("away") && !rule.starts_with("left")));
}

#[test]
fn a_coat_on_an_absent_face_is_a_fact_and_flagged_and_its_beginning_is_held() {
    let mut bench = Bench::new(plain(sheet(json!({})), 2, 1));
    bench.at(1.0).tell(Command::LeaveFace { face: "panel-b".into() });
    let held = bench.try_tell(&begin("panel-b"), None);
    let Err(Refusal::Held(holds)) = held else { panic!("{held:?}") };
    assert_eq!(holds[0], Hold::Left { face: "panel-b".into() });
    let n = bench.at(2.0).tell(on("panel-b"));
    assert!(bench.session.entry(n).expect("it").breaks.contains(&"left panel-b".to_owned()));
    assert_eq!(bench.face_now(1), FaceNow::Left);
    let n = bench.at(3.0).tell(away("panel"));
    assert_eq!(bench.face_now(0), FaceNow::Away);
    bench.tell(Command::Strike { n });
    assert_eq!((bench.face_now(0), bench.face_now(1)), (FaceNow::Bare, FaceNow::Left));
}

#[test]
fn a_part_that_joins_in_the_gap_is_brought_up_first_by_its_own_steps_checks_and_pot() {
    let mut bench = Bench::new(two_layers());
    space_until(&mut bench, |next| matches!(next, Next::Step { step, .. } if step == "rub"));
    bench.tell(join());
    let board = bench.board();
    assert_eq!(board.faces.len(), 4);
    let gloves = Next::Check { layer: 1, coat: 0, check: "gloves".into() };
    assert_eq!(board.next, gloves, "before dust");
    let done = space_until(&mut bench, |next| begins(next, 1, 2));
    // the first part was sanded, and is not told to be sanded again
    let steps =
        done.iter().filter(|next| matches!(next, Next::Step { step, .. } if step == "sand"));
    assert_eq!(steps.count(), 1);
    let checks = done.iter().filter(|next| matches!(next, Next::Check { .. })).count();
    assert_eq!(checks, 2, "all that spray this layer came late: {done:?}");
    let state = bench.session.state();
    let sanded = |face: usize| {
        let done = state.faces[face].prepared.iter();
        done.filter(|done| done.how == Preparing::Sanded).count()
    };
    assert_eq!([sanded(0), sanded(2)], [1, 1], "nobody sanded the panel again");
    // under lies below top, and is turned up by word once top has the layer
    let done = space_until(&mut bench, |next| begins(next, 2, 0));
    assert!(done.contains(&Next::Turn { face: 3 }), "{done:?}");
    let of_two = |next: &&Next| matches!(next, Next::Step { step, .. } if step == "rub");
    assert_eq!(done.iter().filter(of_two).count(), 1, "one rub for all: {done:?}");
}

#[test]
fn a_part_that_joins_never_calls_the_work_back_from_a_layer_under_way() {
    let mut bench = Bench::new(two_layers());
    space_until(&mut bench, |next| begins(next, 2, 1));
    bench.tell(join());
    assert!(begins(&bench.board().next, 2, 1), "{:?}", bench.board().next);
    // what is under way is not held by what came late
    bench.tell(begin("panel-b"));
    let done = space_until(&mut bench, |next| matches!(next, Next::Step { .. }));
    let early = |next: &&Next| matches!(next, Next::BeginCoat { layer: 1, .. });
    assert_eq!(done.iter().filter(early).count(), 0);
    assert!(bench.session.state().layer_done(1, 2), "the layer under way is on first");
    assert_eq!(bench.session.state().layer_in_work(), Some(1));
    assert_eq!(bench.board().stage, Stage::Prep { layer: 1 });
    let lacking = &bench.board().steps[0].lacking;
    assert_eq!(lacking[..], [2, 3]);
    let done = space_until(&mut bench, |next| *next == Next::Close);
    let coats = |face: usize| {
        let of = |next: &&Next| matches!(next, Next::CoatOn { face: it, .. } if *it == face);
        done.iter().filter(of).count()
    };
    assert_eq!([0, 1, 2, 3].map(coats), [0, 0, 3, 3]);
}

/// The first coat is on one face of two: the part that joins waits for the other, and its own face
/// alone is held by what it lacks.
#[test]
fn what_a_part_lacks_that_waits_holds_no_other_face() {
    let mut bench = Bench::new(two_layers());
    space_until(&mut bench, |next| begins(next, 1, 1));
    bench.tell(join());
    assert!(begins(&bench.board().next, 1, 1), "{:?}", bench.board().next);
    let Err(Refusal::Held(holds)) = bench.try_tell(&begin("late-top"), None) else {
        panic!("nobody sanded it")
    };
    let holds: Vec<String> = holds.iter().map(ToString::to_string).collect();
    assert_eq!(holds, ["step sand", "check 1.0 mask"]);
    bench.tell(begin("panel-b"));
    bench.pass(1.0).tell(on("panel-b"));
    let done = space_until(&mut bench, |next| begins(next, 1, 2));
    let sand = |next: &&Next| matches!(next, Next::Step { step, .. } if step == "sand");
    assert_eq!(done.iter().filter(sand).count(), 1, "its own gate: {done:?}");
}

/// Between two coats a part that lacks its steps waits until the others have the layer; one that is
/// prepared joins at once.
#[test]
fn a_part_that_is_not_prepared_waits_for_the_layer_and_one_that_is_joins() {
    let gap = json!({ "between_coats": { "earliest": { "duration_s": 600 }, "by": "clock" } });
    let mut job = plain(sheet(gap), 2, 2);
    let clean = json!({ "id": "clean", "name": "cleaned", "wait": { "duration_s": 43200 } });
    job.system.layers[0].prep = vec![step(clean)];
    let mut bench = Bench::new(checked(job));
    space_until(&mut bench, |next| begins(next, 1, 1));
    space_until(&mut bench, |next| !begins(next, 1, 1) && !matches!(next, Next::CoatOn { .. }));
    bench.tell(join());
    let mut prepared = bench.clone();
    let done = space_until(&mut bench, |next| matches!(next, Next::Step { .. }));
    let second = |next: &&Next| matches!(next, Next::CoatOn { coat: 2, .. });
    assert_eq!(done.iter().filter(second).count(), 2, "the others first: {done:?}");
    prepared.tell(Command::StepDone { step: "clean".into() });
    assert!(!begins(&prepared.board().next, 1, 2), "it dries");
    prepared.tell(Command::GoPast { hold: "wait clean".into(), reason: Reason::OwnDecision });
    prepared.pass(12.0 * 60.0);
    space_until(&mut prepared, |next| begins(next, 1, 2));
}

#[test]
fn what_hangs_is_beginning_anew_and_not_since_the_others_began() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.coat("panel-a", 0.0, 1.0);
    bench.at(600.0).tell(join());
    bench.at(610.0).tell(Command::RestOn { layer: 1, coat: 1 });
    assert_eq!(bench.face(2 - 1).begun, Some(min(600.0)), "not before it came");
}

#[test]
fn checks_of_the_parts_own_are_asked_again_in_the_middle_of_a_layer_and_others_are_not() {
    let mut bench = Bench::new(two_layers());
    space_until(&mut bench, |next| begins(next, 1, 1));
    bench.tell(join());
    let board = bench.board();
    let now = |id: &str| board.ready.iter().find(|line| line.id == id).map(|line| line.now);
    assert_eq!(now("check gloves"), Some(ReadyNow::Said), "the gloves are on");
    assert_eq!(now("check mask"), Some(ReadyNow::NotKnown), "the new part is not masked");
}

#[test]
fn a_step_that_was_done_while_a_part_was_away_is_not_done_on_it() {
    let mut bench = Bench::new(two_layers());
    space_until(&mut bench, |next| matches!(next, Next::Step { step, .. } if step == "rub"));
    bench.tell(join());
    bench.tell(away("panel"));
    let done = space_until(&mut bench, |next| begins(next, 2, 2));
    assert!(done.iter().any(|next| matches!(next, Next::Step { step, .. } if step == "rub")));
    bench.tell(hang("panel"));
    assert_eq!(bench.board().next, Next::Step { step: "rub".into(), again: false });
    assert_eq!(bench.board().steps[0].lacking[..], [0, 1]);
}

#[test]
fn a_joining_is_refused_where_the_job_has_it_and_struck_with_what_was_told_of_it() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 2));
    let n = bench.tell(join());
    let again = bench.try_tell(&join(), None);
    assert_eq!(again, Err(Refusal::InTheJob { part: "late".into() }));
    let mut unfit = late();
    unfit.faces[0].area_m2 = 0.0;
    let unfit = Command::JoinPart { part: "unfit".into(), is: Box::new(unfit) };
    assert!(matches!(bench.try_tell(&unfit, None), Err(Refusal::Unfit(_))));
    let own = bench.at(1.0).tell(begin_past("late-top"));
    let both = bench.at(2.0).tell(begin_past("panel-a"));
    bench.at(3.0).tell(on("panel-a"));
    bench.tell(Command::Strike { n });
    let struck = |n: u64| bench.session.is_struck(n);
    assert_eq!((struck(n), struck(own), struck(both)), (true, true, false));
    assert_eq!(bench.board().faces.len(), 1);
    assert_eq!(bench.face_now(0), FaceNow::Flashing, "the panel's coat stays");
    bench.tell(join());
    assert_eq!(bench.board().faces.len(), 3);
}

#[test]
fn a_session_is_not_closed_by_space_while_a_part_with_coats_to_come_is_away() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.tell(join());
    bench.tell(away("late"));
    let done = space_until(&mut bench, |next| matches!(next, Next::Wait { until: None, .. }));
    assert!(!done.contains(&Next::Close));
    assert_eq!(bench.board().next, Next::Wait { what: Waited::Away { face: 1 }, until: None });
    let mut closed = bench.clone();
    closed.tell(Command::Close { past: None });
    assert_eq!(closed.board().next, Next::Over);
    for face in ["late-top", "late-under"] {
        bench.tell(Command::LeaveFace { face: face.into() });
    }
    assert_eq!(bench.board().next, Next::Close, "what is left out is not waited for");
}

#[test]
fn demand_counts_what_hangs() {
    let film = json!({ "mix": { "by": "volume", "solids_pct": 40, "components": [
        { "name": "Base", "role": "base", "parts": 1 } ] } });
    let mut job = plain(sheet(film), 2, 1);
    job.system.layers[0].dry_um = Some(20.0);
    job.shop.transfer_pct = Some(50.0);
    let mut bench = Bench::new(checked(job));
    let need = |bench: &Bench| match bench.board().next {
        Next::MixPot { amount_ml, .. } => amount_ml.expect("every figure is set"),
        other => panic!("{other:?}"),
    };
    // by hand: 1 m² · 20 µm / 0.4 / 0.5 = 100 mL; late adds 0.5 m²
    bench.tell(Command::SomeoneKnows);
    bench.read(20.0, 50.0);
    assert!((need(&bench) - 100.0).abs() < 1e-9);
    bench.tell(join());
    assert!((need(&bench) - 150.0).abs() < 1e-9);
    bench.tell(Command::LeaveFace { face: "panel-a".into() });
    assert!((need(&bench) - 100.0).abs() < 1e-9);
    bench.tell(away("late"));
    assert!((need(&bench) - 50.0).abs() < 1e-9);
}
