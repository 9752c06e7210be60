//! The safe side: a minimum never earlier than its sheet says, a maximum never later.

use super::{AirTrack, Due, RateClock};

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

/// When the edge of a clock is due, with the shop factor on the bare integral (progress needed =
/// factor).
///
/// `Min` is `max(start + D, integral)` and never where the integral never comes; `Max` is
/// `min(start + D, integral)`, and `start + D` where the integral never comes. With law `table`
/// every edge is the integral alone, for that is the sheet's own word; a table lent by another time
/// is not ([`RateClock::by_lent_law`]). A factor that is not a
/// number above zero counts as 1.
#[must_use]
pub fn edge_due(clock: &RateClock, track: &AirTrack, start_s: f64, factor: f64) -> Due {
    let factor = if factor.is_finite() && factor > 0.0 { factor } else { 1.0 };
    clock.edge_after(start_s, clock.due_at_progress(track, start_s, factor))
}

impl RateClock {
    /// The edge of this clock, started at `start_s`, where its integral alone is due at `integral`.
    pub(crate) fn edge_after(&self, start_s: f64, integral: Due) -> Due {
        if !self.heeds_stated() {
            return integral;
        }
        let stated_s = start_s + self.duration_s();
        match (self.edge(), integral) {
            (Edge::Min, Due::At(at_s)) => Due::At(at_s.max(stated_s)),
            (Edge::Max, Due::At(at_s)) => Due::At(at_s.min(stated_s)),
            (Edge::Max, Due::Never(_)) => Due::At(stated_s),
            (Edge::Bare, _) | (Edge::Min, Due::Never(_)) => integral,
        }
    }

