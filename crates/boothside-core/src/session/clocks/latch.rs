//! What was announced stays announced.
//!
//! An edge was announced when, by the readings known until then, it was reached before the next
//! reading was entered. No later reading takes that back. So the first edge stands that was reached in
//! time, in the order in which the readings were entered. A start that was told late announced nothing
//! before it was told.

use super::due::Kind;
use super::tables::Table;
use crate::physics::rate::{self, Edge};
use crate::session::time::{Moment, Span};

/// One running clock.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run {
    pub(super) kind: Kind,
    pub(super) start: Moment,
    /// When the start was told: nothing was announced before.
    pub(super) known: Moment,
    /// How much progress it needs: above 0.
    pub(super) factor: f64,
    /// How long before it is due it is announced.
    pub(super) lead: Span,
}

/// The due time of a clock, and what all the readings make of it where it was announced before the last
/// of them arrived.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Latched {
    pub(super) due: rate::Due,
    pub(super) recomputed: Option<rate::Due>,
}

/// The due time of `run`. What was known after an arrival is looked at only where the table says that
/// the edge may have been shown before the next one.
pub(super) fn latched(run: &Run, table: &mut Table<'_>) -> Latched {
    let mut arrived = table.arrived_by(run.known);
    let stated = stated_shown(run, table);
    if table.clock().edge() == Edge::Min {
        // not before its stated time either
        arrived = arrived.max(stated.map_or(0, |moment| table.arrived_before(moment)));
    }
    while let Some(candidate) = next_candidate(run, table, arrived, stated) {
        let due = edge_due(run, table, candidate);
        let next = table.arrival_after(candidate);
        if next.is_some_and(|next| is_shown_by(run, due, next)) {
            return Latched { due, recomputed: Some(edge_due(run, table, table.arrivals())) };
        }
        arrived = candidate + 1;
    }
    Latched { due: edge_due(run, table, table.arrivals()), recomputed: None }
}

/// From when on the stated duration alone may have been shown, where it bounds the edge.
fn stated_shown(run: &Run, table: &Table<'_>) -> Option<Moment> {
    let clock = table.clock();
    clock.heeds_stated().then(|| {
        let stated_s = run.start.seconds() + clock.duration_s();
        Moment::from_seconds_down(stated_s).minus(run.lead).minus(super::tables::ROUNDED)
    })
}

/// The least number of arrivals, `arrived` or more, after which the edge may have been shown before the
/// next one.
fn next_candidate(
    run: &Run,
    table: &mut Table<'_>,
    arrived: usize,
    stated: Option<Moment>,
) -> Option<usize> {
    let by_integral = table.may_be_shown(run, arrived);
    if table.clock().edge() != Edge::Max {
        return by_integral;
    }
    // a maximum is over with its stated time, whatever the integral
    let by_stated = stated.map(|moment| table.arrived_before(moment).max(arrived));
    let by_stated = by_stated.filter(|arrived| *arrived < table.arrivals());
    [by_integral, by_stated].into_iter().flatten().min()
}

/// The edge by what was known after `arrived` arrivals.
fn edge_due(run: &Run, table: &Table<'_>, arrived: usize) -> rate::Due {
    let integral = table.due(arrived, run.start.seconds(), run.factor);
    table.clock().edge_after(run.start.seconds(), integral)
}

/// Whether the screen showed the edge by `moment`: to its own millisecond, as the screen has it.
fn is_shown_by(run: &Run, due: rate::Due, moment: Moment) -> bool {
    run.kind.due_at(due).moment().is_some_and(|at| at.minus(run.lead) <= moment)
}
