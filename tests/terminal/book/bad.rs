//! What does not fit is said beside the field, in words, and saving waits.

use boothside::update::desk::Pressed;

use super::painter::Painter;

/// Opens the sheet of the example's primer.
fn primer(painter: &mut Painter) {
    painter.key(Pressed::Right).text("grey").keys(" ");
    assert!(painter.room.form().is_some());
}

/// Types into the line `label`, leaves it, and tries to save; returns what is said beside it.
fn refused(painter: &mut Painter, label: &str, text: &str) -> String {
    painter.go_to(label);
    for _ in 0..60 {
        painter.key(Pressed::Backspace);
    }
    painter.text(text).key(Pressed::Down);
    let beside = painter.faults().join(" | ");
    painter.key(Pressed::Esc).keys("s");
    assert!(painter.room.form().is_some(), "{label} {text} was saved");
    assert!(painter.told().starts_with("not saved"), "{}", painter.told());
    assert_eq!(painter.label(), label, "the painter is led to what does not fit");
    let shown = painter.screen((80, 24));
    assert!(shown.contains('×'), "{shown}");
    beside
}

#[test]
fn a_sheet_that_does_not_fit_waits_and_says_why() {
    for (label, text, wanted) in [
        ("parts", "0", "more than 0"),
        ("strainer", "190 mesh", "170 mesh is 90 µm"),
        ("volume solids", "120", "1 % to 100 %"),
        ("volume solids", "lots", "does not begin with a number"),
        ("pot life", "0min", "too small or too large; accepted: 0.001s to 3652d"),
        ("pot life", "4 fortnights", "accepted"),
        ("density", "1.3 bar", "'bar', which does not fit here"),
        ("window open until", "10min", "the window would end before it begins: longer than 20min"),
        ("seconds, most", "10s", "40 s or more"),
        ("air and surface to", "5", "more than"),
    ] {
        let mut painter = Painter::with_example();
        let before = painter.json("sheets/grey-primer.json");
        primer(&mut painter);
        let told = refused(&mut painter, label, text);
        assert!(told.contains(wanted), "{label} {text}: {told}");
        assert_eq!(painter.json("sheets/grey-primer.json"), before, "the file is as it was");
    }
}

#[test]
fn a_limit_is_said_in_the_units_of_the_shop() {
    let mut painter = Painter::with_example();
    super::script::us_shop(&mut painter);
    primer(&mut painter);
    let told = refused(&mut painter, "air and surface to", "400");
    assert!(told.contains("14 °F to 140 °F"), "{told}");
}

#[test]
fn a_face_without_area_and_a_missing_name_wait() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("Fin").enter().text("left").enter();
    painter.key(Pressed::Esc).keys("s");
    assert_eq!(painter.label(), "area");
    assert!(painter.faults().concat().contains("this is needed"), "{:?}", painter.faults());
    painter.enter().text("0m2").enter();
    assert!(painter.faults().concat().contains("more than 0"), "{:?}", painter.faults());
    painter.key(Pressed::Esc).keys("s");
    assert!(!painter.has("parts/fin.json"));
    painter.enter();
    for _ in 0..4 {
        painter.key(Pressed::Backspace);
    }
    painter.text("1.2").save();
    assert_eq!(painter.json("parts/fin.json")["faces"][0]["area_m2"], 1.2);
}

#[test]
fn a_part_without_faces_waits() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("Fin").enter().key(Pressed::Esc).keys("s");
    assert_eq!(painter.label(), "face 1");
    assert!(painter.faults().concat().contains("1 to 40"), "{:?}", painter.faults());
}

#[test]
fn a_system_that_names_a_missing_sheet_waits() {
    let painter = Painter::with_example();
    std::fs::remove_file(painter.folder.path().join("sheets/grey-primer.json")).expect("removed");
    let mut painter = painter.anew();
    for _ in 0..3 {
        painter.key(Pressed::Right);
    }
    painter.keys(" ");
    let told = painter.faults().concat();
    assert!(told.contains("there is no sheet of that name"), "{told}");
    painter.key(Pressed::Esc).keys("s");
    assert_eq!(painter.label(), "material");
    assert!(painter.told().starts_with("not saved"));
}

