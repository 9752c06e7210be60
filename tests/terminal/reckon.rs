//! `boothside reckon` as a script meets it: the built program, the keys of its JSON, its exit status,
//! and nothing on stdout where the input cannot be used.

use std::process::{Command, Output};

use serde_json::Value;

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_boothside"));
    command.arg("reckon").args(arguments).output().expect("the program runs")
}

fn answer(arguments: &[&str]) -> Value {
    let Output { status, stdout, stderr } = run(&[arguments, &["--json"]].concat());
    let text = String::from_utf8(stdout).expect("text");
    assert_eq!(status.code(), Some(0), "{arguments:?}: {}", String::from_utf8_lossy(&stderr));
    assert!(stderr.is_empty(), "{arguments:?}");
    assert_eq!(text.lines().count(), 1, "{text}");
    serde_json::from_str(&text).expect("one object")
}

/// The value is there, a number within `within` of `wanted`.
fn near(answer: &Value, key: &str, wanted: f64, within: f64) {
    let got = answer[key].as_f64().unwrap_or_else(|| panic!("{key} in {answer}"));
    assert!((got - wanted).abs() <= within, "{key}: {got} is not {wanted}");
}

fn has(answer: &Value, keys: &[&str]) {
    let fields = answer.as_object().expect("an object");
    for key in keys {
        assert!(fields.contains_key(*key), "no {key} in {answer}");
    }
}

/// Exit status 2, stdout empty, the reason on stderr; with and without `--json`.
fn refused(arguments: &[&str]) {
    for json in [&[][..], &["--json"]] {
        let output = run(&[arguments, json].concat());
        let why = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {why}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
        assert!(!why.trim().is_empty(), "{arguments:?}");
        assert!(!why.contains("panicked"), "{why}");
    }
}

#[test]
fn air() {
    let bare = ["air", "--temperature", "64.4 °F", "--humidity", "62 %"];
    let keys = [
        "saturation_pressure_pa",
        "vapour_pressure_pa",
        "dew_point_c",
        "wet_bulb_c",
        "humidity_ratio",
    ];
    let found = answer(&bare);
    has(&found, &keys);
    near(&found, "dew_point_c", 10.61, 0.02);
    let margin = answer(&[&bare[..], &["--surface", "15.5C", "--margin", "5F"]].concat());
    near(&margin, "surface_margin_c", 4.89, 0.02);
    assert_eq!(margin["surface_margin_ok"], true);
    let cold = answer(&["air", "--temperature", "-5C", "--humidity", "20%"]);
    assert!(cold["dew_point_c"].is_null() && cold["dew_point_note"].is_string());
    has(&answer(&[&bare[..], &["--height", "5000ft"]].concat()), &keys);
    for wrong in [
        ["18C", "0%"],
        ["18C", "101%"],
        ["18C", "55"],
        ["18,5C", "55%"],
        ["nanC", "55%"],
        ["infC", "55%"],
        ["61C", "50%"],
        ["", "50%"],
    ] {
        refused(&["air", "--temperature", wrong[0], "--humidity", wrong[1]]);
    }
    refused(&[&bare[..], &["--pressure", "101kPa", "--height", "0m"]].concat());
}

#[test]
fn wait() {
    let found = answer(&["wait", "--duration", "1h30min", "--law", "steady", "--at", "45min"]);
    has(&found, &["due_s", "edge_s", "rate_now", "progress"]);
    near(&found, "due_s", 5400.0, 1e-9);
    near(&found, "progress", 0.5, 1e-12);
    let warm = [
        "wait",
        "--duration",
        "180min",
        "--law",
        "warmth",
        "--doubles-per",
        "18F",
        "--reference",
        "20C",
    ];
    let pot = answer(&[&warm[..], &["--reading", "0,26C", "--edge", "max"]].concat());
    near(&pot, "edge_s", 118.8 * 60.0, 6.0);
    let never =
        answer(&[&warm[..], &["--floor", "10C", "--reading", "0 , 9C", "--edge", "min"]].concat());
    assert!(never["due_s"].is_null() && never["edge_s"].is_null());
    assert!(never["never_because"].is_string());
    let steps = answer(
        &[&warm[..], &["--reading", "0,20C", "--reading", "90min,20C", "--reading", "90min,30C"]]
            .concat(),
    );
    near(&steps, "due_s", 135.0 * 60.0, 0.5);
    let water = answer(&[
        "wait",
        "--duration",
        "15min",
        "--law",
        "water",
        "--reference",
        "23C,50%",
        "--reading",
        "0,23C,50%",
    ]);
    near(&water, "due_s", 900.0, 0.5);
    let table = answer(&[
        "wait",
        "--duration",
        "4h",
        "--law",
        "table",
        "--at-temperature",
        "10C,8h",
        "--at-temperature",
        "20C,4h",
        "--reading",
        "0,15C",
    ]);
    near(&table, "due_s", 4.0 * 2f64.sqrt() * 3600.0, 0.5);
    assert_eq!(table["carried_on"], false);
}

