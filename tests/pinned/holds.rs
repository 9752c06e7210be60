//! Every kind of hold is gone past in one of the logs. The kinds come from the types: a match over
//! all of them is made from the same list as the list itself, so that one that is not in it does not
//! compile.

use std::collections::BTreeSet;

use boothside_core::board::AirLimit;
use boothside_core::session::event::Event;
use boothside_core::session::standing::{Hold, PotWhy, Wanting};

use crate::logs::logs;

/// One of each kind, and a match that names them all.
macro_rules! kinds {
    ($of:ident: $($kind:ident $fields:tt),+ $(,)?) => {{
        let _named = |it: &$of| match it { $($of::$kind { .. } => ()),+ };
        vec![$((stringify!($kind), kinds!(@one $of $kind $fields))),+]
    }};
    (@one $of:ident $kind:ident ()) => { $of::$kind };
    (@one $of:ident $kind:ident { $($field:tt: $value:expr),* }) => {
        $of::$kind { $($field: $value),* }
    };
}

fn wantings() -> Vec<(&'static str, Wanting)> {
    let name = String::new;
    kinds!(Wanting:
        Step { step: name(), again: false },
        StepNotYet { step: name(), until: None },
        StepWait { step: name(), until: None },
        Check { layer: 1, coat: 0, check: name() },
        SomeoneKnows (),
        Masks (),
        Reading (),
        Pot { layer: 1, why: PotWhy::None },
        Pour { pot: name(), component: name() },
        Stir { pot: name() },
        Stand { pot: name(), until: None },
    )
}

fn limits() -> Vec<(&'static str, AirLimit)> {
    kinds!(AirLimit:
        Cold (), Warm (), Dry (), Humid (), DewPoint (), DewTrend (), PaintCold (), PaintWarm (),
    )
}

fn holds() -> Vec<(&'static str, Hold)> {
    let name = String::new;
    kinds!(Hold:
        Wanting { 0: Wanting::Reading },
        TooEarly { face: name(), until: None },
        OpenedCold { layer: 1, coat: 1, cold: None },
        LookFirst { face: name() },
        WipeFirst { face: name() },
        SandFirst { face: name() },
        NotTurned { face: name() },
        Away { face: name() },
        Left { face: name() },
        AllOn { face: name() },
        LayerBefore { layer: 1 },
        CoatsLeft (),
        CureRuns { until: None },
        StopAndClean { pot: name() },
        PotDead { pot: name() },
        PotShort { pot: name() },
        CleanGun { pot: name() },
        Leftover { pot: name() },
        OutOfRatio { pot: name() },
        CanPast { can: name() },
        Air { layer: 1, limit: AirLimit::Cold, outside: None },
        Cartridges { used_h: 1.0, change_h: 1.0 },
        Masks { counted_in: 1, counted_out: None },
    )
}

/// What the log writes first of each kind, by the kind's name.
pub(crate) fn keys() -> Vec<(String, String)> {
    let first = |text: String| text.split(' ').next().unwrap_or_default().to_owned();
    let mut keys: Vec<(String, String)> = Vec::new();
    for (name, hold) in holds() {
        match hold {
            Hold::Wanting(_) => keys.extend(wantings().into_iter().map(|(kind, it)| {
                (format!("{name} {kind}"), first(Hold::Wanting(it).to_string()))
            })),
            Hold::Air { .. } => keys.extend(limits().into_iter().map(|(kind, limit)| {
                let hold = Hold::Air { layer: 1, limit, outside: None };
                (format!("{name} {kind}"), first(hold.to_string()))
            })),
            hold => keys.push((name.to_owned(), first(hold.to_string()))),
        }
    }
    keys
}

#[test]
fn every_kind_of_hold_is_gone_past_in_a_log() {
    let logs = logs();
    let entries = logs.iter().flat_map(crate::logs::Log::entries);
    let passed: BTreeSet<String> = entries
        .flat_map(|entry| entry.events)
        .filter_map(|event| match event {
            Event::HoldOverridden { hold, .. } => hold.split(' ').next().map(str::to_owned),
            _ => None,
        })
        .collect();
    let keys = keys();
    let told: BTreeSet<&String> = keys.iter().map(|(_, key)| key).collect();
    assert_eq!(told.len(), keys.len(), "each kind has a text of its own");
    let missing: Vec<&(String, String)> =
        keys.iter().filter(|(_, key)| !passed.contains(key)).collect();
    assert!(missing.is_empty(), "no log in which these are gone past: {missing:?}");
}
