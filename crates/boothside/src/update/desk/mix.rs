//! The bench: what the keys do on the Mix screen.

use boothside_core::board::Board;
use boothside_core::board::mixing::{Gauge, MixBoard, OnBench};
use boothside_core::material::sheet::Role;
use boothside_core::session::bounds::Unit;
use boothside_core::session::command::{Command, Poured};
use boothside_core::session::time::Moment;

use super::{Desk, Effect, Now};
use crate::forms::{self, Form, FormKind, MixFilled, MixForm, as_typed};
use crate::update::scene::{Asking, PotFact, Screen};
use crate::update::table::Do;

impl Desk {
    /// What a key does on the Mix screen; nothing where it does there what it does everywhere.
    pub(super) fn act_on_mix(&mut self, does: Do, now: &Now<'_>) -> Option<Vec<Effect>> {
        if self.screen != Screen::Mix {
            return None;
        }
        Some(match does {
            Do::Act => self.pour(now),
            Do::Mix => self.open_mix(MixForm::Amount, now),
            Do::Figure => self.swap_gauge(now),
            Do::OtherFacts => {
                self.asking = Some(Asking::Pot);
                Vec::new()
            }
            _ => return None,
        })
    }

    /// The next pour of the pot on the bench; once all is in, that it is stirred.
    fn pour(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let Some(mix) = &self.board.mixing else { return self.say("every coat is on", now) };
        match (&mix.now, mix.next_pour(), mix.stands) {
            (Err(_), ..) => self.open_mix(MixForm::Amount, now),
            (Ok(_), Some((component, _)), _) => self.open_mix(MixForm::Pour(component), now),
            (Ok(_), None, OnBench::Mixing) => {
                let (layer, lots) = (mix.layer, Vec::new());
                self.tell(&Command::MixPot { layer, amount_ml: None, lots }, None, now)
            }
            (Ok(_), None, _) => {
                let text = format!("pot {} is mixed: o tells what became of it", mix.pot);
                self.say(&text, now)
            }
        }
    }

    fn swap_gauge(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let Some(by) = self.board.mixing.as_ref().map(|mix| mix.by) else { return Vec::new() };
        let other = if by == Gauge::Scale { Gauge::Mark } else { Gauge::Scale };
        self.gauge = Some(other);
        self.look_anew(now.t);
        let taken = self.board.mixing.as_ref().is_some_and(|mix| mix.by == other);
        if taken {
            return Vec::new();
        }
        self.say("a density is not set, so that it can be poured one way only", now)
    }

    /// The board with pours measured as the painter measures them.
    pub(super) fn measured(&self, board: Board) -> Board {
        board.measured_by(self.gauge)
    }

    pub(super) fn open_mix(&mut self, form: MixForm, now: &Now<'_>) -> Vec<Effect> {
        let ready = self.board.mixing.as_ref().map(|mix| self.can_open(mix, form));
        match ready {
            None => self.say("every coat is on", now),
            Some(Err(why)) => self.say(why, now),
            Some(Ok(())) => {
                self.screen = Screen::Mix;
                self.open_form(FormKind::Mix(form), now)
            }
        }
    }

