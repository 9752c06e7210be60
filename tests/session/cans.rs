//! The cans on the shelf: what a session draws from them, which one it takes, what it says of them.

use boothside_core::board::mixing::OnBench;
use boothside_core::board::{Board, Clears, Item, ReadyLine, ReadyNow};
use boothside_core::material::recipe::Told;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::entry::By;
use boothside_core::session::event::Event;
use boothside_core::session::standing::Hold;
use boothside_core::session::stock::{CanNow, Level, SeenCan, cans_of, level_of, moves};
use boothside_core::session::{Refusal, Session};

use crate::bench::{Bench, begin, begin_past, example_work, min, mix as mix_pot};
use crate::mixing::{grams, mix, pour};

const fn ml(ml: f64) -> Told {
    Told { g: None, ml: Some(ml) }
}

/// A can of the example's grey primer with so many mL in it, counted before the session.
fn can(file: &str, component: &str, left_ml: f64) -> SeenCan {
    SeenCan {
        can: file.into(),
        name: format!("Tin {file}"),
        sheet: "grey-primer".into(),
        component: component.into(),
        lot: Some(format!("lot-{file}")),
        until: None,
        until_ms: None,
        opened: None,
        left_ml: Some(left_ml),
        left_g: None,
        counted_ms: Some(min(-60.0)),
        thinner_pct: 0.0,
    }
}

/// The same with a date that is past at this minute.
fn until(minute: f64, seen: SeenCan) -> SeenCan {
    SeenCan { until: Some("2026-05".into()), until_ms: Some(min(minute)), ..seen }
}

fn bench_with(cans: &[SeenCan]) -> Bench {
    let mut bench = Bench::example();
    bench.tell(Command::SeeStock { cans: cans.to_vec() });
    bench
}

fn level(bench: &Bench, file: &str) -> Level {
    let state = bench.session.state();
    level_of(state, state.stock.can(file).expect("a can"))
}

fn left_ml(bench: &Bench, file: &str) -> f64 {
    level(bench, file).left.ml.expect("known")
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

fn line<'b>(board: &'b Board, id: &str) -> &'b ReadyLine {
    board.ready.iter().find(|line| line.id == id).unwrap_or_else(|| panic!("no line {id}"))
}

fn last_event(bench: &Bench) -> Event {
    bench.session.entries().last().expect("an entry").events[0].clone()
}

#[test]
fn without_cans_nothing_is_said_of_them() {
    let bench = Bench::example();
    let board = bench.board();
    assert!(board.ready.iter().all(|line| !matches!(line.item, Item::Can(_))));
    assert!(mix(&bench).cans.is_empty());
    let mut bench = bench;
    assert_eq!(
        bench.try_tell(&Command::SeeStock { cans: Vec::new() }, None),
        Err(Refusal::Nothing),
        "an empty shelf is no news"
    );
    bench.tell(mix_pot());
    let text = serde_json::to_string(bench.session.entries().last().expect("it")).expect("text");
    assert!(!text.contains("can"), "{text}");
}

#[test]
fn the_shelf_is_written_down_by_the_machine_and_only_when_it_changed() {
    let cans = [can("a", "Base", 500.0)];
    let mut bench = bench_with(&cans);
    assert_eq!(bench.session.entries()[1].by, By::Machine);
    let again = Command::SeeStock { cans: cans.to_vec() };
    assert_eq!(bench.try_tell(&again, None), Err(Refusal::Nothing));
    // clocks drift by a little between two looks: that is the same shelf
    let mut drifted = until(10.0, can("a", "Base", 500.0));
    bench.tell(Command::SeeStock { cans: vec![drifted.clone()] });
    drifted.until_ms = drifted.until_ms.map(|at| at.plus(min(1.0).since(min(0.0))));
    let again = Command::SeeStock { cans: vec![drifted] };
    assert_eq!(bench.try_tell(&again, None), Err(Refusal::Nothing));
    // taking back never takes back what the machine saw
    assert_eq!(bench.try_tell(&Command::TakeBack, None), Err(Refusal::Nothing));
}

