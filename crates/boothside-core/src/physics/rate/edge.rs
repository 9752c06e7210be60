//! The safe side: a minimum never earlier than its sheet says, a maximum never later.

use super::{AirTrack, Due, Law, RateClock};

/// What kind of an edge a clock's end is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edge {
    /// The integral alone: a prediction, such as the eye clock.
    Bare,
    /// A minimum (earliest recoat, handle, sand): not before the stated duration either.
    Min,
    /// A maximum (end of a window, a pot's life): not after the stated duration either.
    Max,
}

/// When an edge is due, with the shop factor on the bare integral (progress needed = factor).
///
/// `Min` is `max(start + D, integral)` and never where the integral never comes; `Max` is
/// `min(start + D, integral)`, and `start + D` where the integral never comes. With law `table`
/// every edge is the integral alone, for that is the sheet's own word. A factor that is not a
/// number above zero counts as 1.
#[must_use]
pub fn edge_due(clock: &RateClock, track: &AirTrack, start_s: f64, edge: Edge, factor: f64) -> Due {
    let factor = if factor.is_finite() && factor > 0.0 { factor } else { 1.0 };
    let integral = clock.due_at_progress(track, start_s, factor);
    if matches!(clock.law(), Law::Table(_)) {
        return integral;
    }
    let stated_s = start_s + clock.duration_s();
    match (edge, integral) {
        (Edge::Min, Due::At(at_s)) => Due::At(at_s.max(stated_s)),
        (Edge::Max, Due::At(at_s)) => Due::At(at_s.min(stated_s)),
        (Edge::Max, Due::Never(_)) => Due::At(stated_s),
        (Edge::Bare, _) | (Edge::Min, Due::Never(_)) => integral,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::rate::{AirPoint, NeverBecause, Speed, Table, Warmth};
    use crate::units::Temperature;

    const STATED_S: f64 = 1200.0;

    fn at(minutes: f64, celsius: f64) -> AirPoint {
        AirPoint {
            at_s: minutes * 60.0,
            temperature: Temperature::from_celsius(celsius),
            humidity: None,
        }
    }

    /// 20 min stated at 20 °C, doubling every 10 K.
    fn clock(floor: Option<f64>) -> RateClock {
        let law = Warmth::new(
            Speed::DoublesPer { kelvin: 10.0 },
            Temperature::from_celsius(20.0),
            floor.map(Temperature::from_celsius),
        );
        RateClock::new(Law::Warmth(law.unwrap()), STATED_S).unwrap()
    }

    /// The shop runs 15 min at 1.5 times the stated speed, then at half of it.
    fn fast_then_slow() -> AirTrack {
        let warm = 20.0 + 10.0 * 1.5f64.log2();
        AirTrack::new(vec![at(0.0, warm), at(15.0, warm), at(15.0, 10.0)])
    }

    fn minutes(edge: Edge, factor: f64) -> f64 {
        edge_due(&clock(None), &fast_then_slow(), 0.0, edge, factor).at_s().unwrap() / 60.0
    }

    #[test]
    fn a_minimum_waits_out_the_stated_time_and_a_maximum_does_not_outlive_it() {
        // 20 min at speed 1.5 would take 13 min 20 s
        assert!((minutes(Edge::Bare, 1.0) - 40.0 / 3.0).abs() < 1e-9);
        assert!((minutes(Edge::Min, 1.0) - 20.0).abs() < 1e-9);
        assert!((minutes(Edge::Max, 1.0) - 40.0 / 3.0).abs() < 1e-9);
    }

    #[test]
    fn a_factor_needs_more_progress() {
        // 1.5 × 20 min = 22.5 min of the first 15 min, then 7.5 min at half speed
        assert!((minutes(Edge::Bare, 1.5) - 30.0).abs() < 1e-9);
        assert!((minutes(Edge::Min, 1.5) - 30.0).abs() < 1e-9);
        assert!((minutes(Edge::Max, 1.5) - 20.0).abs() < 1e-9);
        assert!((minutes(Edge::Bare, f64::NAN) - 40.0 / 3.0).abs() < 1e-9);
    }

    #[test]
    fn below_the_floor_a_minimum_never_comes_and_a_maximum_keeps_its_word() {
        let cold = AirTrack::new(vec![at(0.0, 9.0)]);
        let clock = clock(Some(10.0));
        let floor = Temperature::from_celsius(10.0);
        let never = Due::Never(NeverBecause::BelowFloor { floor });
        assert_eq!(edge_due(&clock, &cold, 0.0, Edge::Min, 1.0), never);
        assert_eq!(edge_due(&clock, &cold, 0.0, Edge::Max, 1.0), Due::At(STATED_S));
        assert_eq!(edge_due(&clock, &cold, 0.0, Edge::Bare, 1.0), never);
    }

    #[test]
    fn a_table_is_the_sheets_own_word_on_every_edge() {
        let table = Table::new(vec![
            (Temperature::from_celsius(10.0), 2400.0),
            (Temperature::from_celsius(20.0), 1200.0),
            (Temperature::from_celsius(30.0), 600.0),
        ]);
        let clock = RateClock::new(Law::Table(table.unwrap()), STATED_S).unwrap();
        for (celsius, due_s) in [(10.0, 2400.0), (30.0, 600.0), (45.0, 600.0), (0.0, 2400.0)] {
            let air = AirTrack::new(vec![at(0.0, celsius)]);
            for edge in [Edge::Bare, Edge::Min, Edge::Max] {
                let got = edge_due(&clock, &air, 0.0, edge, 1.0).at_s().unwrap();
                assert!((got - due_s).abs() < 1e-6, "{celsius} °C: {got}");
            }
        }
    }

    #[test]
    fn air_that_is_not_known_runs_at_the_stated_speed() {
        let due = edge_due(&clock(None), &AirTrack::default(), 60.0, Edge::Max, 1.0);
        assert_eq!(due, Due::At(60.0 + STATED_S));
    }
}
