use super::*;
use crate::units::{Humidity, Share, Temperature};

fn near(got: f64, want: f64) {
    assert!((got - want).abs() <= 1e-12 * want.abs().max(1.0), "{got} is not {want}");
}

#[test]
fn temperatures_in_every_spelling() {
    for text in ["65F", "65 F", " 65°F ", "65 deg F", "65 degrees Fahrenheit", "65℉", "+65f"] {
        near(parse_temperature(text).unwrap().celsius(), 55.0 / 3.0);
    }
    for (text, celsius) in
        [("18.3C", 18.3), ("18.3 °C", 18.3), ("-5C", -5.0), ("−5 C", -5.0), ("-40F", -40.0)]
    {
        near(parse_temperature(text).unwrap().celsius(), celsius);
    }
    near(parse_temperature("293.15K").unwrap().celsius(), 20.0);
    near(parse_temperature_delta("18F").unwrap().kelvin(), 10.0);
    near(parse_temperature_delta("10 °C").unwrap().kelvin(), 10.0);
    near(parse_temperature_delta("10K").unwrap().kelvin(), 10.0);
}

#[test]
fn volumes_and_masses_in_every_spelling() {
    for (text, ml) in [
        ("1.5L", 1500.0),
        ("900 mL", 900.0),
        ("50floz", 1_478.676_478_125),
        ("50 fl oz", 1_478.676_478_125),
        ("50 fl. oz.", 1_478.676_478_125),
        ("2gal", 7_570.823_568),
        ("3 qt", 2_839.058_838),
        ("1pt", 473.176_473),
        (".5l", 500.0),
        ("1e3 ml", 1000.0),
    ] {
        near(parse_volume(text).unwrap().ml(), ml);
    }
    for (text, g) in [
        ("690g", 690.0),
        ("1.2kg", 1200.0),
        ("2lb", 907.184_74),
        ("4 oz", 113.398_092_5),
        ("2lb 4oz", 1_020.582_832_5),
        ("2 lbs. .5 oz", 921.359_501_562_5),
    ] {
        near(parse_mass(text).unwrap().g(), g);
    }
    assert_eq!(parse_volume_or_mass("1.5L").unwrap(), Amount::Volume(Volume::from_ml(1500.0)));
    assert_eq!(parse_volume_or_mass("690g").unwrap(), Amount::Mass(Mass::from_g(690.0)));
}

#[test]
fn durations_in_every_spelling() {
    for (text, seconds) in [
        ("90s", 90.0),
        ("15min", 900.0),
        ("2h", 7200.0),
        ("1h30min", 5400.0),
        ("1 h 30 min", 5400.0),
        ("1h 2min 3s", 3723.0),
        ("1.5 hours", 5400.0),
        ("3d", 259_200.0),
        ("0", 0.0),
        ("0.0", 0.0),
    ] {
        near(parse_duration_s(text).unwrap(), seconds);
    }
    near(parse_duration_s_or_minutes("15").unwrap(), 900.0);
    near(parse_duration_s_or_minutes("90s").unwrap(), 90.0);
}

#[test]
fn other_quantities_in_every_spelling() {
    near(parse_film("2mil").unwrap().um(), 50.8);
    near(parse_film("0.05mm").unwrap().um(), 50.0);
    near(parse_film("50 µm").unwrap().um(), 50.0);
    near(parse_length("5.5in").unwrap().m(), 0.1397);
    near(parse_length("-14cm").unwrap().m(), -0.14);
    near(parse_area("12 ft²").unwrap().m2(), 1.114_836_48);
    near(parse_area("300 sq in").unwrap().m2(), 0.193_548);
    near(parse_density("9.8 lb/gal").unwrap().g_per_ml(), 1.174_298_987_705_587);
    near(parse_voc("350g/L").unwrap().g_per_ml(), 0.35);
    near(parse_pressure("22 psi").unwrap().pa(), 151_684.660_449_703_94);
    near(parse_pressure("1.5bar").unwrap().pa(), 150_000.0);
    near(parse_pressure_or("150", "kPa").unwrap().pa(), 150_000.0);
    near(parse_pressure_or("1.5 bar", "psi").unwrap().pa(), 150_000.0);
    near(parse_flow("2400cfm").unwrap().m3_per_h(), 4_077.625_909_248);
    near(parse_room_volume("2000ft3").unwrap().ml(), 56_633_693.184);
    near(parse_kinematic("60 cSt").unwrap().mm2_per_s(), 60.0);
    near(parse_energy("60kJ/mol").unwrap().kj_per_mol(), 60.0);
    near(parse_vapour_volume("30.4ft3/gal").unwrap().m3_per_l(), 0.227_407_792_207_792_2);
    assert_eq!(parse_share("5%").unwrap(), Share::from_fraction(0.05));
    assert_eq!(parse_share("0.05").unwrap(), Share::from_fraction(0.05));
    near(parse_proportion("120%").unwrap(), 1.2);
    assert_eq!(parse_humidity("55 % RH").unwrap(), Humidity::from_percent(55.0));
    near(parse_plain("1.5").unwrap(), 1.5);
    for text in ["45%", "45", "0.45"] {
        near(parse_solids(text).unwrap().fraction(), 0.45);
    }
    near(parse_solids("1").unwrap().fraction(), 0.01);
    near(parse_percent("1.4%").unwrap().fraction(), 0.014);
}