#[test]
fn a_pour_is_drawn_and_a_strike_gives_it_back() {
    let mut bench = bench_with(&[can("a", "Base", 500.0), can("b", "Activator", 200.0)]);
    pour(&mut bench, 0, Poured::Amount(ml(160.0)));
    assert!(matches!(last_event(&bench), Event::Poured { can: Some(can), .. } if can == "a"));
    // by the scale: 1.07 g/mL
    pour(&mut bench, 1, Poured::Amount(grams(42.8)));
    assert!(near(left_ml(&bench, "a"), 340.0) && near(left_ml(&bench, "b"), 160.0));
    // no can of the third is kept
    pour(&mut bench, 2, Poured::Amount(ml(40.0)));
    assert!(matches!(last_event(&bench), Event::Poured { can: None, .. }));
    let lots: Vec<String> = mix(&bench).lots.into_iter().map(|lot| lot.lot).collect();
    assert_eq!(lots, ["lot-a", "lot-b"], "the lots stand on the cans");

    bench.tell(Command::TakeBack);
    bench.tell(Command::TakeBack);
    assert!(near(left_ml(&bench, "b"), 200.0));
    let strike = bench.session.entries().last().expect("it").n;
    bench.tell(Command::Strike { n: strike });
    assert!(near(left_ml(&bench, "b"), 160.0), "a strike that is struck draws it again");
}

#[test]
fn a_pot_mixed_in_one_go_draws_by_the_parts() {
    let cans = [can("a", "Base", 500.0), can("b", "Activator", 200.0), can("c", "Water", 900.0)];
    let mut bench = bench_with(&cans);
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(240.0), lots: Vec::new() });
    // 4:1:1
    assert!(near(left_ml(&bench, "a"), 340.0));
    assert!(near(left_ml(&bench, "b"), 160.0) && near(left_ml(&bench, "c"), 860.0));
    bench.tell(Command::TopUpPot { pot: "A".into(), amount_ml: Some(60.0) });
    assert!(near(left_ml(&bench, "a"), 300.0));
    let second = bench.tell(Command::MixPot { layer: 1, amount_ml: Some(120.0), lots: Vec::new() });
    assert!(near(left_ml(&bench, "a"), 220.0), "a second pot draws on");
    bench.tell(Command::Strike { n: second });
    assert!(near(left_ml(&bench, "a"), 300.0));
    // an amount that nobody told leaves what is left unknown, and is not guessed
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert_eq!(level(&bench, "a").left, Told::default());
}

#[test]
fn what_was_poured_is_not_drawn_a_second_time_when_it_is_stirred() {
    let mut bench = bench_with(&[can("a", "Base", 500.0)]);
    pour(&mut bench, 0, Poured::Amount(ml(160.0)));
    pour(&mut bench, 1, Poured::Amount(ml(40.0)));
    bench.tell(mix_pot());
    assert!(matches!(last_event(&bench), Event::PotMixed { cans, .. } if cans.is_empty()));
    assert!(near(left_ml(&bench, "a"), 340.0));
    assert_eq!(moves(bench.session.state()).len(), 1);
}

#[test]
fn what_was_poured_before_the_count_is_in_the_count() {
    let mut bench = Bench::example();
    let counted = SeenCan { counted_ms: Some(min(20.0)), ..can("a", "Base", 500.0) };
    bench.tell(Command::SeeStock { cans: vec![can("a", "Base", 700.0)] });
    bench.at(10.0);
    pour(&mut bench, 0, Poured::Amount(ml(160.0)));
    assert!(near(left_ml(&bench, "a"), 540.0));
    bench.at(30.0).tell(Command::SeeStock { cans: vec![counted] });
    assert!(near(left_ml(&bench, "a"), 500.0));
    pour(&mut bench, 0, Poured::Amount(ml(100.0)));
    assert!(near(left_ml(&bench, "a"), 400.0));
    // told late, as of before the count: nothing changes
    let late = Command::Pour { pot: None, layer: 1, component: 0, amount: Poured::Amount(ml(5.0)) };
    bench.try_tell(&late, Some(min(19.0))).expect("a fact");
    assert!(near(left_ml(&bench, "a"), 400.0));
}

