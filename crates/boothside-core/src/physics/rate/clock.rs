//! A clock: a law and the duration that it bends.

use super::piece::{Piece, Shape, cut, shares_at, sign_changes};
use super::rules::End;
use super::table::Outside;
use super::water::drive_in;
use super::{
    AirPoint, AirTrack, Edge, RateError, Rules, Speed, Table, Warmth, Water, real_celsius,
    real_duration,
};
use crate::physics::air::{MAX_TEMPERATURE, MIN_TEMPERATURE};
use crate::units::{Humidity, Temperature};

/// What rounding leaves of a temperature that was typed in other units, K.
const HAIR_K: f64 = 1e-6;

/// How fast a clock runs in given air.
#[derive(Debug, Clone, PartialEq)]
pub enum Law {
    /// At rate 1 whatever the air: what does not depend on it, or has no law.
    Steady,
    /// By the sheet's own durations at several temperatures.
    Table(Table),
    /// By the temperature: cure, pot life, solvent flash.
    Warmth(Warmth),
    /// By temperature and humidity: waterborne flash and drying.
    Water(Water),
}

/// A stated duration with its law, its floor and what kind of an edge its end is. One law must not
/// serve both drying and cure.
///
/// Below the floor it stands, at it it runs, whatever the law: predictions and minima do, for the law
/// `water` by the film's temperature. A maximum runs on. A table is carried on in the cold for
/// predictions and minima, in the heat for maxima. A surface colder than the film is the film's
/// temperature for predictions and minima of the law `water`.
#[derive(Debug, Clone, PartialEq)]
pub struct RateClock {
    law: Law,
    duration_s: f64,
    edge: Edge,
    floor: Option<Temperature>,
    rules: Rules,
    /// Whether its law is not its own, and serves to shorten it only.
    lent: bool,
}

impl RateClock {
    /// A prediction's clock from its law and the duration stated at the law's reference, s.
    ///
    /// # Errors
    /// [`RateError::Duration`] unless the duration is a number above zero.
    pub fn new(law: Law, duration_s: f64) -> Result<Self, RateError> {
        let duration_s = real_duration(duration_s)?;
        Ok(Self { law, duration_s, edge: Edge::Bare, floor: None, rules: Rules::NOW, lent: false })
    }

    /// The same clock for this kind of an edge.
    #[must_use]
    pub fn with_edge(self, edge: Edge) -> Self {
        Self { edge, ..self }
    }

    /// The same clock by these rules.
    #[must_use]
    pub fn by_rules(self, rules: Rules) -> Self {
        Self { rules, ..self }
    }

    /// The same clock with a temperature below which nothing happens.
    ///
    /// # Errors
    /// [`RateError::Temperature`] for a floor that cannot be.
    pub fn with_floor(self, floor: Option<Temperature>) -> Result<Self, RateError> {
        floor.map(|floor| real_celsius(floor.celsius())).transpose()?;
        Ok(Self { floor, ..self })
    }

    /// The same clock by a law that its sheet states for another: a maximum is never after its stated
    /// duration then, with a table neither.
    #[must_use]
    pub fn by_lent_law(self) -> Self {
        Self { lent: true, ..self }
    }

    /// Whether its end is where the integral alone has it: by a table that is the sheet's own word on
    /// it.
    #[must_use]
    pub const fn is_by_own_table(&self) -> bool {
        matches!(self.law, Law::Table(_)) && !self.lent
    }

    /// The law.
    #[must_use]
    pub const fn law(&self) -> &Law {
        &self.law
    }

    /// The stated duration, s.
    #[must_use]
    pub const fn duration_s(&self) -> f64 {
        self.duration_s
    }

    /// What kind of an edge its end is.
    #[must_use]
    pub const fn edge(&self) -> Edge {
        self.edge
    }

    /// The temperature below which this clock stands; nothing for one that no floor stops.
    #[must_use]
    pub fn floor(&self) -> Option<Temperature> {
        self.floor.filter(|_| self.rules.floor_stops(&self.law, self.edge))
    }

    /// Whether it runs at rate 1 in any air.
    #[must_use]
    pub fn is_steady(&self) -> bool {
        self.law == Law::Steady && self.floor().is_none()
    }

    /// The speed in given air, against the stated duration; never negative, always finite.
    /// Humidity that the law needs and that is not known: 1.
    #[must_use]
    pub fn rate(&self, temperature: Temperature, humidity: Option<Humidity>) -> f64 {
        self.rate_in(&AirPoint::new(0.0, temperature, humidity))
    }

