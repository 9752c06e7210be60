//! A whole sitting on clocks that are slept through, set, shifted and carried over midnight.

use std::path::PathBuf;
use std::time::Duration;

use boothside::example::example;
use boothside::shell::clocks::Clocks;
use boothside::shell::clocks::hand::HandClocks;
use boothside::shell::clocks::wall::Zone;
use boothside::shell::opening::{Ready, Tie, new_session};
use boothside::shell::seat::Seat;
use boothside::shell::time::Time;
use boothside::update::at_hand::AtHand;
use boothside::update::desk::{Effect, Pressed};
use boothside::update::scene::Notice;
use boothside::view::{self, theme::Theme};
use boothside_core::board::Next;
use boothside_core::session::Session;
use boothside_core::session::entry::{By, Entry};
use boothside_core::session::event::Event;
use boothside_core::session::time::{Moment, Span};
use boothside_store::log::{LogWriter, open};
use boothside_store::storage::RealDisk;
use chrono::{DateTime, FixedOffset, Offset, TimeZone, Utc};
use chrono_tz::{America::Chicago, Europe::Berlin, Tz};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use tempfile::TempDir;

struct In(Tz);

impl Zone for In {
    fn offset_at(&self, utc: DateTime<Utc>) -> FixedOffset {
        self.0.offset_from_utc_datetime(&utc.naive_utc()).fix()
    }
}

const MINUTE: u64 = 60;
const HOUR: u64 = 60 * MINUTE;
const DAY: u64 = 24 * HOUR;

/// A sitting: the program without its terminal.
pub(crate) struct Shop {
    clocks: HandClocks,
    zone: Tz,
    pub(crate) seat: Seat,
    log: Box<LogWriter<RealDisk>>,
    pub(crate) path: PathBuf,
    /// How often the bell rang.
    pub(crate) rings: u32,
    _folder: TempDir,
}

impl Shop {
    /// The example, opened when the wall shows `wall`.
    pub(crate) fn open(wall: &str, zone: Tz) -> Self {
        let wall = DateTime::parse_from_rfc3339(wall).expect("a time");
        let clocks = HandClocks::at(wall);
        let folder = tempfile::tempdir().expect("a folder");
        let time = Time::open(Box::new(clocks.clone())).in_zone(Box::new(In(zone)));
        let work = example().expect("the example");
        let Ok(mut ready) = new_session(folder.path(), work, time, false) else {
            panic!("a session")
        };
        let Tie::Writer(log) = std::mem::replace(&mut ready.tie, Tie::None) else {
            panic!("it writes")
        };
        let path = ready.path.clone();
        let (seat, effects) = Seat::take(ready, None);
        let mut shop = Self { clocks, zone, seat, log, path, rings: 0, _folder: folder };
        shop.carry_out(effects);
        shop
    }

    /// The program ends and is started again.
    pub(crate) fn restart(mut self) -> Self {
        drop(self.log);
        let opened = open(&RealDisk, &self.path).expect("sound");
        let (time, resumption) = Time::resume(Box::new(self.clocks.clone()), &opened.entries);
        let session = Session::open(opened.entries).expect("a session");
        let ready = Ready {
            session,
            time: time.in_zone(Box::new(In(self.zone))),
            tie: Tie::None,
            read_only: None,
            resumption,
            notices: Vec::new(),
            path: self.path.clone(),
            cans: None,
            at_hand: AtHand::default(),
        };
        let (seat, effects) = Seat::take(ready, None);
        self.seat = seat;
        self.log = Box::new(opened.writer);
        self.carry_out(effects);
        self
    }

