//! The comb: intervals, likelihood, posterior.

use crate::rows::rows;
use comb_scale::science::comb::{
    CombError, CombPrior, CombReading, Interval, Teeth, hull_um, interval_on, log_likelihood, scatter_seen, wet_film,
};
use proptest::prelude::*;

fn gap(low: impl Into<Option<f64>>, high: impl Into<Option<f64>>) -> Interval {
    Interval { low_um: low.into(), high_um: high.into(), touched_um: None }
}

fn dabs(cells: &[(Option<f64>, Option<f64>, usize)]) -> Vec<Interval> {
    cells.iter().flat_map(|&(low, high, count)| std::iter::repeat_n(gap(low, high), count)).collect()
}

/// ASTM D4414 and Metal Finishing Guidebook 2012 p. 310 (last wetted, first dry]; the just-touched
/// rule is common practice.
#[test]
fn dab_is_the_interval_of_astm_d4414() {
    for row in rows("comb/interval", 8) {
        let teeth_um = row.list("teeth");
        let below = |tooth: f64| teeth_um.iter().copied().filter(|um| *um < tooth).fold(0.0, f64::max);
        let wetted = row.maybe("highest_wetted").unwrap_or(0.0);
        let dab = if row.yes("just_touched") {
            CombReading { wetted_um: below(wetted), touched_um: Some(wetted), dry_um: None }
        } else {
            CombReading { wetted_um: wetted, touched_um: None, dry_um: None }
        };
        let teeth = Teeth::new(teeth_um.clone()).expect("teeth rise");
        let interval = teeth.interval(&dab).expect("a dab of this comb");
        row.check("lo", interval.low_um.unwrap_or(0.0));
        row.check("hi", interval.high_um);
    }
}

/// Interval-censored normal likelihood computed with mpmath: its maximum, height and curvature are found here by a plain
/// search over the crate's likelihood.
#[test]
fn likelihood_peaks_where_mpmath_says() {
    for row in rows("comb/mle", 12) {
        let dabs = dabs(&row.cells("cells"));
        row.check_yes("identifiable", scatter_seen(&dabs));
        if !scatter_seen(&dabs) {
            let (low, high) = hull_um(&dabs);
            row.check("hull_lo", low);
            row.check("hull_hi", high);
            continue;
        }
        let log_l = |mu: f64, ln_sigma: f64| log_likelihood(&dabs, mu, ln_sigma.exp()).expect("numbers");
        let (mu, ln_sigma) = maximum(&log_l, 140.0, 20.0_f64.ln());
        let sigma = ln_sigma.exp();
        row.check("mu", mu);
        row.check("sigma", sigma);
        row.check("logL", log_l(mu, ln_sigma));
        row.check("se_mu", se_of_mean(&|m, s| log_likelihood(&dabs, m, s).expect("numbers"), mu, sigma));
    }
}

/// How often several dabs all fall in the gap that holds the film's mean although the film varies, computed with mpmath: with
/// the mean in the middle of the gap, and averaged over where in it. Identical readings do not prove an even film.
#[test]
fn dabs_in_one_gap_by_chance() {
    for row in rows("comb/one_tooth_prob", 3) {
        let (h, n, sigma) = (row.num("h"), row.num("n"), row.num("sigma"));
        let all_in = |gap_at: f64, mean: f64| {
            let dabs = vec![gap(gap_at, gap_at + h); n as usize];
            log_likelihood(&dabs, mean, sigma).expect("numbers").exp()
        };
        row.check("centred", all_in(100.0, 100.0 + 0.5 * h));
        const STEPS: usize = 500;
        let mean = |i: usize| 100.0 + h * (i as f64 + 0.5) / STEPS as f64;
        row.check("averaged", (0..STEPS).map(|i| all_in(100.0, mean(i))).sum::<f64>() / STEPS as f64);
    }
}

/// Compass search: no derivative, so nothing of the code under test is trusted but the likelihood.
fn maximum(f: &dyn Fn(f64, f64) -> f64, x: f64, y: f64) -> (f64, f64) {
    let (mut at, mut step) = ((x, y), (30.0, 1.0));
    while step.0 > 1e-7 {
        let tries =
            [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 1.0), (-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0)];
        let better = tries
            .iter()
            .map(|(dx, dy)| (at.0 + dx * step.0, at.1 + dy * step.1))
            .find(|(x, y)| f(*x, *y) > f(at.0, at.1));
        match better {
            Some(point) => at = point,
            None => step = (0.5 * step.0, 0.5 * step.1),
        }
    }
    at
}