#[test]
fn a_name_that_exists_is_refused_beside_the_name() {
    let mut painter = Painter::with_example();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("rudder").enter();
    assert_eq!(painter.faults(), ["name: there is a part named Rudder already"]);
}

#[test]
fn what_another_hand_changed_meanwhile_is_not_lost_unseen() {
    let mut painter = Painter::with_example();
    primer(&mut painter);
    let file = painter.folder.path().join("sheets/grey-primer.json");
    let text = std::fs::read_to_string(&file)
        .expect("a file")
        .replace("\"solids_pct\": 46", "\"solids_pct\": 45");
    std::fs::write(&file, &text).expect("written");
    painter.key(Pressed::End).text("!").key(Pressed::Esc).keys("s");
    assert!(painter.told().contains("changed by another hand"), "{}", painter.told());
    assert_eq!(std::fs::read_to_string(&file).expect("a file"), text);
    painter.keys("s");
    assert_eq!(painter.json("sheets/grey-primer.json")["name"], "Grey primer, waterborne!");
}

#[test]
fn what_is_typed_after_a_refusal_begins_anew_and_an_arrow_mends() {
    let mut painter = Painter::with_example();
    primer(&mut painter);
    painter.go_to("volume solids");
    for _ in 0..10 {
        painter.key(Pressed::Backspace);
    }
    painter.text("46 mil").enter();
    assert_eq!(painter.label(), "volume solids", "it stays where it was refused");
    painter.text("44").enter();
    assert_eq!(painter.label(), "coverage");
    painter.key(Pressed::Up).key(Pressed::End).text("x").enter();
    painter.key(Pressed::Backspace).enter();
    assert_eq!(painter.label(), "coverage", "mended: {:?}", painter.faults());
    let (form, _) = painter.room.form().expect("a form");
    assert_eq!(form.draft().text("mix.solids_pct"), "44 %");
}

#[test]
fn dates_are_read_as_cans_print_them() {
    let mut painter = Painter::with_example();
    primer(&mut painter);
    for (typed, kept) in [("March 2025", "2025-03"), ("15 mar 2025", "2025-03-15")] {
        painter.go_to("sheet's date");
        for _ in 0..12 {
            painter.key(Pressed::Backspace);
        }
        painter.text(typed).save();
        assert_eq!(painter.json("sheets/grey-primer.json")["issued"], kept);
        painter.keys(" ");
    }
}

/// What stands in the file after `typed` went into the line `label` of the primer's sheet.
fn taken(us: bool, label: &str, typed: &str) -> (Painter, serde_json::Value) {
    let mut painter = Painter::with_example();
    if us {
        super::script::us_shop(&mut painter);
    }
    primer(&mut painter);
    painter.go_to(label);
    for _ in 0..40 {
        painter.key(Pressed::Backspace);
    }
    painter.text(typed).enter();
    assert_ne!(painter.label(), label, "{typed}: {:?}", painter.faults());
    painter.save();
    let sheet = painter.json("sheets/grey-primer.json");
    (painter, sheet)
}

#[test]
fn us_sheets_are_typed_as_they_print() {
    for (us, label, typed, at, wanted) in [
        (true, "sheet's date", "06/2025", "/issued", serde_json::json!("2025-06")),
        (true, "sheet's date", "2/25", "/issued", serde_json::json!("2025-02")),
        (true, "sheet's date", "06/15/2025", "/issued", serde_json::json!("2025-06-15")),
        (false, "sheet's date", "15/06/2025", "/issued", serde_json::json!("2025-06-15")),
        (true, "ratio may be off by", "+/- 3%", "/mix/tolerance_pct", 3.0.into()),
        (true, "strainer", "120 mesh", "/mix/strain_um", 125.0.into()),
        (true, "keeps sealed", "1 year", "/shelf/sealed_months", 12.0.into()),
        (true, "pot life", "2 1/2 hr at 75", "/pot_life/life/duration_s", 9000.0.into()),
        (true, "time to clean the gun", "1/2 h", "/pot_life/cleaning_reserve_s", 1800.0.into()),
        (
            true,
            "next coat, earliest",
            "1-1/2h",
            "/between_coats/earliest/duration_s",
            5400.0.into(),
        ),
        (
            true,
            "density",
            "10.2 lbs",
            "/mix/components/0/density_g_per_ml",
            (10.2 * 0.119_826_427_316_9).into(),
        ),
    ] {
        let (_, sheet) = taken(us, label, typed);
        let got = sheet.pointer(at).unwrap_or_else(|| panic!("{at} in {sheet}"));
        match (got.as_f64(), wanted.as_f64()) {
            (Some(got), Some(wanted)) => assert!((got - wanted).abs() < 1e-9, "{typed}: {got}"),
            _ => assert_eq!(*got, wanted, "{typed}"),
        }
    }
}

