//! The cans: enough in them, in date. Nothing where the painter keeps none.

use crate::board::mixing::OnBench;
use crate::session::standing::Hold;
use crate::session::stock::{CanAhead, CanNow, past_cans};
use crate::work::system::Group;

use super::{Clears, Item, Look, ReadyLine, ReadyNow};

pub(super) fn lines(look: &Look<'_>) -> Vec<ReadyLine> {
    let mut lines: Vec<ReadyLine> = drawn_past(look);
    let ahead = look.mixing.filter(|mix| mix.layer == look.layer && mix.stands != OnBench::Mixed);
    lines.extend(ahead.iter().flat_map(|mix| &mix.cans).map(|can| line(look, can)));
    lines
}

fn line(look: &Look<'_>, ahead: &CanAhead) -> ReadyLine {
    let hold = || Hold::CanPast { can: ahead.can.clone() };
    let (now, clears, hold) = match ahead.now {
        CanNow::Enough => (ReadyNow::Clear, Clears::PickCan, None),
        CanNow::Short => (ReadyNow::Caution, Clears::PickCan, None),
        CanNow::NotKnown => (ReadyNow::NotKnown, Clears::PickCan, None),
        CanNow::Past => (ReadyNow::Hold, Clears::CanPast, Some(hold())),
    };
    let item = Item::Can(Box::new(ahead.clone()));
    let id = format!("can {}", ahead.component);
    ReadyLine::new(id, Group::Mix, item, now, clears).holding(hold, look.state)
}

/// Cans past their date from which the pot in use was drawn: gone past or not, they stay in sight.
fn drawn_past(look: &Look<'_>) -> Vec<ReadyLine> {
    let in_use = look.state.pot_in_use(look.layer);
    let mixing = in_use.and_then(|pot| look.state.mixing(&pot.id));
    let past = mixing.map(|mixing| past_cans(look.state, mixing)).unwrap_or_default();
    let line = |can: String| {
        let hold = Some(Hold::CanPast { can: can.clone() });
        let id = format!("drawn past {can}");
        let item = Item::DrawnPast { can };
        let line = ReadyLine::new(id, Group::Mix, item, ReadyNow::Hold, Clears::CanPast);
        line.holding(hold, look.state)
    };
    past.into_iter().map(line).collect()
}
