//! What a stage still wants before a coat may begin.

use crate::session::clocks::DueAt;
use crate::session::mixing::{self, Mixing, Ratio};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;
use crate::session::{Session, State};
use crate::work::system::{Check, Each, Group, Step};

use super::Standing;
use super::checks::is_answered;
use super::pot::PotNow;
use super::step::{StepNow, StepStanding, steps_of};

/// A reading older than this is stale. Common practice without a source.
pub const STALE: Span = Span::from_hours(1);

/// Why a pot is to be mixed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PotWhy {
    /// None is there.
    None,
    /// The one there is past its last trigger.
    StopAndClean(String),
    /// The one there is dead.
    Dead(String),
    /// The one there is past its last trigger before one more face would be on.
    TooLate(String),
    /// The one there does not do the whole coat: it does so many of its faces, the first ones.
    Short(String, Vec<usize>),
    /// The one there is past its last trigger, or empty, before the coat after this one is on.
    NextCoat(u32),
}

/// One thing that is wanted.
#[derive(Debug, Clone, PartialEq)]
pub enum Wanting {
    /// A step is to be done.
    Step {
        /// Its id.
        step: String,
        /// Whether a break overnight brought it back.
        again: bool,
    },
    /// A step waits for a stage of cure.
    StepNotYet {
        /// Its id.
        step: String,
        /// Until when; nothing where it cannot be told.
        until: Option<Moment>,
    },
    /// The wait after a step runs.
    StepWait {
        /// Its id.
        step: String,
        /// Until when.
        until: Option<DueAt>,
    },
    /// A check is to be answered.
    Check {
        /// Layer, counted from 1.
        layer: u32,
        /// Coat, counted from 1; 0 for a check of the layer.
        coat: u32,
        /// Its id.
        check: String,
    },
    /// Somebody is to know that the painter works alone.
    SomeoneKnows,
    /// Plugs and masks are on, and were not counted by number.
    Masks,
    /// A reading of air and surface.
    Reading,
    /// A pot is to be mixed.
    Pot {
        /// For which layer, counted from 1.
        layer: u32,
        /// Why.
        why: PotWhy,
    },
    /// A component is to be poured into the pot being mixed, or into one out of ratio.
    Pour {
        /// The pot's letter.
        pot: String,
        /// The component's name.
        component: String,
    },
    /// The pot being mixed is to be stirred: all of it is in.
    Stir {
        /// Its letter.
        pot: String,
    },
    /// A mixed pot stands.
    Stand {
        /// Its letter.
        pot: String,
        /// Until when.
        until: Option<DueAt>,
    },
}

/// What was answered in this sitting to whether somebody knows that the painter works alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Someone {
    /// When the painter said so.
    pub told: Option<Moment>,
    /// Whether the painter went past it.
    pub past: bool,
}

impl Someone {
    /// At the moment of `watch`; a sitting that is over leaves no answer.
    #[must_use]
    pub fn asked(state: &State, watch: &Watch) -> Self {
        let sitting = state.sitting.filter(|sitting| !watch.reached(sitting.ends));
        let Some(since) = sitting.map(|sitting| sitting.began) else {
            return Self { told: None, past: false };
        };
        let told = state.someone_knows.filter(|at| *at >= since);
        Self { told, past: state.went_past_since("someone", Some(since)) }
    }
}

/// What is wanted before a coat of a layer.
pub struct Gate<'a> {
    session: &'a Session,
    standing: &'a Standing,
    watch: &'a Watch,
}

impl<'a> Gate<'a> {
    /// A gate at the moment of `watch`.
    #[must_use]
    pub const fn new(session: &'a Session, standing: &'a Standing, watch: &'a Watch) -> Self {
        Self { session, standing, watch }
    }

    /// Everything wanted before `coat` of `layer`, in the order of work.
    #[must_use]
    pub fn wanting(&self, layer: u32, coat: u32) -> Vec<Wanting> {
        let mut wanting = self.once_a_sitting(layer);
        wanting.extend(self.steps_of(layer));
        wanting.extend(self.laid_out(layer));
        if !self.is_begun(layer) && self.reading_wanted() {
            wanting.push(Wanting::Reading);
        }
        wanting.extend(self.pot(layer));
        wanting.extend(self.before_paint(layer, coat));
        wanting.extend(self.with_paint(layer, coat));
        wanting
    }