#[test]
fn a_date_that_may_be_two_is_asked_for_where_the_shop_is_not_american() {
    let mut painter = Painter::with_example();
    primer(&mut painter);
    let told = refused(&mut painter, "sheet's date", "06/07/2025");
    assert!(told.contains("which of them is the month?"), "{told}");
}

#[test]
fn both_ends_typed_into_one_field_go_to_both() {
    for (label, typed, low, high, wanted) in [
        ("seconds, least", "31-39s", "low_s", "high_s", [31.0, 39.0]),
        ("seconds, least", "31 to 39", "low_s", "high_s", [31.0, 39.0]),
    ] {
        let (_, sheet) = taken(true, label, typed);
        let cup = &sheet["mix"]["flow_cup"];
        assert_eq!([&cup[low], &cup[high]].map(|it| it.as_f64()), wanted.map(Some), "{typed}");
    }
    let (_, sheet) = taken(true, "air and surface from", "59-86F");
    assert_eq!(
        (&sheet["limits"]["min_c"], &sheet["limits"]["max_c"]),
        (&15.0.into(), &30.0.into())
    );
    // one key takes it back
    let mut painter = Painter::with_example();
    primer(&mut painter);
    painter.go_to("seconds, least");
    let (form, _) = painter.room.form().expect("a form");
    let before = form.draft().clone();
    for _ in 0..10 {
        painter.key(Pressed::Backspace);
    }
    painter.text("31-39s").enter().key(Pressed::Esc).keys("uu");
    assert_eq!(*painter.room.form().expect("a form").0.draft(), before);
}

#[test]
fn a_reducers_share_is_typed_as_a_range_and_may_begin_at_nothing() {
    let new = || {
        let mut painter = Painter::new();
        painter.key(Pressed::Right).keys("+").text("Clear").enter().keys("s");
        painter
            .go_to("component 1")
            .text("Base")
            .enter()
            .keys("b")
            .enter()
            .text("4")
            .enter()
            .enter();
        painter.text("Thinner").enter().keys("thinner").enter();
        painter
    };
    let mut painter = new();
    painter.text("10-20%").enter();
    let (form, _) = painter.room.form().expect("a form");
    let text = |key: &str| form.draft().text(&format!("mix.components[1].{key}")).to_owned();
    assert_eq!(
        (text("role"), text("parts"), text("max_parts")),
        ("reducer".into(), "10%".into(), "20%".into())
    );
    let mut painter = new();
    painter.text("0").enter();
    assert_eq!(painter.label(), "most parts", "{:?}", painter.faults());
    assert_eq!(painter.faults(), Vec::<String>::new());
    painter.key(Pressed::Esc).keys("s");
    assert!(
        painter.faults().concat().contains("the upper end of the thinning range"),
        "{:?}",
        painter.faults()
    );
}

#[test]
fn two_sides_typed_into_one_field_make_a_face() {
    let face = |keys: &dyn Fn(&mut Painter)| {
        let mut painter = Painter::new();
        super::script::us_shop(&mut painter);
        painter
            .key(Pressed::Right)
            .key(Pressed::Right)
            .keys("+")
            .text("Fin")
            .enter()
            .text("left")
            .enter();
        keys(&mut painter);
        painter.save();
        painter.json("parts/fin.json")["faces"][0].clone()
    };
    let inch = 0.0254;
    let area = face(&|painter| {
        painter.enter().text("12 x 14").enter();
    });
    assert!((area["area_m2"].as_f64().expect("an area") - 168.0 * inch * inch).abs() < 1e-9);
    let sides = face(&|painter| {
        painter.keys("r").enter().text("12 x 14").enter();
        painter.go_to("edges, thickness").text("7/8").enter();
    });
    let near = |value: &serde_json::Value, wanted: f64| {
        assert!((value.as_f64().expect("a length") - wanted).abs() < 1e-9, "{value}");
    };
    near(&sides["shape"]["width_m"], 12.0 * inch);
    near(&sides["shape"]["height_m"], 14.0 * inch);
    near(&sides["edges"]["thickness_m"], 7.0 / 8.0 * inch);
}

