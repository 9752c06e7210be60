//! The readings of the air, as a function of time.

use crate::units::{Humidity, Temperature};

/// The air at a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AirPoint {
    /// When, seconds on the caller's time axis.
    pub at_s: f64,
    /// The temperature.
    pub temperature: Temperature,
    /// Relative humidity, where it was read.
    pub humidity: Option<Humidity>,
    /// The coldest surface on which a film dries, where that is read apart from `temperature`: it
    /// counts for the law `water`.
    pub surface: Option<Temperature>,
}

impl AirPoint {
    /// The air at a moment, with no surface told apart from it.
    #[must_use]
    pub const fn new(at_s: f64, temperature: Temperature, humidity: Option<Humidity>) -> Self {
        Self { at_s, temperature, humidity, surface: None }
    }

    /// What of it can be reckoned with: nothing where its time or temperature is not finite.
    pub(crate) fn readable(self) -> Option<Self> {
        let finite = self.at_s.is_finite() && self.temperature.celsius().is_finite();
        finite.then(|| Self {
            humidity: self.humidity.filter(readable),
            surface: self.surface.filter(|surface| surface.celsius().is_finite()),
            ..self
        })
    }
}

/// The air over time: linear between readings, flat before the first and after the last.
///
/// Two readings may share a time: a step, the later of them holds from then on. A reading without
/// humidity takes it from its neighbours that have one. A track without readings is 'air not
/// known': every clock runs at rate 1 over it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AirTrack {
    points: Vec<AirPoint>,
}

impl AirTrack {
    /// A track from readings in any order; those of one time keep the order given.
    ///
    /// Readings whose time or temperature is not finite are left out, and a humidity that is not
    /// above 0 and up to 100 % counts as not read.
    #[must_use]
    pub fn new(points: Vec<AirPoint>) -> Self {
        let mut points: Vec<AirPoint> = points.into_iter().filter_map(AirPoint::readable).collect();
        points.sort_by(|a, b| a.at_s.total_cmp(&b.at_s));
        fill_humidity(&mut points);
        Self { points }
    }

    /// The readings in the order of time, humidity filled in from neighbours.
    #[must_use]
    pub fn points(&self) -> &[AirPoint] {
        &self.points
    }

    /// Whether there is no reading at all: 'air not known'.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// The air at a time, `None` without any reading; at a step the later reading.
    #[must_use]
    pub fn at(&self, at_s: f64) -> Option<AirPoint> {
        let (first, last) = (self.points.first()?, self.points.last()?);
        let after = self.points.partition_point(|point| point.at_s <= at_s);
        if after == 0 {
            return Some(AirPoint { at_s, ..*first });
        }
        match (self.points.get(after - 1), self.points.get(after)) {
            (Some(a), Some(b)) => Some(between(a, b, at_s)),
            _ => Some(AirPoint { at_s, ..*last }),
        }
    }

    /// The straight stretches that cover `from_s` to `to_s`, in order, clipped to it; nothing
    /// for an empty track or a span that does not run forward.
    pub(super) fn stretches(
        &self,
        from_s: f64,
        to_s: f64,
    ) -> impl Iterator<Item = (AirPoint, AirPoint)> + '_ {
        let first = self.points.first().map(|point| AirPoint { at_s: f64::NEG_INFINITY, ..*point });
        let last = self.points.last().map(|point| AirPoint { at_s: f64::INFINITY, ..*point });
        let skip = self.points.partition_point(|point| point.at_s <= from_s);
        let start = if skip == 0 { first } else { self.points.get(skip - 1).copied() };
        let inner = self.points.iter().skip(skip).copied();
        start
            .into_iter()
            .chain(inner.clone())
            .zip(inner.chain(last))
            .take_while(move |(a, _)| a.at_s < to_s)
            .filter(move |(a, b)| a.at_s < b.at_s && b.at_s > from_s)
            .map(move |(a, b)| {
                (between(&a, &b, a.at_s.max(from_s)), between(&a, &b, b.at_s.min(to_s)))
            })
    }
}

fn readable(humidity: &Humidity) -> bool {
    humidity.percent() > 0.0 && humidity.percent() <= 100.0
}

