//! The book: whole files survive a power cut, and flaws are told with line and field.
#![allow(clippy::expect_used, clippy::panic, reason = "a helper of a test may fail the test")]

mod common;

use std::path::{Path, PathBuf};

use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::{Job, Shop};
use boothside_store::book::{
    BookError, Flaw, FolderShelf, Kind, check_text, load, load_job, load_shop, save,
};
use boothside_store::double::{Failure, Loss, MemoryDisk};
use boothside_store::storage::RealDisk;
use proptest::prelude::*;

fn example_folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/example")
}

fn example() -> FolderShelf<RealDisk> {
    FolderShelf::new(RealDisk, example_folder())
}

fn text_of(kind: Kind, name: &str) -> Option<String> {
    std::fs::read_to_string(example_folder().join(kind.file(name)?)).ok()
}

/// The example with one text changed.
fn changed(kind: Kind, name: &str, from: &str, to: &str) -> impl Fn(Kind, &str) -> Option<String> {
    let (file, from, to) = (name.to_owned(), from.to_owned(), to.to_owned());
    move |k: Kind, n: &str| {
        let text = text_of(k, n)?;
        if k != kind || n != file {
            return Some(text);
        }
        assert!(text.contains(&from), "{from} is not in {n}");
        Some(text.replacen(&from, &to, 1))
    }
}

fn flaws<T: std::fmt::Debug>(loaded: Result<T, BookError>) -> Vec<Flaw> {
    match loaded {
        Err(BookError::Flawed(flaws)) => flaws,
        other => panic!("{other:?}"),
    }
}

fn one_flaw<T: std::fmt::Debug>(loaded: Result<T, BookError>) -> Flaw {
    let mut flaws = flaws(loaded);
    assert_eq!(flaws.len(), 1, "{flaws:?}");
    flaws.remove(0)
}

/// The line on which `needle` stands, from 1.
fn line_of(text: &str, needle: &str) -> usize {
    text.lines().position(|line| line.contains(needle)).expect("there") + 1
}

#[test]
fn the_example_loads_from_a_folder_and_from_texts() {
    let from_folder = load_job(&example(), "float-set").expect("the example");
    let from_texts = load_job(&text_of, "float-set").expect("the example");
    assert_eq!(from_folder, from_texts);
    assert!(from_folder.check().is_empty());
    assert_eq!(example().names(Kind::Part).expect("listed"), ["cuff", "door", "hatch", "rudder"]);
}

#[test]
fn a_field_of_the_wrong_type_is_told_with_its_place() {
    let shelf = changed(Kind::Part, "cuff", "0.18", "\"0.18\"");
    let flaw = one_flaw(load_job(&shelf, "float-set"));
    assert_eq!(flaw.file, Path::new("parts/cuff.json"));
    assert_eq!(flaw.field, "faces[0].area_m2");
    let text = shelf(Kind::Part, "cuff").expect("there");
    assert_eq!(flaw.line, Some(line_of(&text, "\"0.18\"")));
    assert_eq!(
        (flaw.given.as_str(), flaw.accepted.as_str()),
        ("invalid type: string \"0.18\"", "a number")
    );
}

#[test]
fn an_unknown_field_and_a_missing_one_are_named() {
    let shelf = changed(Kind::Part, "cuff", "\"area_m2\"", "\"area\"");
    let flaw = one_flaw(load_job(&shelf, "float-set"));
    assert_eq!((flaw.given.as_str(), flaw.line), ("unknown field `area`", Some(5)));
    assert!(flaw.accepted.contains("`area_m2`"), "{}", flaw.accepted);
    let shelf = changed(Kind::Job, "float-set", "\"system\": \"two-layer-float\",", "");
    let flaw = one_flaw(load_job(&shelf, "float-set"));
    assert_eq!((flaw.given.as_str(), flaw.accepted.as_str()), ("nothing", "the field `system`"));
}

#[test]
fn a_figure_that_does_not_fit_is_told_with_its_line() {
    let text = text_of(Kind::Sheet, "grey-primer").expect("there");
    let broken = text.replacen("\"parts\": ", "\"parts\": -", 1);
    let flaw = one_flaw(check_text::<Sheet>("x.json".into(), broken.as_bytes()));
    assert_eq!(flaw.field, "mix.components[0].parts");
    assert_eq!(flaw.line, Some(line_of(&broken, "\"parts\": -")));
    assert_eq!(flaw.accepted, "a number above 0");
    assert!(flaw.to_string().starts_with(&format!("x.json:{}:", flaw.line.expect("a line"))));
}

#[test]
fn names_that_lead_nowhere_are_told_where_they_stand() {
    let shelf = changed(Kind::System, "two-layer-float", "\"grey-primer\"", "\"grey-prime\"");
    let flaw = one_flaw(load_job(&shelf, "float-set"));
    assert_eq!(flaw.file, Path::new("systems/two-layer-float.json"));
    assert_eq!(flaw.field, "layers[0].sheet");
    let text = shelf(Kind::System, "two-layer-float").expect("there");
    assert_eq!(flaw.line, Some(line_of(&text, "\"grey-prime\"")));

    let shelf = changed(Kind::Job, "float-set", "\"cuff\"", "\"cufff\", \"muff\"");
    let found = flaws(load_job(&shelf, "float-set"));
    let fields: Vec<&str> = found.iter().map(|flaw| flaw.field.as_str()).collect();
    assert_eq!(fields, ["parts[1]", "parts[2]"]);

    let missing = load_job(&text_of, "nothing-here");
    assert!(matches!(missing, Err(BookError::Missing { kind: Kind::Job, .. })));
}

