//! The real program in a real terminal: played, killed, restarted, followed, refused.

use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::pty::Program;

const SIZE: (u16, u16) = (80, 24);
/// A repeat of SPACE within a second counts once.
const BETWEEN: Duration = Duration::from_millis(1_050);

fn only_log(data: &Path) -> PathBuf {
    let logs = std::fs::read_dir(data.join("sessions")).expect("the sessions' folder");
    let logs: Vec<PathBuf> = logs
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "jsonl"))
        .collect();
    assert_eq!(logs.len(), 1, "{logs:?}");
    logs[0].clone()
}

fn lines(log: &Path) -> Vec<String> {
    std::fs::read_to_string(log).expect("the log").lines().map(str::to_owned).collect()
}

/// A can of the example's primer, counted long ago.
const TIN: &str = r#"{
  "format": 1,
  "name": "Grey primer base, big tin",
  "sheet": "grey-primer",
  "component": "Base",
  "lot": "24-117",
  "until": "2090-07",
  "left_ml": 900,
  "counted": "2020-01-01T08:00:00Z"
}
"#;

#[test]
fn the_shelf_is_seen_at_the_opening_and_again_when_it_changed() {
    let data = tempfile::tempdir().expect("a folder");
    let cans = data.path().join("cans");
    std::fs::create_dir_all(&cans).expect("made");
    std::fs::write(cans.join("grey-base.json"), TIN).expect("written");
    let seen = |log: &Path| -> Vec<usize> {
        let lines = lines(log).into_iter().enumerate();
        lines.filter(|(_, line)| line.contains("stock_seen")).map(|(at, _)| at).collect()
    };
    example_for_real(data.path()).kill();
    let log = only_log(data.path());
    assert_eq!(seen(&log), [1]);
    assert!(lines(&log)[1].contains("\"by\":\"machine\"") && lines(&log)[1].contains("24-117"));

    let go_on = || {
        let mut again = Program::start(data.path(), &[], SIZE);
        again.wait_for("Primer");
        again.wait_until("saved", |text| {
            text.lines().next().is_some_and(|top| top.ends_with(" saved"))
        });
        again.kill();
    };
    go_on();
    assert_eq!(seen(&log), [1], "the shelf is as it was");
    std::fs::write(cans.join("grey-base.json"), TIN.replace("900", "700")).expect("written");
    go_on();
    assert_eq!(seen(&log).len(), 2);
}

/// Opens the example for real and waits for its first step.
fn example_for_real(data: &Path) -> Program {
    let mut program = Program::start(data, &[], SIZE);
    program.wait_for("the example job, for real");
    program.keys(" ");
    program.wait_for("yes: respirator");
    program.pass(BETWEEN);
    program
}

#[test]
fn killed_and_restarted_nothing_is_missing_and_the_clocks_have_run_on() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = example_for_real(data.path());
    program.keys(" ");
    program.wait_for("yes: gloves");
    program
        .wait_until("saved", |text| text.lines().next().is_some_and(|top| top.ends_with(" saved")));
    program.kill();

    let log = only_log(data.path());
    assert_eq!(lines(&log).len(), 2, "the opening and the step shown as saved");

    let mut again = Program::start(data.path(), &[], SIZE);
    again.wait_for("yes: gloves");
    assert!(again.text().contains("Float set · Primer · ready"), "{}", again.text());
    again.keys("q");
    again.pass(Duration::from_millis(300));
    again.keys("q");
    assert_eq!(again.ended(), 0);
    let told = String::from_utf8_lossy(&again.bytes).into_owned();
    assert!(told.contains("the session stays open"), "{told}");
}

#[test]
fn a_second_program_reads_along_and_writes_nothing() {
    let data = tempfile::tempdir().expect("a folder");
    let mut first = example_for_real(data.path());
    let mut second = Program::start(data.path(), &[], SIZE);
    second.wait_for("yes: respirator");
    first.keys(" ");
    second.wait_for("yes: gloves");
    let before = lines(&only_log(data.path()));
    second.pass(BETWEEN);
    second.keys("n");
    second.pass(Duration::from_millis(300));
    second.keys("not mine to write\r");
    second.wait_for("read only");
    second.pass(Duration::from_millis(500));
    assert_eq!(lines(&only_log(data.path())), before);
    first.kill();
    second.wait_for("its writer is gone");
    // another one goes on with it, and is followed
    let mut third = Program::start(data.path(), &[], SIZE);
    third.wait_for("yes: gloves");
    second.wait_for("has it open");
    second.kill();
    third.kill();
}

