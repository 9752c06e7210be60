//! A pot as it is: poured, thinned after the stir, sprayed from, weighed. The job is invented, and small
//! enough to reckon by hand: 0.5 m² a face, 30 µm dry, all of it lands.

use boothside_core::board::film::film;
use boothside_core::board::{Lacks, PotRow};
use boothside_core::material::recipe::Told;
use boothside_core::session::clocks::DueAt;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::demand::NotSet;
use boothside_core::session::film::WetFilm;
use boothside_core::session::mixing::Ratio;
use boothside_core::session::standing::{FaceNow, Hold};
use boothside_core::session::time::Span;
use boothside_core::work::job::FullJob;
use serde_json::{Value, json};

use crate::bench::{Bench, begin_past, min, on};
use crate::jobs::{checked, plain, sheet};
use crate::mixing::{grams, mix};

/// 4:1:1 to 4:1:2 by volume, 45 % solids before thinning: 37.5 % as mixed, 80 mL/m² a coat.
fn job(tolerance: Value, coats: u32) -> FullJob {
    let sheet = sheet(json!({
        "mix": { "by": "volume", "solids_pct": 45, "tolerance_pct": tolerance, "components": [
            { "name": "Base", "role": "base", "parts": 4, "density_g_per_ml": 1.3 },
            { "name": "Activator", "role": "activator", "parts": 1, "density_g_per_ml": 1.1 },
            { "name": "Reducer", "role": "reducer", "parts": 1, "max_parts": 2,
              "density_g_per_ml": 0.9 }
        ] },
        "pot_life": { "life": { "duration_s": 14400 }, "cleaning_reserve_s": 1200 },
        "between_coats": {
            "earliest": { "duration_s": 1200 }, "by": "clock",
            "open_until": { "duration_s": 3600 }, "wipe_until": { "duration_s": 7200 }
        }
    }));
    let mut job = plain(sheet, 2, coats);
    job.system.layers[0].dry_um = Some(30.0);
    job.shop.transfer_pct = Some(100.0);
    checked(job)
}

/// So many mL mixed in one go, stirred.
fn mixed(ml: f64) -> Bench {
    let mut bench = Bench::new(job(json!(3), 2));
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(ml), lots: Vec::new() });
    bench
}

const fn ml(ml: f64) -> Told {
    Told { g: None, ml: Some(ml) }
}

fn pour(bench: &mut Bench, component: usize, amount_ml: f64) -> Vec<String> {
    let amount = Poured::Amount(ml(amount_ml));
    bench.tell(Command::Pour { pot: Some("A".into()), layer: 1, component, amount });
    bench.session.entries().last().expect("an entry").breaks.clone()
}

