//! Asks that no other log comes to: the fan, a return to work, a pot that lasts no longer, a window
//! that closes, sanding, parts that are away.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Reason;
use boothside_core::session::time::Span;

use super::hand::Hand;

fn mixes(hand: &Hand) -> bool {
    matches!(hand.next(), Next::MixPot { .. } | Next::Pour { why: Some(_), .. })
}

fn begins(hand: &Hand) -> bool {
    matches!(hand.next(), Next::BeginCoat { .. })
}

pub(super) fn asks() -> Vec<Entry> {
    // no check asks for the fan, so that it is asked for when it is off
    let mut hand = Hand::with(|work| {
        for layer in &mut work.system.layers {
            layer.ready.retain(|check| check.id != "fan");
        }
    });
    hand.until_the_first_coat();
    fan(&mut hand);
    hand.rig.pass(2.0).key('p').key('2');
    hand.minutes(20);
    hand.rig.space();
    hand.until("all on", |hand| matches!(hand.next(), Next::Wait { .. }));
    pots(&mut hand);
    window(&mut hand);
    hand.entries()
}

fn fan(hand: &mut Hand) {
    hand.rig.space();
    hand.minutes(1).tell(Command::SetFan { on: false });
    hand.minutes(1).tell(Command::SetFan { on: true });
    hand.rig.space();
    hand.tell(Command::SetFan { on: false }).minutes(1);
    hand.rig.space();
}

/// A pot that is too old for one more face, past its last trigger, dead.
fn pots(hand: &mut Hand) {
    hand.until("the second coat", begins).minutes(45);
    hand.until("the second coat on the others", begins);
    let pot = hand.rig.desk.board().pots[0].at.clone();
    let last = pot.last_trigger.expect("it has one");
    // SPACE does what it said a moment ago, so the hand waits
    hand.rig.leap_to(last.minus(Span::from_minutes(1))).pass(2.0);
    hand.until("a new pot", mixes);
    hand.rig.leap_to(last.plus(Span::from_minutes(1)));
    let dead = pot.dead.and_then(|due| due.moment()).expect("it dies");
    hand.rig.leap_to(dead.plus(Span::from_minutes(1)));
    // the next one is mixed first
    hand.go_past("leftover A", Reason::OwnDecision).minutes(1);
}

/// A window that is over.
fn window(hand: &mut Hand) {
    hand.until("the second coat", begins);
    hand.minutes(60 * 14);
    hand.until("sanding", |hand| matches!(hand.next(), Next::Sand { .. }));
    hand.minutes(1);
    hand.rig.space();
}

/// A margin that goes; a window that closes while its coat could be begun; a pot for the coat after
/// this one.
pub(super) fn closes() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        let sheet = work.sheets.get_mut("grey-primer").expect("a sheet");
        sheet.pot_life = None;
        work.system.layers[0].coats = 3;
    });
    hand.until("a mix", mixes);
    let amount_ml = Some(60.0);
    hand.tell(Command::MixPot { layer: 1, amount_ml, lots: Vec::new() });
    hand.until_the_first_coat();
    for surface_c in [19.0, 17.2, 15.6] {
        hand.read(20.0, 60.0, surface_c).minutes(11);
    }
    hand.read(20.0, 50.0, 20.0);
    hand.until_the_first_coat();
    hand.until("the first look", |hand| matches!(hand.next(), Next::Dulled { .. }));
    hand.until("the second coat", begins);
    let open_until = hand.rig.desk.board().faces[0].at.open_until;
    let closes = open_until.and_then(|due| due.moment()).expect("it closes");
    hand.rig.leap_to(closes.minus(Span::from_minutes(9)));
    hand.until("the second coat", begins);
    hand.minutes(1);
    for _ in 0..10 {
        hand.minutes(1).rig.space();
    }
    hand.entries()
}

/// Nothing hangs; then one part does, and the other stays away.
pub(super) fn away() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        work.job.away = work.job.parts.clone();
        work.system.layers.truncate(1);
        work.sheets.retain(|name, _| name == "grey-primer");
        work.system.layers[0].coats = 1;
    });
    hand.minutes(10).tell(Command::HangPart { part: "hatch".into() });
    hand.until_the_first_coat();
    hand.until("the end of what hangs", |hand| {
        let waits = matches!(hand.next(), Next::Wait { until: None, .. });
        waits || matches!(hand.next(), Next::Close | Next::Over)
    });
    hand.minutes(5);
    hand.tell(Command::Note { text: "cuff comes tomorrow".into() });
    hand.entries()
}