    fn carry_out(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            match effect {
                Effect::Write(entry) => self.log.append(&entry).expect("saved"),
                Effect::Ring => self.rings += 1,
                other => panic!("{other:?}"),
            }
        }
    }

    fn tick(&mut self) {
        let effects = self.seat.pass();
        self.carry_out(effects);
        self.screen();
    }

    pub(crate) fn advance(&mut self, seconds: u64) -> &mut Self {
        self.clocks.advance(Duration::from_secs(seconds));
        self.tick();
        self
    }

    /// Seconds pass; nobody looks at the screen.
    pub(crate) fn seconds_pass(&mut self, seconds: u64) {
        self.clocks.advance(Duration::from_secs(seconds));
        let effects = self.seat.pass();
        self.carry_out(effects);
    }

    pub(crate) fn key(&mut self, key: Pressed) {
        let effects = self.seat.press(key);
        self.carry_out(effects);
        self.clocks.advance(Duration::from_millis(150));
        self.tick();
    }

    /// SPACE, after the second and a half in which it still does what was drawn before.
    pub(crate) fn space(&mut self) -> &mut Self {
        self.advance(2).key(Pressed::Char(' '));
        self
    }

    pub(crate) fn next(&self) -> Next {
        self.seat.desk.board().next.clone()
    }

    pub(crate) fn t(&self) -> Moment {
        self.seat.time.t
    }

    /// Until when SPACE waits.
    pub(crate) fn until(&self) -> Moment {
        match self.next() {
            Next::Wait { until, .. } => until.and_then(|due| due.moment()).expect("it comes"),
            other => panic!("{other:?}"),
        }
    }

    pub(crate) fn advance_to(&mut self, moment: Moment) {
        let ms = moment.since(self.t()).ms();
        self.clocks.advance(Duration::from_millis(u64::try_from(ms).expect("ahead")));
        self.tick();
    }

    /// Plays on by the next action until `stop`, a face in two minutes.
    pub(crate) fn play_until(&mut self, what: &str, stop: impl Fn(&Next) -> bool) {
        for _ in 0..400 {
            match self.next() {
                next if stop(&next) => return,
                Next::Wait { .. } => self.advance_to(self.until()),
                Next::CoatOn { .. } => {
                    self.advance(2 * MINUTE).space();
                }
                _ => self.answer(),
            }
        }
        panic!("never came: {what}, but {:?}", self.next());
    }

    /// Answers what is asked: by SPACE, and through a form where it wants figures.
    pub(crate) fn answer(&mut self) {
        match self.next() {
            Next::Reading { .. } => self.reading(),
            Next::CountMasks { .. } => self.count(),
            _ => {
                self.space();
            }
        }
    }

    /// Answers what is asked once a sitting and tells the parts rinsed: from then on they dry, for
    /// twelve hours.
    fn rinsed(&mut self) -> &mut Self {
        while let Next::Check { .. } | Next::SomeoneKnows = self.next() {
            self.answer();
        }
        assert!(matches!(self.next(), Next::Step { .. }), "{:?}", self.next());
        self.answer();
        assert_eq!(self.until().since(self.last().t_ms), Span::from_hours(12));
        self
    }

    pub(crate) fn screen(&self) -> String {
        let mut page = Terminal::new(TestBackend::new(100, 30)).expect("a page");
        let scene = self.seat.scene();
        page.draw(|frame| view::draw(frame, &scene, &Theme::new(true))).expect("drawn");
        let buffer = page.backend().buffer().clone();
        let line = |y| (0..100).map(|x| buffer[(x, y)].symbol().to_owned()).collect::<String>();
        (0..30).map(line).collect::<Vec<_>>().join("\n")
    }

    /// A reading, through its form.
    pub(crate) fn reading(&mut self) {
        self.space();
        for text in ["19.4C", "58", "18.8C"] {
            self.enter(text);
        }
    }

    /// Plugs and masks counted, through their form.
    fn count(&mut self) {
        self.space();
        self.enter("14");
        while self.seat.scene().form.is_some() {
            self.key(Pressed::Enter);
        }
    }

    /// A note, through its form.
    pub(crate) fn note(&mut self, text: &str) {
        self.advance(1).key(Pressed::Char('1'));
        self.key(Pressed::Char('n'));
        self.enter(text);
    }

    /// Takes the last key back.
    pub(crate) fn take_back(&mut self) {
        self.advance(1).key(Pressed::Char('u'));
    }

    fn enter(&mut self, text: &str) {
        for c in text.chars() {
            let effects = self.seat.press(Pressed::Char(c));
            self.carry_out(effects);
        }
        self.key(Pressed::Enter);
    }

    pub(crate) fn entries(&self) -> usize {
        self.seat.desk.session().entries().len()
    }

    fn last(&self) -> &Entry {
        self.seat.desk.session().entries().last().expect("an entry")
    }

    /// What the machine wrote down.
    fn by_machine(&self) -> Vec<Event> {
        let entries = self.seat.desk.session().entries().iter();
        let machine = entries.filter(|entry| entry.by == By::Machine);
        machine.flat_map(|entry| entry.events.clone()).collect()
    }

    fn notices(&self) -> Vec<Notice> {
        self.seat.scene().notices.to_vec()
    }
}

