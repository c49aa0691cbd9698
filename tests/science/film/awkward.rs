//! Numbers that break careless arithmetic.

use proptest::prelude::*;

/// Any finite number, with sensible ones, zero, and both ends of the range often enough to meet each other.
pub fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        2 => prop::num::f64::NORMAL | prop::num::f64::SUBNORMAL | prop::num::f64::ZERO,
        3 => prop::sample::select(vec![
            0.0, -0.0, 1.0, -1.0, 0.5, 2.0, 5e-324, 1e-300, -1e-300, 1e-160, 1e-9, 1e9, 1e155, 1e300, -1e300, f64::MAX, f64::MIN,
        ]),
        5 => 0.0..1.0_f64,
        5 => 0.1..1000.0_f64,
    ]
}

pub fn numbers(count: usize) -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(number(), count)
}
