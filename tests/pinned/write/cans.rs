//! Cans: seen on the shelf, drawn from, short, past their date, picked, given back to.

use boothside_core::board::Next;
use boothside_core::material::recipe::Told;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Reason;
use boothside_core::session::stock::SeenCan;
use boothside_core::session::time::{Moment, Span};

use super::hand::Hand;

const DAY_MS: i64 = 86_400_000;

fn can(file: &str, component: &str, left_ml: Option<f64>) -> SeenCan {
    SeenCan {
        can: file.into(),
        name: format!("{component}, {file}"),
        sheet: "grey-primer".into(),
        component: component.into(),
        lot: None,
        until: None,
        until_ms: None,
        opened: None,
        left_ml,
        left_g: None,
        counted_ms: left_ml.map(|_| Moment::from_ms(-DAY_MS)),
        thinner_pct: 0.0,
    }
}

fn dated(days: i64, lot: &str, until: &str, seen: SeenCan) -> SeenCan {
    SeenCan {
        lot: Some(lot.into()),
        until: Some(until.into()),
        until_ms: Some(Moment::OPENING.plus(Span::from_ms(DAY_MS * days))),
        ..seen
    }
}

/// Base in two cans by volume, one of them thinned; an activator past its date; water uncounted.
fn shelf() -> Vec<SeenCan> {
    let small = dated(80, "24-117", "2026-07", can("base-1", "Base", Some(60.0)));
    let large = SeenCan {
        thinner_pct: 4.0,
        opened: Some("2026-02".into()),
        ..dated(400, "25-002", "2027-06", can("base-2", "Base", Some(900.0)))
    };
    let old = dated(-12, "23-880", "2026-04", can("act-1", "Activator", Some(150.0)));
    vec![old, small, large, can("water-1", "Water", None)]
}

/// All by weight.
fn by_weight() -> Vec<SeenCan> {
    let weighed = |file: &str, component: &str, left_g| SeenCan {
        left_g: Some(left_g),
        counted_ms: Some(Moment::from_ms(-DAY_MS)),
        ..can(file, component, None)
    };
    vec![
        weighed("base-3", "Base", 70.0),
        SeenCan { thinner_pct: 3.0, ..weighed("base-4", "Base", 800.0) },
        weighed("act-2", "Activator", 300.0),
    ]
}

fn pour(component: usize, told: Told) -> Command {
    Command::Pour { pot: None, layer: 1, component, amount: Poured::Amount(told) }
}

pub(super) fn cans() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.rig.see_cans(shelf());
    hand.until("a mix", |hand| matches!(hand.next(), Next::MixPot { .. } | Next::Pour { .. }));
    poured(&mut hand);
    in_one_go(&mut hand);
    hand.rig.see_cans(by_weight());
    hand.tell(Command::MixPot { layer: 1, amount_ml: Some(240.0), lots: Vec::new() });
    hand.tell(Command::TopUpPot { pot: "C".into(), amount_ml: Some(60.0) });
    hand.minutes(30);
    hand.entries()
}

/// Thinned cans of a material that knows no thinner: what is left in one is told by weight alone.
pub(super) fn weighed() -> Vec<Entry> {
    let mut hand = Hand::with(|work| {
        let mix = &mut work.sheets.get_mut("grey-primer").expect("a sheet").mix;
        mix.components.truncate(2);
        mix.flow_cup = None;
    });
    let thinned = |seen: SeenCan| SeenCan { thinner_pct: 2.0, ..seen };
    hand.rig.see_cans(by_weight().into_iter().map(thinned).collect());
    hand.tell(Command::MixPot { layer: 1, amount_ml: Some(240.0), lots: Vec::new() });
    hand.minutes(9).coat_past("hatch-top").minutes(40);
    hand.tell(Command::TopUpPot { pot: "A".into(), amount_ml: Some(90.0) });
    hand.entries()
}

fn poured(hand: &mut Hand) {
    let ml = |ml| Told { ml: Some(ml), g: None };
    hand.tell(pour(0, ml(150.0)));
    hand.tell(Command::PickCan { layer: 1, component: 0, can: Some("base-2".into()) });
    hand.tell(Command::PickCan { layer: 1, component: 1, can: Some("act-1".into()) });
    hand.tell(pour(1, ml(40.0)));
    hand.tell(Command::PickCan { layer: 1, component: 1, can: None });
    hand.tell(pour(2, ml(40.0)));
    hand.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    hand.minutes(11);
    hand.until("a coat", |hand| matches!(hand.next(), Next::BeginCoat { .. }));
    hand.begin_past("hatch-top", Reason::SheetAllows).minutes(2).on("hatch-top");
    let back = |ml| Command::ReturnToCan {
        pot: "A".into(),
        amount: Told { ml: Some(ml), g: None },
        can_ml: None,
    };
    hand.tell(back(20.0));
    hand.tell(Command::CleanGun).tell(Command::EmptyPot { pot: "A".into() });
}

fn in_one_go(hand: &mut Hand) {
    hand.tell(Command::PickCan { layer: 1, component: 0, can: Some("base-1".into()) });
    hand.go_past("can-past act-1", Reason::FigureWrong);
    hand.tell(Command::PickCan { layer: 1, component: 1, can: Some("act-1".into()) });
    hand.tell(Command::MixPot { layer: 1, amount_ml: Some(240.0), lots: Vec::new() });
    hand.minutes(5);
    let ml = Told { ml: Some(300.0), g: None };
    let more =
        Command::Pour { pot: Some("B".into()), layer: 1, component: 1, amount: Poured::Amount(ml) };
    hand.tell(more);
    hand.minutes(40);
}
