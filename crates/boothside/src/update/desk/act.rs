//! What each key of the table does.

use boothside_core::board::{Hero, Next, PotRow, ReadWhy, Waited};
use boothside_core::session::clocks::DueAt;
use boothside_core::session::command::Command;
use boothside_core::session::event::Way;
use boothside_core::session::standing::{AirLimit, FaceNow, Hold, PotNow, PotWhy, Wanting};
use boothside_core::session::time::{Moment, Span};

use super::{Desk, Effect, Now, THUMB_MS, Timed};
use crate::forms::{FormKind, MixForm};
use crate::update::scene::{Asking, Intention, Notice, Screen};
use crate::update::table::Do;

const CHOOSE: &str = "choose a face first: ↑ ↓";

/// A key older than this is not taken back without a question.
const OLD_KEY: Span = Span::from_minutes(10);

impl Desk {
    pub(super) fn act(&mut self, does: Do, pressed_ms: i64, now: &Now<'_>) -> Vec<Effect> {
        if let Some(effects) = self.act_in_log(does, now).or_else(|| self.act_on_mix(does, now)) {
            return effects;
        }
        match does {
            Do::Next => self.do_next(pressed_ms, now),
            Do::Act => self.act_on_chosen(now),
            Do::Up => self.choose(-1, now),
            Do::Down => self.choose(1, now),
            Do::Dulled => self.looked(true, now),
            Do::StillWet => self.looked(false, now),
            Do::RestOn => self.rest_on(now),
            Do::CupFilled => self.cup_filled(now),
            Do::Reading => self.open_form(FormKind::Reading, now),
            Do::Mix | Do::Bench => self.show(Screen::Mix),
            Do::Lots => self.open_mix(MixForm::Lots, now),
            Do::FlowCup => self.open_mix(MixForm::FlowCup, now),
            Do::Rests => self.open_mix(MixForm::Rests, now),
            Do::OtherFacts => self.other_facts(now),
            Do::Pause => self.pause(now),
            Do::Fault => self.open_faults(),
            Do::Hang => self.open_parts(),
            Do::Gun => self.open_form(FormKind::Gun, now),
            Do::Film => self.read_wet_film(now),
            Do::Note => self.open_form(FormKind::Note, now),
            Do::TakeBack => self.take_back(now),
            Do::Earlier => self.tell(&Command::Earlier { by: Span::from_minutes(1) }, None, now),
            Do::TrueTime => self.open_form(FormKind::TrueTime, now),
            Do::Figure => self.open_form(FormKind::Figure, now),
            Do::Silence => self.say("silent until something else comes due", now),
            Do::Clocks => self.show(Screen::Clocks),
            Do::FilmScreen => self.show(Screen::Film),
            Do::Log => self.show_log(),
            Do::Ready => self.show_ready(),
            Do::Air => self.show(Screen::Air),
            Do::Keys => {
                let screen =
                    if self.screen == Screen::Keys { Screen::Clocks } else { Screen::Keys };
                self.show(screen)
            }
            Do::Leave => self.leave(Effect::Leave, now),
            Do::Book => self.leave(Effect::Book, now),
            Do::JumpOn => self.jump_on(now),
            Do::Faster => self.change_pace(2.0),
            Do::Slower => self.change_pace(0.5),
        }
    }

    fn do_next(&mut self, pressed_ms: i64, now: &Now<'_>) -> Vec<Effect> {
        let sprays = matches!(self.board.next, Next::BeginCoat { .. } | Next::CoatOn { .. });
        if sprays || !self.screen.is_of_the_bench() {
            self.screen = Screen::Clocks;
        }
        let drawn = match self.before_change.take() {
            // on the gun time alone changes nothing; else what was drawn under the thumb counts
            Some(before) if pressed_ms - before.hand_ms < THUMB_MS => before.it,
            _ => self.board.next.clone(),
        };
        if self.awake.take().is_some() {
            // the large letters said how long the laptop slept: nothing is written
            return Vec::new();
        }
        match (&drawn, drawn.command(&self.session)) {
            // the bench shows what is poured, and only there a pour is written by its figure
            (Next::Pour { .. }, _) if self.screen != Screen::Mix => self.show(Screen::Mix),
            (Next::Close, _) => self.ask(Asking::Close),
            (Next::Stir { .. }, Some(command)) => {
                let effects = self.tell(&command, None, now);
                // the bench has done its work: what comes next stands large on the clocks
                self.screen = if effects.is_empty() { self.screen } else { Screen::Clocks };
                effects
            }
            (_, Some(command)) => self.tell(&command, None, now),
            (Next::Reading { .. }, None) => self.open_form(FormKind::Reading, now),
            (Next::CountMasks { way: Way::In, .. }, None) => self.open_form(FormKind::CountIn, now),
            (Next::CountMasks { way: Way::Out, .. }, None) => {
                self.open_form(FormKind::CountOut, now)
            }
            (_, None) => {
                self.notice(Notice::OnlyWaiting, now.hand_ms);
                Vec::new()
            }
        }
    }

