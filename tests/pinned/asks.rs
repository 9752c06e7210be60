//! Every ask, every stop, every clock that is waited for and every state stands at one of the
//! moments. The kinds come from the types: one that is missing in a list does not compile.

use std::collections::BTreeSet;

use boothside_core::board::{Board, CleanWhy, Next, ReadWhy, Stage, Stop, Waited};
use boothside_core::session::standing::{FaceNow, PotNow, PotWhy, StepNow, WipeWhy};

use crate::moments::boards_of;

/// The names of a type's kinds, and a function that names the kind of one.
macro_rules! names {
    ($name:ident, $of:ident: $($kind:ident),+ $(,)?) => {
        fn $name(it: &$of) -> String {
            let kind = match it { $($of::$kind { .. } => stringify!($kind)),+ };
            format!("{} {kind}", stringify!($of))
        }
        impl Kinds for $of {
            const KINDS: &'static [&'static str] =
                &[$(concat!(stringify!($of), " ", stringify!($kind))),+];
        }
    };
}

trait Kinds {
    const KINDS: &'static [&'static str];
}

names!(next, Next: CoatOn, CleanGun, Resume, Dulled, BeginCoat, Step, CountMasks, Check,
    SomeoneKnows, FanOn, Reading, MixPot, Pour, Stir, Wipe, Sand, Turn, Leftover, Close, Wait, Over);
names!(stop, Stop: Clean, FanOff, Condensing, Closes);
names!(waited, Waited: Look, Opens, WipeDry, OnTheGun, Closes, Turn, Stand, LastTrigger, AfterStep,
    StageBeforeStep, Condensing, FanOff, Back, PotTime, WipeTime, ToHang, Away, Cure);
names!(stage, Stage: Prep, Ready, Mix, Coat, Flash, Gap, Cure, Close, Closed);
names!(face, FaceNow: Bare, OnTheGun, Flashing, Look, Open, Closing, Wipe, Sand, LayerDone, Finished,
    Away, Left);
names!(pot, PotNow: Standing, Good, StopAndClean, Dead, Emptied);
names!(step, StepNow: NotYet, ToDo, Waiting, Done);
names!(clean_why, CleanWhy: PastTrigger, Dead, TooLate, NoCoatsLeft);
names!(read_why, ReadWhy: Missing, Old, Unfit, Trend, Condensing);
names!(pot_why, PotWhy: None, StopAndClean, Dead, TooLate, Short, NextCoat);
names!(wipe_why, WipeWhy: Window, CameOff, Sanded, Turned, Overnight, TooOld);

/// What a board shows, by kinds.
pub(crate) fn shown(board: &Board) -> BTreeSet<String> {
    let mut shown = BTreeSet::from([next(&board.next), stage(&board.stage)]);
    shown.extend(match &board.next {
        Next::CleanGun { why, .. } => Some(clean_why(why)),
        Next::Reading { why } => Some(read_why(why)),
        Next::MixPot { why, .. } | Next::Pour { why: Some(why), .. } => Some(pot_why(why)),
        Next::Wait { what, .. } => Some(waited(what)),
        _ => None,
    });
    shown.extend(board.stop.as_ref().map(stop));
    let clocks = board.hero.iter().chain(&board.soonest);
    shown.extend(clocks.map(|hero| waited(&hero.what)));
    for row in &board.faces {
        shown.extend([face(&row.at.now), face(&row.at.film)]);
        shown.extend(row.at.wipe.as_ref().map(wipe_why));
    }
    shown.extend(board.pots.iter().map(|row| pot(&row.at.now)));
    shown.extend(board.steps.iter().map(|row| step(&row.now)));
    shown
}

#[test]
fn every_ask_and_every_state_stands_at_a_moment() {
    let there: BTreeSet<String> = boards_of().iter().flat_map(shown).collect();
    let kinds = [
        Next::KINDS,
        Stop::KINDS,
        Waited::KINDS,
        Stage::KINDS,
        FaceNow::KINDS,
        PotNow::KINDS,
        StepNow::KINDS,
        CleanWhy::KINDS,
        ReadWhy::KINDS,
        PotWhy::KINDS,
        WipeWhy::KINDS,
    ];
    let kinds = kinds.concat();
    // an emptied pot is on no board
    let wanted = kinds.iter().filter(|kind| **kind != "PotNow Emptied");
    let missing: Vec<&&str> = wanted.filter(|kind| !there.contains(**kind)).collect();
    assert!(missing.is_empty(), "at none of the moments: {missing:?}");
}
