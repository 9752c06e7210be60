//! What a foreman would say: every situation of tests/terminal/foreman.txt played by keys, with what
//! SPACE says and what stands large. docs/rules.md says what holds in general.
//!
//! A row begins with `#` and the situation; then one step a line:
//!
//! | line | does |
//! | --- | --- |
//! | `job NAME` | the example, changed as `jobs` below says |
//! | `to TEXT` | plays on as a painter would, until SPACE says `TEXT` |
//! | `pass SPAN` | so much time goes by: `90s`, `15min`, `13h` |
//! | `hold SPAN` | the same, second by second, as the real loop has it |
//! | `keys K K …` | presses keys; `_` is SPACE, `⏎` is Enter, `⌄` and `⌃` are the arrows |
//! | `type TEXT` | types into a form, Enter after it |
//! | `fill TEXT` | the same, and Enter until the form is kept |
//! | `read AIR RH SURFACE` | a reading by the form |
//! | `sleep SPAN` | the machine slept |
//! | `trigger SPAN` | time goes by until so much is left to the last trigger of the pot in the gun |
//! | `weigh AMOUNT` | so much is left in the pot, told at the bench; then back to the clocks |
//! | `S TEXT` | SPACE says just this |
//! | `L LARGE / SECOND` | what stands large, and in the second size |
//! | `band` · `calm` | whether the large letters stand in a band |
//! | `flag TEXT` | the last key was taken, and breaks this rule |
//! | `refused TEXT` | what was typed is refused beside its field |
//! | `dulled SPAN FACE` | this face is open, and was seen dull so long ago |
//!
//! `*` stands for any text.

use std::collections::BTreeSet;

use boothside::update::at_hand::AtHand;
use boothside::update::desk::Pressed;
use boothside::view::words::Words;
use boothside_core::board::Next;
use boothside_core::material::sheet::Sheet;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::{Moment, Span};
use boothside_core::work::job::FullJob;
use boothside_core::work::part::Part;

use crate::rig::Rig;

const ROWS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/terminal/foreman.txt");

fn like(pattern: &str, text: &str) -> bool {
    let mut parts = pattern.split('*');
    let first = parts.next().unwrap_or_default();
    let Some(mut rest) = text.strip_prefix(first) else { return false };
    let mut last = first;
    for part in parts {
        let Some(at) = rest.find(part) else { return false };
        rest = &rest[at + part.len()..];
        last = part;
    }
    rest.is_empty() || (pattern.ends_with('*') && last.is_empty())
}

fn span(text: &str) -> Span {
    let (number, unit) = text.split_at(text.find(|c: char| c.is_alphabetic()).expect("a unit"));
    let number: f64 = number.trim().parse().expect("a number");
    let seconds = match unit {
        "s" => 1.0,
        "min" => 60.0,
        "h" => 3600.0,
        other => panic!("no span: {other}"),
    };
    Span::from_seconds(number * seconds)
}

/// The example, changed.
fn job(name: &str) -> Rig {
    let change = |work: &mut FullJob| match name {
        "example" => {}
        "turned" => {
            let hatch = work.parts.get_mut("hatch").expect("the hatch");
            hatch.faces[1].turned_after = Some("top".into());
        }
        "no dry" => work.system.layers[0].prep[0].wait = None,
        "no wipe" => work.system.layers[0].prep.retain(|step| step.id != "wipe"),
        "extra" | "one coat" => work.system.layers[0].coats = 1,
        "short life" => {
            let life = primer(work).pot_life.as_mut().expect("its life");
            life.life.duration_s = 7_200.0;
        }
        "short window" => {
            let open = primer(work).between_coats.open_until.as_mut().expect("its window");
            open.duration_s = 5_400.0;
        }
        "masks for a day" => work.system.layers[0].prep[1].within_s = Some(86_400.0),
        "strut in the book" => {}
        other => panic!("no job {other}"),
    };
    let mut rig = Rig::with(change);
    if name == "strut in the book" {
        let parts = vec![("strut".to_owned(), strut())];
        rig.desk.lay_at_hand(AtHand { parts, work: None }, rig.hand_ms);
    }
    rig
}