#[test]
fn the_oldest_date_is_poured_first_and_the_painter_may_take_another() {
    let cans = [
        until(9_000.0, can("late", "Base", 500.0)),
        until(-5.0, can("past", "Base", 500.0)),
        until(600.0, can("soon", "Base", 100.0)),
        can("dateless", "Base", 500.0),
    ];
    let mut bench = bench_with(&cans);
    let taken = |bench: &Bench| mix(bench).cans.first().map(|ahead| ahead.can.clone());
    assert_eq!(taken(&bench).as_deref(), Some("soon"));
    pour(&mut bench, 0, Poured::Amount(ml(100.0)));
    pour(&mut bench, 0, Poured::Amount(ml(10.0)));
    assert!(matches!(last_event(&bench), Event::Poured { can: Some(can), .. } if can == "late"));
    // its date comes while the session is open
    bench.at(9_001.0);
    pour(&mut bench, 0, Poured::Amount(ml(10.0)));
    assert!(
        matches!(last_event(&bench), Event::Poured { can: Some(can), .. } if can == "dateless")
    );

    let pick = |can: Option<&str>| Command::PickCan {
        layer: 1,
        component: 0,
        can: can.map(ToOwned::to_owned),
    };
    bench.tell(pick(Some("late")));
    pour(&mut bench, 0, Poured::Amount(ml(10.0)));
    assert!(matches!(last_event(&bench), Event::Poured { can: Some(can), .. } if can == "late"));
    bench.tell(pick(None));
    pour(&mut bench, 0, Poured::Amount(ml(10.0)));
    assert!(matches!(last_event(&bench), Event::Poured { can: None, .. }));
    assert!(mix(&bench).cans.iter().all(|ahead| ahead.component != 0));
    assert!(bench.try_tell(&pick(Some("tin")), None).is_err());
    let of_base = cans_of(bench.session.state(), 1, "Base").len();
    assert_eq!(of_base, 4);
}

#[test]
fn a_pour_larger_than_a_can_goes_on_from_the_next() {
    let cans = [until(600.0, can("a", "Base", 100.0)), can("b", "Base", 500.0)];
    let mut bench = bench_with(&cans);
    pour(&mut bench, 0, Poured::Amount(ml(160.0)));
    let entry = bench.session.entries().last().expect("an entry").clone();
    let parts: Vec<(Option<f64>, &str)> = entry
        .events
        .iter()
        .filter_map(|event| match event {
            Event::Poured { poured_ml, can: Some(can), .. } => Some((*poured_ml, can.as_str())),
            _ => None,
        })
        .collect();
    assert_eq!(parts, [(Some(100.0), "a"), (Some(60.0), "b")], "one key, one entry");
    assert!(near(left_ml(&bench, "a"), 0.0) && near(left_ml(&bench, "b"), 440.0));
    bench.tell(Command::TakeBack);
    // in one go the same: 4 parts of 6
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(240.0), lots: Vec::new() });
    assert!(near(left_ml(&bench, "a"), 0.0) && near(left_ml(&bench, "b"), 440.0));
    let lots: Vec<String> = mix(&bench).lots.into_iter().map(|lot| lot.lot).collect();
    assert_eq!(lots, ["lot-a", "lot-b"], "both are in the pot");
    // with no other one, all of it is told of the one there is
    bench.tell(Command::TakeBack);
    bench.tell(Command::SeeStock { cans: vec![can("a", "Base", 100.0)] });
    pour(&mut bench, 0, Poured::Amount(ml(160.0)));
    assert!(level(&bench, "a").overdrawn);
}

#[test]
fn short_and_enough_are_told_by_component() {
    let cans = [can("a", "Base", 100.0), can("b", "Activator", 200.0)];
    let mut bench = bench_with(&cans);
    let board = bench.board();
    assert_eq!(board.mixing.as_ref().map(|mix| mix.stands), Some(OnBench::ToMix));
    // 239 mL, 4:1:1: 159.3 of base, 39.8 of activator
    let base = line(&board, "can 0");
    assert_eq!((base.now, &base.clears), (ReadyNow::Caution, &Clears::PickCan));
    let Item::Can(ahead) = &base.item else { panic!("{:?}", base.item) };
    assert!((ahead.need.and_then(|need| need.ml).expect("known") - 239.0 * 4.0 / 6.0).abs() < 1e-6);
    assert_eq!(line(&board, "can 1").now, ReadyNow::Clear);
    assert!(board.ready.iter().all(|line| line.id != "can 2"), "no can of it is kept");

    // a second can of it is enough together with the first
    let mut more = cans.to_vec();
    more.push(can("c", "Base", 100.0));
    bench.tell(Command::SeeStock { cans: more });
    let board = bench.board();
    assert_eq!(line(&board, "can 0").now, ReadyNow::Clear);

    // an empty one says so
    let empty = vec![can("a", "Base", 0.0)];
    bench.tell(Command::SeeStock { cans: empty });
    let board = bench.board();
    let Item::Can(ahead) = &line(&board, "can 0").item else { panic!("a can") };
    assert_eq!((ahead.now, ahead.all_left.ml), (CanNow::Short, Some(0.0)));

    // without a count nothing is claimed
    let uncounted = SeenCan { left_ml: None, counted_ms: None, ..can("a", "Base", 0.0) };
    bench.tell(Command::SeeStock { cans: vec![uncounted] });
    assert_eq!(line(&bench.board(), "can 0").now, ReadyNow::NotKnown);
}

