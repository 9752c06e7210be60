//! Air for which a sheet does not speak: floors, clocks without a law, the ends of tables, a cold
//! surface under a waterborne film, sheets without limits.

use boothside_core::board::{Clears, DoubtedClock, Item, ReadyLine, ReadyNow};
use boothside_core::physics::rate::Rules;
use boothside_core::session::clocks::{Doubt, Speed};
use boothside_core::session::command::Command;
use boothside_core::session::event::Reading;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::{Refusal, Ruled, changed_by_rules, last_rules};
use serde_json::{Value, json};

use super::same;
use crate::bench::{Bench, begin, begin_past, min, mix};
use crate::jobs::{plain, sheet};

fn read(bench: &mut Bench, air_c: f64, humidity_pct: f64, surface_c: f64) {
    bench.tell(Command::Read(Reading {
        air_c: Some(air_c),
        humidity_pct: Some(humidity_pct),
        surface_c: Some(surface_c),
        ..Reading::default()
    }));
}

/// A face of which a coat was on at 0, in air and on a part of so many degrees.
fn on_at(gap: Value, limits: Value, celsius: f64) -> Bench {
    let sheet = sheet(json!({ "between_coats": gap, "limits": limits }));
    let mut bench = Bench::new(plain(sheet, 2, 3));
    read(&mut bench, celsius, 40.0, celsius);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 0.0);
    bench
}

fn line(bench: &Bench, id: &str) -> Option<ReadyLine> {
    bench.board().ready.into_iter().find(|line| line.id == id)
}

fn held(bench: &mut Bench, face: &str) -> Vec<String> {
    match bench.try_tell(&begin(face), None) {
        Err(Refusal::Held(holds)) => holds.iter().map(ToString::to_string).collect(),
        told => panic!("{told:?}"),
    }
}

/// 4 h stated at 23 °C, not below 10 °C, under every law that a sheet can give: at 5 °C never open.
#[test]
fn below_its_floor_no_gap_opens_whatever_its_law() {
    let of = |law: Value| {
        let mut timing = json!({ "duration_s": 14400, "at_c": 23, "floor_c": 10 });
        timing.as_object_mut().expect("fields").extend(law.as_object().expect("fields").clone());
        json!({ "earliest": timing, "by": "clock" })
    };
    let rows = json!([{ "at_c": 15, "duration_s": 36000 }, { "at_c": 23, "duration_s": 14400 }]);
    for law in [
        json!({}),
        json!({ "law": "table", "table": rows }),
        json!({ "law": "water", "at_pct": 50 }),
        json!({ "law": "warmth", "doubles_per_c": 10 }),
    ] {
        let mut bench = on_at(of(law.clone()), json!({}), 5.0);
        bench.at(250.0);
        assert_eq!(bench.face_now(0), FaceNow::Flashing, "{law}");
        assert_eq!(bench.face(0).speed, Some(Speed::BelowFloor { floor_c: 10.0 }), "{law}");
        // it goes on from where it stood
        read(&mut bench, 25.0, 50.0, 25.0);
        bench.at(475.0);
        assert_eq!(bench.face_now(0), FaceNow::Open, "{law}");
    }
}

/// 55 °F as a form keeps it, and as a reading gives it.
#[test]
fn a_limit_and_a_reading_that_are_typed_alike_are_equal() {
    let (limit, typed) = (12.777_777_777_78, (55.0 - 32.0) / 1.8);
    assert!(typed < limit, "they differ by rounding");
    let gap = json!({ "earliest": { "duration_s": 1200, "floor_c": limit }, "by": "clock" });
    let mut bench = on_at(gap, json!({ "min_c": limit }), typed);
    assert_eq!(line(&bench, "air").expect("a line").now, ReadyNow::Clear);
    bench.at(20.0);
    assert_eq!(bench.face_now(0), FaceNow::Open, "at its floor it runs");
    bench.tell(begin("panel-a"));
    let mut bench =
        on_at(json!({ "earliest": { "duration_s": 1200 }, "by": "clock" }), json!({}), 20.0);
    let wet =
        Reading { air_c: Some(20.0), humidity_pct: Some(75.000_000_01), ..Reading::default() };
    bench.tell(Command::Read(wet));
    assert_eq!(line(&bench, "humidity").expect("a line").now, ReadyNow::NotKnown);
}

fn stated(at_c: f64) -> Value {
    json!({
        "earliest": { "duration_s": 1200, "at_c": at_c },
        "by": "clock",
        "open_until": { "duration_s": 14400, "at_c": at_c }
    })
}

