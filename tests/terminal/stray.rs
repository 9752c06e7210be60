//! The stray key: a glove presses anything, at any time, on the whole desk with a Book behind it. Nothing
//! panics at any size, the log stays sound, a key that only looks writes nothing, and no single key
//! finishes a coat of which no face was begun.
//!
//! `PROPTEST_CASES` plays more cases than the suite does; `--nocapture` shows what they reached.

mod case;
mod plain;
mod starts;

use std::cell::RefCell;
use std::collections::BTreeMap;

use boothside::update::desk::Pressed;
use boothside::update::scene::{Asking, Scene};
use boothside::view;
use boothside::view::theme::Theme;
use boothside_core::session::Session;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;
use boothside_core::session::time::Span;
use proptest::prelude::*;
use proptest::test_runner::{TestError, TestRunner};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use case::{Case, Step, any_case};
use starts::STATES;

use crate::rig::Rig;

/// How many cases the suite plays.
const CASES: u32 = 150;
/// So long after a key, ms, it is let out whatever it was.
const LET_OUT_MS: i64 = 150;

/// How often something was reached.
type Tally = RefCell<BTreeMap<String, u32>>;

fn count(tally: &Tally, what: &str) {
    *tally.borrow_mut().entry(what.to_owned()).or_default() += 1;
}

/// The name of a variant, without what it holds.
fn kind(it: &impl std::fmt::Debug) -> String {
    format!("{it:?}").chars().take_while(|c| c.is_alphanumeric()).collect()
}

fn count_scene(tally: &Tally, scene: &Scene<'_>) {
    count(tally, &format!("next {}", kind(&scene.board.next)));
    count(tally, &format!("screen {}", kind(&scene.screen)));
    let asking = scene.asking.map(|it| format!("asks {}", kind(it)));
    let form = scene.form.map(|it| format!("form {}", kind(&it.kind)));
    let picker = scene.picker.map(|it| format!("list {}", kind(&it.picking)));
    for it in [asking, form, picker].into_iter().flatten() {
        count(tally, &it);
    }
}

fn draw(rig: &Rig, (columns, rows): (u16, u16)) {
    let mut page = Terminal::new(TestBackend::new(columns, rows)).expect("a page");
    let scene = rig.scene();
    page.draw(|frame| view::draw(frame, &scene, &Theme::new(true))).expect("drawn");
}

/// Time goes by as the loop has it: in steps of a tenth while a key can be held back, then of a second.
fn pause(rig: &mut Rig, pause_ms: i64) {
    let end_ms = rig.hand_ms + pause_ms;
    let soon_ms = rig.hand_ms + 300;
    while rig.hand_ms < end_ms {
        let step = if rig.hand_ms < soon_ms { 100 } else { 1_000 }.min(end_ms - rig.hand_ms);
        rig.hand_ms += step;
        rig.t = rig.t.plus(Span::from_ms(step));
        rig.tick();
    }
}

/// Whether a key has nothing to do but to look, with nothing open that it could answer or type into.
fn only_looks(key: Pressed, scene: &Scene<'_>) -> bool {
    let open = scene.asking.is_some()
        || scene.form.is_some()
        || scene.picker.is_some()
        || scene.forgotten.is_some()
        || !scene.offer.is_empty();
    let looks = match key {
        Pressed::Char(c) => "123456789?sqk".contains(c.to_ascii_lowercase()),
        Pressed::Up | Pressed::Down | Pressed::Left | Pressed::Right | Pressed::Esc => true,
        _ => false,
    };
    looks && !open
}

/// A coat: its layer and its number there.
type Coat = (u32, u32);

/// The coats of which a face was begun, by what is in force, each with when that was last; and when
/// parts last came.
struct Begun {
    coats: BTreeMap<Coat, usize>,
    came: BTreeMap<String, usize>,
}

impl Begun {
    fn of(session: &Session) -> Self {
        let (mut coats, mut came) = (BTreeMap::new(), BTreeMap::new());
        let events = session.in_force().into_iter().flat_map(|(_, entry)| entry.events.iter());
        for (at, event) in events.enumerate() {
            match event {
                Event::FaceBegun { layer, coat, .. }
                | Event::FaceStopped { layer, coat, .. }
                | Event::FaceFinished { layer, coat, .. }
                | Event::RestFinished { layer, coat, .. } => {
                    coats.insert((*layer, *coat), at);
                }
                Event::PartJoined { part, .. } | Event::PartHung { part } => {
                    came.insert(part.clone(), at);
                }
                _ => {}
            }
        }
        Self { coats, came }
    }

