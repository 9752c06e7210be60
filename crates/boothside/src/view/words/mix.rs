//! The bench in words: pours, what follows from them, what the amount rests on.

use boothside_core::board::mixing::{MixBoard, OnBench, Shows};
use boothside_core::material::recipe::Told;
use boothside_core::session::demand::{Need, NotSet};
use boothside_core::session::mixing::{
    Advice, Container, FlowNow, FlowVerdict, Limited, MixNow, NoAdvice, NoPlan, Ratio, Thinned,
    TooCoarse,
};

use super::Words;
use super::figure::{Figures, short};
use super::time::{Time, spoken};
use crate::view::text::clean;

/// How much a line matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Level {
    /// It stands against going on.
    Hold,
    /// Something to mind.
    Caution,
    /// Told, and no more.
    Calm,
}

/// A line of the bench: how much it matters, and its text.
pub type Line = (Level, String);

impl Words<'_> {
    /// A component (from 0) of a layer's sheet: 'Activator'.
    #[must_use]
    pub fn component(&self, layer: u32, component: usize) -> String {
        let sheet = self.session.state().sheet(layer);
        let named = sheet.and_then(|sheet| sheet.mix.components.get(component));
        named.map_or_else(|| format!("component {}", component + 1), |it| clean(&it.name))
    }

    /// A pour as planned: 'Activator, scale at 485.5 g'.
    #[must_use]
    pub fn pour(&self, layer: u32, component: usize, shows: Shows) -> String {
        format!("{}, {}", self.component(layer, component), self.shows(shows))
    }

    fn shows(&self, shows: Shows) -> String {
        match shows {
            Shows::Scale(g) => format!("scale at {}", self.figures().mass(g)),
            Shows::Mark(ml) => format!("mark at {}", self.figures().volume(ml)),
        }
    }

    /// What a gauge shows: the number, and its unit with the gauge.
    #[must_use]
    pub fn shows_apart(&self, shows: Shows) -> (String, String) {
        let (text, on) = match shows {
            Shows::Scale(g) => (self.figures().mass(g), "on the scale"),
            Shows::Mark(ml) => (self.figures().volume(ml), "on the pot's marks"),
        };
        let (number, unit) = text.split_once(' ').unwrap_or((&text, ""));
        (number.to_owned(), format!("{unit} {on}"))
    }

    /// Pot, layer, how much is wanted, the container: the bench's title.
    #[must_use]
    pub fn bench_title(&self, mix: &MixBoard) -> String {
        let pot = self.pot(&mix.pot).replacen('p', "P", 1);
        let what = match (mix.stands, &mix.now) {
            (OnBench::Mixed, _) => self.mixed(mix),
            (_, Ok(now)) => format!("{} wanted", self.told(now.wanted)),
            (_, Err(_)) => "how much is not known".to_owned(),
        };
        format!("{pot} · {} · {what}", self.layer(mix.layer))
    }

    fn mixed(&self, mix: &MixBoard) -> String {
        let amount = mix.standing.as_ref().and_then(|pot| pot.amount_ml);
        let figures = self.figures();
        match (mix.left_ml, amount) {
            (Some(left), Some(all)) => {
                format!("mixed · {} of {}", figures.bare_volume(left), figures.volume(all))
            }
            (None, Some(all)) => format!("mixed · {}", figures.volume(all)),
            (Some(left), None) => format!("mixed · {} left", figures.volume(left)),
            (None, None) => "mixed · amount not told".to_owned(),
        }
    }

    /// A volume where it can be told, else a weight.
    fn told(&self, told: Told) -> String {
        match told {
            Told { ml: Some(ml), .. } => self.figures().volume(ml),
            Told { g: Some(g), .. } => self.figures().mass(g),
            Told { .. } => "an amount not known".to_owned(),
        }
    }

    /// What follows from the pours, loudest first.
    #[must_use]
    pub fn consequences(&self, mix: &MixBoard) -> Vec<Line> {
        let mut lines: Vec<Line> = Vec::new();
        match &mix.now {
            Err(NoPlan::NoAmount) => lines.push((Level::Caution, self.no_amount(mix))),
            Err(NoPlan::NoDensity) => {
                let text = "a density is not set, so only a weight or a volume can be shared out \
                            as the sheet counts: m tells how much";
                lines.push((Level::Caution, text.to_owned()));
            }
            Ok(now) => self.consequences_of(mix, now, &mut lines),
        }
        lines.extend(self.of_cans(mix));
        lines.extend(self.expired(mix));
        lines.extend(self.ratio_told(mix));
        lines.extend(self.amounts(mix));
        lines.sort_by_key(|(level, _)| *level);
        lines
    }

    fn no_amount(&self, mix: &MixBoard) -> String {
        let missing = mix.need.as_ref().err().map_or("an amount", |not_set| not_set_word(*not_set));
        format!(
            "how much is needed is not known: {missing} is not set · m tells how much, e sets it"
        )
    }

    fn consequences_of(&self, mix: &MixBoard, now: &MixNow, lines: &mut Vec<Line>) {
        if mix.stands != OnBench::Mixed {
            lines.extend(self.over(mix, now));
            lines.extend(self.container(now));
            lines.extend(now.limited.map(|limited| self.limited(mix, now, &limited)));
            lines.extend(now.too_coarse.map(|coarse| self.too_coarse(mix, &coarse)));
            if let Some(short) = mix.short_of_need_ml {
                let text = format!("{} short of what is needed", self.figures().volume(short));
                lines.push((Level::Caution, text));
            }
        }
        if !now.without_density.is_empty() {
            let names = now.without_density.iter().map(|at| self.component(mix.layer, *at));
            let names: Vec<String> = names.collect();
            let way = if now.weighs { "marks" } else { "the scale" };
            let text = format!("density of {} not set: no pouring by {way}", names.join(", "));
            lines.push((Level::Caution, text));
        }
    }

    /// 'Base went over by 7.8 g: the rest follows. Makes 530 mL.'
    fn over(&self, mix: &MixBoard, now: &MixNow) -> Option<Line> {
        let (component, by) = now.pot.over?;
        let step = self.session.state().work.shop.scale_step_g.unwrap_or(0.0);
        let visible = by.g.is_none_or(|g| g > step);
        let by = match (now.weighs, by) {
            (true, Told { g: Some(g), .. }) => self.figures().mass(g),
            (_, by) => self.told(by),
        };
        let makes = self.told(now.pot.makes);
        let name = self.component(mix.layer, component);
        visible.then(|| {
            let text = format!("{name} went over by {by}: the rest follows. Makes {makes}.");
            (Level::Caution, text)
        })
    }

    /// 'too little Activator: 39.8 g less than asked, which wants 5.8 g more of it'.
    fn limited(&self, mix: &MixBoard, now: &MixNow, limited: &Limited) -> Line {
        let amount = |told: Told| match told {
            Told { g: Some(g), .. } if now.weighs => self.figures().mass(g),
            told => self.told(told),
        };
        let name = self.component(mix.layer, limited.component);
        let (less, lacks) = (amount(limited.less), amount(limited.lacks));
        let text =
            format!("too little {name}: {less} less than asked, which wants {lacks} more of it");
        (Level::Caution, text)
    }

    fn container(&self, now: &MixNow) -> Option<Line> {
        let figures = self.figures();
        match now.container {
            Container::NotTold => None,
            Container::Holds { ml } => {
                let holds = figures.volume(ml);
                Some((Level::Calm, format!("fits the {holds} container")))
            }
            Container::TooSmall { ml, over_ml } => {
                let (holds, over) = (figures.volume(ml), figures.volume(over_ml));
                let text = format!("the container holds {holds}: {over} too much for it");
                Some((Level::Hold, text))
            }
        }
    }

    fn too_coarse(&self, mix: &MixBoard, coarse: &TooCoarse) -> Line {
        let name = self.component(mix.layer, coarse.component);
        let figures = self.figures();
        let step = self.session.state().work.shop.scale_step_g.unwrap_or(0.0);
        let (pct, step) = (short(coarse.step_pct, 1), figures.mass(step));
        let mut smallest = coarse.smallest.g.map_or_else(String::new, |g| figures.mass(g));
        if let Some(ml) = coarse.smallest.ml {
            smallest = format!("{smallest}, {}", figures.volume(ml));
        }
        let text = format!(
            "{name} is too little for the scale: {step} is {pct} % of it. The smallest pot is \
             {smallest}: m takes it"
        );
        (Level::Caution, text)
    }

    fn ratio_told(&self, mix: &MixBoard) -> Option<Line> {
        let tolerance = self.session.state().sheet(mix.layer)?.mix.tolerance_pct;
        let allowed = tolerance.map_or_else(String::new, |pct| format!("{} %", short(pct, 1)));
        let line = |component: usize, pct: f64| {
            format!("{} is {} % short", self.component(mix.layer, component), short(pct, 1))
        };
        let all_in = mix.next_pour().is_none();
        match mix.ratio() {
            Ratio::Out { component, short_pct, thinned } if mix.stands == OnBench::Mixed => {
                let shortest = line(component, short_pct);
                let rest = short_pct > tolerance.unwrap_or(0.0);
                let text = match thinned {
                    Some(thinned) if rest => {
                        format!("{}, and {shortest}", self.thinned(mix.layer, &thinned))
                    }
                    Some(thinned) => {
                        format!("{}; the rest is in ratio", self.thinned(mix.layer, &thinned))
                    }
                    None => format!("{shortest}, the sheet allows {allowed}"),
                };
                Some((Level::Hold, format!("out of ratio: {text}")))
            }
            Ratio::Within { component, short_pct } if all_in && short_pct >= 0.05 => {
                let text = line(component, short_pct);
                Some((Level::Calm, format!("in ratio: {text}, within the sheet's {allowed}")))
            }
            Ratio::Within { .. } if all_in => Some((Level::Calm, "in ratio".to_owned())),
            Ratio::NotSet { thinned: Some(thinned), .. } if mix.stands == OnBench::Mixed => {
                let text = self.thinned(mix.layer, &thinned);
                Some((Level::Caution, format!("{text}; the sheet states no tolerance")))
            }
            Ratio::NotSet { component, short_pct, .. } if all_in => {
                let text = line(component, short_pct);
                Some((Level::Caution, format!("{text}; the sheet states no tolerance")))
            }
            _ => None,
        }
    }

    /// '70 mL more Reducer than the sheet allows'.
    #[must_use]
    pub fn thinned(&self, layer: u32, thinned: &Thinned) -> String {
        let over = match thinned.over {
            Told { ml: Some(ml), .. } => self.figures().small_volume(ml),
            told => self.told(told),
        };
        format!("{over} more {} than the sheet allows", self.component(layer, thinned.component))
    }

    fn expired(&self, mix: &MixBoard) -> Option<Line> {
        if mix.expired.is_empty() {
            return None;
        }
        let names: Vec<String> = mix.expired.iter().map(|name| clean(name)).collect();
        let text = format!("past its date: lot of {}; its maker decides", names.join(", "));
        Some((Level::Hold, text))
    }

    fn amounts(&self, mix: &MixBoard) -> Vec<Line> {
        let figures = self.figures();
        let more = mix.more_than_mixed_ml.map(|ml| {
            let text = format!(
                "{} more is left than went in: one of the two is wrong",
                figures.volume(ml)
            );
            (Level::Caution, text)
        });
        let returned = mix.returned_more_ml.map(|ml| {
            let text = format!(
                "{} more went back than was left: one of the two is wrong",
                figures.volume(ml)
            );
            (Level::Caution, text)
        });
        let back = mix.returned.as_ref().map(|back| {
            let reducer =
                back.reducer_pct.map(|pct| format!(", {} % of it reducer", short(pct, 1)));
            let can = back.can.map(|(ml, pct)| {
                format!("; the can then holds {}, {} % reducer", figures.volume(ml), short(pct, 1))
            });
            let to = back.to.as_ref().map_or_else(|| "the can".into(), |can| self.can(can));
            let (reducer, can) = (reducer.unwrap_or_default(), can.unwrap_or_default());
            (Level::Calm, format!("back to {to}: {}{reducer}{can}", figures.volume(back.ml)))
        });
        [more, returned, back].into_iter().flatten().collect()
    }

    /// '239 mL: 1.8 m² × 12 µm × 2 coats, 38 % solids mixed, 65 % reaches the part · 40 mL left in
    /// the gun · 10 % spare'.
    #[must_use]
    pub fn need(&self, mix: &MixBoard) -> String {
        match &mix.need {
            Err(not_set) => format!("not known: {} is not set", not_set_word(*not_set)),
            Ok(need) => self.need_of(need),
        }
    }

    fn need_of(&self, need: &Need) -> String {
        let figures = self.figures();
        let Some(ml) = need.to_mix_ml else { return "nothing: every coat is on".to_owned() };
        let areas = match need.coats.as_slice() {
            [(_, first), rest @ ..] if rest.iter().all(|(_, it)| (it - first).abs() < 1e-9) => {
                let count = need.coats.len();
                let coats = if count == 1 { "coat" } else { "coats" };
                format!(
                    "{} × {} × {count} {coats}",
                    figures.area(*first),
                    figures.film(need.dry_um)
                )
            }
            coats => {
                let each =
                    coats.iter().map(|(coat, area)| format!("coat {coat} {}", figures.area(*area)));
                let each: Vec<String> = each.collect();
                format!("({}) × {}", each.join(" + "), figures.film(need.dry_um))
            }
        };
        let loss = need.loss_ml.map_or_else(
            || "loss not set".to_owned(),
            |ml| format!("{} left in the gun", figures.volume(ml)),
        );
        let spare = need
            .spare_pct
            .map_or_else(|| "spare not set".to_owned(), |pct| format!("{} % spare", short(pct, 1)));
        format!(
            "{}: {areas}, {} % solids mixed, {} % reaches the part · {loss} · {spare}",
            figures.volume(ml.ceil()),
            short(need.solids_pct, 1),
            short(need.transfer_pct, 1)
        )
    }

    /// How it is stirred, strained and stood.
    #[must_use]
    pub fn treatment(&self, mix: &MixBoard) -> Option<String> {
        let sheet = self.session.state().sheet(mix.layer)?;
        let stand = sheet.induction.as_ref().map(|induction| {
            let place = if induction.inside_pot_life { "inside" } else { "before" };
            let upper =
                boothside_core::session::time::Span::from_seconds(induction.stand.upper_s());
            format!("stand {} once stirred, {place} the pot life", spoken(upper, Time::Wait))
        });
        let strain = sheet.mix.strain_um.map(|um| format!("strain {}", self.figures().mesh(um)));
        let parts: Vec<String> =
            [Some("stir".to_owned()), stand, strain].into_iter().flatten().collect();
        Some(parts.join(" · "))
    }

    /// Seconds against the sheet, viscosity as a note.
    #[must_use]
    pub fn flow_cup(&self, flow: &FlowNow) -> String {
        let rule = &flow.rule;
        let at = rule.at_c.map(|c| format!(" at {}", self.figures().stated_temperature(c)));
        let range = format!(
            "{}–{} s{}",
            short(rule.low_s, 1),
            short(rule.high_s, 1),
            at.unwrap_or_default()
        );
        let cup = clean(&rule.cup);
        let other = self.other_temperature(flow);
        let Some((seconds, _)) = flow.read else {
            return format!("{cup} ▁ s · the sheet wants {range}{other}");
        };
        let verdict = match flow.verdict {
            Some(FlowVerdict::Thin) if other.is_empty() => "thinner than the sheet's",
            Some(FlowVerdict::Thick) if other.is_empty() => "thicker than the sheet's",
            Some(FlowVerdict::Within) if other.is_empty() => "within the sheet's",
            _ => "the sheet wants",
        };
        let note = flow.mm2_per_s.map_or_else(
            || {
                let (from, to) = flow.range_s;
                format!("outside the cup's {}–{} s", short(from, 0), short(to, 0))
            },
            |nu| format!("about {}", self.figures().kinematic(nu)),
        );
        format!("{cup} {} s: {verdict} {range}{other} · {note}", short(seconds, 1))
    }

    fn other_temperature(&self, flow: &FlowNow) -> String {
        match (flow.pot_c, flow.off_k) {
            (Some(pot_c), Some(off)) => {
                let way =
                    if off < 0.0 { "colder mix runs slower" } else { "warmer mix runs faster" };
                let figures = self.figures();
                let (stated, at) = (pot_c - off, figures.stated_temperature(pot_c));
                let stated = figures.stated_temperature(stated);
                format!("; stated for {stated}, the mix is {at}; {way}")
            }
            _ => String::new(),
        }
    }

    /// What to do about the seconds; nothing where nothing needs to be said.
    #[must_use]
    pub fn flow_advice(&self, mix: &MixBoard, flow: &FlowNow) -> Option<Line> {
        let why = match flow.advice {
            Advice::Add { component, add, then_s } => {
                let name = self.component(mix.layer, component);
                let g = add.g.map(|g| format!(" ({})", self.figures().mass(g))).unwrap_or_default();
                let ml = add.ml.map_or_else(String::new, |ml| self.figures().small_volume(ml));
                let text = format!(
                    "an estimate: {ml}{g} more {name}, then about {} s; measure again",
                    short(then_s, 0)
                );
                return Some((Level::Calm, text));
            }
            Advice::None(NoAdvice::NoReading | NoAdvice::NotThick) => return None,
            Advice::None(why) => no_advice(why),
        };
        Some((Level::Caution, format!("no reducer is advised: {why}")))
    }

    /// 'Base 24-117 (until 2027-03)', and from which can comes what is still to be poured.
    #[must_use]
    pub fn lots(&self, mix: &MixBoard) -> String {
        let lot = |lot: &boothside_core::session::event::Lot| {
            let until = lot.until.as_ref().map(|until| format!(" (until {until})"));
            clean(&format!("{} {}{}", lot.component, lot.lot, until.unwrap_or_default()))
        };
        let told = mix.lots.iter().map(lot);
        let lots: Vec<String> = told.chain(self.cans(mix)).collect();
        if lots.is_empty() { "not told".to_owned() } else { lots.join(" · ") }
    }

    /// What began a pot's clocks: 'activator in', or 'mixed' where there is none.
    #[must_use]
    pub fn born(&self, pot: &str) -> &'static str {
        let state = self.session.state();
        let layer = state.pots.iter().find(|known| known.id == pot).map(|known| known.layer);
        let sheet = layer.and_then(|layer| state.sheet(layer));
        let reacts = sheet.is_some_and(boothside_core::material::sheet::Sheet::reacts);
        if reacts { "activator in" } else { "mixed" }
    }

    /// What to write on the pot: 'A · activator in 10:16 · last trigger 12:26'.
    #[must_use]
    pub fn label(&self, mix: &MixBoard) -> Option<String> {
        let pot = mix.standing.as_ref()?;
        let born = pot
            .born
            .map(|born| format!("{} {}", self.born(&mix.pot), self.clock(born, Time::Past)));
        let last =
            pot.last_trigger.map(|last| format!("last trigger {}", self.clock(last, Time::Limit)));
        let parts: Vec<String> =
            [Some(clean(&mix.pot)), born, last].into_iter().flatten().collect();
        Some(parts.join(" · "))
    }
}

