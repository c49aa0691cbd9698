//! What had left a panel before it was first weighed: the fall of its curve at the first weight, carried back.

use super::interval::Estimate;
use super::model::Curve;
use super::outcome::Forecast;

/// Farther back than this nobody tried it, h.
pub const LONGEST_BEFORE_H: f64 = 0.6;
/// How fast it fell before the first weight as a share of how fast at it: least, likely and most. The solvent that leaves in
/// minutes is seen in none of the later weights, so the limits are those that held for 500 simulated panels with their first
/// weight taken away (`tests/science/drying/before.rs`).
const EARLIER: [f64; 3] = [0.3, 0.85, 2.6];

impl Forecast {
    /// What had left by the first weighing, `before_h` h after the last coat, g; `None` where that is negative or beyond
    /// [`LONGEST_BEFORE_H`].
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let before = answer.lost_before_g(0.05).unwrap();
    /// assert!(before.low > 0.0 && before.high < 0.6);
    /// assert_eq!(answer.lost_before_g(2.0), None);
    /// ```
    #[must_use]
    pub fn lost_before_g(&self, before_h: f64) -> Option<Estimate> {
        let fell = |curve: &Curve| curve.first_fall() * before_h;
        (0.0..=LONGEST_BEFORE_H).contains(&before_h).then(|| {
            let of = self.curves.loss_estimate(fell);
            let [least, likely, most] = EARLIER;
            Estimate { mean: of.mean * likely, median: of.median * likely, low: of.low * least, high: of.high * most }
        })
    }
}
