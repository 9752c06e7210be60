//! Cans and logs in a folder.

use std::fs;

use boothside_core::physics::rate::Rules;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::entry::{By, Seen};
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::session::{Told, decide};
use boothside_core::{material::recipe, session};
use boothside_store::book::save;
use boothside_store::log::LogWriter;
use chrono_tz::America::Chicago;
use chrono_tz::Tz;

use super::*;
use crate::example::example;

struct In(Tz);

impl Zone for In {
    fn offset_at(&self, utc: DateTime<Utc>) -> chrono::FixedOffset {
        use chrono::Offset;
        utc.with_timezone(&self.0).offset().fix()
    }
}

/// A data folder with the cans `cans`.
struct Data {
    root: tempfile::TempDir,
}

fn base(left_ml: f64, counted: &str) -> Can {
    Can {
        format: 1,
        name: "Grey primer base, big tin".into(),
        sheet: "grey-primer".into(),
        component: "Base".into(),
        left_ml: Some(left_ml),
        counted: Some(counted.into()),
        ..Can::default()
    }
}

impl Data {
    fn new() -> Self {
        let root = tempfile::tempdir().expect("a folder");
        fs::create_dir_all(root.path().join("sessions")).expect("made");
        let data = Self { root };
        let sheet = &example().expect("the example").sheets["grey-primer"];
        save(&data.book(), "grey-primer", sheet).expect("kept");
        data
    }

    fn book(&self) -> FolderShelf<RealDisk> {
        FolderShelf::new(RealDisk, self.root.path())
    }

    fn put(&self, name: &str, can: &Can) {
        save(&self.book(), name, can).expect("kept");
    }

    fn look(&self, except: Option<&Path>) -> Stock {
        look(&self.book(), &self.root.path().join("sessions"), except)
    }

    fn left_ml(&self, name: &str) -> f64 {
        let stock = self.look(None);
        let can = stock.cans.iter().find(|on| on.file == name).expect("the can");
        can.level.left.ml.expect("known")
    }

    /// A session that opened at `at`, with the cans that it sees.
    fn session(&self, name: &str, at: &str, rehearsal: bool) -> Sitting {
        let work = example().expect("the example");
        let opening = Opening {
            format: LOG_FORMAT,
            rules: Rules::NOW.number(),
            rehearsal,
            work,
            factors: [].into(),
        };
        let first = Entry {
            n: 0,
            t_ms: Moment::OPENING,
            at: at.into(),
            by: By::Key,
            when_ms: None,
            events: vec![Event::Opened(Box::new(opening))],
            breaks: Vec::new(),
            seen: Seen::default(),
            anchor: None,
        };
        let folder = self.root.path().join("sessions");
        let writer = LogWriter::create(&RealDisk, &folder, name, &first).expect("a log");
        let session = Session::open(vec![first]).expect("a session");
        let mut sitting = Sitting { session, writer, opened: at.into(), t: Moment::OPENING };
        let path = sitting.writer.path().to_owned();
        let cans = self.look(Some(&path)).seen_by(&sitting.session, &In(Chicago));
        sitting.tell(&Command::SeeStock { cans });
        sitting
    }
}

struct Sitting {
    session: Session,
    writer: LogWriter<RealDisk>,
    opened: String,
    t: Moment,
}

impl Sitting {
    fn tell(&mut self, command: &Command) -> u64 {
        let opened = instant(&self.opened).expect("a time");
        let at = opened + TimeDelta::milliseconds(self.t.ms());
        let told = Told::now(self.t, at.to_rfc3339());
        let entry = decide(&self.session, command, &told).expect("told");
        self.writer.append(&entry).expect("room");
        let n = entry.n;
        self.session.apply(entry);
        n
    }

    fn pour(&mut self, minutes: i64, ml: f64) -> u64 {
        self.t = Moment::OPENING.plus(Span::from_minutes(minutes));
        let amount = Poured::Amount(recipe::Told { g: None, ml: Some(ml) });
        self.tell(&Command::Pour { pot: None, layer: 1, component: 0, amount })
    }
}

