//! A session on the screen: keys and time in, entries and effects out.

mod act;
mod answer;
mod burst;
mod fill;
mod film;
mod forgotten;
mod hang;
mod log;
mod mix;
mod offer;
mod pick;
mod ready;
mod retimed;
mod strokes;
mod tell;

use std::collections::BTreeMap;

use boothside_core::board::mixing::Gauge;
use boothside_core::board::{Board, News, Next, board, news};
use boothside_core::physics::rate::Rules;
use boothside_core::session::command::Command;
use boothside_core::session::entry::{Anchor, Entry};
use boothside_core::session::stock::SeenCan;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{ChangedFigure, Session, changed_by_rules, last_rules};
use chrono::NaiveTime;

use super::alarm::Alarm;
use super::at_hand::AtHand;
use super::gate::{Held, PalmGate, Repeats};
use super::lock::KeyLock;
use super::picker::Picker;
use super::scene::{Asking, Eye, Notice, Rehearsal, Said, Saved, Scene, Screen};
use super::table::{Applies, KeyRow, TABLE};
use crate::forms::{Form, FormKind};

pub(crate) use strokes::NO_FIELD;
pub use strokes::Pressed;

/// Session and wall times, both ways.
pub trait Times: Eye {
    /// A moment as an entry's `at`: RFC 3339 with milliseconds and offset.
    fn at(&self, moment: Moment) -> String;
    /// When the wall last showed `time`, not after `now`.
    fn last_at(&self, time: NaiveTime, now: Moment) -> Option<Moment>;
}

/// The moment at which something reaches the desk.
#[derive(Clone, Copy)]
pub struct Now<'a> {
    /// Session time.
    pub t: Moment,
    /// The hand's time, ms.
    pub hand_ms: i64,
    /// Session and wall times.
    pub times: &'a dyn Times,
}

/// What the shell is to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Effect {
    /// Write an entry down. The desk shows it already.
    Write(Box<Entry>),
    /// Ring the bell.
    Ring,
    /// Rehearsal: go on to a moment.
    JumpTo(Moment),
    /// Rehearsal: run so many times faster than the hand's time.
    Pace(f64),
    /// Leave the session; it stays open.
    Leave,
    /// Back to the book; the session stays open.
    Book,
}

/// What the writer says of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Written {
    /// Its sync has returned.
    Saved {
        /// Its number.
        n: u64,
    },
    /// The disk refuses.
    Refused {
        /// How many entries wait.
        waiting: usize,
        /// What the disk says.
        why: String,
    },
}

/// The last key's effect is shown for so long.
const SAID_MS: i64 = 5_000;
/// A choice by the arrows fades after so long.
const CHOICE_MS: i64 = 20_000;
/// The glance comes after so long without a key.
const GLANCE_MS: i64 = 60_000;
/// A notice stays for so long, unless a key clears it.
const NOTICE_MS: i64 = 30_000;
/// 'q' twice within this long leaves.
const LEAVE_MS: i64 = 5_000;
/// After a sleep this long SPACE first only says that the painter is awake: what stood there is old.
const LONG_SLEEP: Span = Span::from_minutes(10);
/// A press this soon after a change that time alone made still does what was drawn.
const THUMB_MS: i64 = 1_500;

/// A session on the screen.
pub struct Desk {
    session: Session,
    board: Board,
    /// Up to when the board was looked at: a key that was pressed before does not take it back.
    looked: Moment,
    screen: Screen,
    saved: Saved,
    /// The last number sent to the writer.
    sent: Option<u64>,
    /// Where the machine's clocks stood at a moment of the session; the next entry carries it,
    /// moved to its own moment.
    anchor: Option<(Anchor, Moment)>,
    rehearsal: Option<Rehearsal>,
    /// The chosen face, by its id: a number would outlive a face that is taken back.
    chosen: Option<Timed<String>>,
    /// How long the machine slept, until a key answers.
    awake: Option<Span>,
    /// By what the painter measures pours, where `v` told.
    gauge: Option<Gauge>,
    /// The line chosen on Ready, by its id: lines come and go.
    ready_line: Option<String>,
    said: Option<Timed<Said>>,
    notices: Vec<Timed<Notice>>,
    shown_notices: Vec<Notice>,
    asking: Option<Asking>,
    /// The holds that the question showed which is being answered.
    held: Vec<String>,
    form: Option<Form>,
    picker: Option<Picker>,
    at_hand: AtHand,
    /// Figures that the Book has otherwise, until they are answered or put off.
    offer: Vec<ChangedFigure>,
    /// Since when they are offered.
    offered_ms: i64,
    /// Since when the hand is asked about a face that may be forgotten on the gun.
    forgotten_since: Option<Timed<Moment>>,
    /// The question of that kind that Esc put away.
    forgotten_away: Option<Moment>,
    /// The number of the entry chosen in the log.
    log_chosen: u64,
    drafts: BTreeMap<FormKind, Form>,
    leaving: Option<i64>,
    last_key_ms: i64,
    palm: PalmGate<Pressed>,
    /// What keys changed that acted at once and may still be part of a palm.
    before_burst: Option<burst::Before>,
    /// Locked keys.
    lock: Option<KeyLock>,
    repeats: Repeats,
    key_down: Held<Pressed>,
    alarm: Alarm,
    /// What SPACE did before time alone changed it, and when it changed.
    before_change: Option<Timed<Next>>,
    /// Whether the painter jumped on, so that the next change is not time's alone.
    jumped: bool,
    keys: Vec<KeyRow>,
}

