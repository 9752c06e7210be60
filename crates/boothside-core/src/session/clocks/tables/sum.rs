//! A sum of very many numbers that keeps what rounding takes from it.

/// A sum in two parts: what is left of a difference of two long sums is as good as if only the numbers
/// between them had been added.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Sum {
    high: f64,
    low: f64,
}

impl Sum {
    pub(super) fn plus(self, value: f64) -> Self {
        let high = self.high + value;
        // what rounding took (Knuth, two-sum)
        let added = high - self.high;
        let lost = (self.high - (high - added)) + (value - added);
        Self { high, low: self.low + lost }
    }

    pub(super) fn minus(self, other: Self) -> f64 {
        (self.high - other.high) + (self.low - other.low)
    }

    pub(super) fn value(self) -> f64 {
        self.high + self.low
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_difference_of_long_sums_is_as_good_as_a_short_sum() {
        let mut sum = (0..200_000).fold(Sum::default(), |sum, _| sum.plus(0.1));
        let before = sum;
        for _ in 0..10 {
            sum = sum.plus(0.1);
        }
        assert!((sum.minus(before) - 1.0).abs() < 1e-15);
        let plain = |count: u32| (0..count).fold(0.0, |sum, _| sum + 0.1);
        assert!((plain(200_010) - plain(200_000) - 1.0f64).abs() > 1e-13, "plain sums are worse");
    }
}
