//! Air, part and paint against the sheet.

use crate::material::sheet::{CureStage, Sheet};
use crate::session::standing::{AirLimit, Hold, air_holds, is_less};
use crate::session::time::Span;
use crate::work::system::Group;

use super::{Clears, InRange, Item, Look, ReadyLine, ReadyNow};

pub(super) fn lines(look: &Look<'_>) -> Vec<ReadyLine> {
    let holds = Holds { look, holds: air_holds(look.state, look.layer, look.watch) };
    let limits = look.state.sheet(look.layer).map(|sheet| sheet.limits).unwrap_or_default();
    let reading = look.air.reading.unwrap_or_default();
    let range = |read, min: Option<f64>, max: Option<f64>, rule: Option<(f64, f64)>| {
        let general = rule.filter(|_| min.is_none() && max.is_none());
        InRange { read, min, max, general }
    };
    let warmest = look.air.warmest_c.or(reading.surface_c);
    let (_, general_max) = GENERAL_C;
    let most = limits.max_c.or(limits.min_c.is_none().then_some(general_max));
    let too_warm = warmest.zip(most).is_some_and(|(read, max)| is_less(max, read));
    let surface = if too_warm { warmest } else { reading.surface_c };
    let temperature = |read| range(read, limits.min_c, limits.max_c, Some(GENERAL_C));
    let paint = range(look.air.paint_c, limits.paint_min_c, limits.paint_max_c, None);
    let (min, max) = (limits.min_pct, limits.max_pct);
    let humidity = range(reading.humidity_pct, min, max, Some(GENERAL_PCT));
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

/// Air and part, and humidity, where a sheet sets none: a general rule, TM
/// 55-1500-345-23.
const GENERAL_C: (f64, f64) = (10.0, 32.0);
const GENERAL_PCT: (f64, f64) = (40.0, 75.0);

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
            Some(read) if range.min.is_some_and(|min| is_less(read, min)) => Some(low),
            Some(read) if range.max.is_some_and(|max| is_less(max, read)) => Some(high),
            _ => None,
        };
        let past_general = |read: f64| {
            range.general.is_some_and(|(low, high)| is_less(read, low) || is_less(high, read))
        };
        let (now, clears) = match (range.read, passed) {
            (None, _) => (ReadyNow::NotKnown, Clears::Reading),
            (_, Some(_)) => (ReadyNow::Hold, Clears::ChangeAir),
            (Some(read), None) if past_general(read) => (ReadyNow::Caution, Clears::Figure),
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
    let enough = |over_k: f64| !is_less(over_k, air.margin_rule.wanted_k());
    let surely = air.margin_over_k.is_some_and(enough);
    let (now, clears) = match (air.margin_k, &hold) {
        (None, _) if surely && air.margin_of_surface => (ReadyNow::Clear, Clears::Nothing),
        (None, _) if surely => (ReadyNow::Caution, Clears::Reading),
        (None, _) => (ReadyNow::NotKnown, Clears::Reading),
        (Some(_), Some(_)) => (ReadyNow::Hold, Clears::ChangeAir),
        // over the air's temperature: the part itself may be colder
        (Some(_), None) if !air.margin_of_surface => (ReadyNow::Caution, Clears::Reading),
        (Some(_), None) => (ReadyNow::Clear, Clears::Nothing),
    };
    let item = Item::DewMargin {
        margin_k: air.margin_k,
        over_k: air.margin_over_k,
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
