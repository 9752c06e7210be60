//! The clock that matters most: the big number.

use super::asks::Stop;
use super::next::Next;
use crate::material::sheet::CureStage;
use crate::session::Session;
use crate::session::clocks::DueAt;
use crate::session::standing::{FaceNow, FaceStanding, PotNow, Standing, StepNow};
use crate::session::time::Moment;
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
    /// The fan is off with a face on the gun.
    FanOff,
    /// The painter comes back to work: counts up since the interruption.
    Back,
    /// A pot is mixed, so that it has stood when it is needed.
    PotTime {
        /// For which layer, counted from 1.
        layer: u32,
    },
    /// Faces are wiped for a layer.
    WipeTime {
        /// The layer, counted from 1.
        layer: u32,
    },
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

/// The clock of the large letters: what stops the work, the face on the gun, a look, or what is waited
/// for. While something is to be done that has no clock, there is none.
pub(super) fn hero(
    session: &Session,
    standing: &Standing,
    (next, stop): (&Next, Option<&Stop>),
) -> Option<Hero> {
    let running = |what: Waited, at: Moment| Some(Hero { what, at, due: false });
    if let Some(stop) = stop {
        return stopped(standing, stop);
    }
    match next {
        Next::CoatOn { face, .. } => {
            running(Waited::OnTheGun { face: *face }, standing.faces[*face].begun?)
        }
        Next::Dulled { face } => {
            let at = standing.faces[*face].look.and_then(|look| look.moment())?;
            Some(Hero { what: Waited::Look { face: *face }, at, due: true })
        }
        Next::Resume => running(Waited::Back, session.state().paused.as_ref()?.0),
        Next::Wait { what, until: Some(DueAt::At(at)) } => running(what.clone(), *at),
        _ => None,
    }
}

fn stopped(standing: &Standing, stop: &Stop) -> Option<Hero> {
    let (what, at) = match stop {
        Stop::Clean { pot, .. } => {
            (Waited::LastTrigger { pot: pot.clone() }, standing.pot(pot)?.last_trigger?)
        }
        Stop::FanOff { since } => (Waited::FanOff, *since),
        Stop::Condensing { read } => (Waited::Condensing, *read),
        Stop::Closes { face, at } => (Waited::Closes { face: *face }, *at),
    };
    Some(Hero { what, at, due: true })
}

/// The soonest other clock: a look that is due and waits, else the first edge still to come.
pub(super) fn soonest(
    session: &Session,
    standing: &Standing,
    hero: Option<&Hero>,
    watch: &Watch,
) -> Option<Hero> {
    let shown = |what: &Waited| hero.is_some_and(|hero| hero.what == *what);
    let looks = standing.faces.iter().enumerate().filter(|(_, face)| face.now == FaceNow::Look);
    let looks = looks.filter_map(|(face, at)| Some((Waited::Look { face }, at.look?.moment()?)));
    let due = looks.filter(|(what, _)| !shown(what)).min_by_key(|(_, at)| *at);
    if let Some((what, at)) = due {
        return Some(Hero { what, at, due: true });
    }
    let mut edges = face_edges(standing);
    edges.extend(pot_edges(session, standing));
    edges.extend(step_edges(standing));
    if standing.layer.is_none() {
        edges.extend(cure_edges(standing));
    }
    // `reached` also tells the board when this choice changes
    let coming = edges.into_iter().filter(|(what, at)| !shown(what) && !watch.reached(*at));
    let (what, at) = coming.min_by_key(|(_, at)| *at)?;
    Some(Hero { what, at, due: false })
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
    let edges = |pot: &crate::session::standing::PotStanding| {
        let stands = pot.stands_until.and_then(|due| due.moment());
        let stands = stands.filter(|_| pot.now == PotNow::Standing);
        let usable = matches!(pot.now, PotNow::Standing | PotNow::Good);
        let last = pot.last_trigger.filter(|_| usable);
        let stands = stands.map(|at| (Waited::Stand { pot: pot.id.clone() }, at));
        let last = last.map(|at| (Waited::LastTrigger { pot: pot.id.clone() }, at));
        stands.into_iter().chain(last).collect::<Edges>()
    };
    let wanted = |pot: &&crate::session::standing::PotStanding| {
        let in_the_gun = session.state().gun.as_ref() == Some(&pot.id);
        in_the_gun || standing.layer == Some(pot.layer)
    };
    standing.pots.iter().filter(wanted).flat_map(edges).collect()
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