#[test]
fn what_matches_nothing_is_refused_and_shown_and_the_trades_words_are_known() {
    let typed = |label: &str, letters: &str| {
        let mut painter = Painter::with_example();
        primer(&mut painter);
        painter.go_to(label).text(letters);
        let (form, _) = painter.room.form().expect("a form");
        let text = form.draft().text(&form.line().expect("a line").path).to_owned();
        (text, painter.faults().concat(), painter)
    };
    for (label, letters, value) in [
        ("cup", "Ford #4", "ford-4"),
        ("cup", "zahn #2", "zahn-2"),
        ("it is", "hardener", "activator"),
        ("it is", "Catalyst", "activator"),
        ("it is", "converter", "activator"),
        ("it is", "curing agent", "activator"),
        ("it is", "resin", "base"),
        ("it is", "thinner", "reducer"),
    ] {
        let (text, faults, _) = typed(label, letters);
        assert_eq!((text.as_str(), faults.as_str()), (value, ""), "{letters}");
    }
    for (label, letters, words) in [
        ("cup", "#2 dip", "accepted: iso-3"),
        ("cup", "S 90", "zahn-5, din-4"),
        ("it is", "part A", "base or activator?"),
        ("carried by", "powder", "accepted: water, solvent"),
    ] {
        let (text, faults, mut painter) = typed(label, letters);
        assert_eq!(text, letters);
        assert!(faults.contains(words) && faults.contains(letters), "{faults}");
        assert!(painter.screen((80, 24)).contains(&format!("'{letters}'")));
        painter.key(Pressed::Esc).keys("s");
        assert!(painter.told().starts_with("not saved"), "{}", painter.told());
        // letter by letter back, and what fits is taken again
        painter.enter();
        painter.text(&letters[..1]);
        for _ in 0..letters.len() {
            painter.key(Pressed::Backspace);
        }
        let (form, _) = painter.room.form().expect("a form");
        assert_eq!(form.draft().text(&form.line().expect("a line").path), "");
    }
    // a part that the book has not
    let mut painter = Painter::with_example();
    for _ in 0..4 {
        painter.key(Pressed::Right);
    }
    painter.keys("+").text("Tail").enter().text("two").enter().text("wing").enter();
    assert!(
        painter.faults().concat().contains("'wing' was given; there is no part of that name"),
        "{:?}",
        painter.faults()
    );
}

#[test]
fn a_broken_shop_file_is_told_at_once_and_keeps_its_units() {
    let painter = Painter::with_example();
    let shop = painter.folder.path().join("shop.json");
    std::fs::write(&shop, r#"{"format": 1, "units": "us", }"#).expect("written");
    let mut painter = painter.anew();
    let screen = painter.screen((80, 24));
    assert!(
        screen.contains("! the shop's file cannot be read: US units until it is mended"),
        "{screen}"
    );
    primer(&mut painter);
    assert!(painter.told().contains("US units until it is mended"), "{}", painter.told());
    painter.go_to("air and surface from");
    for _ in 0..12 {
        painter.key(Pressed::Backspace);
    }
    painter.text("59").save();
    assert_eq!(painter.json("sheets/grey-primer.json")["limits"]["min_c"], 15.0);
}

#[test]
fn a_shape_without_its_measures_shows_no_area() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("Fin").enter().text("left").enter().keys("r").enter();
    painter.text("2m").enter();
    assert!(!painter.screen((80, 24)).contains("area"), "{}", painter.screen((80, 24)));
    painter.text("1m").enter();
    assert!(painter.screen((80, 24)).contains("area 2 m²"), "{}", painter.screen((80, 24)));
}