fn row(bench: &Bench) -> PotRow {
    bench.board().pots[0].clone()
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

fn solids_pct(bench: &Bench) -> f64 {
    film(&bench.session).solids_pct.expect("solids")
}

#[test]
fn reducer_that_the_sheet_allows_asks_for_nothing_after_the_stir() {
    let mut bench = mixed(600.0);
    assert_eq!(mix(&bench).next_pour(), None);
    // 100 mL are in, 200 are allowed
    pour(&mut bench, 2, 60.0);
    let bench = mix(&bench);
    assert_eq!(bench.next_pour(), None, "{:?}", bench.now);
    assert!(matches!(bench.ratio(), Ratio::Within { short_pct, .. } if short_pct < 1e-6));
    assert!(bench.now.is_ok_and(|now| near(now.pot.makes.ml.expect("mL"), 660.0)));
}

#[test]
fn too_much_reducer_is_no_lack_of_activator() {
    let mut bench = mixed(600.0);
    pour(&mut bench, 2, 150.0);
    // 400 of base and 100 of activator allow 200
    let Ratio::Out { short_pct, thinned: Some(thinned), .. } = mix(&bench).ratio() else {
        panic!("{:?}", mix(&bench).ratio())
    };
    assert!(short_pct < 1e-6, "base and activator are in ratio: {short_pct}");
    assert_eq!(thinned.component, 2);
    assert!(near(thinned.over.ml.expect("mL"), 50.0) && near(thinned.over_pct, 25.0));
    // only ever add: 500 of base and 125 of activator carry it
    let now = mix(&bench).now.expect("a plan");
    let add = |at: usize| now.pot.lines[at].add.and_then(|add| add.ml).expect("mL");
    assert!(near(add(0), 100.0) && near(add(1), 25.0));
    pour(&mut bench, 0, 100.0);
    pour(&mut bench, 1, 25.0);
    assert!(matches!(mix(&bench).ratio(), Ratio::Within { .. }));
}

#[test]
fn reducer_short_of_everything_else_is_still_short() {
    let mut bench = Bench::new(job(json!(3), 2));
    for (component, ml) in [(0, 400.0), (1, 100.0)] {
        let amount = Poured::Amount(Told { g: None, ml: Some(ml) });
        bench.tell(Command::Pour { pot: None, layer: 1, component, amount });
    }
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    let ratio = mix(&bench).ratio();
    assert!(matches!(ratio, Ratio::Out { component: 2, thinned: None, .. }), "{ratio:?}");
}

#[test]
fn reducer_after_the_stir_counts_for_solids_need_and_comb() {
    let mut bench = mixed(600.0);
    assert!(near(solids_pct(&bench), 37.5));
    assert!(near(row(&bench).needs_ml[0].1, 80.0));
    assert!(near(film(&bench.session).coat_wet_um.expect("wet"), 80.0));
    // 160 mL on 500: 45 / 1.32
    pour(&mut bench, 2, 60.0);
    assert!(near(solids_pct(&bench), 45.0 / 1.32));
    assert!(near(row(&bench).needs_ml[0].1, 88.0), "{:?}", row(&bench).needs_ml);
    assert!(near(film(&bench.session).coat_wet_um.expect("wet"), 88.0));
    assert!(near(mix(&bench).need.expect("a need").solids_pct, 45.0 / 1.32));
}

#[test]
fn reducer_into_what_is_left_thins_only_that() {
    let mut bench = mixed(160.0);
    bench.coat("panel-a", 1.0, 5.0);
    // 40 mL went on: 20 of reducer and 100 of the rest are left, and 10 come in
    bench.at(6.0);
    pour(&mut bench, 2, 10.0);
    assert!(near(solids_pct(&bench), 45.0 / 1.3), "{}", solids_pct(&bench));
    bench.coat("panel-b", 7.0, 11.0);
    let took = 0.5 * 30.0 / (0.45 / 1.3);
    assert!(near(row(&bench).left_ml.expect("left"), 130.0 - took));
    for face in ["panel-a", "panel-b"] {
        let wet = vec![WetFilm { wet_um: 100.0, dry_tooth_um: None }];
        bench.tell(Command::ReadWetFilm { face: face.into(), wet });
    }
    let dry: Vec<f64> =
        film(&bench.session).faces.iter().map(|face| face.sum_um.expect("a film").0).collect();
    assert!(near(dry[0], 37.5) && near(dry[1], 45.0 / 1.3), "as each was sprayed: {dry:?}");
}

#[test]
fn the_scale_tells_how_much_the_reducer_thins() {
    let mut bench = mixed(160.0);
    bench.at(1.0).tell(Command::WeighPot { pot: "A".into(), left: ml(60.0) });
    // 10 of reducer and 50 of the rest are left
    bench.at(2.0);
    pour(&mut bench, 2, 5.0);
    assert!(near(solids_pct(&bench), 45.0 / 1.3), "{}", solids_pct(&bench));
    assert!(near(row(&bench).left_ml.expect("left"), 65.0));
}

#[test]
fn into_an_unknown_amount_the_solids_are_not_known() {
    let mut bench = Bench::new(job(json!(3), 2));
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert!(near(solids_pct(&bench), 37.5), "mixed by the sheet, however much it is");
    pour(&mut bench, 2, 5.0);
    assert_eq!(film(&bench.session).solids_pct, Err(NotSet::InPot));
}

#[test]
fn a_face_on_the_gun_is_counted_once() {
    let mut bench = mixed(160.0);
    let short = |bench: &Bench| {
        let row = row(bench);
        row.needs_ml.iter().map(|(_, ml)| ml).sum::<f64>() - row.left_ml.expect("left")
    };
    assert!(near(short(&bench), 0.0));
    bench.at(1.0).tell(begin_past("panel-a"));
    assert!(near(short(&bench), 0.0), "{}", short(&bench));
    bench.at(3.0).tell(on("panel-a"));
    assert!(near(short(&bench), 0.0));
    assert!(near(row(&bench).left_ml.expect("left"), 120.0));
    // wiped off while it was sprayed, it was sprayed all the same
    bench.at(4.0).tell(begin_past("panel-b"));
    bench.at(5.0).tell(Command::WipedOff { face: "panel-b".into() });
    assert!(near(row(&bench).left_ml.expect("left"), 80.0));
}

#[test]
fn mixed_in_one_go_is_as_much_as_a_short_component_allows() {
    let mut bench = Bench::new(job(json!(3), 2));
    let short = vec![(0, ml(200.0))];
    bench.tell(Command::PlanPot { layer: 1, wanted: ml(600.0), short, container_ml: None });
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert!(row(&bench).at.amount_ml.is_some_and(|ml| near(ml, 300.0)));
    // planned by weight: 4 × 1.3 + 1.1 + 0.9 on 6 parts are 1.2 g/mL
    let mut bench = Bench::new(job(json!(3), 2));
    let wanted = grams(240.0);
    bench.tell(Command::PlanPot { layer: 1, wanted, short: Vec::new(), container_ml: None });
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert!(row(&bench).at.amount_ml.is_some_and(|ml| near(ml, 200.0)));
}

#[test]
fn reducer_into_a_pot_past_half_its_life_is_taken_and_flagged() {
    let mut bench = mixed(600.0);
    bench.at(119.0);
    assert_eq!(pour(&mut bench, 2, 5.0), [""; 0]);
    bench.at(121.0);
    assert_eq!(pour(&mut bench, 0, 4.0), [""; 0], "only reducer hides that it sets");
    assert_eq!(pour(&mut bench, 2, 5.0), ["thinned-late A"]);
    assert_eq!(bench.session.state().mixing("A").expect("it").pours.len(), 3, "it is taken");
}

#[test]
fn without_a_tolerance_the_ratio_holds_no_coat() {
    let mut bench = Bench::new(job(Value::Null, 2));
    for (component, ml) in [(0, 400.0), (1, 50.0), (2, 100.0)] {
        let amount = Poured::Amount(Told { g: None, ml: Some(ml) });
        bench.tell(Command::Pour { pot: None, layer: 1, component, amount });
    }
    bench.tell(Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() });
    assert!(matches!(mix(&bench).ratio(), Ratio::NotSet { component: 1, .. }));
    let out = |hold: &Hold| matches!(hold, Hold::OutOfRatio { .. });
    assert!(bench.board().ready.iter().all(|line| !line.hold.as_ref().is_some_and(out)));
}