#[test]
fn fractions_read_as_a_tape_and_a_us_sheet_print_them() {
    for (text, gal) in [("1/2 gal", 0.5), ("1-1/2gal", 1.5), ("2 1/2 gal", 2.5), ("2½ gal", 2.5)] {
        near(parse_volume(text).unwrap() / parse_volume("1gal").unwrap(), gal);
    }
    for (text, hours) in [("1-1/2 h", 1.5), ("2 1/2 hr", 2.5), ("1h 7 1/2min", 1.125)] {
        near(parse_duration_s(text).unwrap(), hours * 3600.0);
    }
    near(parse_length("-7/8 in").unwrap().m(), -0.875 * 0.0254);
    near(parse_plain("3/4").unwrap(), 0.75);
    near(parse_mass("2lb 4 1/2 oz").unwrap().g(), 1_034.757_594_062_5);
    for wrong in ["3/0 gal", "1/2", "1//2 gal", "1.5/2 gal", "1 - 1/2 gal", "1/7 gal", "1/2/2 gal"]
    {
        assert!(parse_volume(wrong).is_err(), "{wrong}");
    }
}

#[test]
fn a_forgotten_percent_sign_is_asked_for() {
    for text in ["10", "2.5", "12", "1e6"] {
        let error = parse_proportion(text).unwrap_err();
        assert!(error.to_string().contains(&format!("{text} or {text}%?")), "{error}");
    }
    near(parse_proportion("250%").unwrap(), 2.5);
    near(parse_proportion("2").unwrap(), 2.0);
    assert!(parse_proportion("1001%").is_err());
    for text in ["1", "0.9", "0.014"] {
        assert_eq!(parse_percent(text).unwrap_err().problem, Problem::NoSign);
    }
    assert!(parse_percent("101%").is_err() && parse_percent("-1%").is_err());
    assert!(parse_solids("101").is_err() && parse_solids("120%").is_err());
}

#[test]
fn a_field_that_shows_its_unit_takes_a_bare_number() {
    assert_eq!(parse_temperature_or("20", "C").unwrap(), Temperature::from_celsius(20.0));
    near(parse_temperature_or("50", "F").unwrap().celsius(), 10.0);
    near(parse_temperature_or("50F", "C").unwrap().celsius(), 10.0);
    near(parse_volume_or("2", "L").unwrap().ml(), 2000.0);
    near(parse_mass_or("690", "g").unwrap().g(), 690.0);
    near(parse_mass_or("2lb 4oz", "g").unwrap().g(), 1_020.582_832_5);
    assert_eq!(parse_humidity_or_percent("55").unwrap(), Humidity::from_percent(55.0));
}

#[test]
fn what_cannot_be_used_is_refused_for_its_reason() {
    let problem = |result: Result<f64, UnitError>| result.unwrap_err().problem;
    let c = |text| problem(parse_temperature(text).map(Temperature::celsius));
    let ml = |text| problem(parse_volume(text).map(Volume::ml));
    assert_eq!(c("18,3C"), Problem::DecimalComma);
    assert_eq!(c("18"), Problem::NoUnit);
    assert_eq!(c(""), Problem::Empty);
    assert_eq!(c("warm"), Problem::NotANumber);
    assert_eq!(c("nanC"), Problem::NotANumber);
    assert_eq!(c("infC"), Problem::NotANumber);
    assert_eq!(c("1e999C"), Problem::TooLarge);
    assert_eq!(c("-300C"), Problem::Outside("above absolute zero"));
    assert_eq!(ml("-5mL"), Problem::Negative);
    assert_eq!(ml("50oz"), Problem::UnknownUnit("oz".to_owned()));
    assert_eq!(ml("1e308gal"), Problem::TooLarge);
    for tiny in ["1e-300L", "1e-400mL", "0.001e-999mL"] {
        assert_eq!(ml(tiny), Problem::TooSmall, "{tiny}");
    }
    near(parse_volume("0e-400mL").unwrap().ml(), 0.0);
    assert_eq!(ml("1,000 mL"), Problem::DecimalComma);
    assert_eq!(problem(parse_duration_s("1:30")), Problem::Colon);
    assert_eq!(problem(parse_duration_s("90")), Problem::NoUnit);
    assert_eq!(problem(parse_duration_s("1h30")), Problem::NoUnit);
    assert_eq!(problem(parse_duration_s("30min1h")), Problem::Order);
    assert_eq!(problem(parse_duration_s("-5min")), Problem::Negative);
    assert_eq!(problem(parse_humidity("55").map(Humidity::percent)), Problem::NoUnit);
    assert!(parse_humidity("0%").is_err() && parse_humidity("101%").is_err());
    assert!(parse_share("1.2").is_err() && parse_share("-5%").is_err());
    assert!(parse_proportion("12").is_err());
}

#[test]
fn a_refusal_says_what_was_given_and_what_is_accepted() {
    let text = parse_temperature(" 18,3C").unwrap_err().to_string();
    assert_eq!(
        text,
        "'18,3C' has a comma; write 2400, or 2.5 with a decimal point; accepted: 18.3C, 65F, -5C"
    );
    let text = parse_volume_or_mass("3 cups").unwrap_err().to_string();
    assert!(text.contains("'cups'") && text.contains("50floz") && text.contains("690g"), "{text}");
}
