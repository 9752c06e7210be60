//! What holds in every state that can be reached.

use boothside_core::board::mixing::OnBench;
use boothside_core::board::{Board, Next, board};
use boothside_core::session::clocks::Due;
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::Event;
use boothside_core::session::standing::FaceNow;
use boothside_core::session::time::{Moment, Span};
use boothside_core::session::{Refusal, Session, Told, decide, group, limits_of_entry};
use boothside_core::work::job::face_id;
use proptest::array::{uniform3, uniform4};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::bench::Bench;
use crate::walk::{Act, FACTS, FULL, Walk, fact, past, past_reading, reading, walks};

/// Plays a walk and looks at every state on the way.
fn along(walk: &Walk, mut look: impl FnMut(&Bench) -> Result<(), TestCaseError>) -> Played {
    let mut bench = walk.start();
    look(&bench)?;
    for act in &walk.acts {
        bench.act(act);
        look(&bench)?;
    }
    Ok(bench)
}

type Played = Result<Bench, TestCaseError>;

/// So many cases, unless the environment asks for another number.
pub(crate) fn cases(cases: u32) -> ProptestConfig {
    let asked = std::env::var("PROPTEST_CASES").ok().and_then(|cases| cases.parse().ok());
    let cases = asked.unwrap_or(cases);
    ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(cases) }
}

/// A board without the letter of a pot that is not begun.
fn nameless(mut board: Board) -> Board {
    if let Some(mixing) = board.mixing.as_mut().filter(|mix| mix.stands == OnBench::ToMix) {
        mixing.pot.clear();
    }
    if let Next::Pour { pot, why: Some(_), .. } = &mut board.next {
        pot.clear();
    }
    board
}

/// The same look, but for its moment.
fn still(mut look: Board) -> Board {
    look.now = Moment::OPENING;
    look
}

fn tell(bench: &Bench, command: &Command) -> Result<Entry, Refusal> {
    decide(&bench.session, command, &Told::now(bench.now, ""))
}

