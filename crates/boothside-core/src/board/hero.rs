//! The clock that matters most: the big number.

use super::next::Next;
use crate::material::sheet::CureStage;
use crate::session::Session;
use crate::session::clocks::DueAt;
use crate::session::standing::{FaceNow, FaceStanding, PotNow, Standing, StepNow, condenses};
use crate::session::time::{Moment, Span};
use crate::session::watch::Watch;

/// What a clock is waited for.
#[derive(Debug, Clone, PartialEq)]
pub enum Waited {
    /// A look whether a face has dulled.
    Look {
        /// The face's number.
        face: usize,
    },
    /// A face may take the next coat.
    Opens {
        /// The face's number.
        face: usize,
    },
    /// The wipe on a face has flashed off.
    WipeDry {
        /// The face's number.
        face: usize,
    },
    /// A face is on the gun: its clock counts up.
    OnTheGun {
        /// The face's number.
        face: usize,
    },
    /// A face's window closes.
    Closes {
        /// The face's number.
        face: usize,
    },
    /// A face may be turned up.
    Turn {
        /// The face's number.
        face: usize,
    },
    /// A mixed pot has stood.
    Stand {
        /// Its letter.
        pot: String,
    },
    /// A pot's last trigger.
    LastTrigger {
        /// Its letter.
        pot: String,
    },
    /// The wait after a step.
    AfterStep {
        /// Its id.
        step: String,
    },
    /// A stage of cure that must come before a step.
    StageBeforeStep {
        /// Its id.
        step: String,
    },
    /// Water condenses on the part, and a reading clears that.
    Condensing,
    /// A part comes to hang: none does.
    ToHang {
        /// The first layer that a face which is away lacks, counted from 1.
        layer: u32,
    },
    /// A face that is away gets its coats.
    Away {
        /// The face's number.
        face: usize,
    },
    /// A stage of cure on every face.
    Cure {
        /// The stage.
        stage: CureStage,
    },
}

/// The clock that matters most.
#[derive(Debug, Clone, PartialEq)]
pub struct Hero {
    /// What it is the clock of.
    pub what: Waited,
    /// When it is due; for a face on the gun, when it was begun.
    pub at: Moment,
    /// Whether it is due now and calls for the painter.
    pub due: bool,
}

/// While there is something to do, an edge further away than this is no headline.
const NEAR: Span = Span::from_minutes(30);

/// Picks it: what is due first, then water that condenses where that stops the work, then the edge that comes first. While there is something to do
/// (an action comes next), only an edge that is near, else the face on the gun, else nothing: the work itself
/// is the headline then.
pub(super) fn hero(
    session: &Session,
    standing: &Standing,
    next: &Next,
    watch: &Watch,
) -> Option<Hero> {
    let busy = next.is_action();
    due_now(session, standing)
        .or_else(|| wet(session, standing, next, watch))
        .or_else(|| first_edge(session, standing, busy, watch))
        .or_else(|| on_the_gun(standing))
}

/// Water condenses, and the work stands for that.
fn wet(session: &Session, standing: &Standing, next: &Next, watch: &Watch) -> Option<Hero> {
    let stands = matches!(next, Next::Reading | Next::Wait { what: Waited::Condensing, .. });
    let state = session.state();
    let wet = stands && condenses(state, standing.layer?, watch);
    let at = state.readings.last()?.at;
    wet.then_some(Hero { what: Waited::Condensing, at, due: true })
}

fn on_the_gun(standing: &Standing) -> Option<Hero> {
    let face = standing.on_the_gun()?;
    let at = standing.faces[face].begun?;
    Some(Hero { what: Waited::OnTheGun { face }, at, due: false })
}

fn first_edge(session: &Session, standing: &Standing, busy: bool, watch: &Watch) -> Option<Hero> {
    let mut edges = face_edges(standing);
    edges.extend(pot_edges(session, standing));
    edges.extend(step_edges(standing));
    if standing.layer.is_none() {
        edges.extend(cure_edges(standing));
    }
    // the first edge still to come; `reached` also tells the board when this choice changes
    let coming = edges.into_iter().filter(|(_, at)| !watch.reached(*at));
    let (what, at) = coming.min_by_key(|(_, at)| *at)?;
    let shown = !busy || watch.reached(at.minus(NEAR));
    shown.then_some(Hero { what, at, due: false })
}

