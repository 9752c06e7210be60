//! What takes a key: the system's checks, the cartridges' hours, the counts; and the cautions that
//! no key clears.

use crate::material::sheet::{Carrier, Hazard};
use crate::session::event::Way;
use crate::session::standing::{
    Hold, Someone, Wanting, answered, cartridge_hold, cartridge_hours, masks_hold,
};
use crate::work::system::{Check, Group};

use super::{Clears, Item, Look, ReadyLine, ReadyNow, Warning};

/// The system's checks of the layer and of the coat.
pub(super) fn checks(look: &Look<'_>) -> Vec<ReadyLine> {
    let planned = look.state.layer(look.layer).map_or(&[][..], |layer| &layer.ready);
    planned.iter().map(|check| check_line(look, check)).collect()
}

fn check_line(look: &Look<'_>, check: &Check) -> ReadyLine {
    let coat = check.kept_under(look.coat);
    let key = (look.layer, coat, check.id.clone());
    let said = answered(look.state, check, (look.layer, coat), look.watch).map(|passed| passed.at);
    let (now, clears) = if said.is_some() {
        (ReadyNow::Said, Clears::Nothing)
    } else {
        (ReadyNow::NotKnown, Clears::Answer)
    };
    let (layer, coat, check_id) = key;
    let item = Item::Check { layer, coat, check: check_id.clone() };
    let hold = Hold::Wanting(Wanting::Check { layer, coat, check: check_id });
    let hold = Some(hold).filter(|_| now != ReadyNow::Said);
    let id = format!("check {}", check.id);
    let line = ReadyLine::new(id, check.belongs_to(), item, now, clears).said_at(said);
    line.holding(hold, look.state)
}

/// Whether somebody knows that the painter works alone: the painter's word, for this sitting. Its lack
/// holds no coat; what was gone past stays in sight.
pub(super) fn someone(look: &Look<'_>) -> ReadyLine {
    let Someone { told, past } = Someone::asked(look.state, look.watch);
    let (now, clears) = match told {
        Some(_) => (ReadyNow::Said, Clears::Nothing),
        None => (ReadyNow::NotKnown, Clears::Answer),
    };
    let hold = Hold::Wanting(Wanting::SomeoneKnows);
    let hold = Some(hold).filter(|_| told.is_none() && past);
    let line = ReadyLine::new("someone", Group::Protection, Item::SomeoneKnows, now, clears);
    line.said_at(told).holding(hold, look.state)
}

/// The cautions of the sheet, and the cartridges.
pub(super) fn protection(look: &Look<'_>) -> Vec<ReadyLine> {
    let Some(sheet) = look.state.sheet(look.layer) else { return Vec::new() };
    let water = (sheet.carrier == Carrier::Water).then_some(Warning::Waterborne);
    let warnings = sheet.hazards.iter().copied().map(Warning::Of).chain(water);
    let mut lines: Vec<ReadyLine> = warnings.map(caution).collect();
    lines.push(cartridges(look));
    lines
}

fn caution(warning: Warning) -> ReadyLine {
    let (id, group) = match warning {
        Warning::Of(Hazard::Isocyanate) => ("isocyanate", Group::Protection),
        Warning::Of(Hazard::Chromate) => ("chromate", Group::Protection),
        Warning::Of(Hazard::Flammable) => ("flammable", Group::Booth),
        Warning::Waterborne => ("waterborne", Group::Protection),
    };
    let item = Item::Hazard(warning);
    ReadyLine::new(id, group, item, ReadyNow::Caution, Clears::SafetySheet)
}

fn cartridges(look: &Look<'_>) -> ReadyLine {
    let used_h = cartridge_hours(look.state);
    let change_h = look.state.work.shop.cartridge_h;
    let hold = cartridge_hold(look.state);
    let (now, clears) = match (used_h, change_h, &hold) {
        (None, ..) => (ReadyNow::NotKnown, Clears::Hours),
        (_, _, Some(_)) => (ReadyNow::Hold, Clears::ChangeCartridges),
        (_, None, None) => (ReadyNow::NotKnown, Clears::Figure),
        // the painter's hours against the painter's schedule: what that is worth nobody here can tell
        (_, Some(_), None) => (ReadyNow::Said, Clears::Nothing),
    };
    let item = Item::Cartridges { used_h, change_h };
    let told = look.state.cartridges.map(|(_, told)| told);
    let line = ReadyLine::new("cartridges", Group::Protection, item, now, clears).said_at(told);
    line.holding(hold, look.state)
}

/// Plugs and masks: counted in before spraying, out before closing.
pub(super) fn masks(look: &Look<'_>) -> ReadyLine {
    let masks = look.state.masks;
    let way = if look.standing.layer.is_some() { Way::In } else { Way::Out };
    let hold = masks_hold(look.state).filter(|_| way == Way::Out);
    let now = match (way, masks.on, masks.agree()) {
        (_, None, _) => ReadyNow::NotKnown,
        (Way::In, Some(_), _) => ReadyNow::Said,
        // two counts of one hand, compared
        (Way::Out, _, Some(true)) => ReadyNow::Clear,
        (Way::Out, ..) => ReadyNow::Hold,
    };
    let clears = match now {
        ReadyNow::Clear | ReadyNow::Said => Clears::Nothing,
        // what was never counted in cannot be counted out: it is looked for
        _ => Clears::Count(way),
    };
    let number = |count: Option<(u32, crate::session::time::Moment)>| count.map(|(n, _)| n);
    let item = Item::Masks { way, counted_in: number(masks.on), counted_out: number(masks.off) };
    let counted = masks.on.map(|(_, at)| at);
    let line = ReadyLine::new("masks", Group::PlugsAndMasks, item, now, clears).said_at(counted);
    line.holding(hold, look.state)
}
