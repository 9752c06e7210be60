//! Readings, limits of air, part and paint, the trend, the fan, the cartridges, interruptions.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::{Reading, Reason};

use super::hand::Hand;

fn reading(figures: [Option<f64>; 5]) -> Reading {
    let [air_c, humidity_pct, surface_c, surface_warmest_c, pot_c] = figures;
    Reading { air_c, humidity_pct, surface_c, surface_warmest_c, pot_c }
}

fn by(place: Option<&str>, with: Option<&str>) -> Command {
    Command::ReadBy {
        reading: reading([Some(19.0), Some(55.0), Some(18.5), None, None]),
        place: place.map(str::to_owned),
        with: with.map(str::to_owned),
    }
}

pub(super) fn air() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        let limits = &mut work.sheets.get_mut("grey-primer").expect("a sheet").limits;
        limits.min_pct = Some(30.0);
    });
    hand.tell(Command::SkipReading);
    hand.until_the_first_coat();
    hand.tell(by(Some("by the door"), Some("whirling, no 2")));
    hand.tell(by(None, Some("whirling, no 2"))).tell(by(Some("at the part"), None));
    outside(&mut hand);
    trend(&mut hand);
    booth(&mut hand);
    hand.entries()
}

/// Each limit passed, and a coat begun all the same.
fn outside(hand: &mut Hand) {
    let all = [
        ("hatch-top", [Some(12.0), Some(25.0), Some(11.0), Some(13.0), Some(10.0)]),
        ("hatch-under", [Some(35.0), Some(80.0), Some(31.0), Some(36.0), Some(33.0)]),
        ("cuff-left", [Some(20.0), Some(99.0), Some(18.0), None, Some(20.0)]),
    ];
    for (face, figures) in all {
        hand.tell(Command::Read(reading(figures))).minutes(1);
        hand.begin_past(face, Reason::Tried).minutes(2).on(face).minutes(3);
    }
    hand.tell(Command::Read(reading([None, None, Some(20.0), None, None])));
}

/// The margin goes, an hour at a time.
fn trend(hand: &mut Hand) {
    hand.minutes(60 * 5);
    for surface_c in [21.0, 19.0, 17.0] {
        hand.read(20.0, 60.0, surface_c).minutes(30);
    }
    hand.read(20.0, 60.0, 15.4);
    hand.begin_past("cuff-right", Reason::SheetAllows);
    hand.minutes(2).on("cuff-right");
}

fn booth(hand: &mut Hand) {
    hand.tell(Command::ReadCartridges { used_h: 21.5 });
    hand.minutes(20);
    hand.read(20.0, 50.0, 20.0);
    hand.tell(Command::SetFan { on: false });
    hand.begin_past("hatch-top", Reason::Repair);
    hand.minutes(2).on("hatch-top");
    hand.tell(Command::SetFan { on: true });
    hand.tell(Command::SomeoneKnows);
    hand.rig.pass(2.0).key('p').key('2');
    hand.minutes(25);
    hand.rig.key('p');
    hand.tell(Command::Pause { why: "compressor".into() }).minutes(10);
    // whoever works is back
    hand.tell(Command::Dulled { face: "hatch-top".into() });
    hand.minutes(70);
}

/// A clock without a law that opens in the cold.
pub(super) fn cold() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        use boothside_core::material::sheet::OpenedBy;
        use boothside_core::material::timing::Timing;
        let sheet = work.sheets.get_mut("grey-primer").expect("a sheet");
        let gap = &mut sheet.between_coats;
        gap.earliest = Timing { at_c: Some(23.0), ..Timing::steady(1200.0) };
        gap.by = OpenedBy::Clock;
    });
    hand.until_the_first_coat();
    hand.rig.space().pass(120.0).space();
    hand.read(8.0, 40.0, 7.0);
    hand.minutes(25);
    hand.begin_past("hatch-top", Reason::OwnDecision).minutes(2).on("hatch-top");
    hand.read(19.0, 50.0, 18.0).minutes(30);
    hand.until("the first layer", |hand| !matches!(hand.next(), Next::BeginCoat { .. }));
    hand.entries()
}

/// The end of a window by the law of its earliest, in the heat.
pub(super) fn heat() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        use boothside_core::material::sheet::OpenedBy;
        use boothside_core::material::timing::{LawName, Timing};
        let sheet = work.sheets.get_mut("grey-primer").expect("a sheet");
        let gap = &mut sheet.between_coats;
        let stated = |seconds| Timing { at_c: Some(24.0), ..Timing::steady(seconds) };
        let doubling = Timing { law: LawName::Warmth, doubles_per_c: Some(10.0), ..stated(1200.0) };
        gap.open_until = Some(Timing { law: LawName::AsEarliest, ..stated(14_400.0) });
        gap.earliest = doubling;
        gap.by = OpenedBy::Clock;
    });
    hand.until_the_first_coat();
    hand.rig.space().pass(120.0).space();
    hand.read(33.0, 40.0, 32.0);
    hand.minutes(25);
    hand.begin_past("hatch-top", Reason::OwnDecision).minutes(2).on("hatch-top");
    hand.minutes(140);
    hand.entries()
}
