//! Jobs of our own, invented, small enough to reckon by hand.

use boothside_core::material::sheet::Sheet;
use boothside_core::work::job::FullJob;
use boothside_core::work::part::Part;
use serde_json::{Value, json};

/// A sheet of a two-part material with `fields` set over the plainest one.
pub(crate) fn sheet(fields: Value) -> Sheet {
    let mut whole = json!({
        "format": 1,
        "name": "Kiln red, two-part",
        "carrier": "solvent",
        "mix": {
            "by": "volume",
            "components": [
                { "name": "Base", "role": "base", "parts": 3 },
                { "name": "Activator", "role": "activator", "parts": 1 }
            ]
        },
        "between_coats": { "earliest": { "duration_s": 1200 }, "by": "clock" }
    });
    let (Value::Object(whole_fields), Value::Object(fields)) = (&mut whole, fields) else {
        panic!("fields of a sheet");
    };
    whole_fields.extend(fields);
    serde_json::from_value(whole).expect("a sheet")
}

/// One layer of `sheet` in `coats` coats over the faces `panel-a`, `panel-b`, … without steps or
/// checks.
pub(crate) fn plain(sheet: Sheet, faces: u8, coats: u32) -> FullJob {
    layered(vec![("one", sheet, coats)], faces)
}

/// Layers over the faces `panel-a`, `panel-b`, … without steps or checks.
pub(crate) fn layered(layers: Vec<(&str, Sheet, u32)>, faces: u8) -> FullJob {
    let layer = |(name, _, coats): &(&str, Sheet, u32)| json!({ "name": name, "sheet": name, "coats": coats });
    let face = |number: u8| {
        let id = char::from(b'a' + number).to_string();
        json!({ "id": id, "name": id, "area_m2": 0.5 })
    };
    let job = json!({
        "job": { "format": 1, "name": "Panels", "system": "panels", "parts": ["panel"] },
        "system": {
            "format": 1,
            "name": "Panels",
            "layers": layers.iter().map(layer).collect::<Vec<_>>()
        },
        "parts": {
            "panel": {
                "format": 1,
                "name": "Panel",
                "faces": (0..faces).map(face).collect::<Vec<_>>()
            }
        },
        "sheets": {},
        "shop": { "format": 1 }
    });
    let mut job: FullJob = serde_json::from_value(job).expect("a job");
    job.sheets = layers.into_iter().map(|(name, sheet, _)| (name.to_owned(), sheet)).collect();
    checked(job)
}

/// The job, once it is known to hold together.
pub(crate) fn checked(job: FullJob) -> FullJob {
    assert_eq!(job.check(), Vec::new());
    job
}

/// A part that joins late: the second of its faces lies under the first.
pub(crate) fn late() -> Part {
    serde_json::from_value(json!({
        "format": 1,
        "name": "Late",
        "faces": [ { "id": "top", "name": "top", "area_m2": 0.3 },
                   { "id": "under", "name": "under", "area_m2": 0.2, "turned_after": "top" } ]
    }))
    .expect("a part")
}

/// A step from its JSON.
pub(crate) fn step(fields: Value) -> boothside_core::work::system::Step {
    serde_json::from_value(fields).expect("a step")
}

/// A timing at 20 °C whose speed doubles every 10 °C.
pub(crate) fn doubling(duration_s: f64) -> Value {
    json!({ "duration_s": duration_s, "at_c": 20, "law": "warmth", "doubles_per_c": 10 })
}

/// A job that meets most rules at once: laws, both gaps, a stand outside the pot's life, a face
/// that is turned, steps that wait.
pub(crate) fn rich() -> FullJob {
    let clay = sheet(json!({
        "induction": { "stand": doubling(600.0), "inside_pot_life": false },
        "pot_life": { "life": doubling(5400.0), "cleaning_reserve_s": 900 },
        "between_coats": {
            "earliest": doubling(1200.0),
            "dulls": { "duration_s": 600, "up_to_s": 900, "at_c": 20, "at_pct": 50, "law": "water" },
            "by": "both",
            "open_until": doubling(7200.0),
            "wipe_until": { "duration_s": 28800 }
        },
        "to_next_layer": {
            "earliest": { "duration_s": 3600, "at_c": 20, "law": "warmth", "energy_kj_per_mol": 60,
                          "floor_c": 8 },
            "by": "clock",
            "open_until": { "duration_s": 14400 },
            "wipe_until": { "duration_s": 86400 }
        },
        "wipe": { "flash_s": 300, "limit_s": 3600 },
        "cure": [ { "stage": "handle", "after": doubling(5400.0) },
                  { "stage": "sand", "after": { "duration_s": 7200 } } ],
        "limits": { "min_c": 12, "max_pct": 80 }
    }));
    let glaze = sheet(json!({
        "name": "Glaze, one-part",
        "mix": { "by": "volume",
                 "components": [ { "name": "Glaze", "role": "base", "parts": 1 } ] },
        "between_coats": {
            "earliest": { "duration_s": 900, "law": "table",
                          "table": [ { "at_c": 10, "duration_s": 1800 },
                                     { "at_c": 20, "duration_s": 900 } ] },
            "by": "eye"
        },
        "cure": [ { "stage": "mask", "after": { "duration_s": 7200 } } ]
    }));
    let mut job = layered(vec![("clay", clay, 2), ("glaze", glaze, 2)], 3);
    job.parts.get_mut("panel").expect("the panel").faces[2].turned_after = Some("a".into());
    let layers = &mut job.system.layers;
    layers[0].prep = vec![
        step(json!({ "id": "rinse", "name": "rinsed", "wait": doubling(1800.0) })),
        step(
            json!({ "id": "wipe", "name": "wiped", "does": "wipe", "wait": { "duration_s": 300 } }),
        ),
    ];
    layers[1].prep =
        vec![step(json!({ "id": "rub", "name": "rubbed", "does": "scuff", "after": "sand" }))];
    layers[0].ready = serde_json::from_value(json!([
        { "id": "gloves", "name": "gloves" },
        { "id": "strained", "name": "strained", "group": "mix" },
        { "id": "fan", "name": "fan on", "each": "coat" }
    ]))
    .expect("checks");
    layers[1].ready = serde_json::from_value(json!([
        { "id": "bonded", "name": "bonded", "each": "sitting" },
        { "id": "pattern", "name": "test pattern good", "each": "pot", "group": "gun" }
    ]))
    .expect("checks");
    job.system.close = vec![step(json!({ "id": "unmask", "name": "unmasked", "after": "mask" }))];
    checked(job)
}

#[test]
fn two_parts_whose_faces_would_be_one_in_the_log_do_not_fit() {
    let mut job = rich();
    let names: Vec<String> = job.job.parts.clone();
    let first = names[0].clone();
    let face = job.parts[&first].faces[0].clone();
    // 'PART' with 'a-FACE' and 'PART-a' with 'FACE'
    let mut one = job.parts[&first].clone();
    one.faces[0].id = format!("a-{}", face.id);
    one.faces.truncate(1);
    let mut other = job.parts[&first].clone();
    other.faces.truncate(1);
    job.parts.insert(first.clone(), one);
    let second = format!("{first}-a");
    job.parts.insert(second.clone(), other);
    job.job.parts = vec![first, second];
    job.job.order.clear();
    let faults: Vec<String> = job.check().into_iter().map(|fault| fault.field).collect();
    assert_eq!(faults, ["parts"]);
}