/// Something with the hand's time at which it came.
#[derive(Debug, Clone)]
struct Timed<T> {
    it: T,
    hand_ms: i64,
}

impl Desk {
    /// Lays a session on the desk. `anchor`, where the machine's clocks stand now, goes into the
    /// first entry that is made here, as of that entry's time;
    /// `read_only` says why nothing is written, where so.
    #[must_use]
    pub fn new(
        session: Session,
        now: &Now<'_>,
        anchor: Option<Anchor>,
        read_only: Option<String>,
        rehearsal: Option<Rehearsal>,
    ) -> Self {
        let board = board(&session, now.t);
        let reads_only = read_only.is_some();
        let saved = read_only.map_or(Saved::Saved, |why| Saved::ReadOnly { why });
        let applies = |row: &&KeyRow| {
            let here = row.applies == Applies::Session || rehearsal.is_some();
            here && (!reads_only || row.does.only_looks())
        };
        Self {
            session,
            board,
            looked: now.t,
            screen: Screen::Clocks,
            saved,
            sent: None,
            anchor: anchor.map(|it| (it, now.t)),
            rehearsal,
            chosen: None,
            awake: None,
            gauge: None,
            ready_line: None,
            said: None,
            notices: Vec::new(),
            shown_notices: Vec::new(),
            asking: None,
            held: Vec::new(),
            form: None,
            picker: None,
            at_hand: AtHand::default(),
            offer: Vec::new(),
            offered_ms: 0,
            forgotten_since: None,
            forgotten_away: None,
            log_chosen: 0,
            drafts: BTreeMap::new(),
            leaving: None,
            last_key_ms: now.hand_ms,
            palm: PalmGate::default(),
            before_burst: None,
            lock: None,
            repeats: Repeats::default(),
            key_down: Held::default(),
            alarm: Alarm::default(),
            before_change: None,
            jumped: false,
            keys: TABLE.iter().filter(applies).copied().collect(),
        }
    }

    /// What there is to draw.
    #[must_use]
    pub fn scene<'a>(&'a self, eye: &'a dyn Eye, hand_ms: i64) -> Scene<'a> {
        let idle = hand_ms - self.last_key_ms >= GLANCE_MS;
        let undisturbed = self.asking.is_none()
            && self.form.is_none()
            && self.picker.is_none()
            && self.forgotten().is_none()
            && !self.shown_notices.iter().any(Notice::stays);
        Scene {
            session: &self.session,
            board: &self.board,
            eye,
            saved: &self.saved,
            screen: self.screen,
            glance: idle && undisturbed && self.screen == Screen::Clocks,
            chosen: self.chosen(),
            awake: self.awake,
            ready_line: self.line_on_ready(),
            said: self.said.as_ref().map(|said| &said.it),
            notices: &self.shown_notices,
            asking: self.asking.as_ref(),
            form: self.form.as_ref(),
            picker: self.picker.as_ref(),
            at_hand: &self.at_hand,
            offer: self.offer(),
            forgotten: self.forgotten(),
            log_chosen: self.log_chosen,
            rehearsal: self.rehearsal,
            leaving: self.leaving.is_some(),
            locked: self.lock.is_some(),
            keys: &self.keys,
        }
    }

    /// The session.
    #[must_use]
    pub const fn session(&self) -> &Session {
        &self.session
    }

