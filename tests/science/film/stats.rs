//! Comparison of candidates.

use crate::rows::rows;
use crate::samples::{interval, pairs, welch};
use comb_scale::science::compare::{
    Claim, Contender, Evidence, Favours, Loss, PanelValue, Shared, candidate, days_at_build, favoured_by_age,
};
use comb_scale::science::input::InputError;
use comb_scale::science::stats::{holm, panels_needed, power, t_probability, t_quantile};
use comb_scale::science::{Distribution, Measured};
use proptest::prelude::*;

/// Welch's t: public programming task and R `sleep` data, results by statsmodels.
#[test]
fn welch_of_statsmodels() {
    for row in rows("stat/welch", 4) {
        let got = welch(&row.list("x"), &row.list("y")).expect("two samples");
        row.check("t", got.t);
        row.check("df", got.degrees);
        row.check("p", got.p);
    }
}

/// R `sleep` data, interval by scipy.
#[test]
fn welch_interval_of_scipy() {
    for row in rows("stat/welch_ci", 1) {
        let got = welch(&row.list("x"), &row.list("y")).expect("two samples");
        let (low, high) = interval(&got, row.num("level")).expect("an interval");
        row.check("lo", low);
        row.check("hi", high);
    }
}

fn panel(value: f64) -> PanelValue {
    PanelValue::new(value, 1.0)
}

/// One panel each: the difference, no probability, no claim.
#[test]
fn one_panel_each_makes_no_claim() {
    for row in rows("stat/n1_rule", 1) {
        let of = |name: &str| candidate(&row.list(name).into_iter().map(panel).collect::<Vec<_>>()).expect("a panel");
        let (x, y) = (of("x"), of("y"));
        let pair = &pairs(&[Contender { mean: &x, mixes: 1 }, Contender { mean: &y, mixes: 1 }]).expect("a pair")[0];
        row.check("difference", pair.difference.mid);
        row.check("p", pair.p);
        row.check_yes("claim_allowed", matches!(pair.claim, Claim::ThisMix | Claim::Primer));
        assert_eq!((pair.evidence, pair.claim), (Evidence::MeasurementOnly, Claim::OnePanel));
        let half = 1.96 * 2.0_f64.sqrt();
        assert!((pair.difference.high - pair.difference.mid - half).abs() < 1e-3, "measurement error alone");
    }
}

/// Four groups of NIST e-Handbook 7.4.7.1; Welch with Holm by statsmodels.
#[test]
fn all_pairs_with_holm_of_statsmodels() {
    for row in rows("stat/welch_holm", 1) {
        let groups: Vec<_> = ["g1", "g2", "g3", "g4"]
            .iter()
            .map(|g| candidate(&row.list(g).into_iter().map(panel).collect::<Vec<_>>()).expect("panels"))
            .collect();
        let contenders: Vec<_> = groups.iter().map(|mean| Contender { mean, mixes: 1 }).collect();
        let pairs = pairs(&contenders).expect("pairs");
        row.check_list("p_raw", &pairs.iter().filter_map(|pair| pair.p).collect::<Vec<_>>());
        row.check_list("p_holm", &pairs.iter().filter_map(|pair| pair.p_holm).collect::<Vec<_>>());
    }
}

/// Holm by statsmodels.
#[test]
fn holm_of_statsmodels() {
    for row in rows("stat/holm", 4) {
        row.check_list("p_holm", &holm(&row.list("p")).expect("probabilities"));
    }
}

/// Power of the two-sided t test by statsmodels (noncentral t).
#[test]
fn power_of_statsmodels() {
    for row in rows("stat/power", 3) {
        row.check("power", power(row.num("d"), row.num("n") as usize, row.num("alpha")).expect("a power"));
    }
    for row in rows("stat/power_n", 5) {
        let comparisons = (0.05 / row.num("alpha")).round() as usize;
        let n = panels_needed(row.num("d"), comparisons, row.num("power")).expect("numbers").expect("few panels");
        row.check("n", n as f64);
        row.check("power", power(row.num("d"), n, row.num("alpha")).expect("a power"));
        row.check("power_n_minus_1", power(row.num("d"), n - 1, row.num("alpha")).expect("a power"));
    }
}

