//! The bench by keys: what a painter types, what is written down, what the screen shows. The
//! scenarios are invented, their answers worked by hand.

use boothside::update::desk::Pressed;
use boothside::update::scene::{Asking, Notice, Screen};
use boothside_core::board::Next;
use boothside_core::board::mixing::{MixBoard, OnBench};
use boothside_core::material::sheet::{Basis, Component, Role};
use boothside_core::session::event::Event;
use boothside_core::session::standing::FaceNow;
use boothside_core::work::job::FullJob;

use crate::play::{compare, on_until, screen};
use crate::rig::Rig;

const PLAIN: (u16, u16) = (80, 24);

/// Enter on the bench, a second after the last: no repeat.
fn act(rig: &mut Rig) -> &mut Rig {
    rig.pass(1.0).press(Pressed::Enter)
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-9
}

/// A primer of these parts by weight, without densities.
fn by_weight(parts: [f64; 3], tolerance: f64) -> impl Fn(&mut FullJob) {
    move |work| {
        let sheet = work.sheets.get_mut("grey-primer").expect("the primer");
        let roles = [Role::Base, Role::Activator, Role::Reducer];
        let component = |at: usize| Component {
            name: ["Base", "Activator", "Reducer"][at].into(),
            role: roles[at],
            parts: parts[at],
            density_g_per_ml: None,
            max_parts: None,
        };
        sheet.mix.by = Basis::Weight;
        sheet.mix.components = (0..3).map(component).collect();
        sheet.mix.tolerance_pct = Some(tolerance);
    }
}

/// At the bench with the example's first pot to mix.
fn at_the_bench() -> Rig {
    let mut rig = Rig::example();
    on_until(&mut rig, "a mix", |rig| {
        matches!(rig.desk.board().next, Next::MixPot { .. } | Next::Pour { .. })
    });
    rig.pass(6.0).key('2');
    rig
}

fn pours(rig: &Rig) -> Vec<(String, f64)> {
    let poured = rig.written.iter().flat_map(|entry| &entry.events);
    poured
        .filter_map(|event| match event {
            Event::Poured { component, poured_g: Some(g), .. } => {
                Some((component.clone(), (g * 10.0).round() / 10.0))
            }
            _ => None,
        })
        .collect()
}

#[test]
fn one_tap_still_mixes_a_pot() {
    let mut rig = at_the_bench();
    compare(&rig, "mix_01_to_mix");
    rig.key('o').key('1');
    while rig.scene().form.is_some() {
        rig.press(Pressed::Enter);
    }
    assert!(
        matches!(rig.last_events(), [Event::PotMixed { amount_ml: Some(ml), .. }] if near(*ml, 239.0))
    );
    rig.pass(6.0);
    compare(&rig, "mix_02_mixed_in_one");
}

#[test]
fn an_over_pour_is_typed_and_followed() {
    // F 3: 100:25:10, meant 400.0 of base
    let mut rig = Rig::with(by_weight([100.0, 25.0, 10.0], 2.0));
    rig.key('m').pass(1.0).key('m');
    assert!(rig.scene().form.is_some());
    rig.enter("540g");
    for _ in 0..4 {
        rig.press(Pressed::Enter);
    }
    assert!(
        matches!(rig.last_events(), [Event::PotPlanned { wanted_g: Some(g), .. }] if near(*g, 540.0))
    );
    act(&mut rig).enter("412.0");
    assert_eq!(pours(&rig), [("Base".into(), 412.0)]);
    rig.pass(6.0);
    compare(&rig, "mix_03_base_over");
    let shown = screen(&rig, PLAIN);
    assert!(
        shown.contains("Base went over by 12.0 g") && shown.contains("Makes 556.2 g"),
        "{shown}"
    );
    assert!(shown.contains("+103.0 g") && shown.contains("+41.2 g"), "{shown}");

    act(&mut rig).enter("524g");
    rig.pass(6.0);
    compare(&rig, "mix_04_activator_over");
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("+36.0 g") && shown.contains("Makes 604.8 g"), "{shown}");
    // as planned, and then the reducer alone
    act(&mut rig).press(Pressed::Enter);
    act(&mut rig).enter("+44.8");
    let told = [("Base", 412.0), ("Activator", 112.0), ("Base", 36.0), ("Reducer", 44.8)];
    assert_eq!(pours(&rig), told.map(|(name, g)| (name.to_owned(), g)));
    act(&mut rig);
    assert!(matches!(rig.last_events(), [Event::PotMixed { .. }]));
    assert_eq!(rig.desk.board().mixing.as_ref().map(|mix| mix.stands), Some(OnBench::Mixed));
    rig.pass(6.0);
    compare(&rig, "mix_05_poured_and_stirred");
}