#[test]
fn a_can_past_its_date_holds_until_it_is_gone_past() {
    let mut bench = bench_with(&[until(-5.0, can("a", "Base", 500.0))]);
    let board = bench.board();
    let base = line(&board, "can 0");
    assert_eq!((base.now, &base.clears), (ReadyNow::Hold, &Clears::CanPast));
    let hold = Hold::CanPast { can: "a".into() };
    assert_eq!(base.hold.as_ref(), Some(&hold));

    // the fact is taken and flagged; the coat meets the hold
    bench.at(1.0).tell(mix_pot());
    assert_eq!(bench.session.entries().last().expect("it").breaks, ["can-past a"]);
    bench.at(30.0);
    let face = bench.session.plan().faces()[0].id.clone();
    let Err(Refusal::Held(holds)) = bench.try_tell(&begin(&face), None) else { panic!("held") };
    assert!(holds.contains(&hold), "{holds:?}");
    assert_eq!(line(&bench.board(), "drawn past a").now, ReadyNow::Hold);
    bench.tell(begin_past(&face));
    let board = bench.board();
    assert!(line(&board, "drawn past a").overridden.is_some(), "it stays in sight");
    assert!(board.overridden.iter().any(|past| past.hold == "can-past a"));
}

#[test]
fn a_date_that_comes_after_the_pour_holds_nothing() {
    let mut bench = bench_with(&[until(20.0, can("a", "Base", 500.0))]);
    bench.at(1.0).tell(mix_pot());
    assert!(bench.session.entries().last().expect("it").breaks.is_empty());
    bench.at(30.0);
    assert!(bench.board().ready.iter().all(|line| !line.id.starts_with("drawn past")));
}

/// A one-part primer of 4 parts base and 1 of water.
fn one_part() -> Bench {
    let mut work = example_work();
    let primer = work.sheets.get_mut("grey-primer").expect("the primer");
    primer.mix.components.remove(1);
    primer.pot_life = None;
    primer.induction = None;
    Bench::new(work)
}

#[test]
fn what_goes_back_dilutes_its_can_and_the_next_pot_takes_less_water() {
    let mut bench = one_part();
    bench.tell(Command::SeeStock { cans: vec![can("a", "Base", 1000.0)] });
    bench.tell(Command::PlanPot { layer: 1, wanted: ml(500.0), short: vec![], container_ml: None });
    pour(&mut bench, 0, Poured::Amount(ml(400.0)));
    pour(&mut bench, 1, Poured::Amount(ml(100.0)));
    bench.tell(mix_pot());
    bench.at(1.0);
    let amount = ml(250.0);
    let returned = bench.tell(Command::ReturnToCan { pot: "A".into(), amount, can_ml: None });
    assert!(matches!(last_event(&bench), Event::PotReturned { can: Some(can), .. } if can == "a"));
    let share = |bench: &Bench| level(bench, "a").thinner.expect("known").fraction();
    // 600 mL stayed, 250 came back with a fifth of it water: 50 / 850
    assert!(near(left_ml(&bench, "a"), 850.0) && near(share(&bench), 50.0 / 850.0));
    let back = mix(&bench).returned.expect("it");
    let (holds, pct) = back.can.expect("known");
    assert!(near(holds, 850.0) && near(pct, 5000.0 / 850.0) && back.to.as_deref() == Some("a"));

    bench.tell(Command::EmptyPot { pot: "A".into() });
    bench.tell(Command::PlanPot { layer: 1, wanted: ml(500.0), short: vec![], container_ml: None });
    let board = mix(&bench);
    let now = board.now.as_ref().expect("a plan");
    let f = 50.0 / 850.0;
    let take = 400.0 / (1.0 - f);
    assert!(near(now.pot.lines[0].add.and_then(|add| add.ml).expect("known"), take));
    assert!(near(now.pot.lines[1].add.and_then(|add| add.ml).expect("known"), 500.0 - take));
    assert!(near(now.pot.spared.and_then(|told| told.ml).expect("some"), take * f));
    while let Some((component, shows)) = mix(&bench).next_pour() {
        pour(&mut bench, component, shows.into());
    }
    // to the step of the scale
    let poured = mix(&bench).now.expect("a plan").pot.poured.ml.expect("known");
    assert!((poured - 500.0).abs() < 0.2, "{poured}");
    let poured = bench.session.entries().iter().rev().flat_map(|entry| &entry.events);
    let pct = poured.clone().find_map(|event| match event {
        Event::Poured { thinner_pct: Some(pct), .. } => Some(*pct),
        _ => None,
    });
    assert!(near(pct.expect("told with the pour"), f * 100.0));

    bench.tell(Command::Strike { n: returned });
    assert!(near(share(&bench), 0.0), "taken back, the can is as it was");
}

