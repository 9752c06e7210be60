//! Air, part and paint against the sheet.

use crate::material::sheet::{CureStage, Sheet};
use crate::session::standing::{AirLimit, Hold, air_holds};
use crate::session::time::Span;
use crate::work::system::Group;

use super::{Clears, InRange, Item, Look, ReadyLine, ReadyNow};

pub(super) fn lines(look: &Look<'_>) -> Vec<ReadyLine> {
    let holds = Holds { look, holds: air_holds(look.state, look.layer, look.watch) };
    let limits = look.state.sheet(look.layer).map(|sheet| sheet.limits).unwrap_or_default();
    let reading = look.air.reading.unwrap_or_default();
    let range = |read, min, max| InRange { read, min, max };
    let warmest = look.air.warmest_c.or(reading.surface_c);
    let too_warm = warmest.zip(limits.max_c).is_some_and(|(read, max)| read > max);
    let surface = if too_warm { warmest } else { reading.surface_c };
    let temperature = |read| range(read, limits.min_c, limits.max_c);
    let paint = range(look.air.paint_c, limits.paint_min_c, limits.paint_max_c);
    let humidity = range(reading.humidity_pct, limits.min_pct, limits.max_pct);
    vec![
        age(look),
        holds.ranged("air", Item::AirTemperature, temperature(reading.air_c), WARMTH),
        holds.ranged("surface", Item::SurfaceTemperature, temperature(surface), WARMTH),
        holds.ranged("humidity", Item::Humidity, humidity, DAMP),
        margin(look, &holds),
        trend(look, &holds),
        holds.ranged("paint", Item::PaintTemperature, paint, PAINT),
    ]
}

const WARMTH: (AirLimit, AirLimit) = (AirLimit::Cold, AirLimit::Warm);
const DAMP: (AirLimit, AirLimit) = (AirLimit::Dry, AirLimit::Humid);
const PAINT: (AirLimit, AirLimit) = (AirLimit::PaintCold, AirLimit::PaintWarm);

fn age(look: &Look<'_>) -> ReadyLine {
    let (now, clears) = match (look.air.taken, look.air.stale) {
        (None, _) => (ReadyNow::NotKnown, Clears::Reading),
        (Some(_), true) => (ReadyNow::Caution, Clears::Reading),
        (Some(_), false) => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::ReadingAge { taken: look.air.taken };
    ReadyLine::new("reading", Group::Air, item, now, clears)
}

struct Holds<'a> {
    look: &'a Look<'a>,
    holds: Vec<Hold>,
}

impl Holds<'_> {
    fn of(&self, wanted: AirLimit) -> Option<Hold> {
        let fits = |hold: &&Hold| matches!(hold, Hold::Air { limit, .. } if *limit == wanted);
        self.holds.iter().find(fits).cloned()
    }

    fn ranged(
        &self,
        id: &str,
        item: impl Fn(InRange) -> Item,
        range: InRange,
        (low, high): (AirLimit, AirLimit),
    ) -> ReadyLine {
        let passed = match range.read {
            Some(read) if range.min.is_some_and(|min| read < min) => Some(low),
            Some(read) if range.max.is_some_and(|max| read > max) => Some(high),
            _ => None,
        };
        let (now, clears) = match (range.read, passed) {
            (None, _) => (ReadyNow::NotKnown, Clears::Reading),
            (_, Some(_)) => (ReadyNow::Hold, Clears::ChangeAir),
            (Some(_), None) if range.min.is_none() && range.max.is_none() => {
                (ReadyNow::NotKnown, Clears::Figure)
            }
            (Some(_), None) => (ReadyNow::Clear, Clears::Nothing),
        };
        let line = ReadyLine::new(id, Group::Air, item(range), now, clears);
        line.holding(passed.and_then(|limit| self.of(limit)), self.look.state)
    }
}

fn margin(look: &Look<'_>, holds: &Holds<'_>) -> ReadyLine {
    let air = look.air;
    let hold = holds.of(AirLimit::DewPoint);
    let (now, clears) = match (air.margin_k, &hold) {
        (None, _) => (ReadyNow::NotKnown, Clears::Reading),
        (Some(_), Some(_)) => (ReadyNow::Hold, Clears::ChangeAir),
        // over the air's temperature: the part itself may be colder
        (Some(_), None) if !air.margin_of_surface => (ReadyNow::Caution, Clears::Reading),
        (Some(_), None) => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::DewMargin {
        margin_k: air.margin_k,
        rule: air.margin_rule,
        of_surface: air.margin_of_surface,
        rising: air.margin_rising,
    };
    ReadyLine::new("dew margin", Group::Air, item, now, clears).holding(hold, look.state)
}

/// The margin must hold until the film is dry, not only while it is sprayed.
fn trend(look: &Look<'_>, holds: &Holds<'_>) -> ReadyLine {
    let film_dry = look.state.sheet(look.layer).map(film_dry);
    let trend = look.air.margin_trend;
    let breaks = trend.and_then(|trend| trend.breaks);
    let soon = breaks.is_some_and(|(at, give_or_take)| {
        let earliest = at.minus(give_or_take);
        look.watch.reached(earliest.minus(film_dry.unwrap_or_default()))
    });
    let broken = holds.of(AirLimit::DewPoint).is_some();
    let (now, clears) = match trend {
        None => (ReadyNow::NotKnown, Clears::Reading),
        Some(_) if soon || broken => (ReadyNow::Caution, Clears::ChangeAir),
        Some(_) => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::MarginTrend { trend, film_dry };
    ReadyLine::new("dew margin trend", Group::Air, item, now, clears)
}

/// How long a coat stays open to damp, as far as the sheet says: until dust no longer sticks, and
/// at least until the next coat may go on.
fn film_dry(sheet: &Sheet) -> Span {
    let dust_free = sheet.cure_after(CureStage::DustFree).map_or(0.0, |after| after.upper_s());
    Span::from_seconds(sheet.between_coats.earliest.upper_s().max(dust_free))
}
