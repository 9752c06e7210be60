//! `boothside check` on files in a folder.

use std::fs;
use std::path::{Path, PathBuf};

use boothside_core::material::can::Can;
use boothside_core::physics::rate::Rules;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::time::Moment;
use boothside_store::book::{FolderShelf, Kind, load_can, load_job, save};
use boothside_store::log::LogWriter;
use boothside_store::storage::RealDisk;
use serde_json::Value;

use super::{CheckArgs, run};

pub(crate) fn example() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/example")
}

/// The example's files in a folder of their own.
fn copied() -> tempfile::TempDir {
    let root = tempfile::tempdir().expect("a folder");
    for folder in ["sheets", "parts", "systems", "jobs"] {
        fs::create_dir(root.path().join(folder)).expect("made");
        for file in fs::read_dir(example().join(folder)).expect("there") {
            let file = file.expect("a file");
            let to = root.path().join(folder).join(file.file_name());
            fs::copy(file.path(), to).expect("copied");
        }
    }
    root
}

pub(crate) fn entry(n: u64, at: &str, event: Event) -> Entry {
    Entry {
        n,
        t_ms: Moment::from_ms(i64::try_from(n).expect("small")),
        at: at.into(),
        by: By::Key,
        when_ms: None,
        events: vec![event],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: None,
    }
}

/// A log of the example job, left open.
pub(crate) fn new_log(folder: &Path, at: &str) -> LogWriter<RealDisk> {
    let work = load_job(&FolderShelf::new(RealDisk, example()), "float-set").expect("the example");
    let opening = Opening {
        format: LOG_FORMAT,
        rules: Rules::NOW.number(),
        rehearsal: false,
        work,
        factors: [].into(),
    };
    boothside_store::make_folders(&RealDisk, folder).expect("made");
    let first = entry(0, at, Event::Opened(Box::new(opening)));
    LogWriter::create(&RealDisk, folder, "2026-05-12-float-set", &first).expect("a log")
}

fn log_of(folder: &Path, count: u64) -> PathBuf {
    let mut writer = new_log(folder, "2026-05-12T08:00:00.000-05:00");
    for n in 1..count {
        let note = Event::Note { text: format!("note {n}") };
        writer.append(&entry(n, "2026-05-12T10:42:07.120-05:00", note)).expect("room");
    }
    writer.path().to_owned()
}

