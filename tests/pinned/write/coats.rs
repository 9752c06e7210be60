//! Coats by keys, from the first step to the last cure: looks, mishaps, films, the gun.

use boothside_core::board::{Next, Stage};
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::film::{Weighing, WetFilm};
use boothside_core::session::gun::{GunResult, GunSetting};

use super::hand::Hand;

pub(super) fn coats() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.until_the_first_coat();
    set_the_gun(&mut hand);
    first_coat(&mut hand);
    looks(&mut hand);
    films(&mut hand);
    second_coat(&mut hand);
    hand.until("the end of the cure", |hand| {
        hand.rig.desk.board().stage == Stage::Cure && !hand.next().is_action()
    });
    hand.entries()
}

fn face(face: &str) -> String {
    face.to_owned()
}

fn set_the_gun(hand: &mut Hand) {
    let noted = GunSetting { note: Some("new needle".into()), ..GunSetting::default() };
    hand.tell(Command::SetGun(noted));
    hand.tell(Command::SetGun(GunSetting {
        nozzle_mm: Some(1.3),
        inlet_kpa: Some(180.0),
        fan_turns: Some(2.5),
        fluid_turns: Some(3.0),
        cap: Some("M2".into()),
        result: Some(GunResult::Bad),
        note: Some("heavy at the ends".into()),
    }));
    let good = GunSetting { result: Some(GunResult::Good), ..GunSetting::default() };
    hand.tell(Command::SetGun(good));
    // before any coat is on it
    hand.tell(Command::SeeFault { face: face("cuff-left"), fault: "fisheye".into() });
}

fn first_coat(hand: &mut Hand) {
    hand.rig.key('c').space().pass(120.0).space();
    hand.rig.space().pass(90.0);
    hand.tell(Command::SeeFault { face: face("hatch-under"), fault: "run".into() });
    hand.tell(Command::StopFace { face: face("hatch-under") });
    hand.minutes(1);
    hand.rig.space().pass(40.0);
    hand.minutes(20);
    hand.tell(Command::StillSpraying { face: face("hatch-under") });
    hand.minutes(1);
    hand.rig.space();
    // the rest at once, begun when the coat began
    hand.rig.pass(100.0).key('r').key('1');
    hand.tell(Command::ReadWetFilm {
        face: face("cuff-right"),
        wet: vec![
            WetFilm { wet_um: 40.0, dry_tooth_um: None },
            WetFilm { wet_um: 25.0, dry_tooth_um: Some(50.0) },
        ],
    });
}

fn looks(hand: &mut Hand) {
    hand.until("a look", |hand| matches!(hand.next(), Next::Dulled { .. }));
    hand.rig.pass(1.5).key('w');
    hand.minutes(3);
    hand.rig.pass(1.5).key('d');
    hand.tell(Command::TouchedUp { face: face("hatch-under") });
    hand.tell(Command::WipedOff { face: face("cuff-left") });
    hand.tell(Command::Wiped { faces: vec![face("cuff-left"), face("cuff-right")] });
    hand.tell(Command::Scuffed { faces: vec![face("cuff-right")] });
    hand.tell(Command::Sanded { faces: vec![face("hatch-under")] });
}

fn films(hand: &mut Hand) {
    let weighing = Weighing { gross_g: 512.0, tare_g: 148.2, left_g: 220.5, wash_g: 4.0 };
    hand.tell(Command::AccountForPot { pot: "A".into(), coat: Some(1), weighing });
    let weighing = Weighing { gross_g: 520.0, tare_g: 0.0, left_g: 220.5, wash_g: 0.0 };
    hand.tell(Command::AccountForPot { pot: "A".into(), coat: None, weighing });
    let dry = |spots_um: Vec<f64>, under_um| Command::ReadDryFilm {
        face: face("hatch-top"),
        spots_um,
        under_um,
    };
    hand.tell(dry(vec![14.0, 16.5, 15.0], None));
    hand.tell(dry(vec![20.0, 22.0], Some(6.0)));
}

fn second_coat(hand: &mut Hand) {
    hand.tell(Command::ExtraCoat { face: face("hatch-top") });
    hand.tell(Command::SkipCoat { face: face("cuff-right") });
    hand.until("the second layer", |hand| {
        matches!(hand.next(), Next::BeginCoat { layer: 2, coat: 1, .. })
    });
    hand.rig.space().pass(3.0);
    hand.tell(Command::SkipCoat { face: face("hatch-top") });
}