/// The air between two readings; an end that lies at infinity is flat.
pub(crate) fn between(a: &AirPoint, b: &AirPoint, at_s: f64) -> AirPoint {
    if a.at_s.is_infinite() {
        return AirPoint { at_s, ..*b };
    }
    let share = if b.at_s.is_infinite() || b.at_s <= a.at_s {
        0.0
    } else {
        ((at_s - a.at_s) / (b.at_s - a.at_s)).clamp(0.0, 1.0)
    };
    let mix = |x: f64, y: f64| x + (y - x) * share;
    let humidity = match (a.humidity, b.humidity) {
        (Some(x), Some(y)) => Some(Humidity::from_percent(mix(x.percent(), y.percent()))),
        (one, other) => one.or(other),
    };
    let warmth =
        |x: Temperature, y: Temperature| Temperature::from_celsius(mix(x.celsius(), y.celsius()));
    let surface = match (a.surface, b.surface) {
        (Some(x), Some(y)) => Some(warmth(x, y)),
        (one, other) => one.or(other),
    };
    AirPoint { at_s, temperature: warmth(a.temperature, b.temperature), humidity, surface }
}

/// Gives each reading without humidity the value between its neighbours that have one.
fn fill_humidity(points: &mut [AirPoint]) {
    let known: Vec<(usize, AirPoint)> = points
        .iter()
        .enumerate()
        .filter(|(_, point)| point.humidity.is_some())
        .map(|(index, point)| (index, *point))
        .collect();
    for (index, point) in points.iter_mut().enumerate().filter(|(_, p)| p.humidity.is_none()) {
        let next = known.partition_point(|(at, _)| *at < index);
        let before = next.checked_sub(1).and_then(|i| known.get(i)).map(|(_, point)| point);
        let after = known.get(next).map(|(_, point)| point);
        point.humidity = humidity_between(before, after, point.at_s);
    }
}

/// The humidity at a time between the nearest readings that have one.
pub(crate) fn humidity_between(
    before: Option<&AirPoint>,
    after: Option<&AirPoint>,
    at_s: f64,
) -> Option<Humidity> {
    match (before, after) {
        (Some(a), Some(b)) => between(a, b, at_s).humidity,
        (one, other) => one.or(other)?.humidity,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(at_s: f64, celsius: f64, percent: Option<f64>) -> AirPoint {
        let humidity = percent.map(Humidity::from_percent);
        AirPoint::new(at_s, Temperature::from_celsius(celsius), humidity)
    }

    fn celsius_at(track: &AirTrack, at_s: f64) -> f64 {
        track.at(at_s).unwrap().temperature.celsius()
    }

    #[test]
    fn air_is_linear_between_readings_and_flat_outside() {
        let track = AirTrack::new(vec![point(100.0, 30.0, None), point(0.0, 10.0, None)]);
        let wanted = [(-50.0, 10.0), (0.0, 10.0), (25.0, 15.0), (100.0, 30.0), (500.0, 30.0)];
        for (at_s, celsius) in wanted {
            assert!((celsius_at(&track, at_s) - celsius).abs() < 1e-12, "{at_s}");
        }
    }

    #[test]
    fn at_a_step_the_later_reading_holds_from_then_on() {
        let track = AirTrack::new(vec![point(10.0, 20.0, None), point(10.0, 5.0, None)]);
        for (at_s, celsius) in [(9.0, 20.0), (10.0, 5.0), (11.0, 5.0)] {
            assert!((celsius_at(&track, at_s) - celsius).abs() < 1e-12, "{at_s}");
        }
    }

    #[test]
    fn a_missing_humidity_comes_from_the_neighbours() {
        let track = AirTrack::new(vec![
            point(0.0, 20.0, None),
            point(10.0, 20.0, Some(40.0)),
            point(20.0, 20.0, None),
            point(30.0, 20.0, Some(60.0)),
            point(40.0, 20.0, Some(f64::NAN)),
        ]);
        let got: Vec<f64> = track.points().iter().map(|p| p.humidity.unwrap().percent()).collect();
        assert_eq!(got, [40.0, 40.0, 50.0, 60.0, 60.0]);
    }

    #[test]
    fn stretches_cover_a_span_without_gaps() {
        let track = AirTrack::new(vec![
            point(10.0, 10.0, None),
            point(20.0, 20.0, None),
            point(20.0, 25.0, None),
            point(40.0, 25.0, None),
        ]);
        let got: Vec<(f64, f64)> =
            track.stretches(5.0, 50.0).map(|(a, b)| (a.at_s, b.at_s)).collect();
        assert_eq!(got, [(5.0, 10.0), (10.0, 20.0), (20.0, 40.0), (40.0, 50.0)]);
        let ends: Vec<f64> =
            track.stretches(15.0, 20.0).map(|(_, b)| b.temperature.celsius()).collect();
        assert_eq!(ends, [20.0]);
        assert_eq!(track.stretches(20.0, 20.0).count(), 0);
    }
}
