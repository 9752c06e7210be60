//! What hangs, is away, joins, is left out; what is turned.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Reason;
use boothside_core::work::part::Part;
use serde_json::json;

use super::hand::Hand;

fn strip() -> Part {
    let face = |id: &str, after: Option<&str>| {
        let mut face = json!({ "id": id, "name": id, "area_m2": 0.11 });
        if let Some(after) = after {
            face["turned_after"] = json!(after);
        }
        face
    };
    let faces = [face("outer", None), face("inner", Some("outer"))];
    let part = json!({ "format": 1, "name": "Strip", "faces": faces });
    serde_json::from_value(part).expect("a part")
}

pub(super) fn parts() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        work.job.away = vec!["cuff".into()];
        let hatch = work.parts.get_mut("hatch").expect("a part");
        hatch.faces[1].turned_after = Some("top".into());
    });
    hand.until_the_first_coat();
    hand.begin_past("cuff-left", Reason::Repair).minutes(1).on("cuff-left");
    hand.tell(Command::HangPart { part: "cuff".into() });
    hand.tell(Command::LeaveFace { face: "cuff-right".into() });
    hand.begin_past("cuff-right", Reason::Tried).minutes(1).on("cuff-right");
    hand.tell(Command::TakeFaceBack { face: "cuff-right".into() });
    hand.coat_past("hatch-top").minutes(4);
    hand.begin_past("hatch-under", Reason::FigureWrong).minutes(2).on("hatch-under");
    hand.tell(Command::JoinPart { part: "strip".into(), is: Box::new(strip()) });
    hand.minutes(3).tell(Command::Turned { face: "strip-inner".into() });
    hand.coat_past("strip-outer").minutes(60);
    for part in ["cuff", "strip"] {
        hand.tell(Command::TakePartAway { part: part.into() });
    }
    hand.tell(Command::Turned { face: "hatch-under".into() });
    hand.until("the next layer", |hand| matches!(hand.next(), Next::BeginCoat { layer: 2, .. }));
    // a part that hangs late is a layer behind
    hand.tell(Command::HangPart { part: "cuff".into() });
    hand.begin_past("hatch-top", Reason::OwnDecision).minutes(2).on("hatch-top");
    for _ in 0..2 {
        hand.minutes(90).coat_past("hatch-top");
    }
    hand.minutes(30).begin_past("hatch-top", Reason::OwnDecision).minutes(2).on("hatch-top");
    hand.entries()
}
