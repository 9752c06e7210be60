//! Closing: coats left, a cure that runs, masks that do not agree, steps after the last coat.

use boothside_core::board::{Next, Stage};
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::{Reason, Way};

use super::hand::Hand;

pub(super) fn ends() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        // one part, one layer: its end is what this is about
        work.job.parts.truncate(1);
        work.parts.retain(|name, _| name == "hatch");
        work.system.layers.truncate(1);
        work.sheets.retain(|name, _| name == "grey-primer");
        work.system.layers[0].coats = 1;
    });
    hand.tell(Command::LeaveMasksUncounted { way: Way::In });
    hand.tell(Command::CountMasks { way: Way::In, number: 12 });
    hand.until_the_first_coat();
    hand.tell(Command::Close { past: Some(Reason::OwnDecision) });
    hand.rig.pass(2.0).key('u');
    hand.until("the cure", |hand| hand.rig.desk.board().stage == Stage::Cure);
    hand.tell(Command::CountMasks { way: Way::Out, number: 11 });
    hand.tell(Command::LeaveMasksUncounted { way: Way::Out });
    hand.tell(Command::Close { past: Some(Reason::Repair) });
    hand.rig.pass(2.0).key('u');
    hand.tell(Command::CountMasks { way: Way::Out, number: 12 });
    hand.until("the end", |hand| hand.next() == Next::Over);
    hand.entries()
}