#[test]
fn a_short_component_is_typed_and_gives_the_largest_pot() {
    // F 13: 100:18:6, 61.0 g of activator, 460 g wanted
    let mut rig = Rig::with(by_weight([100.0, 18.0, 6.0], 2.0));
    rig.key('m').pass(1.0).key('m').enter("460g").enter("").enter("61 g").enter("").enter("");
    rig.pass(6.0);
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("420.2 g wanted") && shown.contains("338.9 g"), "{shown}");
    assert!(shown.contains("+61.0 g") && shown.contains("+20.3 g"), "{shown}");
    assert!(shown.contains("39.8 g less than asked") && shown.contains("5.8 g more"), "{shown}");
    compare(&rig, "mix_06_short_activator");
}

#[test]
fn too_little_for_the_scale_is_said_with_the_smallest_pot() {
    // F 2: 100:22:8, 87.2 g, the scale shows 0.1 g, 1 % wanted
    let mut rig = Rig::with(by_weight([100.0, 22.0, 8.0], 1.0));
    rig.key('m').pass(1.0).key('m').enter("87.2g").enter("").enter("").enter("").enter("");
    rig.pass(6.0);
    compare(&rig, "mix_07_too_little");
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("1.9 % of it") && shown.contains("162.5 g"), "{shown}");
    rig.key('m').enter("165g").enter("").enter("").enter("").enter("");
    let shown = screen(&rig, PLAIN);
    assert!(!shown.contains("too little") && shown.contains("126.9 g"), "{shown}");
}

#[test]
fn space_pours_as_planned_and_v_swaps_scale_and_marks() {
    let mut rig = at_the_bench();
    rig.press(Pressed::Enter).press(Pressed::Enter);
    assert_eq!(pours(&rig).len(), 1);
    rig.pass(6.0);
    compare(&rig, "mix_08_base_in");
    let by_scale = rig.desk.board().next.clone();
    rig.key('v');
    assert_ne!(rig.desk.board().next, by_scale);
    rig.pass(1.5);
    compare(&rig, "mix_09_by_marks");
    rig.space();
    assert!(matches!(
        rig.last_events(),
        [Event::Poured { poured_ml: Some(_), poured_g: None, .. }]
    ));
    assert_eq!(rig.scene().screen, Screen::Mix, "the bench stays");
    rig.key('v').space();
    assert!(matches!(rig.last_events(), [Event::Poured { poured_g: Some(_), .. }]));
    rig.space();
    assert!(matches!(rig.last_events(), [Event::PotMixed { .. }]));
    // u takes back one thing at a time
    rig.pass(1.0).key('u');
    assert!(matches!(rig.desk.board().next, Next::Stir { .. }));
    rig.pass(1.0).key('u');
    assert!(matches!(rig.desk.board().next, Next::Pour { component: 2, .. }));
}

#[test]
fn birth_was_n_minutes_ago() {
    let mut rig = at_the_bench();
    for _ in 0..2 {
        rig.press(Pressed::Enter).press(Pressed::Enter).pass(600.0);
    }
    let told = rig.desk.board().pots[0].at.born.expect("born");
    rig.key('t').enter("12min ago");
    let born = rig.desk.board().pots[0].at.born.expect("born");
    let earlier = told.since(born).seconds();
    // told 10 min ago and a bit, meant 12 min ago
    assert!((100.0..130.0).contains(&earlier), "{earlier}");
}

#[test]
fn what_is_typed_wrong_stays_with_what_is_accepted() {
    let mut rig = at_the_bench();
    rig.press(Pressed::Enter);
    for wrong in ["abc", "12,5", "-3g", "0", "5min"] {
        rig.enter(wrong);
        let form = rig.scene().form.cloned().expect("the form stays");
        assert_eq!(form.fields[0].text, wrong);
        assert!(form.fields[0].error.is_some(), "{wrong}");
    }
    assert!(pours(&rig).is_empty());
    rig.enter("210");
    act(&mut rig).enter("150");
    let form = rig.scene().form.cloned().expect("the form stays");
    let error = form.fields[0].error.clone().expect("an error");
    assert!(error.contains("150") && error.contains("more than is in the pot"), "{error}");
    compare(&rig, "mix_10_total_falls");
    // left and opened anew: what was typed is there
    rig.press(Pressed::Esc);
    act(&mut rig);
    assert_eq!(rig.scene().form.expect("a form").fields[0].text, "150");
}

