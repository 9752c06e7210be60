//! What is left of a face's clock, and until when its window is open.

use boothside_core::board::FaceRow;
use boothside_core::session::clocks::{Due, DueAt};
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::Moment;

use crate::view::text::columns;
use crate::view::words::Words;
use crate::view::words::state::cure_from;
use crate::view::words::time::{Time, clocked};

/// A countdown with its bar.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Countdown {
    pub(super) text: String,
    /// What is left, 0 to 1; nothing where no bar is drawn.
    pub(super) share: Option<f64>,
}

/// What is left of `to` since `from`, 0 to 1.
pub(super) fn share(from: Moment, to: Moment, now: Moment) -> f64 {
    let all = to.since(from).seconds();
    if all > 0.0 { (to.since(now).seconds() / all).clamp(0.0, 1.0) } else { 0.0 }
}

/// The countdown of a face, away or not. On the gun it counts up, and past its look as well.
pub(super) fn countdown(words: &Words<'_>, row: &FaceRow) -> Countdown {
    let at = &row.at;
    let up = |from: Moment| clocked(words.now().since(from), Time::Past);
    match at.film {
        FaceNow::Bare | FaceNow::Sand | FaceNow::Away | FaceNow::Left => Countdown::default(),
        FaceNow::OnTheGun => Countdown { text: at.begun.map(up).unwrap_or_default(), share: None },
        FaceNow::Look => {
            let since = at.look.and_then(|look| look.moment());
            let text = since.map(|since| format!("+{}", up(since))).unwrap_or_default();
            Countdown { text, share: None }
        }
        FaceNow::Finished => match next_cure(words, row) {
            Some((_, DueAt::At(until))) => running(words, (at.finished, Time::Wait), until),
            _ => Countdown::default(),
        },
        FaceNow::Flashing | FaceNow::LayerDone => {
            ends(words, (at.since.or(at.finished), Time::Wait), at.until)
        }
        FaceNow::Open | FaceNow::Closing | FaceNow::Wipe => {
            ends(words, (at.since.or(at.begun), Time::Limit), at.until)
        }
    }
}

fn ends(words: &Words<'_>, from: (Option<Moment>, Time), until: Option<DueAt>) -> Countdown {
    match until {
        Some(DueAt::At(until)) => running(words, from, until),
        Some(DueAt::Never(_)) => Countdown { text: "stopped".into(), share: None },
        None => Countdown::default(),
    }
}

fn running(words: &Words<'_>, (from, time): (Option<Moment>, Time), until: Moment) -> Countdown {
    let share = from.map(|from| share(from, until, words.now()));
    Countdown { text: words.left_until(until, time), share }
}

/// The next stage of cure of a face that has its last coat.
fn next_cure(
    words: &Words<'_>,
    row: &FaceRow,
) -> Option<(boothside_core::material::sheet::CureStage, DueAt)> {
    let open = row.at.cure.iter().map(|cure| (cure.stage, cure.due.at));
    let open = open.filter(|(_, at)| at.moment().is_none_or(|at| at > words.now()));
    open.min_by_key(|(stage, at)| (at.moment().unwrap_or(Moment::from_ms(i64::MAX)), *stage))
}

/// Until when the window is open, or what comes instead, in `width` columns: 'open to 14:24', 'wipe
/// to Wed 02:24', 'full cure Tue'.
pub(super) fn window(words: &Words<'_>, row: &FaceRow, width: u16) -> String {
    let at = &row.at;
    if let Some(turn) = at.turn.filter(|_| !at.now.is_absent()) {
        return match turn.ready {
            _ if turn.may_be_turned => "may be turned".into(),
            Some(ready) => fitting(words, ["turn", "turn"], (ready, Time::Wait), width),
            None => "turned later".into(),
        };
    }
    let edge = |name: [&str; 2], due: Option<DueAt>| {
        let moment = due.and_then(DueAt::moment);
        moment.map_or_else(String::new, |moment| fitting(words, name, (moment, Time::Limit), width))
    };
    let due = |due: Option<Due>| due.map(|due| due.at);
    let (open, wipe) = (["open to", "to"], ["wipe to", "to"]);
    match at.film {
        FaceNow::Bare | FaceNow::OnTheGun | FaceNow::Sand | FaceNow::Away | FaceNow::Left => {
            String::new()
        }
        FaceNow::Flashing | FaceNow::Look | FaceNow::LayerDone => edge(open, due(at.open_until)),
        FaceNow::Open | FaceNow::Closing => edge(open, at.until),
        FaceNow::Wipe => edge(wipe, due(at.wipe_until.or(at.open_until))),
        FaceNow::Finished => match next_cure(words, row) {
            Some((stage, DueAt::At(at))) => {
                fitting(words, [cure_from(stage); 2], (at, Time::Wait), width)
            }
            Some((stage, DueAt::Never(_))) => format!("{}: stopped", cure_from(stage)),
            None => "cured".into(),
        },
    }
}

/// A name and a time: the name shortened, or the time of another day left out, where that must be.
fn fitting(
    words: &Words<'_>,
    [name, short]: [&str; 2],
    (at, time): (Moment, Time),
    width: u16,
) -> String {
    let clock = words.clock(at, time);
    let day = words.other_day(at).unwrap_or_else(|| clock.clone());
    let tries = [format!("{name} {clock}"), format!("{short} {clock}"), format!("{name} {day}")];
    let fits = tries.iter().find(|text| columns(text) <= width);
    fits.cloned().unwrap_or_else(|| format!("{short} {day}"))
}
