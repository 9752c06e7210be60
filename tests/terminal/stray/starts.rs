//! Where a case begins: played once, opened anew for each case.

use std::sync::LazyLock;

use boothside::example::example;
use boothside::update::at_hand::AtHand;
use boothside::update::desk::{Desk, Now, Pressed};
use boothside::update::scene::Rehearsal;
use boothside_core::board::{Next, Stage};
use boothside_core::session::entry::Entry;
use boothside_core::session::standing::{FaceNow, PotNow};
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Session, set_figure};

use crate::hang::fairing;
use crate::play::on_until;
use crate::rig::{Rig, Wall, first_entry};

/// What a state is called, and how it is known from outside.
pub(crate) type State = (&'static str, fn(&Rig) -> bool);

/// The states in which a stray key does the most harm.
pub(crate) const STATES: [State; 7] = [
    ("all faces too early", all_too_early),
    ("mid-coat", mid_coat),
    ("pot dead", pot_dead),
    ("sand", sand),
    ("night past", night_past),
    ("form open", |rig| rig.scene().form.is_some()),
    ("Book part joined", |rig| !rig.desk.session().state().joined.is_empty()),
];

fn all_too_early(rig: &Rig) -> bool {
    let mut faces = rig.desk.board().faces.iter().filter(|face| !face.at.now.is_absent());
    faces.all(|face| matches!(face.at.now, FaceNow::Flashing | FaceNow::LayerDone))
}

fn mid_coat(rig: &Rig) -> bool {
    let faces = &rig.desk.board().faces;
    let any = |now| faces.iter().any(|face| face.at.now == now);
    any(FaceNow::OnTheGun) && any(FaceNow::Bare)
}

fn pot_dead(rig: &Rig) -> bool {
    rig.desk.board().pots.iter().any(|pot| pot.at.now == PotNow::Dead)
}

fn sand(rig: &Rig) -> bool {
    rig.desk.board().faces.iter().any(|face| face.at.now == FaceNow::Sand)
}

/// A coat is on, and the last key is more than eight hours ago.
fn night_past(rig: &Rig) -> bool {
    let session = rig.desk.session();
    let on = session.state().faces.iter().any(|face| face.last_on().is_some());
    let last = boothside_core::session::last_key(session).and_then(|n| session.entry(n));
    on && last.is_some_and(|last| rig.t.since(last.t_ms) > Span::from_hours(8))
}

/// A session at a moment.
struct Base {
    entries: Vec<Entry>,
    t: Moment,
}

impl Base {
    fn of(rig: &Rig) -> Self {
        Self { entries: rig.desk.session().entries().to_vec(), t: rig.t }
    }

    fn rig(&self) -> Rig {
        let session = Session::open(self.entries.clone()).expect("a session");
        Rig::going_on(session, self.t, None)
    }
}

struct Bases {
    ready: Base,
    mid_coat: Base,
    too_early: Base,
    gap: Base,
    sand: Base,
    cure: Base,
}

static BASES: LazyLock<Bases> = LazyLock::new(|| {
    let mut rig = Rig::example();
    on_until(&mut rig, "a coat", |rig| matches!(rig.desk.board().next, Next::BeginCoat { .. }));
    let ready = Base::of(&rig);
    rig.space().pass(120.0).space().space().pass(60.0);
    let mid_coat = Base::of(&rig);
    on_until(&mut rig, "every face too early", all_too_early);
    let too_early = Base::of(&rig);
    on_until(&mut rig, "the gap", |rig| {
        matches!(rig.desk.board().stage, Stage::Gap { .. }) && !rig.desk.board().next.is_action()
    });
    let gap = Base::of(&rig);
    let face = rig.desk.board().faces[0].at.wipe_until.and_then(|due| due.moment());
    let after = face.expect("the sheet gives it").plus(Span::from_hours(1));
    let sand = Base { t: after, ..Base::of(&rig) };
    on_until(&mut rig, "the cure", |rig| {
        rig.desk.board().stage == Stage::Cure && !rig.desk.board().next.is_action()
    });
    Bases { ready, mid_coat, too_early, gap, sand, cure: Base::of(&rig) }
});

/// Where a case begins.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Start {
    TooEarly,
    MidCoat,
    PotDead,
    Sand,
    NightPast,
    FormOpen,
    Joined,
    Fresh,
    Ready,
    Gap,
    Cure,
    Rehearsal,
}