fn checked(files: &[&Path], json: bool) -> (u8, String, String) {
    let args = CheckArgs { files: files.iter().map(|file| file.to_path_buf()).collect(), json };
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let status = run(&args, &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (status, text(out), text(err))
}

#[test]
fn every_file_of_the_example_is_sound() {
    let mut files = vec![example().join("shop.json")];
    for folder in ["sheets", "parts", "systems", "jobs"] {
        let inside = fs::read_dir(example().join(folder)).expect("there");
        files.extend(inside.map(|file| file.expect("a file").path()));
    }
    let files: Vec<&Path> = files.iter().map(PathBuf::as_path).collect();
    let (status, out, err) = checked(&files, false);
    assert_eq!((status, err.as_str()), (0, ""), "{out}");
    assert_eq!(out.lines().filter(|line| line.ends_with(", sound")).count(), files.len());
}

#[test]
fn a_flaw_is_told_with_file_line_field_given_and_accepted() {
    let root = copied();
    let part = root.path().join("parts/cuff.json");
    let text = fs::read_to_string(&part).expect("there").replacen("0.18", "-0.18", 1);
    fs::write(&part, &text).expect("written");
    let (status, out, _) = checked(&[&part], false);
    assert_eq!(status, 1);
    let expected = ":5:48: faces[0].area_m2: -0.18; accepted: a number above 0";
    assert!(out.contains(&format!("cuff.json{expected}")), "{out}");

    let (status, out, err) = checked(&[&part], true);
    assert_eq!((status, err.as_str()), (1, ""));
    let answer: Value = serde_json::from_str(&out).expect("one JSON object");
    assert_eq!(answer["sound"], false);
    let flaw = &answer["files"][0]["flaws"][0];
    assert_eq!((&flaw["line"], &flaw["field"]), (&5.into(), &"faces[0].area_m2".into()));
    assert_eq!((&flaw["given"], &flaw["accepted"]), (&"-0.18".into(), &"a number above 0".into()));
}

#[test]
fn the_names_of_a_job_are_followed_where_its_book_can_be_seen() {
    let root = copied();
    let job = root.path().join("jobs/float-set.json");
    fs::remove_file(root.path().join("sheets/grey-primer.json")).expect("there");
    let (status, out, _) = checked(&[&job], false);
    assert_eq!(status, 1);
    assert!(out.contains("two-layer-float.json"), "{out}");
    assert!(out.contains("\"grey-primer\"; accepted: the name of a sheet that is there"), "{out}");

    let alone = root.path().join("alone.json");
    fs::copy(&job, &alone).expect("copied");
    assert_eq!(checked(&[&alone], false).0, 0, "its book cannot be seen from there");
}

#[test]
fn a_system_needs_the_sheets_that_it_names() {
    let root = copied();
    let system = root.path().join("systems/two-layer-float.json");
    assert_eq!(checked(&[&system], false).0, 0);
    fs::remove_file(root.path().join("sheets/grey-primer.json")).expect("there");
    let (status, out, _) = checked(&[&system], false);
    assert_eq!(status, 1);
    assert!(out.contains("\"grey-primer\"; accepted: the name of a sheet that is there"), "{out}");
    let alone = root.path().join("alone.json");
    fs::copy(&system, &alone).expect("copied");
    assert_eq!(checked(&[&alone], false).0, 0, "its book cannot be seen from there");
}

#[test]
fn a_file_name_that_the_book_never_opens_is_told() {
    let root = copied();
    for (good, bad) in [
        ("sheets/grey-primer.json", "sheets/Grey primer.json"),
        ("parts/cuff.json", "parts/cuff_2.json"),
        ("systems/two-layer-float.json", "systems/two layers.json"),
        ("jobs/float-set.json", "jobs/Float.json"),
    ] {
        let file = root.path().join(bad);
        fs::copy(root.path().join(good), &file).expect("copied");
        let (status, out, _) = checked(&[&file], false);
        assert_eq!(status, 1, "{out}");
        assert_eq!(out.matches("a file named in a–z, 0–9 and -").count(), 1, "{out}");
        assert_eq!(checked(&[&root.path().join(good)], false).0, 0);
    }
}

#[test]
fn of_many_flaws_the_first_are_named_and_the_rest_counted() {
    let root = copied();
    let file = root.path().join("parts/cuff.json");
    let mut part: Value = serde_json::from_slice(&fs::read(&file).expect("there")).expect("JSON");
    let face = part["faces"][0].clone();
    let faces = (0..800).map(|row| {
        let mut face = face.clone();
        face["id"] = format!("face-{row}").into();
        face["area_m2"] = (-1.0).into();
        face
    });
    part["faces"] = faces.collect();
    fs::write(&file, part.to_string()).expect("written");
    let (status, out, _) = checked(&[&file], false);
    assert_eq!(status, 1);
    assert!(out.len() < 10_000 && out.lines().count() < 30, "{} bytes", out.len());
    assert!(out.contains("  and 781 more"), "{out}");
    let answer: Value = serde_json::from_str(&checked(&[&file], true).1).expect("JSON");
    assert_eq!(answer["files"][0]["more_flaws"], 781);
}

#[test]
fn a_file_is_known_by_its_content_where_its_place_says_nothing() {
    let root = tempfile::tempdir().expect("a folder");
    let names = [
        ("sheets/grey-primer.json", "sheet"),
        ("parts/cuff.json", "part"),
        ("systems/two-layer-float.json", "system"),
        ("jobs/float-set.json", "job"),
        ("shop.json", "shop"),
    ];
    for (name, kind) in names {
        let file = root.path().join("x.json");
        fs::copy(example().join(name), &file).expect("copied");
        let (status, out, _) = checked(&[&file], false);
        assert_eq!(status, 0, "{out}");
        assert!(out.contains(&format!("x.json: {kind}, sound")), "{out}");
    }
    let log = log_of(root.path(), 2);
    let file = root.path().join("log.txt");
    fs::copy(log, &file).expect("copied");
    assert!(checked(&[&file], false).1.contains("log.txt: log, sound"));
}

#[test]
fn what_cannot_be_used_is_told_on_stderr_with_status_2() {
    let root = copied();
    let other = root.path().join("x.json");
    fs::write(&other, "{\"a\":1}").expect("written");
    let missing = root.path().join("none\u{1b}[2J.json");
    let good = root.path().join("parts/cuff.json");
    let (status, out, err) = checked(&[&good, &other, &missing, root.path()], false);
    assert_eq!(status, 2);
    assert_eq!(out.lines().count(), 1, "{out}");
    assert_eq!(err.lines().count(), 3, "{err}");
    assert!(err.contains("is none of ours; accepted: a sheet, part"), "{err}");
    assert!(!err.contains('\u{1b}'), "{err:?}");
    let (status, out, _) = checked(&[&good, &other], true);
    let answer: Value = serde_json::from_str(&out).expect("one JSON object");
    assert_eq!((status, &answer["sound"]), (2, &false.into()));
}

#[test]
fn a_sound_log_tells_its_entries_and_times() {
    let root = tempfile::tempdir().expect("a folder");
    let log = log_of(root.path(), 4);
    let (status, out, _) = checked(&[&log], false);
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("4 entries; 4 lines chained"), "{out}");
    assert!(out.contains("from 2026-05-12T08:00:00.000-05:00 to 2026-05-12T10:42:07.120"), "{out}");
}

