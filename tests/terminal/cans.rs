//! Cans by keys: a mix draws from them, a short and an expired one show in Ready, another is taken.
//! `INSTA_UPDATE=always` rewrites the screens.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Asking, Screen};
use boothside_core::board::{Clears, Next, ReadyNow};
use boothside_core::material::recipe::Told;
use boothside_core::session::event::{Event, Reason};
use boothside_core::session::stock::{SeenCan, level_of};
use boothside_core::session::time::{Moment, Span};

use crate::play::{compare, on_until, screen};
use crate::rig::Rig;

const PLAIN: (u16, u16) = (80, 24);

fn can(file: &str, name: &str, component: &str, left_ml: f64) -> SeenCan {
    SeenCan {
        can: file.into(),
        name: name.into(),
        sheet: "grey-primer".into(),
        component: component.into(),
        lot: None,
        until: None,
        until_ms: None,
        opened: None,
        left_ml: Some(left_ml),
        left_g: None,
        counted_ms: Some(Moment::from_ms(-86_400_000)),
        thinner_pct: 0.0,
    }
}

fn dated(days: i64, lot: &str, until: &str, seen: SeenCan) -> SeenCan {
    SeenCan {
        lot: Some(lot.into()),
        until: Some(until.into()),
        until_ms: Some(Moment::OPENING.plus(Span::from_hours(24 * days))),
        ..seen
    }
}

/// Base in two cans, of which the older one is short; an activator past its date.
fn shelf() -> Vec<SeenCan> {
    vec![
        dated(
            -12,
            "23-880",
            "2026-04",
            can("act-1", "Grey activator, small can", "Activator", 150.0),
        ),
        dated(80, "24-117", "2026-07", can("base-1", "Grey primer base, big tin", "Base", 60.0)),
        dated(400, "25-002", "2027-06", can("base-2", "Grey primer base, new tin", "Base", 900.0)),
    ]
}

/// At the bench with the example's first pot to mix and these cans on the shelf.
fn at_the_bench(cans: Vec<SeenCan>) -> Rig {
    let mut rig = Rig::example();
    rig.see_cans(cans);
    on_until(&mut rig, "a mix", |rig| {
        matches!(rig.desk.board().next, Next::MixPot { .. } | Next::Pour { .. })
    });
    rig.pass(6.0).key('2');
    rig
}

fn left_ml(rig: &Rig, file: &str) -> f64 {
    let state = rig.desk.session().state();
    let Told { ml, .. } = level_of(state, &state.stock.cans[file]).left;
    ml.expect("known")
}

fn pick(rig: &mut Rig, text: &str) {
    rig.pass(1.0).key('o').key('8');
    assert!(rig.scene().picker.is_some());
    for c in text.chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.press(Pressed::Enter);
}

#[test]
fn a_mix_draws_from_the_cans_and_names_them() {
    let mut rig = at_the_bench(shelf());
    compare(&rig, "cans_01_to_mix");
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("Base from Grey primer base, big tin"), "{shown}");
    rig.pass(1.0).press(Pressed::Enter);
    let form = rig.scene().form.expect("the pour").title.clone();
    assert_eq!(form, "Base into pot A, from Grey primer base, big tin");
    rig.enter("+60mL");
    assert!(matches!(rig.last_events(), [Event::Poured { can: Some(can), .. }] if can == "base-1"));
    rig.pass(1.0).press(Pressed::Enter).enter("+99mL");
    assert!(matches!(rig.last_events(), [Event::Poured { can: Some(can), .. }] if can == "base-2"));
    assert!(left_ml(&rig, "base-1").abs() < 1e-9);
    assert!((left_ml(&rig, "base-2") - 801.0).abs() < 1e-9);
    rig.pass(6.0);
    compare(&rig, "cans_02_two_tins");
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("24-117") && shown.contains("25-002"), "{shown}");
    rig.key('u');
    assert!((left_ml(&rig, "base-2") - 900.0).abs() < 1e-9, "taken back, it is in the can");
}

/// The whole pot told at once, as the recipe has it.
fn mix_in_one_go(rig: &mut Rig) {
    rig.key('o').key('1');
    while rig.scene().form.is_some() {
        rig.press(Pressed::Enter);
    }
}

#[test]
fn one_tap_draws_the_whole_pot_by_its_parts() {
    let mut rig = at_the_bench(shelf());
    mix_in_one_go(&mut rig);
    let [Event::PotMixed { cans, .. }] = rig.last_events() else {
        panic!("{:?}", rig.last_events());
    };
    let from: Vec<&str> = cans.iter().map(|from| from.can.as_str()).collect();
    assert_eq!(from, ["base-1", "base-2", "act-1"], "no can of water is kept");
    assert_eq!(cans[0].amount_ml, Some(60.0), "all that was in it");
    assert_eq!(
        rig.written.last().expect("an entry").breaks,
        ["lot-past 23-880 Activator", "can-past act-1"]
    );
}

