//! What SPACE does, in plain words.

use boothside_core::board::mixing::Shows;
use boothside_core::board::{CleanWhy, Next, OutOfLimits, ReadWhy, Waited};
use boothside_core::material::sheet::CureStage;
use boothside_core::session::clocks::DueAt;
use boothside_core::session::event::Way;
use boothside_core::session::standing::WipeWhy;
use boothside_core::work::system::Step;

use super::Words;
use super::time::{Time, spoken};

impl Words<'_> {
    /// What SPACE does when `next` comes next.
    #[must_use]
    pub fn next(&self, next: &Next) -> String {
        if let Some(span) = self.awake {
            return format!("awake: slept {}", spoken(span, Time::Past));
        }
        match next {
            Next::CoatOn { face, layer, coat } => {
                let passes = if self.is_cross(*layer) { ", both passes" } else { "" };
                format!("coat {coat} is on{passes}: {}", self.face(*face))
            }
            Next::CleanGun { pot, why } => format!("gun cleaned: {}", self.why_clean(pot, *why)),
            Next::Resume => "back at work".into(),
            Next::Dulled { face } => format!("it has dulled: {}", self.face(*face)),
            Next::BeginCoat { face, layer, coat } => {
                let extra = if self.is_extra(*layer, *coat) { "extra " } else { "" };
                format!("begin {extra}coat {coat}: {}", self.face(*face))
            }
            Next::Step { step, again } => self.step_done(step, *again),
            Next::CountMasks { again: true, .. } => "count again".into(),
            Next::CountMasks { way: Way::In, .. } => "count plugs and masks in".into(),
            Next::CountMasks { way: Way::Out, .. } => "count plugs and masks out".into(),
            Next::Check { layer, check, .. } => format!("yes: {}", self.check(*layer, check)),
            Next::SomeoneKnows => "yes: someone knows I spray alone and when to look in".into(),
            Next::FanOn => "yes: the fan is on again".into(),
            Next::Reading { why } => self.read(*why),
            Next::Turn { face } => format!("turned over: {}", self.face(*face)),
            Next::Sand { faces } => self.done_to("sanded", faces),
            Next::Wipe { faces, why: Some(WipeWhy::CameOff(_)), .. } if faces.len() == 1 => {
                self.done_to("wiped clean", faces)
            }
            Next::Wipe { faces, .. } => self.done_to("wiped", faces),
            Next::Leftover { pot, .. } => {
                format!("leftover of {} put aside, open, as its data sheet says", self.pot(pot))
            }
            Next::Close => "close the session".into(),
            Next::Wait { what, until } => self.wait(what, *until),
            Next::Over => "the session is closed: q twice leaves, 8 the book".into(),
            Next::MixPot { .. } | Next::Pour { .. } | Next::Stir { .. } => self.at_the_bench(next),
        }
    }

    fn at_the_bench(&self, next: &Next) -> String {
        let amount = |ml: &Option<f64>| match ml {
            Some(ml) => format!(": {}", self.figures().volume(*ml)),
            None => String::new(),
        };
        match next {
            Next::MixPot { layer, amount_ml, .. } => {
                let reacts = self.session.state().sheet(*layer).is_some_and(|it| it.reacts());
                let mixed = if reacts { "mixed and activated" } else { "mixed" };
                format!("{} is {mixed}{}", self.next_pot(), amount(amount_ml))
            }
            Next::Stir { pot, amount_ml, .. } => {
                format!("{} is stirred{}", self.pot(pot), amount(amount_ml))
            }
            Next::Pour { layer, component, shows, .. } => {
                let name = self.component(*layer, *component);
                match (*shows, self.at_bench) {
                    (Shows::Scale(g), true) => {
                        format!("the scale shows {}: {name}", self.figures().mass(g))
                    }
                    (Shows::Mark(ml), true) => {
                        format!("the mark shows {}: {name}", self.figures().volume(ml))
                    }
                    (Shows::Scale(g), false) => {
                        format!("pour {name} until the scale shows {}", self.figures().mass(g))
                    }
                    (Shows::Mark(ml), false) => {
                        format!("pour {name} to the {} mark", self.figures().volume(ml))
                    }
                }
            }
            _ => String::new(),
        }
    }

    /// 'all 8 faces are sanded', 'sanded: Hatch · top'.
    fn done_to(&self, done: &str, faces: &[usize]) -> String {
        match faces {
            [one] => format!("{done}: {}", self.face(*one)),
            many => format!("{} are {done}", self.how_many(many)),
        }
    }

    /// 'all 8 faces', where they are all that hang, else '3 faces'.
    #[must_use]
    pub fn how_many(&self, faces: &[usize]) -> String {
        let hanging = self.board.faces.iter().filter(|row| !row.at.now.is_absent()).count();
        match faces.len() {
            all if all == hanging && all > 1 => format!("all {all} faces"),
            1 => "1 face".into(),
            some => format!("{some} faces"),
        }
    }

    fn step_done(&self, step: &str, again: bool) -> String {
        let name = self.step_on(step);
        if again {
            return format!("done again: {name}");
        }
        let wait = self.find_step(step).and_then(|step| Some((step, step.wait.as_ref()?)));
        let then = wait.map(|(step, wait)| {
            let ms = (wait.upper_s() * 1000.0).round() as i64;
            let span = spoken(boothside_core::session::time::Span::from_ms(ms), Time::Wait);
            if dries(step) {
                format!(" (dry it {span} from now)")
            } else {
                format!(" (then wait {span})")
            }
        });
        format!("done: {name}{}", then.unwrap_or_default())
    }

    fn why_clean(&self, pot: &str, why: CleanWhy) -> String {
        let name = self.pot(pot);
        match why {
            CleanWhy::PastTrigger => format!("{name} is past its last trigger"),
            CleanWhy::Dead => format!("{name} is dead"),
            CleanWhy::TooLate => "too late for another face".into(),
            CleanWhy::NoCoatsLeft => format!("{name} has no coats left to spray"),
        }
    }

    fn read(&self, why: ReadWhy) -> String {
        match why {
            ReadWhy::Missing | ReadWhy::Old => "take a reading: air and surface".into(),
            ReadWhy::Condensing => "read again: water is condensing on the part".into(),
            ReadWhy::Trend { gone, .. } => {
                format!("read again: margin gone about {}", self.clock(gone, Time::Limit))
            }
            ReadWhy::Unfit(outside) => format!("read again: {}", self.unfit(outside)),
        }
    }

    /// 'part 12.0 °C, the sheet wants 15'.
    fn unfit(&self, outside: OutOfLimits) -> String {
        let figures = self.figures();
        let air = self.board.air.reading.and_then(|reading| reading.air_c);
        let what = |read_c: f64| if air == Some(read_c) { "air" } else { "part" };
        let bare = |text: String| text.split(' ').next().unwrap_or_default().to_owned();
        let limit = |celsius: f64| bare(figures.stated_temperature(celsius));
        let read = |celsius: f64| figures.temperature(celsius);
        match outside {
            OutOfLimits::TooCold { limit_c, read_c } => {
                format!("{} {}, the sheet wants {}", what(read_c), read(read_c), limit(limit_c))
            }
            OutOfLimits::TooWarm { limit_c, read_c } => {
                format!(
                    "{} {}, the sheet wants {} at most",
                    what(read_c),
                    read(read_c),
                    limit(limit_c)
                )
            }
            OutOfLimits::TooDry { limit_pct, read_pct } => {
                format!("air {read_pct:.0} %, the sheet wants {limit_pct:.0}")
            }
            OutOfLimits::TooHumid { limit_pct, read_pct } => {
                format!("air {read_pct:.0} %, the sheet wants {limit_pct:.0} at most")
            }
            OutOfLimits::NearDewPoint { wanted_k, margin_k } => {
                let margin = figures.difference(margin_k);
                format!(
                    "part {margin} above the dew point, {} wanted",
                    bare(figures.difference(wanted_k))
                )
            }
            OutOfLimits::PaintTooCold { limit_c, read_c } => {
                format!("paint {}, the sheet wants {}", read(read_c), limit(limit_c))
            }
            OutOfLimits::PaintTooWarm { limit_c, read_c } => {
                format!("paint {}, the sheet wants {} at most", read(read_c), limit(limit_c))
            }
        }
    }

    /// What is waited for and until when: 'waiting: look at Hatch · top at 20:20'.
    #[must_use]
    pub fn wait(&self, what: &Waited, until: Option<DueAt>) -> String {
        if let Waited::ToHang { .. } = what {
            return "waiting for a part to be hung: press h when one is".into();
        }
        let time = super::hero::time_of(what);
        match until {
            Some(DueAt::At(moment)) => {
                format!("waiting: {}", self.waited(what, &self.clock(moment, time)))
            }
            Some(DueAt::Never(because)) => {
                format!("waiting: {}; {}", self.waited(what, "").trim_end(), self.never(because))
            }
            None => format!("waiting: {}", self.waited(what, "").trim_end()),
        }
    }

    /// What a clock is waited for, as a clause that ends with its time `at`.
    #[must_use]
    pub fn waited(&self, what: &Waited, at: &str) -> String {
        match what {
            Waited::Look { face } => format!("look at {} {}", self.face(*face), with("at", at)),
            Waited::Opens { face } => {
                let coat = self.coat_to_come(*face);
                format!("{coat} on {} {}", self.face(*face), with("from", at))
            }
            Waited::WipeDry { face } => {
                format!("the wipe on {} is dry {}", self.face(*face), with("at", at))
            }
            Waited::Closes { face } => {
                format!("the window of {} closes {}", self.face(*face), with("at", at))
            }
            Waited::OnTheGun { face } => format!("{} is on the gun", self.face(*face)),
            Waited::Condensing => "water is condensing on the part".into(),
            Waited::FanOff => "the fan is off".into(),
            Waited::Back => "back at work".into(),
            Waited::ToHang { .. } => "a part to be hung".into(),
            Waited::Away { face } => {
                format!("{} is to be hung (h), or Enter to close", self.face(*face))
            }
            Waited::Turn { face } => {
                format!("{} may be turned over {}", self.face(*face), with("from", at))
            }
            Waited::Stand { pot } => format!("{} must stand {}", self.pot(pot), with("until", at)),
            Waited::LastTrigger { pot } => {
                format!("last trigger of {} {}", self.pot(pot), with("at", at))
            }
            Waited::PotTime { .. } => format!("mix {} {}", self.next_pot(), with("at", at)),
            Waited::WipeTime { layer } => {
                format!("wipe for {} {}", self.layer(*layer), with("at", at))
            }
            Waited::AfterStep { step } => {
                let dries = self.find_step(step).is_some_and(dries);
                let what = if dries { "parts must dry" } else { "the wipe must dry" };
                let what = if self.is_wipe(step) || dries { what.into() } else { self.step(step) };
                format!("{what} {}", with("until", at))
            }
            Waited::StageBeforeStep { step } => {
                let masks = self.find_step(step).is_some_and(Step::counts_masks);
                let what = if masks { "masks come off".into() } else { self.step_short(step) };
                format!("{what} {}", with("from", at))
            }
            Waited::Cure { stage } => format!("{} {at}", cure_word(*stage)),
        }
    }

    /// The coat that a face gets next: 'coat 2', or 'Colour' where the layer is another.
    #[must_use]
    pub fn coat_to_come(&self, face: usize) -> String {
        let next = self.board.faces.get(face).and_then(|row| row.at.next);
        match next {
            Some((layer, 1)) => self.layer(layer),
            Some((_, coat)) => format!("coat {coat}"),
            None => "a coat".into(),
        }
    }

    /// Whether a coat of `layer` is two passes at right angles.
    #[must_use]
    pub fn is_cross(&self, layer: u32) -> bool {
        self.session.state().layer(layer).is_some_and(|layer| layer.cross)
    }

    /// Whether a coat is one more than the system has.
    #[must_use]
    pub fn is_extra(&self, layer: u32, coat: u32) -> bool {
        self.session.state().layer(layer).is_some_and(|layer| coat > layer.coats)
    }

    pub(super) fn is_wipe(&self, step: &str) -> bool {
        use boothside_core::work::system::Does;
        self.find_step(step).is_some_and(|step| step.does == Some(Does::Wipe))
    }
}

/// A stage of cure, as what is waited for.
#[must_use]
pub const fn cure_word(stage: CureStage) -> &'static str {
    match stage {
        CureStage::DustFree => "dust-free",
        CureStage::Handle => "fit to handle",
        CureStage::Mask => "fit to mask",
        CureStage::Sand => "fit to sand",
        CureStage::Full => "fully cured",
    }
}

/// What a step that does nothing to the surface waits for is drying.
pub(super) const fn dries(step: &Step) -> bool {
    step.does.is_none()
}

fn with(word: &str, at: &str) -> String {
    if at.is_empty() { String::new() } else { format!("{word} {at}") }
}
