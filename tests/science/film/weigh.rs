//! The scale.

use crate::rows::rows;
use comb_scale::science::input::InputError;
use comb_scale::science::stats::t_quantile;
use comb_scale::science::weigh::{reading_u, repeatability, trend};
use proptest::prelude::*;

/// Repeatability beside the step, computed with the Python package `uncertainties`.
#[test]
fn uncertainty_of_a_reading() {
    for row in rows("mass/u_coat", 3) {
        row.check("u_reading", reading_u(row.num("d"), row.num("s_rep")).expect("numbers"));
    }
}

/// GUM JCGM 100:2008 F.2.2.1: 0.29 d.
#[test]
fn step_of_the_scale_of_gum_f_2_2_1() {
    for row in rows("weigh/u_step", 3) {
        row.check("u", reading_u(row.num("d"), 0.0).expect("numbers"));
    }
}

/// Two one-sided tests on the slope, computed with statsmodels and scipy.
#[test]
fn little_change_is_proven_by_equivalence() {
    for row in rows("weigh/stop", 5) {
        let got = trend(&row.list("t"), &row.list("m"), row.num("u_floor"), row.num("limit")).expect("weighings");
        row.check("loss_rate", got.loss_rate);
        row.check("upper", got.highest);
        row.check("lower", got.lowest);
        row.check_yes("stop", got.proven_little);
    }
}

/// Limits of a slope from daily readings with a scatter equal to u, computed with mpmath and scipy; the known-scatter column
/// (z = 1.645) is for a rule that the page does not use.
#[test]
fn limits_of_a_slope() {
    for row in rows("weigh/slope_bound", 4) {
        let days: Vec<f64> = (0..row.num("n") as usize).map(|day| day as f64 * row.num("step")).collect();
        let flat = vec![10.0; days.len()];
        let got = trend(&days, &flat, row.num("u"), 1.0).expect("weighings");
        row.check("fitted_sigma", got.highest);
        assert!((got.lowest + got.highest).abs() < 1e-12);
    }
}

/// NIST StRD linear regression, Norris: the slope with its standard deviation, from figures that span four powers of ten.
#[test]
fn slope_of_nist_norris() {
    for row in rows("nist/Norris", 1) {
        let (slope, sd) = (row.expected_list("b")[1], row.expected_list("sd")[1]);
        let got = trend(&row.list("x"), &row.list("y"), 0.0, 1.0).expect("a slope");
        row.check_against("b1", -got.loss_rate, slope);
        let t = t_quantile(0.95, row.expected("n") - 2.0).expect("a quantile");
        row.check_against("sd of b1", 0.5 * (got.highest - got.lowest) / t, sd);
    }
}

#[test]
fn odd_weighings_say_why() {
    assert_eq!(reading_u(0.0, 0.1), Err(InputError::NotPositive("division of the scale")));
    assert_eq!(repeatability(&[1.0]), Err(InputError::TooFew { what: "repeated weighings", least: 2 }));
    assert_eq!(trend(&[0.0, 1.0], &[1.0, 1.0], 0.1, 1.0), Err(InputError::TooFew { what: "weighings", least: 3 }));
    assert_eq!(trend(&[0.0; 3], &[1.0; 3], 0.1, 1.0), Err(InputError::NotPositive("time between weighings")));
    assert_eq!(trend(&[0.0; 3], &[1.0; 2], 0.1, 1.0), Err(InputError::Unpaired("weights and times")));
}

proptest! {
    #[test]
    fn any_finite_weighings_are_survived(n in crate::awkward::numbers(10)) {
        if let Ok(got) = trend(&n[..4], &n[4..8], n[8], n[9]) {
            prop_assert!(got.lowest.is_finite() && got.highest.is_finite() && got.loss_rate.is_finite());
        }
    }
}