    /// The board as last looked at.
    #[must_use]
    pub const fn board(&self) -> &Board {
        &self.board
    }

    /// Time has passed: what came due, what faded.
    pub fn time(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let mut effects = self.let_keys_out(now);
        effects.extend(self.open_lock(now));
        effects.extend(self.look(now));
        self.fade(now.hand_ms);
        self.note_forgotten(now.hand_ms);
        if self.alarm.rings_again(now.hand_ms) && self.bell_on() {
            effects.push(Effect::Ring);
        }
        effects
    }

    /// Looks at the board anew, as far as time has changed it.
    fn look(&mut self, now: &Now<'_>) -> Vec<Effect> {
        self.looked = self.looked.max(now.t);
        let t = self.looked;
        if self.board.next_change.is_none_or(|change| t < change) {
            self.board.now = whole_second(t);
            return Vec::new();
        }
        let after = self.board_at(t);
        // a jump is the painter's own: nothing changed under the thumb
        let by_time_alone = !std::mem::take(&mut self.jumped);
        if by_time_alone && after.next != self.board.next {
            let before = Timed { it: self.board.next.clone(), hand_ms: now.hand_ms };
            self.before_change = Some(before);
        }
        let rings = self.alarm.came_due(&self.board, &after, now.hand_ms);
        self.board = Board { now: whole_second(t), ..after };
        if rings && self.bell_on() { vec![Effect::Ring] } else { Vec::new() }
    }

    /// Looks at the board anew after something was told.
    fn look_anew(&mut self, t: Moment) {
        self.looked = self.looked.max(t);
        let t = self.looked;
        let faces = self.board.faces.len();
        self.board = Board { now: whole_second(t), ..self.board_at(t) };
        self.before_change = None;
        if self.board.faces.len() < faces {
            self.forget_faces();
        }
    }

    /// A part that had joined was taken back: what named one of its faces by number is over.
    fn forget_faces(&mut self) {
        let of_face =
            |asking: &Asking| matches!(asking, Asking::OtherFacts { .. } | Asking::Film { .. });
        self.asking = self.asking.take().filter(|asking| !of_face(asking));
        let of_face =
            |form: &Form| matches!(form.kind, FormKind::WetFilm(_) | FormKind::DryFilm(_));
        self.form = self.form.take().filter(|form| !of_face(form));
        self.picker = None;
    }

    fn bell_on(&self) -> bool {
        self.session.state().work.shop.bell
    }

    fn fade(&mut self, hand_ms: i64) {
        let old = |since: i64, span: i64| hand_ms - since >= span;
        self.chosen = self.chosen.take().filter(|chosen| !old(chosen.hand_ms, CHOICE_MS));
        self.said = self.said.take().filter(|said| !old(said.hand_ms, SAID_MS));
        self.leaving = self.leaving.filter(|since| !old(*since, LEAVE_MS));
        self.notices.retain(|notice| notice.it.stays() || !old(notice.hand_ms, NOTICE_MS));
        self.show_notices();
    }

    /// When, after `hand_ms`, something here changes by the hand's time alone, ms; besides the
    /// board's own changes.
    #[must_use]
    pub fn next_hand_ms(&self, hand_ms: i64) -> Option<i64> {
        let fading = self.notices.iter().filter(|notice| !notice.it.stays());
        let notices = fading.map(|notice| notice.hand_ms + NOTICE_MS);
        let others = [
            self.chosen.as_ref().map(|chosen| chosen.hand_ms + CHOICE_MS),
            self.said.as_ref().map(|said| said.hand_ms + SAID_MS),
            self.leaving.map(|since| since + LEAVE_MS),
            self.palm.next_out_ms(),
            self.lock.as_ref().and_then(KeyLock::opens_ms),
            self.alarm.next_ms(),
            Some(self.last_key_ms + GLANCE_MS),
        ];
        notices.chain(others.into_iter().flatten()).filter(|at_ms| *at_ms > hand_ms).min()
    }

    /// Adds a notice.
    pub fn notice(&mut self, it: Notice, hand_ms: i64) {
        self.notices.retain(|notice| notice.it != it);
        self.notices.push(Timed { it, hand_ms });
        self.show_notices();
    }

    fn show_notices(&mut self) {
        self.shown_notices = self.notices.iter().map(|notice| notice.it.clone()).collect();
    }

