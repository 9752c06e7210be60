//! Random walks through a session: what a painter, a clumsy one too, may do.

use boothside_core::board::{AirLimit, Next, ReadWhy};
use boothside_core::material::recipe::Told;
use boothside_core::material::sheet::Basis;
use boothside_core::session::command::Command;
use boothside_core::session::command::Poured;
use boothside_core::session::event::{Reading, Reason, Way};
use boothside_core::session::gun::GunSetting;
use boothside_core::session::standing::Hold;
use boothside_core::session::stock::{SeenCan, cans_of};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Refusal, Session, figures, limits_of_entry};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::bench::{Bench, example_work};
use crate::jobs;

/// One thing done.
#[derive(Debug, Clone)]
pub(crate) enum Act {
    /// Time passes, ms.
    Pass(i64),
    /// Time passes to the next change, and by so many ms more or less.
    ToChange(i64),
    /// SPACE, where it does something.
    Space,
    /// A fact of this kind about a face or a pot.
    Fact(u8, Index),
    /// The same told late by so many ms.
    Late(u8, Index, i64),
    /// A face is begun, past its holds.
    Begin(Index),
    /// A reading, told late by so many ms.
    Read(Reading, i64),
    /// An entry is struck with what rests on it.
    Strike(Index),
    /// The last key is taken back.
    TakeBack,
    /// An entry is re-timed by so many ms.
    Retime(Index, i64),
    /// The last key is moved earlier.
    Earlier(i64),
    /// A figure is multiplied.
    Figure(Index, f64),
    /// The machine says something.
    Machine(u8, i64),
}

/// Moves a session: its job and what is done.
#[derive(Debug, Clone)]
pub(crate) struct Walk {
    pub(crate) example: bool,
    pub(crate) acts: Vec<Act>,
}

impl Walk {
    pub(crate) fn start(&self) -> Bench {
        Bench::new(if self.example { example_work() } else { jobs::rich() })
    }
}

/// Walks of up to `most` acts.
pub(crate) fn walks(most: usize) -> impl Strategy<Value = Walk> {
    (any::<bool>(), proptest::collection::vec(act(), 1..most))
        .prop_map(|(example, acts)| Walk { example, acts })
}

fn act() -> impl Strategy<Value = Act> {
    let late = 0..7_200_000i64;
    prop_oneof![
        12 => Just(Act::Space),
        4 => prop_oneof![0..300_000i64, 0..40_000_000i64].prop_map(Act::Pass),
        6 => (-1..2i64).prop_map(Act::ToChange),
        4 => (0..FACTS, any::<Index>()).prop_map(|(kind, which)| Act::Fact(kind, which)),
        2 => (0..FACTS, any::<Index>(), late.clone())
            .prop_map(|(kind, which, by)| Act::Late(kind, which, by)),
        2 => any::<Index>().prop_map(Act::Begin),
        4 => (reading(), prop_oneof![2 => Just(0i64), 1 => late])
            .prop_map(|(reading, by)| Act::Read(reading, by)),
        2 => any::<Index>().prop_map(Act::Strike),
        1 => Just(Act::TakeBack),
        2 => (any::<Index>(), -7_200_000..7_200_000i64)
            .prop_map(|(which, by)| Act::Retime(which, by)),
        1 => (0..1_800_000i64).prop_map(Act::Earlier),
        1 => (any::<Index>(), 0.5..2.0).prop_map(|(which, by)| Act::Figure(which, by)),
        1 => (0..4u8, 0..1_800_000i64).prop_map(|(kind, by)| Act::Machine(kind, by)),
    ]
}

/// A reading of some figures and not of others.
pub(crate) fn reading() -> impl Strategy<Value = Reading> {
    let perhaps = |low: f64, high: f64| proptest::option::of(low..high);
    (
        5.0..35.0,
        perhaps(20.0, 99.0),
        perhaps(5.0, 35.0),
        perhaps(5.0, 40.0),
        perhaps(10.0, 40.0),
        proptest::bool::weighted(0.85),
    )
        .prop_map(|(air, humidity_pct, surface_c, surface_warmest_c, pot_c, with_air)| {
            Reading {
                air_c: (with_air || humidity_pct.is_none()).then_some(air),
                humidity_pct,
                surface_c,
                surface_warmest_c,
                pot_c,
            }
        })
}

/// How many kinds of facts there are.
pub(crate) const FACTS: u8 = 54;

