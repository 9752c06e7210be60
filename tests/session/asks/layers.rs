//! From layer to layer, and the end: leftovers, masks off, cure, the close.

use boothside_core::board::{CleanWhy, Next, ReadWhy, Waited};
use boothside_core::material::sheet::CureStage;
use boothside_core::session::clocks::DueAt;
use boothside_core::session::command::Command;
use serde_json::json;

use super::{fit, known, measured, steps, with_pot};
use crate::bench::{Bench, begin_past, min, on};
use crate::jobs::{checked, layered, plain, sheet};

/// Under: nibs off from the stage 'sand', 4 h on; over it from 6 h, wiped with 10 min of flash.
fn two_layers() -> Bench {
    let under = sheet(json!({
        "to_next_layer": { "earliest": { "duration_s": 21600 }, "by": "clock" },
        "cure": [ { "stage": "sand", "after": { "duration_s": 14400 } } ]
    }));
    let over = sheet(json!({ "wipe": { "flash_s": 600, "limit_s": 7200 } }));
    let mut job = layered(vec![("under", under, 1), ("over", over, 1)], 1);
    job.system.layers[1].prep = steps(json!([
        { "id": "nibs", "name": "nibs off", "after": "sand" },
        { "id": "tack", "name": "tacked", "does": "wipe", "wait": { "duration_s": 600 } }
    ]));
    let mut bench = known(Bench::new(checked(job)));
    bench.coat("panel-a", 0.0, 5.0);
    bench
}

fn waits(what: Waited, minute: f64) -> Next {
    Next::Wait { what, until: Some(DueAt::At(min(minute))) }
}

#[test]
fn from_layer_to_layer_one_time_is_named_and_nobody_suits_up_for_a_wait() {
    let mut bench = two_layers();
    let pot = || "A".to_owned();
    assert_eq!(bench.space(), Next::CleanGun { pot: pot(), why: CleanWhy::NoCoatsLeft });
    assert_eq!(bench.space(), Next::Leftover { pot: pot(), ml: None });
    let board = bench.board();
    let nibs = Waited::StageBeforeStep { step: "nibs".into() };
    assert_eq!(board.next, waits(nibs.clone(), 245.0));
    assert!(board.hero.is_some_and(|hero| hero.what == nibs && hero.at == min(245.0)));
    assert!(board.soonest.is_some_and(|other| other.at == min(365.0)));
    bench.space();
    assert_eq!(bench.space(), Next::Step { step: "nibs".into(), again: false });
    // 15 min to mix: until then nothing, and then the air, the wipe, the pot while it flashes
    let wipe = Waited::WipeTime { layer: 2 };
    assert_eq!(bench.space(), waits(wipe, 350.0));
    assert_eq!(bench.space(), Next::Reading { why: ReadWhy::Old });
    assert!(matches!(bench.space(), Next::Wipe { step: Some(step), .. } if step == "tack"));
    assert!(matches!(bench.space(), Next::MixPot { layer: 2, .. }));
    bench.until_begin();
    assert_eq!(bench.now, min(365.0));
}

/// Whoever cleaned the gun wears what the first layer wants, whatever the next one asks.
#[test]
fn what_is_left_of_a_layer_is_put_aside_before_hours_of_waiting() {
    let mut bench = Bench::example();
    bench.space_until(|bench| matches!(bench.board().next, Next::CleanGun { .. }));
    bench.space();
    assert!(matches!(bench.space(), Next::Leftover { ml: Some(_), .. }));
    assert!(matches!(bench.board().next, Next::Wait { .. }), "{:?}", bench.board().next);
}

#[test]
fn much_of_a_two_part_mix_is_put_aside_and_little_or_one_part_is_not() {
    let oil = json!({ "mix": { "by": "volume", "components": [
        { "name": "Oil", "role": "base", "parts": 1 } ] } });
    for (fields, ml, asked) in
        [(json!({}), 101.0, Some(51.0)), (json!({}), 99.0, None), (oil, 400.0, None)]
    {
        let mut bench = with_pot(fields, 1, 1, ml);
        bench.coat("panel-a", 0.0, 5.0);
        assert!(matches!(bench.space(), Next::CleanGun { why: CleanWhy::NoCoatsLeft, .. }));
        let next = bench.board().next;
        match asked {
            Some(wanted) => {
                let Next::Leftover { ml: Some(ml), .. } = next else { panic!("{next:?}") };
                assert!((ml - wanted).abs() < 1e-6, "{ml}");
                bench.space();
                assert_eq!(bench.board().next, Next::Close);
                assert!(bench.board().pots.is_empty());
            }
            None => assert_eq!(next, Next::Close),
        }
    }
}

#[test]
fn an_extra_coat_told_after_the_last_takes_the_cleaning_back() {
    let mut bench = with_pot(json!({}), 1, 1, 300.0);
    bench.coat("panel-a", 0.0, 5.0);
    assert!(matches!(bench.board().next, Next::CleanGun { .. }));
    bench.tell(Command::ExtraCoat { face: "panel-a".into() });
    assert!(matches!(bench.board().next, Next::Wait { what: Waited::Opens { face: 0 }, .. }));
}

#[test]
fn masks_come_off_by_their_own_stage_then_the_film_cures_and_then_it_closes() {
    let cure = json!([
        { "stage": "dust_free", "after": { "duration_s": 3600 } },
        { "stage": "handle", "after": { "duration_s": 36000 } }
    ]);
    let mut job = plain(sheet(json!({ "cure": cure })), 1, 1);
    job.system.close = steps(json!([
        { "id": "unmask", "name": "masks off", "does": "mask", "after": "dust_free" }
    ]));
    let mut bench = known(Bench::new(checked(job)));
    bench.coat("panel-a", 0.0, 5.0);
    bench.tell(Command::CleanGun);
    bench.tell(Command::PutAside { pot: "A".into() });
    let unmask = Waited::StageBeforeStep { step: "unmask".into() };
    assert_eq!(bench.space(), waits(unmask, 65.0));
    assert!(matches!(bench.space(), Next::CountMasks { .. }));
    assert_eq!(bench.space(), waits(Waited::Cure { stage: CureStage::Handle }, 605.0));
    assert_eq!(bench.space(), Next::Close);
    assert_eq!(bench.board().next, Next::Over);
}

#[test]
fn a_coat_told_on_a_face_that_was_all_on_is_no_coat_to_come() {
    let mut bench = Bench::new(measured(json!({}), 1, 1));
    bench.tell(Command::Read(fit()));
    bench.tell(begin_past("panel-a"));
    bench.at(5.0).tell(on("panel-a"));
    let n = bench.at(6.0).tell(on("panel-a"));
    assert!(bench.session.entry(n).expect("it").breaks.contains(&"all-on panel-a".to_owned()));
    assert_eq!(bench.board().next, Next::Close);
}
