//! Files from anywhere. What the fuzz targets (tests/fuzz) try by the million is tried here a few
//! hundred times, with every find and the shapes that are known to hurt.

use std::ffi::OsStr;
use std::fs;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::Duration;

use boothside_core::material::sheet::Sheet;
use boothside_core::session::event::Event;
use boothside_core::work::job::Job;
use boothside_store::book::{BookError, check_text};
use boothside_store::log::{OpenError, Why, open};
use boothside_store::storage::{MAX_FILE, RealDisk};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::hand::{SIZE, boothside, logs, opened, wait_for_saved};
use crate::pty::Program;
use crate::writer::{entry, opening};

#[path = "../../fuzz/src/lib.rs"]
#[allow(unreachable_pub, reason = "a library of its own elsewhere")]
mod any;

/// A target and its name.
type Target = (&'static str, fn(&[u8]));

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fixtures/format-1")
}

fn read(name: &str) -> Vec<u8> {
    fs::read(fixtures().join(name)).expect("a fixture")
}

/// The lines of the log of format 1 without their chains.
fn bodies() -> Vec<Vec<u8>> {
    let text = String::from_utf8(read("sessions/2026-05-12-panels.jsonl")).expect("text");
    let body = |line: &str| line.rsplit_once(",\"chain\":").expect("a chain").0.to_owned() + "}";
    text.lines().map(|line| body(line).into_bytes()).collect()
}

/// Values that files should not hold.
fn poison() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "1e999",
        "-1e999",
        "1e308",
        "-0.0",
        "null",
        "9223372036854775807",
        "-9223372036854775808",
        "18446744073709551615",
        "[]",
        "{}",
        "\"\"",
        "\"../../x\"",
        "\"\\u001b]0;x\\u0007\"",
        "\"\\u202e\"",
        "\"\\u0000\"",
        "true",
        "1.5",
        "5e-324",
    ])
}

