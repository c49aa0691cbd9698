//! The scale.

use crate::rows::rows;
use comb_scale::science::input::InputError;
use comb_scale::science::stats::t_quantile;
use comb_scale::science::weigh::{Drift, change_is_real, coat, reading_u, repeatability, trend, wiped};
use proptest::prelude::*;

/// GUM JCGM 100:2008 F.2.2.1: 0.29 d.
#[test]
fn step_of_the_scale_of_gum_f_2_2_1() {
    for row in rows("weigh/u_step", 3) {
        let u = reading_u(row.num("d"), 0.0).expect("numbers");
        row.check("u", u);
        row.check("u_diff", coat(10.0, 5.0, Drift::Unwatched, u).expect("numbers").u);
    }
}

/// Readings, differences and differences with a blank, computed with the Python package `uncertainties`.
#[test]
fn uncertainty_of_a_coat() {
    for row in rows("mass/u_coat", 3) {
        let u = reading_u(row.num("d"), row.num("s_rep")).expect("numbers");
        row.check("u_reading", u);
        row.check("u_diff", coat(10.0, 5.0, Drift::Unwatched, u).expect("numbers").u);
        let blank = Drift::Blank { now_g: 5.0, at_tare_g: 5.0 };
        row.check("u_with_blank", coat(10.0, 5.0, blank, u).expect("numbers").u);
    }
}

/// Computed with numpy and mpmath.
#[test]
fn drift_comes_out_by_blank_or_check_weight() {
    for row in rows("mass/coat_blank", 2) {
        let blank = Drift::Blank { now_g: row.num("blank_t"), at_tare_g: row.num("blank_0") };
        row.check("coat", coat(row.num("gross"), row.num("tare"), blank, 0.0).expect("numbers").value);
    }
    for row in rows("mass/coat_span", 1) {
        let check = Drift::CheckWeight { now_g: row.num("check_t"), at_tare_g: row.num("check_0") };
        row.check("coat", coat(row.num("gross"), row.num("tare"), check, 0.0).expect("numbers").value);
    }
}

/// Computed with mpmath.
#[test]
fn comb_wipes_paint_off() {
    for row in rows("mass/wipe_off", 1) {
        let got =
            wiped(row.num("before"), row.num("after"), row.num("coat"), row.num("dabs") as usize).expect("numbers");
        row.check("wiped", got.total_g);
        row.check("per_dab", got.per_dab_g);
        row.check("pct", 100.0 * got.of_coat);
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
    assert!(wiped(1.0, 0.9, 1.0, 0).is_err());
    assert_eq!(change_is_real(0.138, 0.05), Ok(false));
    assert_eq!(change_is_real(0.139, 0.05), Ok(true));
}

/// A panel heavier than what a check weight of the same size saw moves by the same share, whatever the unit of mass.
#[test]
fn check_weight_counts_every_reading() {
    // First-order propagation done numerically.
    let (gross, tare, now, then, u) = (582.31, 561.84, 500.05, 500.0, 0.03);
    let at = |d: [f64; 4]| {
        let check = Drift::CheckWeight { now_g: now + d[2], at_tare_g: then + d[3] };
        coat(gross + d[0], tare + d[1], check, u).expect("numbers").value
    };
    let h = 1e-3;
    let variance: f64 = (0..4)
        .map(|i| {
            let mut up = [0.0; 4];
            up[i] = h;
            let mut down = [0.0; 4];
            down[i] = -h;
            ((at(up) - at(down)) / (2.0 * h) * u).powi(2)
        })
        .sum();
    let got = coat(gross, tare, Drift::CheckWeight { now_g: now, at_tare_g: then }, u).expect("numbers").u;
    assert!((got - variance.sqrt()).abs() < 1e-6, "{got} {}", variance.sqrt());
}

proptest! {
    #[test]
    fn any_finite_weighings_are_survived(n in crate::awkward::numbers(10)) {
        if let Ok(got) = trend(&n[..4], &n[4..8], n[8], n[9]) {
            prop_assert!(got.lowest.is_finite() && got.highest.is_finite() && got.loss_rate.is_finite());
        }
        for drift in [
            Drift::Unwatched,
            Drift::Blank { now_g: n[2], at_tare_g: n[3] },
            Drift::CheckWeight { now_g: n[2], at_tare_g: n[3] },
        ] {
            if let Ok(got) = coat(n[0], n[1], drift, n[4]) {
                prop_assert!(got.value.is_finite() && got.u.is_finite());
            }
        }
    }
}