    fn can_open(&self, mix: &MixBoard, form: MixForm) -> Result<(), &'static str> {
        let there = mix.standing.is_some();
        match form {
            MixForm::FlowCup if mix.flow.is_none() => Err("the sheet says nothing of a flow cup"),
            MixForm::FlowCup if mix.stands == OnBench::ToMix => Err("no pot is mixed"),
            MixForm::Weighed | MixForm::Returned | MixForm::Reducer(_) if !there => {
                Err("no pot is mixed")
            }
            MixForm::Amount if mix.stands == OnBench::Mixed && self.no_coat_to_come() => {
                Err("every coat is on")
            }
            _ => Ok(()),
        }
    }

    fn no_coat_to_come(&self) -> bool {
        self.session.state().layer_in_work().is_none()
    }

    /// The form as it is opened.
    pub(super) fn mix_form(&self, form: MixForm) -> Option<Form> {
        let mix = self.board.mixing.as_ref()?;
        let session = &self.session;
        let units = session.state().work.shop.units;
        Some(match form {
            MixForm::Pour(component) => {
                let planned = mix.next_pour().filter(|(next, _)| *next == component);
                let planned = planned.map_or_else(String::new, |(_, shows)| as_typed(shows, units));
                forms::pour(session, mix, component, &planned)
            }
            MixForm::Reducer(component) => forms::reducer(session, mix, component),
            MixForm::Amount => {
                let needed = mix.need.as_ref().ok().and_then(|need| need.to_mix_ml);
                let needed =
                    needed.map(|ml| forms::figure_told(ml.ceil(), Unit::Millilitre, units));
                forms::amount(session, mix, needed.as_deref())
            }
            MixForm::Lots => forms::lots(session, mix),
            MixForm::FlowCup => {
                let rule = &mix.flow.as_ref()?.rule;
                let wants =
                    format!("the sheet wants {}-{} in {}", rule.low_s, rule.high_s, rule.cup);
                forms::flow_cup(mix, &wants)
            }
            MixForm::Weighed => forms::weighed(mix, units),
            MixForm::Returned => forms::returned(session, mix),
            MixForm::Rests => forms::rests_on(session),
        })
    }

    /// What a filled form tells; nothing where nothing was typed that could be told.
    pub(super) fn mix_command(&self, filled: MixFilled) -> Option<Command> {
        let mix = self.board.mixing.as_ref()?;
        let (pot, layer) = (mix.pot.clone(), mix.layer);
        let known = (mix.stands != OnBench::ToMix).then(|| pot.clone());
        Some(match filled {
            MixFilled::Pour(component, amount) => {
                let planned = mix.next_pour().filter(|(next, _)| *next == component);
                let amount = amount.or_else(|| Some(Poured::from(planned?.1)))?;
                Command::Pour { pot: known, layer, component, amount }
            }
            MixFilled::Reducer(component, amount) => {
                let amount = Poured::Amount(amount?);
                Command::Pour { pot: Some(pot), layer, component, amount }
            }
            MixFilled::Amount(wanted, short, container_ml) => {
                Command::PlanPot { layer, wanted, short, container_ml }
            }
            MixFilled::Lots(lots) if lots.is_empty() => return None,
            MixFilled::Lots(lots) => Command::TellLots { pot, layer, lots },
            MixFilled::FlowCup(seconds) => Command::ReadFlowCup { pot, seconds: seconds? },
            MixFilled::Weighed(left) => Command::WeighPot { pot, left: left? },
            MixFilled::Returned(amount, can_ml) => {
                Command::ReturnToCan { pot, amount: amount?, can_ml }
            }
            MixFilled::Rests(changes) if changes.is_empty() => return None,
            MixFilled::Rests(changes) => {
                let why = "changed at the bench".to_owned();
                Command::ChangeFigures { changes, why }
            }
        })
    }

    pub(super) fn pot_fact(&mut self, fact: PotFact, now: &Now<'_>) -> Vec<Effect> {
        match fact {
            PotFact::Mixed => self.open_form(FormKind::Pot, now),
            PotFact::ToppedUp => self.open_form(FormKind::TopUp, now),
            PotFact::ReducerAdded => match self.reducer_on_bench() {
                Some(component) => self.open_mix(MixForm::Reducer(component), now),
                None => self.say("the mix has no reducer", now),
            },
            PotFact::Weighed => self.open_mix(MixForm::Weighed, now),
            PotFact::Returned => self.open_mix(MixForm::Returned, now),
            PotFact::OtherCan => self.open_cans(None, now),
            PotFact::GunCleaned => self.tell(&Command::CleanGun, None, now),
            PotFact::Emptied => match self.pot_to_empty() {
                Some(pot) => self.tell(&Command::EmptyPot { pot }, None, now),
                None => self.say("no pot is mixed", now),
            },
        }
    }

    fn reducer_on_bench(&self) -> Option<usize> {
        let layer = self.board.mixing.as_ref()?.layer;
        let components = &self.session.state().sheet(layer)?.mix.components;
        components.iter().position(|component| component.role == Role::Reducer)
    }

    /// The pot on the bench, where there is one; else the pot in use.
    fn pot_to_empty(&self) -> Option<String> {
        let on_bench = self.board.mixing.as_ref().filter(|mix| mix.stands != OnBench::ToMix);
        on_bench.map(|mix| mix.pot.clone()).or_else(|| self.pot_in_use())
    }

    /// The layer for which a pot is mixed.
    pub(super) fn layer_to_mix(&self) -> u32 {
        self.board
            .mixing
            .as_ref()
            .map_or_else(|| self.session.state().layer_count(), |mix| mix.layer)
    }

    pub(super) fn board_at(&self, t: Moment) -> Board {
        self.measured(boothside_core::board::board(&self.session, t))
    }
}
