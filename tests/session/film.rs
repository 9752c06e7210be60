//! Film by comb, by gauge and by weight: invented jobs whose answers were worked by hand, and the
//! rules beside them.

use boothside_core::board::film::{Against, FilmBoard, NoFilm, PlannedFilm, film};
use boothside_core::material::sheet::Coverage;
use boothside_core::physics::film::Side;
use boothside_core::session::command::Command;
use boothside_core::session::demand::NotSet;
use boothside_core::session::event::Event;
use boothside_core::session::film::{Weighing, WetFilm};
use boothside_core::session::{Refusal, group};
use boothside_core::work::job::FullJob;
use serde_json::json;

use crate::bench::{Bench, begin_past, mix, on};
use crate::jobs::{layered, plain, sheet};

fn look(bench: &Bench) -> FilmBoard {
    film(&bench.session)
}

fn near(got: f64, wanted: f64, within: f64) -> bool {
    (got - wanted).abs() <= within
}

fn comb(wet_um: f64, dry_um: f64) -> WetFilm {
    WetFilm { wet_um, dry_tooth_um: Some(dry_um) }
}

fn wet(face: &str, wet: Vec<WetFilm>) -> Command {
    Command::ReadWetFilm { face: face.into(), wet }
}

fn gauge(face: &str, spots_um: &[f64], under_um: Option<f64>) -> Command {
    Command::ReadDryFilm { face: face.into(), spots_um: spots_um.to_vec(), under_um }
}

/// Solids 52 %, thinned by 12 % of the paint's volume, 30 µm dry a coat.
fn fairing(faces: u8, coats: u32) -> FullJob {
    let mut job = plain(
        sheet(json!({
            "mix": { "by": "volume", "solids_pct": 52, "components": [
                { "name": "Base", "role": "base", "parts": 75, "density_g_per_ml": 1.2 },
                { "name": "Activator", "role": "activator", "parts": 25, "density_g_per_ml": 1.0 },
                { "name": "Reducer", "role": "reducer", "parts": 12, "density_g_per_ml": 0.88 }
            ] }
        })),
        faces,
        coats,
    );
    job.system.layers[0].dry_um = Some(30.0);
    job.shop.transfer_pct = Some(55.0);
    job
}

fn sprayed(job: FullJob, faces: &[&str], coats: u32) -> Bench {
    let mut bench = Bench::new(job);
    bench.tell(mix());
    for _ in 0..coats {
        for face in faces {
            bench.pass(1.0).tell(begin_past(face));
            bench.pass(5.0).tell(on(face));
        }
    }
    bench
}

/// A fairing: 64.6 µm wet are wanted; 75 wet and 100 dry make 34.8 to 46.4 µm, over the target.
#[test]
fn a_comb_reads_a_band_and_says_that_it_is_over() {
    let mut bench = sprayed(fairing(1, 1), &["panel-a"], 1);
    let before = look(&bench);
    assert!(near(before.coat_wet_um.expect("a target"), 64.6, 0.05));
    assert_eq!(before.faces[0].against, Against::NotRead);
    bench.tell(wet("panel-a", vec![comb(75.0, 100.0)]));
    let face = look(&bench).faces[0].clone();
    let (thin, thick) = face.sum_um.expect("a film");
    assert!(near(thin, 34.8, 0.05) && near(thick, 46.4, 0.05), "{thin} {thick}");
    assert_eq!((face.against, face.target_um), (Against::Over, Some(30.0)));
    let (thin, thick) = face.share.expect("a share");
    assert!(near(thin, 1.161, 0.001) && near(thick, 1.548, 0.001));
}

#[test]
fn coats_add_up_against_what_is_wanted_of_the_coats_read() {
    let mut bench = sprayed(fairing(2, 3), &["panel-a", "panel-b"], 1);
    bench.tell(wet("panel-a", vec![comb(50.0, 75.0), comb(75.0, 100.0)]));
    bench.pass(1.0).tell(begin_past("panel-a"));
    // on the gun it is the coat being sprayed
    bench.tell(wet("panel-a", vec![WetFilm { wet_um: 40.0, dry_tooth_um: None }]));
    bench.tell(on("panel-a"));
    let board = look(&bench);
    let face = &board.faces[0];
    assert_eq!((face.coats[0].count, face.coats[1].count), (2, 1));
    assert_eq!(face.coats[0].wet_um, Some((62.5, 87.5)));
    let solids = 0.52 / 1.12;
    let (thin, thick) = face.sum_um.expect("a film");
    assert!(near(thin, 102.5 * solids, 1e-9) && near(thick, 127.5 * solids, 1e-9));
    assert_eq!((face.so_far_um, face.target_um), (Some(60.0), Some(90.0)));
    // 47.6 to 59.2 of 60
    assert_eq!((face.against, face.not_read.as_slice()), (Against::Under, &[][..]));
    assert_eq!(board.faces[1].not_read, [1]);
    assert_eq!(board.layer_um, Some(90.0));
}

