//! A rig that presses keys on a desk: fixed wall, hand's time and session time under control.

use boothside::example::example;
use boothside::update::desk::{Desk, Effect, Now, Pressed, Times, Written};
use boothside::update::scene::{Eye, Notice, Rehearsal, Scene};
use boothside_core::physics::rate::Rules;
use boothside_core::session::Session;
use boothside_core::session::entry::{By, Entry, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::stock::SeenCan;
use boothside_core::session::time::{Moment, Span};
use boothside_core::work::job::FullJob;
use chrono::{DateTime, Days, FixedOffset, NaiveTime, SecondsFormat, TimeDelta};

/// A wall without daylight saving: session time 0 is 12 May 2026, 07:00, five hours west.
#[derive(Clone, Copy)]
pub(crate) struct Wall;

impl Eye for Wall {
    fn wall(&self, moment: Moment) -> DateTime<FixedOffset> {
        let opening = DateTime::parse_from_rfc3339("2026-05-12T07:00:00-05:00").expect("a time");
        opening + TimeDelta::milliseconds(moment.ms())
    }
}

impl Times for Wall {
    fn at(&self, moment: Moment) -> String {
        self.wall(moment).to_rfc3339_opts(SecondsFormat::Millis, false)
    }

    fn last_at(&self, time: NaiveTime, now: Moment) -> Option<Moment> {
        let now = self.wall(now);
        let today = now.date_naive().and_time(time).and_local_timezone(*now.offset()).single()?;
        let at = if today <= now { today } else { today.checked_sub_days(Days::new(1))? };
        let since = at.signed_duration_since(self.wall(Moment::OPENING));
        Some(Moment::from_ms(since.num_milliseconds()))
    }
}

/// The rig.
pub(crate) struct Rig {
    pub(crate) desk: Desk,
    pub(crate) t: Moment,
    pub(crate) hand_ms: i64,
    /// Entries sent to the writer.
    pub(crate) written: Vec<Entry>,
    /// How often the bell rang.
    pub(crate) rings: u32,
    /// Whether the writer answers at once.
    pub(crate) saves: bool,
    pub(crate) left: bool,
}

impl Rig {
    pub(crate) fn example() -> Self {
        Self::of(first_entry(false), None)
    }

    /// The example, changed.
    pub(crate) fn with(change: impl Fn(&mut FullJob)) -> Self {
        let mut first = first_entry(false);
        for event in &mut first.events {
            if let Event::Opened(opening) = event {
                change(&mut opening.work);
                assert_eq!(opening.work.check(), Vec::new());
            }
        }
        Self::of(first, None)
    }

    pub(crate) fn rehearsal(pace: f64) -> Self {
        Self::of(first_entry(true), Some(Rehearsal { pace }))
    }

    /// The example as another program writes it: only read here.
    pub(crate) fn read_along() -> Self {
        let mut rig = Self::example();
        let session = Session::open(vec![first_entry(false)]).expect("a session");
        let now = Now { t: Moment::OPENING, hand_ms: 0, times: &Wall };
        let why = Some("another boothside (process 7) has it open".to_owned());
        rig.desk = Desk::new(session, &now, None, why, None);
        rig
    }

    /// A session that the program opens anew at `t`, as the shell lays it on the desk.
    pub(crate) fn going_on(session: Session, t: Moment, read_only: Option<String>) -> Self {
        let now = Now { t, hand_ms: 0, times: &Wall };
        let mut rig = Self {
            desk: Desk::new(session, &now, None, read_only, None),
            t,
            hand_ms: 0,
            written: Vec::new(),
            rings: 0,
            saves: true,
            left: false,
        };
        let effects = rig.desk.go_on_by_rules(&now);
        rig.effects(effects);
        rig
    }

    pub(crate) fn of(first: Entry, rehearsal: Option<Rehearsal>) -> Self {
        let session = Session::open(vec![first]).expect("a session");
        let now = Now { t: Moment::OPENING, hand_ms: 0, times: &Wall };
        Self {
            desk: Desk::new(session, &now, None, None, rehearsal),
            t: Moment::OPENING,
            hand_ms: 0,
            written: Vec::new(),
            rings: 0,
            saves: true,
            left: false,
        }
    }

    fn effects(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            match effect {
                Effect::Write(entry) => {
                    if self.saves {
                        self.desk.written(Written::Saved { n: entry.n });
                    }
                    self.written.push(*entry);
                }
                Effect::Ring => self.rings += 1,
                Effect::JumpTo(to) => self.t = to,
                Effect::Pace(_) => {}
                Effect::Leave | Effect::Book => self.left = true,
            }
        }
    }

    /// The machine sees these cans on the shelf.
    pub(crate) fn see_cans(&mut self, cans: Vec<SeenCan>) {
        let now = Now { t: self.t, hand_ms: self.hand_ms, times: &Wall };
        let effects = self.desk.see_cans(cans, &now);
        self.effects(effects);
    }

    /// So many seconds pass, hand and session alike, in steps of a tenth as in the real loop.
    pub(crate) fn pass(&mut self, seconds: f64) -> &mut Self {
        let end_ms = self.hand_ms + Span::from_seconds(seconds).ms();
        while self.hand_ms < end_ms {
            let step = 100.min(end_ms - self.hand_ms);
            self.hand_ms += step;
            self.t = self.t.plus(Span::from_ms(step));
            self.tick();
        }
        self
    }

    /// The session's time goes on to a moment at once, as in a sleep or a rehearsal.
    pub(crate) fn leap_to(&mut self, moment: Moment) -> &mut Self {
        self.t = moment;
        self.hand_ms += 2_000;
        self.tick();
        self
    }

    /// The machine sleeps, and says so on waking.
    pub(crate) fn sleep(&mut self, span: Span) -> &mut Self {
        self.t = self.t.plus(span);
        self.hand_ms += 2_000;
        let now = Now { t: self.t, hand_ms: self.hand_ms, times: &Wall };
        let effects = self.desk.slept(span, &now);
        self.effects(effects);
        self.tick();
        self
    }

    pub(crate) fn tick(&mut self) {
        let now = Now { t: self.t, hand_ms: self.hand_ms, times: &Wall };
        let effects = self.desk.time(&now);
        self.effects(effects);
    }

    /// Presses a key and lets the palm gate's time pass.
    pub(crate) fn press(&mut self, key: Pressed) -> &mut Self {
        self.press_only(key);
        self.pass(0.2)
    }

    /// Presses a key; no time passes.
    pub(crate) fn press_only(&mut self, key: Pressed) {
        let now = Now { t: self.t, hand_ms: self.hand_ms, times: &Wall };
        let effects = self.desk.press(key, &now);
        self.effects(effects);
    }

    /// Pastes a text; no time passes.
    pub(crate) fn paste(&mut self, text: &str) {
        let now = Now { t: self.t, hand_ms: self.hand_ms, times: &Wall };
        let effects = self.desk.paste(text, &now);
        self.effects(effects);
    }

    /// The machine tells something.
    pub(crate) fn notice(&mut self, text: &str) {
        self.desk.notice(Notice::Text(text.to_owned()), self.hand_ms);
    }

    pub(crate) fn key(&mut self, c: char) -> &mut Self {
        self.press(Pressed::Char(c))
    }

    /// SPACE, with the second before it that makes it no repeat.
    pub(crate) fn space(&mut self) -> &mut Self {
        self.pass(1.0).key(' ')
    }

    /// Types a text and Enter.
    pub(crate) fn enter(&mut self, text: &str) -> &mut Self {
        for c in text.chars() {
            self.press_only(Pressed::Char(c));
        }
        self.press(Pressed::Enter)
    }

    pub(crate) fn scene(&self) -> Scene<'_> {
        self.desk.scene(&Wall, self.hand_ms)
    }

    /// The events of the last entry written.
    pub(crate) fn last_events(&self) -> &[Event] {
        self.written.last().map_or(&[], |entry| entry.events.as_slice())
    }
}

pub(crate) fn first_entry(rehearsal: bool) -> Entry {
    let work = example().expect("the example");
    let opening = Opening {
        format: LOG_FORMAT,
        rules: Rules::NOW.number(),
        rehearsal,
        work,
        factors: std::collections::BTreeMap::new(),
    };
    Entry {
        n: 0,
        t_ms: Moment::OPENING,
        at: Wall.at(Moment::OPENING),
        by: By::Key,
        when_ms: None,
        events: vec![Event::Opened(Box::new(opening))],
        breaks: Vec::new(),
        seen: Seen::default(),
        anchor: None,
    }
}