proptest! {
    #![proptest_config(cases(250))]

    /// What SPACE offers is never refused, but for holds that one digit passes; and a reading or its skipping is taken.
    #[test]
    fn what_comes_next_can_be_done(walk in walks(60)) {
        along(&walk, |bench| {
            let next = bench.board().next;
            let commands = match next {
                Next::Reading { why } => match past_reading(&bench.session, &why) {
                    // another reading may lie outside as well
                    Some(past) => vec![past],
                    None => vec![Command::SkipReading, Command::Read(FULL)],
                },
                Next::CountMasks { way, .. } => vec![
                    Command::CountMasks { way, number: 14 },
                    Command::LeaveMasksUncounted { way },
                ],
                _ => next.command(&bench.session).into_iter().collect(),
            };
            prop_assert_eq!(commands.is_empty(), matches!(next, Next::Wait { .. } | Next::Over));
            for command in commands {
                let entry = match tell(bench, &command) {
                    Err(Refusal::Held(holds)) => {
                        let past = past(&command, &holds);
                        prop_assert!(past.is_some(), "{:?}: {:?}", command, holds);
                        past.map_or(Err(Refusal::Nothing), |command| tell(bench, &command))
                    }
                    told => told,
                };
                prop_assert!(entry.is_ok(), "{:?}: {:?}", command, entry);
                let mut after = bench.clone();
                after.session.apply(entry.expect("an entry"));
                // masks left uncounted are asked once more
                if matches!(command, Command::LeaveMasksUncounted { .. }) && after.board().next == next {
                    after.tell(command);
                }
                prop_assert_ne!(after.board().next, next.clone(), "SPACE did nothing");
            }
            Ok(())
        })?;
    }

    /// With a face on the gun SPACE keeps its meaning, however long it takes.
    #[test]
    fn next_stands_while_a_face_is_on_the_gun(walk in walks(40), later in 0..400_000_000i64) {
        along(&walk, |bench| {
            let now = bench.board();
            let on_the_gun = now.faces.iter().any(|face| face.at.now == FaceNow::OnTheGun);
            if on_the_gun && bench.session.state().closed.is_none() {
                prop_assert!(matches!(now.next, Next::CoatOn { .. }), "{:?}", now.next);
                let later = board(&bench.session, bench.now.plus(Span::from_ms(later)));
                prop_assert_eq!(now.next, later.next);
            }
            Ok(())
        })?;
    }

    /// Until the next change the board differs in its moment alone.
    #[test]
    fn nothing_changes_before_the_next_change(walk in walks(40), shares in uniform3(0.0..1.0)) {
        along(&walk, |bench| {
            let now = bench.board();
            let (from, to) = match now.next_change {
                Some(change) => (bench.now.ms(), change.ms() - 1),
                None => (bench.now.ms(), bench.now.ms() + 100 * 24 * 3_600_000),
            };
            prop_assert!(to >= from);
            let inner = shares.iter().map(|share| from + ((to - from) as f64 * share) as i64);
            for at in inner.chain([to]) {
                let later = board(&bench.session, Moment::from_ms(at));
                prop_assert_eq!(still(later), still(now.clone()));
            }
            Ok(())
        })?;
    }

    /// A strike leaves what there would be had the group never been; striking it restores.
    #[test]
    fn a_strike_unmakes_and_its_strike_restores(walk in walks(40), which in any::<Index>()) {
        let mut bench = along(&walk, |_| Ok(()))?;
        let numbers: Vec<u64> =
            bench.session.in_force().iter().map(|(_, entry)| entry.n).filter(|n| *n > 0).collect();
        prop_assume!(!numbers.is_empty());
        let before = bench.clone();
        let n = *which.get(&numbers);
        let struck = group(&bench.session, n);
        let strike = bench.tell(Command::Strike { n });
        let never: Vec<Entry> =
            bench.session.entries().iter().filter(|e| !struck.contains(&e.n)).cloned().collect();
        let never = never.into_iter().filter(|entry| entry.n != strike).collect();
        let never = Session::open(never).expect("a session");
        prop_assert_eq!(bench.session.state(), never.state());
        // but for the letter of the pot to come: one that was written on a pot is not given again
        prop_assert_eq!(nameless(bench.board()), nameless(board(&never, bench.now)));
        bench.tell(Command::Strike { n: strike });
        prop_assert_eq!(bench.session.state(), before.session.state());
        prop_assert_eq!(bench.board(), before.board());
    }

    /// What happened is taken, whatever rule it breaks.
    #[test]
    fn a_fact_is_never_refused(walk in walks(30), kinds in uniform4(0..FACTS), which in any::<Index>()) {
        along(&walk, |bench| {
            for command in kinds.iter().filter_map(|kind| fact(bench, *kind, which)) {
                let entry = tell(bench, &command);
                prop_assert!(entry.is_ok(), "{:?}: {:?}", command, entry);
            }
            Ok(())
        })?;
    }

    /// Entry by entry comes to the same as the whole log at once, and each entry survives its line.
    #[test]
    fn one_by_one_is_all_at_once(walk in walks(60)) {
        let bench = along(&walk, |_| Ok(()))?;
        let lines: Vec<String> = bench
            .session
            .entries()
            .iter()
            .map(|entry| serde_json::to_string(entry).expect("a line"))
            .collect();
        let read: Vec<Entry> =
            lines.iter().map(|line| serde_json::from_str(line).expect("an entry")).collect();
        prop_assert_eq!(&read[..], bench.session.entries());
        let whole = Session::open(read).expect("a session");
        prop_assert_eq!(&whole, &bench.session);
        prop_assert_eq!(board(&whole, bench.now), bench.board());
    }

    /// Within its limits an entry is re-timed and keeps its place among what it belongs to; outside
    /// the refusal names a time that is then taken.
    #[test]
    fn retiming_keeps_to_its_limits(
        walk in walks(40),
        which in any::<Index>(),
        by in prop_oneof![-30_000..30_000i64, -90_000_000..90_000_000i64],
    ) {
        let mut bench = along(&walk, |_| Ok(()))?;
        let entries = bench.session.in_force();
        let told: Vec<(Moment, u64)> =
            entries.iter().map(|(when, entry)| (*when, entry.n)).filter(|(_, n)| *n > 0).collect();
        prop_assume!(!told.is_empty());
        let (from, n) = *which.get(&told);
        let when = from.plus(Span::from_ms(by));
        let limits = limits_of_entry(&bench.session, n, bench.now).expect("limits");
        let inside = limits.nearest(when) == when;
        match bench.try_tell(&Command::Retime { n, when }, None) {
            Ok(_) => prop_assert!(inside),
            Err(Refusal::Future { nearest } | Refusal::OutOfOrder { nearest }) => {
                prop_assert!(!inside);
                prop_assert_eq!(nearest, limits.nearest(when));
                bench.tell(Command::Retime { n, when: nearest });
            }
            Err(other) => prop_assert!(false, "{}", other),
        }
        let place = |entries: &[(Moment, u64)]| -> Vec<u64> {
            let numbers: Vec<u64> = entries.iter().map(|(_, n)| *n).collect();
            related(&bench, n, &numbers)
        };
        let after: Vec<(Moment, u64)> = bench
            .session
            .in_force()
            .iter()
            .map(|(when, entry)| (*when, entry.n))
            .filter(|(_, n)| told.iter().any(|(_, before)| before == n))
            .collect();
        prop_assert_eq!(place(&told), place(&after));
    }

    /// Telling late is taken where it keeps the order, and else at the time that the refusal names.
    #[test]
    fn telling_late_keeps_the_order(
        walk in walks(40),
        kind in 0..FACTS,
        which in any::<Index>(),
        by in -1_000..90_000_000i64,
    ) {
        let mut bench = along(&walk, |_| Ok(()))?;
        let Some(command) = fact(&bench, kind, which) else { return Ok(()) };
        let when = bench.now.minus(Span::from_ms(by));
        match bench.try_tell(&command, Some(when)) {
            Ok(_) => prop_assert!(by >= 0),
            Err(Refusal::Future { nearest }) => {
                prop_assert!(by < 0);
                prop_assert_eq!(nearest, bench.now);
            }
            Err(Refusal::OutOfOrder { nearest }) => {
                prop_assert!(when < nearest && nearest <= bench.now);
                prop_assert!(bench.try_tell(&command, Some(nearest)).is_ok());
            }
            Err(other) => prop_assert!(false, "{}", other),
        }
    }

    /// No reading, told now or late, takes back what was announced.
    #[test]
    fn what_was_announced_stays(
        walk in walks(50),
        reading in reading(),
        late in prop_oneof![Just(0i64), 0..7_200_000i64],
        to_change in any::<bool>(),
    ) {
        let mut bench = along(&walk, |_| Ok(()))?;
        if to_change {
            bench.act(&Act::ToChange(0));
        }
        // two keys never come in one millisecond
        bench.act(&Act::Pass(1));
        let before = bench.board();
        bench.act(&Act::Read(reading, late));
        let after = bench.board();
        for (before, after) in before.faces.iter().zip(&after.faces) {
            let (b, a) = (&before.at, &after.at);
            let edges = [
                (b.look, a.look),
                (b.opens, a.opens),
                (b.open_until, a.open_until),
                (b.wipe_until, a.wipe_until),
            ];
            for (before, after) in edges {
                stays(bench.now, before, after)?;
            }
            for (before, after) in b.cure.iter().zip(&a.cure) {
                stays(bench.now, Some(before.due), Some(after.due))?;
            }
            // a window may turn out to have closed, and a wipe since may flash: it goes on, not back
            if matches!(b.now, FaceNow::Look | FaceNow::Open | FaceNow::Closing) {
                let from = b.now.min(FaceNow::Open);
                prop_assert!(a.wipe_flashes || (from..=FaceNow::Sand).contains(&a.now), "{:?}", a);
            }
        }
        for before in &before.pots {
            // the row of a pot that is found dead by now may be gone
            let Some(after) = after.pots.iter().find(|after| after.at.id == before.at.id) else {
                continue;
            };
            stays(bench.now, before.at.dead, after.at.dead)?;
            stays(bench.now, before.at.stands_until, after.at.stands_until)?;
            prop_assert!(before.at.now <= after.at.now, "{:?} {:?}", before.at, after.at);
        }
        for (before, after) in before.steps.iter().zip(&after.steps) {
            stays(bench.now, before.wait, after.wait)?;
        }
    }

    /// SPACE alone leads out of every state to the end of the session, or to a clock that never
    /// comes in this air.
    #[test]
    fn space_leads_to_the_end(walk in walks(40)) {
        let mut bench = along(&walk, |_| Ok(()))?;
        // closed by SPACE within the walk: nothing is left to do
        for _ in 0..400 {
            match bench.board().next {
                Next::Over => return Ok(()),
                Next::Wait { until, .. } => match until.and_then(|until| until.moment()) {
                    Some(until) => {
                        prop_assert!(until > bench.now, "waits for what is over");
                        bench.now = until;
                    }
                    None => return Ok(()),
                },
                next => {
                    let told = bench.act(&Act::Space);
                    prop_assert!(matches!(told, Some(Ok(_))), "{:?}: {:?}", next, told);
                }
            }
        }
        prop_assert!(false, "no end: {:?}", bench.board().next);
    }
}