fn slept(seconds: u64) -> Event {
    Event::Slept { span_ms: Span::from_seconds(seconds as f64) }
}

fn set(by_ms: i64) -> Event {
    Event::WallClockSet { by_ms: Span::from_ms(by_ms) }
}

const MORNING: &str = "2026-05-12T07:00:00-05:00";

#[test]
fn a_wall_that_is_set_in_a_countdown_is_told_and_moves_no_due_time() {
    for by_ms in [3_600_000, -3_600_000, 86_400_000, -86_400_000] {
        let mut shop = Shop::open(MORNING, Chicago);
        shop.rinsed().advance(10 * MINUTE);
        let (until, t) = (shop.until(), shop.t());
        shop.clocks.jump_wall(by_ms);
        shop.tick();
        assert_eq!(shop.by_machine(), [set(by_ms)], "told, and not taken for sleep");
        assert!(matches!(shop.notices()[..], [.., Notice::WallClockSet { .. }]));
        assert_eq!((shop.until(), shop.t()), (until, t), "session time is as it was");
        shop.advance_to(Moment::from_ms(until.ms() - 1));
        assert_eq!(shop.until(), until);
        shop.advance_to(until);
        assert!(shop.next().is_action(), "due when the time has truly passed: {:?}", shop.next());
        let entries = shop.entries();
        shop.answer();
        assert_eq!(shop.entries(), entries + 1, "the answer is written");
        // the next entry tells the new wall, and the true time between
        let first = DateTime::parse_from_rfc3339(MORNING).expect("a time");
        let at = DateTime::parse_from_rfc3339(&shop.last().at).expect("a time");
        let by_wall = (at - first).num_milliseconds();
        assert_eq!(by_wall - shop.last().t_ms.ms(), by_ms);
    }
}

#[test]
fn sleep_is_told_apart_from_a_wall_that_was_set_and_both_at_once() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.rinsed().advance(MINUTE);
    let until = shop.until();
    shop.clocks.sleep(Duration::from_secs(HOUR));
    shop.tick();
    assert_eq!(shop.by_machine(), [slept(HOUR)]);
    shop.clocks.sleep(Duration::from_secs(DAY / 24));
    shop.clocks.jump_wall(-3_600_000);
    shop.tick();
    assert_eq!(shop.by_machine()[1..], [slept(HOUR), set(-3_600_000)]);
    assert_eq!(shop.until(), until, "the chemistry ran on");
}

#[test]
fn asleep_through_a_look_it_is_told_on_waking_with_one_bell() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.play_until("the first look", |next| matches!(next, Next::BeginCoat { coat: 1, .. }));
    while matches!(shop.next(), Next::BeginCoat { coat: 1, .. }) {
        shop.space().advance(2 * MINUTE).space();
    }
    let until = shop.until();
    let rings = shop.rings;
    shop.clocks.sleep(Duration::from_secs(2 * HOUR));
    shop.tick();
    assert!(shop.t() > until);
    assert_eq!(shop.by_machine(), [slept(2 * HOUR)]);
    let notices = shop.notices();
    let told = notices.iter().find_map(|notice| match notice {
        Notice::Slept { span, news } => Some((*span, news.clone())),
        _ => None,
    });
    let (span, news) = told.expect("it is told");
    assert_eq!(span, Span::from_hours(2));
    assert!(!news.is_empty(), "what came due meanwhile is told");
    assert!(shop.screen().contains("slept 2 h"), "{}", shop.screen());
    assert!(matches!(shop.next(), Next::Dulled { .. }), "{:?}", shop.next());
    assert_eq!(shop.rings, rings + 1, "what came due in sleep calls on waking");
}

