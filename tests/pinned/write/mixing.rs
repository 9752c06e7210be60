//! Pots: planned, poured, told as a whole, stirred, thinned, weighed, given back, emptied.

use boothside_core::board::Next;
use boothside_core::material::recipe::Told;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::entry::Entry;
use boothside_core::session::event::{Lot, Reading, Reason};

use super::hand::Hand;

fn pot() -> String {
    "A".to_owned()
}

fn ml(ml: f64) -> Told {
    Told { ml: Some(ml), g: None }
}

fn g(g: f64) -> Told {
    Told { ml: None, g: Some(g) }
}

fn plan(wanted: Told, short: Vec<(usize, Told)>, container_ml: Option<f64>) -> Command {
    Command::PlanPot { layer: 1, wanted, short, container_ml }
}

fn pour(component: usize, amount: Poured) -> Command {
    Command::Pour { pot: None, layer: 1, component, amount }
}

fn lot(component: &str, lot: &str, until: Option<&str>) -> Lot {
    Lot { component: component.into(), lot: lot.into(), until: until.map(str::to_owned) }
}

pub(super) fn mixing() -> Vec<Entry> {
    let mut hand = Hand::new();
    hand.until("a mix", |hand| matches!(hand.next(), Next::MixPot { .. } | Next::Pour { .. }));
    planned(&mut hand);
    poured(&mut hand);
    used(&mut hand);
    second(&mut hand);
    hand.entries()
}

fn planned(hand: &mut Hand) {
    hand.tell(plan(Told::default(), Vec::new(), None));
    hand.tell(plan(g(460.0), Vec::new(), Some(600.0)));
    hand.tell(plan(ml(460.0), vec![(1, ml(40.0))], None));
    hand.tell(plan(g(460.0), vec![(1, g(61.0))], Some(300.0)));
    let lots = vec![
        lot("Base", "24-117", Some("2027-03")),
        lot("Activator", "9A-3302", Some("2026-04")),
        lot("Water", "tap", None),
    ];
    hand.tell(Command::TellLots { pot: pot(), layer: 1, lots });
}

fn poured(hand: &mut Hand) {
    hand.tell(pour(0, Poured::ScaleShows(210.0)));
    hand.minutes(2);
    hand.tell(plan(ml(300.0), Vec::new(), None));
    hand.tell(pour(1, Poured::Amount(ml(42.0)))).minutes(1);
    hand.tell(pour(2, Poured::MarkShows(225.0)));
    // twelve minutes after the base, as the painter tells it
    hand.tell_late(1, pour(1, Poured::Amount(g(4.0))));
    hand.rig.pass(2.0).key('u');
    hand.tell(Command::ReadFlowCup { pot: pot(), seconds: 47.5 });
    let of_pot = Reading { pot_c: Some(21.5), ..Reading::default() };
    hand.tell(Command::Read(of_pot));
    hand.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    hand.tell(Command::ReadFlowCup { pot: pot(), seconds: 44.0 });
}

fn used(hand: &mut Hand) {
    hand.until_the_first_coat();
    hand.tell(Command::FillCup { pot: pot() });
    hand.rig.space().pass(120.0).space();
    hand.tell(Command::WeighPot { pot: pot(), left: ml(160.0) });
    hand.tell(Command::TopUpPot { pot: pot(), amount_ml: Some(80.0) });
    hand.tell(Command::TopUpPot { pot: pot(), amount_ml: None });
    hand.tell(Command::WeighPot { pot: pot(), left: g(250.0) });
    let back = |amount, can_ml| Command::ReturnToCan { pot: pot(), amount, can_ml };
    hand.tell(back(ml(30.0), Some(900.0)));
    hand.tell(back(ml(400.0), None));
    hand.minutes(130);
    hand.tell(Command::Pour {
        pot: Some(pot()),
        layer: 1,
        component: 2,
        amount: Poured::Amount(ml(12.0)),
    });
    hand.minutes(120);
    hand.tell(Command::CleanGun);
    hand.tell(Command::EmptyPot { pot: pot() });
}

/// One told as a whole, with lots; one of which the half goes aside.
fn second(hand: &mut Hand) {
    let lots = vec![lot("Base", "24-118", None)];
    hand.tell(Command::MixPot { layer: 1, amount_ml: Some(350.0), lots });
    hand.minutes(12);
    hand.tell(Command::FillCup { pot: "B".into() });
    hand.go_past("ratio B", Reason::Tried);
    hand.tell(Command::CleanGun);
    hand.tell(Command::PutAside { pot: "B".into() });
    // by weight alone, of a sheet whose parts are by weight
    let planned =
        Command::PlanPot { layer: 2, wanted: g(200.0), short: Vec::new(), container_ml: None };
    hand.tell(planned);
    hand.tell(Command::Pour { pot: None, layer: 2, component: 0, amount: Poured::Amount(g(90.0)) });
    hand.minutes(5);
}
