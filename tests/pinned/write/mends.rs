//! Taken back, restored, re-timed, told late, noted; figures mended, taken from the Book, kept.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::time::Span;

use super::hand::Hand;

pub(super) fn mends() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        let sheet = work.sheets.get_mut("example-blue").expect("a sheet");
        sheet.limits.dew_margin_c = None;
        sheet.limits.min_c = None;
    });
    hand.rig.space();
    // cleaned yesterday evening
    hand.rig.pass(2.0).key('t').enter("13h ago");
    hand.until_the_first_coat();
    struck(&mut hand);
    late(&mut hand);
    figures(&mut hand);
    hand.until("a look", |hand| matches!(hand.next(), Next::Dulled { .. }));
    hand.rig.space();
    hand.entries()
}

fn struck(hand: &mut Hand) {
    hand.rig.space().pass(100.0).space();
    hand.rig.pass(2.0).key('u').pass(2.0).key('u');
    let restored = hand.last();
    hand.tell(Command::Strike { n: restored });
    hand.minutes(1);
    hand.tell(Command::Strike { n: hand.last() });
    hand.rig.pass(2.0).space().pass(140.0).space();
    let on = hand.last();
    hand.tell(Command::NoteAbout { n: on, text: "stood in the draught".into() });
    hand.rig.key('n').enter("lamp \"B\" is out – mended");
    hand.tell(Command::Retime { n: on, when: hand.rig.t.minus(Span::from_seconds(30.0)) });
    hand.rig.pass(2.0).key('b').key('b');
}

/// Told after it was so.
fn late(hand: &mut Hand) {
    hand.minutes(30);
    hand.tell_late(12, Command::Dulled { face: "hatch-top".into() });
    hand.tell_late(10, Command::Wiped { faces: vec!["hatch-top".into()] });
    hand.tell_late(5, Command::Note { text: "door was open".into() });
    hand.tell_late(4, Command::CoatOn { face: "hatch-under".into() });
}

fn figures(hand: &mut Hand) {
    let change = |field: &str, new, why: &str| Command::ChangeFigure {
        field: field.into(),
        new,
        why: why.into(),
    };
    hand.tell(change("sheets.grey-primer.limits.max_pct", 70.0, "misread"));
    hand.tell(change("sheets.example-blue.limits.min_c", 14.0, "stands on the can"));
    let both = vec![("layers.1.dry_um".to_owned(), 15.0), ("shop.transfer_pct".to_owned(), 60.0)];
    hand.tell(Command::ChangeFigures { changes: both, why: "as sprayed before".into() });
    let figure = |field: &str, value: f64| (field.to_owned(), value);
    let figures = vec![
        figure("sheets.grey-primer.pot_life.life.duration_s", 12_600.0),
        figure("sheets.grey-primer.limits.max_c", -20.0),
    ];
    hand.tell(Command::TakeFigures { figures });
    hand.tell(Command::KeepFigures { figures: vec![figure("layers.2.dry_um", 20.0)] });
}