/// A fact of this kind about things that the session has; nothing where it has none such.
pub(crate) fn fact(bench: &Bench, kind: u8, which: Index) -> Option<Command> {
    let face = || which.get(bench.session.plan().faces()).id.clone();
    let state = bench.session.state();
    let pot = || (!state.pots.is_empty()).then(|| which.get(&state.pots).id.clone());
    let layer = u32::try_from(which.index(state.layer_count() as usize)).ok()? + 1;
    Some(match kind {
        0 => Command::StepDone { step: some_step(bench, which)? },
        1 => Command::PassCheck { layer, coat: 1, check: "fan".into() },
        2 => Command::MixPot { layer, amount_ml: Some(300.0), lots: Vec::new() },
        3 => Command::TopUpPot { pot: pot()?, amount_ml: None },
        4 => Command::EmptyPot { pot: pot()? },
        5 => Command::FillCup { pot: pot()? },
        6 => Command::CleanGun,
        7 | 8 => Command::CoatOn { face: face() },
        9 => rest_on(bench)?,
        10 => Command::Dulled { face: face() },
        11 | 12 => Command::StillWet { face: face() },
        13 => Command::Wiped { faces: vec![face()] },
        14 => Command::Scuffed { faces: vec![face()] },
        15 => Command::Sanded { faces: vec![face()] },
        16 => Command::Turned { face: face() },
        17 => Command::SkipCoat { face: face() },
        18 => Command::WipedOff { face: face() },
        19 => Command::ExtraCoat { face: face() },
        20 => Command::TouchedUp { face: face() },
        21 => Command::SkipReading,
        22 => Command::SeeFault { face: face(), fault: "fisheye".into() },
        23 => Command::StillSpraying { face: face() },
        24 => Command::SetGun(GunSetting { nozzle_mm: Some(1.3), ..GunSetting::default() }),
        25 => Command::Pause { why: "called away".into() },
        26 => Command::Resume,
        27 => Command::CountMasks { way: Way::In, number: 4 },
        28 => Command::CountMasks { way: Way::Out, number: 3 + layer % 2 },
        29 => Command::ReadCartridges { used_h: 19.9 },
        30..=36 => return pot_fact(bench, kind - 8, which, layer),
        37 | 38 => return pick_can(bench, which, layer),
        39 => Command::HangPart { part: some_part(bench, which) },
        40 => Command::TakePartAway { part: some_part(bench, which) },
        41 => join(bench, which)?,
        42 => Command::LeaveFace { face: face() },
        43 => Command::TakeFaceBack { face: face() },
        44 => Command::KeepFigures { figures: vec![("shop.loss_ml".into(), 12.0)] },
        45 => Command::StopFace { face: face() },
        46 | 47 => Command::SetFan { on: kind == 47 },
        48 => Command::SomeoneKnows,
        49 => Command::PutAside { pot: pot()? },
        50 => Command::LeaveMasksUncounted { way: Way::In },
        51 => Command::LeaveMasksUncounted { way: Way::Out },
        52 => Command::CountMasks { way: Way::Out, number: 14 },
        _ => Command::Note { text: "a note".into() },
    })
}

fn some_part(bench: &Bench, which: Index) -> String {
    which.get(&bench.session.state().work.job.parts).clone()
}

/// One of two parts joins that no job has at its opening; nothing where it did already.
fn join(bench: &Bench, which: Index) -> Option<Command> {
    let part = ["late", "later"][which.index(2)].to_owned();
    let known = bench.session.state().work.parts.contains_key(&part);
    let is = Box::new(jobs::late());
    (!known).then_some(Command::JoinPart { part, is })
}

/// A fact of pouring, or of what became of a pot.
fn pot_fact(bench: &Bench, kind: u8, which: Index, layer: u32) -> Option<Command> {
    let state = bench.session.state();
    let mix = &state.sheet(layer)?.mix;
    let amount = |of: f64| match mix.by {
        Basis::Volume => Told { g: None, ml: Some(of) },
        Basis::Weight => Told { g: Some(of), ml: None },
    };
    let mixing = || (!state.mixings.is_empty()).then(|| which.get(&state.mixings).clone());
    let pot = || (!state.pots.is_empty()).then(|| which.get(&state.pots).id.clone());
    Some(match kind {
        22..=24 => Command::Pour {
            pot: None,
            layer,
            component: which.index(mix.components.len()),
            amount: Poured::Amount(amount(60.0)),
        },
        25 => {
            Command::PlanPot { layer, wanted: amount(300.0), short: Vec::new(), container_ml: None }
        }
        26 => {
            let pot = mixing()?;
            state.sheet(pot.layer)?.mix.flow_cup.as_ref()?;
            Command::ReadFlowCup { pot: pot.pot, seconds: 40.0 }
        }
        27 => Command::WeighPot { pot: pot()?, left: Told { g: None, ml: Some(90.0) } },
        _ => {
            let amount = Told { g: None, ml: Some(50.0) };
            Command::ReturnToCan { pot: pot()?, amount, can_ml: None }
        }
    })
}