/// Stated at 24 °C without a law: open at 6 °C by the sheet's word, with a caution, for more than
/// 3 °C either side alone.
#[test]
fn a_clock_without_a_law_opens_with_a_caution_where_it_was_colder() {
    for (celsius, minded) in
        [(6.0, true), (20.9, true), (21.0, false), (24.0, false), (27.0, false)]
    {
        let mut bench = on_at(stated(24.0), json!({}), celsius);
        bench.at(20.0);
        let face = bench.face(0);
        assert_eq!(face.now, FaceNow::Open);
        let doubt = Doubt::OffStated { stated_c: 24.0, was_c: celsius };
        assert_eq!(face.opens_doubt, minded.then_some(doubt), "{celsius}");
        let line = line(&bench, "opens in doubt");
        assert_eq!(line.is_some(), minded, "{celsius}");
        if let Some(line) = line {
            assert_eq!((line.now, &line.clears), (ReadyNow::Caution, &Clears::WaitLonger));
            let clock = DoubtedClock::Opens(vec![0]);
            assert_eq!(line.item, Item::InDoubt { clock, doubt });
        }
        // what the sheet does not say holds nothing
        bench.tell(begin("panel-a"));
    }
}

#[test]
fn a_maximum_without_a_law_is_minded_where_it_was_warmer() {
    for (celsius, minded) in [(36.0, true), (27.1, true), (27.0, false), (6.0, false)] {
        let mut bench = on_at(stated(24.0), json!({}), celsius);
        bench.at(20.0);
        let doubt = Doubt::OffStated { stated_c: 24.0, was_c: celsius };
        assert_eq!(bench.face(0).closes_doubt, minded.then_some(doubt), "{celsius}");
        let now = line(&bench, "closes in doubt").map(|line| (line.now, line.clears));
        let wanted = minded.then_some((ReadyNow::Caution, Clears::BeSooner));
        assert_eq!(now, wanted, "{celsius}");
    }
}

/// Under the sheet's own least temperature it holds, for one reason a coat and until the next reading.
#[test]
fn what_was_colder_than_the_sheet_allows_holds() {
    let mut bench = on_at(stated(24.0), json!({ "min_c": 15 }), 6.0);
    bench.coat("panel-b", 0.0, 0.0).at(21.0);
    // warm again: only what the cold did is left to say
    read(&mut bench, 24.0, 40.0, 24.0);
    assert_eq!(held(&mut bench, "panel-a"), ["opened-cold 1.2"]);
    let at = line(&bench, "opens in doubt").expect("a line");
    assert_eq!(at.now, ReadyNow::Hold);
    bench.tell(begin_past("panel-a"));
    bench.pass(1.0).tell(begin("panel-b"));
    // above the least it is a caution
    let mut bench = on_at(stated(24.0), json!({ "min_c": 5 }), 6.0);
    bench.at(21.0).tell(begin("panel-a"));
}

/// Once it has had its stated time in air that is near enough, nothing is left to mind.
#[test]
fn warm_enough_for_long_enough_makes_up_for_the_cold() {
    let mut bench = on_at(stated(24.0), json!({ "min_c": 15 }), 6.0);
    bench.at(30.0);
    read(&mut bench, 22.0, 40.0, 22.0);
    // 6 to 22 °C in half an hour: above 21 °C for the last 1.875 min
    bench.at(30.0 + 20.0 - 1.9);
    assert!(bench.face(0).opens_doubt.is_some());
    bench.pass(0.2);
    assert_eq!(bench.face(0).opens_doubt, None);
    bench.tell(begin("panel-a"));
}

#[test]
fn a_stand_in_the_cold_and_a_life_in_the_heat_are_minded() {
    let sheet = sheet(json!({
        "induction": { "stand": { "duration_s": 1200, "at_c": 23 }, "inside_pot_life": true },
        "pot_life": { "life": { "duration_s": 14400, "at_c": 23 }, "cleaning_reserve_s": 600 }
    }));
    for (celsius, stand, life) in [(12.0, true, false), (23.0, false, false), (31.0, false, true)] {
        let mut bench = Bench::new(plain(sheet.clone(), 1, 1));
        read(&mut bench, celsius, 40.0, celsius);
        bench.tell(mix());
        bench.pass(30.0);
        assert_eq!(line(&bench, "stand in doubt").is_some(), stand, "{celsius}");
        assert_eq!(line(&bench, "life in doubt").is_some(), life, "{celsius}");
    }
}