    /// Whether a face of the coat was begun, and after the part of `face` came.
    fn has(&self, coat: Coat, face: &str, session: &Session) -> bool {
        let part = session.plan().index(face).and_then(|face| session.plan().part_of(face));
        let came = part.and_then(|part| self.came.get(part));
        self.coats.get(&coat).is_some_and(|at| came.is_none_or(|came| at > came))
    }
}

/// The coats that an entry finishes, each with its face.
fn finished(entry: &Entry) -> Vec<(Coat, &str)> {
    let mut all = Vec::new();
    for event in &entry.events {
        match event {
            Event::FaceFinished { face, layer, coat, .. } => {
                all.push(((*layer, *coat), face.as_str()));
            }
            Event::RestFinished { faces, layer, coat, .. } => {
                all.extend(faces.iter().map(|face| ((*layer, *coat), face.as_str())));
            }
            _ => {}
        }
    }
    all
}

/// Presses one key and holds it against what a single key may do. `settled`: no key before it is held
/// back any more, so that whatever is written is its own.
fn press(rig: &mut Rig, step: &Step, settled: bool) -> Result<(), TestCaseError> {
    let looks = only_looks(step.key, &rig.scene());
    let asked = matches!(rig.scene().asking, Some(Asking::RestOn { .. }));
    let begun = Begun::of(rig.desk.session());
    let written = rig.written.len();
    rig.press_only(step.key);
    pause(rig, step.pause_ms);
    let of_the_key = &rig.written[written..];
    if !settled {
        return Ok(());
    }
    prop_assert!(!looks || of_the_key.is_empty(), "{:?} wrote {:?}", step.key, of_the_key);
    for (coat, face) in of_the_key.iter().flat_map(finished) {
        let told = asked || begun.has(coat, face, rig.desk.session());
        prop_assert!(told, "{:?} finished {coat:?} on {face}", step.key);
    }
    Ok(())
}

fn log_is_sound(before: &Session, rig: &Rig) -> Result<(), TestCaseError> {
    let mut session = before.clone();
    let mut entries = before.entries().to_vec();
    for entry in &rig.written {
        prop_assert_eq!(entry.n, session.next_n(), "a gap");
        session.apply(entry.clone());
        prop_assert_eq!(session.entries().len(), entries.len() + 1, "{:?} does not apply", entry);
        entries.push(entry.clone());
    }
    let same = &session == rig.desk.session();
    prop_assert!(same, "what was written is not what the desk shows");
    let anew = Session::open(entries);
    prop_assert!(anew.as_ref() == Ok(rig.desk.session()), "opened anew it is another session");
    Ok(())
}

fn play(case: &Case, tally: &Tally) -> Result<(), TestCaseError> {
    let mut rig = case.start.rig(case.which);
    let mut in_one = false;
    for (name, is) in STATES {
        if is(&rig) {
            count(tally, &format!("begins {name}"));
            in_one = true;
        }
    }
    if in_one {
        count(tally, "begins");
    }
    let before = rig.desk.session().clone();
    rig.written.clear();
    draw(&rig, case.size);
    let mut settled = true;
    for step in &case.steps {
        press(&mut rig, step, settled)?;
        settled = step.pause_ms >= LET_OUT_MS;
        draw(&rig, case.size);
        count_scene(tally, &rig.scene());
    }
    pause(&mut rig, 1_000);
    log_is_sound(&before, &rig)
}

#[test]
fn a_stray_key_breaks_nothing_and_finishes_no_coat_that_was_not_begun() {
    let asked = std::env::var_os("PROPTEST_CASES").is_some();
    let config = ProptestConfig { failure_persistence: None, ..ProptestConfig::default() };
    let cases = if asked { config.cases } else { CASES };
    let tally = Tally::default();
    let mut runner = TestRunner::new(ProptestConfig { cases, ..config });
    match runner.run(&any_case(), |case| play(&case, &tally)) {
        Ok(()) => {}
        Err(TestError::Fail(why, case)) => panic!("{why}\n{case:#?}"),
        Err(TestError::Abort(why)) => panic!("{why}"),
    }
    let tally = tally.into_inner();
    for (what, times) in &tally {
        println!("{times:6}  {what}");
    }
    let times = |what: &str| tally.get(what).copied().unwrap_or_default();
    for (name, _) in STATES {
        let times = times(&format!("begins {name}"));
        assert!(times >= cases / 50, "{name}: {times} of {cases} cases begin so");
    }
    assert!(times("begins") >= cases / 3, "{} of {cases} cases", times("begins"));
    let reached = tally.keys().filter(|what| !what.starts_with("begins")).count();
    println!("{reached} states reached");
    assert!(cases < CASES || reached >= 30, "{reached} states");
}
