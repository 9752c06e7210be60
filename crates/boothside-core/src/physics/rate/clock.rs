//! A clock: a law and the duration that it bends.

use super::piece::{Piece, Shape, cut};
use super::{AirPoint, AirTrack, RateError, Table, Warmth, Water, real_duration};
use crate::physics::air::{MAX_TEMPERATURE, MIN_TEMPERATURE};
use crate::units::{Humidity, Temperature};

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

/// A stated duration with its law. One law must not serve both drying and cure.
#[derive(Debug, Clone, PartialEq)]
pub struct RateClock {
    law: Law,
    duration_s: f64,
}

impl RateClock {
    /// A clock from its law and the duration stated at the law's reference, s.
    ///
    /// # Errors
    /// [`RateError::Duration`] unless the duration is a number above zero.
    pub fn new(law: Law, duration_s: f64) -> Result<Self, RateError> {
        Ok(Self { law, duration_s: real_duration(duration_s)? })
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

    /// The speed in given air, against the stated duration; never negative, always finite.
    /// Humidity that the law needs and that is not known: 1.
    #[must_use]
    pub fn rate(&self, temperature: Temperature, humidity: Option<Humidity>) -> f64 {
        match &self.law {
            Law::Steady => 1.0,
            Law::Table(table) => self.duration_s / table.duration_s(temperature),
            Law::Warmth(law) => law.rate(temperature),
            Law::Water(law) => law.rate(temperature, humidity),
        }
    }

    /// The speed at a time of a track; 1 where the track is empty.
    #[must_use]
    pub fn rate_at(&self, track: &AirTrack, at_s: f64) -> f64 {
        track.at(at_s).map_or(1.0, |air| self.rate(air.temperature, air.humidity))
    }

    /// Progress from one time to a later one: 1 is the stated duration. An empty track runs at
    /// rate 1; a span that does not run forward gives 0.
    #[must_use]
    pub fn progress(&self, track: &AirTrack, from_s: f64, to_s: f64) -> f64 {
        if track.is_empty() || self.law == Law::Steady {
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
        for piece in self.pieces(a, b) {
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
        if self.is_one_piece(a, b) {
            return self.integral(&whole, b.at_s);
        }
        self.pieces(a, b).iter().map(|piece| self.integral(piece, piece.b.at_s)).sum()
    }

    /// Whether the rate is smooth all the way from `a` to `b`, which are not far apart.
    fn is_one_piece(&self, a: &AirPoint, b: &AirPoint) -> bool {
        let (from, to) = (a.temperature.celsius(), b.temperature.celsius());
        let passes = |kink: f64| from.min(to) < kink && kink < from.max(to);
        match &self.law {
            Law::Steady => true,
            Law::Table(table) => !table.kinks().any(passes),
            Law::Warmth(law) => {
                let floor = law.floor().map(|floor| floor.celsius());
                parts_between(a, b) == 1 && !floor.is_some_and(passes)
            }
            Law::Water(_) => {
                let ends = [MIN_TEMPERATURE, MAX_TEMPERATURE].map(Temperature::celsius);
                parts_between(a, b) == 1 && !ends.into_iter().any(passes)
            }
        }
    }

    fn integral(&self, piece: &Piece, end_s: f64) -> f64 {
        piece.integral(self.shape(piece), |air| self.running_rate(air), end_s)
    }

    /// The rate with kinks taken out, for use inside one piece.
    fn running_rate(&self, air: &AirPoint) -> f64 {
        match &self.law {
            Law::Warmth(law) => law.running_rate(air.temperature),
            Law::Steady | Law::Table(_) | Law::Water(_) => self.rate(air.temperature, air.humidity),
        }
    }

    fn shape(&self, piece: &Piece) -> Shape {
        use super::Speed;
        match &self.law {
            Law::Warmth(law) if law.stands_at(piece.middle().temperature) => Shape::Zero,
            Law::Warmth(law) if matches!(law.speed(), Speed::Energy { .. }) => Shape::Smooth,
            Law::Water(_) => Shape::Smooth,
            Law::Steady | Law::Table(_) | Law::Warmth(_) => {
                Shape::Exponential(self.running_rate(&piece.a), self.running_rate(&piece.b))
            }
        }
    }

    /// The pieces of a straight stretch over which the rate is smooth, short enough for the
    /// quadrature to be exact to far more than 1e-6.
    fn pieces(&self, a: &AirPoint, b: &AirPoint) -> Vec<Piece> {
        let kinks = match &self.law {
            Law::Steady => Vec::new(),
            Law::Table(table) => table.kinks().collect(),
            Law::Warmth(law) => law.floor().iter().map(|floor| floor.celsius()).collect(),
            Law::Water(_) => vec![MIN_TEMPERATURE.celsius(), MAX_TEMPERATURE.celsius()],
        };
        let parts = match &self.law {
            Law::Steady | Law::Table(_) => 1,
            Law::Warmth(_) | Law::Water(_) => parts_between(a, b),
        };
        cut(*a, *b, &kinks, parts)
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