/// scipy and statsmodels, scripts/statistics.py.
#[test]
fn cases_of_this_size_agree_with_scipy_and_statsmodels() {
    let table: serde_json::Value = serde_json::from_str(include_str!("data/statistics.json")).expect("JSON");
    let each = |name: &str| table[name].as_array().expect("a list").iter();
    let close = |got: f64, expected: &serde_json::Value| {
        let expected = expected.as_f64().expect("a number");
        assert!((got - expected).abs() < 1e-8 + 1e-7 * expected.abs(), "got {got}, expected {expected}");
    };
    let f = |value: &serde_json::Value| value.as_f64().expect("a number");
    let list = |value: &serde_json::Value| value.as_array().expect("a list").iter().map(f).collect::<Vec<_>>();
    for case in each("t") {
        close(t_quantile(f(&case["p"]), f(&case["df"])).expect("a quantile"), &case["q"]);
        let both_tails = t_probability(f(&case["q"]), f(&case["df"])).expect("a probability");
        assert!((both_tails - 2.0 * (1.0 - f(&case["p"]))).abs() < 1e-9);
    }
    for case in each("welch") {
        let got = welch(&list(&case["x"]), &list(&case["y"])).expect("two samples");
        close(got.t, &case["t"]);
        close(got.degrees, &case["df"]);
        close(got.p, &case["p"]);
        let (low, high) = interval(&got, 0.95).expect("an interval");
        close(low, &case["low"]);
        close(high, &case["high"]);
    }
    for case in each("holm") {
        for (got, expected) in
            holm(&list(&case["p"])).expect("probabilities").iter().zip(case["holm"].as_array().expect("a list"))
        {
            close(*got, expected);
        }
    }
    for case in each("power") {
        close(power(f(&case["effect"]), f(&case["n"]) as usize, f(&case["alpha"])).expect("a power"), &case["power"]);
    }
}

/// Errors of one comb cancel in a difference; those of two combs do not.
#[test]
fn common_comb_cancels_in_a_difference() {
    let with = |comb: &str, values: [f64; 3]| {
        let panels =
            values.map(|value| PanelValue { shared: vec![Shared { source: comb.into(), by: 4.0 }], ..panel(value) });
        candidate(&panels).expect("panels")
    };
    let width = |other: &str| {
        let (a, b) = (with("comb 1", [80.0, 81.0, 82.0]), with(other, [70.0, 71.0, 72.0]));
        pairs(&[Contender { mean: &a, mixes: 1 }, Contender { mean: &b, mixes: 1 }]).expect("a pair")[0]
            .difference
            .width()
    };
    let no_comb =
        welch(&[80.0, 81.0, 82.0], &[70.0, 71.0, 72.0]).and_then(|d| interval(&d, 0.95)).expect("an interval");
    assert!((width("comb 1") - (no_comb.1 - no_comb.0)).abs() < 1e-9);
    assert!(width("comb 2") > 2.0 * 1.96 * 4.0 * 2.0_f64.sqrt());
}

/// A loss carries the relative errors of what it is divided by in squares (GUM, JCGM 100:2008, eq. (10)), and the comb's error
/// drops out of a difference of shares kept.
#[test]
fn loss_carries_what_it_is_divided_by() {
    let lost = Distribution::from(Measured::new(6.9, 0.2));
    let (density, area) = (Measured::new(0.87, 0.03), Measured::new(900.0, 9.0));
    let film = 1e4 * 6.9 / (0.87 * 900.0);
    let of_film = film * (0.2_f64 / 6.9).hypot(0.03 / 0.87).hypot(9.0 / 900.0);
    let by = [(density, Some("solvent".to_string())), (area, None)];
    let value = PanelValue::of_loss(Loss::Forecast(&lost), 1e4, &by).expect("numbers");
    let u = value.own_u.hypot(value.forecast.sd()).hypot(value.shared[0].by);
    assert!((value.value - film).abs() < 1e-9 && (u / of_film - 1.0).abs() < 1e-3, "{u} {of_film}");

    let comb = (Measured::new(1.0, 0.025), Some("comb 1".to_string()));
    let kept = |film: f64| {
        let wet = (Measured::exact(film), None);
        let gone = PanelValue::of_loss(
            Loss::Weighed(Measured::exact(6.9)),
            1e4,
            &[(density, None), (area, None), wet, comb.clone()],
        );
        candidate(&[gone.and_then(PanelValue::kept).expect("numbers")]).expect("a panel")
    };
    let (a, b) = (kept(160.0), kept(160.0));
    let pair = &pairs(&[Contender { mean: &a, mixes: 1 }, Contender { mean: &b, mixes: 1 }]).expect("a pair")[0];
    let own = 0.551 * (0.03_f64 / 0.87).hypot(0.01) * 2.0_f64.sqrt();
    assert!((pair.difference.u() - own).abs() < 1e-4, "{} {own}", pair.difference.u());
}

/// Plain sampling with numpy (scripts/difference_sampling.py): forecasts of one candidate err together and are skewed.
#[test]
fn difference_of_skewed_forecasts_agrees_with_sampling() {
    let table: serde_json::Value = serde_json::from_str(include_str!("data/difference_sampling.json")).expect("JSON");
    for case in table.as_array().expect("a list") {
        let panel = |panel: &serde_json::Value| {
            let n = |i: usize| panel[i].as_f64().expect("a number");
            // Nodes of the log-normal amount that goes, at equal steps of its normal score.
            let nodes = (-160..=160).map(|i| {
                let z = 0.04 * f64::from(i);
                (-n(2) * (n(3) * z).exp(), (-0.5 * z * z).exp())
            });
            let forecast = Distribution::new(nodes.collect(), 0.0).and_then(|of| of.error(1.0)).expect("nodes");
            let shared = vec![Shared { source: "comb".into(), by: n(4) }];
            PanelValue { forecast, shared, ..PanelValue::new(n(0), n(1)) }
        };
        let of = |i: usize| {
            let panels = case["candidates"][i].as_array().expect("panels");
            candidate(&panels.iter().map(panel).collect::<Vec<_>>()).expect("panels")
        };
        let (a, b) = (of(0), of(1));
        let pair = &pairs(&[Contender { mean: &a, mixes: 1 }, Contender { mean: &b, mixes: 1 }]).expect("a pair")[0];
        let n = |name: &str| case[name].as_f64().expect("a number");
        let tolerance = 0.01 * (n("high") - n("low"));
        let got = pair.difference;
        for (name, got) in [("mean", got.mid), ("low", got.low), ("high", got.high)] {
            assert!((got - n(name)).abs() < tolerance, "{name}: got {got}, sampled {}", n(name));
        }
    }
}