    /// Whether the stated duration bounds its edge: not where the integral alone is the sheet's own
    /// word.
    pub(crate) const fn heeds_stated(&self) -> bool {
        !self.is_by_own_table() && !matches!(self.edge(), Edge::Bare)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::rate::{AirPoint, Law, NeverBecause, Rules, Speed, Table, Warmth, Water};
    use crate::units::{Humidity, Temperature};

    const STATED_S: f64 = 1200.0;

    fn celsius(celsius: f64) -> Temperature {
        Temperature::from_celsius(celsius)
    }

    fn at(minutes: f64, degrees: f64) -> AirPoint {
        AirPoint::new(minutes * 60.0, celsius(degrees), None)
    }

    fn flat(degrees: f64) -> AirTrack {
        AirTrack::new(vec![at(0.0, degrees)])
    }

    /// 20 min stated at 20 °C, doubling every 10 K.
    fn warmth() -> Law {
        let speed = Speed::DoublesPer { kelvin: 10.0 };
        Law::Warmth(Warmth::new(speed, celsius(20.0)).unwrap())
    }

    fn table() -> Law {
        let rows = vec![(celsius(10.0), 2400.0), (celsius(20.0), 1200.0), (celsius(30.0), 600.0)];
        Law::Table(Table::new(rows).unwrap())
    }

    fn water() -> Law {
        Law::Water(Water::new(celsius(25.0), Humidity::from_percent(50.0)).unwrap())
    }

    fn clock(law: Law, edge: Edge, floor: Option<f64>) -> RateClock {
        let clock = RateClock::new(law, STATED_S).unwrap().with_edge(edge);
        clock.with_floor(floor.map(celsius)).unwrap()
    }

    /// The shop runs 15 min at 1.5 times the stated speed, then at half of it.
    fn fast_then_slow() -> AirTrack {
        let warm = 20.0 + 10.0 * 1.5f64.log2();
        AirTrack::new(vec![at(0.0, warm), at(15.0, warm), at(15.0, 10.0)])
    }

    fn minutes(edge: Edge, factor: f64) -> f64 {
        let clock = clock(warmth(), edge, None);
        edge_due(&clock, &fast_then_slow(), 0.0, factor).at_s().unwrap() / 60.0
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
    fn below_the_floor_a_minimum_never_comes_and_a_maximum_runs_on_whatever_the_law() {
        let floor = celsius(10.0);
        let never = Due::Never(NeverBecause::BelowFloor { floor });
        let damp = AirPoint::new(0.0, celsius(9.0), Some(Humidity::from_percent(50.0)));
        let cold = AirTrack::new(vec![damp]);
        for law in [Law::Steady, warmth(), table(), water()] {
            for edge in [Edge::Bare, Edge::Min] {
                let due = edge_due(&clock(law.clone(), edge, Some(10.0)), &cold, 0.0, 1.0);
                assert_eq!(due, never, "{law:?}");
            }
            let runs = clock(law.clone(), Edge::Max, Some(10.0));
            let without = clock(law.clone(), Edge::Max, None);
            let due = edge_due(&runs, &cold, 0.0, 1.0);
            assert_eq!(due, edge_due(&without, &cold, 0.0, 1.0), "{law:?}");
            assert!(due.at_s().is_some(), "{law:?}");
        }
    }

    #[test]
    fn at_the_floor_a_clock_runs_and_goes_on_where_it_stood() {
        // 10 min at 20 °C, 30 min below the floor, then 20 °C again
        let dip = |law: Law| {
            let track = AirTrack::new(vec![
                at(0.0, 20.0),
                at(10.0, 20.0),
                at(10.0, 5.0),
                at(40.0, 5.0),
                at(40.0, 20.0),
            ]);
            edge_due(&clock(law, Edge::Min, Some(10.0)), &track, 0.0, 1.0).at_s().unwrap() / 60.0
        };
        for law in [Law::Steady, warmth(), table()] {
            let due = dip(law.clone());
            assert!((due - 50.0).abs() < 1e-6, "{law:?}: {due}");
        }
        let due = edge_due(&clock(Law::Steady, Edge::Min, Some(10.0)), &flat(10.0), 0.0, 1.0);
        assert_eq!(due, Due::At(STATED_S));
    }

    #[test]
    fn a_ramp_through_the_floor_is_cut_where_it_passes() {
        // 0 to 20 °C in 40 min: at 10 °C after 20 min, then 20 min of the stated 20
        let ramp = AirTrack::new(vec![at(0.0, 0.0), at(40.0, 20.0)]);
        let clock = clock(Law::Steady, Edge::Min, Some(10.0));
        let due = edge_due(&clock, &ramp, 0.0, 1.0).at_s().unwrap();
        assert!((due - 2400.0).abs() < 1e-3, "{due}");
    }

    #[test]
    fn the_film_counts_for_the_floor_of_water() {
        // 12 °C and 40 %: the film lies near 7.6 °C, under a floor of 10 °C
        let dry = AirPoint::new(0.0, celsius(12.0), Some(Humidity::from_percent(40.0)));
        let track = AirTrack::new(vec![dry]);
        let at_floor = |floor| edge_due(&clock(water(), Edge::Min, Some(floor)), &track, 0.0, 1.0);
        assert_eq!(at_floor(10.0).at_s(), None);
        assert!(at_floor(6.0).at_s().is_some());
    }

    #[test]
    fn inside_its_rows_a_table_is_the_sheets_own_word_on_every_edge() {
        for (degrees, due_s) in [(10.0, 2400.0), (20.0, 1200.0), (30.0, 600.0)] {
            for edge in [Edge::Bare, Edge::Min, Edge::Max] {
                let due = edge_due(&clock(table(), edge, None), &flat(degrees), 0.0, 1.0);
                assert!((due.at_s().unwrap() - due_s).abs() < 1e-6, "{degrees} °C: {due:?}");
            }
        }
    }

    #[test]
    fn a_table_is_carried_on_at_its_unsafe_end_and_held_at_the_other() {
        // it halves every 10 K: 0 °C twice the coldest row, 45 °C 0.3536 of the hottest
        let carried = 600.0 * 0.5f64.powf(1.5);
        let cases = [
            (Edge::Min, 0.0, 4800.0),
            (Edge::Bare, 0.0, 4800.0),
            (Edge::Max, 0.0, 2400.0),
            (Edge::Min, 45.0, 600.0),
            (Edge::Bare, 45.0, 600.0),
            (Edge::Max, 45.0, carried),
        ];
        for (edge, degrees, due_s) in cases {
            let due = edge_due(&clock(table(), edge, None), &flat(degrees), 0.0, 1.0);
            assert!((due.at_s().unwrap() - due_s).abs() < 1e-6, "{edge:?} {degrees}: {due:?}");
        }
    }

    #[test]
    fn a_stretch_that_ends_within_a_hair_of_a_row_is_passed_like_any_other() {
        let ramp = |to| AirTrack::new(vec![at(3.0, -22.719_422_418_805_134), at(69.0, to)]);
        let due = |to| edge_due(&clock(table(), Edge::Bare, None), &ramp(to), 300.0, 1.0).at_s();
        let (on, over) = (due(10.0).unwrap(), due(10.001).unwrap());
        assert!((on - over).abs() < 1.0, "{on} {over}");
    }

    #[test]
    fn a_lent_table_shortens_a_maximum_and_never_lengthens_it() {
        let lent = clock(table(), Edge::Max, None).by_lent_law();
        for (degrees, due_s) in [(0.0, STATED_S), (10.0, STATED_S), (20.0, 1200.0), (30.0, 600.0)] {
            let due = edge_due(&lent, &flat(degrees), 0.0, 1.0);
            assert!((due.at_s().unwrap() - due_s).abs() < 1e-6, "{degrees} °C: {due:?}");
        }
    }

    #[test]
    fn a_table_takes_the_shape_of_another_at_its_own_temperature() {
        let rows = vec![(celsius(10.0), 2400.0), (celsius(20.0), 1200.0), (celsius(30.0), 600.0)];
        let table = Table::new(rows).unwrap();
        let rows = |table: &Table| table.pairs().map(|(_, seconds)| seconds).collect::<Vec<_>>();
        let near = |found: Vec<f64>, wanted: [f64; 3]| {
            let far = found.iter().zip(wanted).find(|(a, b)| (*a - b).abs() > 1e-6);
            assert!(far.is_none(), "{found:?}");
        };
        near(rows(&table.shaped_to(3600.0, celsius(30.0)).unwrap()), [14400.0, 7200.0, 3600.0]);
        near(rows(&table.shaped_to(3600.0, celsius(0.0)).unwrap()), [1800.0, 900.0, 450.0]);
        // beyond its hottest row it is held, which makes the others no longer than the sheet's own
        near(rows(&table.shaped_to(600.0, celsius(40.0)).unwrap()), [2400.0, 1200.0, 600.0]);
        assert!(table.shaped_to(0.0, celsius(20.0)).is_err());
    }

    #[test]
    fn a_table_that_falls_towards_the_cold_is_not_carried_to_less_than_its_end() {
        let rows = vec![(celsius(10.0), 1200.0), (celsius(20.0), 2400.0)];
        let odd = Law::Table(Table::new(rows).unwrap());
        let due = edge_due(&clock(odd.clone(), Edge::Min, None), &flat(0.0), 0.0, 1.0);
        assert!((due.at_s().unwrap() - 1200.0).abs() < 1e-6);
        let due = edge_due(&clock(odd, Edge::Max, None), &flat(30.0), 0.0, 1.0);
        assert!((due.at_s().unwrap() - 2400.0).abs() < 1e-6);
    }

    #[test]
    fn a_cold_surface_slows_water_and_a_maximum_does_not_count_on_it() {
        let air = AirPoint::new(0.0, celsius(25.0), Some(Humidity::from_percent(50.0)));
        let over = |surface| AirPoint { surface: Some(celsius(surface)), ..air };
        let rate = |edge, air| clock(water(), edge, None).rate_in(&air);
        let warm = over(24.0);
        assert!((rate(Edge::Min, warm) - 1.0).abs() < 1e-12);
        // p_sat(17 °C) − p_v over p_sat(film) − p_v, by hand with the same saturation curve
        let cold = rate(Edge::Min, over(17.0));
        assert!((0.3..0.75).contains(&cold), "{cold}");
        assert!((rate(Edge::Bare, over(17.0)) - cold).abs() < 1e-12);
        assert!((rate(Edge::Max, over(17.0)) - 1.0).abs() < 1e-12);
        // 13.9 °C is the dew point of this air
        let wet = AirTrack::new(vec![over(13.0)]);
        let never = Due::Never(NeverBecause::SurfaceAtDewPoint);
        assert_eq!(edge_due(&clock(water(), Edge::Min, None), &wet, 0.0, 1.0), never);
    }

    #[test]
    fn the_first_rules_stop_only_warmth_hold_a_table_and_ask_no_surface() {
        let first = |law, edge, floor| clock(law, edge, floor).by_rules(Rules::FIRST);
        let due = |clock: RateClock, track: &AirTrack| edge_due(&clock, track, 0.0, 1.0);
        assert_eq!(due(first(Law::Steady, Edge::Min, Some(10.0)), &flat(5.0)), Due::At(STATED_S));
        assert_eq!(due(first(warmth(), Edge::Min, Some(10.0)), &flat(5.0)).at_s(), None);
        let held = due(first(table(), Edge::Min, None), &flat(0.0));
        assert!((held.at_s().unwrap() - 2400.0).abs() < 1e-6);
        let air = AirPoint::new(0.0, celsius(25.0), Some(Humidity::from_percent(50.0)));
        let over = AirPoint { surface: Some(celsius(17.0)), ..air };
        assert!((first(water(), Edge::Min, None).rate_in(&over) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn air_that_is_not_known_runs_at_the_stated_speed() {
        let clock = clock(warmth(), Edge::Max, Some(10.0));
        let due = edge_due(&clock, &AirTrack::default(), 60.0, 1.0);
        assert_eq!(due, Due::At(60.0 + STATED_S));
    }
}
