//! A stretch of linear air over which a law's rate is smooth.

use super::track::{AirPoint, between};
use crate::physics::solve;

/// Ends of a stretch over which a law's rate is smooth.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece {
    pub(super) a: AirPoint,
    pub(super) b: AirPoint,
}

/// How the rate runs over a piece.
#[derive(Debug, Clone, Copy)]
pub(super) enum Shape {
    /// It stands.
    Zero,
    /// Its logarithm is linear in time, from one value to the other: integrated exactly.
    Exponential(f64, f64),
    /// Smooth: integrated by quadrature.
    Smooth,
}

impl Piece {
    pub(super) fn seconds(&self) -> f64 {
        self.b.at_s - self.a.at_s
    }

    pub(super) fn middle(&self) -> AirPoint {
        self.at(f64::midpoint(self.a.at_s, self.b.at_s))
    }

    pub(super) fn at(&self, at_s: f64) -> AirPoint {
        between(&self.a, &self.b, at_s)
    }

    /// The integral of the rate over the piece up to `end_s`, in seconds at rate 1.
    pub(super) fn integral(
        &self,
        shape: Shape,
        rate: impl Fn(&AirPoint) -> f64,
        end_s: f64,
    ) -> f64 {
        let elapsed = end_s - self.a.at_s;
        match shape {
            // a cut within a hair of an end leaves a piece of no length
            _ if self.seconds() <= 0.0 => 0.0,
            Shape::Zero => 0.0,
            Shape::Exponential(start, end) => {
                let growth = (end / start).ln() * elapsed / self.seconds();
                start * elapsed * growth_factor(growth)
            }
            Shape::Smooth => solve::integrate(|at| rate(&self.at(at)), self.a.at_s, end_s),
        }
    }

    /// Where that integral reaches `wanted`; the caller knows that it does.
    pub(super) fn reach(&self, shape: Shape, rate: impl Fn(&AirPoint) -> f64, wanted: f64) -> f64 {
        match shape {
            Shape::Zero => self.b.at_s,
            Shape::Exponential(start, end) => {
                let per_second = (end / start).ln() / self.seconds();
                let linear = wanted / start;
                self.a.at_s + linear * shrink_factor(per_second * linear)
            }
            Shape::Smooth => solve::reach(
                |at| self.integral(Shape::Smooth, &rate, at),
                |at| rate(&self.at(at)),
                wanted,
                (self.a.at_s, self.b.at_s),
            ),
        }
    }
}

/// `(e^x − 1) / x`, 1 at 0.
fn growth_factor(x: f64) -> f64 {
    if x.abs() < 1e-12 { 1.0 } else { x.exp_m1() / x }
}

/// `ln(1 + x) / x`, 1 at 0.
fn shrink_factor(x: f64) -> f64 {
    if x.abs() < 1e-12 { 1.0 } else { x.ln_1p() / x }
}

/// The shares of a stretch at which its temperature passes one of `kinks`, °C.
pub(super) fn shares_at(a: &AirPoint, b: &AirPoint, kinks: &[f64]) -> Vec<f64> {
    let (start, rise) = (a.temperature.celsius(), b.temperature - a.temperature);
    kinks.iter().map(|kink| (kink - start) / rise.kelvin()).collect()
}

/// The shares of a stretch at which `f` changes its sign, looked for in `parts` equal parts.
pub(super) fn sign_changes(f: impl Fn(&AirPoint) -> f64, whole: &Piece, parts: u32) -> Vec<f64> {
    let at = |share: f64| f(&whole.at(whole.a.at_s + share * whole.seconds()));
    let mut found = Vec::new();
    let (mut low, mut at_low) = (0.0, at(0.0));
    for part in 1..=parts {
        let high = f64::from(part) / f64::from(parts);
        let at_high = at(high);
        if (at_low < 0.0) != (at_high < 0.0) {
            found.push(bisected(at, at_low < 0.0, low, high));
        }
        (low, at_low) = (high, at_high);
    }
    found
}

fn bisected(at: impl Fn(f64) -> f64, low_is_below: bool, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..45 {
        let middle = f64::midpoint(low, high);
        if (at(middle) < 0.0) == low_is_below {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// The pieces of a stretch, cut at `shares` of it (any order) and into `parts` equal ones.
pub(super) fn cut(whole: &Piece, mut shares: Vec<f64>, parts: u32) -> Vec<Piece> {
    shares.retain(|share| *share > 0.0 && *share < 1.0);
    shares.extend((0..=parts).map(|i| f64::from(i) / f64::from(parts)));
    shares.sort_by(f64::total_cmp);
    shares.dedup();
    shares
        .windows(2)
        .filter_map(|pair| match pair {
            [from, to] => Some(whole.part(*from, *to)),
            _ => None,
        })
        .collect()
}

impl Piece {
    fn part(&self, from: f64, to: f64) -> Self {
        let at = |share: f64| self.at(self.a.at_s + share * self.seconds());
        let b = if to >= 1.0 { self.b } else { at(to) };
        Self { a: if from <= 0.0 { self.a } else { at(from) }, b }
    }
}
