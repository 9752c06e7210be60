//! The jobs that are played, and two logs' worth of everything that a job can say, and of nothing.

use boothside::update::scene::Rehearsal;
use boothside_core::physics::rate::Rules;
use boothside_core::session::command::Command;
use boothside_core::session::entry::Entry;
use boothside_core::session::event::{Event, LOG_FORMAT, Opening};
use boothside_core::work::job::FullJob;
use serde_json::{Value, json};

use super::hand::Hand;
use crate::rig::{Rig, first_entry};

/// The example with two parts of two faces.
pub(super) fn small(work: &mut FullJob) {
    work.job.parts.truncate(2);
    let kept = work.job.parts.clone();
    work.parts.retain(|name, _| kept.contains(name));
}

/// A job with everything that its files can say, and what they can leave out.
pub(super) fn full_job() -> FullJob {
    let job = json!({
        "job": {
            "format": 1, "name": "Covers", "system": "covers", "parts": ["cover", "lid"],
            "order": ["lid-a", "cover-a", "cover-b", "cover-c", "cover-d", "cover-e"],
            "retired": true, "typed": { "format": "1" }, "away": ["lid"]
        },
        "system": full_system(),
        "parts": {
            "cover": {
                "format": 1, "name": "Cover", "faces": shapes(), "arm_m": -0.12, "retired": true,
                "typed": { "arm_m": "-12cm" }
            },
            "lid": { "format": 1, "name": "Lid", "faces": [{ "id": "a", "name": "a", "area_m2": 0.2 }] }
        },
        "sheets": { "filler": filler(), "stain": stain(), "wax": wax() },
        "shop": {
            "format": 1, "units": "us", "transfer_pct": 60, "loss_ml": 30, "spare_pct": 5,
            "scale_step_g": 0.5, "containers_ml": [250, 500], "booth_volume_m3": 40,
            "booth_flow_m3_per_h": 2400, "mixing_factor": 4, "height_m": 300, "dew_margin_c": 4,
            "cartridge_h": 16, "bell": false, "typed": { "loss_ml": "1 fl oz" }
        }
    });
    parsed(job)
}

fn parsed(job: Value) -> FullJob {
    let work: FullJob = serde_json::from_value(job).expect("a job");
    assert_eq!(work.check(), Vec::new());
    work
}

fn shapes() -> Value {
    let face = |id: &str, area: f64, shape: Value| json!({ "id": id, "name": format!("side {id}"), "area_m2": area, "shape": shape });
    let mut faces = vec![
        face("a", 0.28, json!({ "kind": "rectangle", "width_m": 0.7, "height_m": 0.4 })),
        face(
            "b",
            0.15,
            json!({ "kind": "trapezoid", "top_m": 0.2, "bottom_m": 0.4, "height_m": 0.5 }),
        ),
        face("c", 0.06, json!({ "kind": "triangle", "base_m": 0.3, "height_m": 0.4 })),
        face("d", 0.1256637, json!({ "kind": "disc", "diameter_m": 0.4 })),
        face("e", 0.3769911, json!({ "kind": "cylinder", "diameter_m": 0.2, "length_m": 0.6 })),
    ];
    faces[0]["edges"] = json!({ "thickness_m": 0.02, "length_m": 1.0 });
    faces[0]["area_m2"] = json!(0.3);
    faces[1]["edges"] = json!({ "thickness_m": 0.01 });
    faces[1]["area_m2"] = json!(0.15 + 0.01 * (0.6 + 2.0 * (0.25_f64 + 0.01).sqrt()));
    faces[1]["turned_after"] = json!("a");
    json!(faces)
}

fn full_system() -> Value {
    let groups =
        ["lay_out", "surface", "air", "mix", "gun", "protection", "booth", "plugs_and_masks"];
    let each = ["layer", "coat", "pot", "sitting"];
    let check = |(row, group): (usize, &&str)| {
        json!({ "id": format!("c{row}"), "name": format!("{group} seen to"), "short": "seen to?",
            "each": each[row % 4], "group": group })
    };
    let checks: Vec<Value> = groups.iter().enumerate().map(check).collect();
    json!({
        "format": 1, "name": "Filler, stain, wax", "retired": true, "typed": { "format": "1" },
        "layers": [
            {
                "name": "Filler", "sheet": "filler", "coats": 1, "cross": true, "dry_um": 40,
                "dry_least_um": 30, "dry_most_um": 60, "ready": checks,
                "prep": [
                    { "id": "sand", "name": "sanded", "short": "sand", "does": "sand",
                      "wait": { "duration_s": 60 }, "within_s": 36000 },
                    { "id": "scuff", "name": "scuffed", "does": "scuff" },
                    { "id": "wipe", "name": "wiped", "does": "wipe" },
                    { "id": "mask", "name": "masked", "does": "mask" }
                ]
            },
            { "name": "Stain", "sheet": "stain", "coats": 1, "prep": [], "ready": [
                { "id": "fan", "name": "fan on" } ] },
            { "name": "Wax", "sheet": "wax", "coats": 1 }
        ],
        "close": [
            { "id": "s1", "name": "dust off", "after": "dust_free" },
            { "id": "s2", "name": "taken down", "after": "handle" },
            { "id": "s3", "name": "tape off", "after": "mask" },
            { "id": "s4", "name": "flatted", "after": "sand" },
            { "id": "s5", "name": "boxed", "after": "full" }
        ]
    })
}

