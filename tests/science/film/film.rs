//! The dry film as gauged.

use crate::rows::rows;
use comb_scale::science::film::{Summary, base_metal, dry_film, spot, summary, verify};
use comb_scale::science::input::InputError;
use proptest::prelude::*;

/// MIL-HDBK-1110 10.3.11(c): a spot is the mean of three readings.
#[test]
fn spot_mean_of_mil_hdbk_1110() {
    for row in rows("dft/spot", 2) {
        row.check("spot", spot(&row.list("readings")).expect("readings").mean);
    }
}

/// Six-reading panel form of SSPC-PA 2 Appendix 4 (body from memory).
#[test]
fn panel_form_of_sspc_pa_2_appendix_4() {
    for row in rows("dft/panel6", 2) {
        let film = dry_film(&row.list("readings"), 0.0, None).expect("a film");
        row.check("mean", film.film_um.value);
        row.check("sd", film.over_panel.sd);
        row.check("u_mean", film.film_um.u);
    }
}

/// Base-metal reading subtracted, uncertainty by the Python package `uncertainties`.
#[test]
fn base_metal_is_subtracted() {
    for row in rows("dft/bmr", 1) {
        let base = base_metal(&row.list("bare")).expect("readings on bare steel");
        row.check("bmr", base.mean_um);
        let film = dry_film(&row.list("readings"), 0.0, Some(&base)).expect("a film");
        row.check("dft", film.film_um.value);
        row.check("u", film.film_um.u);
    }
}

/// ASTM D7091 verification, root-sum-square acceptance (common practice).
#[test]
fn verification_on_a_shim_of_astm_d7091() {
    for row in rows("dft/verify", 1) {
        let got =
            verify(row.num("shim"), row.num("shim_tol"), row.num("reading"), row.num("gauge_tol")).expect("numbers");
        row.check("error", got.error_um);
        row.check("limit", got.limit_um);
        row.check_yes("ok", got.passes);
    }
}

/// NIST StRD one-way ANOVA, SiRstv: means and scatters of five groups that differ in the fourth figure.
#[test]
fn scatter_of_nist_sirstv() {
    for row in rows("nist/SiRstv", 1) {
        let groups: Vec<Summary> = ["g1", "g2", "g3", "g4", "g5"]
            .iter()
            .map(|g| summary("readings", &row.list(g)).expect("readings"))
            .collect();
        let within: f64 = groups.iter().map(|g| (g.count - 1) as f64 * g.sd.expect("several").powi(2)).sum();
        let means: Vec<f64> = groups.iter().map(|g| g.mean).collect();
        let between = 5.0 * 4.0 * summary("means", &means).expect("means").sd.expect("several").powi(2);
        row.check("ss_within", within);
        row.check("ss_between", between);
        row.check("resid_sd", (within / row.expected("df2")).sqrt());
        row.check("F", between / row.expected("df1") / (within / row.expected("df2")));
    }
}

#[test]
fn impossible_readings_say_why() {
    assert_eq!(spot(&[]), Err(InputError::TooFew { what: "dry-film readings", least: 1 }));
    let base = base_metal(&[80.0, 82.0]).expect("readings");
    assert_eq!(
        dry_film(&[70.0, 71.0], 0.0, Some(&base)),
        Err(InputError::NotPositive("dry film above the base metal"))
    );
    let one = dry_film(&[80.0], 0.0, None).expect("a film");
    assert!(one.scatter_assumed && one.film_um.u > 4.0, "one value cannot show the scatter over a panel");
}

proptest! {
    #[test]
    fn any_finite_readings_are_survived(n in crate::awkward::numbers(8)) {
        let base = base_metal(&n[..2]);
        for base in [None, base.as_ref().ok()] {
            if let Ok(film) = dry_film(&n[2..5], n[5], base) {
                prop_assert!(film.film_um.value.is_finite() && film.film_um.u.is_finite());
            }
        }
        if let Ok(got) = verify(n[0], n[1], n[2], n[3]) {
            prop_assert!(got.error_um.is_finite() && got.limit_um.is_finite());
        }
    }
}