/// All of them; those of [`STATES`] first.
pub(crate) const STARTS: [Start; 12] = [
    Start::TooEarly,
    Start::MidCoat,
    Start::PotDead,
    Start::Sand,
    Start::NightPast,
    Start::FormOpen,
    Start::Joined,
    Start::Fresh,
    Start::Ready,
    Start::Gap,
    Start::Cure,
    Start::Rehearsal,
];

/// The figure that the Book has otherwise.
const LIFE: &str = "sheets.grey-primer.pot_life.duration_s";
/// Keys that open a form wherever a coat is on.
const OPENERS: [char; 6] = ['a', 'g', 'n', 't', 'v', 'f'];

impl Start {
    /// The rig, with a Book behind it. `which` picks among ways to get there.
    pub(crate) fn rig(self, which: usize) -> Rig {
        let bases = &*BASES;
        let coats = [&bases.mid_coat, &bases.too_early, &bases.gap, &bases.sand];
        let any = coats[which % coats.len()];
        let mut rig = match self {
            Self::TooEarly => bases.too_early.rig(),
            Self::MidCoat => bases.mid_coat.rig(),
            Self::PotDead => {
                let hours = Span::from_hours(5);
                let base = if which.is_multiple_of(2) { &bases.mid_coat } else { &bases.too_early };
                Base { t: base.t.plus(hours), entries: base.entries.clone() }.rig()
            }
            Self::Sand => bases.sand.rig(),
            Self::NightPast => {
                let mut rig = any.rig();
                rig.sleep(Span::from_hours(9 + i64::try_from(which % 5).unwrap_or_default()));
                rig
            }
            Self::FormOpen | Self::Joined => any.rig(),
            Self::Fresh => Rig::example(),
            Self::Ready => bases.ready.rig(),
            Self::Gap => bases.gap.rig(),
            Self::Cure => bases.cure.rig(),
            Self::Rehearsal => rehearsal(which),
        };
        lay_the_book(&mut rig, which);
        match self {
            Self::FormOpen => {
                rig.key(OPENERS[which % OPENERS.len()]);
            }
            Self::Joined => join(&mut rig, which),
            _ => {}
        }
        rig
    }
}

/// The Book has two parts that can join and, every third time, a figure that is otherwise.
pub(crate) fn lay_the_book(rig: &mut Rig, which: usize) {
    let parts = vec![("fairing".to_owned(), fairing()), ("panel".to_owned(), fairing())];
    let work = which.is_multiple_of(3).then(|| {
        let mut work = example().expect("the example");
        set_figure(&mut work, LIFE, 10_800.0).expect("it fits");
        work
    });
    rig.desk.lay_at_hand(AtHand { parts, work }, rig.hand_ms);
}

/// A part of the Book joins; every second time its last face is chosen.
pub(crate) fn join(rig: &mut Rig, which: usize) {
    rig.key('h');
    for c in "fairing".chars() {
        rig.press_only(Pressed::Char(c));
    }
    rig.press(Pressed::Enter);
    if which % 2 == 1 {
        choose_last(rig);
    }
}

/// Chooses the last face.
pub(crate) fn choose_last(rig: &mut Rig) {
    for _ in 0..rig.desk.board().faces.len() {
        rig.press(Pressed::Down).pass(0.2);
    }
}

fn rehearsal(which: usize) -> Rig {
    let mut rig = Rig::rehearsal(1.0);
    let base = if which.is_multiple_of(2) { &BASES.too_early } else { &BASES.ready };
    let first = first_entry(true);
    let entries: Vec<Entry> =
        std::iter::once(first).chain(base.entries.iter().skip(1).cloned()).collect();
    let session = Session::open(entries).expect("a session");
    let now = Now { t: base.t, hand_ms: 0, times: &Wall };
    rig.t = base.t;
    rig.desk = Desk::new(session, &now, None, None, Some(Rehearsal { pace: 1.0 }));
    rig
}