#[test]
fn missing_figures_are_not_set() {
    let mut job = fairing(1, 1);
    job.sheets.get_mut("one").expect("the sheet").mix.solids_pct = None;
    let mut bench = sprayed(job, &["panel-a"], 1);
    bench.tell(wet("panel-a", vec![comb(75.0, 100.0)]));
    let board = look(&bench);
    assert_eq!(board.solids_pct, Err(NotSet::Solids));
    assert_eq!((board.coat_wet_um, board.range_um), (None, None));
    assert_eq!((board.faces[0].sum_um, board.faces[0].against), (None, Against::NotSet));
    assert_eq!(board.added[0].mass_g, Err(NoFilm::DryDensity(1)));
}

/// 1 L at 1 µm covers 1000 m²: 17.333… m²/L at 30 µm are the sheet's 52 % solids.
#[test]
fn the_coverage_tells_the_solids_that_the_sheet_does_not_state() {
    let mut job = fairing(1, 1);
    let sheet = job.sheets.get_mut("one").expect("the sheet");
    let stated = sheet.mix.solids_pct.take().expect("stated solids");
    let m2_per_l = stated * 10.0 / 30.0;
    sheet.coverage = Some(Coverage { m2_per_l, at_um: Some(30.0) });
    assert_eq!(job.check(), Vec::new());
    let by_coverage = look(&sprayed(job.clone(), &["panel-a"], 1));
    let by_solids = look(&sprayed(fairing(1, 1), &["panel-a"], 1));
    let (one, other) = (by_coverage.solids_pct, by_solids.solids_pct);
    assert!(near(one.expect("solids"), other.expect("solids"), 1e-9));
    assert!(by_coverage.coat_wet_um.is_some());
    // without the film for which it is stated it tells nothing; and what is stated goes first
    let sheet = job.sheets.get_mut("one").expect("the sheet");
    sheet.coverage = Some(Coverage { m2_per_l, at_um: None });
    assert_eq!(sheet.solids_pct(), None);
    sheet.mix.solids_pct = Some(40.0);
    sheet.coverage = Some(Coverage { m2_per_l, at_um: Some(30.0) });
    assert_eq!(sheet.solids_pct(), Some(40.0));
}

#[test]
fn a_film_reading_goes_with_the_coat_it_was_read_of() {
    let mut bench = sprayed(fairing(1, 2), &["panel-a"], 1);
    let finish = bench.session.entries().last().expect("an entry").n;
    let read = bench.tell(wet("panel-a", vec![comb(75.0, 100.0)]));
    assert!(group(&bench.session, finish).contains(&read));
    bench.tell(Command::WipedOff { face: "panel-a".into() });
    bench.pass(1.0).tell(begin_past("panel-a"));
    bench.pass(5.0).tell(on("panel-a"));
    assert_eq!(look(&bench).faces[0].against, Against::NotRead, "that coat is off again");
    let refused =
        Bench::new(fairing(1, 2)).try_tell(&wet("panel-a", vec![comb(75.0, 100.0)]), None);
    assert!(matches!(refused, Err(Refusal::NotThere { .. })));
    let refused = bench.try_tell(&wet("panel-a", vec![comb(100.0, 75.0)]), None);
    assert!(matches!(refused, Err(Refusal::Figure { .. })));
}

