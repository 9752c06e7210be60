//! `boothside`: the full screen. `boothside rehearse`: the same on a simulated clock.

use std::io::Write;

use boothside_core::work::job::FullJob;
use boothside_store::book::load_job;
use boothside_store::printable_path;
use chrono::{DateTime, FixedOffset, NaiveDateTime, NaiveTime};
use clap::Args;

use crate::example::{EXAMPLE, example};
use crate::shell::clocks::paced::Pace;
use crate::shell::front::{self, Ended};
use crate::shell::opening::machine;
use crate::shell::places::Places;

/// The options of `boothside rehearse`.
#[derive(Debug, Clone, Args)]
pub struct RehearseArgs {
    /// A job of your own by the name of its file; without it the example
    pub job: Option<String>,
    /// How many times faster than the hand's time; + and - change it while it runs
    #[arg(long, default_value = "60")]
    pub pace: Pace,
    /// When the rehearsal's day begins: 07:30, or 2026-05-12T07:30; without it now
    #[arg(long, value_parser = parse_start)]
    pub start: Option<DateTime<FixedOffset>>,
}

/// Runs the full screen. Gives the exit status.
pub fn run(places: &Places, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    tell(front::run(places), out, err)
}

/// Rehearses. Gives the exit status.
pub fn rehearse(
    args: &RehearseArgs,
    places: &Places,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    let work = match job(args, places) {
        Ok(work) => work,
        Err(why) => {
            let _ = writeln!(err, "boothside rehearse: {why}");
            return 2;
        }
    };
    tell(front::rehearse(work, args.pace, args.start), out, err)
}

fn job(args: &RehearseArgs, places: &Places) -> Result<FullJob, String> {
    match args.job.as_deref() {
        None | Some(EXAMPLE) => example().map_err(|why| why.to_string()),
        Some(name) => load_job(&places.book(), name).map_err(|why| why.to_string()),
    }
}

fn tell(
    ended: Result<Ended, crate::shell::hall::HallError>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> u8 {
    // a terminal that is gone takes no words, and nobody is there to read them
    match ended {
        Ok(Ended { gone: true, unsaved, .. }) => u8::from(!unsaved.is_empty()),
        Ok(Ended { left, closed, unsaved, .. }) => {
            if let Some(path) = left {
                let path = printable_path(&path);
                let _ = match closed {
                    true => writeln!(out, "the session is closed: {path}"),
                    false => writeln!(out, "the session stays open and its clocks run on: {path}"),
                };
            }
            if unsaved.is_empty() {
                return 0;
            }
            let _ = writeln!(err, "NOT SAVED: the disk did not take entries {unsaved:?}");
            1
        }
        Err(why) => {
            let _ = writeln!(err, "boothside: {why}");
            2
        }
    }
}

/// `07:30` today, or a date with a time.
fn parse_start(text: &str) -> Result<DateTime<FixedOffset>, String> {
    let now = machine().read().wall;
    if let Ok(start) = DateTime::parse_from_rfc3339(text) {
        return Ok(start);
    }
    let date_time = ["%Y-%m-%dT%H:%M", "%Y-%m-%d %H:%M"]
        .iter()
        .find_map(|format| NaiveDateTime::parse_from_str(text, format).ok());
    let time = || NaiveTime::parse_from_str(text, "%H:%M").ok();
    date_time
        .or_else(|| time().map(|time| now.date_naive().and_time(time)))
        .and_then(|local| local.and_local_timezone(*now.offset()).single())
        .ok_or_else(|| "accepted: 07:30, or 2026-05-12T07:30".to_owned())
}
