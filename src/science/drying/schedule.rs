//! When to weigh next.

use super::outcome::Forecast;

/// Default ages of weigh-ins, h: 0, 0.5, 1, 4, 8 h, then daily to 10 d, then 12 and 14 d (daily again after a move).
///
/// ```
/// use comb_scale_science::drying::default_ages_h;
/// assert_eq!(default_ages_h()[..6], [0.0, 0.5, 1.0, 4.0, 8.0, 24.0]);
/// ```
#[must_use]
pub fn default_ages_h() -> Vec<f64> {
    let days = (1..=10).chain([12, 14]).map(|d| f64::from(d) * 24.0);
    [0.0, 0.5, 1.0, 4.0, 8.0].into_iter().chain(days).collect()
}

/// How much more than a normal belief's the width of a long-tailed one shrinks, as a power of the share.
const TAIL_POWER: f64 = 1.35;

/// What a reading at some time would do for the answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gain {
    /// Time on the test's clock, h.
    pub t_h: f64,
    /// To what share of its width one more reading then is expected to narrow the interval of the final mass.
    pub share: f64,
}

impl Forecast {
    /// How much one more reading at each of `candidates` (test's clock, h) is expected to narrow the final mass.
    ///
    /// share = √(1 − cov(c₀, m′)² / (var c₀ · (var m′ + v + s²))) with m′ the mass then over the plateau grid, v what
    /// its other parameters leave open (precision at the maximum) and s the scatter of a reading: the posterior variance
    /// of a linear-normal update, to the power 1.35, since a reading cuts off more of the belief's long tail than of its
    /// middle (found on the simulated panels). The most useful is nearly always the latest one you can wait for.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let gains = answer.next_weigh_in([72.0, 96.0]);
    /// assert!(gains[1].share < gains[0].share, "the later reading narrows more");
    /// ```
    pub fn next_weigh_in(&self, candidates: impl IntoIterator<Item = f64>) -> Vec<Gain> {
        candidates.into_iter().map(|t_h| Gain { t_h, share: self.share(t_h) }).collect()
    }

    fn share(&self, t_h: f64) -> f64 {
        let curves = &self.curves;
        let hours = curves.hours(self.age(t_h));
        let (mut total, mut c1, mut m1, mut cc, mut cm, mut mm) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        let reference = curves.best.mass(hours);
        for (x, mass, weight) in curves.mixture(|c| c.mass(hours)) {
            let (c, m) = (curves.top - x.exp() - curves.best.plateau, mass - reference);
            total += weight;
            c1 += weight * c;
            m1 += weight * m;
            cc += weight * c * c;
            cm += weight * c * m;
            mm += weight * m * m;
        }
        if !(total > 0.0) {
            return 1.0;
        }
        let (c1, m1) = (c1 / total, m1 / total);
        let (var_c, cov, var_m) = (cc / total - c1 * c1, cm / total - c1 * m1, mm / total - m1 * m1);
        let noise = curves.reading_sd.powi(2) + curves.left_open(hours);
        let explained = cov * cov / (var_c * (var_m + noise));
        if explained.is_finite() { (1.0 - explained.clamp(0.0, 1.0)).powf(0.5 * TAIL_POWER) } else { 1.0 }
    }
}
