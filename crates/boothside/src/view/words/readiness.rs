//! The lines of the ready screen: what, the figure, why it matters, how it is cleared.

use boothside_core::board::{
    Clears, DoubtedClock, InRange, Item, MarginRule, MarginTrend, ReadyLine, ReadyNow, Warning,
};
use boothside_core::material::sheet::Hazard;
use boothside_core::session::Overridden;
use boothside_core::session::clocks::{Doubt, DueAt};
use boothside_core::session::event::Way;
use boothside_core::session::mixing::Ratio;
use boothside_core::session::standing::{Hold, PotNow, StepNow};
use boothside_core::session::stock::CanNow;
use boothside_core::session::time::{Moment, Span};
use boothside_core::work::system::Group;

use super::Words;
use super::event::reason_words;
use super::figure::short;
use super::hold::change_air;
use super::state::{Readiness, pot_word};
use super::time::{Time, spoken};
use crate::view::text::clean;

/// One line in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineWords {
    /// What is checked.
    pub what: String,
    /// The figure; may be empty.
    pub figure: String,
    /// Why it matters; may be empty.
    pub why: String,
    /// How it is cleared; may be empty.
    pub how: String,
}

/// The state's word, shape and style.
#[must_use]
pub const fn ready_state(now: ReadyNow) -> Readiness {
    match now {
        ReadyNow::Clear => Readiness::Clear,
        ReadyNow::Said => Readiness::Said,
        ReadyNow::Caution => Readiness::Caution,
        ReadyNow::Hold => Readiness::Hold,
        ReadyNow::NotKnown => Readiness::NotKnown,
    }
}

/// A group of lines.
#[must_use]
pub const fn group_word(group: Group) -> &'static str {
    match group {
        Group::LayOut => "lay-out",
        Group::Surface => "surface",
        Group::Air => "air",
        Group::Mix => "mix",
        Group::Gun => "gun",
        Group::Protection => "protection",
        Group::Booth => "booth",
        Group::PlugsAndMasks => "masks",
    }
}

