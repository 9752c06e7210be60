//! The log, faults, the gun's card and the forgotten stop: each state played to.

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::group;
use boothside_core::session::time::Span;

use super::bench::Bench;
use super::shots::Shot;
use crate::forms;
use crate::update::picker::{Picker, Picking};
use crate::update::scene::{Asking, EntryDo, Screen};

fn sprays(next: &Next) -> bool {
    matches!(next, Next::CoatOn { .. })
}

/// Six faces sprayed, a fault seen on the third and the coat wiped off, a sleep: the bench, the
/// fault's entry, the entry that began the third face.
fn sprayed() -> (Bench, u64, u64) {
    let mut bench = Bench::example();
    let mut begun = 0;
    for face in 0..6 {
        bench.play_to(sprays);
        if face == 2 {
            begun = bench.session.next_n() - 1;
        }
        bench.pass(4.0).space();
    }
    let face = bench.session.plan().faces()[2].id.clone();
    bench.tell(&Command::SeeFault { face: face.clone(), fault: "fisheye".into() });
    let fault = bench.session.next_n() - 1;
    bench.tell(&Command::WipedOff { face });
    bench.pass(1.5).tell(&Command::Slept { span: Span::from_minutes(2) });
    (bench, fault, begun)
}

fn log(name: &'static str, chosen: u64, bench: &Bench) -> Shot {
    Shot { screen: Screen::Log, log_chosen: chosen, ..Shot::of(name, bench) }
}

/// Every one of them.
pub(super) fn all() -> Vec<Shot> {
    let (mut bench, fault, begun) = sprayed();
    let seen = log("log_fault", fault, &bench);
    let choices = vec![
        EntryDo::Strike { group: group(&bench.session, begun) },
        EntryDo::TrueTime,
        EntryDo::Note,
    ];
    let asking = Some(Asking::Entry { n: begun, choices });
    let entry = Shot { asking, ..log("log_entry", begun, &bench) };
    let time = Shot { form: Some(forms::time_of(begun)), ..log("log_time", begun, &bench) };
    bench.tell(&Command::Strike { n: begun });
    let struck = log("log_struck", begun, &bench);
    let face = Some(Picker::new(Picking::Face, 2));
    let face = Shot { picker: face, ..Shot::of("fault_face", &bench) };
    let mut picker = Picker::new(Picking::Fault { face: 2 }, 0);
    picker.type_char('d');
    let fault = Shot { picker: Some(picker), ..Shot::of("fault_which", &bench) };
    let gun = Shot { form: Some(forms::gun(&bench.session)), ..Shot::of("gun_form", &bench) };
    bench.play_to(sprays);
    bench.pass(16.0);
    let forgotten = Shot { forgotten: true, ..Shot::of("forgotten", &bench) };
    vec![seen, entry, time, struck, face, fault, gun, forgotten]
}
