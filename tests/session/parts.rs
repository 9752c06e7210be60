//! A face's area, by number and by shape.

use boothside_core::fault::Bound;
use boothside_core::session::{figures, set_figure};
use boothside_core::work::part::Part;
use serde_json::{Value, json};

use crate::jobs::{plain, sheet};

fn part(face: Value) -> Result<Part, serde_json::Error> {
    let mut whole = json!({ "id": "left", "name": "left" });
    if let (Some(whole), Value::Object(face)) = (whole.as_object_mut(), face) {
        whole.extend(face);
    }
    serde_json::from_value(json!({ "format": 1, "name": "Flap", "faces": [whole] }))
}

fn door(area_m2: f64) -> Value {
    json!({ "area_m2": area_m2, "shape": { "kind": "rectangle", "width_m": 1.2, "height_m": 0.4 },
            "edges": { "thickness_m": 0.01 } })
}

#[test]
fn the_area_is_what_shape_and_edges_make() {
    let fits = part(door(0.512)).expect("a part");
    assert!(fits.faces[0].measured_m2().is_some_and(|m2| (m2 - 0.512).abs() < 1e-12));
    for area in [0.512, 0.5116, 0.5124] {
        assert_eq!(part(door(area)).expect("a part").check(), Vec::new());
    }
    let found = part(door(0.48)).expect("a part").check();
    assert_eq!((found.len(), found[0].field.as_str()), (1, "faces[0].area_m2"));
    assert!(found[0].accepted.starts_with("0.512,"), "{}", found[0].accepted);
    assert!(matches!(found[0].bound, Some(Bound::Between { low, high })
        if low < 0.512 && high > 0.512 && high - low < 0.0011));
    let text = serde_json::to_string(&fits).expect("JSON");
    assert!(text.contains(r#""shape":{"kind":"rectangle","width_m":1.2,"height_m":0.4}"#));
    assert_eq!(serde_json::from_str::<Part>(&text).expect("a part"), fits);
}

#[test]
fn a_shape_with_other_sides_is_refused() {
    let wrong = [
        json!({ "kind": "rectangle", "width_m": 1 }),
        json!({ "kind": "disc", "diameter_m": 1, "height_m": 1 }),
        json!({ "kind": "sphere", "diameter_m": 1 }),
    ];
    for shape in wrong {
        assert!(part(json!({ "area_m2": 1, "shape": shape })).is_err(), "{shape}");
    }
    let flat = json!({ "kind": "disc", "diameter_m": 0 });
    let found = part(json!({ "area_m2": 1, "shape": flat })).expect("a part").check();
    assert!(found.iter().any(|fault| fault.field == "faces[0].shape.diameter_m"), "{found:?}");
}

/// In a session the area is mended as a number; its shape would say otherwise and is left out.
#[test]
fn an_area_mended_in_a_session_stands_without_its_shape() {
    let mut job = plain(sheet(json!({})), 1, 1);
    let face = part(door(0.512)).expect("a part").faces.remove(0);
    let panel = job.parts.get_mut("panel").expect("the panel");
    panel.faces[0] = boothside_core::work::part::Face { id: "a".into(), ..face };
    assert_eq!(job.check(), Vec::new());
    let field = "parts.panel.a.area_m2";
    assert_eq!(set_figure(&mut job, field, 0.6), Ok(Some(0.512)));
    assert_eq!(job.parts["panel"].faces[0].measured_m2(), None);
    let stands = figures(&job).into_iter().find(|figure| figure.field == field);
    assert_eq!(stands.and_then(|figure| figure.value), Some(0.6));
}