fn primer(work: &mut FullJob) -> &mut Sheet {
    work.sheets.get_mut("grey-primer").expect("the primer")
}

fn strut() -> Part {
    let face = serde_json::json!({ "id": "all", "name": "all round", "area_m2": 0.2 });
    let part = serde_json::json!({ "format": 1, "name": "Strut", "faces": [face] });
    serde_json::from_value(part).expect("a part")
}

struct Row {
    rig: Rig,
    name: String,
    line: usize,
}

impl Row {
    fn new(name: &str, rig: Rig) -> Self {
        Self { rig, name: name.to_owned(), line: 0 }
    }

    fn says(&self) -> String {
        let scene = self.rig.scene();
        Words::of(&scene).next(&scene.board.next)
    }

    fn large(&self) -> (bool, String) {
        let hero = Words::of(&self.rig.scene()).hero();
        let text =
            if hero.verb.is_empty() { hero.big } else { format!("{} / {}", hero.big, hero.verb) };
        (hero.due, text.replace('\u{a0}', " "))
    }

    fn check(&self, what: &str, wanted: &str, is: &str) -> Result<(), String> {
        if like(wanted, is) {
            return Ok(());
        }
        Err(format!(
            "{} (line {}): {what}\n  wanted  {wanted}\n  is      {is}",
            self.name, self.line
        ))
    }

    fn read(&mut self, figures: [&str; 3]) {
        for text in figures {
            self.rig.enter(text);
        }
        while self.rig.scene().form.is_some() {
            self.rig.press(Pressed::Enter);
        }
    }

    /// What a painter does next: a face takes two minutes, a look comes when it is due.
    fn go_on(&mut self) -> Result<(), String> {
        let next = self.rig.desk.board().next.clone();
        match next {
            Next::Wait { until, what } => {
                let until = until.and_then(|until| until.moment());
                let never = || format!("{}: {what:?} never comes", self.name);
                self.rig.leap_to(until.ok_or_else(never)?);
            }
            Next::Reading { .. } => {
                self.rig.space();
                self.read(["19.4C", "58", "18.8C"]);
            }
            Next::CountMasks { .. } => {
                self.rig.space();
                self.rig.enter("14");
                while self.rig.scene().form.is_some() {
                    self.rig.press(Pressed::Enter);
                }
            }
            Next::CoatOn { .. } => {
                self.rig.pass(120.0).space();
            }
            Next::Close => {
                self.rig.space().key('1');
            }
            _ => {
                self.rig.space();
            }
        }
        Ok(())
    }

    fn to(&mut self, wanted: &str) -> Result<(), String> {
        let mut said = Vec::new();
        for _ in 0..400 {
            if like(wanted, &self.says()) {
                return Ok(());
            }
            said.push(self.says());
            self.go_on()?;
        }
        said.dedup();
        said.truncate(12);
        let said = said.join("\n  ");
        Err(format!("{} (line {}): SPACE never said {wanted}, but\n  {said}", self.name, self.line))
    }