impl Figures {
    /// Poured or to be poured of a component, by weight where it can be told.
    #[must_use]
    pub fn poured(self, told: Told) -> String {
        match told {
            Told { g: Some(g), .. } => self.mass(g),
            Told { ml: Some(ml), .. } => self.small_volume(ml),
            Told { .. } => String::new(),
        }
    }
}

/// A figure that is not set.
const fn not_set_word(not_set: NotSet) -> &'static str {
    match not_set {
        NotSet::DryFilm => "the dry film of a coat",
        NotSet::Solids => "the volume of solids",
        NotSet::Density => "a density",
        NotSet::Transfer => "the share that lands",
        NotSet::InPot => "how much was in the pot when reducer went in",
    }
}

const fn no_advice(why: NoAdvice) -> &'static str {
    match why {
        NoAdvice::NoReading => "there is no reading",
        NoAdvice::NotThick => "it is not too thick",
        NoAdvice::LifeNotSet => "activator is in, and the pot life is not set",
        NoAdvice::PastHalf => "half of the pot life is over",
        NoAdvice::Thickens => "it flowed faster before with no more of it: it may thicken",
        NoAdvice::OtherTemperature => "at another temperature the seconds do not compare",
        NoAdvice::NoReducer => "the mix has none",
        NoAdvice::CapNotSet => "how much the sheet allows is not set",
        NoAdvice::AtCap => "all that the sheet allows is in",
        NoAdvice::AmountNotKnown => "how much is in the pot is not known",
        NoAdvice::NoSlope => "how the seconds fall is not known before a second reading",
    }
}