    /// What is asked once a sitting, before vapour or dust: protection, the screen outside the spray
    /// area, and that somebody knows.
    #[must_use]
    pub fn once_a_sitting(&self, layer: u32) -> Vec<Wanting> {
        let protects = |check: &Check| check.belongs_to() == Group::Protection;
        let wanted = |check: &Check| {
            let each = check.asked();
            let sitting = each == Each::Sitting || (each == Each::Layer && protects(check));
            sitting && !check.needs_paint()
        };
        let mut wanting = self.checks((layer, 0), wanted);
        if !self.someone_knows() {
            wanting.push(Wanting::SomeoneKnows);
        }
        wanting
    }

    fn someone_knows(&self) -> bool {
        let someone = Someone::asked(self.session.state(), self.watch);
        someone.told.is_some() || someone.past
    }

    /// What is laid out before the layer, and plugs and masks where they were not counted.
    #[must_use]
    pub fn laid_out(&self, layer: u32) -> Vec<Wanting> {
        let mut wanting = self.checks((layer, 0), |check| {
            let early = check.asked() == Each::Layer && check.belongs_to() != Group::Protection;
            early && !check.needs_paint()
        });
        if self.masks_wanted(layer) {
            wanting.push(Wanting::Masks);
        }
        wanting
    }

    /// Masking that has been on for longer than its step allows, of this layer or one before: the
    /// steps of a layer that is not begun ask for their own.
    #[must_use]
    pub fn masks_again(&self, layer: u32) -> Option<Wanting> {
        let state = self.session.state();
        let own = |step: &&Step| self.standing.steps.iter().any(|at| at.id == step.id);
        let begun = state.layer_begun(layer);
        let layers = (1..=layer).filter_map(|layer| state.layer(layer));
        let masks = layers.flat_map(|layer| &layer.prep).filter(|step| step.counts_masks());
        let mut old = masks.filter(|step| begun || !own(step)).filter(|step| {
            let done = state.steps.get(&step.id).map(|done| done.at);
            let ends = done.zip(step.within_s).map(|(at, s)| at.plus(Span::from_seconds(s)));
            let past = |ends| self.went_past(&format!("step {}", step.id), Some(ends));
            ends.is_some_and(|ends| self.watch.reached(ends) && !past(ends))
        });
        old.next().map(|step| Wanting::Step { step: step.id.clone(), again: true })
    }

    /// Whether masks are on that were not counted: asked once more, then they are not known.
    fn masks_wanted(&self, layer: u32) -> bool {
        let state = self.session.state();
        let on = |step: &Step| step.counts_masks() && state.steps.contains_key(&step.id);
        let layers = (1..=layer).filter_map(|layer| state.layer(layer));
        let masked = layers.flat_map(|layer| &layer.prep).any(on);
        masked && state.masks.on.is_none() && state.masks.uncounted_in < 2
    }

    /// The checks before a coat that want no paint mixed: the fan.
    #[must_use]
    pub fn before_paint(&self, layer: u32, coat: u32) -> Vec<Wanting> {
        self.checks((layer, coat), |check| check.asked() == Each::Coat && !check.needs_paint())
    }

    /// The checks that want paint: strained, the gun set, a test pattern; a pot's mix first.
    #[must_use]
    pub fn with_paint(&self, layer: u32, coat: u32) -> Vec<Wanting> {
        let of_pot = |check: &Check| check.needs_paint() && check.each != Each::Coat;
        let of_coat = |check: &Check| check.needs_paint() && check.each == Each::Coat;
        let mut wanting = self.checks((layer, 0), of_pot);
        wanting.extend(self.checks((layer, coat), of_coat));
        wanting
    }

    /// Whether a coat of a layer is on: where each face that gets it next came late, on one of those.
    #[must_use]
    pub fn is_begun(&self, layer: u32) -> bool {
        let state = self.session.state();
        state.layer_mates(layer).into_iter().any(|face| state.faces[face].coats_on(layer) > 0)
    }

    /// What is wanted of the steps of `layer`.
    fn steps_of(&self, layer: u32) -> Vec<Wanting> {
        if self.standing.layer == Some(layer) {
            return self.steps();
        }
        let (state, faces) = (self.session.state(), &self.standing.faces);
        self.wanted_of(&steps_of(state, Some(layer), faces, self.watch))
    }

    /// What is wanted of the steps in work.
    #[must_use]
    pub fn steps(&self) -> Vec<Wanting> {
        self.wanted_of(&self.standing.steps)
    }

