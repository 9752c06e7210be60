//! What a sheet may say, and which limit a figure missed.

use boothside_core::fault::Bound;
use boothside_core::material::sheet::Sheet;
use serde_json::{Value, json};

use crate::jobs::sheet;

/// Everything that a sheet may have beyond what it must.
fn full() -> Value {
    json!({
        "limits": { "min_c": 15, "max_c": 30, "min_pct": 30, "max_pct": 70 },
        "film": { "wet_low_um": 75, "wet_high_um": 100, "dry_low_um": 30, "dry_high_um": 40 },
        "coverage": { "m2_per_l": 12, "at_um": 30 },
        "gun": { "nozzle_low_mm": 1.2, "nozzle_high_mm": 1.4, "pressure_low_kpa": 150,
                 "pressure_high_kpa": 180, "measured_at": "inlet" },
        "voc_g_per_l": 420,
        "shelf": { "sealed_months": 24, "opened_months": 6 },
        "issued": "2024-06",
        "retired": true,
        "typed": { "limits.min_c": "59F" }
    })
}

fn with(pointer: &str, value: Value) -> Sheet {
    let mut fields = full();
    *fields.pointer_mut(pointer).expect("a field") = value;
    sheet(fields)
}

#[test]
fn what_a_sheet_says_is_kept_and_what_it_does_not_is_left_out() {
    let full = sheet(full());
    assert_eq!(full.check(), Vec::new());
    assert_eq!(full.solids_pct(), Some(36.0));
    let text = serde_json::to_string(&full).expect("JSON");
    assert_eq!(serde_json::from_str::<Sheet>(&text).expect("a sheet"), full);
    let plainest = serde_json::to_value(sheet(json!({}))).expect("JSON");
    for key in ["film", "coverage", "gun", "voc_g_per_l", "shelf", "issued", "retired", "typed"] {
        assert!(plainest.get(key).is_none(), "{key}");
    }
}

#[test]
fn a_figure_that_does_not_fit_is_named_with_its_limit() {
    let between = |low, high| Some(Bound::Between { low, high });
    let cases = [
        ("/film/wet_high_um", json!(60), Some(Bound::AtLeast(75.0))),
        ("/film/dry_low_um", json!(0), between(0.1, 5000.0)),
        ("/coverage/m2_per_l", json!(34), between(10.0 / 30.0, 1000.0 / 30.0)),
        ("/coverage/m2_per_l", json!(0), Some(Bound::Above(0.0))),
        ("/gun/nozzle_high_mm", json!(1.1), Some(Bound::AtLeast(1.2))),
        ("/gun/pressure_low_kpa", json!(0.1), between(0.5, 1000.0)),
        ("/voc_g_per_l", json!(-1), between(0.0, 1500.0)),
        ("/shelf/opened_months", json!(0), between(0.1, 240.0)),
        ("/limits/max_pct", json!(30), Some(Bound::Above(30.0))),
        ("/limits/min_c", json!(-11), between(-10.0, 60.0)),
        ("/issued", json!("2024-02-30"), None),
        ("/issued", json!("June 2024"), None),
    ];
    for (pointer, value, bound) in cases {
        let found = with(pointer, value).check();
        let field = pointer.trim_start_matches('/').replace('/', ".");
        assert_eq!(found.len(), 1, "{pointer}: {found:?}");
        assert_eq!((found[0].field.as_str(), found[0].bound), (field.as_str(), bound));
    }
}

#[test]
fn only_a_reducer_of_which_some_is_allowed_may_have_no_parts() {
    let mix = |role: &str, parts: f64, most: Value| {
        let mut reducer = json!({ "name": "Thinner", "role": role, "parts": parts });
        reducer["max_parts"] = most;
        let base = json!({ "name": "Base", "role": "base", "parts": 4 });
        sheet(json!({ "mix": { "by": "volume", "components": [base, reducer] } })).check()
    };
    assert_eq!(mix("reducer", 0.0, json!(1)), Vec::new());
    let wrong = [
        mix("reducer", 0.0, Value::Null),
        mix("reducer", 0.0, json!(0)),
        mix("reducer", -1.0, json!(1)),
        mix("activator", 0.0, Value::Null),
    ];
    for found in wrong {
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].field, "mix.components[1].parts");
    }
    let alone = json!({ "name": "Thinner", "role": "reducer", "parts": 0, "max_parts": 1 });
    let found = sheet(json!({ "mix": { "by": "volume", "components": [alone] } })).check();
    assert_eq!(found[0].field, "mix.components");
}

#[test]
fn edges_of_a_window_say_after_what_they_must_lie() {
    let gap = |until: u32| {
        let gap = json!({ "earliest": { "duration_s": 600, "up_to_s": 900 }, "by": "clock",
                          "open_until": { "duration_s": until } });
        sheet(json!({ "between_coats": gap })).check()
    };
    assert_eq!(gap(901), Vec::new());
    let found = gap(900);
    assert_eq!(found[0].field, "between_coats.open_until.duration_s");
    assert_eq!(found[0].bound, Some(Bound::Above(900.0)));
    let life = |reserve: f64| {
        let life = json!({ "life": { "duration_s": 3600 }, "cleaning_reserve_s": reserve });
        sheet(json!({ "pot_life": life })).check().first().and_then(|fault| fault.bound)
    };
    assert_eq!(life(900.0), None);
    assert_eq!(life(3600.0), Some(Bound::Below(3600.0)));
    assert_eq!(life(-1.0), Some(Bound::AtLeast(0.0)));
}