#[test]
fn every_figure_of_the_need_is_open_to_change() {
    let mut rig = at_the_bench();
    rig.key('e');
    let labels: Vec<String> =
        rig.scene().form.expect("a form").fields.iter().map(|field| field.label.clone()).collect();
    for wanted in ["dry film a coat", "coats", "share that lands", "stays in gun and strainer"] {
        assert!(labels.iter().any(|label| label == wanted), "{wanted} in {labels:?}");
    }
    compare(&rig, "mix_11_rests_on");
    let count = labels.len();
    rig.enter("15").enter("").enter("").enter("130");
    for _ in 4..count {
        rig.press(Pressed::Enter);
    }
    let form = rig.scene().form.cloned().expect("over 100 % is refused");
    assert!(form.fields.iter().any(|field| field.error.is_some()), "{form:?}");
    let typed = |rig: &Rig, at: usize| rig.scene().form.map(|form| form.fields[at].text.clone());
    assert_eq!(typed(&rig, 0).as_deref(), Some("15"));
    while rig.scene().form.is_some_and(|form| form.focus > 3) {
        rig.press(Pressed::Up);
    }
    while rig.scene().form.is_some_and(|form| form.focus < 3) {
        rig.press(Pressed::Down);
    }
    rig.enter("60");
    while rig.scene().form.is_some() {
        rig.press(Pressed::Enter);
    }
    assert!(matches!(
        rig.last_events(),
        [Event::FigureChanged { new: a, .. }, Event::FigureChanged { new: b, .. }]
            if (*a, *b) == (15.0, 60.0)
    ));
    assert_eq!(rig.desk.session().state().work.shop.transfer_pct, Some(60.0));
}

#[test]
fn lots_flow_cup_weighing_and_return_are_told() {
    let mut rig = at_the_bench();
    rig.key('l').enter("24-117 until 2027-03").enter("9A-3302, until 2026-04").enter("");
    let breaks = rig.written.last().expect("an entry").breaks.clone();
    assert_eq!(breaks, ["lot-past 9A-3302 Activator"]);
    for _ in 0..3 {
        act(&mut rig).press(Pressed::Enter);
    }
    act(&mut rig).pass(6.0);
    rig.key('y').enter("46");
    assert!(matches!(rig.last_events(), [Event::FlowCup { seconds, .. }] if near(*seconds, 46.0)));
    assert!(screen(&rig, PLAIN).contains("colder mix runs slower"), "19.4 °C is not 23 °C");
    rig.pass(1.0).key('u');
    rig.key('a');
    for _ in 0..4 {
        rig.press(Pressed::Down);
    }
    rig.enter("23C").enter("").enter("").enter("");
    rig.pass(1.0).key('y').enter("58");
    assert!(matches!(rig.last_events(), [Event::FlowCup { seconds, .. }] if near(*seconds, 58.0)));
    rig.pass(6.0);
    compare(&rig, "mix_12_flow_cup");
    rig.pass(1.0).key('o').key('4').enter("250g").enter("31g");
    assert!(matches!(rig.last_events(), [Event::PotWeighed { .. }]), "{:?}", rig.last_events());
    rig.pass(1.0).key('o').key('5').enter("200mL").enter("");
    let breaks = rig.written.last().expect("an entry").breaks.clone();
    assert!(breaks.contains(&"returned-reacted A".to_owned()), "{breaks:?}");
    rig.pass(6.0);
    compare(&rig, "mix_13_returned");
    rig.pass(1.0).key('o').key('6');
    assert!(matches!(rig.last_events(), [Event::PotEmptied { pot }] if pot == "A"));
}

#[test]
fn an_undated_lot_is_refused_beside_its_field() {
    let mut rig = at_the_bench();
    rig.key('l').enter("24-117 until March").enter("").enter("");
    let form = rig.scene().form.cloned().expect("the form stays");
    assert!(form.fields[0].error.as_ref().is_some_and(|error| error.contains("2027-03")));
    let mut rig = at_the_bench();
    rig.key('l').enter("24-117 until 2027-13").enter("").enter("");
    let form = rig.scene().form.cloned().expect("the form stays");
    let error = form.fields[0].error.clone().expect("beside the field");
    assert!(error.contains("2027-13"), "{error}");
}