/// 54 m³, 3200 m³/h, mixing factor 3: −ln 0.01 × 3 / 59.26 h are 839.3 s.
#[test]
fn after_the_last_coat_the_fan_is_told_from_the_end_of_the_last_flash() {
    let mut work = job(json!(3), 1);
    work.shop.booth_volume_m3 = Some(54.0);
    work.shop.booth_flow_m3_per_h = Some(3200.0);
    work.shop.mixing_factor = Some(3.0);
    let mut bench = Bench::new(checked(work));
    bench.tell(Command::MixPot { layer: 1, amount_ml: Some(160.0), lots: Vec::new() });
    bench.coat("panel-a", 1.0, 5.0);
    assert_eq!(bench.board().fan, None, "a coat is to come");
    bench.coat("panel-b", 6.0, 10.0);
    let fan = bench.board().fan.expect("every coat is on");
    let purge = 0.01f64.ln() * -3.0 / (3200.0 / 54.0) * 3600.0;
    let wanted = min(10.0 + 20.0).plus(Span::from_seconds(purge));
    assert_eq!((fan.until, fan.over), (Ok(DueAt::At(wanted)), false));
    // the board knows when that is over
    bench.at(40.0);
    assert_eq!(bench.board().fan.map(|fan| fan.over), Some(false));
    while bench.board().next_change.is_some_and(|change| change < wanted) {
        bench.now = bench.board().next_change.expect("a change");
    }
    assert_eq!(bench.board().next_change, Some(wanted));
    bench.now = wanted;
    assert_eq!(bench.board().fan.map(|fan| fan.over), Some(true));
}

#[test]
fn without_the_booths_figures_the_fan_is_not_known() {
    let mut work = job(json!(3), 1);
    work.shop.mixing_factor = Some(3.0);
    let mut bench = Bench::new(checked(work));
    bench.coat("panel-a", 1.0, 5.0).coat("panel-b", 6.0, 10.0);
    let fan = bench.board().fan.expect("every coat is on");
    assert_eq!(fan.until, Err(vec![Lacks::Volume, Lacks::Flow]));
}

#[test]
fn a_sanded_face_counts_from_the_sanding() {
    let mut bench = mixed(600.0);
    bench.coat("panel-a", 1.0, 5.0);
    // opens after 20 min, open for an hour from the beginning, after a wipe for two
    bench.at(30.0);
    assert_eq!((bench.face(0).now, bench.face(0).since), (FaceNow::Open, None));
    bench.at(70.0).tell(Command::Wiped { faces: vec!["panel-a".into()] });
    assert_eq!(bench.face(0).since, Some(min(70.0)), "a wipe begins a time of its own");
    bench.at(130.0);
    assert_eq!(bench.face_now(0), FaceNow::Sand);
    bench.tell(Command::Sanded { faces: vec!["panel-a".into()] });
    let face = bench.face(0);
    assert_eq!((face.now, face.since), (FaceNow::Wipe, Some(min(130.0))), "dust");
    assert_eq!(face.until, Some(DueAt::At(min(190.0))));
}
