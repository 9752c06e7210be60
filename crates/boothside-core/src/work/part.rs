//! A part and its faces.

use serde::{Deserialize, Serialize};

use crate::fault::{Fault, Faults};
use crate::typed::{self, Typed};

/// One side or area of a part that is sprayed in one go and dries on one clock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Face {
    /// Identifier within the part.
    pub id: String,
    /// What the painter calls it.
    pub name: String,
    /// Wetted area, m².
    pub area_m2: f64,
    /// Another face of this part that must be fit to handle before this one is turned up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turned_after: Option<String>,
}

/// A thing to be coated. File format 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
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
        faults.positive("area_m2", face.area_m2);
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
