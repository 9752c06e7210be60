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