#[test]
fn a_damaged_log_is_told_with_line_and_byte() {
    let root = tempfile::tempdir().expect("a folder");
    let log = log_of(root.path(), 4);
    let mut bytes = fs::read(&log).expect("there");
    let second = bytes.iter().position(|byte| *byte == b'\n').expect("lines") + 1;
    bytes[second + 5] ^= 1;
    fs::write(&log, &bytes).expect("written");
    let (status, out, _) = checked(&[&log], true);
    assert_eq!(status, 1);
    let answer: Value = serde_json::from_str(&out).expect("one JSON object");
    let facts = &answer["files"][0]["log"];
    assert_eq!((&facts["ending"], &facts["entries"]), (&"damaged".into(), &1.into()));
    assert_eq!((&facts["damaged_line"], &facts["damaged_byte"]), (&2.into(), &second.into()));
    assert_eq!(fs::read(&log).expect("there"), bytes, "checking writes nothing");
}

#[test]
fn a_torn_log_is_told_unless_it_is_being_written() {
    let root = tempfile::tempdir().expect("a folder");
    let log = log_of(root.path(), 3);
    let whole = fs::read(&log).expect("there");
    let torn = [whole.as_slice(), b"{\"n\":3"].concat();
    fs::write(&log, &torn).expect("written");
    let (status, out, _) = checked(&[&log], false);
    assert_eq!(status, 1);
    assert!(
        out.contains(&format!(":4: 6 bytes of a torn line from byte {} on", whole.len())),
        "{out}"
    );
    assert_eq!(fs::read(&log).expect("there"), torn, "checking writes nothing");

    let writer = boothside_store::log::open(&RealDisk, &log).expect("mended").writer;
    fs::write(&log, &torn).expect("written");
    let (status, out, _) = checked(&[&log], false);
    assert_eq!(status, 0, "{out}");
    assert!(out.contains(&format!("(process {}) has it open", std::process::id())), "{out}");
    drop(writer);
}

/// A can of the example's grey primer.
fn can(component: &str) -> Can {
    Can {
        format: 1,
        name: "Grey primer base, big tin".into(),
        sheet: "grey-primer".into(),
        component: component.into(),
        lot: Some("24-117".into()),
        until: Some("2027-03".into()),
        left_ml: Some(820.0),
        counted: Some("2026-05-12T10:42:07.120-05:00".into()),
        ..Can::default()
    }
}

#[test]
fn a_can_is_kept_and_checked_against_its_sheet() {
    let root = copied();
    let shelf = FolderShelf::new(RealDisk, root.path());
    save(&shelf, "grey-base-1", &can("Base")).expect("kept");
    assert_eq!(load_can(&shelf, "grey-base-1").expect("there"), can("Base"));
    assert_eq!(shelf.names(Kind::Can).expect("listed"), ["grey-base-1"]);
    let file = root.path().join("cans/grey-base-1.json");
    let (status, out, _) = checked(&[&file], false);
    assert_eq!(status, 0, "{out}");

    save(&shelf, "grey-base-1", &can("Hardener")).expect("kept");
    let (status, out, _) = checked(&[&file], false);
    assert_eq!(status, 1);
    assert!(out.contains("component: \"Hardener\""), "{out}");
    assert!(out.contains("accepted: a component of that sheet: Base, Activator, Water"), "{out}");

    fs::remove_file(root.path().join("sheets/grey-primer.json")).expect("removed");
    let (status, out, _) = checked(&[&file], false);
    assert_eq!(status, 1);
    assert!(out.contains("sheet: \"grey-primer\"; accepted: the name of a sheet"), "{out}");

    // outside a book it is known by its fields
    let alone = root.path().join("tin.json");
    fs::copy(&file, &alone).expect("copied");
    let (status, out, _) = checked(&[&alone], true);
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("\"can\""), "{out}");
}