#[test]
fn a_torn_end_is_set_aside_and_said() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = example_for_real(data.path());
    program.keys(" ");
    program.wait_for("yes: gloves");
    program.pass(Duration::from_millis(300));
    program.kill();
    let log = only_log(data.path());
    let mut bytes = std::fs::read(&log).expect("the log");
    let whole = bytes.clone();
    bytes.extend_from_slice(b"{\"n\":2,\"t_ms\":99");
    std::fs::write(&log, &bytes).expect("torn");
    let mut again = Program::start(data.path(), &[], SIZE);
    again.wait_for("yes: gloves");
    again.wait_for("torn");
    again.kill();
    let now = std::fs::read(&log).expect("the log");
    assert!(now.starts_with(&whole));
}

#[test]
fn damage_in_the_middle_is_named_and_a_new_file_goes_on() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = example_for_real(data.path());
    program.keys(" ");
    program.wait_for("yes: gloves");
    program.pass(BETWEEN);
    program.keys("n");
    program.pass(Duration::from_millis(300));
    program.keys("a note\r");
    program.pass(Duration::from_millis(500));
    program.kill();
    let log = only_log(data.path());
    let mut bytes = std::fs::read(&log).expect("the log");
    let second = bytes.iter().position(|byte| *byte == b'\n').expect("two lines") + 20;
    bytes[second] ^= 0x01;
    std::fs::write(&log, &bytes).expect("damaged");

    let mut again = Program::start(data.path(), &[], SIZE);
    again.wait_for("line 2");
    again.keys(" ");
    again.wait_for("goes on in");
    again.kill();
    assert_eq!(std::fs::read(&log).expect("the log"), bytes, "the damaged file is as it was");
    let folder = log.parent().expect("a folder");
    let count = std::fs::read_dir(folder).expect("a folder").filter(|entry| {
        entry.as_ref().is_ok_and(|entry| entry.path().extension().is_some_and(|e| e == "jsonl"))
    });
    assert_eq!(count.count(), 2);
}

#[test]
fn a_rehearsal_leaves_nothing_behind() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program =
        Program::start(data.path(), &["rehearse", "--start", "2026-05-12T07:00"], SIZE);
    program.wait_for("rehearsal");
    program.wait_for("yes: respirator");
    program.pass(BETWEEN);
    program.keys(" ");
    for asked in ["yes: gloves", "yes: this screen", "yes: someone", "done: cleaned", "waiting"] {
        program.wait_for(asked);
        program.pass(BETWEEN);
        program.keys(if asked == "waiting" { "j" } else { " " });
    }
    program.wait_for("yes: respirator");
    program.keys("q");
    program.pass(Duration::from_millis(300));
    program.keys("q");
    assert_eq!(program.ended(), 0);
    assert!(!data.path().join("sessions").exists());
}

#[test]
fn resizing_down_to_one_cell_and_back_breaks_nothing() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = example_for_real(data.path());
    for (columns, rows) in [(100, 30), (40, 10), (1, 1), (200, 60), (2, 60), (80, 24)] {
        program.resize(columns, rows);
        program.pass(Duration::from_millis(150));
    }
    program.wait_for("yes: respirator");
    program.keys(" ");
    program.wait_for("yes: gloves");
    program.kill();
}

#[test]
fn idle_it_draws_at_most_once_a_second_and_nothing_when_nothing_changes() {
    let data = tempfile::tempdir().expect("a folder");
    let mut program = example_for_real(data.path());
    // let the notice of the start and the minute of the glance pass out of the way: the step
    // screen has no countdown, so nothing changes but the minute of the clock
    program.pass(Duration::from_secs(2));
    program.bytes.clear();
    program.pass(Duration::from_secs(3));
    let quiet = draws(&program.bytes);
    assert!(quiet <= 1, "{quiet} drawings in three seconds without a countdown");
    // an interruption counts its seconds
    program.keys("p");
    program.pass(Duration::from_millis(300));
    program.keys("1");
    program.wait_for("back at work");
    program.pass(Duration::from_secs(7));
    program.bytes.clear();
    program.pass(Duration::from_secs(5));
    let ticking = draws(&program.bytes);
    assert!((3..=6).contains(&ticking), "{ticking} drawings in five seconds with a countdown");
    program.kill();
}

/// Every drawing begins a synchronized update.
fn draws(bytes: &[u8]) -> usize {
    bytes.windows(8).filter(|window| *window == b"\x1b[?2026h").count()
}

