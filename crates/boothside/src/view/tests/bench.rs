//! A bench to play sessions on, so that every picture shows a state that the core can be in.

use std::collections::BTreeMap;

use boothside_core::board::{Board, Next, board};
use boothside_core::physics::rate::Rules;
use boothside_core::session::command::Command;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening, Reading};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Refusal, Session, Told, decide};
use boothside_core::work::job::FullJob;
use chrono::{DateTime, Duration, FixedOffset};

use crate::update::scene::{Eye, Said};

/// The wall at a fixed offset: the session opens on a Monday evening.
pub(super) struct FixedEye;

impl Eye for FixedEye {
    fn wall(&self, moment: Moment) -> DateTime<FixedOffset> {
        let opening = DateTime::parse_from_rfc3339("2026-05-11T20:00:00-05:00").unwrap();
        opening + Duration::milliseconds(moment.ms())
    }
}

/// A session being played.
#[derive(Clone)]
pub(super) struct Bench {
    pub(super) session: Session,
    pub(super) now: Moment,
    pub(super) said: Option<Said>,
}

impl Bench {
    pub(super) fn example() -> Self {
        Self::new(crate::example::example().unwrap())
    }

    pub(super) fn new(work: FullJob) -> Self {
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
            at: "2026-05-11T20:00:00.000-05:00".into(),
            by: By::Key,
            when_ms: None,
            events: vec![Event::Opened(Box::new(opening))],
            breaks: Vec::new(),
            seen: Seen::default(),
            anchor: None,
        };
        Self { session: Session::open(vec![first]).unwrap(), now: Moment::OPENING, said: None }
    }

    pub(super) fn board(&self) -> Board {
        board(&self.session, self.now)
    }

    pub(super) fn try_tell(&mut self, command: &Command) -> Result<(), Refusal> {
        let entry = decide(&self.session, command, &Told::now(self.now, ""))?;
        self.said = Some(Said {
            events: entry.events.clone(),
            when: entry.told_ms(),
            breaks: entry.breaks.clone(),
            can_take_back: true,
        });
        self.session.apply(entry);
        Ok(())
    }

    pub(super) fn tell(&mut self, command: &Command) {
        if let Err(refusal) = self.try_tell(command) {
            panic!("{command:?} at {:?}: {refusal}", self.now);
        }
    }

    pub(super) fn pass(&mut self, minutes: f64) -> &mut Self {
        self.now = self.now.plus(Span::from_seconds(minutes * 60.0));
        self
    }

    pub(super) fn read(&mut self, air_c: f64, humidity_pct: f64, surface_c: f64) {
        self.tell(&Command::Read(Reading {
            air_c: Some(air_c),
            humidity_pct: Some(humidity_pct),
            surface_c: Some(surface_c),
            ..Reading::default()
        }));
    }

    /// What SPACE does; a wait passes to its end, a reading is told.
    pub(super) fn space(&mut self) {
        let next = self.board().next;
        match &next {
            Next::Wait { until, what } => {
                let until = until.and_then(|until| until.moment());
                self.now = until.unwrap_or_else(|| panic!("{what:?} never comes"));
            }
            Next::Reading { .. } => self.read(19.4, 58.0, 18.8),
            Next::CountMasks { way, .. } => {
                self.tell(&Command::CountMasks { way: *way, number: 14 });
            }
            Next::Over => {}
            action => {
                let command = action.command(&self.session).unwrap();
                self.tell(&command);
            }
        }
    }

    /// Does the next thing until what comes next is as wanted.
    pub(super) fn play_to(&mut self, wanted: impl Fn(&Next) -> bool) -> &mut Self {
        for _ in 0..2_000 {
            let next = self.board().next;
            if wanted(&next) {
                return self;
            }
            if matches!(next, Next::CoatOn { .. }) {
                self.pass(4.0);
            }
            if next.is_action() {
                self.pass(0.75);
            }
            self.space();
        }
        panic!("that never comes");
    }
}