/// What a part may be handled by is minded as well, also where every coat is on.
#[test]
fn a_cure_in_the_cold_is_minded() {
    let cure = json!([{ "stage": "handle", "after": { "duration_s": 7200, "at_c": 23 } }]);
    for (celsius, minded) in [(12.0, true), (21.0, false)] {
        let mut bench = Bench::new(plain(sheet(json!({ "cure": cure })), 1, 1));
        read(&mut bench, celsius, 40.0, celsius);
        bench.tell(mix());
        bench.coat("panel-a", 0.0, 1.0);
        let line = line(&bench, "cure in doubt");
        assert_eq!(line.map(|line| line.now), minded.then_some(ReadyNow::Caution), "{celsius}");
        bench.at(300.0);
        assert_eq!(bench.face(0).cure[0].doubt.is_some(), minded, "{celsius}");
    }
}

/// `15C,10h 23C,6h 35C,3h`: ln D carried on gives 68,173 s at 5 °C (clock_edges.py), and a maximum is
/// held there; in the heat the other way round.
#[test]
fn a_table_is_carried_on_for_a_minimum_in_the_cold_and_a_maximum_in_the_heat() {
    let rows = json!([
        { "at_c": 15, "duration_s": 36000 },
        { "at_c": 23, "duration_s": 21600 },
        { "at_c": 35, "duration_s": 10800 }
    ]);
    let timing = json!({ "duration_s": 21600, "at_c": 23, "law": "table", "table": rows });
    let later = json!([
        { "at_c": 15, "duration_s": 360_000 },
        { "at_c": 23, "duration_s": 216_000 },
        { "at_c": 35, "duration_s": 108_000 }
    ]);
    let open = json!({ "duration_s": 216_000, "at_c": 23, "law": "table", "table": later });
    let gap = json!({ "earliest": timing, "by": "clock", "open_until": open });
    let cold = on_at(gap.clone(), json!({}), 5.0).face(0);
    let seconds = |due: Option<boothside_core::session::clocks::Due>| {
        due.and_then(|due| due.moment()).expect("a moment").seconds()
    };
    assert!((seconds(cold.opens) - 68_173.162).abs() < 0.01);
    assert!(same(seconds(cold.open_until), 360_000.0), "held");
    assert!(matches!(cold.speed, Some(Speed::CarriedOn(_))));
    assert_eq!((cold.opens_doubt, cold.closes_doubt), (Some(Doubt::CarriedOn), None));
    // at 45 °C: 108000 s × (108/216)^(10/12)
    let hot = on_at(gap, json!({}), 45.0);
    let face = hot.face(0);
    assert!(same(seconds(face.opens), 10_800.0), "held");
    assert!((seconds(face.open_until) - 108_000.0 * 0.5f64.powf(10.0 / 12.0)).abs() < 0.01);
    assert!(matches!(face.speed, Some(Speed::HeldAtEnd(_))));
    assert_eq!((face.opens_doubt, face.closes_doubt), (None, Some(Doubt::CarriedOn)));
    let line = line(&hot, "closes in doubt").expect("a line");
    assert_eq!((line.now, line.clears), (ReadyNow::Caution, Clears::BeSooner));
}

/// Air 25 °C 50 %, stated for just that: the part at 17 °C dries slower, a maximum asks only the air.
#[test]
fn a_cold_part_slows_a_waterborne_flash() {
    let timing =
        |seconds: u32| json!({ "duration_s": seconds, "at_c": 25, "at_pct": 50, "law": "water" });
    let gap = json!({ "earliest": timing(1200), "by": "both", "open_until": timing(14400) });
    let at = |surface_c: f64| {
        let sheet = sheet(json!({ "between_coats": gap }));
        let mut bench = Bench::new(plain(sheet, 1, 2));
        read(&mut bench, 25.0, 50.0, surface_c);
        bench.tell(mix());
        bench.coat("panel-a", 0.0, 0.0);
        bench.face(0)
    };
    let rate = |face: &boothside_core::session::standing::FaceStanding| match face.speed {
        Some(Speed::Rate(rate)) => rate,
        other => panic!("{other:?}"),
    };
    let (warm, cold) = (at(25.0), at(17.0));
    assert!(same(rate(&warm), 1.0));
    assert!((0.3..0.7).contains(&rate(&cold)), "{}", rate(&cold));
    let minutes = |due: Option<boothside_core::session::clocks::Due>| {
        due.and_then(|due| due.moment()).expect("a moment").seconds() / 60.0
    };
    for (warm, cold) in [(warm.look, cold.look), (warm.opens, cold.opens)] {
        assert!(same(minutes(warm), 20.0));
        assert!(minutes(cold) > 28.0, "{}", minutes(cold));
    }
    assert!(same(minutes(cold.open_until), 240.0));
}

/// Outside 15 to 30 °C and 30 to 80 % the film's temperature was not fitted, and that is said.
#[test]
fn air_outside_the_range_of_the_fit_is_said() {
    let earliest = json!({ "duration_s": 1200, "at_c": 25, "at_pct": 50, "law": "water" });
    let speed = |celsius: f64| {
        on_at(json!({ "earliest": earliest, "by": "clock" }), json!({}), celsius).face(0).speed
    };
    assert!(matches!(speed(20.0), Some(Speed::Rate(_))));
    assert!(matches!(speed(12.0), Some(Speed::OutsideFit(_))));
    assert!(matches!(speed(33.0), Some(Speed::OutsideFit(_))));
}

