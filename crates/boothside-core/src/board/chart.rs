//! What the air did since the sitting began: temperatures at each reading, and how fast the clocks
//! ran in it.

use crate::session::clocks::{Kind, rates};
use crate::session::event::Reading;
use crate::session::standing::{OVERNIGHT, dew_point_c};
use crate::session::time::Moment;
use crate::session::{Session, State, Taken};

/// Which clock's speed is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clocked {
    /// The flash of a coat.
    Flash,
    /// The life of the pot.
    PotLife,
    /// The wait for the next layer.
    NextLayer,
}

/// Points of a line: when, and the value.
pub type Points = Vec<(Moment, f64)>;

/// Since the sitting began.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct AirChart {
    /// When the sitting began.
    pub from: Moment,
    /// Air, °C.
    pub air_c: Points,
    /// Coldest surface, read or carried, °C.
    pub surface_c: Points,
    /// Dew point, °C.
    pub dew_point_c: Points,
    /// Speeds of the clocks that follow the air: 1 is the sheet's.
    pub speeds: Vec<(Clocked, Points)>,
}

/// The chart of a session.
#[must_use]
pub fn air_chart(session: &Session) -> AirChart {
    let state = session.state();
    let from = sitting_began(session);
    let mut chart = AirChart { from, ..AirChart::default() };
    for (at, taken) in state.readings.iter().enumerate() {
        if taken.at >= from {
            chart.add(state.readings.air_after(at + 1), taken);
        }
    }
    chart.speeds = speeds(state, from);
    chart
}

impl AirChart {
    fn add(&mut self, air: Option<Reading>, taken: &Taken) {
        let Some(reading) = air else { return };
        let mut put = |points: fn(&mut Self) -> &mut Points, value: Option<f64>| {
            if let Some(value) = value {
                points(self).push((taken.at, value));
            }
        };
        put(|chart| &mut chart.air_c, reading.air_c);
        put(|chart| &mut chart.surface_c, reading.surface_c);
        put(|chart| &mut chart.dew_point_c, dew_point_c(&reading));
    }

    /// The lowest and highest temperature on it, °C.
    #[must_use]
    pub fn temperatures(&self) -> Option<(f64, f64)> {
        let lines = [&self.air_c, &self.surface_c, &self.dew_point_c];
        span(lines.into_iter().flatten().map(|(_, value)| *value))
    }

    /// The lowest and highest speed on it.
    #[must_use]
    pub fn speed_span(&self) -> Option<(f64, f64)> {
        span(self.speeds.iter().flat_map(|(_, points)| points).map(|(_, value)| *value))
    }
}

fn span(values: impl Iterator<Item = f64> + Clone) -> Option<(f64, f64)> {
    let low = values.clone().min_by(f64::total_cmp)?;
    Some((low, values.max_by(f64::total_cmp)?))
}

/// When the present stay in the shop began: the first entry after the last break of eight hours,
/// else the opening.
fn sitting_began(session: &Session) -> Moment {
    let told = session.entries().iter().map(|entry| entry.t_ms);
    let pairs = told.clone().zip(told.skip(1));
    let breaks = pairs.filter(|(before, after)| after.since(*before) >= OVERNIGHT);
    breaks.map(|(_, after)| after).next_back().unwrap_or(Moment::OPENING)
}

fn speeds(state: &State, from: Moment) -> Vec<(Clocked, Points)> {
    let layer = state.layer_in_work().unwrap_or_else(|| state.layer_count());
    let Some(sheet) = state.sheet(layer) else { return Vec::new() };
    let eye = sheet.between_coats.dulls.as_ref().unwrap_or(&sheet.between_coats.earliest);
    let clocks = [
        (Clocked::Flash, Some((eye, Kind::Eye))),
        (Clocked::PotLife, sheet.pot_life.as_ref().map(|pot| (&pot.life, Kind::PotLife))),
        (
            Clocked::NextLayer,
            sheet.to_next_layer.as_ref().map(|gap| (&gap.earliest, Kind::Minimum)),
        ),
    ];
    let lines = clocks.into_iter().filter_map(|(clock, timing)| {
        let (timing, kind) = timing?;
        let mut points = rates(timing, kind, state.by());
        points.retain(|(at, _)| *at >= from);
        (!points.is_empty()).then_some((clock, points))
    });
    lines.collect()
}