#[test]
fn a_can_that_is_too_thin_is_told_and_the_mix_still_comes_to_an_end() {
    let mut bench = one_part();
    let thin = SeenCan { thinner_pct: 60.0, ..can("a", "Base", 5000.0) };
    bench.tell(Command::SeeStock { cans: vec![thin] });
    bench.tell(Command::PlanPot { layer: 1, wanted: ml(500.0), short: vec![], container_ml: None });
    let now = mix(&bench).now.expect("a plan");
    // 400 of base come with 600 of water; the sheet allows 1.4 parts of 4: 140
    assert!(near(now.pot.too_thin.and_then(|told| told.ml).expect("too thin"), 460.0));
    assert_eq!(now.pot.lines[1].add, None, "no water is asked for");
    pour(&mut bench, 0, Poured::Amount(ml(1000.0)));
    let board = mix(&bench);
    assert_eq!(board.next_pour(), None);
    assert!(near(board.now.expect("a plan").pot.too_thin.and_then(|it| it.ml).expect("so"), 460.0));
}

#[test]
fn material_goes_back_to_the_can_taken_since() {
    let mut bench = one_part();
    bench.tell(Command::SeeStock { cans: vec![can("a", "Base", 1000.0), can("b", "Base", 100.0)] });
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(300.0), lots: Vec::new() });
    assert_eq!(mix(&bench).back_to.as_deref(), Some("a"));
    bench.at(2.0).tell(Command::PickCan { layer: 1, component: 0, can: Some("b".into()) });
    assert_eq!(mix(&bench).back_to.as_deref(), Some("b"));
    bench.tell(Command::ReturnToCan { pot: "A".into(), amount: ml(50.0), can_ml: None });
    assert!(near(left_ml(&bench, "b"), 150.0) && near(left_ml(&bench, "a"), 760.0));
}

#[test]
fn a_log_with_cans_is_the_same_session_when_it_is_read_again() {
    let mut bench = bench_with(&[can("a", "Base", 500.0), can("b", "Activator", 200.0)]);
    bench.tell(Command::PickCan { layer: 1, component: 0, can: Some("a".into()) });
    bench.tell(mix_pot());
    let text = serde_json::to_string(bench.session.entries()).expect("text");
    let again = Session::open(serde_json::from_str(&text).expect("entries")).expect("a session");
    assert_eq!(again, bench.session);
}

#[test]
fn past_its_date_a_can_is_still_told_to_be_short() {
    let bench = bench_with(&[until(-1.0, can("a", "Base", 100.0)), can("b", "Activator", 200.0)]);
    let board = bench.board();
    let Item::Can(ahead) = &line(&board, "can 0").item else { panic!("a can") };
    assert_eq!((ahead.now, ahead.short), (CanNow::Past, true));
    let enough = bench_with(&[until(-1.0, can("a", "Base", 900.0))]);
    let board = enough.board();
    let Item::Can(ahead) = &line(&board, "can 0").item else { panic!("a can") };
    assert_eq!((ahead.now, ahead.short), (CanNow::Past, false));
}

#[test]
fn what_is_poured_on_from_an_empty_can_is_counted_against_it_and_said() {
    let mut bench = bench_with(&[can("a", "Base", 100.0), can("z", "Base", 60.0)]);
    let breaks = |bench: &Bench| bench.session.entries().last().expect("it").breaks.clone();
    pour(&mut bench, 0, Poured::Amount(ml(120.0)));
    assert_eq!(breaks(&bench), [""; 0]);
    // 40 are left in the second one
    pour(&mut bench, 0, Poured::Amount(ml(50.0)));
    assert_eq!(breaks(&bench), ["can-empty z"]);
    assert!(level(&bench, "z").overdrawn);
    // both are empty now: the one that ran out pays, and nothing is poured from no can
    pour(&mut bench, 0, Poured::Amount(ml(30.0)));
    assert!(matches!(last_event(&bench), Event::Poured { can: Some(can), .. } if can == "z"));
    assert_eq!(breaks(&bench), ["can-empty z"]);
    assert_eq!(mix(&bench).overdrawn, ["z"]);
}
