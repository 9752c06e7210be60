//! From nothing to a session: a two-part material, two parts, a system, a job, by keys alone.

use boothside::shell::opening::new_session;
use boothside::shell::room::Went;
use boothside::update::desk::Pressed;
use boothside_core::board::{Next, board};
use boothside_store::book::{load_job, load_shop};

use super::painter::Painter;
use super::painter::Put::{Pick, Skip, Text};

/// The most keys beyond the text itself.
const MOST: u32 = 300;

/// The shop works in US units.
pub(super) fn us_shop(painter: &mut Painter) {
    painter.key(Pressed::Left).keys(" ");
    painter.fill(&[("units on the screens", Pick("u"))]).save();
    painter.key(Pressed::Right);
}

/// The sheet of a two-part primer, in US units as its technical sheet prints them.
pub(super) fn primer(painter: &mut Painter) {
    painter.key(Pressed::Right).keys("+");
    painter.fill(&[
        ("name", Text("Green primer")),
        ("carried by", Pick("s")),
        ("sheet's title", Text("Data sheet 12, issue 4")),
        ("sheet's date", Text("2025-03")),
        ("isocyanate", Pick("y")),
        ("flammable vapour", Pick("y")),
        ("chromates", Skip),
        ("parts by", Pick("v")),
        ("component 1", Text("Base")),
        ("it is", Pick("b")),
        ("parts", Text("4")),
        ("density", Text("10.9 lb/gal")),
        ("component 2", Text("Activator")),
        ("it is", Pick("a")),
        ("parts", Text("1")),
        ("density", Text("8.6")),
        ("component 3", Text("Thinner")),
        ("it is", Pick("r")),
        ("parts", Text("5%")),
        ("most parts", Text("10%")),
        ("density", Text("7.3")),
        ("component 4", Skip),
        ("ratio may be off by", Skip),
        ("volume solids", Text("44")),
        ("coverage", Skip),
        ("strainer", Text("125um")),
    ]);
    painter.compare("sheet_mixing");
    primer_clocks(painter);
    painter.save();
}

fn primer_clocks(painter: &mut Painter) {
    painter.section("stand after mixing").fill(&[
        ("stand after mixing", Text("15min")),
        ("inside pot life", Pick("y")),
        ("pot life", Text("4h at 75, halves every 18F")),
        ("time to clean the gun", Text("20min")),
    ]);
    painter.section("wet film from").fill(&[
        ("wet film from", Text("2.5")),
        ("wet film to", Text("3")),
        ("dry film from", Text("1")),
        ("dry film to", Text("1.2")),
        ("density of the dry film", Skip),
        ("next coat, earliest", Text("20-30min at 75 50%")),
        ("who says so", Pick("e")),
        ("dulls after", Skip),
        ("window open until", Text("6h at 75")),
        ("after a wipe or scuff until", Text("24h at 75")),
    ]);
    painter.compare("sheet_window");
    painter.section("dust-free").fill(&[
        ("dust-free", Text("30min at 75")),
        ("to handle and turn", Text("10h at 60, 6h at 75, 4h at 90")),
    ]);
    painter.section("air and surface from").fill(&[
        ("air and surface from", Text("60")),
        ("air and surface to", Text("90")),
        ("humidity from", Skip),
        ("humidity to", Text("80")),
        ("surface over dew point", Text("5")),
    ]);
}

fn part(painter: &mut Painter, name: &'static str, width: &'static str) {
    painter.keys("+").fill(&[
        ("name", Text(name)),
        ("face 1", Text("left")),
        ("shape", Pick("r")),
        ("width", Text(width)),
        ("height", Text("18in")),
    ]);
    if name == "Fin" {
        painter.compare("part_shape");
    }
    painter.fill(&[
        ("edges, thickness", Skip),
        ("turned after", Skip),
        ("face 2", Text("right")),
        ("shape", Skip),
        ("area", Text("6.5")),
    ]);
    painter.save();
}

fn system(painter: &mut Painter) {
    painter.keys("+").fill(&[
        ("name", Text("One primer")),
        ("layer 1", Text("Primer")),
        ("material", Pick("g")),
        ("coats", Text("2")),
        ("a coat is", Pick("c")),
        ("dry film a coat", Text("1 mil")),
        ("layer, at least", Skip),
        ("layer, at most", Skip),
        ("step before it 1", Text("sand with 320")),
        ("it is a", Pick("sa")),
        ("then wait", Skip),
        ("good for", Text("24h")),
        ("not before it is", Skip),
        ("large", Skip),
        ("step before it 2", Text("wipe down")),
        ("it is a", Pick("w")),
        ("then wait", Text("15min")),
        ("good for", Text("8h")),
        ("not before it is", Skip),
        ("large", Text("wipe down")),
        ("step before it 3", Skip),
        ("check of your own 1", Text("tack cloth at hand")),
        ("asked each", Pick("c")),
        ("belongs to", Pick("su")),
        ("large", Text("tack cloth?")),
    ]);
    painter.compare("system");
    painter.save();
}