    fn act_on_chosen(&mut self, now: &Now<'_>) -> Vec<Effect> {
        if self.screen == Screen::Film {
            return self.ask_film();
        }
        if self.screen == Screen::Ready {
            return self.act_on_line(now);
        }
        let chosen =
            self.chosen().and_then(|face| Some((face, self.board.faces.get(face)?.at.now)));
        self.chosen = None;
        let Some((face, stands)) = chosen else {
            return self.go_on(now);
        };
        let id = self.face_id(face);
        let command = match stands {
            FaceNow::OnTheGun => Command::CoatOn { face: id },
            FaceNow::Look => Command::Dulled { face: id },
            _ => Command::BeginCoat { face: id, past: None },
        };
        self.tell(&command, None, now)
    }

    /// With no face chosen: past what SPACE asks, by one digit.
    fn go_on(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let wanting = match self.board.next.clone() {
            Next::Wait { what, until } => return self.past_wait(what, until, now),
            Next::Step { step, again } => Wanting::Step { step, again },
            Next::Check { layer, coat, check } => Wanting::Check { layer, coat, check },
            Next::SomeoneKnows => Wanting::SomeoneKnows,
            Next::Reading { why } => return self.past_reading(why),
            Next::CleanGun { pot, .. } => return self.ask_past(Hold::CleanGun { pot }),
            Next::Leftover { pot, .. } => return self.ask_past(Hold::Leftover { pot }),
            Next::MixPot { why, .. } | Next::Pour { why: Some(why), .. } => match why {
                PotWhy::Short(pot, _) => return self.ask_past(Hold::PotShort { pot }),
                PotWhy::NextCoat(_) => match self.pot_in_use() {
                    Some(pot) => return self.ask_past(Hold::PotShort { pot }),
                    None => return self.say(CHOOSE, now),
                },
                _ => return self.say(CHOOSE, now),
            },
            _ => return self.say(CHOOSE, now),
        };
        self.ask_past(Hold::Wanting(wanting))
    }

    fn ask_past(&mut self, hold: Hold) -> Vec<Effect> {
        self.ask(Asking::Holds { intention: Intention::GoOn, holds: vec![hold] })
    }

    fn past_reading(&mut self, why: ReadWhy) -> Vec<Effect> {
        let layer = self.session.state().layer_in_work().unwrap_or(1);
        let hold = match why {
            ReadWhy::Missing | ReadWhy::Old => Hold::Wanting(Wanting::Reading),
            ReadWhy::Condensing => return self.ask_past_water(),
            ReadWhy::Trend { .. } => Hold::Air { layer, limit: AirLimit::DewTrend, outside: None },
            ReadWhy::Unfit(outside) => {
                Hold::Air { layer, limit: outside.limit(), outside: Some(outside) }
            }
        };
        self.ask_past(hold)
    }

    /// Past a wait without a face: asks why.
    fn past_wait(&mut self, what: Waited, until: Option<DueAt>, now: &Now<'_>) -> Vec<Effect> {
        let wanting = match what {
            Waited::AfterStep { step } => Wanting::StepWait { step, until },
            Waited::StageBeforeStep { step } => {
                Wanting::StepNotYet { step, until: until.and_then(|until| until.moment()) }
            }
            Waited::Stand { pot } => Wanting::Stand { pot, until },
            Waited::ToHang { .. } => return self.open_parts(),
            Waited::Cure { .. } | Waited::Away { .. } => {
                return self.tell(&Command::Close { past: None }, None, now);
            }
            _ => return self.choose(1, now),
        };
        self.ask_past(Hold::Wanting(wanting))
    }

    /// Past water that condenses on the part: asks why.
    fn ask_past_water(&mut self) -> Vec<Effect> {
        let limit = AirLimit::DewPoint;
        let layer = self.session.state().layer_in_work().unwrap_or(1);
        let mut outside = self.board.air.out_of_limits.iter();
        let outside = outside.find(|outside| outside.limit() == limit).copied();
        self.ask_past(Hold::Air { layer, limit, outside })
    }