fn due_now(session: &Session, standing: &Standing) -> Option<Hero> {
    let in_gun = session.state().gun.as_ref().and_then(|pot| standing.pot(pot));
    let over = in_gun.filter(|pot| matches!(pot.now, PotNow::StopAndClean | PotNow::Dead));
    let pot = over.and_then(|pot| {
        let what = Waited::LastTrigger { pot: pot.id.clone() };
        Some(Hero { what, at: pot.last_trigger?, due: true })
    });
    pot.or_else(|| {
        let looks = standing.faces.iter().enumerate().filter(|(_, face)| face.now == FaceNow::Look);
        let due = looks.filter_map(|(face, at)| Some((at.look?.moment()?, face)));
        due.min().map(|(at, face)| Hero { what: Waited::Look { face }, at, due: true })
    })
}

type Edges = Vec<(Waited, Moment)>;

fn face_edges(standing: &Standing) -> Edges {
    let edge = |(face, at): (usize, &FaceStanding)| {
        let moment = at.until.and_then(DueAt::moment);
        match at.now {
            _ if at.turn.is_some() => {
                Some((Waited::Turn { face }, at.turn.and_then(|turn| turn.ready)?))
            }
            FaceNow::Flashing | FaceNow::LayerDone => Some((waited_for(face, at), moment?)),
            FaceNow::Open | FaceNow::Closing | FaceNow::Wipe => {
                Some((Waited::Closes { face }, moment?))
            }
            _ => None,
        }
    };
    standing.faces.iter().enumerate().filter_map(edge).collect()
}

/// Only a pot that is still wanted: of the layer in work, or in the gun.
fn pot_edges(session: &Session, standing: &Standing) -> Edges {
    let edge = |pot: &crate::session::standing::PotStanding| {
        let id = pot.id.clone();
        match pot.now {
            PotNow::Standing => Some((Waited::Stand { pot: id }, pot.stands_until?.moment()?)),
            PotNow::Good => Some((Waited::LastTrigger { pot: id }, pot.last_trigger?)),
            _ => None,
        }
    };
    let wanted = |pot: &&crate::session::standing::PotStanding| {
        let in_the_gun = session.state().gun.as_ref() == Some(&pot.id);
        in_the_gun || standing.layer == Some(pot.layer)
    };
    standing.pots.iter().filter(wanted).filter_map(edge).collect()
}

fn step_edges(standing: &Standing) -> Edges {
    let edge = |step: &crate::session::standing::StepStanding| {
        let id = step.id.clone();
        match step.now {
            StepNow::Waiting => Some((Waited::AfterStep { step: id }, step.wait?.moment()?)),
            StepNow::NotYet => Some((Waited::StageBeforeStep { step: id }, step.not_before?)),
            _ => None,
        }
    };
    standing.steps.iter().filter_map(edge).collect()
}

fn cure_edges(standing: &Standing) -> Edges {
    let hanging = standing.faces.iter().filter(|face| !face.now.is_absent());
    let cures = hanging.flat_map(|face| &face.cure);
    let mut latest: Vec<(CureStage, Moment)> = Vec::new();
    for cure in cures {
        let Some(at) = cure.due.moment() else {
            continue;
        };
        match latest.iter_mut().find(|(stage, _)| *stage == cure.stage) {
            Some((_, last)) => *last = at.max(*last),
            None => latest.push((cure.stage, at)),
        }
    }
    latest.into_iter().map(|(stage, at)| (Waited::Cure { stage }, at)).collect()
}

/// What a face that takes no coat yet waits for.
pub(super) fn waited_for(face: usize, at: &FaceStanding) -> Waited {
    if at.turn.is_some() {
        Waited::Turn { face }
    } else if at.wipe_flashes {
        Waited::WipeDry { face }
    } else if at.look.is_some() && at.until == at.look.map(|look| look.at) {
        Waited::Look { face }
    } else {
        Waited::Opens { face }
    }
}
