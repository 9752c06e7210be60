//! A hand that plays: by keys where there is a key, else by commands.

use boothside::update::desk::{Now, Pressed, Times};
use boothside::update::scene::{Asking, REASONS};
use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::entry::{Anchor, Entry, Seen};
use boothside_core::session::event::{Event, Reading, Reason};
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Told, decide};
use boothside_core::work::job::FullJob;

use super::book::small;
use crate::rig::{Rig, Wall};

fn digit(reason: Reason) -> char {
    let at = REASONS.iter().position(|it| *it == reason).expect("a reason");
    char::from(b'1' + u8::try_from(at).expect("a digit"))
}

pub(super) struct Hand {
    pub(super) rig: Rig,
}

impl Hand {
    /// At the example with two parts.
    pub(super) fn new() -> Self {
        Self::with(|_| ())
    }

    pub(super) fn with(change: impl Fn(&mut FullJob)) -> Self {
        Self::at(Rig::with(|work| {
            small(work);
            change(work);
        }))
    }

    pub(super) fn at(rig: Rig) -> Self {
        let mut hand = Self { rig };
        hand.mark(4_200_000);
        hand
    }

    /// The next entry says where the machine's clocks stand.
    pub(super) fn mark(&mut self, since_boot_ms: i64) {
        let now = Now { t: self.rig.t, hand_ms: self.rig.hand_ms, times: &Wall };
        self.rig.desk.mark(Some(Anchor { boot: "b1".into(), since_boot_ms }), &now);
    }

    pub(super) fn next(&self) -> Next {
        self.rig.desk.board().next.clone()
    }

    /// The number of the last entry.
    pub(super) fn last(&self) -> u64 {
        self.rig.desk.session().entries().last().expect("an entry").n
    }

    pub(super) fn entries(&self) -> Vec<Entry> {
        self.rig.desk.session().entries().to_vec()
    }

    pub(super) fn minutes(&mut self, minutes: i64) -> &mut Self {
        let to = self.rig.t.plus(Span::from_minutes(minutes));
        self.rig.leap_to(to);
        self
    }

    pub(super) fn tell(&mut self, command: Command) -> &mut Self {
        self.told(command, None)
    }

    /// Told now of what was so many minutes ago.
    pub(super) fn tell_late(&mut self, minutes: i64, command: Command) -> &mut Self {
        let when = self.rig.t.minus(Span::from_minutes(minutes));
        self.told(command, Some(when))
    }

    fn told(&mut self, command: Command, when: Option<Moment>) -> &mut Self {
        // a command comes a second after the one before it
        let t = self.rig.t.plus(Span::from_seconds(1.0));
        self.rig.leap_to(t);
        let (session, board) = (self.rig.desk.session(), self.rig.desk.board());
        let seen = Seen { holds: Vec::new(), ..board.seen(session) };
        let told = Told { when, seen, ..Told::now(t, Wall.at(t)) };
        let entry = decide(session, &command, &told)
            .unwrap_or_else(|why| panic!("{command:?} at {t:?}: {why}"));
        let mut session = session.clone();
        session.apply(entry);
        let now = Now { t, hand_ms: self.rig.hand_ms, times: &Wall };
        self.rig.desk.replace(session, &now);
        self
    }

    /// Goes past a hold with a reason: by Enter where that asks of it, else by command.
    pub(super) fn go_past(&mut self, hold: &str, reason: Reason) -> &mut Self {
        self.rig.pass(2.0).press(Pressed::Esc).key('1').press(Pressed::Enter);
        if self.asked() == [hold] {
            self.rig.key(digit(reason));
            let told = Event::HoldOverridden { hold: hold.into(), reason };
            // the key of a reading says that none can be taken
            if self.rig.last_events() == [told] {
                return self;
            }
        }
        self.rig.press(Pressed::Esc);
        self.tell(Command::GoPast { hold: hold.into(), reason })
    }

