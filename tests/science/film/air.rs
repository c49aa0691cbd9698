//! Dew point.

use crate::rows::rows;
use comb_scale::science::Measured;
use comb_scale::science::air::{MARGIN_3C, MARGIN_5F, dew_margin, dew_point};
use comb_scale::science::input::{In, InputError};
use proptest::prelude::*;

fn td(air_c: f64, humidity: f64) -> f64 {
    dew_point(Measured::exact(air_c), Measured::exact(humidity)).expect("air").value
}

/// Univ. of Miami Rosenstiel School page; metpy documentation example; Magnus form of Alduchov & Eskridge by mpmath; an
/// independent saturation formulation by PsychroLib.
#[test]
fn dew_point_of_four_sources() {
    for row in rows("dew/td", 35) {
        row.check("td", td(row.num("T"), row.num("RH")));
    }
}

/// The constants of WMO-No. 8, Annex 4.B, computed with mpmath: another formula of the same standing, never more than 0.008 K
/// from the one in use.
#[test]
fn dew_point_is_near_that_of_wmo_8() {
    for row in rows("dew/td_wmo", 13) {
        let got = td(row.num("T"), row.num("RH"));
        assert!((got - row.expected("td")).abs() < 0.008, "{got} {}", row.expected("td"));
    }
}

/// Computed with the Python package `uncertainties`.
#[test]
fn uncertainty_of_the_dew_point() {
    for row in rows("dew/u_td", 2) {
        let air = Measured::new(row.num("T"), row.num("u_T"));
        let got = dew_point(air, Measured::new(row.num("RH"), row.num("u_RH"))).expect("air");
        row.check("td", got.value);
        row.check("u_td", got.u);
    }
}

/// The 3 °C and the 5 °F rule (FHWA-RD-98-084) are not the same; computed with mpmath.
#[test]
fn margin_by_either_rule() {
    for row in rows("dew/margin", 3) {
        let dew = dew_point(Measured::exact(row.num("T")), Measured::exact(row.num("RH"))).expect("air");
        let got = dew_margin(Measured::exact(row.num("T_surface")), dew).expect("a margin");
        row.check("margin", got.margin_k.value);
        row.check_yes("ok_3K", got.keeps_3c);
        row.check_yes("ok_5F", got.keeps_5f);
    }
    const { assert!(MARGIN_3C - MARGIN_5F > 0.2) };
}

/// Published error: a common field chart in °F is up to 2.4 °F low; 90 °F at 30 % is 54.4 °F, not 52.
#[test]
fn field_chart_in_fahrenheit_is_no_oracle() {
    let f = td((90.0 - 32.0) / 1.8, 30.0) * 1.8 + 32.0;
    assert!((f - 54.4).abs() < 0.1, "{f}");
}

#[test]
fn impossible_air_says_why() {
    for humidity in [0.0, -5.0, 100.1] {
        let outside = InputError::Outside { what: "humidity", low: 0.1, high: 100.0, unit: In::Percent };
        assert_eq!(dew_point(Measured::exact(20.0), Measured::exact(humidity)), Err(outside));
    }
    assert!(dew_point(Measured::exact(-243.04), Measured::exact(50.0)).is_err());
}

proptest! {
    #[test]
    fn dew_point_rises_with_humidity_and_never_passes_the_air(t in -20.0..50.0_f64, rh in 1.0..99.0_f64, more in 0.01..1.0_f64) {
        prop_assert!(td(t, rh + more) > td(t, rh));
        prop_assert!(td(t, rh) <= t);
        prop_assert!(td(t + more, rh) > td(t, rh));
    }

    #[test]
    fn any_finite_air_is_survived(n in crate::awkward::numbers(6)) {
        let m = |i: usize| Measured::new(n[i], n[i + 1]);
        if let Ok(dew) = dew_point(m(0), m(2)) {
            prop_assert!(dew.value.is_finite() && dew.u.is_finite());
            if let Ok(margin) = dew_margin(m(4), dew) {
                prop_assert!(margin.margin_k.value.is_finite() && margin.margin_k.u.is_finite());
            }
        }
    }
}
