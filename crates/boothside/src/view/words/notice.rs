//! Notices: what is to be told besides the clocks.

use boothside_core::board::{News, OutOfLimits};
use boothside_core::session::standing::{FaceNow, PotNow};
use boothside_core::session::time::Span;
use boothside_core::session::{Refusal, Ruled, RulesChange};

use super::Words;
use super::event::moved;
use super::state::{cure_from, face_became};
use super::time::{Time, spoken};
use crate::update::scene::{ActivatorIn, Notice};
use crate::view::text::clean;

/// Most clocks that are named one by one.
const MOST_CHANGES: usize = 3;

/// How loud a notice is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Loud {
    /// Told, and no more.
    Calm,
    /// Something to mind.
    Caution,
}

impl Words<'_> {
    /// A notice.
    #[must_use]
    pub fn notice(&self, notice: &Notice) -> (String, Loud) {
        match notice {
            Notice::Refused(refusal) => (self.refusal(refusal), Loud::Caution),
            Notice::OnlyWaiting => ("nothing to do yet".into(), Loud::Calm),
            Notice::Slept { span, news } => (
                self.with_news(&format!("the laptop slept {}", spoken(*span, Time::Past)), news),
                Loud::Caution,
            ),
            Notice::WallClockSet { by } => (wall_clock_set(*by), Loud::Calm),
            Notice::Rules(changes) => (self.rules_changes(changes), Loud::Caution),
            Notice::Restarted { away, news } => {
                let away = closed_for(*away);
                (self.with_news(&away, news), Loud::Caution)
            }
            Notice::ReadingMoves { face, by } => {
                (format!("{}: {}", self.face(*face), reading_moves(*by)), Loud::Calm)
            }
            Notice::TrueTime { activator, news, moved } => {
                (self.true_time(activator.as_ref(), news, moved), Loud::Calm)
            }
            Notice::Torn { .. } | Notice::Palm | Notice::Text(_) => without_names(notice),
        }
    }

    /// What follows from a true time: 'Base is now the later one: activator in 07:40'.
    fn true_time(
        &self,
        activator: Option<&ActivatorIn>,
        news: &[News],
        moved: &[(usize, Span)],
    ) -> String {
        let activator = activator.map(|activator| {
            let at = format!("activator in {}", self.clock(activator.at, Time::Past));
            match &activator.later {
                Some(later) => format!("{} is now the later one: {at}", clean(later)),
                None => format!("{}: {at}", self.pot(&activator.pot)),
            }
        });
        let mut alike: Vec<(Span, Vec<usize>)> = Vec::new();
        for (face, by) in moved {
            match alike.iter_mut().find(|(of, _)| of == by) {
                Some((_, faces)) => faces.push(*face),
                None => alike.push((*by, vec![*face])),
            }
        }
        let faces = alike.into_iter().map(|(by, faces)| {
            let way = if by.ms() < 0 { "earlier" } else { "later" };
            format!("{} {} {way}", self.faces(&faces), spoken(by, Time::Past))
        });
        let told: Vec<String> = activator.into_iter().chain(self.news(news)).chain(faces).collect();
        if told.is_empty() { "no clock here changes by it".into() } else { told.join(" · ") }
    }

    /// What this version's rules make of open clocks: 'rules of this version: Fin · left opens 15:10,
    /// before 14:24'.
    fn rules_changes(&self, changes: &[RulesChange]) -> String {
        let told = changes.iter().take(MOST_CHANGES).map(|change| self.rules_change(change));
        let mut told: Vec<String> = told.collect();
        if changes.len() > MOST_CHANGES {
            told.push(format!("and {} more", changes.len() - MOST_CHANGES));
        }
        format!("rules of this version: {}", told.join("; "))
    }

    fn rules_change(&self, change: &RulesChange) -> String {
        let clock = match &change.of {
            Ruled::Look(face) => format!("{} look at", self.face(*face)),
            Ruled::Opens(face) => format!("{} opens", self.face(*face)),
            Ruled::OpenUntil(face) => format!("{} closes", self.face(*face)),
            Ruled::WipeUntil(face) => format!("{} wipe until", self.face(*face)),
            Ruled::Cure(face, stage) => format!("{} {}", self.face(*face), cure_from(*stage)),
            Ruled::Stand(pot) => format!("{} stands until", self.pot(pot)),
            Ruled::LastTrigger(pot) => format!("{} last trigger", self.pot(pot)),
            Ruled::Step(step) => format!("{} waits until", self.step(step)),
        };
        let colon = if change.now.moment().is_none() { ":" } else { "" };
        let time = match change.of {
            Ruled::OpenUntil(_) | Ruled::WipeUntil(_) | Ruled::LastTrigger(_) => Time::Limit,
            _ => Time::Wait,
        };
        let [now, before] = [change.now, change.before].map(|due| self.due(due, time));
        format!("{clock}{colon} {now}, before {before}")
    }

    fn with_news(&self, told: &str, news: &[News]) -> String {
        if news.is_empty() {
            return format!("{told}; no clock came due meanwhile");
        }
        format!("{told}: {}", self.news(news).join(", "))
    }

    /// What changed; faces that became the same are told together.
    #[must_use]
    pub fn news(&self, news: &[News]) -> Vec<String> {
        let mut same: Vec<(FaceNow, Vec<usize>)> = Vec::new();
        let mut pots = Vec::new();
        for news in news {
            match news {
                News::Face { face, now } => match same.iter_mut().find(|(of, _)| of == now) {
                    Some((_, faces)) => faces.push(*face),
                    None => same.push((*now, vec![*face])),
                },
                News::Pot { pot, now } => {
                    pots.push(format!("{} {}", self.pot(pot), pot_became(*now)));
                }
            }
        }
        let faces = same.into_iter().map(|(now, faces)| {
            let became = face_became(now);
            let became = if faces.len() > 1 { many(became) } else { became.to_owned() };
            format!("{} {became}", self.faces(&faces))
        });
        faces.chain(pots).collect()
    }

    /// Why a command was not written down.
    #[must_use]
    pub fn refusal(&self, refusal: &Refusal) -> String {
        match refusal {
            Refusal::Held(holds) => {
                let holds: Vec<String> = holds.iter().map(|hold| self.hold(hold).what).collect();
                format!("held: {}", holds.join("; "))
            }
            Refusal::Future { nearest } => {
                let nearest = self.clock_to_the_second(*nearest);
                format!("that is still to come; the latest possible time is {nearest}")
            }
            Refusal::OutOfOrder { nearest } => {
                let nearest = self.clock_to_the_second(*nearest);
                format!("not possible then; the nearest possible time is {nearest}")
            }
            Refusal::OnTheGun => "that face is on the gun already".into(),
            Refusal::Nothing => "there is nothing to apply this to".into(),
            Refusal::InTheJob { part } => format!("{} is in this job already", self.part(part)),
            Refusal::Figure { .. } | Refusal::NotThere { .. } | Refusal::Unfit(_) => {
                clean(&format!("not taken: {refusal}"))
            }
            Refusal::Outside { field, .. } | Refusal::NotMore { field, .. } => {
                let units = self.session.state().work.shop.units;
                let clock = |at| self.clock_to_the_second(at);
                let why = crate::forms::refused(refusal, "", units, clock);
                clean(&format!("not taken: {field}: {why}"))
            }
        }
    }

    /// What lies outside the sheet, and whether water condenses.
    #[must_use]
    pub fn out_of_limits(&self, outside: &OutOfLimits) -> String {
        let figures = self.figures();
        match outside {
            OutOfLimits::TooCold { limit_c, read_c } => format!(
                "too cold: {}; the sheet says {} or more",
                figures.temperature(*read_c),
                figures.stated_temperature(*limit_c)
            ),
            OutOfLimits::TooWarm { limit_c, read_c } => format!(
                "too warm: {}; the sheet says {} or less",
                figures.temperature(*read_c),
                figures.stated_temperature(*limit_c)
            ),
            OutOfLimits::TooDry { limit_pct, read_pct } => format!(
                "too dry: {}; the sheet says {} or more",
                figures.humidity(*read_pct),
                figures.humidity(*limit_pct)
            ),
            OutOfLimits::TooHumid { limit_pct, read_pct } => format!(
                "too humid: {}; the sheet says {} or less",
                figures.humidity(*read_pct),
                figures.humidity(*limit_pct)
            ),
            OutOfLimits::NearDewPoint { margin_k, .. } if *margin_k < 0.0 => format!(
                "WATER CONDENSES ON THE PART: {} under the dew point",
                figures.difference(-margin_k)
            ),
            OutOfLimits::NearDewPoint { wanted_k, margin_k } => format!(
                "too near to the dew point: {} over it; {} wanted",
                figures.difference(*margin_k),
                figures.difference(*wanted_k)
            ),
            OutOfLimits::PaintTooCold { limit_c, read_c } => format!(
                "paint too cold: {}; the sheet says {} or more",
                figures.temperature(*read_c),
                figures.stated_temperature(*limit_c)
            ),
            OutOfLimits::PaintTooWarm { limit_c, read_c } => format!(
                "paint too warm: {}; the sheet says {} or less",
                figures.temperature(*read_c),
                figures.stated_temperature(*limit_c)
            ),
        }
    }
}

