//! Forms keep what was typed, take back, and give files back as they were.

use boothside::book::compose::{How, compose};
use boothside::book::draft::Draft;
use boothside::book::fill::fill;
use boothside::book::index::Index;
use boothside::book::spec;
use boothside::book::takes::Around;
use boothside::update::desk::Pressed;
use boothside_core::work::job::FullJob;
use boothside_store::book::{Kind, load_job};
use serde_json::Value;

use super::painter::Painter;
use super::painter::Put::{Pick, Skip, Text};

fn through_the_form(kind: Kind, value: &Value, index: &Index) -> Value {
    let draft = fill(spec::of(kind), value, index, false);
    let around = Around { us: false, index, draft: &draft };
    let composed = compose(spec::of(kind), &around, How::Whole);
    let faults: Vec<_> =
        composed.faults.iter().filter(|(_, told)| !told.contains("there is no")).collect();
    assert!(faults.is_empty(), "{faults:?}");
    composed.value
}

#[test]
fn every_example_file_goes_through_its_form_unchanged() {
    let painter = Painter::with_example();
    let work: FullJob = load_job(&painter.places().book(), "float-set").expect("the example");
    let index = Index::default();
    for sheet in work.sheets.values() {
        let value = serde_json::to_value(sheet).expect("JSON");
        let again: boothside_core::material::sheet::Sheet =
            serde_json::from_value(through_the_form(Kind::Sheet, &value, &index)).expect("a sheet");
        // stages of cure have no order in a sheet; the form has its own
        let sorted = |sheet: &boothside_core::material::sheet::Sheet| {
            let mut sheet = sheet.clone();
            sheet.cure.sort_by_key(|cure| cure.stage);
            serde_json::to_string_pretty(&sheet).expect("JSON")
        };
        assert_eq!(sorted(&again), sorted(sheet));
    }
    for part in work.parts.values() {
        let value = serde_json::to_value(part).expect("JSON");
        let again: boothside_core::work::part::Part =
            serde_json::from_value(through_the_form(Kind::Part, &value, &index)).expect("a part");
        assert_eq!(&again, part);
    }
    let value = serde_json::to_value(&work.shop).expect("JSON");
    let again: boothside_core::work::job::Shop =
        serde_json::from_value(through_the_form(Kind::Shop, &value, &index)).expect("a shop");
    assert_eq!(again, work.shop);
}

#[test]
fn a_system_and_a_job_saved_unchanged_are_as_they_were() {
    let mut painter = Painter::with_example();
    for (pages, file) in [(3, "systems/two-layer-float.json"), (1, "jobs/float-set.json")] {
        let before = load_job(&painter.places().book(), "float-set").expect("the example");
        for _ in 0..pages {
            painter.key(Pressed::Right);
        }
        painter.enter();
        let change = if file.starts_with("jobs") { "3" } else { "1" };
        painter.keys(change);
        assert!(painter.room.form().is_some(), "{file}");
        painter.key(Pressed::End).text(" ").key(Pressed::Backspace).save();
        let after = load_job(&painter.places().book(), "float-set").expect("the example");
        assert_eq!(after.system, before.system);
        assert_eq!(after.job, before.job);
    }
}

#[test]
fn a_half_filled_form_survives_leaving_and_the_end_of_the_program() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).keys("+");
    painter.text("Green pri");
    painter.room.flush();
    let draft = painter.json("drafts/new-sheet.json");
    assert_eq!(draft["texts"]["name"], "Green pri", "kept while the field is typed in");
    // the program ends without a key
    let mut painter = painter.anew();
    painter.compare("half");
    painter.keys(" ");
    assert_eq!(painter.label(), "name");
    painter.text("mer").enter();
    painter.key(Pressed::Esc).key(Pressed::Esc);
    assert!(painter.room.form().is_none());
    assert_eq!(painter.json("drafts/new-sheet.json")["texts"]["name"], "Green primer");
    // two of a kind are kept beside each other
    painter.key(Pressed::Right).keys("+");
    painter.text("Blue").key(Pressed::Esc).keys("q");
    assert_eq!(painter.json("drafts/new-sheet-2.json")["texts"]["name"], "Blue");
    // and one is thrown away only when that is said twice
    painter.key(Pressed::Up).key(Pressed::Up).keys(" ");
    painter.key(Pressed::Esc).keys("d");
    assert!(painter.has("drafts/new-sheet.json") && painter.has("drafts/new-sheet-2.json"));
    painter.keys("d");
    assert_eq!(
        usize::from(painter.has("drafts/new-sheet.json"))
            + usize::from(painter.has("drafts/new-sheet-2.json")),
        1
    );
}

