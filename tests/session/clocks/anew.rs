//! Clocks reckoned anew from the readings at every look, as their rules are told: what tables must
//! not change. Slow, and nothing is kept.

use boothside_core::material::timing::{LawName, Timing};
use boothside_core::physics::rate::{
    self, AirPoint, AirTrack, Outside, RateClock, Rules, edge_due,
};
use boothside_core::session::Taken;
use boothside_core::session::clocks::{Doubt, Doubted, Due, DueAt, Kind, Start, rate_clock};
use boothside_core::session::event::Reading;
use boothside_core::session::time::{Moment, Span};
use boothside_core::units::{Humidity, Temperature};

/// Whose temperature a clock follows.
#[derive(Clone, Copy, PartialEq)]
enum Whose {
    Air,
    Film,
    Coldest,
    Warmest,
    Pot,
}

fn whose(kind: Kind, law: LawName) -> Whose {
    match (kind, law) {
        (Kind::Eye | Kind::Minimum, LawName::Water) => Whose::Film,
        (_, LawName::Water) => Whose::Air,
        (Kind::Eye | Kind::Minimum, _) => Whose::Coldest,
        (Kind::Maximum | Kind::Shortened, _) => Whose::Warmest,
        (Kind::Stand | Kind::PotLife, _) => Whose::Pot,
    }
}

/// Differences from the air that are carried while a temperature is not read.
#[derive(Default, Clone, Copy)]
struct Carried {
    air_c: Option<f64>,
    coldest: Option<f64>,
    warmest: Option<f64>,
    pot: Option<f64>,
}

impl Carried {
    fn take(&mut self, reading: &Reading) {
        self.air_c = reading.air_c.or(self.air_c);
        let Some(air_c) = self.air_c else { return };
        let warmest_c = reading.surface_warmest_c.or(reading.surface_c);
        self.coldest = reading.surface_c.map(|c| c - air_c).or(self.coldest);
        self.warmest = warmest_c.map(|c| c - air_c).or(self.warmest);
        self.pot = reading.pot_c.map(|c| c - air_c).or(self.pot);
    }

    fn of(&self, whose: Whose, reading: &Reading) -> Option<f64> {
        let carried = |difference: Option<f64>| Some(self.air_c? + difference.unwrap_or(0.0));
        match whose {
            Whose::Air | Whose::Film => self.air_c,
            Whose::Coldest => reading.surface_c.or_else(|| carried(self.coldest)),
            Whose::Warmest => {
                let read = reading.surface_warmest_c.or(reading.surface_c);
                let surface_c = read.or_else(|| carried(self.warmest));
                surface_c.map(|c| c.max(self.air_c.unwrap_or(c)))
            }
            Whose::Pot => reading.pot_c.or_else(|| carried(self.pot)),
        }
    }

    fn under_film(&self, reading: &Reading) -> Option<Temperature> {
        let told = reading.surface_c.is_some() || self.coldest.is_some();
        let celsius = self.of(Whose::Coldest, reading).filter(|_| told)?;
        Some(Temperature::from_celsius(celsius))
    }
}

/// The first difference read of each surface: flat before it, as the air is.
fn first_differences(readings: &[Taken]) -> Carried {
    let (mut first, mut walking) = (Carried::default(), Carried::default());
    for taken in readings {
        walking.take(&taken.reading);
        first.coldest = first.coldest.or(walking.coldest);
        first.warmest = first.warmest.or(walking.warmest);
    }
    first
}

fn track(readings: &[Taken], whose: Whose) -> AirTrack {
    let mut carried = first_differences(readings);
    let mut points = Vec::new();
    for taken in readings {
        carried.take(&taken.reading);
        if let Some(celsius) = carried.of(whose, &taken.reading) {
            let surface = carried.under_film(&taken.reading).filter(|_| whose == Whose::Film);
            points.push(AirPoint {
                at_s: taken.at.seconds(),
                temperature: Temperature::from_celsius(celsius),
                humidity: taken.reading.humidity_pct.map(Humidity::from_percent),
                surface,
            });
        }
    }
    AirTrack::new(points)
}

/// A clock that is asked for.
#[derive(Debug, Clone)]
pub(crate) struct Asked {
    pub(crate) timing: Timing,
    pub(crate) kind: Kind,
    pub(crate) start: Start,
    pub(crate) factor: f64,
    pub(crate) lead: Span,
    pub(crate) rules: Rules,
}

impl Asked {
    /// When it is due: after each reading that was entered, what was known by then, until an edge was
    /// shown before the next one came.
    pub(crate) fn due(&self, readings: &[Taken]) -> Due {
        let clock = rate_clock(&self.timing, self.kind, self.rules).expect("a clock");
        if clock.is_steady() {
            let span = Span::from_ms(self.round(clock.duration_s() * self.factor).ms());
            return Due { at: DueAt::At(self.start.at.plus(span)), recomputed: None };
        }
        let all = self.edge(&clock, readings);
        let mut arrivals: Vec<Moment> = readings.iter().map(|taken| taken.known).collect();
        arrivals.retain(|known| *known > self.start.known);
        arrivals.sort_unstable();
        let mut known_until = self.start.known;
        for arrival in arrivals {
            let known = |taken: &&Taken| taken.known <= known_until;
            let known: Vec<Taken> = readings.iter().filter(known).copied().collect();
            let at = self.edge(&clock, &known);
            if at.moment().is_some_and(|at| at.minus(self.lead) <= arrival) {
                return Due { at, recomputed: Some(all).filter(|all| *all != at) };
            }
            known_until = arrival;
        }
        Due { at: all, recomputed: None }
    }