/// 40 to 60 µm allow spots from 32 to 72.
#[test]
fn dry_readings_keep_to_the_range_and_spots_to_a_fifth_beyond() {
    let mut job = fairing(1, 1);
    (job.system.layers[0].dry_least_um, job.system.layers[0].dry_most_um) =
        (Some(40.0), Some(60.0));
    let mut bench = sprayed(job, &["panel-a"], 1);
    bench.pass(60.0).tell(gauge("panel-a", &[33.0, 71.0, 50.0], None));
    let board = look(&bench);
    let (thin, thick) = board.spot_um.expect("limits");
    assert!(near(thin, 32.0, 1e-9) && near(thick, 72.0, 1e-9));
    let dry = board.faces[0].dry.expect("readings");
    assert!(dry.verdict.expect("a verdict").holds() && dry.own);
    // more spots of the same film join them
    bench.pass(1.0).tell(gauge("panel-a", &[31.0], None));
    let dry = look(&bench).faces[0].dry.expect("readings");
    let verdict = dry.verdict.expect("a verdict");
    assert_eq!((dry.count, verdict.thin, verdict.thick), (4, 1, 0));
    assert!(!verdict.holds() && verdict.mean == Side::Within);
    // another coat on top is another film
    bench.pass(1.0).tell(Command::ExtraCoat { face: "panel-a".into() });
    bench.tell(begin_past("panel-a"));
    bench.pass(5.0).tell(on("panel-a"));
    assert_eq!(look(&bench).faces[0].dry, None);
}

#[test]
fn a_gauge_reads_every_layer_unless_what_lies_under_is_told() {
    let solids = json!({ "mix": { "by": "volume", "solids_pct": 50, "components": [
        { "name": "Paint", "role": "base", "parts": 1 } ] } });
    let mut job = layered(vec![("one", sheet(solids.clone()), 1), ("two", sheet(solids), 1)], 1);
    for (layer, (least, most)) in job.system.layers.iter_mut().zip([(10.0, 20.0), (40.0, 60.0)]) {
        (layer.dry_least_um, layer.dry_most_um) = (Some(least), Some(most));
    }
    let mut bench = Bench::new(job);
    for layer in 1..=2 {
        bench.tell(Command::MixPot { layer, amount_ml: None, lots: Vec::new() });
        bench.pass(1.0).tell(begin_past("panel-a"));
        bench.pass(5.0).tell(on("panel-a"));
        bench.pass(600.0);
    }
    // 66 µm of both, 50 to 80 specified
    bench.tell(gauge("panel-a", &[66.0], None));
    let dry = look(&bench).faces[0].dry.expect("readings");
    assert!(!dry.own && dry.verdict.expect("a verdict").holds());
    bench.pass(1.0).tell(gauge("panel-a", &[48.0, 54.0], Some(15.0)));
    let dry = look(&bench).faces[0].dry.expect("readings");
    assert_eq!((dry.own, dry.count, dry.mean_um), (true, 2, 36.0));
    assert_eq!(dry.verdict.expect("a verdict").mean, Side::Below);
}

/// Wing panel 4.6 m², 972.9 g used, density 1.12, solids 50 %, 55 % lands, two coats:
/// 51.9 µm, 26.0 a coat.
#[test]
fn film_by_weight_is_told_a_coat() {
    let mut job = plain(
        sheet(json!({ "mix": { "by": "weight", "solids_pct": 50, "components": [
            { "name": "Paint", "role": "base", "parts": 1, "density_g_per_ml": 1.12 } ] } })),
        1,
        2,
    );
    job.parts.get_mut("panel").expect("the panel").faces[0].area_m2 = 4.6;
    job.shop.transfer_pct = Some(55.0);
    let mut bench = sprayed(job, &["panel-a"], 2);
    let weighing = Weighing { gross_g: 1248.6, tare_g: 148.2, left_g: 96.5, wash_g: 31.0 };
    bench.tell(Command::AccountForPot { pot: "A".into(), coat: None, weighing });
    let pot = look(&bench).pots[0].clone();
    assert!(near(pot.used_g, 972.9, 0.05) && near(pot.area_m2, 9.2, 1e-9));
    let dry = pot.dry_um.expect("a film");
    assert!(near(2.0 * dry, 51.9, 0.05) && near(dry, 26.0, 0.05), "{dry}");
    assert!(near(pot.g_per_m2.expect("a weight"), 972.9 / 9.2, 1e-3));
    assert_eq!(look(&bench).weights, None, "no coat was weighed for itself");
}