#[test]
fn a_night_in_which_summer_time_ends_or_begins_is_as_long_as_it_is() {
    // Directive 2000/84/EC: 2026-10-25 and 2027-03-28, 01:00 UTC
    let nights = [
        ("2026-10-24T22:00:00+02:00", "09:01", "09:00", "+01:00"),
        ("2027-03-27T22:00:00+01:00", "11:01", "11:00", "+02:00"),
    ];
    for (evening, done, minute, offset) in nights {
        let mut shop = Shop::open(evening, Berlin);
        shop.rinsed();
        // rinsed some seconds past ten: what must dry is told to the next whole minute
        assert!(shop.screen().contains(&format!("must dry until Sun {done}")), "{}", shop.screen());
        for _ in 0..24 {
            assert!(!shop.next().is_action(), "{:?}", shop.next());
            shop.advance(HOUR / 2);
        }
        assert!(shop.next().is_action(), "{:?}", shop.next());
        assert_eq!(shop.by_machine(), [], "neither a jump nor sleep");
        let entries = shop.entries();
        shop.answer();
        assert_eq!(shop.entries(), entries + 1, "the answer is written");
        let at = &shop.last().at;
        assert!(at.contains(&format!("T{minute}")) && at.ends_with(offset), "{at}");
    }
}

#[test]
fn set_back_and_started_again_within_one_boot_nothing_is_lost() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.rinsed().advance(10 * MINUTE);
    let until = shop.until();
    shop.clocks.jump_wall(-86_400_000);
    shop.advance(MINUTE);
    let t = shop.t();
    let mut shop = shop.restart();
    assert_eq!(shop.by_machine(), [set(-86_400_000)], "told once");
    assert_eq!((shop.t(), shop.until()), (t, until));
    // set right while the program does not run
    shop.advance(MINUTE);
    shop.clocks.jump_wall(86_400_000);
    shop.clocks.advance(Duration::from_secs(MINUTE));
    let shop = shop.restart();
    assert_eq!(shop.by_machine().last(), Some(&set(86_400_000)));
    assert_eq!(shop.until(), until);
    assert_eq!(shop.t().since(t), Span::from_minutes(2));
}

#[test]
fn started_again_within_one_boot_the_clocks_have_run_on_and_not_ahead() {
    for before_the_first_key in [0, 10 * MINUTE, DAY] {
        let mut shop = Shop::open(MORNING, Chicago);
        shop.advance(before_the_first_key).space();
        shop.advance(HOUR);
        for _ in 0..3 {
            let t = shop.t();
            shop.clocks.sleep(Duration::from_secs(5 * MINUTE));
            shop = shop.restart();
            assert_eq!(shop.t().since(t), Span::from_minutes(5), "{before_the_first_key}");
            // a while before this start's first key as well
            shop.advance(7 * MINUTE);
            shop.note("noted");
            assert_eq!(shop.last().by, By::Key);
        }
    }
}

#[test]
fn a_wall_that_was_wrong_at_the_start_gives_back_what_it_hid_and_later_starts_keep_it() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.space().advance(HOUR);
    // switched off for two hours; without a battery its clock begins in the past
    shop.clocks.reboot(Duration::from_secs(2 * HOUR), "boot 2");
    shop.clocks.jump_wall(-1_000 * i64::try_from(400 * DAY).expect("small"));
    let held = shop.t();
    let last = shop.last().t_ms;
    let mut shop = shop.restart();
    assert_eq!(shop.t(), last, "how long it was is not known");
    shop.advance(MINUTE);
    shop.clocks.jump_wall(1_000 * i64::try_from(400 * DAY).expect("small"));
    shop.advance(MINUTE);
    let caught_up = held.plus(Span::from_minutes(122));
    assert_eq!(shop.t(), caught_up);
    // and again, within the same boot
    shop.clocks.sleep(Duration::from_secs(3 * HOUR));
    let shop = shop.restart();
    assert_eq!(shop.t(), caught_up.plus(Span::from_hours(3)));
}