    fn edge(&self, clock: &RateClock, readings: &[Taken]) -> DueAt {
        let track = track(readings, whose(self.kind, self.timing.law));
        match edge_due(clock, &track, self.start.at.seconds(), self.factor) {
            rate::Due::At(seconds) => DueAt::At(self.round(seconds)),
            rate::Due::Never(because) => DueAt::Never(because),
        }
    }

    fn takes_upper(&self) -> bool {
        !matches!(self.kind, Kind::Maximum | Kind::Shortened | Kind::PotLife)
    }

    fn round(&self, seconds: f64) -> Moment {
        if self.takes_upper() {
            Moment::from_seconds_up(seconds)
        } else {
            Moment::from_seconds_down(seconds)
        }
    }

    /// How fast it runs at each reading.
    pub(crate) fn rates(&self, readings: &[Taken]) -> Vec<(Moment, f64)> {
        let clock = rate_clock(&self.timing, self.kind, self.rules).expect("a clock");
        if clock.is_steady() {
            return Vec::new();
        }
        let track = track(readings, whose(self.kind, self.timing.law));
        let water = self.timing.law == LawName::Water;
        let points = track.points().iter().filter(|point| !water || point.humidity.is_some());
        points.map(|air| (Moment::from_seconds_down(air.at_s), clock.rate_in(air))).collect()
    }

    /// What is to be minded of it until it is due at `due`.
    pub(crate) fn doubt(&self, readings: &[Taken], due: Option<Moment>) -> Option<Doubted> {
        let table = self.timing.law == LawName::Table;
        let stated_c = self.timing.at_c.filter(|_| self.timing.law == LawName::Steady);
        let track = track(readings, whose(self.kind, self.timing.law));
        let (from_s, to_s) = (self.start.at.seconds(), due.map_or(f64::INFINITY, Moment::seconds));
        let mut air = vec![track.at(from_s)?, track.at(to_s)?];
        air.extend(track.points().iter().filter(|point| (from_s..=to_s).contains(&point.at_s)));
        if table {
            let clock = rate_clock(&self.timing, self.kind, self.rules).expect("a clock");
            let carried =
                |air: &AirPoint| clock.outside_table(air.temperature) == Some(Outside::CarriedOn);
            let doubted = Doubted { doubt: Doubt::CarriedOn, until: None };
            return air.iter().any(carried).then_some(doubted);
        }
        let (stated_c, temperatures) = (stated_c?, air.iter().map(|air| air.temperature.celsius()));
        let upper = self.takes_upper();
        let was_c = if upper {
            temperatures.min_by(f64::total_cmp)?
        } else {
            temperatures.max_by(f64::total_cmp)?
        };
        let off_k = if upper { stated_c - was_c } else { was_c - stated_c };
        if off_k <= 3.0 + 1e-6 {
            return None;
        }
        let floor = Some(Temperature::from_celsius(stated_c - 3.0 - 1e-6));
        let near = RateClock::new(rate::Law::Steady, self.timing.upper_s()).expect("a clock");
        let near = near.with_floor(floor).expect("a floor");
        let until = Some(near.due(&track, from_s)).filter(|_| upper).and_then(rate::Due::at_s);
        let until = until.map(Moment::from_seconds_up);
        Some(Doubted { doubt: Doubt::OffStated { stated_c, was_c }, until })
    }
}

/// The readings as a pot that was mixed at `mixed` knows them.
pub(crate) fn of_pot(readings: &[Taken], mixed: Moment) -> Vec<Taken> {
    let mut own = readings.to_vec();
    for taken in own.iter_mut().filter(|taken| taken.at <= mixed) {
        taken.reading.pot_c = None;
    }
    own
}

/// The air as it is known after the last of `readings`.
pub(crate) fn air(readings: &[Taken]) -> Option<Reading> {
    let mut carried = first_differences(readings);
    let mut humidity_pct = None;
    for taken in readings {
        carried.take(&taken.reading);
        humidity_pct = taken.reading.humidity_pct.or(humidity_pct);
    }
    let last = readings.last()?.reading;
    let coldest = carried.of(Whose::Coldest, &last).filter(|_| carried.coldest.is_some());
    let warmest = carried.of(Whose::Warmest, &last).filter(|_| carried.warmest.is_some());
    Some(Reading {
        air_c: carried.air_c,
        humidity_pct,
        surface_c: coldest.or(last.surface_c.filter(|_| carried.coldest.is_none())),
        surface_warmest_c: warmest.or(last.surface_warmest_c.filter(|_| carried.warmest.is_none())),
        pot_c: carried.of(Whose::Pot, &last).filter(|_| carried.pot.is_some()),
    })
}