    fn choose(&mut self, by: isize, now: &Now<'_>) -> Vec<Effect> {
        if self.screen == Screen::Ready {
            return self.choose_line(by);
        }
        let count = self.board.faces.len();
        let at = match self.chosen() {
            Some(chosen) => chosen.saturating_add_signed(by).min(count.saturating_sub(1)),
            None if self.screen == Screen::Film => self.face_last_touched(),
            None => self.first_to_choose(by),
        };
        if self.screen != Screen::Film {
            self.screen = Screen::Clocks;
        }
        self.choose_face(at, now.hand_ms);
        Vec::new()
    }

    /// The first press of an arrow chooses the face that SPACE speaks of, where there is one.
    fn first_to_choose(&self, by: isize) -> usize {
        match &self.board.next {
            Next::CoatOn { face, .. } | Next::BeginCoat { face, .. } | Next::Dulled { face } => {
                *face
            }
            _ if by < 0 => self.board.faces.len().saturating_sub(1),
            _ => 0,
        }
    }

    fn looked(&mut self, dulled: bool, now: &Now<'_>) -> Vec<Effect> {
        let Some(face) = self.face_to_look_at() else {
            return self.say("no face flashes: ↑ ↓ choose one", now);
        };
        self.chosen = None;
        let face = self.face_id(face);
        let command = if dulled { Command::Dulled { face } } else { Command::StillWet { face } };
        self.tell(&command, None, now)
    }

    /// The chosen face, else the one due for a look, else the next that will be.
    fn face_to_look_at(&self) -> Option<usize> {
        if let Some(chosen) = self.chosen() {
            return Some(chosen);
        }
        if let Next::Dulled { face } = self.board.next {
            return Some(face);
        }
        let looks = self.board.faces.iter().enumerate().filter(|(_, face)| {
            matches!(face.at.now, FaceNow::Look | FaceNow::Flashing | FaceNow::LayerDone)
        });
        let due =
            |face: &boothside_core::board::FaceRow| face.at.look.and_then(|look| look.moment());
        looks
            .filter_map(|(number, face)| Some((due(face)?, number)))
            .min()
            .map(|(_, number)| number)
    }

    fn rest_on(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let next = |face: &boothside_core::board::FaceRow| face.at.next;
        let faces = &self.board.faces;
        let on_the_gun = faces.iter().find(|face| face.at.now == FaceNow::OnTheGun).and_then(next);
        let hanging = faces.iter().filter(|face| !face.at.now.is_absent());
        let Some((layer, coat)) = on_the_gun.or_else(|| hanging.filter_map(next).min()) else {
            return self.say("every coat is on", now);
        };
        // a coat of which no face was begun is not finished by one stray key
        if self.is_coat_begun(layer, coat) {
            return self.tell(&Command::RestOn { layer, coat }, None, now);
        }
        self.ask(Asking::RestOn { layer, coat })
    }

    /// Whether a face of this coat was begun since the last of those came that get it next: what was
    /// begun before a part came to hang says nothing of that part.
    fn is_coat_begun(&self, layer: u32, coat: u32) -> bool {
        let faces = &self.session.state().faces;
        let gets_it = faces
            .iter()
            .zip(&self.board.faces)
            .filter(|(_, row)| row.at.next == Some((layer, coat)) && !row.at.now.is_absent());
        let came = gets_it.filter_map(|(face, _)| face.place.came).max();
        faces.iter().any(|face| {
            let mut of_layer = face.coats.iter().filter(|on| on.is_nth_of(layer));
            let nth = of_layer.nth(coat.saturating_sub(1) as usize);
            nth.is_some_and(|on| !on.skipped && came.is_none_or(|came| on.begun >= came))
        })
    }

    fn cup_filled(&mut self, now: &Now<'_>) -> Vec<Effect> {
        match self.pot_to_fill_from() {
            Some(pot) => self.tell(&Command::FillCup { pot }, None, now),
            None => self.say("no pot is mixed: m tells one", now),
        }
    }

    /// The newest pot of the layer that may be sprayed: the one in the gun goes on only while a
    /// newer one stands.
    fn pot_to_fill_from(&self) -> Option<String> {
        let in_use = self.pot_in_use();
        let layer = self.session.state().pot(in_use.as_deref()?)?.layer;
        let ready = |pot: &&PotRow| pot.at.layer == layer && pot.at.now == PotNow::Good;
        let newest = self.board.pots.iter().rev().find(ready);
        newest.map(|pot| pot.at.id.clone()).or(in_use)
    }

