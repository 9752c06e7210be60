//! Interruptions: called away, the fan fails, parts leave the booth and join.

use boothside_core::board::{Next, Stop, Waited};
use boothside_core::session::command::Command;
use serde_json::json;

use super::{begins, by_eye, checks, known, ready};
use crate::bench::{Bench, begin, min, on};
use crate::jobs::{checked, late, plain, sheet};

fn pause() -> Command {
    Command::Pause { why: "called away".into() }
}

#[test]
fn away_from_work_space_comes_back_and_what_is_due_takes_its_place() {
    let mut bench = ready(by_eye(20), 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.at(6.0).tell(pause());
    let board = bench.at(10.0).board();
    assert_eq!(board.next, Next::Resume);
    assert!(board.hero.is_some_and(|hero| hero.what == Waited::Back && hero.at == min(6.0)));
    assert!(board.soonest.is_some_and(|look| look.what == Waited::Look { face: 0 }));
    assert_eq!(bench.at(25.0).space(), Next::Dulled { face: 0 });
    assert_eq!(bench.session.state().paused, None, "whoever answers is back");
    bench.tell(begin("panel-b"));
    bench.tell(pause());
    assert_eq!(bench.board().next, Next::CoatOn { face: 1, layer: 1, coat: 1 });
}

#[test]
fn a_face_that_is_on_quicker_than_a_hand_can_is_taken_and_flagged() {
    let mut bench = ready(json!({}), 1, 1);
    bench.tell(begin("panel-a"));
    let n = bench.pass(1.5 / 60.0).tell(on("panel-a"));
    assert_eq!(bench.session.entry(n).expect("it").breaks, ["quick panel-a"]);
    assert_eq!(bench.session.state().faces[0].coats_on(1), 1);
}

#[test]
fn a_fan_that_fails_stops_the_work_and_is_asked_before_the_next_face() {
    let mut job = plain(sheet(json!({})), 2, 1);
    job.system.layers[0].ready =
        checks(json!([{ "id": "fan", "name": "fan on", "each": "coat", "group": "booth" }]));
    let with_check = known(Bench::new(checked(job)));
    let without = ready(json!({}), 2, 1);
    for (mut bench, asked) in [
        (with_check, Next::Check { layer: 1, coat: 1, check: "fan".into() }),
        (without, Next::FanOn),
    ] {
        bench.until_begin();
        bench.tell(begin("panel-a"));
        bench.at(2.0).tell(Command::SetFan { on: false });
        let board = bench.board();
        assert_eq!(board.next, Next::CoatOn { face: 0, layer: 1, coat: 1 });
        assert_eq!(board.stop, Some(Stop::FanOff { since: min(2.0) }));
        bench.space();
        assert_eq!(bench.board().stop, None);
        assert_eq!(bench.space(), asked);
        assert_eq!(bench.board().next, begins(1, 1));
    }
}

#[test]
fn where_no_part_hangs_one_is_waited_for_and_the_gun_is_left_as_it_is() {
    let mut bench = ready(json!({}), 2, 1);
    bench.coat("panel-a", 0.0, 5.0);
    bench.tell(Command::TakePartAway { part: "panel".into() });
    let wait = Next::Wait { what: Waited::ToHang { layer: 1 }, until: None };
    assert_eq!(bench.board().next, wait);
    bench.tell(Command::HangPart { part: "panel".into() });
    assert_eq!(bench.board().next, begins(1, 1));
}

#[test]
fn a_part_that_is_away_is_passed_over() {
    let mut job = plain(sheet(json!({})), 2, 1);
    job.parts.insert("late".into(), late());
    job.job.parts.push("late".into());
    let mut bench = known(Bench::new(checked(job)));
    bench.tell(Command::TakePartAway { part: "panel".into() });
    assert_eq!(bench.board().next, begins(2, 1));
}

#[test]
fn a_part_that_joins_in_a_round_waits_until_the_round_is_done() {
    let mut bench = ready(json!({}), 2, 2);
    bench.coat("panel-a", 0.0, 5.0);
    bench.coat("panel-b", 5.0, 10.0);
    bench.coat("panel-a", 26.0, 30.0);
    bench.tell(Command::JoinPart { part: "late".into(), is: Box::new(late()) });
    assert_eq!(bench.board().next, begins(1, 2), "coat 2 of the others");
    bench.tell(begin("panel-b"));
    bench.at(34.0).tell(on("panel-b"));
    assert_eq!(bench.until_begin(), Vec::<Next>::new(), "and no gate of the others again");
    assert_eq!(bench.board().next, begins(2, 1));
}