    /// The same, over a surface where that counts.
    #[must_use]
    pub fn rate_in(&self, air: &AirPoint) -> f64 {
        if self.stands_in(air) { 0.0 } else { self.running_rate(air) }
    }

    /// Whether it stands in given air because that is below its floor.
    #[must_use]
    pub fn stands_in(&self, air: &AirPoint) -> bool {
        self.stands_below_c().is_some_and(|floor_c| self.counted_c(air) < floor_c)
    }

    /// The floor, less what rounding leaves of a temperature that was typed in other units, °C.
    fn stands_below_c(&self) -> Option<f64> {
        Some(self.floor()?.celsius() - HAIR_K)
    }

    /// How a temperature outside the sheet's table is met; nothing for one inside, and for another
    /// law.
    #[must_use]
    pub fn outside_table(&self, temperature: Temperature) -> Option<Outside> {
        match &self.law {
            Law::Table(table) => table.outside(temperature, self.carried()),
            Law::Steady | Law::Warmth(_) | Law::Water(_) => None,
        }
    }

    /// The speed at a time of a track; 1 where the track is empty.
    #[must_use]
    pub fn rate_at(&self, track: &AirTrack, at_s: f64) -> f64 {
        track.at(at_s).map_or(1.0, |air| self.rate_in(&air))
    }

    /// Progress from one time to a later one: 1 is the stated duration. An empty track runs at
    /// rate 1; a span that does not run forward gives 0.
    #[must_use]
    pub fn progress(&self, track: &AirTrack, from_s: f64, to_s: f64) -> f64 {
        if track.is_empty() || self.is_steady() {
            return (to_s - from_s).max(0.0) / self.duration_s;
        }
        track.stretches(from_s, to_s).map(|(a, b)| self.segment_progress(&a, &b)).sum()
    }

    /// Progress from one reading to a later one, the air linear between them. Where just one of
    /// them has a humidity it holds for both.
    #[must_use]
    pub fn segment_progress(&self, a: &AirPoint, b: &AirPoint) -> f64 {
        if b.at_s <= a.at_s {
            return 0.0;
        }
        self.integral_between(a, b) / self.duration_s
    }

    /// When progress counted from `a` reaches `wanted` on the way to `b`; `None` if not by then.
    #[must_use]
    pub fn reach_in_segment(&self, a: &AirPoint, b: &AirPoint, wanted: f64) -> Option<f64> {
        let mut left = wanted * self.duration_s;
        if left <= 0.0 {
            return Some(a.at_s);
        }
        if b.at_s <= a.at_s {
            return None;
        }
        for piece in self.pieces(&Piece { a: *a, b: *b }) {
            let whole = self.integral(&piece, piece.b.at_s);
            if whole >= left {
                let at_s = piece.reach(self.shape(&piece), |air| self.running_rate(air), left);
                return Some(at_s.clamp(piece.a.at_s, piece.b.at_s));
            }
            left -= whole;
        }
        None
    }

    fn integral_between(&self, a: &AirPoint, b: &AirPoint) -> f64 {
        let whole = Piece { a: *a, b: *b };
        // most stretches have neither kink nor need of cutting: no list is made for them
        if self.is_one_piece(&whole) {
            return self.integral(&whole, b.at_s);
        }
        self.pieces(&whole).iter().map(|piece| self.integral(piece, piece.b.at_s)).sum()
    }

    /// Whether the rate is smooth all the way along a stretch whose ends are not far apart.
    fn is_one_piece(&self, whole: &Piece) -> bool {
        let (a, b) = (&whole.a, &whole.b);
        let (from, to) = (a.temperature.celsius(), b.temperature.celsius());
        let passes = |kink: f64| from.min(to) < kink && kink < from.max(to);
        let floor = self.stands_below_c().is_some_and(passes);
        match &self.law {
            Law::Steady => !floor,
            Law::Table(table) => !floor && !table.kinks().any(passes),
            Law::Warmth(_) => !floor && parts_between(a, b) == 1,
            Law::Water(_) => {
                let ends = [MIN_TEMPERATURE, MAX_TEMPERATURE].map(Temperature::celsius);
                let plain =
                    self.floor().is_none() && self.surface_of(a).or(self.surface_of(b)).is_none();
                plain && parts_between(a, b) == 1 && !ends.into_iter().any(passes)
            }
        }
    }

    fn integral(&self, piece: &Piece, end_s: f64) -> f64 {
        piece.integral(self.shape(piece), |air| self.running_rate(air), end_s)
    }