#[test]
fn taking_back_goes_field_by_field_and_row_by_row_and_forth_again() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("Fin").enter().text("left").enter();
    painter.enter().text("1.2").enter();
    let texts =
        |painter: &Painter| -> Draft { painter.room.form().expect("a form").0.draft().clone() };
    painter.key(Pressed::Esc);
    let whole = texts(&painter);
    assert_eq!(whole.text("faces[0].area_m2"), "1.2 m²");
    painter.keys("u");
    assert_eq!(texts(&painter).text("faces[0].area_m2"), "");
    painter.keys("u");
    assert_eq!(texts(&painter).rows("faces"), 0);
    painter.keys("u");
    assert_eq!(texts(&painter).text("name"), "");
    painter.keys("u");
    assert!(painter.told().contains("nothing more"));
    painter.keys("rrr");
    let again = texts(&painter);
    assert_eq!(again.text("faces[0].name"), "left");
    assert_eq!(again.rows("faces"), 1);
    // a row taken out comes back with all it held
    painter.keys("x");
    assert_eq!(texts(&painter).rows("faces"), 0);
    painter.keys("u");
    assert_eq!(texts(&painter), again);
}

#[test]
fn rows_change_places_and_a_turned_face_follows_its_own() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("Fin").enter();
    for name in ["left", "right"] {
        painter.text(name).enter().enter().text("1").enter();
        if name == "right" {
            painter.keys("l");
        }
        painter.enter();
    }
    painter.save();
    let part = painter.json("parts/fin.json");
    assert_eq!(part["faces"][1]["turned_after"], "left");
    // the other way round it would wait for a face that comes after it: that is said
    painter.keys(" ");
    painter.go_to("face 2").key(Pressed::Esc).keys("<");
    assert!(painter.faults().concat().contains("was given"), "{:?}", painter.faults());
    painter.keys("u");
    assert_eq!(painter.faults(), Vec::<String>::new());
}

#[test]
fn what_is_retired_stays_for_what_uses_it_and_comes_back() {
    let mut painter = Painter::with_example();
    painter.key(Pressed::Right).text("grey").enter();
    painter.keys("3");
    assert_eq!(painter.json("sheets/grey-primer.json")["retired"], true);
    assert!(load_job(&painter.places().book(), "float-set").is_ok(), "the job still has it");
    // it is not offered for a new system
    painter.key(Pressed::Esc).key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("New").enter().text("Primer").enter();
    let (form, _) = painter.room.form().expect("a form");
    let offers: Vec<String> = form.offers().into_iter().map(|it| it.word).collect();
    assert_eq!(offers, ["Example blue, two-part"]);
    painter.key(Pressed::Esc).keys("dd");
    painter.key(Pressed::Left).key(Pressed::Left).text("grey").keys(" ");
    assert_eq!(painter.json("sheets/grey-primer.json").get("retired"), None);
}

#[test]
fn a_copy_needs_a_name_of_its_own() {
    let mut painter = Painter::with_example();
    painter.key(Pressed::Right).text("grey").enter();
    painter.keys("2");
    assert!(painter.told().contains("a name of its own"));
    painter.key(Pressed::Esc).keys("s");
    assert!(painter.told().starts_with("not saved"), "{}", painter.told());
    painter.enter().key(Pressed::End).text(" 2").save();
    assert_eq!(painter.json("sheets/grey-primer-waterborne-2.json")["mix"]["solids_pct"], 46.0);
    assert_eq!(painter.json("sheets/grey-primer.json")["name"], "Grey primer, waterborne");
}

#[test]
fn names_in_other_letters_and_a_broken_draft_are_no_trouble() {
    let mut painter = Painter::new();
    painter.key(Pressed::Right).key(Pressed::Right).keys("+");
    painter.text("翼").enter();
    for name in ["左", "右"] {
        painter.text(name).enter().enter().text("1").enter().enter();
    }
    painter.save();
    let part = painter.json("parts/part.json");
    assert_eq!(part["name"], "翼");
    assert_eq!(
        (&part["faces"][0]["id"], &part["faces"][1]["id"]),
        (&"row".into(), &"row-2".into())
    );
    let drafts = painter.folder.path().join("drafts");
    std::fs::write(drafts.join("new-part-4.json"), "{half").expect("written");
    let mut painter = painter.anew();
    assert!(painter.screen((80, 24)).contains("go on filling in: new-part-4"));
    painter.keys(" ");
    assert!(painter.room.form().is_none());
    assert!(painter.told().contains("is no half filled form"), "{}", painter.told());
    assert_eq!(std::fs::read_to_string(drafts.join("new-part-4.json")).expect("there"), "{half");
}

#[test]
fn a_disk_that_refuses_is_said_and_leaving_then_is_asked_twice() {
    let mut painter = Painter::new();
    // a file where the folder of the drafts would be
    let drafts = painter.folder.path().join("drafts");
    std::fs::write(&drafts, "in the way").expect("written");
    painter.key(Pressed::Right).keys("+");
    painter.text("Green primer");
    assert!(painter.screen((80, 24)).contains("NOT KEPT"), "{}", painter.screen((80, 24)));
    painter.key(Pressed::Esc).keys("q");
    assert!(painter.room.form().is_some(), "it stays once");
    assert!(painter.told().contains("q again loses what was typed"), "{}", painter.told());
    // the disk takes again: nothing was lost
    std::fs::remove_file(&drafts).expect("removed");
    painter.enter().key(Pressed::End).text(" 2");
    painter.room.flush();
    assert_eq!(painter.json("drafts/new-sheet.json")["texts"]["name"], "Green primer 2");
    painter.key(Pressed::Esc).keys("q");
    assert!(painter.room.form().is_none());
}