/// A table of `15C,10h 23C,6h 35C,3h`: the unsafe end is carried on, the other held.
#[test]
fn wait_beyond_a_table() {
    let beyond = |celsius: &str, edge: &str| {
        answer(&[
            "wait",
            "--duration",
            "6h",
            "--law",
            "table",
            "--at-temperature",
            "15C,10h",
            "--at-temperature",
            "23C,6h",
            "--at-temperature",
            "35C,3h",
            "--reading",
            &format!("0,{celsius}"),
            "--edge",
            edge,
        ])
    };
    // 36000 s × (5/3)^(10/8), and 10800 s × 2^(−10/12)
    let (cold_s, hot_s) =
        (36_000.0 * (5.0f64 / 3.0).powf(1.25), 10_800.0 * 0.5f64.powf(10.0 / 12.0));
    let cases = [
        ("5C", "bare", cold_s, true),
        ("5C", "min", cold_s, true),
        ("5C", "max", 36_000.0, false),
        ("45C", "bare", 10_800.0, false),
        ("45C", "min", 10_800.0, false),
        ("45C", "max", hot_s, true),
    ];
    for (celsius, edge, due_s, carried_on) in cases {
        let found = beyond(celsius, edge);
        near(&found, "edge_s", due_s, 0.5);
        assert_eq!(found["carried_on"], carried_on, "{celsius} {edge}");
    }
}

/// Below its floor a wait of any law is never over; a maximum runs on.
#[test]
fn wait_with_a_floor() {
    let water = ["--law", "water", "--reference", "23C,50%"];
    let warmth = ["--law", "warmth", "--doubles-per", "10C", "--reference", "23C"];
    let table = ["--law", "table", "--at-temperature", "10C,8h", "--at-temperature", "20C,4h"];
    for law in [&["--law", "steady"][..], &warmth, &table, &water] {
        let of = |edge: &str| {
            let rest = ["--floor", "10C", "--reading", "0,5C,50%", "--edge", edge];
            answer(&[&["wait", "--duration", "4h"][..], law, &rest].concat())
        };
        for edge in ["bare", "min"] {
            let found = of(edge);
            assert!(found["due_s"].is_null() && found["edge_s"].is_null(), "{law:?} {edge}");
            assert!(found["never_because"].as_str().expect("why").contains("10"), "{law:?}");
        }
        assert!(of("max")["edge_s"].is_number(), "{law:?}");
    }
    refused(&["wait", "--duration", "4h", "--law", "steady", "--floor", "10C"]);
}

#[test]
fn wait_refuses_what_its_law_cannot_use() {
    for wrong in [
        &["--duration", "0", "--law", "steady"][..],
        &["--duration", "1:30", "--law", "steady"],
        &["--duration", "-5min", "--law", "steady"],
        &["--duration", "90", "--law", "steady"],
        &["--duration", "1h", "--law", "warmth"],
        &[
            "--duration",
            "1h",
            "--law",
            "warmth",
            "--energy",
            "60kJ/mol",
            "--doubles-per",
            "10C",
            "--reference",
            "20C",
            "--reading",
            "0,20C",
        ],
        &["--duration", "1h", "--law", "water", "--reading", "0,20C,50%"],
        &["--duration", "1h", "--law", "water", "--reference", "23C,50%", "--reading", "0,20C"],
        &["--duration", "1h", "--law", "table", "--reading", "0,20C"],
        &["--duration", "1h", "--law", "steady", "--at", "-5min"],
        &["--duration", "1h", "--law", "steady", "--factor", "nan"],
        &["--duration", "1h", "--law", "sideways"],
    ] {
        refused(&[&["wait"], wrong].concat());
    }
}