/// Another can is taken, or none that is on the shelf.
fn pick_can(bench: &Bench, which: Index, layer: u32) -> Option<Command> {
    let state = bench.session.state();
    let components = &state.sheet(layer)?.mix.components;
    let component = which.index(components.len());
    let cans = cans_of(state, layer, &components[component].name);
    let can = cans.get(which.index(cans.len() + 1)).map(|can| can.can.clone());
    Some(Command::PickCan { layer, component, can })
}

/// A shelf with up to two cans of each component: full, short, thinned, past their date by and by.
fn shelf(bench: &Bench, seed: i64) -> Vec<SeenCan> {
    let sheets = bench.session.state().work.sheets.iter();
    let components = sheets.flat_map(|(name, sheet)| {
        let of_sheet = sheet.mix.components.iter().map(|it| it.name.clone());
        of_sheet.map(|component| (name.clone(), component)).collect::<Vec<_>>()
    });
    let mut cans = Vec::new();
    for (row, (sheet, component)) in components.enumerate() {
        for twin in 0..2 {
            let die = (seed / 7 + 13 * row as i64 + 5 * twin) % 12;
            if die == 0 {
                continue;
            }
            let left = Some(60.0 * die as f64).filter(|_| die != 1);
            let by_weight = die % 4 == 2;
            cans.push(SeenCan {
                can: format!("can-{row}-{twin}"),
                name: format!("Can {row}, {twin}"),
                sheet: sheet.clone(),
                component: component.clone(),
                lot: (die % 2 == 0).then(|| format!("24-{die}")),
                until: None,
                until_ms: (die > 5).then(|| bench.now.plus(Span::from_ms((die - 7) * 900_000))),
                opened: None,
                left_ml: left.filter(|_| !by_weight),
                left_g: left.filter(|_| by_weight),
                counted_ms: Some(bench.now.minus(Span::from_ms(die * 600_000))),
                thinner_pct: [0.0, 0.0, 8.0, 55.0][(die % 4) as usize],
            });
        }
    }
    cans
}

fn some_step(bench: &Bench, which: Index) -> Option<String> {
    let system = &bench.session.state().work.system;
    let steps = system.layers.iter().flat_map(|layer| &layer.prep).chain(&system.close);
    let ids: Vec<&String> = steps.map(|step| &step.id).collect();
    (!ids.is_empty()).then(|| (*which.get(&ids)).clone())
}

/// 'The rest of the coat is on', where a rest is left.
fn rest_on(bench: &Bench) -> Option<Command> {
    let faces = bench.board().faces;
    let hanging = faces.iter().filter(|face| !face.at.now.is_absent());
    let (layer, coat) = hanging.filter_map(|face| face.at.next).min()?;
    Some(Command::RestOn { layer, coat })
}

impl Bench {
    /// Does one thing, and says what became of it where it was told at all.
    pub(crate) fn act(&mut self, act: &Act) -> Option<Result<u64, Refusal>> {
        match act {
            Act::Pass(ms) => self.wait(*ms),
            Act::ToChange(more) => {
                let change = self.board().next_change?;
                let target = change.plus(Span::from_ms(*more)).since(self.now);
                self.wait(target.ms().clamp(0, 400_000_000))
            }
            Act::Space => self.press(),
            Act::Fact(kind, which) => {
                let command = fact(self, *kind, *which)?;
                Some(self.try_tell(&command, None))
            }
            Act::Late(kind, which, by) => {
                let command = fact(self, *kind, *which)?;
                Some(self.try_tell(&command, Some(self.before(*by))))
            }
            Act::Begin(which) => {
                let face = which.get(self.session.plan().faces()).id.clone();
                let past = Some(Reason::OwnDecision);
                Some(self.try_tell(&Command::BeginCoat { face, past }, None))
            }
            Act::Read(reading, by) => {
                let when = (*by > 0).then(|| self.before(*by));
                Some(self.try_tell(&Command::Read(*reading), when))
            }
            _ => self.correct(act),
        }
    }

