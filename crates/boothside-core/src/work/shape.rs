//! Simple shapes of which a face's area is reckoned, and its coated edges.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::fault::Faults;

/// The longest side of a part that a small shop hangs up, m: no source.
const LONGEST_M: f64 = 50.0;
/// The thickest edge, m: no source.
const THICKEST_M: f64 = 1.0;

/// The shape of a face.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Shape {
    /// A rectangle.
    Rectangle {
        /// Width, m.
        width_m: f64,
        /// Height, m.
        height_m: f64,
    },
    /// A trapezoid; for its rim it is taken as symmetrical.
    Trapezoid {
        /// One of the parallel sides, m.
        top_m: f64,
        /// The other, m.
        bottom_m: f64,
        /// The distance between them, m.
        height_m: f64,
    },
    /// A triangle; for its rim it is taken as symmetrical.
    Triangle {
        /// One side, m.
        base_m: f64,
        /// The distance from it to the opposite corner, m.
        height_m: f64,
    },
    /// A disc.
    Disc {
        /// Diameter, m.
        diameter_m: f64,
    },
    /// The curved surface of a cylinder, without its ends.
    Cylinder {
        /// Diameter, m.
        diameter_m: f64,
        /// Length, m.
        length_m: f64,
    },
}

/// Edges of a face that are coated with it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Edges {
    /// How thick the part is there, m.
    pub thickness_m: f64,
    /// How long they are together, m; without it the whole rim of the shape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length_m: Option<f64>,
}

impl Shape {
    /// Its area, m²; of a cylinder the curved surface.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        match *self {
            Self::Rectangle { width_m, height_m } => width_m * height_m,
            Self::Trapezoid { top_m, bottom_m, height_m } => {
                f64::midpoint(top_m, bottom_m) * height_m
            }
            Self::Triangle { base_m, height_m } => base_m * height_m / 2.0,
            Self::Disc { diameter_m } => PI * diameter_m * diameter_m / 4.0,
            Self::Cylinder { diameter_m, length_m } => PI * diameter_m * length_m,
        }
    }

    /// The length of its rim, m; of a cylinder both rims. Trapezoid and triangle are taken as
    /// symmetrical: another of the same sides and height has a longer rim.
    #[must_use]
    pub fn rim_m(&self) -> f64 {
        match *self {
            Self::Rectangle { width_m, height_m } => 2.0 * (width_m + height_m),
            Self::Trapezoid { top_m, bottom_m, height_m } => {
                let leg = height_m.hypot((bottom_m - top_m) / 2.0);
                top_m + bottom_m + 2.0 * leg
            }
            Self::Triangle { base_m, height_m } => base_m + 2.0 * height_m.hypot(base_m / 2.0),
            Self::Disc { diameter_m } => PI * diameter_m,
            Self::Cylinder { diameter_m, .. } => 2.0 * PI * diameter_m,
        }
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        let sides: &[(&str, f64)] = match *self {
            Self::Rectangle { width_m, height_m } => {
                &[("width_m", width_m), ("height_m", height_m)]
            }
            Self::Trapezoid { top_m, bottom_m, height_m } => {
                &[("top_m", top_m), ("bottom_m", bottom_m), ("height_m", height_m)]
            }
            Self::Triangle { base_m, height_m } => &[("base_m", base_m), ("height_m", height_m)],
            Self::Disc { diameter_m } => &[("diameter_m", diameter_m)],
            Self::Cylinder { diameter_m, length_m } => {
                &[("diameter_m", diameter_m), ("length_m", length_m)]
            }
        };
        for (field, side) in sides {
            faults.within_range(field, *side, 0.0001, LONGEST_M);
        }
    }
}

impl Edges {
    /// Their area on a face of this shape, m².
    #[must_use]
    pub fn area_m2(&self, shape: &Shape) -> f64 {
        self.thickness_m * self.length_m.unwrap_or_else(|| shape.rim_m())
    }

    pub(super) fn check(&self, faults: &mut Faults) {
        faults.within_range("thickness_m", self.thickness_m, 0.0001, THICKEST_M);
        faults.within_range("length_m", self.length_m, 0.0001, 40.0 * LONGEST_M);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mensuration as every engineer's handbook has it; the numbers are reckoned by hand: sides of
    /// 3-4-5 and 5-12-13 triangles, π = 3.141 592 65.
    #[test]
    fn areas_and_rims_are_the_handbook_s() {
        let cases = [
            (Shape::Rectangle { width_m: 1.2, height_m: 0.4 }, 0.48, 3.2),
            // half the difference of the sides is 5, the height 12: a leg of 13
            (Shape::Trapezoid { top_m: 4.0, bottom_m: 14.0, height_m: 12.0 }, 108.0, 44.0),
            (Shape::Trapezoid { top_m: 14.0, bottom_m: 4.0, height_m: 12.0 }, 108.0, 44.0),
            (Shape::Triangle { base_m: 6.0, height_m: 4.0 }, 12.0, 16.0),
            (Shape::Disc { diameter_m: 1.2 }, 1.130_973_355, 3.769_911_184),
            (Shape::Cylinder { diameter_m: 0.3, length_m: 2.0 }, 1.884_955_592, 1.884_955_592),
        ];
        for (shape, area, rim) in cases {
            assert!((shape.area_m2() - area).abs() < 1e-8, "{shape:?}");
            assert!((shape.rim_m() - rim).abs() < 1e-8, "{shape:?}");
        }
        // a trapezoid of equal sides is a rectangle, one of no top a triangle
        let trapezoid = Shape::Trapezoid { top_m: 1.2, bottom_m: 1.2, height_m: 0.4 };
        assert!((trapezoid.rim_m() - 3.2).abs() < 1e-12);
        let pointed = Shape::Trapezoid { top_m: 0.0, bottom_m: 6.0, height_m: 4.0 };
        assert!((pointed.rim_m() - 16.0).abs() < 1e-12);
    }

    #[test]
    fn edges_go_round_unless_their_length_is_told() {
        let shape = Shape::Rectangle { width_m: 1.2, height_m: 0.4 };
        let round = Edges { thickness_m: 0.01, length_m: None };
        assert!((round.area_m2(&shape) - 0.032).abs() < 1e-12);
        let three = Edges { length_m: Some(2.8), ..round };
        assert!((three.area_m2(&shape) - 0.028).abs() < 1e-12);
    }
}