#[test]
fn viscosity() {
    let found = answer(&["viscosity", "--cup", "iso-4", "--seconds", "34s"]);
    near(&found, "kinematic_mm2_per_s", 1.37 * 34.0 - 200.0 / 34.0, 1e-9);
    assert_eq!(found["valid_s"], serde_json::json!([30.0, 100.0]));
    for cup in [
        "iso-3", "iso-5", "iso-6", "ford-1", "ford-2", "ford-3", "ford-4", "ford-5", "zahn-1",
        "zahn-2", "zahn-3", "zahn-4", "zahn-5", "din-4",
    ] {
        let there = answer(&["viscosity", "--cup", cup, "--seconds", "60s"]);
        let kinematic = format!("{}cSt", there["kinematic_mm2_per_s"]);
        near(
            &answer(&["viscosity", "--cup", cup, "--kinematic", &kinematic]),
            "seconds",
            60.0,
            1e-6,
        );
    }
    refused(&["viscosity", "--cup", "iso-4", "--seconds", "29s"]);
    refused(&["viscosity", "--cup", "iso-4", "--seconds", "101s"]);
    refused(&["viscosity", "--cup", "iso-7", "--seconds", "40s"]);
    refused(&["viscosity", "--cup", "iso-4"]);
    refused(&["viscosity", "--cup", "iso-4", "--seconds", "40s", "--kinematic", "60cSt"]);
}

#[test]
fn mix() {
    let densities = "1.31g/mL,1.07g/mL,0.998g/mL";
    let parts = ["mix", "--parts", "4:1:1.5", "--by", "volume", "--density", densities];
    let found = answer(&[&parts[..], &["--volume", "520mL"]].concat());
    has(&found, &["components", "total_volume_ml", "total_mass_g", "density_g_per_ml"]);
    has(&found["components"][0], &["parts", "volume_ml", "mass_g", "scale_total_g", "mark_ml"]);
    near(&found["components"][0], "volume_ml", 320.0, 1e-9);
    let poured = answer(&[&parts[..], &["--volume", "520mL", "--poured", "440g,0,0"]].concat());
    has(&poured, &["scale_factor", "new_volume_ml", "new_mass_g"]);
    has(&poured["components"][1], &["poured_g", "new_g", "add_g"]);
    let step =
        answer(&[&parts[..], &["--mass", "690g", "--step", "1g", "--tolerance", "2%"]].concat());
    has(&step, &["ratio_error", "smallest_mass_g"]);
    near(&answer(&[&parts[..], &["--have", "2,80mL"]].concat()), "total_volume_ml", 520.0, 1e-9);
    for wrong in [
        &["--volume", "0mL"][..],
        &["--volume", "520mL", "--mass", "690g"],
        &["--volume", "520"],
        &["--have", "4,80mL"],
        &["--volume", "520mL", "--poured", "440g,0,0,0"],
        &["--volume", "520mL", "--scale-readings", "440g,430g"],
    ] {
        refused(&[&parts[..], wrong].concat());
    }
    refused(&[
        "mix",
        "--parts",
        "4:0:1",
        "--by",
        "volume",
        "--density",
        "1g/mL,1g/mL,1g/mL",
        "--volume",
        "1L",
    ]);
    refused(&[
        "mix",
        "--parts",
        "4:1",
        "--by",
        "volume",
        "--density",
        "1g/mL,1g/mL,1g/mL",
        "--volume",
        "1L",
    ]);
}

#[test]
fn stock() {
    let found = answer(&[
        "stock",
        "--volume",
        "1L",
        "--can-share",
        "0",
        "--cycle",
        "500mL,0.1,300mL",
        "--cycle",
        "500mL,0.1,300mL",
    ]);
    let cycles = found["cycles"].as_array().expect("a list");
    assert_eq!(cycles.len(), 2);
    cycles.iter().for_each(|cycle| has(cycle, &["can_ml", "can_share", "cup_share"]));
    // f' = (f (V − P) + g L) / (V − P + L): 550 mL in the cup, 250 go back with 1/11 of thinner
    near(&cycles[0], "can_ml", 750.0, 1e-9);
    near(&cycles[0], "can_share", 250.0 / 11.0 / 750.0, 1e-12);
    refused(&["stock", "--volume", "1L", "--can-share", "0", "--cycle", "2L,0.1,300mL"]);
    refused(&["stock", "--volume", "1L", "--can-share", "101%", "--cycle", "500mL,0.1,300mL"]);
}