/// One change to a text: a byte, a cut, a doubled piece, or a value in place of another.
#[derive(Debug, Clone)]
enum Change {
    Byte(Index, u8),
    Cut(Index),
    Doubled(Index, Index),
    Value(Index, &'static str),
}

fn change() -> impl Strategy<Value = Change> {
    prop_oneof![
        1 => (any::<Index>(), any::<u8>()).prop_map(|(at, byte)| Change::Byte(at, byte)),
        1 => any::<Index>().prop_map(Change::Cut),
        1 => (any::<Index>(), any::<Index>()).prop_map(|(from, to)| Change::Doubled(from, to)),
        6 => (any::<Index>(), poison()).prop_map(|(at, value)| Change::Value(at, value)),
    ]
}

fn changed(mut text: Vec<u8>, changes: &[Change]) -> Vec<u8> {
    for change in changes {
        if text.is_empty() {
            break;
        }
        match change {
            Change::Byte(at, byte) => *at.get_mut(&mut text) = *byte,
            Change::Cut(at) => text.truncate(at.index(text.len())),
            Change::Doubled(from, to) => {
                let (a, b) = (from.index(text.len()), to.index(text.len()));
                let piece = text[a.min(b)..a.max(b)].to_vec();
                text.splice(a.min(b)..a.min(b), piece);
            }
            Change::Value(at, value) => replace_value(&mut text, at, value),
        }
    }
    text
}

/// Puts a value in place of one that stands behind a colon.
fn replace_value(text: &mut Vec<u8>, at: &Index, value: &str) {
    let colons: Vec<usize> = (0..text.len()).filter(|at| text[*at] == b':').collect();
    if colons.is_empty() {
        return;
    }
    let start = at.get(&colons) + 1;
    let rest = &text[start..];
    let end = rest.iter().position(|byte| b",}]".contains(byte)).unwrap_or(rest.len());
    text.splice(start..start + end, value.bytes());
}

fn job_texts() -> Vec<u8> {
    let system = String::from_utf8(read("systems/panels.json")).expect("text");
    let system = system.replace("\"glaze\"", "\"glaze2\"").into_bytes();
    let texts = [
        read("jobs/panels.json"),
        system,
        read("parts/panel.json"),
        read("sheets/clay.json"),
        read("sheets/glaze.json"),
        read("shop.json"),
    ];
    texts.join(&b'\x0c')
}

#[test]
fn what_is_sound_passes_through_the_targets_and_is_not_refused() {
    assert!(check_text::<Sheet>("clay.json".into(), &read("sheets/clay.json")).is_ok());
    any::sheet(&read("sheets/clay.json"));
    any::job(&job_texts());
    any::log(&bodies().join(&b'\n'));
    let raw = read("sessions/2026-05-12-panels.jsonl");
    assert_eq!(any::chained(&bodies().join(&b'\n')), raw, "the target chains as the writer does");
    any::log(&[b"\0".as_slice(), &raw].concat());
}

#[test]
fn every_find_of_the_fuzzer_stays_mended() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/fuzz/finds");
    let targets: [Target; 4] =
        [("log", any::log), ("sheet", any::sheet), ("job", any::job), ("quantity", any::quantity)];
    let mut tried = 0;
    for (name, target) in targets {
        let Ok(finds) = fs::read_dir(folder.join(name)) else { continue };
        for find in finds {
            target(&fs::read(find.expect("a file").path()).expect("a find"));
            tried += 1;
        }
    }
    assert!(tried > 0, "no finds in {}", folder.display());
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(250) })]

    #[test]
    fn a_log_that_chains_and_was_changed_does_no_harm(
        which in any::<Index>(),
        changes in prop::collection::vec(change(), 1..4),
    ) {
        let mut bodies = bodies();
        let which = which.index(bodies.len());
        bodies[which] = changed(bodies[which].clone(), &changes);
        any::log(&bodies.join(&b'\n'));
    }

    #[test]
    fn a_job_that_was_changed_does_no_harm(changes in prop::collection::vec(change(), 1..4)) {
        any::job(&changed(job_texts(), &changes));
        any::sheet(&changed(read("sheets/clay.json"), &changes));
    }

    #[test]
    fn whatever_is_typed_is_a_quantity_or_refused(
        bytes in prop::collection::vec(any::<u8>(), 0..40),
        text in "[0-9.,:eE+\\- ]{0,8}[a-zA-Z°%/³²µ\u{0}-\u{9f} ]{0,8}[0-9.]{0,3}[a-zA-Z ]{0,6}",
    ) {
        any::quantity(&bytes);
        any::quantity(text.as_bytes());
    }
}

fn refusal<T: std::fmt::Debug>(checked: Result<T, BookError>) -> String {
    checked.expect_err("refused").to_string()
}

#[test]
fn shapes_that_hurt_are_told_in_few_words() {
    let deep = format!("{{\"format\":1,\"name\":{}1{}}}", "[".repeat(100_000), "]".repeat(100_000));
    let cases = [
        deep.into_bytes(),
        b"{\"format\":1e999}".to_vec(),
        b"{\"format\":1,\"format\":1}".to_vec(),
        b"{\"format\":1,\"name\":\"\xff\xfe\"}".to_vec(),
        [b"{\"format\":1,\"name\":\"".as_slice(), &vec![b'x'; 20_000_000], b"\"}"].concat(),
        [b"{\"format\":1,\"".as_slice(), &vec![b'x'; 20_000_000], b"\":1}"].concat(),
        vec![b'x'; 100 * 1024 * 1024],
        vec![b'['; 100 * 1024 * 1024],
    ];
    for bytes in cases {
        for told in [
            refusal(check_text::<Sheet>("a.json".into(), &bytes)),
            refusal(check_text::<Job>("a.json".into(), &bytes)),
        ] {
            assert!(told.len() < 3_000, "{} bytes: {}", told.len(), &told[..300]);
        }
    }
}