/// What a later reading does to the announced edges of several faces.
#[must_use]
pub fn readings_move(moves: &[Span]) -> String {
    let (earlier, later) = (moves.iter().min(), moves.iter().max());
    let (earlier, later) =
        (earlier.copied().filter(|by| by.ms() < 0), later.copied().filter(|by| by.ms() > 0));
    let told = |by: Span, way: &str| format!("up to {} {way}", spoken(by, Time::Wait));
    let told: Vec<String> =
        [earlier.map(|by| told(by, "earlier")), later.map(|by| told(by, "later"))]
            .into_iter()
            .flatten()
            .collect();
    format!("the new reading moves {} faces: {}", moves.len(), told.join(", "))
}

/// What a later reading does to an announced edge.
#[must_use]
pub fn reading_moves(by: Span) -> String {
    let way = if by.ms() < 0 { "earlier" } else { "later" };
    format!("the new reading makes it {} {way}", spoken(by, Time::Past))
}

/// 'is open' of several.
fn many(became: &str) -> String {
    match (became.strip_prefix("is "), became.strip_prefix("has its ")) {
        (Some(rest), _) => format!("are {rest}"),
        (_, Some(rest)) => format!("have their {rest}"),
        _ => became.to_owned(),
    }
}

fn closed_for(away: Span) -> String {
    format!("closed for {}; the clocks ran on", spoken(away, Time::Past))
}

