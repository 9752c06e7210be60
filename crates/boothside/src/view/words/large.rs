//! What stands large: verb and object of what SPACE does. One voice with `next`.

mod wait;

use boothside_core::board::mixing::Shows;
use boothside_core::board::{CleanWhy, Hero, Next, OutOfLimits, ReadWhy, Stop, Waited};
use boothside_core::session::clocks::DueAt;
use boothside_core::session::event::Way;
use boothside_core::session::standing::{FaceNow, PotNow, PotWhy, WipeWhy};
use boothside_core::session::time::Span;
use boothside_core::work::system::{Does, Each, Group};

use super::Words;
use super::hero::HeroWords;
use super::time::{Time, spoken};
use crate::view::text::clean;

/// Large words and what goes with them in the second size.
type Large = (String, String);

fn large(words: impl Into<String>, second: impl Into<String>) -> Large {
    (words.into().to_uppercase(), second.into())
}

impl Words<'_> {
    /// What stands large, by what stops the work and what SPACE does.
    #[must_use]
    pub fn hero(&self) -> HeroWords {
        let due = self.board.stop.is_some() || matches!(self.board.next, Next::Dulled { .. });
        let (big, second) = match &self.board.stop {
            Some(stop) => self.stopped(stop),
            None => self.large_of(&self.board.next),
        };
        let second = match self.awake {
            Some(span) => self.slept(span),
            None => second,
        };
        let lines = self.explained();
        HeroWords { big, due, subject: String::new(), verb: second, lines }
    }

    /// 'slept 47 min: 5 faces'.
    fn slept(&self, span: Span) -> String {
        let slept = format!("slept {}", spoken(span, Time::Past));
        match self.looks().len() {
            0 => slept,
            1 => format!("{slept}: 1 face"),
            faces => format!("{slept}: {faces} faces"),
        }
    }

    fn stopped(&self, stop: &Stop) -> Large {
        match stop {
            Stop::Clean { pot, why } => large("stop and clean", self.why_stop(pot, *why)),
            Stop::FanOff { .. } => large("fan off", "stop: SPACE, the face is on"),
            Stop::Condensing { .. } => large("water condenses", "warm the part or dry the air"),
            Stop::Closes { face, at } => {
                let closes = format!("closes {}", self.clock(*at, Time::Limit));
                (closes.to_uppercase(), self.bare_face(*face).to_uppercase())
            }
        }
    }

    fn why_stop(&self, pot: &str, why: CleanWhy) -> String {
        if matches!(self.board.next, Next::CoatOn { .. }) {
            return "release: SPACE, the face is on".into();
        }
        let row = self.board.pots.iter().find(|row| row.at.id == pot);
        let dead = row.and_then(|row| row.at.dead).and_then(|due| due.moment());
        let suit_up = self.to_suit_up();
        match (why, dead) {
            (CleanWhy::Dead, _) if suit_up => "dead: respirator first".into(),
            (CleanWhy::Dead, Some(dead)) => format!("dead since {}", self.clock(dead, Time::Past)),
            (CleanWhy::TooLate, _) => "too late for another face".into(),
            _ => self.pot(pot).to_uppercase(),
        }
    }

    /// Whether a new sitting has not been answered for yet.
    fn to_suit_up(self) -> bool {
        let sitting = self.session.state().sitting;
        sitting.is_none_or(|sitting| sitting.ends <= self.now())
    }

    fn large_of(&self, next: &Next) -> Large {
        match next {
            Next::CoatOn { face, layer, .. } => self.on_the_gun(*face, *layer),
            Next::CleanGun { pot, .. } => ("CLEAN GUN".into(), self.pot(pot).to_uppercase()),
            Next::Resume => {
                let since = self.board.hero.as_ref().map(|hero| hero.at);
                let passed = since.map(|since| self.large_since(since)).unwrap_or_default();
                large(format!("paused {passed}"), self.soonest())
            }
            Next::Dulled { face } => {
                large(format!("look {}", self.bare_face(*face)), self.more_looks())
            }
            Next::BeginCoat { face, layer, coat } => {
                let second = self.before_spraying(*face, *layer, *coat);
                large(format!("spray {}", self.bare_face(*face)), second)
            }
            Next::Step { step, .. } => self.large_step(step),
            Next::CountMasks { way, again } => self.large_masks(*way, *again),
            Next::Check { layer, check, .. } => self.large_check(*layer, check),
            Next::SomeoneKnows => large("who knows?", "this screen cannot call for help"),
            Next::FanOn => large("fan on?", "it went off"),
            Next::Reading { why } => self.large_reading(*why),
            Next::Wipe { faces, why, .. } => self.large_wipe(faces, *why),
            Next::Sand { faces } => {
                large(format!("sand {}", self.which(faces)), "before the next coat")
            }
            Next::Turn { face } => self.large_turn(*face),
            Next::Leftover { ml, .. } => {
                let ml = ml.map(|ml| format!("{}: ", self.figures().volume(ml)));
                let ml = ml.unwrap_or_else(|| "how much is not known: ".into());
                large("leftover", format!("{ml}it heats as it sets, never sealed"))
            }
            Next::Close => large("close?", "every coat is on and cured"),
            Next::Over => {
                let closed = self.session.state().closed;
                let at = closed.map(|at| format!("at {}", self.clock(at, Time::Past)));
                large("closed", at.unwrap_or_default())
            }
            Next::Wait { what, until } => self.large_wait(what, *until),
            Next::MixPot { .. } | Next::Pour { .. } | Next::Stir { .. } => self.large_bench(next),
        }
    }

    fn on_the_gun(&self, face: usize, layer: u32) -> Large {
        if self.board.forgotten.is_some_and(|forgotten| forgotten.face == face) {
            return ("STILL SPRAYING?".into(), self.bare_face(face).to_uppercase());
        }
        let since = self.board.hero.as_ref().map(|hero| hero.at);
        let passed = since.map(|since| self.large_since(since)).unwrap_or_default();
        let looks = self.looks();
        let second = match (self.short_in_the_gun(), looks.first()) {
            (Some(short), _) => short,
            (None, Some(look)) => format!("then look: {}", self.bare_face(*look)),
            (None, None) if self.is_cross(layer) => "both passes".into(),
            (None, None) => "on the gun".into(),
        };
        large(format!("{passed} {}", self.bare_face(face)), second)
    }

    /// 'pot A 10 mL short', where the pot in the gun does not do the coat in hand.
    fn short_in_the_gun(&self) -> Option<String> {
        let pot = self.board.pots.iter().find(|row| row.in_the_gun)?;
        let Next::CoatOn { coat, .. } = self.board.next else { return None };
        let (_, need) = pot.needs_ml.iter().find(|(of, _)| *of == coat)?;
        let other = self.board.pots.iter().any(|other| {
            let fit = matches!(other.at.now, PotNow::Good | PotNow::Standing);
            other.at.layer == pot.at.layer && other.at.id != pot.at.id && fit
        });
        let short = need - pot.left_ml?;
        let text = format!("{} {} short", self.pot(&pot.at.id), self.figures().volume(short));
        (short > 0.5 && !other).then_some(text)
    }

    /// Faces due for a look, first due first.
    fn looks(&self) -> Vec<usize> {
        let rows = self.board.faces.iter().enumerate();
        let mut due: Vec<_> = rows
            .filter(|(_, row)| row.at.now == FaceNow::Look)
            .map(|(face, row)| (row.at.look.and_then(|look| look.moment()), face))
            .collect();
        due.sort();
        due.into_iter().map(|(_, face)| face).collect()
    }

    fn more_looks(&self) -> String {
        match self.looks().len().saturating_sub(1) {
            0 => "has it dulled?".into(),
            more => format!("{more} more"),
        }
    }

    fn before_spraying(&self, face: usize, layer: u32, coat: u32) -> String {
        let history = self.session.state().faces.get(face);
        if history.is_some_and(|it| it.coats.last().is_some_and(|last| last.part_way)) {
            return "again: part-way".into();
        }
        if let Some(tight) = self.tight_pot(layer, coat) {
            return tight;
        }
        if self.is_extra(layer, coat) {
            return "extra coat".into();
        }
        let soonest =
            self.board.soonest.as_ref().filter(|it| matches!(it.what, Waited::Look { .. }));
        if let Some(soonest) = soonest {
            return self.clock_line(soonest);
        }
        let passes = if self.is_cross(layer) { ", both passes" } else { "" };
        format!("coat {coat} of {}{passes}", self.coats(layer))
    }

    /// 'last trigger 12:26: 1 of 3 fits', where the pot does not outlast the coat in hand.
    fn tight_pot(&self, layer: u32, coat: u32) -> Option<String> {
        use boothside_core::session::pace::usual_time;
        let pot = self.board.pots.iter().find(|row| row.in_the_gun && row.at.layer == layer)?;
        let last = pot.at.last_trigger?;
        let (state, plan) = (self.session.state(), self.session.plan());
        let rows = self.board.faces.iter().enumerate();
        let lacking = rows.filter(|(_, row)| {
            row.at.next.is_some_and(|(of, next)| of == layer && next <= coat)
                && !row.at.now.is_absent()
        });
        let times: Vec<i64> =
            lacking.map(|(face, _)| usual_time(state, plan, layer, face).time.ms()).collect();
        let left = last.since(self.now()).ms();
        let fits = |used: &mut i64, time: &i64| {
            *used += time;
            (*used <= left).then_some(())
        };
        let fit = times.iter().scan(0, fits).count();
        let last = format!("last trigger {}", self.clock(last, Time::Limit));
        let (all, looks) = (times.len(), !self.looks().is_empty());
        if fit < all {
            let verb = if fit == 1 { "fits" } else { "fit" };
            return Some(format!("{last}: {fit} of {all} {verb}"));
        }
        looks.then(|| format!("{last}, then look"))
    }

    fn large_step(&self, step: &str) -> Large {
        let steps = &self.board.steps;
        let nth = steps.iter().position(|at| at.id == step).unwrap_or(0) + 1;
        let count = format!("{nth} of {}", steps.len());
        match self.find_step(step).and_then(|step| step.short.as_ref()) {
            Some(short) => large(clean(short), count),
            None => large(self.does(step, nth), self.step_on(step)),
        }
    }

    /// What stands for a step without a short name.
    fn does(&self, step: &str, nth: usize) -> String {
        match self.find_step(step).and_then(|step| step.does) {
            Some(Does::Wipe) => "wipe".into(),
            Some(Does::Scuff) => "scuff".into(),
            Some(Does::Sand) => "sand".into(),
            Some(Does::Mask) => "count masks".into(),
            None => format!("do step {nth}"),
        }
    }

    /// A step's short name, else its name.
    #[must_use]
    pub fn step_short(&self, step: &str) -> String {
        let short = self.find_step(step).and_then(|step| step.short.as_ref());
        short.map_or_else(|| self.step(step), |short| clean(short).to_lowercase())
    }

    fn large_masks(&self, way: Way, again: bool) -> Large {
        let masks = self.session.state().masks;
        let counted = masks.on.zip(masks.off).map(|((on, _), (off, _))| (on, off));
        match (way, counted.filter(|_| again)) {
            (_, Some((on, off))) if off < on => {
                let missing = on - off;
                let name = if missing == 1 { "mask" } else { "masks" };
                large(format!("{missing} {name} missing"), "count again")
            }
            (_, Some((on, off))) => large(format!("{} masks more", off - on), "count again"),
            (Way::In, None) => large("count masks", "how many go in?"),
            (Way::Out, None) => match masks.on {
                Some((on, _)) => large("count masks", format!("{on} went in")),
                None => large("count masks", "! not counted in: take the number out"),
            },
        }
    }

    fn large_check(&self, layer: u32, id: &str) -> Large {
        let checks = self.session.state().layer(layer).map_or(&[][..], |layer| &layer.ready);
        let Some(check) = checks.iter().find(|check| check.id == id) else {
            return large("check?", self.check(layer, id));
        };
        let count = match self.board.to_check {
            0 | 1 => "the last check".to_owned(),
            more => format!("{more} to check"),
        };
        let Some(short) = &check.short else {
            return large(group_word(check.belongs_to()), self.check(layer, id));
        };
        let short = clean(short);
        let of_pot = check.asked() == Each::Pot && !short.ends_with('?');
        let pot = self.session.state().pot_in_use(layer).filter(|_| of_pot);
        match pot {
            Some(pot) => large(format!("{short} {}", self.pot(&pot.id)), count),
            None => large(short, count),
        }
    }

    fn large_reading(&self, why: ReadWhy) -> Large {
        match why {
            ReadWhy::Missing => large("air", "not read yet: press SPACE"),
            ReadWhy::Old => {
                let taken = self.session.state().readings.last().map(|taken| taken.at);
                let ago = taken.map(|at| ago(self.now().since(at)));
                large("air", format!("read {} ago", ago.unwrap_or_default()))
            }
            ReadWhy::Condensing => large("water condenses", "warm the part or dry the air"),
            ReadWhy::Trend { gone, wet } => large(
                format!("dew {}", self.clock(gone, Time::Limit)),
                format!("coat dulls {}", self.clock(self.now().plus(wet), Time::Wait)),
            ),
            ReadWhy::Unfit(outside) => self.large_unfit(outside),
        }
    }

    fn large_unfit(&self, outside: OutOfLimits) -> Large {
        let figures = self.figures();
        let bare = |text: String| text.split(' ').next().unwrap_or_default().to_owned();
        let read = |celsius: f64| bare(figures.temperature(celsius));
        let limit = |celsius: f64| bare(figures.stated_temperature(celsius));
        match outside {
            OutOfLimits::TooCold { limit_c, read_c } => {
                large("too cold", format!("{}, {} wanted", read(read_c), limit(limit_c)))
            }
            OutOfLimits::TooWarm { limit_c, read_c } => {
                large("too warm", format!("{}, {} at most", read(read_c), limit(limit_c)))
            }
            OutOfLimits::TooDry { limit_pct, read_pct } => {
                large("too dry", format!("{read_pct:.0} %, {limit_pct:.0} wanted"))
            }
            OutOfLimits::TooHumid { limit_pct, read_pct } => {
                large("too humid", format!("{read_pct:.0} %, {limit_pct:.0} at most"))
            }
            OutOfLimits::NearDewPoint { wanted_k, margin_k } => {
                let wanted = bare(figures.difference(wanted_k));
                large(
                    "near dew",
                    format!("{} above, {wanted} wanted", bare(figures.difference(margin_k))),
                )
            }
            OutOfLimits::PaintTooCold { limit_c, read_c } => {
                large("paint cold", format!("{}, {} wanted", read(read_c), limit(limit_c)))
            }
            OutOfLimits::PaintTooWarm { limit_c, read_c } => {
                large("paint warm", format!("{}, {} at most", read(read_c), limit(limit_c)))
            }
        }
    }

    fn large_wipe(&self, faces: &[usize], why: Option<WipeWhy>) -> Large {
        let second = match why {
            Some(WipeWhy::CameOff(coat)) => format!("coat {coat} came off"),
            Some(WipeWhy::Turned) if faces.len() == 1 => "it was turned over".into(),
            _ => "before the next coat".into(),
        };
        large(format!("wipe {}", self.which(faces)), second)
    }

    /// 'Hatch under', 'all 8 faces', '3 faces'.
    fn which(&self, faces: &[usize]) -> String {
        match faces {
            [one] => self.bare_face(*one),
            many => self.how_many(many),
        }
    }

    fn large_turn(&self, face: usize) -> Large {
        match self.session.plan().faces().get(face) {
            Some(face) => large(format!("turn over {}", clean(&face.part)), clean(&face.face)),
            None => large("turn over", ""),
        }
    }

    fn large_bench(&self, next: &Next) -> Large {
        let volume = |ml: &Option<f64>| match ml {
            Some(ml) => self.figures().volume(*ml),
            None => "amount not known: e shows what is missing".into(),
        };
        match next {
            Next::MixPot { layer, amount_ml, why } => {
                let second = self.why_mix(*layer, why).unwrap_or_else(|| volume(amount_ml));
                large(format!("mix {}", self.next_pot()), second)
            }
            Next::Pour { pot, layer, why: Some(why), .. } if !self.at_bench => {
                let wanted = self.board.mixing.as_ref().filter(|mix| mix.pot == *pot);
                let wanted = wanted.and_then(|mix| mix.now.as_ref().ok()?.wanted.ml);
                let wanted = || wanted.map_or_else(String::new, |ml| self.figures().volume(ml));
                let second = self.why_mix(*layer, why).unwrap_or_else(wanted);
                large(format!("mix {}", self.pot(pot)), second)
            }
            Next::Pour { pot, layer, component, shows, .. } => {
                let amount = match *shows {
                    Shows::Scale(g) => self.figures().mass(g),
                    Shows::Mark(ml) => self.figures().volume(ml),
                };
                let name = self.component(*layer, *component);
                large(format!("{amount} {name}"), self.where_in_pot(pot, *layer, *component))
            }
            Next::Stir { pot, amount_ml, .. } => {
                large(format!("stir {}", self.pot(pot)), volume(amount_ml))
            }
            _ => large("", ""),
        }
    }

    /// Why a pot is mixed, where that is not plain.
    fn why_mix(&self, layer: u32, why: &PotWhy) -> Option<String> {
        if let Some(lost) = self.window_lost(layer) {
            return Some(lost);
        }
        Some(match why {
            PotWhy::None => return None,
            PotWhy::StopAndClean(pot) => format!("{} is past its last trigger", self.pot(pot)),
            PotWhy::Dead(pot) => format!("{} is dead", self.pot(pot)),
            PotWhy::TooLate(pot) => format!("{} is too late for a face", self.pot(pot)),
            PotWhy::Short(pot, faces) if faces.is_empty() => {
                format!("{} does not do one more face", self.pot(pot))
            }
            PotWhy::Short(pot, faces) => {
                format!("{} does {} only", clean(pot), self.parts_of(faces))
            }
            PotWhy::NextCoat(coat) => self.mixed_by(layer, *coat),
        })
    }

    /// 'Hatch top will want a wipe': its window closes before a pot can have stood.
    fn window_lost(&self, layer: u32) -> Option<String> {
        if self.board.stop.is_some() {
            return None;
        }
        let rows = self.board.faces.iter().enumerate();
        let closing = rows.filter(|(_, row)| {
            let of_layer = row.at.next.is_some_and(|(of, _)| of == layer);
            of_layer && row.at.now == FaceNow::Closing && row.at.turn.is_none()
        });
        let (face, row) = closing.min_by_key(|(_, row)| row.at.until.and_then(DueAt::moment))?;
        let wipe = row.at.wipe_until.is_some_and(|last| Some(last.at) != row.at.until);
        let then = if wipe { "a wipe" } else { "sanding" };
        Some(format!("{} will want {then}", self.bare_face(face)))
    }

    /// 'stood by 15:50' where the first face is waited for, else 'for coat 2'.
    fn mixed_by(&self, layer: u32, coat: u32) -> String {
        let rows = self.board.faces.iter().filter(|row| !row.at.now.is_absent());
        let rows = rows.filter(|row| row.at.next.is_some_and(|(of, _)| of == layer));
        let now = rows.clone().any(|row| row.at.now.takes_a_coat());
        let opens = rows.filter_map(|row| row.at.until?.moment()).min().filter(|_| !now);
        let stands = self.session.state().sheet(layer).and_then(|it| it.induction.as_ref());
        match opens.map(|at| self.clock(at, Time::Limit)) {
            Some(at) if stands.is_some() => format!("stood by {at}"),
            Some(at) => format!("for coat {coat} at {at}"),
            None => format!("for coat {coat}"),
        }
    }

    /// 'Hatch and Cuff' where all faces of those are among them, else 'Hatch top'.
    fn parts_of(&self, faces: &[usize]) -> String {
        let plan = self.session.plan();
        let mut names: Vec<String> = Vec::new();
        for face in faces {
            let Some(planned) = plan.faces().get(*face) else { continue };
            let of_part = |(_, other): &(usize, &boothside_core::session::PlannedFace)| {
                other.part == planned.part
            };
            let whole = plan.faces().iter().enumerate().filter(of_part);
            let whole = whole.into_iter().all(|(number, _)| faces.contains(&number));
            let name = if whole { clean(&planned.part) } else { self.bare_face(*face) };
            if !names.contains(&name) {
                names.push(name);
            }
        }
        match names.as_slice() {
            [] => String::new(),
            [one] => one.clone(),
            [one, two] => format!("{one} and {two}"),
            many => format!("{} faces", faces.len().max(many.len())),
        }
    }

    fn where_in_pot(&self, pot: &str, layer: u32, component: usize) -> String {
        let mix = self.board.mixing.as_ref().filter(|mix| mix.pot == pot);
        let over = mix.and_then(|mix| self.over_poured(mix));
        if let Some(over) = over {
            return over;
        }
        let of = self.session.state().sheet(layer).map_or(0, |sheet| sheet.mix.components.len());
        format!("{}, {} of {of}", self.pot(pot), component + 1)
    }

    /// 'Base over: the rest follows', 'all the Activator allows'.
    fn over_poured(&self, mix: &boothside_core::board::mixing::MixBoard) -> Option<String> {
        let now = mix.now.as_ref().ok()?;
        if let Some(limited) = &now.limited {
            return Some(format!(
                "all the {} allows",
                self.component(mix.layer, limited.component)
            ));
        }
        let (over, _) = now.pot.over?;
        Some(format!("{} over: the rest follows", self.component(mix.layer, over)))
    }

    /// The soonest other clock in the second size.
    pub(super) fn soonest(&self) -> String {
        self.board.soonest.as_ref().map(|it| self.clock_line(it)).unwrap_or_default()
    }

    /// 'look at Hatch top 14:33'.
    fn clock_line(&self, hero: &Hero) -> String {
        let time = super::hero::time_of(&hero.what);
        let at = self.clock(hero.at, time);
        match &hero.what {
            Waited::Look { face } if hero.due => format!("look: {}", self.bare_face(*face)),
            Waited::Look { face } => format!("look at {} {at}", self.bare_face(*face)),
            Waited::Closes { face } => format!("{} closes {at}", self.bare_face(*face)),
            Waited::LastTrigger { .. } => format!("last trigger {at}"),
            what => self.waited(what, &at),
        }
    }

    /// A face without the dot: 'Hatch top'.
    #[must_use]
    pub fn bare_face(&self, number: usize) -> String {
        self.face(number).replace(" · ", " ")
    }
}

/// How old a reading is: in hours up to two days, for that is how one counts a night.
fn ago(span: Span) -> String {
    let hours = span.ms() / Span::from_hours(1).ms();
    if (24..48).contains(&hours) { format!("{hours} h") } else { spoken(span, Time::Past) }
}

const fn group_word(group: Group) -> &'static str {
    match group {
        Group::LayOut => "lay out",
        Group::Protection => "protection?",
        Group::Mix => "mix?",
        Group::Gun => "gun?",
        Group::Booth => "booth?",
        Group::Surface | Group::Air | Group::PlugsAndMasks => "check?",
    }
}
