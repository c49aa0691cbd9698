//! What the blank leaves open of a panel's newest weight.

use super::outcome::Forecast;

/// How sure a panel's newest weight is, and what the blank has to do with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NewestWeight {
    /// Its sd since the wet weight, g: the reading's own scatter, and the drift of the scale as far as the blank leaves it open.
    pub sd_g: f64,
    /// The drift's part of the variance, a share of 1. All panels of the round have it in common.
    pub blank_share: f64,
    /// The sd that is left when the blank is weighed three times in this round instead of once, g.
    pub blank_thrice_sd_g: f64,
}

impl Forecast {
    /// The newest kept weight. Where [`NewestWeight::blank_share`] is large, weighing the blank three times narrows all panels of
    /// the round; where it is small, the panel itself wants weighing again.
    ///
    /// Without a blank the drift is assumed, and a first weighing of it is what helps.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// let blank = readings.map(|(t_h, _)| Weighing::new(t_h, 800.0));
    /// let balance = Balance::new(Scale::new(0.1), &blank);
    /// let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let newest = answer.newest_weight();
    /// assert!(newest.blank_share > 0.1 && newest.blank_thrice_sd_g < newest.sd_g);
    /// ```
    #[must_use]
    pub fn newest_weight(&self) -> NewestWeight {
        let (own, drift) = (self.judged.newest_sd_g, self.noise.drift_sd_g);
        NewestWeight {
            sd_g: own.hypot(drift),
            blank_share: drift * drift / (own * own + drift * drift),
            blank_thrice_sd_g: own.hypot(self.judged.drift_sd_thrice_g),
        }
    }
}