fn job(painter: &mut Painter) {
    painter.keys("+").fill(&[
        ("name", Text("Tail of the two-seater")),
        ("system", Pick("o")),
        ("part 1", Pick("f")),
        ("part 2", Pick("r")),
    ]);
    painter.compare("job");
    painter.save();
}

#[test]
fn a_material_two_parts_a_system_and_a_job_from_nothing_in_at_most_300_keys() {
    let mut painter = Painter::new();
    painter.compare("empty");
    us_shop(&mut painter);
    primer(&mut painter);
    painter.key(Pressed::Right);
    part(&mut painter, "Fin", "2ft");
    part(&mut painter, "Rudder", "30in");
    painter.key(Pressed::Right);
    system(&mut painter);
    painter.key(Pressed::Right);
    job(&mut painter);
    painter.compare("jobs");
    painter.keys(" ");
    let Went::Session { entry, rehearsal: false, .. } = painter.went.clone() else {
        panic!("no session, but {:?}", painter.went);
    };
    assert!(format!("{entry:?}").contains("tail-of-the-two-seater"));
    println!("{} keys beyond the text", painter.presses);
    assert!(painter.presses <= MOST, "{} keys", painter.presses);

    // what a session opens with
    let places = painter.places();
    let work = load_job(&places.book(), "tail-of-the-two-seater").expect("a sound job");
    assert_eq!(work.face_ids(), ["fin-left", "fin-right", "rudder-left", "rudder-right"]);
    let time = boothside::shell::time::Time::open(boothside::shell::opening::machine());
    let ready = new_session(&places.sessions(), work, time, false).expect("a session");
    let board = board(&ready.session, ready.time.t);
    assert!(matches!(&board.next, Next::SomeoneKnows), "{:?}", board.next);

    // every file is sound, by the command that says so
    for file in [
        "sheets/green-primer.json",
        "parts/fin.json",
        "parts/rudder.json",
        "systems/one-primer.json",
        "jobs/tail-of-the-two-seater.json",
        "shop.json",
    ] {
        assert!(painter.has(file), "{file}");
    }
    let drafts = std::fs::read_dir(painter.folder.path().join("drafts"));
    assert_eq!(drafts.map_or(0, Iterator::count), 0, "no half filled form is left");
}

#[test]
fn us_units_come_back_and_are_the_same_quantity_in_a_metric_shop() {
    let mut painter = Painter::new();
    us_shop(&mut painter);
    primer(&mut painter);
    let sheet = painter.json("sheets/green-primer.json");
    let number = |path: &str| {
        let pointer = sheet.pointer(path);
        pointer.and_then(serde_json::Value::as_f64).unwrap_or_else(|| panic!("{path}"))
    };
    // NIST SP 811 appendix B: 1 lb/gal is 119.8264 kg/m³, 1 mil 25.4 µm; °C = (°F − 32)/1.8
    let close = |path: &str, value: f64| {
        let found = number(path);
        assert!((found - value).abs() <= value * 1e-6, "{path}: {found}, not {value}");
    };
    close("/mix/components/0/density_g_per_ml", 10.9 * 0.119_826_427);
    close("/mix/components/1/density_g_per_ml", 8.6 * 0.119_826_427);
    close("/pot_life/life/at_c", 43.0 / 1.8);
    close("/pot_life/life/doubles_per_c", 10.0);
    close("/film/dry_high_um", 1.2 * 25.4);
    close("/limits/dew_margin_c", 5.0 / 1.8);
    close("/limits/max_c", 58.0 / 1.8);

    // the shop turns metric; the sheet still reads as it was typed
    painter.keys(" ");
    let us = form_texts(&painter);
    painter.key(Pressed::Esc).key(Pressed::Esc);
    painter.key(Pressed::Left).key(Pressed::Left).keys(" ");
    painter.keys("m").save();
    assert_eq!(
        load_shop(&painter.places().book()).expect("a shop").units,
        boothside_core::work::job::ShopUnits::Metric
    );
    painter.key(Pressed::Right).key(Pressed::Right).keys(" ");
    assert_eq!(form_texts(&painter), us);
    for (path, text) in [
        ("mix.components[0].density_g_per_ml", "10.9 lb/gal"),
        ("mix.components[1].density_g_per_ml", "8.6 lb/gal"),
        ("film.wet_low_um", "2.5 mil"),
        ("limits.min_c", "60 °F"),
        ("limits.dew_margin_c", "5 °F"),
        ("mix.components[2].parts", "5%"),
    ] {
        assert_eq!(us.get(path).map(String::as_str), Some(text), "{path}");
    }
    painter.go_to("component 1");
    painter.compare("sheet_us_in_metric_shop");
    // saved once more in the metric shop, nothing has moved
    painter.go_to("name").key(Pressed::End).text(" ").key(Pressed::Backspace).save();
    assert_eq!(painter.json("sheets/green-primer.json"), sheet);
}

fn form_texts(painter: &Painter) -> std::collections::BTreeMap<String, String> {
    let (form, _) = painter.room.form().expect("a form");
    form.draft().texts.clone()
}