#[test]
fn film_and_coverage() {
    let thinned = ["--solids", "52%", "--thinner", "12%"];
    let wet = answer(&[&["film", "--dry", "30um"], &thinned[..]].concat());
    near(&wet, "wet_um", 64.6, 0.05);
    near(
        &answer(&[&["film", "--wet", "3mil"], &thinned[..]].concat()),
        "dry_um",
        76.2 * 0.52 / 1.12,
        1e-9,
    );
    let found = answer(&[
        "coverage",
        "--area",
        "1.85m2",
        "--dry",
        "12um",
        "--solids",
        "0.36",
        "--transfer",
        "60%",
        "--coats",
        "2",
    ]);
    has(&found, &["spread_m2_per_l", "volume_ml", "wet_um"]);
    near(&found, "volume_ml", 205.56, 0.01);
    for wrong in [
        &["film", "--wet", "75um", "--solids", "101%"][..],
        &["film", "--wet", "75um", "--solids", "0"],
        &["film", "--wet", "75um", "--dry", "30um", "--solids", "50%"],
        &["film", "--wet", "75", "--solids", "50%"],
        &["film", "--wet", "75um", "--solids", "50%", "--thinner", "-5%"],
        &["coverage", "--area", "0m2", "--dry", "12um", "--solids", "36%"],
        &["coverage", "--area", "1m2", "--dry", "12um", "--solids", "36%", "--transfer", "0%"],
        &["coverage", "--area", "1m2", "--dry", "12um", "--solids", "36%", "--coats", "0"],
    ] {
        refused(wrong);
    }
}

#[test]
fn booth() {
    let found = answer(&[
        "ventilation",
        "--volume",
        "60m3",
        "--flow",
        "4000m3/h",
        "--left",
        "1%",
        "--mixing",
        "3",
    ]);
    near(&found, "air_changes_per_h", 4000.0 / 60.0, 1e-9);
    near(&found, "purge_min", 100f64.ln() / (4000.0 / 60.0) * 3.0 * 60.0, 1e-9);
    refused(&["ventilation", "--volume", "60m3", "--flow", "0m3/h"]);
    refused(&["ventilation", "--volume", "60m3", "--flow", "4000m3/h", "--left", "99%"]);
    refused(&[
        "ventilation",
        "--volume",
        "60m3",
        "--flow",
        "4000m3/h",
        "--left",
        "1%",
        "--mixing",
        "0.5",
    ]);
    // 29 CFR 1910.94(c)(6), its own example
    let air = answer(&["dilution", "--lel", "1.4%", "--vapour", "30.4ft3/gal"]);
    near(&air, "air_ft3_per_gal", 8564.0, 1.0);
    has(&air, &["air_m3_per_l"]);
    refused(&["dilution", "--lel", "0%", "--vapour", "30.4ft3/gal"]);
}

#[test]
fn emission_and_weight() {
    let keys = ["voc_g_per_l", "voc_less_water_g_per_l", "voc_mass_g"];
    let weighed = answer(&["emission", "--component", "1L,1.2g/mL,50%,10%,5%,1.3g/mL"]);
    has(&weighed, &keys);
    has(&weighed, &["density_g_per_ml"]);
    near(&weighed, "voc_mass_g", 1200.0 * 0.35, 1e-6);
    let quoted = answer(&[
        "emission",
        "--quoted",
        "400mL,480g/L",
        "--quoted",
        "100mL,210g/L",
        "--quoted",
        "50mL,860g/L",
    ]);
    has(&quoted, &keys);
    near(&quoted, "voc_mass_g", 256.0, 1e-6);
    near(&quoted, "voc_g_per_l", 465.5, 0.05);
    refused(&["emission", "--component", "1L,1.2g/mL,50%,40%,20%,1.3g/mL"]);
    refused(&["emission", "--component", "1L,1.2g/mL,101%,0%,0%"]);
    refused(&["emission", "--component", "1L,1.2g/mL,50%,0%,5%"]);
    refused(&["emission"]);
    let found = answer(&[
        "weight",
        "--area",
        "1.10m2",
        "--dry",
        "55um",
        "--density",
        "1.30g/mL",
        "--arm",
        "-5.5in",
    ]);
    near(&found, "mass_g", 78.65, 1e-9);
    near(&found, "moment_g_m", -78.65 * 0.1397, 1e-9);
    has(
        &answer(&["weight", "--area", "12ft2", "--dry", "2mil", "--density", "9.8lb/gal"]),
        &["mass_g"],
    );
    refused(&["weight", "--area", "-1m2", "--dry", "55um", "--density", "1.30g/mL"]);
    refused(&["weight", "--area", "1m2", "--dry", "55um", "--density", "0g/mL"]);
}

#[test]
fn what_is_no_topic_or_option_is_refused_alike() {
    refused(&["colour"]);
    refused(&["air", "--temprature", "18C"]);
    refused(&[]);
}