/// A sheet with every key and every law.
fn filler() -> Value {
    let warmth = |s: f64, speed: Value| {
        let mut timing =
            json!({ "duration_s": s, "up_to_s": s * 1.5, "at_c": 20, "law": "warmth" });
        let both = timing.as_object_mut().expect("a timing");
        both.extend(speed.as_object().expect("keys").clone());
        timing
    };
    json!({
        "format": 1, "name": "Filler, two-part", "carrier": "solvent",
        "hazards": ["isocyanate", "flammable", "chromate"],
        "mix": {
            "by": "weight", "tolerance_pct": 4, "solids_pct": 55, "strain_um": 190,
            "components": [
                { "name": "Filler", "role": "base", "parts": 10, "density_g_per_ml": 1.4 },
                { "name": "Setter", "role": "activator", "parts": 1 },
                { "name": "Thinner", "role": "reducer", "parts": 0, "max_parts": 2 }
            ],
            "flow_cup": { "cup": "iso-4", "low_s": 20, "high_s": 30, "at_c": 20, "falls_pct": 5 }
        },
        "induction": { "stand": { "duration_s": 300 }, "inside_pot_life": false },
        "pot_life": {
            "life": warmth(7200.0, json!({ "doubles_per_c": 10 })), "cleaning_reserve_s": 600
        },
        "between_coats": {
            "earliest": { "duration_s": 900, "law": "table", "at_c": 20, "table": [
                { "at_c": 10, "duration_s": 1800 }, { "at_c": 25, "duration_s": 700 } ] },
            "dulls": { "duration_s": 300, "law": "steady" }, "by": "both",
            "open_until": { "duration_s": 7200 }, "wipe_until": { "duration_s": 90000 }
        },
        "to_next_layer": {
            "earliest": warmth(3600.0, json!({ "energy_kj_per_mol": 50, "floor_c": 8 })),
            "by": "clock"
        },
        "wipe": { "flash_s": 300, "limit_s": 3600 },
        "cure": [
            { "stage": "dust_free", "after": { "duration_s": 600 } },
            { "stage": "handle", "after": { "duration_s": 1200 } },
            { "stage": "mask", "after": { "duration_s": 1800 } },
            { "stage": "sand", "after": { "duration_s": 2400 } },
            { "stage": "full", "after": { "duration_s": 3600 } }
        ],
        "limits": {
            "min_c": 10, "max_c": 35, "min_pct": 20, "max_pct": 80, "dew_margin_c": 3,
            "paint_min_c": 12, "paint_max_c": 30
        },
        "dry_density_g_per_ml": 1.6,
        "film": { "wet_low_um": 60, "wet_high_um": 120, "dry_low_um": 30, "dry_high_um": 60 },
        "coverage": { "m2_per_l": 11, "at_um": 50 },
        "gun": {
            "nozzle_low_mm": 1.4, "nozzle_high_mm": 1.8, "pressure_low_kpa": 150,
            "pressure_high_kpa": 220, "measured_at": "inlet"
        },
        "voc_g_per_l": 420, "shelf": { "sealed_months": 24, "opened_months": 6 },
        "vapour": { "lel_pct": 1.1, "m3_per_l": 0.2, "solvent_pct": 45, "source": "invented" },
        "source": "invented", "issued": "2025-03", "retired": true, "typed": { "voc_g_per_l": "420" }
    })
}

/// A sheet that says next to nothing.
fn wax() -> Value {
    json!({
        "format": 1, "name": "Wax", "carrier": "solvent", "cure": [], "hazards": [], "limits": {},
        "gun": {}, "mix": { "by": "volume", "components": [{ "name": "Wax", "role": "base", "parts": 1 }] },
        "between_coats": { "earliest": { "duration_s": 60 }, "by": "eye" }
    })
}

/// A sheet in which each group is there, and says as little as it can.
fn stain() -> Value {
    json!({
        "format": 1, "name": "Stain", "carrier": "water", "cure": [], "hazards": [], "limits": {},
        "mix": {
            "by": "volume", "components": [{ "name": "Stain", "role": "base", "parts": 1 }],
            "flow_cup": { "cup": "ford-4", "low_s": 15, "high_s": 20 }
        },
        "between_coats": {
            "earliest": { "duration_s": 600, "at_c": 20, "at_pct": 50, "law": "water" }, "by": "eye"
        },
        "film": {}, "coverage": { "m2_per_l": 9 }, "gun": { "measured_at": "cap" }, "shelf": {},
        "vapour": { "lel_pct": 1.5, "m3_per_l": 0.22 }
    })
}

/// The opening of a job.
pub(super) fn opened(work: FullJob, rehearsal: bool, factors: &[(&str, f64)]) -> Entry {
    let factors = factors.iter().map(|(sheet, factor)| ((*sheet).to_owned(), *factor)).collect();
    let rules = Rules::NOW.number();
    let opening = Opening { format: LOG_FORMAT, rules, rehearsal, work, factors };
    Entry { events: vec![Event::Opened(Box::new(opening))], ..first_entry(false) }
}

/// The full job as far as its first coats.
pub(super) fn book() -> Vec<Entry> {
    let factors = [("filler", 1.2), ("stain", 0.9)];
    let mut hand =
        Hand::at(Rig::of(opened(full_job(), true, &factors), Some(Rehearsal { pace: 60.0 })));
    hand.tell(Command::HangPart { part: "lid".into() });
    hand.until_the_first_coat();
    for _ in 0..6 {
        hand.rig.space().pass(100.0).space();
    }
    hand.until("the next layer", |hand| {
        matches!(hand.next(), boothside_core::board::Next::BeginCoat { layer: 2, .. })
    });
    hand.rig.space().pass(60.0).space();
    hand.entries()
}
