//! Holds that a painter goes past, where no other log does.

use boothside_core::board::Next;
use boothside_core::material::recipe::Told;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Reason;

use super::hand::Hand;

/// Everything wanted before a first coat, in order, and each gone past.
pub(super) fn gates() -> Vec<Entry> {
    let mut hand = Hand::new();
    // nothing is done yet: steps, checks, the pot
    hand.begin_past("hatch-top", Reason::OwnDecision).minutes(1).on("hatch-top");
    for hold in ["someone", "masks-in", "reading"] {
        hand.go_past(hold, Reason::Tried).minutes(1);
    }
    hand.until("a wait", |hand| matches!(hand.next(), Next::Wait { .. }));
    hand.begin_past("hatch-under", Reason::SheetAllows).minutes(1).on("hatch-under");
    hand.until("the next layer's steps", |hand| {
        let board = hand.rig.desk.board();
        board.stage == (boothside_core::board::Stage::Gap { layer: 2 })
    });
    // what a stage of cure must come before
    hand.begin_past("hatch-top", Reason::Repair).minutes(1).on("hatch-top");
    hand.minutes(60 * 30);
    hand.begin_past("hatch-under", Reason::FigureWrong).minutes(1).on("hatch-under");
    hand.entries()
}

/// A pot that lacks a part, is unstirred, stands, is out of ratio, is past its life.
pub(super) fn pots() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.until("a mix", |hand| matches!(hand.next(), Next::MixPot { .. } | Next::Pour { .. }));
    let ml = |ml| Poured::Amount(Told { ml: Some(ml), g: None });
    let pour = |component, amount| Command::Pour { pot: None, layer: 1, component, amount };
    hand.tell(pour(0, ml(160.0)));
    hand.begin_past("hatch-top", Reason::Tried).minutes(1).on("hatch-top");
    hand.tell(pour(1, ml(40.0)));
    hand.until("a stir", |hand| matches!(hand.next(), Next::Stir { .. }));
    hand.begin_past("hatch-under", Reason::Tried).minutes(1).on("hatch-under");
    hand.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    // more of the activator than the ratio takes
    hand.tell(Command::Pour { pot: Some("A".into()), layer: 1, component: 1, amount: ml(15.0) });
    hand.begin_past("cuff-left", Reason::OwnDecision).minutes(1).on("cuff-left");
    hand.minutes(12).read(26.0, 40.0, 26.0);
    hand.tell(Command::FillCup { pot: "A".into() });
    // two hours and three quarters: past the last trigger
    hand.minutes(150);
    hand.begin_past("cuff-right", Reason::SheetAllows).minutes(2).on("cuff-right");
    hand.go_past("stop-and-clean A", Reason::Tried);
    hand.go_past("pot-short A", Reason::OwnDecision);
    hand.minutes(60);
    hand.begin_past("hatch-top", Reason::Repair).minutes(2).on("hatch-top");
    for hold in ["clean A", "leftover A"] {
        hand.go_past(hold, Reason::OwnDecision);
    }
    hand.minutes(20);
    hand.entries()
}

/// Coats of which no pot is told.
pub(super) fn unmixed() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.until("a step", |hand| matches!(hand.next(), Next::Step { .. }));
    // cleaned, and not yet dry
    hand.rig.space();
    for _ in 0..3 {
        hand.minutes(5).begin_past("hatch-top", Reason::OwnDecision).minutes(2).on("hatch-top");
    }
    hand.begin_past("hatch-under", Reason::Tried).minutes(1);
    hand.tell(Command::SeeFault { face: "hatch-under".into(), fault: "run".into() });
    hand.tell(Command::StopFace { face: "hatch-under".into() });
    hand.tell(Command::RestOn { layer: 1, coat: 1 }).minutes(8);
    hand.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    hand.minutes(20).on("hatch-top");
    hand.tell(Command::GoPast { hold: "look hatch-under".into(), reason: Reason::Repair });
    hand.minutes(60 * 9).begin_past("hatch-under", Reason::OwnDecision).minutes(1);
    hand.on("hatch-under").minutes(60 * 20);
    hand.begin_past("cuff-left", Reason::OwnDecision).minutes(1).on("cuff-left");
    hand.entries()
}
