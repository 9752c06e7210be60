//! The shape of a face, drawn beside its measures.

use std::f64::consts::TAU;

use boothside_core::work::part::Face;
use boothside_core::work::shape::Shape;
use boothside_store::book::Kind;
use ratatui::style::Color;
use ratatui::symbols::Marker;
use ratatui::widgets::canvas::{Canvas, Line as Stroke};

use crate::book::path;
use crate::update::book::filling::Filling;
use crate::view::pen::Pen;
use crate::view::theme::Theme;

/// Columns of the drawing.
const WIDE: u16 = 22;
/// Rows of the drawing.
const HIGH: u16 = 7;
/// It stands to the right of labels and values that are this wide.
const BESIDE: u16 = 56;

/// Draws the face on which the painter stands, where its measures are told.
pub(super) fn draw(filling: &Filling, theme: Theme, pen: &mut Pen<'_>) {
    if filling.kind() != Kind::Part || pen.width() < BESIDE + WIDE || pen.height() < HIGH + 2 {
        return;
    }
    let Some(row) = filling.line().and_then(|line| line.row.as_ref()) else { return };
    // a measure that is not told yet, or does not fit, draws nothing that could be believed
    let shape_at = format!("{}[{}].shape.", row.list, row.row);
    let measures = filling.lines().iter().filter(|line| line.path.starts_with(&shape_at));
    if !measures.into_iter().all(|line| filling.value(line).is_some()) {
        return;
    }
    let so_far = filling.so_far();
    let face = path::get(&so_far, &format!("{}[{}]", row.list, row.row));
    let Some(face) = face.and_then(|face| serde_json::from_value::<Face>(face).ok()) else {
        return;
    };
    let Some(shape) = &face.shape else { return };
    let strokes = strokes(shape);
    let x = pen.width() - WIDE - 1;
    let sound = strokes.iter().flatten().all(|at| at.0.is_finite() && at.1.is_finite());
    if sound && face.measured_m2().is_some() {
        pen.part(x, 0, WIDE, HIGH + 2).clear();
        draw_strokes(&strokes, pen, x);
        let area = crate::book::takes::Takes::Area.echo(&face.area_m2.into(), filling.around().us);
        pen.put(x, HIGH, &format!("area {area}"), theme.strong());
    }
}

/// The outline as strokes from point to point, in metres.
fn strokes(shape: &Shape) -> Vec<[(f64, f64); 2]> {
    match *shape {
        Shape::Rectangle { width_m: w, height_m: h } => {
            closed(&[(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
        }
        Shape::Trapezoid { top_m, bottom_m, height_m } => {
            let (widest, inset) =
                (top_m.max(bottom_m), |side: f64| (top_m.max(bottom_m) - side) / 2.0);
            let (low, high) = (inset(bottom_m), inset(top_m));
            closed(&[(low, 0.0), (widest - low, 0.0), (widest - high, height_m), (high, height_m)])
        }
        Shape::Triangle { base_m, height_m } => {
            closed(&[(0.0, 0.0), (base_m, 0.0), (base_m / 2.0, height_m)])
        }
        Shape::Disc { diameter_m: d } => round((d / 2.0, d / 2.0), (d / 2.0, d / 2.0)),
        Shape::Cylinder { diameter_m: d, length_m: l } => {
            // lying: its ends are seen at an angle
            let (r, end) = (d / 2.0, d / 6.0);
            let mut all = round((0.0, r), (end, r));
            all.extend(round((l, r), (end, r)));
            all.extend([[(0.0, 0.0), (l, 0.0)], [(0.0, d), (l, d)]]);
            all
        }
    }
}

fn closed(points: &[(f64, f64)]) -> Vec<[(f64, f64); 2]> {
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|(from, to)| [*from, *to]).collect()
}

fn round(centre: (f64, f64), radius: (f64, f64)) -> Vec<[(f64, f64); 2]> {
    const CORNERS: u32 = 32;
    let at = |corner: u32| {
        let turn = TAU * f64::from(corner) / f64::from(CORNERS);
        (centre.0 + radius.0 * turn.cos(), centre.1 + radius.1 * turn.sin())
    };
    let points: Vec<(f64, f64)> = (0..CORNERS).map(at).collect();
    closed(&points)
}

fn draw_strokes(strokes: &[[(f64, f64); 2]], pen: &mut Pen<'_>, x: u16) {
    let points = || strokes.iter().flatten();
    let ends = |of: fn(&(f64, f64)) -> f64| {
        let low = points().map(of).fold(f64::INFINITY, f64::min);
        (low, points().map(of).fold(f64::NEG_INFINITY, f64::max))
    };
    let ((left, right), (low, high)) = (ends(|at| at.0), ends(|at| at.1));
    // a cell is twice as high as it is wide, near enough: one measure in both directions
    let scale = ((right - left) / f64::from(WIDE)).max((high - low) / f64::from(HIGH * 2)) * 1.05;
    if !(scale.is_finite() && scale > 0.0) {
        return;
    }
    let half = |from: f64, to: f64, cells: u16| {
        let (middle, half) = ((from + to) / 2.0, scale * f64::from(cells) / 2.0);
        [middle - half, middle + half]
    };
    let canvas = Canvas::default()
        .marker(Marker::Braille)
        .x_bounds(half(left, right, WIDE))
        .y_bounds(half(low, high, HIGH * 2))
        .paint(|canvas| {
            for [from, to] in strokes {
                canvas.draw(&Stroke::new(from.0, from.1, to.0, to.1, Color::Reset));
            }
        });
    pen.draw((x, 0, WIDE, HIGH), canvas);
}