#[test]
fn an_unknown_word_of_any_length_is_told_in_few_words() {
    let root = tempfile::tempdir().expect("a folder");
    let path = root.path().join("any.jsonl");
    let long = "x".repeat(10_000_000);
    let body = format!(
        "{{\"n\":1,\"t_ms\":1,\"at\":\"x\",\"by\":\"key\",\"events\":[{{\"{long}\":{{}}}}]}}"
    );
    let first = serde_json::to_string(&opening()).expect("json");
    fs::write(&path, any::chained(format!("{first}\n{body}").as_bytes())).expect("written");
    match open(&RealDisk, &path) {
        Err(OpenError::ReadOnly(read)) => {
            assert!(read.unknown[0].why.len() < 3_000, "{} bytes", read.unknown[0].why.len());
        }
        other => panic!("{:?}", other.map(|opened| opened.recovery)),
    }
}

#[test]
fn of_a_newer_programs_entries_the_first_are_named_and_the_rest_counted() {
    let root = tempfile::tempdir().expect("a folder");
    let path = root.path().join("any.jsonl");
    let mut text = serde_json::to_string(&opening()).expect("json");
    for n in 1..=3_000 {
        text += &format!(
            "\n{{\"n\":{n},\"t_ms\":1,\"at\":\"x\",\"by\":\"key\",\"events\":[{{\"later\":{{}}}}]}}"
        );
    }
    fs::write(&path, any::chained(text.as_bytes())).expect("written");
    let line = ["boothside".into(), "check".into(), path.into_os_string()];
    let (mut out, mut err) = (Vec::new(), Vec::new());
    assert_eq!(boothside::cli::main(line, &mut out, &mut err), 1);
    let out = String::from_utf8(out).expect("text");
    assert_eq!(out.matches("an entry that this program knows").count(), 10, "{out}");
    assert!(out.contains("and 2990 more"), "{out}");
}

#[test]
fn a_file_larger_than_any_that_is_written_is_refused_unread() {
    let root = tempfile::tempdir().expect("a folder");
    let path = root.path().join("any.jsonl");
    let file = fs::File::create(&path).expect("a file");
    file.set_len(MAX_FILE + 1).expect("a hole");
    let why = open(&RealDisk, &path).expect_err("too large").to_string();
    assert!(why.contains("longer than"), "{why}");
    // a hole of zeros within the limit is one endless line
    file.set_len(MAX_FILE / 2).expect("a hole");
    match open(&RealDisk, &path) {
        Err(OpenError::Damaged(damage)) => assert!(matches!(damage.why, Why::TooLong(_))),
        Err(OpenError::Empty) => {}
        other => panic!("{:?}", other.map(|opened| opened.recovery)),
    }
}

/// What a text may hold that steers a terminal: a title, a clearing, a C1 control, a turned line.
const STEERS: &str = "\u{1b}]0;OWNED\u{7}\u{1b}[2J\u{9b}31m\u{202e}\r\u{8}";

fn no_steering(bytes: &[u8], what: &str) {
    let text = String::from_utf8_lossy(bytes);
    for raw in ["\u{1b}]0;OWNED", "\u{1b}[2J\u{9b}", "\u{9b}31m", "\u{202e}"] {
        assert!(!text.contains(raw), "{what}: {raw:?} reached the terminal");
    }
}

