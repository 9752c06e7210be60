//! The clock that matters most, in words.

use boothside_core::board::{Hero, Next, Stage, Waited};
use boothside_core::session::clocks::{Due, DueAt, Speed};
use boothside_core::session::standing::{FaceNow, FaceStanding, PotNow};

use super::Words;
use super::figure::short;
use super::notice::reading_moves;
use super::stage::{layer_of, stage_word};
use super::state::cure_reached;
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
    /// The hero in words.
    #[must_use]
    pub fn hero(&self) -> HeroWords {
        match &self.board.hero {
            Some(hero) if hero.due => self.due_hero(hero),
            Some(hero) => self.running_hero(hero),
            None => self.without_clock(),
        }
    }

    fn due_hero(&self, hero: &Hero) -> HeroWords {
        let at = self.clock(hero.at, time_of(&hero.what));
        let (big, subject, verb, lines) = match &hero.what {
            Waited::Look { face } => {
                ("look", self.face(*face), "has it dulled?".to_owned(), self.other_looks(*face))
            }
            Waited::LastTrigger { pot } => {
                ("stop and clean", self.pot(pot), self.past_trigger(pot, &at), Vec::new())
            }
            Waited::Condensing => {
                let margin = self.board.air.margin_k.unwrap_or_default();
                let verb = match self.figures().difference(-margin) {
                    none if none == "0.0" => format!("at the dew point, read {at}"),
                    under => format!("{under} under the dew point, read {at}"),
                };
                let clear = "warm the part or dry the air, then a reads again".to_owned();
                ("water condenses", "on the part".to_owned(), verb, vec![clear])
            }
            other => ("now", self.subject(other), self.verb(other, &at), Vec::new()),
        };
        HeroWords { big: big.to_uppercase(), due: true, subject, verb, lines }
    }

    fn other_looks(&self, face: usize) -> Vec<String> {
        let looks = self.board.faces.iter().enumerate();
        let others: Vec<usize> = looks
            .filter(|(number, row)| *number != face && row.at.now == FaceNow::Look)
            .map(|(number, _)| number)
            .collect();
        if others.is_empty() {
            return Vec::new();
        }
        vec![format!("then look at {}", self.faces(&others))]
    }

    fn past_trigger(&self, pot: &str, at: &str) -> String {
        let row = self.board.pots.iter().find(|row| row.at.id == pot);
        let dead = row.and_then(|row| row.at.dead).and_then(|due| due.moment());
        match (row.map(|row| row.at.now), dead) {
            (Some(PotNow::Dead), Some(dead)) => {
                format!("dead since {}", self.clock(dead, Time::Past))
            }
            (_, Some(dead)) => {
                format!("last trigger was {at}; dead at {}", self.clock(dead, Time::Limit))
            }
            _ => format!("last trigger was {at}"),
        }
    }

    fn running_hero(&self, hero: &Hero) -> HeroWords {
        let time = time_of(&hero.what);
        let at = self.clock(hero.at, time);
        HeroWords {
            big: match hero.what {
                Waited::OnTheGun { .. } => self.large_since(hero.at),
                _ => self.large_until(hero.at, time),
            },
            due: false,
            subject: self.subject(&hero.what),
            verb: self.verb(&hero.what, &at),
            lines: self.explained(hero),
        }
    }

    fn subject(&self, what: &Waited) -> String {
        match what {
            Waited::Look { face }
            | Waited::Opens { face }
            | Waited::WipeDry { face }
            | Waited::Closes { face }
            | Waited::OnTheGun { face }
            | Waited::Away { face }
            | Waited::Turn { face } => self.face(*face),
            Waited::Condensing => "on the part".into(),
            Waited::ToHang { layer } => self.layer(*layer),
            Waited::Stand { pot } | Waited::LastTrigger { pot } => self.pot(pot),
            Waited::AfterStep { .. } | Waited::StageBeforeStep { .. } => match self.board.stage {
                Stage::Cure | Stage::Close | Stage::Closed => stage_word(self.board.stage).into(),
                stage => layer_of(stage).map_or_else(String::new, |layer| self.layer(layer)),
            },
            Waited::Cure { .. } => "all faces".into(),
        }
    }

    fn verb(&self, what: &Waited, at: &str) -> String {
        match what {
            Waited::Look { .. } => format!("look at {at}"),
            Waited::Opens { face } => format!("{} from {at}", self.coat_to_come(*face)),
            Waited::WipeDry { .. } => format!("wipe dry at {at}"),
            Waited::Closes { face } => match self.board.faces.get(*face).map(|row| row.at.now) {
                Some(FaceNow::Wipe) => format!("wipe until {at}"),
                _ => format!("open until {at}"),
            },
            // these have no time
            Waited::Condensing | Waited::ToHang { .. } | Waited::Away { .. } => String::new(),
            Waited::Turn { .. } => format!("turn up at {at}"),
            Waited::OnTheGun { .. } => format!("on the gun since {at}"),
            Waited::Stand { .. } => format!("stands until {at}"),
            Waited::LastTrigger { .. } => format!("last trigger {at}"),
            Waited::AfterStep { .. } => format!("waits until {at}"),
            Waited::StageBeforeStep { .. } => format!("next step {at}"),
            Waited::Cure { stage } => format!("{} {at}", cure_reached(*stage)),
        }
    }

    fn explained(&self, hero: &Hero) -> Vec<String> {
        let lines = match &hero.what {
            Waited::Look { face } | Waited::Opens { face } => match self.board.faces.get(*face) {
                Some(row) => {
                    let clock = if row.at.now == FaceNow::LayerDone { "gap" } else { "flash" };
                    [self.speed(clock, row.at.speed), recomputed(&row.at)]
                }
                None => [None, None],
            },
            Waited::Closes { face } => {
                let row = self.board.faces.get(*face);
                let after = row.is_some_and(|row| row.at.now == FaceNow::Wipe);
                let then = if after { "then it must be sanded" } else { "then wipe or sand first" };
                [Some(then.to_owned()), row.and_then(|row| recomputed(&row.at))]
            }
            Waited::LastTrigger { pot } => {
                let row = self.board.pots.iter().find(|row| &row.at.id == pot);
                let dead = row.and_then(|row| row.at.dead).and_then(|due| due.moment());
                let dead = dead.map(|dead| format!("dead at {}", self.clock(dead, Time::Limit)));
                [dead, row.and_then(|row| self.speed("pot life", row.at.speed))]
            }
            _ => [None, None],
        };
        lines.into_iter().flatten().collect()
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

    fn without_clock(&self) -> HeroWords {
        let stage = self.board.stage;
        let layer = layer_of(stage).map_or_else(|| self.job(), |layer| self.layer(layer));
        let hero = |big: &str, verb: String, lines| HeroWords {
            big: big.to_uppercase(),
            due: false,
            subject: layer.clone(),
            verb,
            lines,
        };
        match &self.board.next {
            Next::MixPot { layer, amount_ml } => {
                let (verb, lines) = (self.for_coats(*layer), vec![self.ratio(*layer)]);
                let figures = self.figures();
                match amount_ml {
                    Some(ml) => HeroWords {
                        big: figures.bare_volume(*ml),
                        ..hero("", format!("{} {verb}", figures.volume_unit()), lines)
                    },
                    None => hero("mix", "amount: a figure is not set".into(), lines),
                }
            }
            Next::Pour { pot, layer, component, shows } => {
                let (number, verb) = self.shows_apart(*shows);
                let verb = format!("{verb} · {}", self.pot(pot));
                let subject = self.component(*layer, *component);
                HeroWords { big: number, subject, ..hero("", verb, Vec::new()) }
            }
            Next::Stir { pot, amount_ml, .. } => {
                let amount = amount_ml.map(|ml| self.figures().volume(ml)).unwrap_or_default();
                HeroWords { subject: self.pot(pot), ..hero("stir", amount, Vec::new()) }
            }
            Next::Reading => hero("air", "what is not read is not known".into(), Vec::new()),
            Next::BeginCoat { face, layer, coat } => {
                let verb = format!("{}, coat {coat} of {}", self.layer(*layer), self.coats(*layer));
                HeroWords { subject: self.face(*face), ..hero("begin", verb, Vec::new()) }
            }
            Next::CleanGun { pot } => {
                HeroWords { subject: self.pot(pot), ..hero("clean", "the gun".into(), Vec::new()) }
            }
            Next::Wipe { faces } => {
                HeroWords { subject: self.faces(faces), ..hero("wipe", "first".into(), Vec::new()) }
            }
            Next::Sand { faces } => {
                HeroWords { subject: self.faces(faces), ..hero("sand", "first".into(), Vec::new()) }
            }
            Next::Turn { face } => {
                HeroWords { subject: self.face(*face), ..hero("turn", "it up".into(), Vec::new()) }
            }
            Next::Wait { what: Waited::ToHang { .. }, .. } => {
                hero("hang", "no part hangs in the booth".into(), Vec::new())
            }
            Next::Wait { what: Waited::Away { face }, .. } => HeroWords {
                subject: self.face(*face),
                ..hero("away", "with coats to come".into(), Vec::new())
            },
            _ => hero(stage_word(stage), self.progress(), Vec::new()),
        }
    }

    fn for_coats(&self, layer: u32) -> String {
        let coats = self.coats(layer);
        let hanging = self.board.faces.iter().filter(|row| !row.at.now.is_absent());
        let left = hanging.filter_map(|row| row.at.next);
        let first = left.filter(|(of, _)| *of == layer).map(|(_, coat)| coat).min().unwrap_or(1);
        if first >= coats {
            format!("for coat {coats}")
        } else {
            format!("for coats {first} to {coats}")
        }
    }

    /// The parts of a mix as the sheet has them: 'by volume: Base 4, Activator 1, Water 1'.
    fn ratio(&self, layer: u32) -> String {
        use boothside_core::material::sheet::Basis;
        let Some(sheet) = self.session.state().sheet(layer) else {
            return String::new();
        };
        let by = match sheet.mix.by {
            Basis::Volume => "volume",
            Basis::Weight => "weight",
        };
        let part = |component: &boothside_core::material::sheet::Component| {
            let name = crate::view::text::clean(&component.name);
            let parts = short(component.parts, 3);
            match component.max_parts.filter(|_| component.is_optional()) {
                Some(most) => format!("{name} {parts} to {}", short(most, 3)),
                None => format!("{name} {parts}"),
            }
        };
        let parts: Vec<String> = sheet.mix.components.iter().map(part).collect();
        format!("by {by}: {}", parts.join(", "))
    }

    /// How far the stage has come: '2 of 7 clear'.
    fn progress(&self) -> String {
        use boothside_core::session::standing::StepNow;
        let steps = &self.board.steps;
        let done = steps.iter().filter(|step| step.now == StepNow::Done).count();
        match self.board.stage {
            Stage::Prep { .. } | Stage::Close => format!("{done} of {} done", steps.len()),
            Stage::Ready { .. } | Stage::Mix { .. } => {
                let checks = self.readiness();
                let clear = checks.iter().filter(|check| check.is_clear()).count();
                format!("{clear} of {} clear", checks.len())
            }
            Stage::Closed => {
                let closed = self.session.state().closed;
                closed.map_or_else(String::new, |closed| {
                    format!("at {}", self.clock(closed, Time::Past))
                })
            }
            _ => String::new(),
        }
    }
}

/// Which way the time of what is waited for is rounded.
const fn time_of(what: &Waited) -> Time {
    match what {
        Waited::Closes { .. } | Waited::LastTrigger { .. } => Time::Limit,
        Waited::OnTheGun { .. } | Waited::Condensing | Waited::Away { .. } => Time::Past,
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
