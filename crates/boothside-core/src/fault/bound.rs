//! The limit that a number missed, as numbers, so that a form can say it in the painter's unit.

/// What a number must be, in the unit of its field. None takes what is not finite.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Bound {
    /// From one number to another, both taken.
    Between {
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// More than that.
    Above(f64),
    /// That or more.
    AtLeast(f64),
    /// Less than that.
    Below(f64),
    /// That or less.
    AtMost(f64),
}

impl Bound {
    /// Whether a number keeps to it.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        value.is_finite()
            && match *self {
                Self::Between { low, high } => (low..=high).contains(&value),
                Self::Above(low) => value > low,
                Self::AtLeast(low) => value >= low,
                Self::Below(high) => value < high,
                Self::AtMost(high) => value <= high,
            }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bound_takes_its_own_end_only_where_it_says_so() {
        let between = Bound::Between { low: 1.0, high: 2.0 };
        for (bound, takes_one) in [
            (between, true),
            (Bound::Above(1.0), false),
            (Bound::AtLeast(1.0), true),
            (Bound::Below(1.0), false),
            (Bound::AtMost(1.0), true),
        ] {
            assert_eq!(bound.holds(1.0), takes_one, "{bound:?}");
            for never in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                assert!(!bound.holds(never), "{bound:?}");
            }
        }
        assert!(between.holds(2.0) && !between.holds(2.1) && !between.holds(0.9));
        assert!(Bound::Above(1.0).holds(1.1) && Bound::Below(1.0).holds(0.9));
    }
}
