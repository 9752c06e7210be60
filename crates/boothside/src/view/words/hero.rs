//! The clock that matters most, in words.

use boothside_core::board::{FaceRow, Waited};
use boothside_core::session::clocks::{Due, DueAt, Speed};
use boothside_core::session::standing::{FaceNow, FaceStanding, PotNow};

use super::Words;
use super::notice::reading_moves;
use super::time::Time;

/// The clock that matters most, or what the stage asks where none runs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeroWords {
    /// What stands largest: the number, or the word once it is due.
    pub big: String,
    /// Whether it is due and calls for the painter.
    pub due: bool,
    /// Whose it is: 'Fin · left', 'pot A'.
    pub subject: String,
    /// What happens then: 'look at 10:49'.
    pub verb: String,
    /// What else explains it, most important first.
    pub lines: Vec<String>,
}

impl Words<'_> {
    /// What explains what stands large, most important first.
    pub(super) fn explained(&self) -> Vec<String> {
        let clock = self.board.hero.as_ref().or(self.board.soonest.as_ref());
        let what = clock.map(|hero| &hero.what);
        let row = |face: &usize| self.board.faces.get(*face);
        let lines = match what {
            Some(Waited::Look { face } | Waited::Opens { face }) => match row(face) {
                Some(row) => {
                    let clock = if row.at.now == FaceNow::LayerDone { "gap" } else { "flash" };
                    [self.speed(clock, row.at.speed), recomputed(&row.at)]
                }
                None => [None, None],
            },
            Some(Waited::Closes { face }) => {
                let after = row(face).is_some_and(|row| row.at.now == FaceNow::Wipe);
                let then = if after { "then it must be sanded" } else { "then wipe or sand first" };
                [Some(then.to_owned()), row(face).and_then(|row| recomputed(&row.at))]
            }
            Some(Waited::LastTrigger { pot }) => [self.past_trigger(pot), None],
            Some(Waited::Condensing) => [Some(self.under_dew_point()), None],
            _ => [None, None],
        };
        let soonest = Some(self.soonest()).filter(|text| !text.is_empty());
        lines.into_iter().flatten().chain(self.stopped_clock()).chain(soonest).collect()
    }

    /// The first face whose clock does not run in this air, and why.
    fn stopped_clock(&self) -> Option<String> {
        let never = |row: &FaceRow| match row.at.until? {
            DueAt::Never(because) => Some(because),
            DueAt::At(_) => None,
        };
        let rows = self.board.faces.iter().enumerate();
        let (face, because) = rows.filter_map(|(face, row)| Some((face, never(row)?))).next()?;
        Some(format!("{}: {}", self.bare_face(face), self.never(because)))
    }

    fn under_dew_point(&self) -> String {
        let margin = self.board.air.margin_k.unwrap_or_default();
        let read = self.board.air.taken.map(|at| self.clock(at, Time::Past));
        let read = read.map(|at| format!(", read {at}")).unwrap_or_default();
        match self.figures().difference(-margin) {
            none if none == "0.0" => format!("at the dew point{read}"),
            under => format!("{under} below the dew point{read}"),
        }
    }

    fn past_trigger(&self, pot: &str) -> Option<String> {
        let row = self.board.pots.iter().find(|row| row.at.id == pot)?;
        let last = self.clock(row.at.last_trigger?, Time::Limit);
        let dead = row.at.dead.and_then(|due| due.moment())?;
        match row.at.now {
            PotNow::Dead => None,
            PotNow::StopAndClean => {
                let dead = self.clock(dead, Time::Limit);
                Some(format!("last trigger was {last} · dead at {dead}"))
            }
            _ => Some(format!("last trigger {last}")),
        }
    }

    /// How a clock runs against its sheet.
    #[must_use]
    pub fn speed(&self, clock: &str, speed: Option<Speed>) -> Option<String> {
        let figures = self.figures();
        Some(match speed? {
            Speed::Rate(rate) => format!("{clock} runs at {} of the sheet's speed", rate_of(rate)),
            Speed::AirNotKnown => "air not known: runs as stated".into(),
            Speed::StatedAt { stated_c, now_c: Some(now_c) } => {
                if (stated_c - now_c).abs() < 0.5 {
                    return None;
                }
                let now = figures.stated_temperature(now_c);
                format!("stated at {}, it is {now} now", figures.stated_temperature(stated_c))
            }
            Speed::StatedAt { stated_c, now_c: None } => {
                format!("stated at {}; air not known", figures.stated_temperature(stated_c))
            }
            Speed::BelowFloor { floor_c } => {
                let floor = figures.stated_temperature(floor_c);
                format!("{clock} stands: it does not run below {floor}")
            }
            Speed::CarriedOn(rate) => format!(
                "carried on beyond the sheet's table: {clock} at {} of its speed",
                rate_of(rate)
            ),
            Speed::HeldAtEnd(rate) => format!(
                "outside the sheet's table: its nearest line is used, {clock} at {} of its speed",
                rate_of(rate)
            ),
            Speed::OutsideFit(rate) => format!(
                "{clock} runs at about {} of the sheet's speed: a rough guess outside {} and 30 to 80 %",
                rate_of(rate),
                figures.about_temperatures((15.0, 30.0))
            ),
            Speed::Fixed => return None,
        })
    }
}

/// Which way the time of what is waited for is rounded.
pub(super) const fn time_of(what: &Waited) -> Time {
    match what {
        Waited::Closes { .. } | Waited::LastTrigger { .. } => Time::Limit,
        Waited::OnTheGun { .. }
        | Waited::Condensing
        | Waited::FanOff
        | Waited::Back
        | Waited::Away { .. } => Time::Past,
        // before a pot or a wipe is late, not after
        Waited::PotTime { .. } | Waited::WipeTime { .. } => Time::Limit,
        _ => Time::Wait,
    }
}

fn rate_of(rate: f64) -> String {
    format!("{rate:.2}")
}

/// Where a later reading makes the face's present edge otherwise.
fn recomputed(face: &FaceStanding) -> Option<String> {
    let until = face.until?;
    let edges = [face.look, face.opens, face.open_until, face.wipe_until];
    let edge: Due = edges.into_iter().flatten().find(|due| due.at == until)?;
    match (edge.at, edge.recomputed?) {
        (DueAt::At(at), DueAt::At(new)) => Some(reading_moves(new.since(at))),
        _ => Some("with the new reading it would not come".into()),
    }
}
