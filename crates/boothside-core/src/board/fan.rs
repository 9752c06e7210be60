//! How long the fan is to run once the last coat is on: a calculation, which proves no air.

use super::booth::{Lacks, purge};
use crate::session::clocks::DueAt;
use crate::session::standing::{Standing, last_flash};
use crate::session::watch::Watch;
use crate::session::{Session, State};

/// How long the fan is to run.
#[derive(Debug, Clone, PartialEq)]
pub struct FanOn {
    /// The purge of the booth, counted from the end of the last flash: until then wet film gives off
    /// vapour. Else what it lacks.
    pub until: Result<DueAt, Vec<Lacks>>,
    /// Whether that time is over.
    pub over: bool,
}

/// How long the fan is to run; nothing while a coat is to come, for that asks for the fan itself.
pub(super) fn fan_on(session: &Session, standing: &Standing, watch: &Watch) -> Option<FanOn> {
    let state: &State = session.state();
    if standing.layer.is_some() {
        return None;
    }
    let flash = last_flash(state)?;
    let until = purge(&state.work.shop).map(|purge| match flash {
        DueAt::At(end) => DueAt::At(end.plus(purge)),
        never @ DueAt::Never(_) => never,
    });
    let end = until.as_ref().ok().and_then(|until| until.moment());
    Some(FanOn { over: end.is_some_and(|end| watch.reached(end)), until })
}