#[test]
fn a_session_goes_over_midnight_and_new_year() {
    let mut shop = Shop::open("2026-12-31T22:00:00-06:00", Chicago);
    shop.rinsed();
    assert!(shop.screen().contains("until Fri 10:01"), "{}", shop.screen());
    for _ in 0..24 {
        shop.advance(HOUR / 2);
    }
    shop.key(Pressed::Char('1'));
    assert!(shop.screen().contains("Fri 1 Jan"), "{}", shop.screen());
    shop.answer();
    assert!(shop.last().at.starts_with("2027-01-01T10:00"), "{}", shop.last().at);
    assert_eq!(shop.by_machine(), []);
    let shop = shop.restart();
    assert_eq!(shop.by_machine(), []);
    assert!(shop.path.ends_with("2026-12-31-float-set.jsonl"), "{}", shop.path.display());
}

#[test]
fn thirty_days_between_layers_are_told_and_the_window_is_closed() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.play_until("the second layer", |next| {
        matches!(next, Next::Check { layer: 2, .. } | Next::BeginCoat { layer: 2, .. })
    });
    // nobody can tell when the program ended: the last entry counts
    let before = shop.last().t_ms;
    let since = shop.t().since(before).ms();
    // the laptop is switched off for a month
    shop.clocks.reboot(Duration::from_secs(30 * DAY), "boot 2");
    let mut shop = shop.restart();
    let span = Span::from_ms(Span::from_hours(24 * 30).ms() + since);
    let away = Event::Restarted { away_ms: span, rules: 2 };
    assert_eq!(shop.by_machine().last(), Some(&away), "{:?}", shop.by_machine());
    assert_eq!(shop.t().since(before), span);
    assert!(shop.notices().iter().any(|notice| matches!(notice, Notice::Restarted { .. })));
    let shown = shop.screen();
    assert!(shown.contains("30 d"), "{shown}");
    for _ in 0..60 {
        shop.advance(6 * HOUR).space();
    }
    assert_eq!(shop.by_machine().len(), 1);
}

#[test]
fn keys_that_are_taken_late_count_from_when_they_were_read() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.advance(5);
    let before = shop.t();
    // the loop is held up: keys are read, five seconds apart, and wait
    let mut read = Vec::new();
    for key in ['p', '2', 'p'] {
        shop.clocks.advance(Duration::from_secs(5));
        read.push((key, shop.clocks.read()));
    }
    shop.advance(8);
    for (key, look) in &read {
        let effects = shop.seat.press_at(Pressed::Char(*key), look);
        shop.carry_out(effects);
    }
    shop.advance(1);
    let told: Vec<_> = shop.seat.desk.session().entries().iter().skip(1).collect();
    // a key counts from when it could be no palm any more, a tenth of a second later
    let at = |seconds: f64| before.plus(Span::from_seconds(seconds));
    assert_eq!(told.len(), 2, "no palm: {told:?}");
    assert_eq!((told[0].t_ms, told[1].t_ms), (at(10.1), at(15.1)));
    assert!(matches!(told[0].events.as_slice(), [Event::Paused { .. }]));
    assert!(matches!(told[1].events.as_slice(), [Event::Resumed {}]));
    assert_eq!(shop.by_machine(), [], "nothing was taken for sleep or a wall that was set");
}

#[test]
fn a_key_that_is_read_after_a_sleep_and_taken_before_it_is_told_comes_after_it() {
    let mut shop = Shop::open(MORNING, Chicago);
    shop.advance(5);
    shop.clocks.sleep(Duration::from_secs(HOUR));
    let look = shop.clocks.read();
    shop.clocks.advance(Duration::from_secs(1));
    let effects = shop.seat.press_at(Pressed::Char('p'), &look);
    shop.carry_out(effects);
    shop.advance(1).key(Pressed::Char('2'));
    assert!(matches!(shop.by_machine()[..], [Event::Slept { .. }]), "{:?}", shop.by_machine());
    assert!(matches!(shop.last().events.as_slice(), [Event::Paused { .. }]));
}