fn se_of_mean(f: &dyn Fn(f64, f64) -> f64, mu: f64, sigma: f64) -> f64 {
    let h = 1e-3;
    let second = |dx: f64, dy: f64| (f(mu + dx, sigma + dy) - 2.0 * f(mu, sigma) + f(mu - dx, sigma - dy)) / (h * h);
    let (mm, ss) = (second(h, 0.0), second(0.0, h));
    let ms = 0.5 * (second(h, h) - mm - ss);
    (-ss / (mm * ss - ms * ms)).sqrt()
}

/// Posterior of the mean film computed on a fine two-dimensional grid with scipy (scripts/comb_posterior.py).
#[test]
fn posterior_agrees_with_scipy() {
    let table: serde_json::Value = serde_json::from_str(include_str!("data/comb_posterior.json")).expect("JSON");
    let cases = table.as_array().expect("a list");
    assert_eq!(cases.len(), 9);
    for case in cases {
        let cells: Vec<(Option<f64>, Option<f64>, usize)> = case["cells"]
            .as_array()
            .expect("cells")
            .iter()
            .map(|cell| (cell[0].as_f64(), cell[1].as_f64(), cell[2].as_u64().expect("count") as usize))
            .collect();
        let film = wet_film(&dabs(&cells), &CombPrior::default()).expect("a film");
        let sd = case["sd"].as_f64().expect("sd");
        let estimate = film.readings.estimate().expect("an estimate");
        for (name, got) in [("mean", film.mean_um), ("q025", estimate.low), ("q975", estimate.high), ("sd", film.sd_um)]
        {
            let expected = case[name].as_f64().expect("a number");
            assert!((got - expected).abs() < 0.03 * sd, "{cells:?} {name}: got {got}, scipy {expected}");
        }
    }
}

/// Three dabs (200, 250] give 224.8 ± 13.2 µm, not ± 8.3 as independent rectangles would (design choice of this worksheet).
#[test]
fn three_dabs_in_one_gap_stay_honest() {
    let film = wet_film(&[gap(200.0, 250.0); 3], &CombPrior::default()).expect("a film");
    assert!((film.mean_um - 224.8).abs() < 0.1, "{}", film.mean_um);
    assert!((film.sd_um - 13.2).abs() < 0.1, "{}", film.sd_um);
    assert!((film.bias_um - 0.025 * film.mean_um).abs() < 1e-9);
    // What is shown has the comb's own error in it, the dabs alone have not.
    let alone = film.readings.estimate().expect("an estimate");
    assert!((film.film_um.u() / alone.u() - 14.33 / 13.18).abs() < 0.02, "{:?} {alone:?}", film.film_um);
    assert!(!film.scatter_seen);
}

#[test]
fn film_beyond_the_comb_is_a_reason_not_a_number() {
    let error = wet_film(&[gap(300.0, None), gap(300.0, None)], &CombPrior::default()).unwrap_err();
    assert_eq!(error, CombError::NoUpperBound { above_um: 300.0 });
    assert_eq!(wet_film(&[], &CombPrior::default()).unwrap_err(), CombError::NoReadings);
}

/// No tooth wetted: zero film is a bound of its own, so there is a number.
#[test]
fn dry_teeth_only_give_a_film_between_zero_and_the_shortest() {
    let film = wet_film(&[gap(None, 25.0); 2], &CombPrior::default()).expect("a film");
    assert!(film.film_um.low >= -0.2 && film.film_um.high < 30.0, "{:?}", film.film_um);
    assert!((film.mean_um - 12.5).abs() < 1.0);
}