    /// The rate as if there were no floor, for use inside one piece.
    fn running_rate(&self, air: &AirPoint) -> f64 {
        match &self.law {
            Law::Steady => 1.0,
            Law::Table(table) => {
                self.duration_s / table.duration_s(air.temperature, self.carried())
            }
            Law::Warmth(law) => law.rate(air.temperature),
            Law::Water(law) => law.rate(air, self.surface_of(air)),
        }
    }

    fn shape(&self, piece: &Piece) -> Shape {
        if self.stands_in(&piece.middle()) {
            return Shape::Zero;
        }
        match &self.law {
            Law::Warmth(law) if matches!(law.speed(), Speed::Energy { .. }) => Shape::Smooth,
            Law::Water(_) => Shape::Smooth,
            Law::Steady | Law::Table(_) | Law::Warmth(_) => {
                Shape::Exponential(self.running_rate(&piece.a), self.running_rate(&piece.b))
            }
        }
    }

    /// The pieces of a straight stretch over which the rate is smooth, short enough for the
    /// quadrature to be exact to far more than 1e-6.
    fn pieces(&self, whole: &Piece) -> Vec<Piece> {
        let mut kinks: Vec<f64> = match &self.law {
            Law::Steady | Law::Warmth(_) => Vec::new(),
            Law::Table(table) => table.kinks().collect(),
            Law::Water(_) => vec![MIN_TEMPERATURE.celsius(), MAX_TEMPERATURE.celsius()],
        };
        let parts = match &self.law {
            Law::Steady | Law::Table(_) => 1,
            Law::Warmth(_) | Law::Water(_) => parts_between(&whole.a, &whole.b),
        };
        kinks.extend(self.stands_below_c());
        let mut shares = shares_at(&whole.a, &whole.b, &kinks);
        if matches!(self.law, Law::Water(_)) {
            shares.extend(self.turns_of_film(whole, parts));
        }
        cut(whole, shares, parts)
    }

    /// Where the film of the law `water` meets its surface's temperature, the floor, or the air's
    /// vapour.
    fn turns_of_film(&self, whole: &Piece, parts: u32) -> Vec<f64> {
        let parts = parts.saturating_mul(4);
        let drive = |air: &AirPoint| drive_in(air, self.surface_of(air));
        let mut shares = Vec::new();
        if self.surface_of(&whole.a).or(self.surface_of(&whole.b)).is_some() {
            let over_surface = |air: &AirPoint| {
                let surface_c = self.surface_of(air).map_or(f64::INFINITY, Temperature::celsius);
                drive(air).map_or(1.0, |drive| surface_c - drive.by_air_c)
            };
            shares.extend(sign_changes(over_surface, whole, parts));
            let gives = |air: &AirPoint| drive(air).map_or(1.0, |drive| drive.pa);
            shares.extend(sign_changes(gives, whole, parts));
        }
        if let Some(floor_c) = self.stands_below_c() {
            let over_floor = |air: &AirPoint| self.counted_c(air) - floor_c;
            shares.extend(sign_changes(over_floor, whole, parts));
        }
        shares
    }

    /// The temperature that a floor is compared with, °C: for the law `water` the film's.
    fn counted_c(&self, air: &AirPoint) -> f64 {
        let air_c = air.temperature.celsius();
        if !matches!(self.law, Law::Water(_)) {
            return air_c;
        }
        let surface = self.surface_of(air);
        let film_c = drive_in(air, surface).map_or(air_c, |drive| drive.film_c);
        surface.map_or(air_c, |surface| surface.celsius().min(air_c)).min(film_c)
    }

    /// The surface under the film, where it counts.
    fn surface_of(&self, air: &AirPoint) -> Option<Temperature> {
        air.surface.filter(|_| self.rules.heeds_surface(self.edge))
    }

    fn carried(&self) -> Option<End> {
        self.rules.carries_on(self.edge)
    }
}

/// Into how many equal parts a stretch is cut: 10 K and 20 % of humidity at most for one.
fn parts_between(a: &AirPoint, b: &AirPoint) -> u32 {
    let kelvin = (b.temperature - a.temperature).kelvin().abs();
    let percent = match (a.humidity, b.humidity) {
        (Some(a), Some(b)) => (b.percent() - a.percent()).abs(),
        _ => 0.0,
    };
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 100")]
    let parts = (kelvin / 10.0).max(percent / 20.0).ceil().clamp(1.0, 100.0) as u32;
    parts
}