#[test]
fn out_of_ratio_shows_what_to_add_and_holds_the_coat() {
    let mut rig = at_the_bench();
    act(&mut rig).enter("200");
    act(&mut rig).enter("+70");
    // the painter says it is mixed all the same
    rig.pass(1.0).key('o').key('1');
    while rig.scene().form.is_some() {
        rig.press(Pressed::Enter);
    }
    assert!(matches!(rig.last_events(), [Event::PotMixed { .. }]));
    rig.pass(700.0);
    rig.key('2').pass(2.0);
    compare(&rig, "mix_14_out_of_ratio");
    rig.key('1').press(Pressed::Down).press(Pressed::Enter);
    assert!(matches!(rig.scene().asking, Some(Asking::Holds { .. })), "{:?}", rig.scene().asking);
}

#[test]
fn a_look_that_is_due_is_answered_and_the_draft_is_kept() {
    let mut rig = Rig::example();
    on_until(&mut rig, "a look", |rig| matches!(rig.desk.board().next, Next::Dulled { .. }));
    rig.pass(2.0).key('2').key('m').press(Pressed::Enter);
    for c in "300g".chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.pass(1.0);
    let shown = screen(&rig, PLAIN);
    assert!(shown.contains("LOOK"), "{shown}");
    compare(&rig, "mix_15_look_while_typing");
    let looks = |rig: &Rig| {
        rig.desk.board().faces.iter().filter(|face| face.at.now == FaceNow::Look).count()
    };
    let before = looks(&rig);
    rig.press(Pressed::Esc).space();
    assert_eq!(looks(&rig), before - 1);
    rig.pass(2.0).key('2').key('m');
    let form = rig.scene().form.expect("the form again");
    assert!(form.fields.iter().any(|field| field.text == "300g"), "{form:?}");
}

#[test]
fn a_pot_is_told_to_be_empty_only_where_one_is() {
    let mut rig = Rig::example();
    rig.key('2').key('y');
    let said = |rig: &Rig| rig.scene().notices.iter().any(|it| matches!(it, Notice::Text(_)));
    assert!(said(&rig) && rig.scene().form.is_none());
    rig.pass(1.0).key('o').key('6');
    assert!(rig.written.is_empty());
}

#[test]
fn a_true_time_says_what_follows_from_it() {
    let mut rig = at_the_bench();
    act(&mut rig).press(Pressed::Enter);
    rig.pass(300.0);
    let base = rig.written.last().expect("the base").told_ms();
    act(&mut rig).press(Pressed::Enter);
    assert!(
        matches!(rig.last_events(), [Event::Poured { component, .. }] if component == "Activator")
    );
    // told 10 min earlier, before the base: the pot is no older than its base
    rig.pass(6.0).key('t').enter("10min ago");
    assert_eq!(rig.desk.session().state().pot("A").map(|pot| pot.mixed), Some(base));
    let told = screen(&rig, (100, 30));
    assert!(told.contains("Base is now the later one: activator in "), "{told}");
    // and where nothing follows, that
    rig.pass(20.0).key('n').enter("gloves changed").pass(6.0);
    rig.key('t').enter("5s ago");
    let told = screen(&rig, (100, 30));
    assert!(told.contains("no clock here changes by it"), "{told}");
}

#[test]
fn reducer_after_the_stir_is_told_as_what_it_is() {
    let mut rig = at_the_bench();
    rig.key('o').key('1');
    while rig.scene().form.is_some() {
        rig.press(Pressed::Enter);
    }
    rig.pass(6.0);
    // 39.8 mL are in, 55.8 are allowed
    rig.key('o').key('3').enter("10mL").enter("");
    assert_eq!(rig.desk.board().mixing.as_ref().and_then(MixBoard::next_pour), None);
    rig.pass(6.0);
    assert!(screen(&rig, (100, 30)).contains("in ratio"));
    // half its life is over
    rig.pass(3.0 * 3_600.0).key('2').key('o').key('3').enter("20mL");
    let breaks = rig.written.last().expect("an entry").breaks.clone();
    assert_eq!(breaks, ["thinned-late A"]);
    rig.key('1');
    let told = screen(&rig, (100, 30));
    assert!(told.contains("never thin a pot that is setting"), "{told}");
    rig.key('2');
    rig.pass(6.0);
    let told = screen(&rig, (100, 30));
    let thin = "mL more Water than the sheet allows; the rest is in ratio";
    assert!(told.contains(thin), "{told}");
}
