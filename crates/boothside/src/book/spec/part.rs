//! A part and its faces.

use boothside_store::book::Kind;

use super::{Field, Item, Spec, field, list};
use crate::book::takes::{Choice, Takes, choice};

const SHAPES: &[Choice] = &[
    choice("rectangle", "rectangle"),
    choice("trapezoid", "trapezoid"),
    choice("triangle", "triangle"),
    choice("disc", "disc"),
    choice("cylinder", "cylinder"),
];

/// The form of a part.
pub(super) static PART: Spec = Spec {
    kind: Kind::Part,
    items: &[
        field("name", "name", Takes::Name, "what you call the part", "").must(),
        Item::Section("Faces, in spraying order: each is sprayed in one go"),
        Item::List(list("faces", "face", 40, FACE).with_ids().kept_empty()),
        Item::Section("For the weight sheet"),
        field(
            "arm_m",
            "arm",
            Takes::Length,
            "from the hinge line aft to the middle of its surface; forward is negative",
            "cannot tell the moment of the film's weight",
        )
        .may(),
    ],
};

const FACE: &[Item] = &[
    field("name", "name", Takes::Name, "left, right, upper, inside …", "").must(),
    field(
        "shape.kind",
        "shape",
        Takes::Choice(SHAPES),
        "r, tra, tri, d or c; empty where you know the area",
        "",
    )
    .may(),
    field(
        "area_m2",
        "area",
        Takes::Area,
        "1.2m2 or 13ft2, or 12 x 14in; or choose a shape and measure it",
        "",
    )
    .unless("shape.kind")
    .must(),
    Item::Field(measure("shape.width_m", "width", &["rectangle"]).times("shape.height_m")),
    Item::Field(measure("shape.top_m", "upper side", &["trapezoid"])),
    Item::Field(measure("shape.bottom_m", "lower side", &["trapezoid"])),
    Item::Field(measure("shape.base_m", "base", &["triangle"]).times("shape.height_m")),
    Item::Field(measure("shape.height_m", "height", &["rectangle", "trapezoid", "triangle"])),
    Item::Field(measure("shape.diameter_m", "diameter", &["disc", "cylinder"])),
    Item::Field(measure("shape.length_m", "length", &["cylinder"])),
    field(
        "edges.thickness_m",
        "edges, thickness",
        Takes::Length,
        "where the edges are sprayed with the face: 12mm",
        "edges are not counted in the area",
    )
    .beside("shape.kind")
    .may(),
    field(
        "edges.length_m",
        "edges, length",
        Takes::Length,
        "empty: the whole rim of the shape",
        "the whole rim counts",
    )
    .beside("edges.thickness_m")
    .may(),
    field(
        "turned_after",
        "turned after",
        Takes::EarlierFace,
        "the face that must be fit to handle before this one is turned to the gun",
        "this face waits for no other",
    )
    .may(),
];

const fn measure(key: &'static str, label: &'static str, of: &'static [&'static str]) -> Field {
    let tape = "with a tape measure: 1.2m, 45cm, 18in, 4ft";
    field(key, label, Takes::Length, tape, "").only_if("shape.kind", of).needed()
}