/// 18 °C, 12 %: the dew point lies under −10 °C, so a part of 17 °C is more than 27 °C over it.
#[test]
fn in_dry_winter_air_the_margin_is_at_least_told() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    read(&mut bench, 18.0, 12.0, 17.0);
    let air = bench.board().air;
    assert_eq!(air.margin_k, None);
    assert!(same(air.margin_over_k.expect("at least"), 27.0));
    let margin = line(&bench, "dew margin").expect("a line");
    assert_eq!(margin.now, ReadyNow::Clear);
    let Item::DewMargin { over_k: Some(over_k), .. } = margin.item else { panic!() };
    assert!(same(over_k, 27.0));
    // the part at −8 °C: more than 2 °C is not enough to be told
    read(&mut bench, 1.0, 12.0, -8.0);
    assert_eq!(line(&bench, "dew margin").expect("a line").now, ReadyNow::NotKnown);
}

/// A general rule (air and part 10 to 32 °C, 40 to 75 %) cautions where the sheet sets nothing, and
/// never clears.
#[test]
fn without_limits_of_the_sheet_a_general_rule_cautions_and_clears_nothing() {
    let mut bench = Bench::new(plain(sheet(json!({})), 1, 1));
    bench.tell(mix());
    let now = |bench: &Bench| {
        ["air", "surface", "humidity"].map(|id| line(bench, id).expect("a line").now)
    };
    read(&mut bench, 20.0, 50.0, 20.0);
    assert_eq!(now(&bench), [ReadyNow::NotKnown; 3]);
    read(&mut bench, 5.0, 30.0, 5.0);
    assert_eq!(now(&bench), [ReadyNow::Caution; 3]);
    let Item::AirTemperature(range) = line(&bench, "air").expect("a line").item else { panic!() };
    assert_eq!(range.general, Some((10.0, 32.0)));
    bench.tell(begin("panel-a"));
    // the sheet's own word stands alone
    let limits = json!({ "limits": { "min_c": 2 } });
    let mut bench = Bench::new(plain(sheet(limits), 1, 1));
    read(&mut bench, 5.0, 50.0, 5.0);
    assert_eq!(line(&bench, "air").expect("a line").now, ReadyNow::Clear);
}

/// A session of the first rules: what opened at 4 h below its floor does not open now, and that is
/// told while the clock runs by either of them, until a key is written after the rules.
#[test]
fn clocks_that_other_rules_make_otherwise_are_named() {
    let gap = json!({
        "earliest": { "duration_s": 14400, "at_c": 23, "floor_c": 10 },
        "by": "clock"
    });
    let old = |bench: &Bench| {
        let mut entries = bench.session.entries().to_vec();
        if let Some(boothside_core::session::event::Event::Opened(opening)) =
            entries.first_mut().and_then(|entry| entry.events.first_mut())
        {
            opening.rules = 1;
        }
        let session = boothside_core::session::Session::open(entries).expect("a session");
        Bench { session, now: bench.now }
    };
    let bench = on_at(gap.clone(), json!({}), 5.0);
    assert_eq!(changed_by_rules(&bench.session, min(10.0)), [], "written by these rules");
    let mut bench = old(&bench);
    assert_eq!(last_rules(&bench.session), Rules::FIRST);
    let told = changed_by_rules(&bench.session, min(10.0));
    let [change] = &told[..] else { panic!("{told:?}") };
    assert_eq!(change.of, Ruled::Opens(0));
    assert_eq!((change.now.moment(), change.before.moment()), (None, Some(min(240.0))));
    assert_eq!(changed_by_rules(&bench.session, min(500.0)).len(), 1, "it runs by these rules");
    assert_eq!(bench.at(500.0).face_now(0), FaceNow::Flashing, "the new time counts");
    // the machine's word answers nothing, a key's does
    let away = boothside_core::session::time::Span::default();
    bench.tell(Command::Restarted { away });
    assert_eq!(last_rules(&bench.session), Rules::NOW);
    assert_eq!(changed_by_rules(&bench.session, min(500.0)).len(), 1);
    bench.tell(Command::Note { text: "seen".into() });
    assert_eq!(changed_by_rules(&bench.session, min(500.0)), []);
    // what is the same by both is not told
    let bench = old(&on_at(gap, json!({}), 20.0));
    assert_eq!(changed_by_rules(&bench.session, min(10.0)), []);
}