fn wall_clock_set(by: Span) -> String {
    format!("the wall clock was set {}: no clock here changes", moved(by))
}

fn without_names(notice: &Notice) -> (String, Loud) {
    match notice {
        Notice::Torn { file, bytes } => {
            let told = format!("the log had a torn end: {bytes} bytes put aside in {file}");
            (clean(&told), Loud::Caution)
        }
        Notice::Palm => ("several keys at once, all ignored".into(), Loud::Calm),
        Notice::Text(text) => (clean(text), Loud::Calm),
        _ => (String::new(), Loud::Calm),
    }
}

/// A notice where there is no session to name faces from.
#[must_use]
pub fn notice_without_session(notice: &Notice) -> (String, Loud) {
    match notice {
        Notice::Refused(refusal) => (clean(&refusal.to_string()), Loud::Caution),
        Notice::OnlyWaiting => ("nothing to do yet".into(), Loud::Calm),
        Notice::Slept { span, .. } => {
            (format!("the laptop slept {}", spoken(*span, Time::Past)), Loud::Calm)
        }
        Notice::WallClockSet { by } => (wall_clock_set(*by), Loud::Calm),
        Notice::Rules(changes) => {
            (format!("the rules of this version change {} clocks", changes.len()), Loud::Caution)
        }
        Notice::Restarted { away, .. } => (closed_for(*away), Loud::Calm),
        Notice::ReadingMoves { by, .. } => (reading_moves(*by), Loud::Calm),
        Notice::TrueTime { .. } => (String::new(), Loud::Calm),
        Notice::Torn { .. } | Notice::Palm | Notice::Text(_) => without_names(notice),
    }
}

const fn pot_became(now: PotNow) -> &'static str {
    match now {
        PotNow::Standing => "stands",
        PotNow::Good => "is good",
        PotNow::StopAndClean => "is past its last trigger",
        PotNow::Dead => "is dead",
        PotNow::Emptied => "is emptied",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_that_moves_several_faces_is_told_once() {
        let minutes = |all: &[i64]| -> Vec<Span> {
            all.iter().map(|minutes| Span::from_minutes(*minutes)).collect()
        };
        let later = readings_move(&minutes(&[4, 35, 12]));
        assert_eq!(later, "the new reading moves 3 faces: up to 35 min later");
        let both = readings_move(&minutes(&[-4, 35]));
        assert_eq!(both, "the new reading moves 2 faces: up to 4 min earlier, up to 35 min later");
    }
}