    /// Begins a face past every hold: chosen by the arrows, then the digit of the reason.
    pub(super) fn begin_past(&mut self, face: &str, reason: Reason) -> &mut Self {
        let number = self.rig.desk.session().plan().index(face).expect("a face");
        let before = self.last();
        self.rig.pass(2.0).press(Pressed::Esc).key('1');
        for _ in 0..=self.rig.desk.board().faces.len() {
            if self.rig.scene().chosen != Some(number) {
                self.rig.press(Pressed::Down);
            }
        }
        assert_eq!(self.rig.scene().chosen, Some(number));
        if self.rig.desk.board().faces[number].at.now != FaceNow::Look {
            self.rig.press(Pressed::Enter);
            if !self.asked().is_empty() {
                self.rig.key(digit(reason));
            }
            assert!(self.last() > before, "{face}: {:?}", self.rig.scene().asking);
            return self;
        }
        // Enter would say that it has dulled
        self.rig.press(Pressed::Esc);
        self.tell(Command::BeginCoat { face: face.into(), past: Some(reason) })
    }

    /// The holds that the screen asks about.
    fn asked(&self) -> Vec<String> {
        match self.rig.scene().asking {
            Some(Asking::Holds { holds, .. }) => holds.iter().map(ToString::to_string).collect(),
            _ => Vec::new(),
        }
    }

    pub(super) fn on(&mut self, face: &str) -> &mut Self {
        self.tell(Command::CoatOn { face: face.into() })
    }

    /// A coat past every hold, in two minutes.
    pub(super) fn coat_past(&mut self, face: &str) -> &mut Self {
        self.begin_past(face, Reason::OwnDecision).minutes(2).on(face)
    }

    pub(super) fn read(&mut self, air_c: f64, humidity_pct: f64, surface_c: f64) -> &mut Self {
        self.tell(Command::Read(Reading {
            air_c: Some(air_c),
            humidity_pct: Some(humidity_pct),
            surface_c: Some(surface_c),
            ..Reading::default()
        }))
    }

    /// Does what SPACE says until `stop`, by keys: a face takes two minutes, a wait passes.
    pub(super) fn until(&mut self, what: &str, stop: impl Fn(&Self) -> bool) -> &mut Self {
        for _ in 0..150 {
            if stop(self) {
                return self;
            }
            self.do_next();
        }
        panic!("never came: {what}, but {:?}, {:?}", self.next(), self.rig.scene().asking);
    }

    fn do_next(&mut self) {
        if self.rig.scene().form.is_some() {
            self.rig.press(Pressed::Esc);
        }
        match self.next() {
            Next::Wait { until, what } => {
                let until = until.and_then(|until| until.moment());
                self.rig.leap_to(until.unwrap_or_else(|| panic!("{what:?} never comes")));
            }
            Next::Reading { .. } => {
                self.answer(&["19.4C", "58", "18.8C"]);
            }
            Next::CountMasks { .. } => {
                self.answer(&["14"]);
            }
            Next::CoatOn { .. } => {
                self.minutes(2).rig.space();
            }
            Next::Close => {
                self.rig.space().key('1');
            }
            _ => {
                self.rig.space();
            }
        }
    }

    /// SPACE opens the form, unless it answers something else first.
    fn answer(&mut self, texts: &[&str]) {
        self.rig.space();
        if self.rig.scene().form.is_some() {
            self.fill(texts);
        }
    }

    /// Types into the fields of a form, and goes through the rest of it.
    pub(super) fn fill(&mut self, texts: &[&str]) -> &mut Self {
        for text in texts {
            self.rig.enter(text);
        }
        for _ in 0..20 {
            if self.rig.scene().form.is_none() {
                self.rig.pass(0.6);
                return self;
            }
            self.rig.press(Pressed::Enter);
        }
        panic!("the form stays: {:?}", self.rig.scene().form)
    }

    pub(super) fn until_the_first_coat(&mut self) -> &mut Self {
        self.until("a coat", |hand| matches!(hand.next(), Next::BeginCoat { .. }))
    }
}