    fn step(&mut self, line: &str) -> Result<(), String> {
        let (verb, rest) = line.split_once(' ').unwrap_or((line, ""));
        match verb {
            "job" => self.rig = job(rest),
            "to" => self.to(rest)?,
            "pass" => {
                let to = self.rig.t.plus(span(rest));
                self.rig.leap_to(to);
            }
            "hold" => {
                self.rig.pass(span(rest).seconds());
            }
            "sleep" => {
                self.rig.sleep(span(rest));
            }
            "trigger" => {
                let last = self.last_trigger();
                self.rig.leap_to(last.minus(span(rest)));
            }
            "weigh" => self.weigh(rest),
            "keys" => rest.split_whitespace().for_each(|key| self.key(key)),
            "type" => {
                self.rig.enter(rest);
            }
            "fill" => self.fill(rest),
            "read" => {
                let figures: Vec<&str> = rest.split_whitespace().collect();
                if self.rig.scene().form.is_none() {
                    self.rig.key('a');
                }
                self.read([figures[0], figures[1], figures[2]]);
            }
            "S" => self.check("SPACE", rest, &self.says())?,
            "L" => self.check("large", rest, &self.large().1)?,
            "band" | "calm" => {
                let band = if self.large().0 { "band" } else { "calm" };
                self.check("ground", verb, band)?;
            }
            "flag" => {
                let scene = self.rig.scene();
                let said = scene.said.expect("something was said");
                let broken: Vec<String> =
                    said.breaks.iter().map(|rule| Words::of(&scene).broken(rule)).collect();
                self.check("broken", rest, &broken.join("; "))?;
            }
            "refused" => {
                let form = self.rig.scene().form.expect("a form");
                let why = form.fields[form.focus].error.clone().unwrap_or_default();
                self.check("refused", rest, &why)?;
            }
            "dulled" => {
                let (ago, face) = rest.split_once(' ').expect("a span and a face");
                self.check("dulled", ago, &self.dulled_ago(face))?;
            }
            other => panic!("{}: no such step: {other}", self.name),
        }
        Ok(())
    }

    fn fill(&mut self, text: &str) {
        self.rig.enter(text);
        while self.rig.scene().form.is_some() {
            self.rig.press(Pressed::Enter);
        }
    }

    fn weigh(&mut self, left: &str) {
        for key in ["2", "o", "4"] {
            self.key(key);
        }
        self.fill(left);
        self.key("1");
    }

    fn last_trigger(&self) -> Moment {
        let pots = &self.rig.desk.board().pots;
        let pot = pots.iter().find(|pot| pot.in_the_gun).expect("a pot in the gun");
        pot.at.last_trigger.expect("its last trigger")
    }

    /// How many minutes ago the film of a face was seen dull: '10min'.
    fn dulled_ago(&self, face: &str) -> String {
        let (scene, state) = (self.rig.scene(), self.rig.desk.session().state());
        let words = Words::of(&scene);
        let number = (0..state.faces.len()).find(|number| words.face(*number) == face);
        let number = number.unwrap_or_else(|| panic!("no face {face}"));
        assert_eq!(scene.board.faces[number].at.now, FaceNow::Open, "{face}");
        let dulled = state.faces[number].coats.last().and_then(|coat| coat.dulled);
        let ago = dulled.map(|at| self.rig.t.since(at).ms() / 60_000);
        ago.map_or_else(|| "not seen".into(), |minutes| format!("{minutes}min"))
    }

    fn key(&mut self, key: &str) {
        self.rig.pass(1.6);
        match key {
            "_" => self.rig.key(' '),
            "⏎" => self.rig.press(Pressed::Enter),
            "⌄" => self.rig.press(Pressed::Down),
            "⌃" => self.rig.press(Pressed::Up),
            "esc" => self.rig.press(Pressed::Esc),
            key => self.rig.key(key.chars().next().expect("a key")),
        };
    }
}

#[test]
fn every_situation_reads_as_a_foreman_would_say_it() {
    let rows_of = std::fs::read_to_string(ROWS).expect("the rows");
    let mut wrong = Vec::new();
    let mut row = Row::new("", job("example"));
    let mut missing: BTreeSet<u32> = (1..=57).collect();
    let mut skip = false;
    for (number, line) in rows_of.lines().enumerate() {
        let line = line.trim();
        if let Some(name) = line.strip_prefix('#') {
            row = Row::new(name.trim(), job("example"));
            let number = name.split_whitespace().next().and_then(|number| number.parse().ok());
            missing.remove(&number.unwrap_or(0));
            skip = false;
            continue;
        }
        if line.is_empty() || line.starts_with("--") || skip {
            continue;
        }
        row.line = number + 1;
        if let Err(told) = row.step(line) {
            wrong.push(told);
            skip = true;
        }
    }
    assert!(missing.is_empty(), "not played: {missing:?}");
    assert!(wrong.is_empty(), "{} rows:\n{}", wrong.len(), wrong.join("\n"));
}