#[test]
fn second_mix_is_needed_for_a_claim_about_the_primer() {
    let a = candidate(&[80.0, 80.5, 79.5, 80.2].map(panel)).expect("panels");
    let b = candidate(&[70.0, 70.5, 69.5, 70.1].map(panel)).expect("panels");
    let claim = |mixes_a, mixes_b| {
        pairs(&[Contender { mean: &a, mixes: mixes_a }, Contender { mean: &b, mixes: mixes_b }]).expect("a pair")[0]
            .claim
    };
    assert_eq!(claim(1, 1), Claim::ThisMix);
    assert_eq!(claim(2, 1), Claim::ThisMix);
    assert_eq!(claim(2, 2), Claim::Primer);
    let one = candidate(&[panel(60.0)]).expect("a panel");
    let pair = &pairs(&[Contender { mean: &a, mixes: 2 }, Contender { mean: &one, mixes: 1 }]).expect("a pair")[0];
    assert_eq!(pair.claim, Claim::OnePanel);
}

#[test]
fn odd_samples_say_why() {
    assert_eq!(welch(&[1.0], &[2.0, 3.0]), Err(InputError::TooFew { what: "panels of each", least: 2 }));
    assert_eq!(welch(&[1.0, 1.0], &[1.0, 1.0]), Err(InputError::NotPositive("scatter between the panels")));
    assert_eq!(candidate(&[]).unwrap_err(), InputError::TooFew { what: "panels", least: 1 });
    assert_eq!(favoured_by_age(0.0, 0.0), Ok(None));
    assert_eq!(favoured_by_age(30.0, 20.0), Ok(Some(Favours::First)));
    assert_eq!(days_at_build(6.0, 120.0, 60.0), Ok((1.5, 3.0)));
    assert_eq!(panels_needed(0.01, 1, 0.8), Ok(None));
}

proptest! {
    #[test]
    fn difference_changes_sign_with_the_order(
        x in prop::collection::vec(50.0..90.0_f64, 2..6), y in prop::collection::vec(50.0..90.0_f64, 2..6),
    ) {
        let (there, back) = (welch(&x, &y), welch(&y, &x));
        if let (Ok(there), Ok(back)) = (there, back) {
            prop_assert!((there.t + back.t).abs() < 1e-12 * there.t.abs().max(1.0));
            prop_assert!((there.p - back.p).abs() < 1e-12);
        }
    }

    #[test]
    fn more_panels_show_more(effect in 0.1..3.0_f64, n in 2..40_usize) {
        prop_assert!(power(effect, n + 1, 0.05)? >= power(effect, n, 0.05)? - 1e-9);
    }

    #[test]
    fn any_finite_numbers_are_survived(n in crate::awkward::numbers(8)) {
        if let Ok(d) = welch(&n[..4], &n[4..]) {
            prop_assert!(d.t.is_finite() && d.p.is_finite() && d.degrees.is_finite());
            if let Ok((low, high)) = interval(&d, 0.95) {
                prop_assert!(low.is_finite() && high.is_finite());
            }
        }
        let panels = [0, 4].map(|i| PanelValue {
            forecast: Measured::new(n[i + 3], n[i + 2]).into(),
            ..PanelValue::new(n[i], n[i + 1])
        });
        if let Ok(mean) = candidate(&panels) {
            prop_assert!(mean.interval.low.is_finite() && mean.interval.high.is_finite());
        }
        if let Ok(p) = power(n[0], 3, n[1]) {
            prop_assert!((0.0..=1.0).contains(&p));
        }
        if let Ok(p) = t_probability(n[2], n[3]) {
            prop_assert!((0.0..=1.0).contains(&p));
        }
    }
}

/// 10 % between primers whose panels scatter by 5 % is two standard deviations: as statsmodels has it for the row of two.
#[test]
fn a_difference_in_its_own_unit_needs_as_many_panels_as_its_ratio() {
    use comb_scale::science::stats::{panels_needed, panels_to_show};
    for comparisons in [1, 3] {
        assert_eq!(panels_to_show(-10.0, 5.0, comparisons), panels_needed(2.0, comparisons, 0.8));
    }
    assert_eq!(panels_to_show(10.0, 0.0, 1), Err(InputError::NotPositive("scatter between the panels")));
    assert!(panels_to_show(0.0, 5.0, 1).is_err(), "no number of panels shows no difference");
}