    pub(super) fn pot_in_use(&self) -> Option<String> {
        let state = self.session.state();
        let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
        let of_layer = state.pot_in_use(layer).map(|pot| pot.id.clone());
        of_layer.or_else(|| state.gun.clone())
    }

    fn other_facts(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let face = self.chosen().or(match &self.board.next {
            Next::CoatOn { face, .. }
            | Next::BeginCoat { face, .. }
            | Next::Dulled { face }
            | Next::Turn { face } => Some(*face),
            _ => None,
        });
        match face.or_else(|| self.choose_first(now)) {
            Some(face) => self.ask(Asking::OtherFacts { face }),
            None => self.say(CHOOSE, now),
        }
    }

    /// Where SPACE speaks of no face, the first one is chosen.
    fn choose_first(&mut self, now: &Now<'_>) -> Option<usize> {
        let first = (!self.board.faces.is_empty()).then(|| self.first_to_choose(1))?;
        self.choose_face(first, now.hand_ms);
        Some(first)
    }

    fn pause(&mut self, now: &Now<'_>) -> Vec<Effect> {
        if self.session.state().paused.is_some() {
            return self.tell(&Command::Resume, None, now);
        }
        self.ask(Asking::PauseWhy)
    }

    fn take_back(&mut self, now: &Now<'_>) -> Vec<Effect> {
        let Some((n, told)) = self.last_key() else {
            return self.say("nothing to take back", now);
        };
        if now.t.since(told) <= OLD_KEY {
            return self.tell(&Command::TakeBack, None, now);
        }
        let entry = self.session.entry(n).cloned();
        let Some(entry) = entry else { return Vec::new() };
        let when = entry.told_ms();
        self.ask(Asking::TakeBackOld { n, events: entry.events, when })
    }

    /// The key that `u` takes back and when it was pressed.
    pub(super) fn last_key(&self) -> Option<(u64, Moment)> {
        let n = boothside_core::session::last_key(&self.session)?;
        self.session.entry(n).map(|entry| (n, entry.t_ms))
    }

    fn leave(&mut self, to: Effect, now: &Now<'_>) -> Vec<Effect> {
        if self.leaving.is_some() {
            return vec![to];
        }
        self.leaving = Some(now.hand_ms);
        Vec::new()
    }

    fn jump_on(&mut self, now: &Now<'_>) -> Vec<Effect> {
        match self.next_due_clock() {
            Some(to) => {
                self.jumped = true;
                vec![Effect::JumpTo(to)]
            }
            None => self.say("no clock is running", now),
        }
    }

    /// The end of what is waited for; where there is something to do, the soonest clock.
    fn next_due_clock(&self) -> Option<Moment> {
        let clocks = [self.board.hero.as_ref(), self.board.soonest.as_ref()];
        let runs = |hero: &&Hero| !hero.due && hero.at > self.board.now;
        let soonest = clocks.into_iter().flatten().find(runs).map(|hero| hero.at);
        match &self.board.next {
            Next::Wait { until, .. } => until.and_then(|until| until.moment()).or(soonest),
            _ => soonest,
        }
    }

    fn change_pace(&mut self, by: f64) -> Vec<Effect> {
        let Some(rehearsal) = &mut self.rehearsal else { return Vec::new() };
        rehearsal.pace = (rehearsal.pace * by).clamp(1.0, 3600.0);
        vec![Effect::Pace(rehearsal.pace)]
    }

    pub(super) fn show(&mut self, screen: Screen) -> Vec<Effect> {
        self.screen = screen;
        Vec::new()
    }

    pub(super) fn ask(&mut self, asking: Asking) -> Vec<Effect> {
        if !self.screen.is_of_the_bench() {
            self.screen = Screen::Clocks;
        }
        self.asking = Some(asking);
        Vec::new()
    }

    pub(super) fn say(&mut self, text: &str, now: &Now<'_>) -> Vec<Effect> {
        self.notice(Notice::Text(text.to_owned()), now.hand_ms);
        Vec::new()
    }

    /// The id of a face; of none, where the number outlived it: then what names it is refused.
    pub(super) fn face_id(&self, face: usize) -> String {
        self.session.plan().faces().get(face).map_or_else(String::new, |face| face.id.clone())
    }

    /// The face chosen by the arrows, unless it is gone.
    pub(super) fn chosen(&self) -> Option<usize> {
        self.session.plan().index(&self.chosen.as_ref()?.it)
    }

    fn choose_face(&mut self, face: usize, hand_ms: i64) {
        self.chosen = Some(Timed { it: self.face_id(face), hand_ms });
    }
}