    /// The machine slept: written down, and told with what changed meanwhile.
    pub fn slept(&mut self, span: Span, now: &Now<'_>) -> Vec<Effect> {
        let before = self.board.clone();
        let mut effects = self.write(&Command::Slept { span }, None, now);
        // what came due in sleep calls on waking
        if self.alarm.came_due(&before, &self.board, now.hand_ms) && self.bell_on() {
            effects.push(Effect::Ring);
        }
        let news = self.news_since(&before);
        if span >= LONG_SLEEP && !matches!(self.board.next, Next::CoatOn { .. }) {
            self.awake = Some(span);
        }
        self.notice(Notice::Slept { span, news }, now.hand_ms);
        self.last_key_ms = now.hand_ms;
        effects
    }

    /// The wall clock was set: written down, and told.
    pub fn wall_clock_set(&mut self, by: Span, now: &Now<'_>) -> Vec<Effect> {
        let effects = self.write(&Command::WallClockSet { by }, None, now);
        self.notice(Notice::WallClockSet { by }, now.hand_ms);
        effects
    }

    /// The cans on the shelf: written down where they are not as they were seen last.
    pub fn see_cans(&mut self, cans: Vec<SeenCan>, now: &Now<'_>) -> Vec<Effect> {
        self.write(&Command::SeeStock { cans }, None, now)
    }

    /// Session time went on by more than the machine's clocks did: the next entry says anew where
    /// they stand.
    pub fn mark(&mut self, anchor: Option<Anchor>, now: &Now<'_>) {
        self.anchor = anchor.map(|it| (it, now.t));
    }

    /// The machine was started anew since the last entry: written down, and told.
    pub fn restarted(&mut self, away: Span, now: &Now<'_>) -> Vec<Effect> {
        let last = self.session.entries().last().map_or(now.t, |last| last.t_ms);
        let before = board(&self.session, last);
        let effects = self.write(&Command::Restarted { away }, None, now);
        let news = self.news_since(&before);
        self.notice(Notice::Restarted { away, news }, now.hand_ms);
        effects
    }

    /// The session goes on by this program's rules: written down where it named others, and told where
    /// they make an open clock otherwise.
    pub fn go_on_by_rules(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let changes = changed_by_rules(&self.session, now.t);
        if !changes.is_empty() {
            self.notice(Notice::Rules(changes), now.hand_ms);
        }
        let named = last_rules(&self.session) >= Rules::NOW;
        if named || self.reads_only() || self.session.state().closed.is_some() {
            return Vec::new();
        }
        self.write(&Command::Restarted { away: Span::default() }, None, now)
    }

    fn news_since(&self, before: &Board) -> Vec<News> {
        news(before, &self.board)
    }

    /// The writer says what became of an entry.
    pub fn written(&mut self, written: Written) {
        if self.reads_only() {
            return;
        }
        self.saved = match written {
            Written::Saved { n } if self.sent.is_none_or(|sent| n >= sent) => Saved::Saved,
            Written::Saved { .. } => match &self.saved {
                // one is through, and others wait behind it: what the disk said still stands
                Saved::NotSaved { .. } => self.saved.clone(),
                _ => Saved::Saving,
            },
            Written::Refused { waiting, why } => Saved::NotSaved { waiting, why },
        };
    }

    /// Whether another program, or none, writes this session.
    pub(super) const fn reads_only(&self) -> bool {
        matches!(self.saved, Saved::ReadOnly { .. })
    }

    /// Who writes the session along which this program reads: `holder`, or nobody any more.
    pub fn written_by(&mut self, holder: Option<&str>) {
        if let Saved::ReadOnly { why } = &mut self.saved {
            *why = match holder {
                Some(holder) => format!("{holder} has it open"),
                None => "its writer is gone: leave, and open it anew".to_owned(),
            };
        }
    }

    /// Entries that another program wrote, while this one reads along.
    pub fn follow(&mut self, entries: Vec<Entry>, now: &Now<'_>) {
        for entry in entries {
            self.session.apply(entry);
        }
        self.look_anew(now.t);
    }

    /// The other program took back a half-written line: the session is what it says now.
    pub fn replace(&mut self, session: Session, now: &Now<'_>) {
        self.session = session;
        self.look_anew(now.t);
    }
}

/// Countdowns are drawn as of the last whole second, so that all of them step together and one
/// drawing a second is enough.
fn whole_second(t: Moment) -> Moment {
    Moment::from_ms(t.ms().div_euclid(1000) * 1000)
}