#[test]
fn nothing_from_a_file_reaches_the_terminal_raw() {
    let data = tempfile::tempdir().expect("a folder");
    let sessions = data.path().join("sessions");
    boothside_store::make_folders(&RealDisk, &sessions).expect("folders");
    let mut lines = vec![opening()];
    lines.push(entry(1, vec![Event::Note { text: format!("hm {STEERS}") }]));
    lines.push(entry(2, vec![Event::Paused { why: STEERS.into() }]));
    lines.push(entry(3, vec![Event::StepDone { step: STEERS.into() }]));
    lines.push(entry(4, vec![Event::Dulled { face: STEERS.into() }]));
    let bodies: Vec<String> =
        lines.iter().map(|line| serde_json::to_string(line).expect("json")).collect();
    let log = any::chained(bodies.join("\n").as_bytes());
    fs::write(sessions.join("2026-05-12-float.jsonl"), &log).expect("written");
    let sly = OsStr::from_bytes(STEERS.as_bytes());
    let torn = [log.as_slice(), b"{\"n\":5"].concat();
    fs::write(sessions.join(sly).with_extension("jsonl"), torn).expect("written");
    fs::create_dir(data.path().join("jobs")).expect("a folder");
    fs::write(data.path().join("jobs/sly.json"), format!("{{\"{STEERS}\": 1}}")).expect("written");
    let mut program = Program::run(boothside(data.path()), SIZE);
    program.wait_for("the example job, for real");
    program.pass(Duration::from_millis(200));
    program.keys(" ");
    // its texts stand there, made harmless
    program.wait_for("]0;OWNED[2J31m");
    program.wait_for("back at work");
    for key in ["u", "2", "3", "4", "5", "?", "1", "t", "\x1b", "n"] {
        program.keys(key);
        program.pass(Duration::from_millis(250));
    }
    let bytes = program.kill_and_read();
    no_steering(&bytes, "the full screen");
    for words in [vec!["sessions"], vec!["sessions", "--json"], vec!["check"]] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_boothside"));
        command.arg("--data").arg(data.path()).args(&words);
        if words == ["check"] {
            let files =
                [sessions.join(sly).with_extension("jsonl"), data.path().join("jobs/sly.json")];
            command.args(files);
        }
        let Output { stdout, stderr, .. } = command.output().expect("it runs");
        assert!(stdout.len() + stderr.len() > 0);
        no_steering(&stdout, words[0]);
        no_steering(&stderr, words[0]);
    }
}

#[test]
fn a_name_never_leads_out_of_the_data_folder() {
    let root = tempfile::tempdir().expect("a folder");
    let data = root.path().join("deep/data");
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/example");
    for folder in ["jobs", "systems", "parts", "sheets"] {
        fs::create_dir_all(data.join(folder)).expect("a folder");
        for file in fs::read_dir(example.join(folder)).expect("the example") {
            let file = file.expect("a file");
            fs::copy(file.path(), data.join(folder).join(file.file_name())).expect("copied");
        }
    }
    let job = data.join("jobs/float-set.json");
    let text = fs::read_to_string(&job).expect("the job");
    let named = text.replacen("\"Float set\"", "\"../../../../../evil\"", 1);
    assert_ne!(named, text);
    fs::write(&job, named).expect("written");
    let mut program = Program::run(boothside(&data), SIZE);
    program.wait_for("evil");
    // the painter's own job comes first
    program.keys(" ");
    program.wait_for("yes: respirator");
    wait_for_saved(&mut program);
    program.kill();
    let log = logs(&data);
    assert_eq!(log.len(), 1);
    assert!(log[0].file_name().is_some_and(|name| {
        let name = name.to_string_lossy();
        name.ends_with("-evil.jsonl") && !name.contains("..")
    }));
    let above: Vec<_> = fs::read_dir(root.path()).expect("a folder").collect();
    assert_eq!(above.len(), 1, "{above:?}");
    for name in ["../jobs/float-set", "/etc/passwd", "..\\x", "a/b"] {
        let run = Command::new(env!("CARGO_BIN_EXE_boothside"))
            .arg("--data")
            .arg(&data)
            .args(["rehearse", name])
            .output()
            .expect("it runs");
        assert_eq!(run.status.code(), Some(2), "{name}: {run:?}");
    }
}

#[test]
fn whatever_the_mask_files_are_readable_by_their_owner_alone() {
    let data = tempfile::tempdir().expect("a folder");
    let home = data.path().join("home");
    let mut command = boothside(&home);
    command.umask(Some(0));
    let mut program = opened(command);
    program.note("mine");
    wait_for_saved(&mut program);
    program.kill();
    let mode = |path: &Path| fs::metadata(path).expect("there").permissions().mode() & 0o777;
    let mut seen = 0;
    for folder in [home.clone(), home.join("sessions")] {
        assert_eq!(mode(&folder), 0o700, "{}", folder.display());
        for file in fs::read_dir(&folder).expect("a folder") {
            let path = file.expect("a file").path();
            if path.is_file() {
                assert_eq!(mode(&path), 0o600, "{}", path.display());
                seen += 1;
            }
        }
    }
    assert_eq!(seen, 2, "a log and its lock");
}
