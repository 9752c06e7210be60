//! A can by keys: what is left is counted now, and a name mended later counts nothing anew.

use boothside::update::desk::Pressed;

use super::painter::Painter;
use super::painter::Put::{Pick, Skip, Text};

#[test]
fn a_can_is_entered_counted_and_mended() {
    let mut painter = Painter::with_example();
    for _ in 0..5 {
        painter.key(Pressed::Right);
    }
    painter.keys("+").fill(&[
        ("name", Text("primer base, big tin")),
        ("material", Pick("g")),
        ("component", Pick("b")),
        ("lot", Text("24-117")),
        ("good until", Text("2027-03")),
        ("opened", Text("2026-05-02")),
        ("holds, when full", Text("1gal")),
        ("left in it now, by volume", Text("2.4L")),
        ("or by weight", Skip),
        ("thinner returned to it", Skip),
    ]);
    painter.save();
    painter.compare("cans");
    let can = painter.json("cans/primer-base-big-tin.json");
    assert_eq!(can["left_ml"], 2400.0);
    assert_eq!(can["component"], "Base");
    assert_eq!(can["typed"]["holds_ml"], "1gal");
    let counted = can["counted"].as_str().expect("counted").to_owned();
    assert!(counted.starts_with("2026-05-12T09:30"), "{counted}");

    // another name is no other count
    let file = painter.folder.path().join("cans/primer-base-big-tin.json");
    let text = std::fs::read_to_string(&file).expect("a can");
    std::fs::write(&file, text.replace("2026-05-12T09:30", "2026-05-11T08:00")).expect("written");
    painter.keys(" ").key(Pressed::Backspace).text("n 2").save();
    let can = painter.json("cans/primer-base-big-tin.json");
    assert!(can["counted"].as_str().is_some_and(|at| at.starts_with("2026-05-11T08:00")));
    // counted anew it is
    painter.keys(" ").go_to("left in it now, by volume");
    for _ in 0..10 {
        painter.key(Pressed::Backspace);
    }
    painter.text("1.9L").save();
    let can = painter.json("cans/primer-base-big-tin.json");
    assert_eq!(can["left_ml"], 1900.0);
    assert!(can["counted"].as_str().is_some_and(|at| at.starts_with("2026-05-12T09:30")));
}

#[test]
fn a_can_of_no_component_waits() {
    let mut painter = Painter::with_example();
    for _ in 0..5 {
        painter.key(Pressed::Right);
    }
    painter.keys("+").text("tin").enter().keys("e").enter();
    painter.key(Pressed::Esc).keys("s");
    assert_eq!(painter.label(), "component");
    assert!(painter.screen((80, 24)).contains("Base · Activator · Reducer"));
}

#[test]
fn a_can_past_its_date_or_empty_says_so_before_the_end_is_cut() {
    let mut painter = Painter::with_example();
    for _ in 0..5 {
        painter.key(Pressed::Right);
    }
    let long = "a tin with a name that is long";
    painter.keys("+").fill(&[
        ("name", Text(long)),
        ("material", Pick("g")),
        ("component", Pick("b")),
        ("lot", Text("24-117-0033-B")),
        ("good until", Text("2026-04")),
        ("opened", Skip),
        ("holds, when full", Skip),
        ("left in it now, by volume", Text("0mL")),
    ]);
    painter.save();
    let screen = painter.screen((80, 24));
    let line = screen.lines().find(|line| line.contains(long)).expect("the can");
    assert!(line.contains("! past its date 2026-04 · Base · ! empty"), "{line}");
}
