//! What SPACE asks, situation by situation: docs/rules.md, 'The asks, in order'. Jobs and figures are
//! invented; answers are reckoned by hand.

mod air;
mod gate;
mod interrupted;
mod layers;
mod pots;
mod rounds;

use boothside_core::board::Next;
use boothside_core::session::command::Command;
use boothside_core::session::event::{Reading, Way};
use boothside_core::work::job::FullJob;
use serde_json::{Value, json};

use crate::bench::{Bench, mix};
use crate::jobs::{checked, plain, sheet};

/// A job of `fields`, in whose air and with whose pot A of unknown size the first face may be begun.
fn ready(fields: Value, faces: u8, coats: u32) -> Bench {
    known(Bench::new(plain(sheet(fields), faces, coats)))
}

fn known(mut bench: Bench) -> Bench {
    bench.tell(Command::SomeoneKnows);
    bench.tell(Command::Read(fit()));
    bench.tell(mix());
    bench
}

/// 20 °C, 50 %, the part as warm.
fn fit() -> Reading {
    let (air_c, humidity_pct, surface_c) = (Some(20.0), Some(50.0), Some(20.0));
    Reading { air_c, humidity_pct, surface_c, ..Reading::default() }
}

/// Faces of 0.5 m² that take 50 mL a coat (25 µm of 50 % solids, of which half lands) and, without a
/// pace, 5 min; 10 mL stay in the gun.
fn measured(fields: Value, faces: u8, coats: u32) -> FullJob {
    let mut material = sheet(fields);
    material.mix.solids_pct = Some(50.0);
    let mut job = plain(material, faces, coats);
    job.system.layers[0].dry_um = Some(25.0);
    job.shop.transfer_pct = Some(50.0);
    job.shop.loss_ml = Some(10.0);
    checked(job)
}

/// The same with pot A of so many mL mixed at the opening.
fn with_pot(fields: Value, faces: u8, coats: u32, amount_ml: f64) -> Bench {
    let mut bench = Bench::new(measured(fields, faces, coats));
    bench.tell(Command::SomeoneKnows);
    bench.tell(Command::Read(fit()));
    bench.tell(mixed(amount_ml));
    bench
}

fn mixed(amount_ml: f64) -> Command {
    Command::MixPot { layer: 1, amount_ml: Some(amount_ml), lots: Vec::new() }
}

fn clean(bench: &Bench) -> Option<boothside_core::board::CleanWhy> {
    match bench.board().next {
        Next::CleanGun { why, .. } => Some(why),
        _ => None,
    }
}

fn begins(face: usize, coat: u32) -> Next {
    Next::BeginCoat { face, layer: 1, coat }
}

/// How much the pot on the bench is to be, mL.
fn wanted_ml(bench: &Bench) -> f64 {
    let mixing = bench.board().mixing.expect("a pot on the bench");
    mixing.now.expect("its lines").wanted.ml.expect("an amount")
}

fn steps(list: Value) -> Vec<boothside_core::work::system::Step> {
    serde_json::from_value(list).expect("steps")
}

fn checks(list: Value) -> Vec<boothside_core::work::system::Check> {
    serde_json::from_value(list).expect("checks")
}

/// Closes 60 min after it was begun, opens 20 min after it was on.
fn window() -> Value {
    json!({
        "between_coats": {
            "earliest": { "duration_s": 1200 }, "by": "clock", "open_until": { "duration_s": 3600 }
        }
    })
}

/// Opens by a look `minutes` after it was on.
fn by_eye(minutes: u32) -> Value {
    json!({ "between_coats": { "earliest": { "duration_s": minutes * 60 }, "by": "eye" } })
}

fn count(way: Way, number: u32) -> Command {
    Command::CountMasks { way, number }
}