/// To the gap between coats of a new sheet, and its two ends typed.
fn typed_gap(painter: &mut Painter, earliest: &'static str, open_until: &'static str) {
    painter.key(Pressed::Right).keys("+").fill(&[
        ("name", Text("Green primer")),
        ("carried by", Pick("s")),
        ("sheet's title", Skip),
        ("sheet's date", Skip),
        ("isocyanate", Skip),
        ("flammable vapour", Skip),
        ("chromates", Skip),
        ("parts by", Pick("v")),
        ("component 1", Text("Base")),
        ("it is", Pick("b")),
        ("parts", Text("4")),
        ("density", Skip),
    ]);
    painter.section("next coat, earliest").fill(&[
        ("next coat, earliest", Text(earliest)),
        ("who says so", Pick("c")),
        ("dulls after", Skip),
        ("window open until", Text(open_until)),
    ]);
}

const OFFER: &str = "sooner, as the earliest is";

#[test]
fn a_maximum_without_a_law_is_offered_that_of_the_earliest_and_takes_it_by_one_key() {
    let mut painter = Painter::new();
    typed_gap(&mut painter, "20min at 23C, halves every 10C", "6h at 75F");
    assert_eq!(painter.label(), OFFER);
    painter.compare("sooner");
    painter.keys("y").enter();
    assert_eq!(painter.label(), "after a wipe or scuff until");
    painter.save();
    let file = painter.json("sheets/green-primer.json");
    let end = &file["between_coats"]["open_until"];
    assert_eq!((&end["law"], &end["duration_s"]), (&"as_earliest".into(), &21_600.0.into()));
    assert_eq!(end.get("doubles_per_c"), None, "the law stands once, with the earliest");
    // as it was typed, and the answer beside it
    painter.keys(" ").go_to("window open until");
    let (form, _) = painter.room.form().expect("a form");
    assert_eq!(form.draft().text("between_coats.open_until"), "6h at 75F");
    painter.key(Pressed::Down);
    assert_eq!(painter.label(), OFFER);
    let (form, _) = painter.room.form().expect("a form");
    assert_eq!(form.draft().text("between_coats.open_until.law"), "as_earliest");
    // saved again it is the same; answered the other way it is as stated
    painter.key(Pressed::Esc).keys("s");
    assert_eq!(painter.json("sheets/green-primer.json"), file);
    painter.keys(" ").go_to(OFFER).keys("n").save();
    let file = painter.json("sheets/green-primer.json");
    assert_eq!(file["between_coats"]["open_until"]["law"], "steady");
}

#[test]
fn the_law_of_the_earliest_is_never_taken_by_itself_and_goes_with_it() {
    let mut painter = Painter::new();
    typed_gap(&mut painter, "20min at 23C, 40min at 15C", "6h");
    painter.fill(&[(OFFER, Skip)]).save();
    let file = painter.json("sheets/green-primer.json");
    assert_eq!(file["between_coats"]["open_until"]["law"], "steady", "left");
    painter.keys(" ").go_to(OFFER).keys("y");
    // without a law there is nothing to take, and none is kept
    painter.go_to("next coat, earliest").key(Pressed::Delete).text("20min");
    painter.enter().save();
    let file = painter.json("sheets/green-primer.json");
    assert_eq!(file["between_coats"]["open_until"]["law"], "steady");
    let mut painter = Painter::new();
    typed_gap(&mut painter, "20min at 23C, halves every 10C", "6h at 23C, halves every 8C");
    assert_eq!(painter.label(), "after a wipe or scuff until", "it has a law of its own");
}

#[test]
fn the_law_of_the_earliest_comes_through_the_form_and_old_files_are_as_they_were() {
    let painter = Painter::with_example();
    let mut file = painter.json("sheets/grey-primer.json");
    let before = through_the_form(Kind::Sheet, &file, &Index::default());
    assert!(!before.to_string().contains("as_earliest"));
    let gap = &mut file["between_coats"];
    gap["earliest"] = serde_json::json!({
        "duration_s": 1200.0, "at_c": 23.0, "law": "warmth", "energy_kj_per_mol": 60.0
    });
    for end in ["open_until", "wipe_until"] {
        gap[end] = serde_json::json!({
            "duration_s": if end == "open_until" { 21_600.0 } else { 86_400.0 },
            "at_c": 23.0, "law": "as_earliest", "table": []
        });
    }
    let sheet = |value: Value| -> boothside_core::material::sheet::Sheet {
        serde_json::from_value(value).expect("a sheet")
    };
    let again = sheet(through_the_form(Kind::Sheet, &file, &Index::default()));
    let file = sheet(file);
    assert_eq!(file.check(), Vec::new());
    assert_eq!(again.between_coats, file.between_coats);
}