#[test]
fn what_only_the_whole_shows_is_told_in_the_job() {
    let order = "\"hatch\", \"cuff\", \"door\", \"rudder\"],\n  \"order\": [\"hatch-top\"]";
    let shelf =
        changed(Kind::Job, "float-set", "\"hatch\", \"cuff\", \"door\", \"rudder\"]", order);
    let flaw = one_flaw(load_job(&shelf, "float-set"));
    assert_eq!(
        (flaw.file.as_path(), flaw.field.as_str()),
        (Path::new("jobs/float-set.json"), "order")
    );
    assert!(flaw.accepted.contains("hatch-under"), "{}", flaw.accepted);
}

#[test]
fn no_name_leaves_the_book() {
    let reached = |_: Kind, name: &str| -> Option<String> { panic!("asked for {name}") };
    for name in ["../jobs/float-set", "..", "", "a/b", "C:\\x", "Größe", "a\u{1b}[2J"] {
        let loaded: Result<Job, BookError> = load(&reached, name);
        let why = loaded.expect_err("no such name").to_string();
        assert!(!why.contains('\u{1b}'), "{why:?}");
    }
}

#[test]
fn a_file_that_is_no_text_is_told_with_its_line() {
    let flaw = one_flaw(check_text::<Job>("j.json".into(), b"{\n \"name\": \"\xff\"}"));
    assert_eq!((flaw.line, flaw.column), (Some(2), Some(11)));
    let twice = b"{\"format\": 1,\n \"name\": \"a\",\n \"name\": \"b\"}";
    let flaw = one_flaw(check_text::<Job>("j.json".into(), twice));
    assert_eq!((flaw.line, flaw.accepted.as_str()), (Some(3), "each field once"));
    let cut = one_flaw(check_text::<Job>("j.json".into(), b"{\"format\": 1,"));
    assert_eq!(cut.line, Some(1));
    let more = one_flaw(check_text::<Shop>("shop.json".into(), b"{\"format\": 1}\n}"));
    assert_eq!(more.line, Some(2));
    let marked = check_text::<Shop>("shop.json".into(), b"\xef\xbb\xbf{\"format\": 1}");
    assert_eq!(marked.expect("an editor's mark at the start is no fault"), Shop::default());
}

#[test]
fn a_text_from_a_file_never_reaches_the_terminal_raw() {
    let shelf = changed(Kind::Part, "cuff", "\"name\": \"Cuff\"", "\"name\": \"\\u001b[2J\"");
    let told = load_job(&shelf, "float-set").expect_err("a name that steers").to_string();
    assert!(!told.contains('\u{1b}'), "{told:?}");
    let shelf = changed(Kind::Part, "cuff", "\"area_m2\"", "\"\\u001b[2J\\u202e\"");
    let told = load_job(&shelf, "float-set").expect_err("a key that steers").to_string();
    assert!(!told.contains(['\u{1b}', '\u{202e}']), "{told:?}");
}

#[test]
fn without_a_shop_file_the_usual_settings_count() {
    let none = |_: Kind, _: &str| None;
    assert_eq!(load_shop(&none).expect("usual"), Shop::default());
}

#[test]
fn what_was_saved_loads_again() {
    let root = tempfile::tempdir().expect("a folder");
    let shelf = FolderShelf::new(RealDisk, root.path().join("book"));
    let sheet: Sheet = load(&example(), "grey-primer").expect("the example");
    save(&shelf, "mine", &sheet).expect("saved");
    assert_eq!(load::<Sheet>(&shelf, "mine").expect("loads"), sheet);
    assert!(save(&shelf, "../mine", &sheet).is_err());
    let unfit = Sheet { name: String::new(), ..sheet };
    assert!(save(&shelf, "mine", &unfit).is_err(), "what would not load is not saved");
    let left = std::fs::read_dir(root.path().join("book/sheets")).expect("there").count();
    assert_eq!(left, 1, "nothing is left beside it");
}

fn shop(spare: u8) -> Shop {
    Shop { spare_pct: Some(f64::from(spare)), ..Shop::default() }
}

#[test]
fn a_whole_file_is_the_old_one_or_the_new_one() {
    for call in 0..40 {
        for bytes in [0, 3, 1000] {
            for failure in [Failure::PowerCut(bytes), Failure::NoSpace(bytes), Failure::Io(bytes)] {
                for loss in [Loss::All, Loss::Keep(1), Loss::Keep(9999), Loss::Zeros(9999)] {
                    let disk = MemoryDisk::new();
                    let shelf = FolderShelf::new(disk.clone(), "config");
                    save(&shelf, "shop", &shop(1)).expect("saved");
                    disk.fail(disk.calls() + call, failure);
                    let said = save(&shelf, "shop", &shop(2)).is_ok();
                    disk.crash(loss);
                    let case = format!("call {call}, {failure:?}, {loss:?}");
                    let there = load_shop(&shelf).unwrap_or_else(|why| panic!("{case}: {why}"));
                    assert!(there == shop(2) || (!said && there == shop(1)), "{case}");
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bytes_from_anywhere_are_told_and_do_no_harm(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        prop_assert!(check_text::<Sheet>("x.json".into(), &bytes).is_err());
    }

    #[test]
    fn a_sheet_cut_or_changed_anywhere_is_told_or_loads(at in 0..2000_usize, byte in any::<u8>(), cut in any::<bool>()) {
        let mut bytes = text_of(Kind::Sheet, "grey-primer").expect("there").into_bytes();
        let at = at % bytes.len();
        if cut { bytes.truncate(at) } else { bytes[at] = byte }
        if let Err(BookError::Flawed(flaws)) = check_text::<Sheet>("x.json".into(), &bytes) {
            prop_assert!(!flaws.is_empty());
            for flaw in flaws {
                prop_assert!(flaw.line.is_some() && !flaw.accepted.is_empty(), "{:?}", flaw);
            }
        }
    }
}
