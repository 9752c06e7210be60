//! Numbers: integration and root finding for smooth functions of one variable.

/// Nodes and weights of the eight-point Gauss–Legendre rule on −1…1 (positive half).
const GAUSS_8: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// The integral of `f` from `a` to `b`; exact for polynomials up to degree 15.
pub(super) fn integrate(f: impl Fn(f64) -> f64, a: f64, b: f64) -> f64 {
    let half = (b - a) / 2.0;
    let middle = a + half;
    let sum: f64 = GAUSS_8
        .iter()
        .map(|(node, weight)| weight * (f(middle - half * node) + f(middle + half * node)))
        .sum();
    sum * half
}

/// Where `f` reaches `wanted` between `low` and `high`, for a non-decreasing `f` with slope
/// `slope`: Newton's step where it stays inside the bracket, else a bisection.
pub(super) fn reach(
    f: impl Fn(f64) -> f64,
    slope: impl Fn(f64) -> f64,
    wanted: f64,
    (mut low, mut high): (f64, f64),
) -> f64 {
    let tolerance = 1e-12 * (high - low);
    let mut x = f64::midpoint(low, high);
    for _ in 0..100 {
        let miss = f(x) - wanted;
        if miss < 0.0 {
            low = x;
        } else {
            high = x;
        }
        let newton = x - miss / slope(x);
        // an end is the root where the value is met there
        let inside = (low..=high).contains(&newton);
        let next = if inside { newton } else { f64::midpoint(low, high) };
        if (next - x).abs() <= tolerance {
            return next;
        }
        x = next;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn integrates_a_polynomial_of_degree_fifteen_exactly() {
        let got = integrate(|x| x.powi(15) + x.powi(2), 0.0, 2.0);
        let want = 2f64.powi(16) / 16.0 + 8.0 / 3.0;
        assert!((got - want).abs() < 1e-9 * want, "{got} {want}");
    }

    #[test]
    fn a_value_that_is_met_is_reached_to_the_last_digit() {
        let root = reach(|x| x, |_| 1.0, 21_600.0, (0.0, 86_400.0));
        assert!((root - 21_600.0).abs() < 1e-11, "{root}");
    }

    #[test]
    fn reaches_a_value_even_where_newton_would_leave_the_bracket() {
        let root = reach(|x| x.powi(3), |x| 3.0 * x * x, 1e-6, (-1.0, 1.0));
        assert!((root - 0.01).abs() < 1e-9, "{root}");
    }
}