    fn wanted_of(&self, steps: &[StepStanding]) -> Vec<Wanting> {
        steps
            .iter()
            .filter_map(|step| {
                let id = step.id.clone();
                match step.now {
                    StepNow::ToDo if self.gone_past(step) => None,
                    StepNow::ToDo => Some(Wanting::Step { step: id, again: step.again }),
                    StepNow::NotYet => {
                        Some(Wanting::StepNotYet { step: id, until: step.not_before })
                            .filter(|_| !self.went_past(&format!("early {}", step.id), step.came))
                            .or_else(|| Some(Wanting::Step { step: step.id.clone(), again: false }))
                    }
                    StepNow::Waiting => {
                        Some(Wanting::StepWait { step: id, until: step.wait.map(|wait| wait.at) })
                    }
                    StepNow::Done => None,
                }
            })
            .collect()
    }

    /// Whether the painter went past a step that is to be done: once for all faces, but not for a
    /// break overnight that came after, nor for a face that did.
    fn gone_past(&self, step: &StepStanding) -> bool {
        let again = step.done.filter(|_| step.again);
        self.went_past(&format!("step {}", step.id), again.max(step.came))
    }

    fn went_past(&self, hold: &str, since: Option<Moment>) -> bool {
        self.session.state().went_past_since(hold, since)
    }

    fn checks(&self, (layer, coat): (u32, u32), wanted: impl Fn(&Check) -> bool) -> Vec<Wanting> {
        let state = self.session.state();
        let Some(planned) = state.layer(layer) else {
            return Vec::new();
        };
        let wanted = planned.ready.iter().filter(|check| wanted(check));
        wanted
            .filter(|check| !is_answered(state, check, (layer, coat), self.watch))
            .map(|check| Wanting::Check { layer, coat, check: check.id.clone() })
            .collect()
    }

    /// Whether a reading is missing or stale, and the painter did not just say that none can be
    /// taken.
    #[must_use]
    pub fn reading_wanted(&self) -> bool {
        let state = self.session.state();
        let last = state.readings.last().map(|taken| taken.at).max(state.reading_skipped);
        last.is_none_or(|last| self.watch.reached(last.plus(STALE)))
    }

    /// What is wanted of the pot for a coat of `layer`; nothing where one is ready.
    #[must_use]
    pub fn pot(&self, layer: u32) -> Option<Wanting> {
        let in_use = self.session.state().pot_in_use(layer);
        let in_use = in_use.filter(|pot| pot.stirred.is_some());
        let Some(pot) = in_use.and_then(|pot| self.standing.pot(&pot.id)) else {
            return Some(self.pot_to_mix(layer, PotWhy::None));
        };
        let id = pot.id.clone();
        match pot.now {
            PotNow::Good => self.to_right(&id),
            PotNow::Standing => {
                Some(Wanting::Stand { pot: id, until: pot.stands_until.map(|due| due.at) })
            }
            PotNow::StopAndClean => Some(self.pot_to_mix(layer, PotWhy::StopAndClean(id))),
            PotNow::Dead => Some(self.pot_to_mix(layer, PotWhy::Dead(id))),
            PotNow::Emptied => Some(self.pot_to_mix(layer, PotWhy::None)),
        }
    }

    /// The next pour of the pot being mixed, its stir, or a new pot.
    #[must_use]
    pub fn pot_to_mix(&self, layer: u32, why: PotWhy) -> Wanting {
        let state = self.session.state();
        let Some(mixing) = state.open_mixing(layer) else { return Wanting::Pot { layer, why } };
        match self.to_pour(mixing) {
            Some(component) => Wanting::Pour { pot: mixing.pot.clone(), component },
            None => Wanting::Stir { pot: mixing.pot.clone() },
        }
    }

    fn to_pour(&self, mixing: &Mixing) -> Option<String> {
        let state = self.session.state();
        let next = mixing::mix_on_bench(state, self.session.plan(), mixing, self.watch)
            .ok()?
            .pot
            .next()?;
        let component = state.sheet(mixing.layer)?.mix.components.get(next)?;
        Some(component.name.clone())
    }

    /// What a stirred pot that is out of ratio lacks, unless the painter went past that.
    fn to_right(&self, pot: &str) -> Option<Wanting> {
        let state = self.session.state();
        let mixing = state.mixing(pot)?;
        let out = matches!(mixing::ratio(state, mixing), Ratio::Out { .. });
        if !out || state.went_past(&format!("ratio {pot}")) {
            return None;
        }
        let component = self.to_pour(mixing)?;
        Some(Wanting::Pour { pot: pot.to_owned(), component })
    }
}
