//! A whole session to look at: 40 faces, 6 pots and many readings, played entry by entry.

use std::collections::BTreeMap;

use boothside_core::physics::rate::Rules;
use boothside_core::session::command::Command;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening, Reading, Reason};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Session, Told, decide};
use boothside_core::work::job::FullJob;
use serde_json::{Value, json};

const FACES: usize = 40;
const POTS: usize = 6;
/// Between two readings.
const PACE: Span = Span::from_minutes(10);

fn doubling(duration_s: u32) -> Value {
    json!({ "duration_s": duration_s, "at_c": 20, "law": "warmth", "doubles_per_c": 10 })
}

fn sheet() -> Value {
    json!({
        "format": 1,
        "name": "Slate, two-part",
        "carrier": "water",
        "mix": {
            "by": "weight",
            "solids_pct": 40,
            "components": [
                { "name": "Base", "role": "base", "parts": 4, "density_g_per_ml": 1.3 },
                { "name": "Activator", "role": "activator", "parts": 1, "density_g_per_ml": 1.05 }
            ]
        },
        "induction": { "stand": doubling(600), "inside_pot_life": true },
        "pot_life": { "life": doubling(400_000), "cleaning_reserve_s": 900 },
        "between_coats": {
            "earliest": doubling(1200),
            "dulls": { "duration_s": 900, "at_c": 20, "at_pct": 50, "law": "water" },
            "by": "both",
            "open_until": doubling(500_000),
            "wipe_until": doubling(900_000)
        },
        "to_next_layer": {
            "earliest": doubling(400_000),
            "by": "clock",
            "open_until": doubling(500_000),
            "wipe_until": doubling(900_000)
        },
        "cure": [
            { "stage": "handle", "after": doubling(50_000) },
            { "stage": "sand", "after": doubling(200_000) },
            { "stage": "full", "after": { "duration_s": 600_000, "at_c": 20, "law": "warmth",
                                         "energy_kj_per_mol": 60 } }
        ]
    })
}

fn work() -> FullJob {
    let face =
        |number: usize| json!({ "id": format!("f{number}"), "name": "face", "area_m2": 0.5 });
    let layer = |name: &str| json!({ "name": name, "sheet": "slate", "coats": 2, "dry_um": 25 });
    serde_json::from_value(json!({
        "job": { "format": 1, "name": "Whole", "system": "two", "parts": ["wing"] },
        "system": { "format": 1, "name": "Two", "layers": [layer("one"), layer("two")] },
        "parts": { "wing": {
            "format": 1, "name": "Wing", "faces": (0..FACES).map(face).collect::<Vec<_>>()
        } },
        "sheets": { "slate": sheet() },
        "shop": { "format": 1, "transfer_pct": 60 }
    }))
    .expect("a job")
}

/// When the readings were entered.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Entered {
    /// Each as it was taken.
    AtOnce,
    /// One in the middle of them an hour late, the others as they were taken.
    OneLate,
}

/// The session at its last reading: the first layer is on every face, and the windows to the next
/// one and every stage of cure run over all the readings.
pub(crate) fn played(readings: usize, entered: Entered) -> (Session, Moment) {
    let mut play = Play::new();
    let mut commands = commands().into_iter();
    for reading in 0..readings {
        play.read(reading);
        if entered == Entered::OneLate && reading == readings / 2 {
            play.read_late();
        }
        // what is sprayed is sprayed in the first readings' time
        for (index, command) in commands.by_ref().take(16).enumerate() {
            let index = i64::try_from(index).expect("a small number");
            play.tell(&command, play.now.plus(Span::from_seconds(30.0 * (index + 1) as f64)));
        }
        play.now = play.now.plus(PACE);
    }
    assert_eq!(commands.next(), None);
    let state = play.session.state();
    assert_eq!((state.faces.len(), state.pots.len()), (FACES, POTS));
    assert_eq!(state.readings.len(), readings + usize::from(entered == Entered::OneLate));
    assert!(state.faces.iter().all(|face| face.coats_on(1) == 2));
    (play.session, play.now)
}

/// Six pots, then two coats on every face.
fn commands() -> Vec<Command> {
    let mix = Command::MixPot { layer: 1, amount_ml: Some(3000.0), lots: Vec::new() };
    let mut commands = vec![mix; POTS];
    for _ in 0..2 {
        for face in (0..FACES).map(|face| format!("wing-f{face}")) {
            let past = Some(Reason::OwnDecision);
            commands.push(Command::BeginCoat { face: face.clone(), past });
            commands.push(Command::CoatOn { face });
        }
    }
    commands
}

/// A reading told at `now`, taken `ago` before.
pub(crate) fn reading(session: &Session, now: Moment, ago: Span) -> Entry {
    let reading = Reading { air_c: Some(15.0), ..Reading::default() };
    entry(session.next_n(), now, Some(now.minus(ago)), Event::Reading(reading))
}

struct Play {
    session: Session,
    now: Moment,
}

impl Play {
    fn new() -> Self {
        let factors = BTreeMap::new();
        let opening = Opening {
            format: LOG_FORMAT,
            rules: Rules::NOW.number(),
            rehearsal: false,
            work: work(),
            factors,
        };
        let first = entry(0, Moment::OPENING, None, Event::Opened(Box::new(opening)));
        let session = Session::open(vec![first]).expect("a session");
        Self { session, now: Moment::OPENING }
    }

    fn tell(&mut self, command: &Command, now: Moment) {
        let entry = decide(&self.session, command, &Told::now(now, "")).expect("an entry");
        self.session.apply(entry);
    }

    /// A reading taken an hour ago.
    fn read_late(&mut self) {
        self.session.apply(reading(&self.session, self.now, Span::from_minutes(65)));
    }

    fn read(&mut self, index: usize) {
        let swing = (index as f64 / 20.0).sin();
        let reading = Reading {
            air_c: Some(18.0 + 5.0 * swing),
            humidity_pct: Some(60.0 - 20.0 * swing),
            surface_c: index.is_multiple_of(3).then_some(17.0 + 4.0 * swing),
            ..Reading::default()
        };
        let n = self.session.next_n();
        self.session.apply(entry(n, self.now, None, Event::Reading(reading)));
    }
}

fn entry(n: u64, t_ms: Moment, when_ms: Option<Moment>, event: Event) -> Entry {
    let (at, seen) = (String::new(), Seen::default());
    let (events, breaks) = (vec![event], Vec::new());
    Entry { n, t_ms, at, by: By::Key, when_ms, events, breaks, seen, anchor: None }
}