    fn correct(&mut self, act: &Act) -> Option<Result<u64, Refusal>> {
        let command = match act {
            Act::Strike(which) => Command::Strike { n: self.any_entry(*which)? },
            Act::TakeBack => Command::TakeBack,
            Act::Retime(which, by) => {
                let n = self.any_entry(*which)?;
                let told = self.session.entry(n)?.told_ms();
                let when = told.plus(Span::from_ms(*by)).min(self.now);
                let when = limits_of_entry(&self.session, n, self.now)?.nearest(when);
                Command::Retime { n, when }
            }
            Act::Earlier(ms) => Command::Earlier { by: Span::from_ms(*ms) },
            Act::Figure(which, by) => {
                let list = figures(&self.session.state().work);
                let figure = which.get(&list);
                let new = figure.value.unwrap_or(10.0) * by;
                let (field, why) = (figure.field.clone(), "mistyped".to_owned());
                Command::ChangeFigure { field, new, why }
            }
            Act::Machine(0, ms) => Command::Slept { span: Span::from_ms(*ms) },
            Act::Machine(1, ms) => Command::WallClockSet { by: Span::from_ms(*ms) },
            Act::Machine(2, ms) => Command::SeeStock { cans: shelf(self, *ms) },
            Act::Machine(_, ms) => Command::Restarted { away: Span::from_ms(*ms) },
            _ => return None,
        };
        Some(self.try_tell(&command, None))
    }

    /// Any entry in force but the opening.
    fn any_entry(&self, which: Index) -> Option<u64> {
        let in_force = self.session.in_force();
        let numbers: Vec<u64> =
            in_force.iter().map(|(_, entry)| entry.n).filter(|n| *n > 0).collect();
        (!numbers.is_empty()).then(|| *which.get(&numbers))
    }

    fn before(&self, ms: i64) -> Moment {
        self.now.minus(Span::from_ms(ms))
    }

    fn wait(&mut self, ms: i64) -> Option<Result<u64, Refusal>> {
        self.now = self.now.plus(Span::from_ms(ms));
        None
    }

    /// SPACE where it does something; a reading is 20 °C, 50 %, and where that does not do, it is gone
    /// past; as many masks come off as were counted in.
    fn press(&mut self) -> Option<Result<u64, Refusal>> {
        let next = self.board().next;
        let last = self.session.state().readings.last().map(|taken| taken.reading);
        let command = match &next {
            Next::Reading { why } => match past_reading(&self.session, why) {
                Some(past) if last == Some(FULL) => past,
                _ => Command::Read(FULL),
            },
            Next::CountMasks { way, .. } => {
                let on = self.session.state().masks.on.map_or(14, |(number, _)| number);
                Command::CountMasks { way: *way, number: on }
            }
            _ => next.command(&self.session)?,
        };
        match self.try_tell(&command, None) {
            Err(Refusal::Held(holds)) => {
                let past = past(&command, &holds)?;
                Some(self.try_tell(&past, None))
            }
            told => Some(told),
        }
    }
}

/// Every figure of a reading.
pub(crate) const FULL: Reading = Reading {
    air_c: Some(20.0),
    humidity_pct: Some(50.0),
    surface_c: Some(20.0),
    surface_warmest_c: None,
    pot_c: Some(20.0),
};

/// How a reading that lies outside the sheet is gone past; nothing for one that is only missing.
pub(crate) fn past_reading(session: &Session, why: &ReadWhy) -> Option<Command> {
    let layer = session.state().layer_in_work()?;
    let (limit, outside) = match why {
        ReadWhy::Missing | ReadWhy::Old => return None,
        ReadWhy::Unfit(outside) => (outside.limit(), Some(*outside)),
        ReadWhy::Trend { .. } => (AirLimit::DewTrend, None),
        ReadWhy::Condensing => (AirLimit::DewPoint, None),
    };
    let hold = Hold::Air { layer, limit, outside }.to_string();
    Some(Command::GoPast { hold, reason: Reason::OwnDecision })
}

/// The same with a digit: what SPACE offers is held by nothing but what the painter alone judges,
/// the air, what was counted and the dates of cans, and a reason passes that.
pub(crate) fn past(command: &Command, holds: &[Hold]) -> Option<Command> {
    let judged = |hold: &Hold| {
        matches!(
            hold,
            Hold::Air { .. } | Hold::Cartridges { .. } | Hold::Masks { .. } | Hold::CanPast { .. }
        )
    };
    let reason = Some(Reason::OwnDecision).filter(|_| holds.iter().all(judged));
    match command {
        Command::BeginCoat { face, past: None } => {
            Some(Command::BeginCoat { face: face.clone(), past: Some(reason?) })
        }
        Command::Close { past: None } => Some(Command::Close { past: Some(reason?) }),
        _ => None,
    }
}
