//! The end of a window by the law of its gap's earliest, where the sheet states none for it: in the
//! heat it comes sooner, and never later than stated.

use boothside_core::board::{Clears, DoubtedClock, Item, ReadyLine, ReadyNow};
use boothside_core::material::sheet::{Gap, Sheet};
use boothside_core::session::clocks::{By, Doubt, Dues, Kind};
use boothside_core::session::command::Command;
use boothside_core::session::event::Reading;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::{Readings, Taken};
use proptest::prelude::*;
use serde_json::{Value, json};

use super::{minutes, same};
use crate::bench::{Bench, min, mix};
use crate::jobs::{plain, sheet};

/// 20 min at 24 °C, half of it for each 10 °C more.
fn doubling() -> Value {
    json!({ "duration_s": 1200, "at_c": 24, "law": "warmth", "doubles_per_c": 10 })
}

/// The same as three rows of a table.
fn table() -> Value {
    let rows = json!([
        { "at_c": 14, "duration_s": 2400 },
        { "at_c": 24, "duration_s": 1200 },
        { "at_c": 34, "duration_s": 600 }
    ]);
    json!({ "duration_s": 1200, "at_c": 24, "law": "table", "table": rows })
}

/// 20 min at 24 °C and 50 %, as water dries.
fn water() -> Value {
    json!({ "duration_s": 1200, "at_c": 24, "at_pct": 50, "law": "water" })
}

/// 4 h at 24 °C, by the law of the earliest.
fn gap(earliest: &Value) -> Value {
    json!({
        "earliest": earliest,
        "by": "clock",
        "open_until": { "duration_s": 14400, "at_c": 24, "law": "as_earliest" }
    })
}

fn of(gap: &Value) -> Sheet {
    sheet(json!({ "between_coats": gap }))
}

fn read(bench: &mut Bench, air_c: f64, humidity_pct: f64) {
    bench.tell(Command::Read(Reading {
        air_c: Some(air_c),
        humidity_pct: Some(humidity_pct),
        surface_c: Some(air_c),
        ..Reading::default()
    }));
}

fn on_at(gap: &Value, celsius: f64) -> Bench {
    let mut bench = Bench::new(plain(of(gap), 2, 3));
    read(&mut bench, celsius, 50.0);
    bench.tell(mix());
    bench.coat("panel-a", 0.0, 0.0);
    bench
}

fn closing(bench: &Bench) -> Option<ReadyLine> {
    bench.board().ready.into_iter().find(|line| line.id == "closes in doubt")
}

/// By hand: 10 °C warmer halves 240 min, 20 °C warmer halves them twice (the table is carried on
/// beyond 34 °C along its last two rows); 10 °C colder would double them, and does not.
#[test]
fn in_the_heat_the_window_closes_sooner_and_in_the_cold_as_stated() {
    for earliest in [doubling(), table()] {
        for (celsius, closes) in [(44.0, 60.0), (34.0, 120.0), (24.0, 240.0), (14.0, 240.0)] {
            let bench = on_at(&gap(&earliest), celsius);
            let found = minutes(bench.face(0).open_until);
            assert!(same(found, closes), "{celsius}: {found} for {earliest}");
        }
    }
    // 30 °C and 50 %: about 1.2 times the speed of 24 °C and 50 %, by the law of drying water
    let found = minutes(on_at(&gap(&water()), 30.0).face(0).open_until);
    assert!((180.0..220.0).contains(&found), "{found}");
    assert!(same(minutes(on_at(&gap(&water()), 14.0).face(0).open_until), 240.0));
}

/// An hour at 14 °C counts half, and the rest at 34 °C double: 30 + 2 × 105 min, due after 165 min.
#[test]
fn cold_and_heat_are_one_sum_and_its_end_is_never_after_the_stated() {
    for earliest in [doubling(), table()] {
        let mut bench = on_at(&gap(&earliest), 14.0);
        bench.at(59.999);
        read(&mut bench, 14.0, 50.0);
        bench.at(60.0);
        read(&mut bench, 34.0, 50.0);
        let found = minutes(bench.face(0).open_until);
        assert!((found - 165.0).abs() < 0.01, "{found} for {earliest}");
    }
}

/// What states no temperature of its own is stated where the earliest is.
#[test]
fn a_time_without_a_temperature_is_stated_for_the_air_of_the_earliest() {
    for earliest in [doubling(), table(), water()] {
        let mut gap = gap(&earliest);
        gap["open_until"]["at_c"] = Value::Null;
        assert_eq!(of(&gap).check(), Vec::new(), "{earliest}");
        let sooner = minutes(on_at(&gap, 34.0).face(0).open_until);
        assert!(sooner < 200.0, "{sooner} for {earliest}");
    }
}

