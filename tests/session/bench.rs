//! A bench to play sessions on: the example job, entries made at given minutes.

use std::collections::BTreeMap;

use boothside_core::board::{Board, Next, board};
use boothside_core::physics::rate::Rules;
use boothside_core::session::command::Command;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening, Reading, Reason};
use boothside_core::session::standing::{FaceNow, FaceStanding};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Refusal, Session, Told, decide};
use boothside_core::work::job::FullJob;

macro_rules! example {
    ($file:literal) => {
        include_str!(concat!("../../assets/example/", $file))
    };
}

fn parse<T: serde::de::DeserializeOwned>(text: &str) -> T {
    serde_json::from_str(text).expect("an example file")
}

/// The example job.
pub(crate) fn example_work() -> FullJob {
    let parts = [
        ("hatch", example!("parts/hatch.json")),
        ("cuff", example!("parts/cuff.json")),
        ("door", example!("parts/door.json")),
        ("rudder", example!("parts/rudder.json")),
    ];
    let sheets = [
        ("grey-primer", example!("sheets/grey-primer.json")),
        ("example-blue", example!("sheets/example-blue.json")),
    ];
    let work = FullJob {
        job: parse(example!("jobs/float-set.json")),
        system: parse(example!("systems/two-layer-float.json")),
        parts: parts.into_iter().map(|(name, text)| (name.to_owned(), parse(text))).collect(),
        sheets: sheets.into_iter().map(|(name, text)| (name.to_owned(), parse(text))).collect(),
        shop: parse(example!("shop.json")),
    };
    assert_eq!(work.check(), Vec::new());
    work
}

/// Minutes of session time.
pub(crate) fn min(minutes: f64) -> Moment {
    Moment::OPENING.plus(Span::from_seconds(minutes * 60.0))
}

/// 'Begin the next coat.'
pub(crate) fn begin(face: &str) -> Command {
    Command::BeginCoat { face: face.into(), past: None }
}

/// The same past every hold.
pub(crate) fn begin_past(face: &str) -> Command {
    Command::BeginCoat { face: face.into(), past: Some(Reason::OwnDecision) }
}

/// 'It is on.'
pub(crate) fn on(face: &str) -> Command {
    Command::CoatOn { face: face.into() }
}

/// 'A pot of the first layer is mixed.'
pub(crate) fn mix() -> Command {
    Command::MixPot { layer: 1, amount_ml: None, lots: Vec::new() }
}

/// A session being played.
#[derive(Clone)]
pub(crate) struct Bench {
    pub(crate) session: Session,
    pub(crate) now: Moment,
}

impl Bench {
    pub(crate) fn new(work: FullJob) -> Self {
        let opening = Opening {
            format: LOG_FORMAT,
            rules: Rules::NOW.number(),
            rehearsal: false,
            work,
            factors: BTreeMap::new(),
        };
        let first = Entry {
            n: 0,
            t_ms: Moment::OPENING,
            at: "2026-05-12T10:00:00.000-05:00".into(),
            by: By::Key,
            when_ms: None,
            events: vec![Event::Opened(Box::new(opening))],
            breaks: Vec::new(),
            seen: Seen::default(),
            anchor: None,
        };
        Self { session: Session::open(vec![first]).expect("a session"), now: Moment::OPENING }
    }

    pub(crate) fn example() -> Self {
        Self::new(example_work())
    }

    pub(crate) fn board(&self) -> Board {
        board(&self.session, self.now)
    }

    pub(crate) fn try_tell(
        &mut self,
        command: &Command,
        when: Option<Moment>,
    ) -> Result<u64, Refusal> {
        let told = Told { when, ..Told::now(self.now, "") };
        let entry = decide(&self.session, command, &told)?;
        let n = entry.n;
        self.session.apply(entry);
        Ok(n)
    }

    pub(crate) fn tell(&mut self, command: Command) -> u64 {
        match self.try_tell(&command, None) {
            Ok(n) => n,
            Err(refusal) => panic!("{command:?} at {:?}: {refusal}", self.now),
        }
    }

    /// Goes on to a minute of the session.
    pub(crate) fn at(&mut self, minutes: f64) -> &mut Self {
        self.now = min(minutes);
        self
    }

    pub(crate) fn pass(&mut self, minutes: f64) -> &mut Self {
        self.now = self.now.plus(Span::from_seconds(minutes * 60.0));
        self
    }

    /// A coat on `face` from one minute to another, past any hold.
    pub(crate) fn coat(&mut self, face: &str, from: f64, to: f64) -> &mut Self {
        self.at(from).tell(begin_past(face));
        self.at(to).tell(on(face));
        self
    }

    /// Where face number `face` stands.
    pub(crate) fn face(&self, face: usize) -> FaceStanding {
        self.board().faces[face].at.clone()
    }

    pub(crate) fn face_now(&self, face: usize) -> FaceNow {
        self.face(face).now
    }

    pub(crate) fn read(&mut self, air_c: f64, humidity_pct: f64) -> u64 {
        self.tell(Command::Read(Reading {
            air_c: Some(air_c),
            humidity_pct: Some(humidity_pct),
            ..Reading::default()
        }))
    }

    /// Whether a new pot is asked for: its first pour, or the whole where its parts cannot be told.
    pub(crate) fn wants_a_pot(&self) -> bool {
        matches!(self.board().next, Next::MixPot { .. } | Next::Pour { why: Some(_), .. })
    }

    /// Whether a part is to be poured.
    pub(crate) fn pours(&self) -> bool {
        matches!(self.board().next, Next::Pour { .. })
    }

    /// Presses SPACE until `stop`; what it did on the way.
    pub(crate) fn space_until(&mut self, stop: impl Fn(&Self) -> bool) -> Vec<Next> {
        let mut done = Vec::new();
        for _ in 0..120 {
            if stop(self) {
                return done;
            }
            done.push(self.space());
        }
        panic!("never came: {:?} after {done:?}", self.board().next)
    }

    /// The same until a coat may be begun.
    pub(crate) fn until_begin(&mut self) -> Vec<Next> {
        self.space_until(|bench| matches!(bench.board().next, Next::BeginCoat { .. }))
    }

    /// What SPACE does; a wait passes to its end, a reading is 20 °C, 50 %.
    pub(crate) fn space(&mut self) -> Next {
        let next = self.board().next;
        match &next {
            Next::Wait { until, what } => {
                let until = until.and_then(|until| until.moment());
                self.now = until.unwrap_or_else(|| panic!("{what:?} never comes"));
            }
            Next::Reading { .. } => {
                self.read(20.0, 50.0);
            }
            Next::CountMasks { way, .. } => {
                self.tell(Command::CountMasks { way: *way, number: 14 });
            }
            Next::Over => {}
            action => {
                let command = action.command(&self.session).expect("a command");
                self.tell(command);
            }
        }
        next
    }
}
