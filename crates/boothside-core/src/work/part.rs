//! A part and its faces.

use serde::{Deserialize, Serialize};

use super::shape::{Edges, Shape};
use crate::fault::{Bound, Fault, Faults};
use crate::typed::{self, Typed};
use crate::units::show::plain;

/// No face that is sprayed in one go is larger, m² (our own bound, against mistyped figures).
const LARGEST_M2: f64 = 1_000.0;

/// One side or area of a part that is sprayed in one go and dries on one clock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Face {
    /// Identifier within the part.
    pub id: String,
    /// What the painter calls it.
    pub name: String,
    /// Wetted area, m²; where a shape is given, as that and its edges make it.
    pub area_m2: f64,
    /// Its shape, where the area was reckoned from one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shape: Option<Shape>,
    /// Edges that are coated with it, on top of the shape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub edges: Option<Edges>,
    /// Another face of this part that must be fit to handle before this one is turned up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turned_after: Option<String>,
}

/// A thing to be coated. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Format of the file: 1.
    pub format: u32,
    /// What the painter calls it.
    pub name: String,
    /// Its faces in spraying order.
    pub faces: Vec<Face>,
    /// How far aft of its hinge line the middle of its surface lies, m; forward is negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arm_m: Option<f64>,
    /// Whether it is kept only for what it was used in: it is not offered for anything new.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
    /// What the painter typed for its figures.
    #[serde(default, skip_serializing_if = "Typed::is_empty")]
    pub typed: Typed,
}

/// How far an area may lie from its shape's: a figure rounded to three digits lies within it.
const ROUNDED: f64 = 1e-3;

impl Face {
    /// The area that its shape and edges make, m²; nothing where no shape is given.
    #[must_use]
    pub fn measured_m2(&self) -> Option<f64> {
        let shape = self.shape.as_ref()?;
        let edges = self.edges.as_ref().map_or(0.0, |edges| edges.area_m2(shape));
        Some(shape.area_m2() + edges)
    }

    fn check_area(&self, faults: &mut Faults) {
        faults.positive("area_m2", self.area_m2);
        if self.area_m2 > LARGEST_M2 {
            faults.within_range("area_m2", self.area_m2, 0.0, LARGEST_M2);
        }
        if let Some(shape) = &self.shape {
            faults.within("shape", |faults| shape.check(faults));
        }
        if let Some(edges) = &self.edges {
            faults.within("edges", |faults| edges.check(faults));
        }
        let Some(measured) = self.measured_m2().filter(|_| self.area_m2 > 0.0) else { return };
        let (low, high) = (measured * (1.0 - ROUNDED), measured * (1.0 + ROUNDED));
        let accepted = format!("{}, as its shape and edges make it, to 0.1 %", plain(measured));
        faults.bounded("area_m2", self.area_m2, Bound::Between { low, high }, &accepted);
    }
}

impl Part {
    /// Everything in it that does not fit.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Faults::default();
        if self.format != 1 {
            faults.add("format", self.format, "1");
        }
        faults.name("name", &self.name);
        if self.faces.is_empty() || self.faces.len() > 40 {
            faults.add("faces", format!("{} of them", self.faces.len()), "1 to 40");
        }
        faults.within_range("arm_m", self.arm_m, -50.0, 50.0);
        for (row, face) in self.faces.iter().enumerate() {
            faults.within(format!("faces[{row}]"), |faults| {
                self.check_face(row, face, faults);
            });
        }
        typed::check(&self.typed, &mut faults);
        faults.into_found()
    }

    fn check_face(&self, row: usize, face: &Face, faults: &mut Faults) {
        faults.id("id", &face.id);
        faults.name("name", &face.name);
        face.check_area(faults);
        if self.faces[..row].iter().any(|earlier| earlier.id == face.id) {
            faults.add("id", &face.id, "an id that no other face of the part has");
        }
        if let Some(other) = &face.turned_after
            && !self.faces[..row].iter().any(|earlier| &earlier.id == other)
        {
            faults.add("turned_after", other, "the id of a face that stands before this one");
        }
    }
}