impl Words<'_> {
    /// A line of readiness.
    #[must_use]
    pub fn ready_line(&self, line: &ReadyLine) -> LineWords {
        let (what, figure) = self.item(&line.item);
        LineWords { what, figure, why: self.why(line), how: self.how(line) }
    }

    /// The state of a line in its column: 'clear', 'said 14:09'; a hold that was passed stays one.
    #[must_use]
    pub fn ready_word(&self, line: &ReadyLine) -> String {
        let at = |word: &str, moment| format!("{word} {}", self.hour_of(moment));
        match (line.said, &line.overridden) {
            (Some(said), _) => at("said", said),
            (None, Some(passed)) => at("passed", passed.at),
            (None, None) => ready_state(line.now).word().to_owned(),
        }
    }

    /// When and why a hold was passed: 'passed at 10:42, my own decision: pot A stands'.
    #[must_use]
    pub fn gone_past(&self, overridden: &Overridden) -> String {
        let (at, why) = (self.clock(overridden.at, Time::Past), reason_words(overridden.reason));
        format!("× passed at {at}, {why}: {}", self.broken(&overridden.hold))
    }

    fn item(&self, item: &Item) -> (String, String) {
        match item {
            Item::Check { layer, check, .. } => (self.check(*layer, check), String::new()),
            Item::Step { step, now, done, ready, fresh_until, again } => {
                (self.step(step), self.step_figure((*now, *again), *done, *ready, *fresh_until))
            }
            Item::Windows { open, early, closes, wipe, sand } => {
                ("recoat windows".into(), self.windows(*open, *early, *closes, wipe, sand))
            }
            Item::InDoubt { clock, doubt } => (self.doubted(clock), self.doubt(*doubt)),
            Item::ReadingAge { taken } => ("reading".into(), self.age(*taken)),
            Item::AirTemperature(range) => ("air".into(), self.temperatures(*range)),
            Item::SurfaceTemperature(range) => ("surface".into(), self.temperatures(*range)),
            Item::PaintTemperature(range) => ("mixed paint".into(), self.temperatures(*range)),
            Item::Humidity(range) => ("humidity".into(), self.humidity(*range)),
            Item::DewMargin { margin_k, over_k, rule, of_surface, rising } => {
                let what = if *of_surface { "surface" } else { "air" };
                let what = format!("{what} over dew point");
                (what, self.margin((*margin_k, *over_k), *rule, *rising))
            }
            Item::MarginTrend { trend, .. } => ("trend".into(), self.trend(*trend)),
            Item::Cartridges { used_h, change_h } => {
                ("cartridges".into(), cartridges(*used_h, *change_h))
            }
            Item::SomeoneKnows => {
                ("someone knows that I spray alone".into(), "and when to look in".into())
            }
            Item::Hazard(warning) => warning_words(*warning),
            Item::Masks { way, counted_in, counted_out } => masks(*way, *counted_in, *counted_out),
            _ => self.pot_item(item),
        }
    }

    fn pot_item(&self, item: &Item) -> (String, String) {
        match item {
            Item::Pot { pot: Some(pot), now: None, .. } => (self.pot(pot), "being mixed".into()),
            Item::Pot { pot: Some(pot), now, stands_until, last_trigger } => {
                let word = now.map_or("", pot_word);
                let edge = match (now, stands_until, last_trigger) {
                    (Some(PotNow::Standing), Some(until), _) => {
                        format!(" until {}", self.due(*until, Time::Wait))
                    }
                    (_, _, Some(last)) => {
                        format!(", last trigger {}", self.clock(*last, Time::Limit))
                    }
                    _ => String::new(),
                };
                (self.pot(pot), format!("{word}{edge}"))
            }
            Item::PotLasts { pot, last_trigger, coat } => {
                let coat = coat.map_or_else(
                    || "your pace: after two faces".into(),
                    |coat| format!("the coat takes {} at your pace", spoken(coat, Time::Wait)),
                );
                let what = format!("{} lasts for the coat", self.pot(pot));
                (what, format!("last trigger {}; {coat}", self.clock(*last_trigger, Time::Limit)))
            }
            Item::PotEnough { pot, left_ml, need_ml } => {
                let volume = |ml: &Option<f64>| {
                    ml.map_or_else(|| "not known".into(), |ml| self.figures().volume(ml))
                };
                let figure = format!("about {} left, {} needed", volume(left_ml), volume(need_ml));
                (format!("enough in {}", self.pot(pot)), figure)
            }
            Item::Can(ahead) => self.can_ahead(ahead),
            Item::DrawnPast { can } => {
                ("poured from a can past its date".into(), self.can_with_lot(can))
            }
            Item::OneColour { lots, untold } => ("one lot of base".into(), one_lot(lots, *untold)),
            Item::Ratio { pot, ratio } => {
                let what = format!("ratio in {}", self.pot(pot));
                (what, self.ratio_figure(pot, *ratio))
            }
            Item::LotsInDate { told, expired } => {
                let names: Vec<String> = expired.iter().map(|name| clean(name)).collect();
                let figure = match (told, names.as_slice()) {
                    (_, [_, ..]) => format!("past its date: {}", names.join(", ")),
                    (0, []) => "no lot noted".into(),
                    (_, []) => "as you noted them".into(),
                };
                ("lots in date".into(), figure)
            }
            _ => ("pot".into(), "none mixed yet".into()),
        }
    }

    fn ratio_figure(&self, pot: &str, ratio: Ratio) -> String {
        let layer = self.session.state().mixing(pot).map_or(0, |mixing| mixing.layer);
        match ratio {
            Ratio::NotTold => "no pour noted".into(),
            Ratio::Out { thinned: Some(thinned), .. }
            | Ratio::NotSet { thinned: Some(thinned), .. } => self.thinned(layer, &thinned),
            Ratio::NotSet { component, short_pct, .. }
            | Ratio::Within { component, short_pct }
            | Ratio::Out { component, short_pct, .. } => {
                let name = self.component(layer, component);
                format!("{name} {} % short", short(short_pct, 1))
            }
        }
    }

    fn step_figure(
        &self,
        (now, again): (StepNow, bool),
        done: Option<Moment>,
        ready: Option<DueAt>,
        fresh_until: Option<Moment>,
    ) -> String {
        let done = done.map(|at| format!("done {}", self.clock(at, Time::Past)));
        let rest = match (now, ready) {
            (StepNow::ToDo, _) if again => Some("too long ago: to be done again".to_owned()),
            (StepNow::ToDo, _) => Some("not done".to_owned()),
            (StepNow::NotYet, _) => Some("too early".to_owned()),
            (StepNow::Waiting, Some(until)) => {
                Some(format!("waits until {}", self.due(until, Time::Wait)))
            }
            _ => fresh_until.map(|until| format!("fresh until {}", self.clock(until, Time::Limit))),
        };
        [done, rest].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    fn windows(
        &self,
        open: usize,
        early: usize,
        closes: Option<(usize, Moment)>,
        wipe: &[usize],
        sand: &[usize],
    ) -> String {
        let count = |count: usize, word: &str| (count > 0).then(|| format!("{count} {word}"));
        let named = |faces: &[usize], word: &str| {
            (!faces.is_empty()).then(|| format!("{word}: {}", self.faces(faces)))
        };
        let closes = closes.map(|(face, at)| {
            format!("first closes {}: {}", self.clock(at, Time::Limit), self.face(face))
        });
        let parts = [
            named(sand, "to be sanded"),
            named(wipe, "to be wiped"),
            count(open, "open"),
            count(early, "too early"),
            closes,
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    fn age(&self, taken: Option<Moment>) -> String {
        let age = |taken| format!("{} old", spoken(self.now().since(taken), Time::Past));
        taken.map_or_else(|| "none taken".into(), age)
    }

    fn temperatures(&self, range: InRange) -> String {
        let figures = self.figures();
        let read = range.read.map_or_else(|| "not read".into(), |c| figures.temperature(c));
        let stated = |c: f64| figures.stated_temperature(c);
        let range_of_rule = range.general;
        let range = [range.min, range.max].map(|end| end.map(stated)).into();
        let general = range_of_rule.map(|ends| figures.about_temperatures(ends));
        format!("{read}; {}", stated_range(range, general))
    }

    fn humidity(&self, range: InRange) -> String {
        let figures = self.figures();
        let read = range.read.map_or_else(|| "not read".into(), |pct| figures.humidity(pct));
        let stated = |pct: f64| figures.humidity(pct);
        let general = range.general.map(|(low, high)| format!("{low:.0} to {}", stated(high)));
        let range = (range.min.map(stated), range.max.map(stated));
        format!("{read}; {}", stated_range(range, general))
    }

    /// Whose clock is in doubt.
    fn doubted(&self, clock: &DoubtedClock) -> String {
        match clock {
            DoubtedClock::Opens(faces) => format!("earliest coat: {}", self.faces(faces)),
            DoubtedClock::Closes(faces) => format!("latest coat: {}", self.faces(faces)),
            DoubtedClock::Stand(pot) => format!("{} stands long enough", self.pot(pot)),
            DoubtedClock::Life(pot) => format!("life of {}", self.pot(pot)),
            DoubtedClock::Cure(faces) => format!("cure: {}", self.faces(faces)),
        }
    }

    /// What is to be minded of a clock: 'stated at 24 °C, was 6 °C'.
    #[must_use]
    pub fn doubt(&self, doubt: Doubt) -> String {
        let figures = self.figures();
        match doubt {
            Doubt::OffStated { stated_c, was_c } => format!(
                "stated at {}, was {}",
                figures.stated_temperature(stated_c),
                figures.stated_temperature(was_c)
            ),
            Doubt::CarriedOn => "carried on beyond the sheet's table".into(),
            Doubt::AsEarliest => "sooner than stated, by the earliest's law".into(),
        }
    }

    /// The margin, by which rule it is enough, and whether it rises.
    #[must_use]
    pub fn margin(
        &self,
        (margin_k, over_k): (Option<f64>, Option<f64>),
        rule: MarginRule,
        rising: Option<bool>,
    ) -> String {
        let figures = self.figures();
        let margin = match margin_k {
            Some(k) if k < 0.0 => {
                format!("{} below the dew point: WATER IS CONDENSING", figures.difference(-k))
            }
            Some(k) => figures.difference(k),
            None => match over_k.filter(|over_k| *over_k >= 0.0) {
                Some(over_k) => format!("more than {}", figures.difference(over_k)),
                None => "not known".into(),
            },
        };
        let wanted = figures.difference(rule.wanted_k());
        let wanted = match rule {
            MarginRule::Sheet(_) => format!("the sheet wants {wanted}"),
            MarginRule::Shop(_) => format!("the shop wants {wanted}"),
            MarginRule::Usual => format!("{wanted} wanted, the usual rule"),
        };
        let rising = match rising {
            Some(true) => ", not falling",
            Some(false) => ", falling",
            None => "",
        };
        format!("{margin}; {wanted}{rising}")
    }

    /// Where the margin is going, and when it breaks.
    #[must_use]
    pub fn trend(&self, trend: Option<MarginTrend>) -> String {
        let Some(trend) = trend else {
            return "needs two readings at least 10 min apart".into();
        };
        let rate = self.figures().difference(trend.per_hour_k.abs());
        let way = match () {
            () if trend.per_hour_k < -0.05 => format!("falls {rate} an hour"),
            () if trend.per_hour_k > 0.05 => format!("rises {rate} an hour"),
            () => "steady".into(),
        };
        match trend.breaks {
            Some((at, give_or_take)) => {
                format!(
                    "{way}: too little at {} ± {}",
                    self.clock(at, Time::Limit),
                    spoken(give_or_take, Time::Wait)
                )
            }
            None => way,
        }
    }

    fn why(&self, line: &ReadyLine) -> String {
        let film_dry = |span: Option<Span>| match span {
            Some(span) => {
                format!("it must hold until the film is dry, about {}", spoken(span, Time::Wait))
            }
            None => "it must hold until the film is dry".into(),
        };
        match &line.item {
            Item::Windows { sand, .. } if !sand.is_empty() => {
                "past the last edge the next coat does not hold on the one before".into()
            }
            Item::Windows { .. } => "outside its window a coat lifts or does not hold".into(),
            Item::InDoubt { clock, doubt } => doubt_why(clock, *doubt).into(),
            Item::ReadingAge { .. } => "clocks and limits rest on the last reading".into(),
            Item::DewMargin { rule: MarginRule::Usual, .. } => {
                let figures = self.figures();
                let other = figures.difference(MarginRule::other_usual_k());
                let usual = figures.difference(MarginRule::Usual.wanted_k()).replacen(".0", "", 1);
                let unit = figures.temperature_unit();
                format!(
                    "damp under the film. The other usual rule, MIL-HDBK-1110, wants {other} and \
                     rising: {usual} {unit} holds here"
                )
            }
            Item::DewMargin { .. } => "water on the part: blush, blisters, poor hold".into(),
            Item::MarginTrend { film_dry: span, .. } => film_dry(*span),
            Item::AirTemperature(_) | Item::SurfaceTemperature(_) | Item::PaintTemperature(_) => {
                "outside it the film flows, dries and cures otherwise than the sheet says".into()
            }
            Item::Humidity(_) => "damp air slows waterborne coats and clouds solvent ones".into(),
            Item::PotLasts { .. } => "material past its last trigger sets in the gun".into(),
            Item::PotEnough { .. } => "a pot that runs out breaks the wet edge".into(),
            Item::OneColour { lots, .. } if lots.len() > 1 => {
                "two lots of one colour can differ: mix them together, or keep a lot to a part"
                    .into()
            }
            Item::OneColour { .. } => "two lots of one colour can differ".into(),
            Item::Ratio { .. } => "off its ratio a film can stay soft".into(),
            Item::Can(ahead) => match ahead.now {
                CanNow::Past => "past the maker's date".into(),
                CanNow::Short => "a pot that cannot be filled breaks the wet edge".into(),
                CanNow::Enough | CanNow::NotKnown => String::new(),
            },
            Item::DrawnPast { .. } => "past the maker's date".into(),
            Item::LotsInDate { .. } => "past the maker's date".into(),
            Item::Step { .. } => "a coat is only as good as the surface under it".into(),
            Item::Cartridges { .. } => "your hours plus trigger time since: a minimum".into(),
            Item::SomeoneKnows => "this screen cannot call for help".into(),
            Item::Hazard(warning) => warning_why(*warning).into(),
            Item::Masks { .. } => "what is left in or on a part can bring an aircraft down".into(),
            Item::Check { .. } | Item::Pot { .. } => String::new(),
        }
    }

    fn how(&self, line: &ReadyLine) -> String {
        match &line.clears {
            Clears::Nothing => String::new(),
            Clears::Answer => "check it, then Enter".into(),
            Clears::Step => "do it, then Enter".into(),
            Clears::Wait { until } => {
                let until = until.map(|until| format!(" until {}", self.due(until, Time::Wait)));
                format!("wait{}, or Enter to pass it", until.unwrap_or_default())
            }
            Clears::WaitLonger => match (&line.hold, &line.overridden) {
                (Some(_), None) => "warm it and wait longer, or Enter to pass it".into(),
                _ => "warm it, or wait longer".into(),
            },
            Clears::BeSooner => "be sooner than stated".into(),
            Clears::Reading => "take a reading: Enter or a".into(),
            Clears::ChangeAir => match (&line.hold, &line.overridden) {
                (Some(Hold::Air { limit, .. }), None) => {
                    format!("{}; or Enter to pass it", change_air(*limit))
                }
                (Some(Hold::Air { limit, .. }), Some(_)) => change_air(*limit).into(),
                _ => "warm the part or dry the air, or be done before".into(),
            },
            Clears::Wipe => "wipe them, then Enter".into(),
            Clears::Sand => "sand them, then Enter".into(),
            Clears::Mix => "mix a pot: Enter or m".into(),
            Clears::Pour => "see what to pour: Enter or 2".into(),
            Clears::PickCan => "take another can: Enter".into(),
            Clears::CanPast => {
                let other = match line.item {
                    Item::DrawnPast { .. } => "a pot from another can",
                    _ => "take another can: 2, then o",
                };
                let past =
                    if line.overridden.is_none() { "; or Enter to pass its date" } else { "" };
                format!("{other}{past}")
            }
            Clears::CleanAndMix => "clean the gun, then Enter; then mix a pot".into(),
            Clears::Count(Way::In) => "count them all, then Enter".into(),
            Clears::Count(Way::Out) => "count what came off, then Enter".into(),
            Clears::Hours => "enter their hours: Enter".into(),
            Clears::ChangeCartridges => "change them, then Enter for their hours".into(),
            Clears::SafetySheet => {
                "the safety data sheet, local codes and licensed practice say what is wanted".into()
            }
            Clears::Figure => "not set in the sheet or shop file: v sets a figure".into(),
        }
    }
}

/// Why a clock is in doubt.
const fn doubt_why(clock: &DoubtedClock, doubt: Doubt) -> &'static str {
    match (clock, doubt) {
        (DoubtedClock::Opens(_), Doubt::OffStated { .. }) => {
            "the sheet's time is for warmer air and says nothing of this: a coat too early traps \
             what is still in the film below"
        }
        (DoubtedClock::Cure(_), Doubt::OffStated { .. }) => {
            "the sheet's time is for warmer air and says nothing of this: softer for longer"
        }
        (DoubtedClock::Closes(_), Doubt::OffStated { .. }) => {
            "the sheet's time is for cooler air and says nothing of this: warm, a window closes sooner"
        }
        (DoubtedClock::Stand(_), Doubt::OffStated { .. }) => {
            "the sheet's time is for a warmer mix; a colder one needs longer"
        }
        (DoubtedClock::Life(_), Doubt::OffStated { .. }) => {
            "the sheet's time is for a cooler mix; a warmer one sets sooner"
        }
        (_, Doubt::AsEarliest) => {
            "the sheet gives this end no law: that of the same gap's earliest, taken in the Book, \
             shortens it here and never lengthens it"
        }
        (_, Doubt::CarriedOn) => {
            "the sheet gives no time for such air: this one follows its last two lines"
        }
    }
}

/// The sheet's range, else that it sets none, with what a general rule says.
fn stated_range((min, max): (Option<String>, Option<String>), general: Option<String>) -> String {
    match (min, max) {
        (Some(min), Some(max)) => format!("the sheet says {min} to {max}"),
        (Some(min), None) => format!("the sheet says {min} or more"),
        (None, Some(max)) => format!("the sheet says {max} or less"),
        (None, None) => match general {
            Some(general) => {
                format!("the sheet sets no limit ({general}: a general rule, not this sheet's)")
            }
            None => "the sheet sets no limit".into(),
        },
    }
}

fn one_lot(lots: &[String], untold: usize) -> String {
    let lots = match lots {
        [] => "no lot noted".to_owned(),
        [one] => format!("lot {one}"),
        several => format!("{} LOTS: {}", several.len(), several.join(", ")),
    };
    match untold {
        0 => lots,
        1 => format!("{lots}; one pot without"),
        more => format!("{lots}; {more} pots without"),
    }
}

fn cartridges(used_h: Option<f64>, change_h: Option<f64>) -> String {
    let used = used_h.map_or_else(
        || "hours not known".into(),
        |used| format!("{} h used or more", short(used, 1)),
    );
    let change = change_h.map_or_else(
        || "no change hours in the shop file".into(),
        |change| format!("you change them at {} h", short(change, 1)),
    );
    format!("{used}; {change}")
}

fn masks(way: Way, counted_in: Option<u32>, counted_out: Option<u32>) -> (String, String) {
    let number =
        |count: Option<u32>| count.map_or_else(|| "none".to_owned(), |count| count.to_string());
    match way {
        Way::In => {
            let figure =
                counted_in.map_or_else(|| "not counted".to_owned(), |count| count.to_string());
            ("plugs and masks counted in".into(), figure)
        }
        Way::Out => {
            let figure =
                format!("{} counted in, {} counted out", number(counted_in), number(counted_out));
            ("plugs and masks counted out".into(), figure)
        }
    }
}

fn warning_words(warning: Warning) -> (String, String) {
    let (what, figure) = match warning {
        Warning::Of(Hazard::Isocyanate) => ("isocyanate", "a sensitiser"),
        Warning::Of(Hazard::Flammable) => ("flammable vapour", "fire and explosion"),
        Warning::Of(Hazard::Chromate) => ("chromate", "poison, in mist and in dust"),
        Warning::Waterborne => ("waterborne", "its mist is breathed all the same"),
    };
    (what.into(), figure.into())
}

const fn warning_why(warning: Warning) -> &'static str {
    match warning {
        Warning::Of(Hazard::Isocyanate) => {
            "it can sensitise for life, and gives no warning by smell. This program cannot tell \
             whether a protection is enough"
        }
        Warning::Of(Hazard::Flammable) => {
            "vapour and mist ignite: fan, bonding, no spark; screen and charger outside the spray \
             area"
        }
        Warning::Of(Hazard::Chromate) => {
            "it causes cancer when breathed in. This program cannot tell whether a protection is \
             enough"
        }
        Warning::Waterborne => {
            "water does not make it harmless: binder, hardener and co-solvents are in the mist"
        }
    }
}
