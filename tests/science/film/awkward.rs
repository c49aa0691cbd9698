//! Numbers that break careless arithmetic.

use comb_scale::science::Measured;
use comb_scale::science::routes::{Known, Wet};
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

/// Number `i` with the next one as its uncertainty.
pub fn measured(n: &[f64], i: usize) -> Measured {
    Measured::new(n[i], n[i + 1])
}

/// What is known of a panel, made of sixteen numbers, neither dry density nor gauge.
pub fn known(n: &[f64]) -> Known {
    let m = |i: usize| measured(n, i);
    Known {
        wet: Some(Wet { readings: m(0).into(), bias_um: n[2] }),
        wet_mass_g: Some(m(3)),
        final_mass_g: Some(m(5).into()),
        bare_mass_g: Some(m(7)),
        area_cm2: m(9),
        solvent_density: m(11),
        volume_solids: Some(m(13)),
        thinning: m(14),
        dry_density: None,
        gauge_um: None,
        sheet_is_lower_bound: false,
    }
}