#[test]
#[cfg(unix)]
fn signals_end_it_and_give_the_terminal_back() {
    for signal in ["TERM", "INT", "HUP"] {
        let data = tempfile::tempdir().expect("a folder");
        let mut program = example_for_real(data.path());
        let pid = program.pid().to_string();
        let sent = std::process::Command::new("kill").args(["-s", signal, &pid]).status();
        assert!(sent.expect("kill").success());
        program.ended();
        if signal != "HUP" {
            let shown = String::from_utf8_lossy(&program.bytes).into_owned();
            assert!(shown.contains("\x1b[?1049l"), "the screen is given back after {signal}");
        }
        assert_eq!(lines(&only_log(data.path())).len(), 1);
    }
}

#[test]
fn without_a_terminal_it_says_why() {
    let data = tempfile::tempdir().expect("a folder");
    let program = std::process::Command::new(env!("CARGO_BIN_EXE_boothside"))
        .arg("--data")
        .arg(data.path())
        .output()
        .expect("it runs");
    assert_eq!(program.status.code(), Some(2));
    assert!(program.stdout.is_empty());
    let said = String::from_utf8_lossy(&program.stderr).into_owned();
    assert!(said.contains("terminal") && !said.contains("panicked"), "{said}");
}

/// What SPACE will do, as the screen says it; nothing while a form or no such line is shown.
fn space_line(text: &str) -> Option<&str> {
    text.lines().rev().find_map(|line| line.trim_start().strip_prefix("SPACE  "))
}

/// The example by the keys that the screen itself asks for, on a rehearsal's clock: `j` goes on to the next
/// due clock. Into the first looks; from prep to close where `BOOTHSIDE_LONG` is set, as `.ci/long` does.
#[test]
fn the_example_from_prep_to_close_in_a_real_terminal() {
    let whole = std::env::var_os("BOOTHSIDE_LONG").is_some();
    let data = tempfile::tempdir().expect("a folder");
    let args = ["rehearse", "--pace", "30", "--start", "2026-05-12T07:00"];
    let mut program = Program::start(data.path(), &args, SIZE);
    program.wait_for("yes: respirator");
    let mut looks = 0;
    for _ in 0..400 {
        let text = program.text();
        if text.contains("PageUp back") {
            // one key at a time: a burst after a form opened is a slip to the desk
            let masks = text.contains("Plugs and masks");
            let answers: &[&str] = if masks { &["14", ""] } else { &["19.4C", "58", "18.8C"] };
            for answer in answers {
                program.keys(answer);
                program.pass(Duration::from_millis(250));
                program.keys("\r");
                program.pass(Duration::from_millis(250));
            }
            continue;
        }
        let Some(line) = space_line(&text) else {
            program.pass(Duration::from_millis(100));
            continue;
        };
        if line.starts_with("the session is closed") || (!whole && looks >= 3) {
            break;
        }
        looks += usize::from(line.starts_with("it has dulled"));
        // another key between makes the next one no repeat of the last; at the bench that key is
        // the bench's own, which 1 would leave
        program.keys(if line.starts_with("the scale shows") { "2" } else { "1" });
        program.pass(Duration::from_millis(150));
        program.keys(if line.starts_with("waiting") { "j" } else { " " });
        program.pass(Duration::from_millis(200));
    }
    if whole {
        program.wait_for("the session is closed: q twice");
        assert!(program.text().contains("finished"), "{}", program.text());
        assert!(looks >= 24, "8 faces with three gaps by eye, not {looks} looks");
    }
    assert!(looks >= 3, "{looks} looks:\n{}", program.text());
    program.keys("q");
    program.pass(Duration::from_millis(200));
    program.keys("q");
    assert_eq!(program.ended(), 0);
}

#[test]
fn a_rehearsal_without_a_temporary_folder_says_so() {
    let data = tempfile::tempdir().expect("a folder");
    let told = std::process::Command::new(env!("CARGO_BIN_EXE_boothside"))
        .args(["--data".as_ref(), data.path().as_os_str(), "rehearse".as_ref()])
        .env("TMPDIR", data.path().join("none"))
        .output()
        .expect("the program runs");
    let why = String::from_utf8_lossy(&told.stderr).into_owned();
    assert_eq!(told.status.code(), Some(2), "{why}");
    assert!(why.contains("no rehearsal") && why.contains("TMPDIR"), "{why}");
    assert!(!why.contains("signals"), "{why}");
}
