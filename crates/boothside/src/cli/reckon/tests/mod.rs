mod refusals;

use super::*;
use clap::{CommandFactory, Parser};

#[derive(Debug, Parser)]
#[command(name = "boothside")]
struct Shell {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    Reckon(ReckonArgs),
}

/// Exit status, stdout, stderr of a command line; double quotes keep blanks together.
fn shell(line: &str) -> (u8, String, String) {
    let words = line.split('"').enumerate().flat_map(|(index, piece)| match index % 2 {
        0 => piece.split_whitespace().map(str::to_owned).collect(),
        _ => vec![piece.to_owned()],
    });
    match Shell::try_parse_from(words) {
        Ok(Shell { command: Command::Reckon(args) }) => {
            let (mut out, mut err) = (Vec::new(), Vec::new());
            let status = run(&args, System::Metric, &mut out, &mut err);
            (status, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
        }
        Err(error) => (u8::try_from(error.exit_code()).unwrap(), String::new(), error.to_string()),
    }
}

fn json(line: &str) -> serde_json::Value {
    let (status, out, err) = shell(&format!("boothside reckon {line} --json"));
    assert_eq!((status, err.as_str()), (0, ""), "{line}");
    assert_eq!(out.lines().count(), 1, "{out}");
    serde_json::from_str(&out).unwrap()
}

fn near(value: &serde_json::Value, want: f64, within: f64) {
    let got = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((got - want).abs() <= within, "{got} is not {want}");
}

/// The refusal's words.
fn refused(line: &str) -> String {
    for line in [format!("boothside reckon {line}"), format!("boothside reckon {line} --json")] {
        let (status, out, err) = shell(&line);
        assert_eq!((status, out.as_str()), (2, ""), "{line}");
        assert!(!err.is_empty());
    }
    shell(&format!("boothside reckon {line}")).2
}

#[test]
fn the_example_in_each_help_is_what_the_command_prints() {
    let mut command = Shell::command();
    command.build();
    let reckon = command.find_subcommand("reckon").unwrap();
    let topics: Vec<_> =
        reckon.get_subcommands().filter(|topic| topic.get_name() != "help").collect();
    assert_eq!(topics.len(), 11);
    for topic in topics {
        let name = topic.get_name();
        let help = topic.get_after_help().unwrap_or_else(|| panic!("{name}")).to_string();
        let help = help.replace("\\\n", "");
        let mut lines = help.lines().skip_while(|line| !line.contains("$ "));
        let call = lines.next().unwrap().trim().trim_start_matches("$ ");
        assert!(call.starts_with(&format!("boothside reckon {name} ")), "{call}");
        let printed: String =
            lines.map(|line| format!("{}\n", line.strip_prefix("  ").unwrap())).collect();
        assert_eq!(shell(call), (0, printed, String::new()), "{name}");
    }
}

#[test]
fn air_answers_by_its_keys() {
    let air = json("air --temperature 18C --humidity 62% --surface 15.5C");
    near(&air["dew_point_c"], 10.61, 0.01);
    near(&air["surface_margin_c"], 4.89, 0.01);
    assert_eq!(air["surface_margin_ok"], true);
    for key in ["saturation_pressure_pa", "vapour_pressure_pa", "wet_bulb_c", "humidity_ratio"] {
        assert!(air[key].is_f64(), "{key}");
    }
    let strict = json("air --temperature 18C --humidity 62% --surface 15.5C --margin 9F");
    assert_eq!(strict["surface_margin_ok"], false);
    let high = json("air --temperature 65F --humidity 62% --height 5000ft");
    near(&high["pressure_pa"], 84_307.0, 20.0);
    assert!(high["surface_margin_c"].is_null());
}

#[test]
fn a_dew_point_below_the_formula_is_null_with_a_note() {
    let air = json("air --temperature -5C --humidity 20% --surface -6C");
    assert!(air["dew_point_c"].is_null() && air["surface_margin_c"].is_null());
    assert!(air["dew_point_note"].as_str().unwrap().contains("−10"));
    assert_eq!(air["surface_margin_ok"], true);
    let cold = json("air --temperature -5C --humidity 20% --surface -9C");
    assert!(cold["surface_margin_ok"].is_null());
    assert!(json("air --temperature -10C --humidity 10%")["wet_bulb_c"].is_null());
}

#[test]
fn wait_bends_a_duration_by_its_law() {
    let steady = json("wait --duration 15min --law steady");
    near(&steady["due_s"], 900.0, 1e-9);
    near(&steady["edge_s"], 900.0, 1e-9);
    near(&steady["progress"], 0.0, 1e-12);
    let pot = "wait --duration 180min --law warmth --doubles-per 18F --reference 20C";
    near(&json(&format!("{pot} --reading 0,26C --edge max"))["edge_s"], 118.8 * 60.0, 6.0);
    let cold = json(&format!("{pot} --floor 10C --reading 0,9C --edge max --at 2h"));
    assert!(cold["due_s"].is_null());
    assert_eq!(cold["never_because"], "does not run below 10.0 °C");
    near(&cold["edge_s"], 10_800.0, 1e-9);
    near(&cold["rate_now"], 0.0, 1e-12);
    let table = "wait --duration 4h --law table --at-temperature 10C,8h --at-temperature 20C,4h";
    near(&json(&format!("{table} --reading 0,15C"))["due_s"], 4.0 * 2f64.sqrt() * 3600.0, 1e-6);
    let held = json(&format!("{table} --reading 0,25C --edge min"));
    near(&held["edge_s"], 14_400.0, 1e-6);
    assert_eq!(held["table_end_held"], true);
    let water = "wait --duration 15min --law water --reference 25C,50%";
    near(&json(&format!("{water} --reading 0,25C,50%"))["rate_now"], 1.0, 1e-12);
    let wet = json(&format!("{water} --reading 0,20C,100% --edge min"));
    assert!(wet["due_s"].is_null() && wet["edge_s"].is_null());
}

#[test]
fn a_factor_stretches_the_integral_and_readings_may_step() {
    // 15 min at 1.5 times the speed, then at half of it
    let call = "wait --duration 20min --law table --at-temperature 10C,40min \
                --at-temperature 30C,13.3333333333333333min \
                --reading 0,30C --reading 15min,30C --reading \"15 min, 10C\"";
    near(&json(call)["due_s"], 800.0, 1e-6);
    let slow = json(&format!("{call} --factor 1.5 --at 30min"));
    near(&slow["due_s"], 1800.0, 1e-6);
    near(&slow["progress"], 1.0, 1e-9);
    near(&slow["rate_now"], 0.5, 1e-9);
}

#[test]
fn mix_answers_for_plans_stock_and_pours() {
    let plan = "mix --parts 100:20:28 --by weight --density 1.3g/mL,1.1g/mL,1g/mL";
    let glider = json(&format!("{plan} --mass 330g --step 0.1g --tolerance 1%"));
    for (index, total) in [223.0, 267.6, 330.0].into_iter().enumerate() {
        near(&glider["components"][index]["scale_total_g"], total, 0.05);
    }
    assert!(glider["ratio_error"].as_f64().unwrap() < 0.001);
    near(&glider["smallest_mass_g"], 74.0, 1e-9);
    let short = "mix --parts 100:18:6 --by weight --density 1g/mL,1g/mL,1g/mL --have 2,61.0g";
    near(&json(short)["total_mass_g"], 420.2, 0.05);
    let tail = "mix --parts 100:25:10 --by weight --density 1g/mL,1g/mL,1g/mL --mass 540g";
    let over = json(&format!("{tail} --scale-readings 412g,524g"));
    near(&over["components"][0]["add_g"], 36.0, 1e-9);
    near(&over["components"][2]["new_g"], 44.8, 1e-9);
    near(&over["new_mass_g"], 604.8, 1e-9);
    let same = json(&format!("{tail} --poured 412g,112g,0"));
    assert_eq!(same, over);
    assert!(json(tail)["scale_factor"].is_null());
}

#[test]
fn the_other_topics_answer_by_their_keys() {
    near(&json("viscosity --cup zahn-2 --seconds 33s")["kinematic_mm2_per_s"], 66.5, 1e-9);
    near(&json("viscosity --cup ISO-4 --kinematic 60cSt")["seconds"], 46.908, 0.01);
    let can = json("stock --volume 1L --can-share 0 --cycle 300mL,0.1,200mL --cycle 300mL,10%,0");
    near(&can["cycles"][0]["can_share"], 13.0 / 913.0, 1e-12);
    near(&can["cycles"][1]["can_ml"], 860.0, 1e-9);
    near(&json("film --wet 75um --solids 52% --thinner 12%")["dry_um"], 34.8, 0.05);
    let coverage = "coverage --area 1.85m2 --dry 12um --solids 0.36 --transfer 60% --coats 2";
    near(&json(coverage)["volume_ml"], 205.6, 0.05);
    near(&json(coverage)["spread_m2_per_l"], 30.0, 1e-9);
    let purge = json("ventilation --volume 60m3 --flow 600m3/h --left 10% --mixing 3");
    near(&purge["purge_min"], 41.4465, 1e-3);
    near(&json("dilution --lel 1.4% --vapour 30.4ft3/gal")["air_ft3_per_gal"], 8564.0, 1.0);
    let water = json("emission --component 1L,1.0g/mL,58%,52%,0%");
    near(&water["voc_g_per_l"], 60.0, 1e-9);
    near(&water["voc_less_water_g_per_l"], 60.0 / (1.0 - 0.52 / 0.998), 1e-9);
    let weight = json("weight --area 1.1m2 --dry 55um --density 1.3g/mL --arm -14cm");
    near(&weight["mass_g"], 78.65, 1e-9);
    near(&weight["moment_g_m"], -11.011, 1e-9);
}

#[test]
fn us_units_change_the_lines_and_never_the_object() {
    let call = "air --temperature 65F --humidity 55%";
    assert_eq!(json(call), json(&format!("{call} --units us")));
    let (_, out, _) = shell(&format!("boothside reckon {call} --units us"));
    assert!(out.contains("dew point            48.5 °F"), "{out}");
}

#[test]
fn solids_are_percent_from_one_on_and_are_said_back() {
    for solids in ["45%", "45", "0.45"] {
        let call = format!("film --wet 100um --solids {solids}");
        near(&json(&call)["dry_um"], 45.0, 1e-9);
        let (_, out, _) = shell(&format!("boothside reckon {call}"));
        assert!(out.contains("solids    45 %, as mixed 45 %"), "{out}");
    }
    near(&json("film --wet 2mm --solids 50% --thick")["wet_um"], 2000.0, 1e-9);
}

#[test]
fn a_zero_has_no_sign() {
    let (_, out, _) =
        shell("boothside reckon weight --area 1m2 --dry 20um --density 1.2g/mL --arm -0m --json");
    assert!(out.contains("\"moment_g_m\":0.0") && !out.contains("-0"), "{out}");
}

#[test]
fn masses_of_one_column_have_one_unit() {
    let call = "boothside reckon mix --parts 100:25:10 --by weight \
                --density 1.3g/mL,1.1g/mL,0.9g/mL --mass 540g --poured 412g --units us";
    let (_, out, _) = shell(call);
    assert!(out.contains("poured 0.908 lb · now 0.908 lb · add 0.000 lb"), "{out}");
    assert!(!out.replace("fl oz", "").contains("oz"), "{out}");
}

#[test]
fn a_content_beyond_any_solvent_says_that_it_is_rounding() {
    let pot = "emission --component 1L,1.0g/mL,99.9%,99.8%,0%";
    let (_, out, _) = shell(&format!("boothside reckon {pot}"));
    assert!(!out.contains("so heavy"), "{out}");
    let rounded = "emission --component 1L,1.0g/mL,99.9%,99.7%,0%";
    let less = json(rounded)["voc_less_water_g_per_l"].as_f64().unwrap();
    assert!(less > 1500.0, "{less}");
    assert!(json(rounded)["note"].as_str().unwrap().contains("1500.0 g/L"));
}

#[test]
fn who_rules_stands_beside_a_figure_of_air() {
    for call in
        ["ventilation --volume 60m3 --flow 600m3/h", "dilution --lel 1.4% --vapour 30.4ft3/gal"]
    {
        let (_, out, _) = shell(&format!("boothside reckon {call}"));
        assert!(out.contains("safety data sheet, local codes and licensed practice"), "{out}");
    }
}

#[test]
fn the_shop_says_in_which_units_and_a_broken_file_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let shop = folder.path().join("shop.json");
    let data = folder.path().to_string_lossy().into_owned();
    let film = || {
        let line =
            ["boothside", "--data", &data, "reckon", "film", "--wet", "4mil", "--solids", "50"];
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let status = crate::cli::main(line.map(Into::into), &mut out, &mut err);
        (status, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
    };
    assert!(film().1.contains("101.6 µm"));
    std::fs::write(&shop, r#"{"format": 1, "units": "us"}"#).unwrap();
    assert!(film().1.contains("4.00 mil") && film().2.is_empty());
    std::fs::write(&shop, r#"{"format": 1, "units": "us", }"#).unwrap();
    let (status, out, err) = film();
    assert!(status == 0 && out.contains("4.00 mil"), "{out}");
    assert!(err.contains("US units until it is mended") && err.contains("shop.json:1"), "{err}");
}