#[test]
fn the_board_says_that_it_closes_by_the_law_of_the_earliest() {
    let mut bench = on_at(&gap(&table()), 34.0);
    bench.at(21.0);
    assert_eq!(bench.face(0).now, FaceNow::Open);
    assert_eq!(bench.face(0).closes_doubt, Some(Doubt::AsEarliest));
    let line = closing(&bench).expect("a line");
    assert_eq!((line.now, &line.clears), (ReadyNow::Caution, &Clears::BeSooner));
    let clock = DoubtedClock::Closes(vec![0]);
    assert_eq!(line.item, Item::InDoubt { clock, doubt: Doubt::AsEarliest });
    bench.at(120.0);
    assert_eq!(bench.face_now(0), FaceNow::Sand, "past its end, the sooner one");
    // as stated there is nothing to say, and nothing of a table's end
    let mut bench = on_at(&gap(&table()), 6.0);
    bench.at(100.0);
    assert_eq!(bench.face(0).closes_doubt, None);
    assert_eq!(closing(&bench), None);
}

/// Where it was left, it stays as it was: stated, with the caution for warmer air.
#[test]
fn a_law_that_was_not_taken_bends_nothing() {
    let mut gap = gap(&doubling());
    gap["open_until"]["law"] = "steady".into();
    let bench = on_at(&gap, 34.0);
    assert!(same(minutes(bench.face(0).open_until), 240.0));
    let off = Doubt::OffStated { stated_c: 24.0, was_c: 34.0 };
    assert_eq!(bench.face(0).closes_doubt, Some(off));
}

#[test]
fn the_law_of_the_earliest_is_for_the_end_of_a_gap_that_has_one() {
    let told =
        |gap: &Value| -> Vec<String> { of(gap).check().iter().map(ToString::to_string).collect() };
    assert_eq!(told(&gap(&table())), Vec::<String>::new());
    let lawless = told(&gap(&json!({ "duration_s": 1200, "at_c": 24 })));
    assert_eq!(lawless.len(), 1, "{lawless:?}");
    for word in ["between_coats.open_until.law", "as_earliest", "table, warmth or water"] {
        assert!(lawless[0].contains(word), "{lawless:?}");
    }
    // nowhere else, and nowhere where no temperature is known
    let mut of_itself = gap(&table());
    of_itself["earliest"] = json!({ "duration_s": 1200, "law": "as_earliest" });
    assert!(told(&of_itself).iter().any(|it| it.contains("between_coats.earliest.law")));
    let mut nowhere = gap(&table());
    nowhere["earliest"]["at_c"] = Value::Null;
    nowhere["open_until"]["at_c"] = Value::Null;
    assert!(told(&nowhere).iter().any(|it| it.contains("between_coats.open_until.at_c")));
    let mut saturated = gap(&water());
    saturated["open_until"]["at_pct"] = 100.into();
    assert!(told(&saturated).iter().any(|it| it.contains("between_coats.open_until.at_pct")));
    let cure = json!([{ "stage": "sand", "after": { "duration_s": 9000, "law": "as_earliest" } }]);
    let cure = sheet(json!({ "cure": cure })).check();
    assert!(cure.iter().any(|it| it.to_string().contains("cure[0].after.law")), "{cure:?}");
}

fn airs() -> impl Strategy<Value = Vec<Taken>> {
    let one = (0..600i64, -5.0..50.0f64, 5.0..95.0f64).prop_map(|(minute, air_c, humidity_pct)| {
        #[expect(clippy::cast_precision_loss, reason = "minutes of half a day")]
        let at = min(minute as f64);
        let reading =
            Reading { air_c: Some(air_c), humidity_pct: Some(humidity_pct), ..Reading::default() };
        Taken { at, known: at, reading }
    });
    prop::collection::vec(one, 0..8).prop_map(|mut taken| {
        taken.sort_by_key(|taken| taken.at);
        taken
    })
}

proptest! {
    /// In any air it is the sooner of the stated time and of what the law makes of it.
    #[test]
    fn in_any_air_it_is_the_sooner_of_stated_and_bent(
        readings in airs(),
        earliest in prop::sample::select(vec![doubling(), table(), water()]),
        at_c in 10.0..40.0f64,
    ) {
        let mut gap = gap(&earliest);
        gap["open_until"]["at_c"] = at_c.into();
        let gap: Gap = serde_json::from_value(gap).expect("a gap");
        let end = gap.open_until.clone().expect("an end");
        let bent = gap.shortened(&end).expect("it goes by the law of the earliest");
        // a reading from then on finds the stated time announced, and takes nothing back
        let readings = readings.into_iter().filter(|taken| taken.at < min(240.0));
        let readings: Readings = readings.collect();
        let by = By::new(&readings, boothside_core::physics::rate::Rules::NOW);
        let at = |kind| by.due(&bent, kind, min(0.0).into(), 1.0).moment().map(|at| at.ms());
        let (found, stated) = (at(Kind::Shortened).expect("it comes"), min(240.0).ms());
        prop_assert!(found <= stated);
        let alone = at(Kind::Maximum).unwrap_or(stated);
        prop_assert!((found - alone.min(stated)).abs() <= 2, "{found} of {alone}, {stated}");
    }
}