fn near(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

#[test]
fn two_sessions_draw_from_one_can() {
    let data = Data::new();
    data.put("grey-base", &base(1000.0, "2026-05-01T08:00:00-05:00"));
    let mut first = data.session("2026-05-12-one", "2026-05-12T08:00:00-05:00", false);
    let poured = first.pour(10, 160.0);
    assert!(near(data.left_ml("grey-base"), 840.0));
    let mut second = data.session("2026-05-13-two", "2026-05-13T08:00:00-05:00", false);
    let seen = &second.session.state().stock.cans["grey-base"];
    assert_eq!(seen.left_ml, Some(840.0), "what the other one drew is gone");
    second.pour(10, 100.0);
    assert!(near(data.left_ml("grey-base"), 740.0));
    // the first one sees the second's pour when it goes on, and its own counts once
    let path = first.writer.path().to_owned();
    let cans = data.look(Some(&path)).seen_by(&first.session, &In(Chicago));
    assert_eq!(cans[0].left_ml, Some(900.0));
    first.tell(&Command::SeeStock { cans });
    let state = first.session.state();
    let level = session::stock::level_of(state, &state.stock.cans["grey-base"]);
    assert_eq!(level.left.ml, Some(740.0));
    first.tell(&Command::Strike { n: poured });
    assert!(near(data.left_ml("grey-base"), 900.0), "taken back, it is in the can again");
    assert!(data.look(None).cans[0].used);
}

#[test]
fn only_what_was_poured_after_the_count_is_drawn() {
    let data = Data::new();
    data.put("grey-base", &base(1000.0, "2026-05-01T08:00:00-05:00"));
    let mut sitting = data.session("2026-05-12-one", "2026-05-12T08:00:00-05:00", false);
    sitting.pour(10, 160.0);
    sitting.pour(40, 50.0);
    let left = recipe::Told { g: None, ml: Some(830.0) };
    let again = base(0.0, "2026-05-01T08:00:00Z").counted(left, 0.0, "2026-05-12T13:20:00Z");
    data.put("grey-base", &again);
    assert!(near(data.left_ml("grey-base"), 780.0));
}

#[test]
fn a_rehearsal_draws_nothing() {
    let data = Data::new();
    data.put("grey-base", &base(1000.0, "2026-05-01T08:00:00-05:00"));
    data.session("2026-05-12-one", "2026-05-12T08:00:00-05:00", true).pour(10, 160.0);
    let stock = data.look(None);
    assert!(near(data.left_ml("grey-base"), 1000.0));
    assert_eq!((stock.cans[0].used, stock.not_exact()), (false, None));
}

#[test]
fn a_damaged_log_counts_as_far_as_it_can_be_read_and_is_told() {
    let data = Data::new();
    data.put("grey-base", &base(1000.0, "2026-05-01T08:00:00-05:00"));
    let mut sitting = data.session("2026-05-12-one", "2026-05-12T08:00:00-05:00", false);
    sitting.pour(10, 160.0);
    sitting.pour(20, 43.75);
    let path = sitting.writer.path().to_owned();
    drop(sitting);
    let text = fs::read_to_string(&path).expect("the log").replace("43.75", "43.76");
    fs::write(&path, text).expect("spoilt");
    let stock = data.look(None);
    assert!(near(data.left_ml("grey-base"), 840.0));
    let told = stock.not_exact().expect("told");
    assert!(told.contains("2026-05-12-one.jsonl is damaged from line 4 on"), "{told}");
}

#[test]
fn a_session_that_goes_on_after_damage_draws_once() {
    let data = Data::new();
    data.put("grey-base", &base(1000.0, "2026-05-01T08:00:00-05:00"));
    let mut sitting = data.session("2026-05-12-one", "2026-05-12T08:00:00-05:00", false);
    sitting.pour(10, 160.0);
    sitting.pour(20, 43.75);
    let path = sitting.writer.path().to_owned();
    drop(sitting);
    let text = fs::read_to_string(&path).expect("the log").replace("43.75", "43.76");
    fs::write(&path, text).expect("spoilt");
    let Err(boothside_store::log::OpenError::Damaged(damage)) =
        boothside_store::log::open(&RealDisk, &path)
    else {
        panic!("damaged");
    };
    let at = "2026-05-12T09:00:00-05:00".to_owned();
    let stamp = boothside_store::log::Stamp { t_ms: Moment::from_ms(3_600_000), at, anchor: None };
    drop(boothside_store::log::continue_after(&RealDisk, &damage, stamp).expect("goes on"));
    assert!(near(data.left_ml("grey-base"), 840.0));
    assert_eq!(data.look(None).not_exact(), None);
}

#[test]
fn a_can_that_cannot_be_read_is_told_and_the_others_count() {
    let data = Data::new();
    data.put("grey-base", &base(1000.0, "2026-05-01T08:00:00-05:00"));
    fs::write(data.root.path().join("cans/tin.json"), "{").expect("written");
    let stock = data.look(None);
    assert_eq!(stock.cans.len(), 1);
    assert!(stock.not_exact().is_some_and(|told| told.contains("tin")), "{stock:?}");
}

#[test]
fn a_retired_can_and_one_of_another_material_are_not_seen() {
    let data = Data::new();
    let counted = "2026-05-01T08:00:00-05:00";
    data.put("a", &Can { retired: true, ..base(500.0, counted) });
    data.put("b", &Can { sheet: "another".into(), ..base(500.0, counted) });
    data.put("c", &base(500.0, counted));
    let sitting = data.session("2026-05-12-one", "2026-05-12T08:00:00-05:00", false);
    assert_eq!(sitting.session.state().stock.shelf, ["c"]);
}

#[test]
fn a_date_ends_with_its_day_or_month_in_the_shops_zone() {
    let at = |date| ends(date, &In(Chicago)).map(|at| at.to_rfc3339());
    assert_eq!(at("2026-05").as_deref(), Some("2026-06-01T05:00:00+00:00"));
    assert_eq!(at("2026-12").as_deref(), Some("2027-01-01T06:00:00+00:00"));
    assert_eq!(at("2026-05-12").as_deref(), Some("2026-05-13T05:00:00+00:00"));
    assert_eq!(at("never"), None);
    // a zone that shifts at midnight: that day begins at one o'clock
    let beirut = ends("2021-03-27", &In(chrono_tz::Asia::Beirut)).map(|at| at.to_rfc3339());
    assert_eq!(beirut.as_deref(), Some("2021-03-27T22:00:00+00:00"));
}