/// An edge reached by now is where it was; to a millisecond of rounding.
fn stays(now: Moment, before: Option<Due>, after: Option<Due>) -> Result<(), TestCaseError> {
    let reached = before.and_then(|due| due.moment()).filter(|edge| *edge <= now);
    if let Some(edge) = reached {
        let kept = after.and_then(|due| due.moment());
        let kept = kept.is_some_and(|kept| kept.since(edge).ms().abs() <= 1);
        prop_assert!(kept, "at {:?}: {:?} became {:?}", now, before, after);
    }
    Ok(())
}

/// Those of `numbers`, in their order, that speak of a face that entry `n` speaks of.
fn related(bench: &Bench, n: u64, numbers: &[u64]) -> Vec<u64> {
    let faces = |n: u64| -> Vec<String> {
        let entry = bench.session.entry(n).expect("an entry");
        entry.events.iter().flat_map(faces_of).collect()
    };
    let own = faces(n);
    numbers.iter().copied().filter(|n| faces(*n).iter().any(|face| own.contains(face))).collect()
}

fn faces_of(event: &Event) -> Vec<String> {
    match event {
        Event::RestFinished { faces, .. }
        | Event::Wiped { faces }
        | Event::Scuffed { faces }
        | Event::Sanded { faces } => faces.clone(),
        Event::FaceBegun { face, .. }
        | Event::FaceFinished { face, .. }
        | Event::FaceStopped { face, .. }
        | Event::Dulled { face }
        | Event::StillWet { face }
        | Event::Turned { face }
        | Event::CoatSkipped { face, .. }
        | Event::CoatWipedOff { face }
        | Event::ExtraCoat { face, .. }
        | Event::FaceLeft { face }
        | Event::FaceBack { face }
        | Event::TouchedUp { face } => vec![face.clone()],
        Event::PartHung { part } | Event::PartAway { part } => vec![format!("part {part}")],
        Event::PartJoined { part, is } => {
            let faces = is.faces.iter().map(|face| face_id(part, &face.id));
            faces.chain([format!("part {part}")]).collect()
        }
        _ => Vec::new(),
    }
}