#[test]
fn impossible_dabs_say_why() {
    let teeth = Teeth::new(vec![25.0, 50.0, 75.0]).expect("teeth rise");
    let dab = |wetted_um, touched_um, dry_um| teeth.interval(&CombReading { wetted_um, touched_um, dry_um });
    assert_eq!(dab(100.0, None, None), Err(CombError::AboveLongest { wetted_um: 100.0, longest_um: 75.0 }));
    assert_eq!(dab(30.0, None, None), Err(CombError::NotATooth(30.0)));
    assert_eq!(dab(50.0, None, Some(25.0)), Err(CombError::DryNotAbove { wetted_um: 50.0, dry_um: 25.0 }));
    assert_eq!(dab(25.0, Some(75.0), None), Err(CombError::TouchedNotNext { wetted_um: 25.0, touched_um: 75.0 }));
    assert_eq!(dab(25.0, Some(50.0), Some(50.0)), Err(CombError::DryNotAbove { wetted_um: 50.0, dry_um: 50.0 }));
    assert_eq!(Teeth::new(vec![]), Err(CombError::NoTeeth));
    assert_eq!(Teeth::new(vec![25.0, 0.0]), Err(CombError::BadTooth(0.0)));
    assert_eq!(
        interval_on(&[], &CombReading { wetted_um: 0.0, touched_um: None, dry_um: None }),
        Err(CombError::NoTeeth)
    );
}

/// A comb with two edges: 100 ends the first and starts the second; a dab with nothing dry was read on the first.
#[test]
fn dab_without_a_dry_tooth_belongs_to_the_edge_that_ends_there() {
    let edges = [Teeth::new(vec![100.0, 150.0]).expect("rise"), Teeth::new(vec![50.0, 100.0]).expect("rise")];
    let open = interval_on(&edges, &CombReading { wetted_um: 100.0, touched_um: None, dry_um: None }).expect("fits");
    assert_eq!(open.high_um, None);
    let closed =
        interval_on(&edges, &CombReading { wetted_um: 100.0, touched_um: None, dry_um: Some(150.0) }).expect("fits");
    assert_eq!(closed.high_um, Some(150.0));
}

proptest! {
    #[test]
    fn any_dabs_give_an_ordered_film_inside_what_they_span(
        cells in prop::collection::vec((1.0..400.0_f64, 1.0..150.0_f64, 0..8_u8), 1..8),
    ) {
        let dabs: Vec<Interval> = cells
            .iter()
            .map(|&(low, width, kind)| match kind {
                0 => gap(None, low),
                1 => gap(low, None),
                _ => gap(low, low + width),
            })
            .collect();
        match wet_film(&dabs, &CombPrior::default()) {
            Ok(film) => {
                let e = film.film_um;
                prop_assert!(e.low.is_finite() && e.high.is_finite() && e.low <= e.mid && e.mid <= e.high);
                prop_assert!(film.sd_um > 0.0);
            }
            Err(error) => prop_assert!(matches!(error, CombError::NoUpperBound { .. }), "{}", error),
        }
    }

    #[test]
    fn more_dabs_in_the_same_gap_never_widen_the_film(n in 1..10_usize) {
        let sd = |n: usize| wet_film(&vec![gap(150.0, 175.0); n], &CombPrior::default()).expect("a film").sd_um;
        prop_assert!(sd(n + 1) <= sd(n) * 1.0001);
    }

    #[test]
    fn any_finite_intervals_are_survived(n in crate::awkward::numbers(8)) {
        let dabs = [gap(n[0], n[1]), gap(n[2], n[3]), gap(None, n[4]), gap(n[5], None)];
        let prior = CombPrior { spread: n[6], bias: n[7], ..CombPrior::default() };
        for (from, to) in [(0, 1), (0, 2), (0, 4), (2, 3), (3, 4)] {
            for prior in [prior, CombPrior::default()] {
                if let Ok(film) = wet_film(&dabs[from..to], &prior) {
                    prop_assert!(film.film_um.low.is_finite() && film.film_um.high.is_finite() && film.sd_um > 0.0);
                }
            }
        }
        if let Ok(log_l) = log_likelihood(&dabs, n[0], n[1]) {
            prop_assert!(log_l.is_finite());
        }
        let _ = Teeth::new(n[..3].to_vec()).and_then(|teeth| {
            teeth.interval(&CombReading { wetted_um: n[3], touched_um: Some(n[4]), dry_um: Some(n[5]) })
        });
    }
}
