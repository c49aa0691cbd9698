//! What a forecast knows of its scale: how far it drifted, when it jumped, and what is in doubt.

use super::drift::{Doubt, Jump};
use super::outcome::{Forecast, Warning};

impl Forecast {
    /// How much more balance `balance` shows at `t_h` (test's clock, h) than the wet weight's did then, g: what is to be
    /// added to a mass on the curve for what that scale will show. 0 where no blank tells.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 436.7), (48.0, 435.6)];
    /// // Overnight the scale jumped by 5 g, as the blank shows.
    /// let blank = readings.map(|(t_h, _)| Weighing::new(t_h, if t_h < 12.0 { 800.0 } else { 805.0 }));
    /// let balance = Balance::new(Scale::new(0.1), &blank);
    /// let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!((answer.drift_at_g(0, 72.0) - 5.0).abs() < 0.1);
    /// assert!((answer.lost_g - 8.0).abs() < 0.1);
    /// ```
    #[must_use]
    pub fn drift_at_g(&self, balance: u32, t_h: f64) -> f64 {
        self.drifts.between((self.wet_balance, self.wet_t_h), (balance, t_h))
    }

    /// How far off the blank was that was weighed on balance `balance` within an hour of `t_h` (test's clock, h) and is
    /// skipped, as no other weighing of it says the same, g: a slip of the blank, or a scale that was out for one visit.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 436.7), (48.0, 430.6)];
    /// let blank = readings.map(|(t_h, _)| Weighing::new(t_h, if t_h == 24.0 { 805.0 } else { 800.0 }));
    /// let balance = Balance::new(Scale::new(0.1), &blank);
    /// let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!((answer.blank_skipped_g(0, 24.2).unwrap() - 5.0).abs() < 0.1);
    /// assert_eq!(answer.blank_skipped_g(0, 48.0), None);
    /// ```
    #[must_use]
    pub fn blank_skipped_g(&self, balance: u32, t_h: f64) -> Option<f64> {
        self.drifts.skipped_about((balance, t_h))
    }

    /// Jumps of the scale since the wet weight, in time order.
    pub fn jumps(&self) -> impl Iterator<Item = &Jump> {
        self.warnings.iter().filter_map(|warning| match warning {
            Warning::Jumped(jump) => Some(jump),
            _ => None,
        })
    }

    /// What is in doubt about what balance `balance` showed at `t_h` (test's clock, h), where anything is.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 435.6)];
    /// use comb_scale_science::drying::{Doubt, Standing};
    /// // The newest weighing of the blank shows 5 g more, and no other says so yet.
    /// let blank = readings.map(|(t_h, _)| Weighing::new(t_h, if t_h < 36.0 { 800.0 } else { 805.0 }));
    /// let balance = Balance::new(Scale::new(0.1), &blank);
    /// let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert_eq!(answer.doubt_at(0, 24.0), None);
    /// assert_eq!(answer.readings[6], Standing::InDoubt(answer.doubt_at(0, 48.0).unwrap()));
    /// ```
    #[must_use]
    pub fn doubt_at(&self, balance: u32, t_h: f64) -> Option<Doubt> {
        self.drifts.too_doubtful((balance, t_h))
    }
}