#[test]
fn a_coat_is_weighed_against_the_one_before() {
    let mut bench = Bench::new(fairing(2, 2));
    bench.tell(mix());
    for (coat, left_g) in [(1, 400.0), (2, 310.0)] {
        for face in ["panel-a", "panel-b"] {
            bench.pass(1.0).tell(begin_past(face));
            bench.pass(5.0).tell(on(face));
        }
        let gross_g = if coat == 1 { 500.0 } else { 400.0 };
        let weighing = Weighing { gross_g, tare_g: 0.0, left_g, wash_g: 0.0 };
        bench.tell(Command::AccountForPot { pot: "A".into(), coat: Some(coat), weighing });
    }
    let weights = look(&bench).weights.expect("weights");
    // two faces of 0.5 m²: 100 g/m², then 90
    assert_eq!((weights.coat, weights.before), (2, Some((1, 100.0))));
    assert!(near(weights.g_per_m2, 90.0, 1e-9));
    assert!(near(weights.change_pct.expect("a change"), -10.0, 1e-9));
    let nothing = Weighing { gross_g: 100.0, tare_g: 50.0, left_g: 50.0, wash_g: 0.0 };
    let command = Command::AccountForPot { pot: "A".into(), coat: None, weighing: nothing };
    assert!(matches!(bench.try_tell(&command, None), Err(Refusal::Figure { .. })));
}

#[test]
fn a_pot_from_which_nothing_was_sprayed_makes_no_film() {
    let mut bench = Bench::new(fairing(1, 1));
    bench.tell(mix());
    let weighing = Weighing { gross_g: 500.0, tare_g: 0.0, left_g: 400.0, wash_g: 0.0 };
    bench.tell(Command::AccountForPot { pot: "A".into(), coat: None, weighing });
    let pot = look(&bench).pots[0].clone();
    assert_eq!(
        (pot.g_per_m2, pot.dry_um),
        (Err(NoFilm::NothingSprayed), Err(NoFilm::NothingSprayed))
    );
}

/// Aileron, 1.10 m² on both faces, primer 20 µm of 1.45 g/mL, topcoat 55 µm of 1.30, the
/// centroid 14.0 cm aft: 31.9 + 78.7 = 110.6 g, 1548 g·cm.
#[test]
fn what_is_added_to_a_part_and_its_moment() {
    let paint = |density: f64| {
        sheet(json!({
            "mix": { "by": "volume", "components": [ { "name": "Paint", "role": "base", "parts": 1 } ] },
            "dry_density_g_per_ml": density
        }))
    };
    let mut job = layered(vec![("one", paint(1.45), 1), ("two", paint(1.30), 1)], 2);
    for (layer, um) in job.system.layers.iter_mut().zip([20.0, 55.0]) {
        layer.dry_um = Some(um);
    }
    let part = job.parts.get_mut("panel").expect("the panel");
    part.arm_m = Some(0.14);
    part.faces.iter_mut().for_each(|face| face.area_m2 = 0.55);
    let mut bench = Bench::new(job);
    for layer in 1..=2 {
        bench.tell(Command::MixPot { layer, amount_ml: None, lots: Vec::new() });
        for face in ["panel-a", "panel-b"] {
            bench.pass(1.0).tell(begin_past(face));
            bench.pass(5.0).tell(on(face));
        }
        bench.pass(600.0);
    }
    let added = look(&bench).added[0].clone();
    assert!(near(added.mass_g.expect("a mass"), 110.6, 0.05));
    assert!(near(added.moment_g_m.expect("a moment"), 15.48, 0.005));
    assert_eq!(added.planned, PlannedFilm::All, "nothing was read");
    // a gauge's word on one face goes before the plan
    bench.tell(gauge("panel-a", &[100.0], Some(20.0)));
    let added = look(&bench).added[0].clone();
    assert!(near(added.mass_g.expect("a mass"), 31.9 + 0.55 * 1.30 * (80.0 + 55.0), 0.05));
    assert_eq!(added.planned, PlannedFilm::Some);
}

#[test]
fn film_events_keep_their_form_in_the_log() {
    let read = Event::FilmRead {
        face: "panel-a".into(),
        layer: 1,
        coat: 2,
        wet: vec![comb(75.0, 100.0), WetFilm { wet_um: 80.0, dry_tooth_um: None }],
    };
    let text = serde_json::to_string(&read).expect("text");
    let wanted = r#"{"film_read":{"face":"panel-a","layer":1,"coat":2,"wet":[{"wet_um":75.0,"dry_tooth_um":100.0},{"wet_um":80.0}]}}"#;
    assert_eq!(text, wanted);
    assert_eq!(serde_json::from_str::<Event>(&text).expect("an event"), read);
}