#[test]
fn short_and_expired_cans_show_in_ready() {
    let mut rig = at_the_bench(vec![
        dated(
            -12,
            "23-880",
            "2026-04",
            can("act-1", "Grey activator, small can", "Activator", 150.0),
        ),
        can("base-1", "Grey primer base, big tin", "Base", 120.0),
    ]);
    rig.key('3');
    let now = |rig: &Rig, id: &str| {
        let line = rig.desk.board().ready.iter().find(|line| line.id == id).expect(id).clone();
        (line.now, line.clears)
    };
    assert_eq!(now(&rig, "can 0"), (ReadyNow::Caution, Clears::PickCan));
    assert_eq!(now(&rig, "can 1"), (ReadyNow::Hold, Clears::CanPast));
    choose(&mut rig, "can 1");
    compare(&rig, "cans_03_expired");
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("past its date 2026-04"), "{shown}");
    assert!(shown.contains("past the maker's date"), "{shown}");
    choose(&mut rig, "can 0");
    compare(&rig, "cans_04_short");
    assert!(screen(&rig, PLAIN).contains("short: 120 of 159 mL needed"), "{shown}");

    // gone past like any hold, by one digit
    choose(&mut rig, "can 1");
    rig.pass(1.0).press(Pressed::Enter);
    assert!(matches!(rig.scene().asking, Some(Asking::Holds { .. })));
    rig.key('5');
    assert!(matches!(
        rig.last_events(),
        [Event::HoldOverridden { hold, reason: Reason::OwnDecision }] if hold == "can-past act-1"
    ));
    rig.space();
    assert!(rig.written.last().expect("an entry").breaks.is_empty());
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig.space();
    assert!(matches!(rig.last_events(), [Event::FaceBegun { .. }]), "{:?}", rig.scene().asking);
}

#[test]
fn a_coat_from_an_expired_can_meets_its_hold() {
    let mut rig = at_the_bench(shelf());
    rig.space();
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    rig.space();
    assert!(matches!(rig.scene().asking, Some(Asking::Holds { .. })));
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("past its date: Grey activator, small can"), "{shown}");
    rig.key('2');
    rig.pass(6.0).key('3');
    compare(&rig, "cans_05_gone_past");
}

#[test]
fn another_can_is_taken_from_a_list() {
    let mut rig = at_the_bench(shelf());
    rig.pass(1.0).key('o').key('8');
    compare(&rig, "cans_06_which");
    rig.press(Pressed::Esc);
    pick(&mut rig, "base new");
    assert!(matches!(
        rig.last_events(),
        [Event::CanPicked { component, can: Some(can), .. }]
            if component == "Base" && can == "base-2"
    ));
    rig.pass(1.0).press(Pressed::Enter).enter("+150mL");
    assert!(matches!(rig.last_events(), [Event::Poured { can: Some(can), .. }] if can == "base-2"));
    // from Ready too: it opens at the can that is taken
    rig.key('3');
    choose(&mut rig, "can 0");
    rig.pass(1.0).press(Pressed::Enter);
    assert_eq!(rig.scene().picker.map(|picker| picker.at), Some(1));
    rig.press(Pressed::Down);
    rig.pass(1.0).press(Pressed::Enter);
    assert!(matches!(rig.last_events(), [Event::CanPicked { can: None, .. }]));
    assert_eq!(rig.scene().screen, Screen::Ready);
    assert!(rig.desk.board().ready.iter().all(|line| line.id != "can 0"));
}

#[test]
fn without_a_can_the_list_says_so() {
    let mut rig = at_the_bench(Vec::new());
    rig.pass(1.0).key('o').key('8');
    assert!(rig.scene().picker.is_none());
    assert!(screen(&rig, PLAIN).contains("no can of this material is on the shelf"));
    assert!(
        rig.written.iter().all(|entry| { !matches!(entry.events[..], [Event::StockSeen { .. }]) })
    );
}

#[test]
fn lots_stand_in_the_form_as_on_the_cans() {
    let mut rig = at_the_bench(shelf());
    rig.pass(1.0).key('o').key('1');
    let texts: Vec<String> =
        rig.scene().form.expect("the pot").fields.iter().map(|field| field.text.clone()).collect();
    assert_eq!(texts[1..3], ["24-117 until 2026-07", "23-880 until 2026-04"]);
    for _ in 0..5 {
        rig.press(Pressed::Enter);
    }
    let [Event::PotMixed { lots, .. }] = rig.last_events() else {
        panic!("{:?}", rig.last_events());
    };
    assert_eq!(lots.len(), 2);
    let kept = &rig.desk.session().state().pots[0].lots;
    assert_eq!(kept.len(), 2, "each lot once: {kept:?}");
}

#[test]
fn thinner_in_a_can_is_said_and_spared() {
    let thin = SeenCan { thinner_pct: 10.0, ..can("base-1", "Grey primer base", "Base", 900.0) };
    let rig = at_the_bench(vec![thin]);
    compare(&rig, "cans_07_thinned");
    let shown = screen(&rig, PLAIN);
    // 159.3 mL of base out of 177.0: 17.7 of water
    assert!(shown.contains("thinner in the can counts: 17.7 mL less Water to add"), "{shown}");

    let thin = SeenCan { thinner_pct: 40.0, ..can("base-1", "Grey primer base", "Base", 900.0) };
    let rig = at_the_bench(vec![thin]);
    let shown = screen(&rig, (100, 30));
    assert!(shown.contains("too thin"), "{shown}");
}

/// Goes to a line of Ready by the arrows.
fn choose(rig: &mut Rig, id: &str) {
    let wanted = rig.desk.board().ready.iter().position(|line| line.id == id).expect(id);
    for _ in 0..rig.desk.board().ready.len() {
        rig.press(Pressed::Up);
    }
    for _ in 0..wanted {
        rig.press(Pressed::Down);
    }
    assert_eq!(rig.scene().ready_line, Some(wanted));
}
