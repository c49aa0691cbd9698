//! A number with its 95 % interval, as forecasts give it.

/// An estimate with its 95 % interval; mean is what to show as the one number. The limits of a mass are its 3 % and 98 %
/// quantiles, those of a loss its 2 % and 97 %: where a loss ends suddenly the truth lies high, while the lower tail of a
/// mass is long and says little.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// Posterior mean.
    pub mean: f64,
    /// Posterior median.
    pub median: f64,
    /// Lower limit.
    pub low: f64,
    /// Upper limit.
    pub high: f64,
}

impl Estimate {
    /// Each value put through a rising function.
    pub(super) fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self { mean: f(self.mean), median: f(self.median), low: f(self.low), high: f(self.high) }
    }

    /// Limits widened about the median: hypot(median − q, 1.96 sd).
    pub(super) fn widened(self, sd: f64) -> Self {
        Self {
            low: self.median - (self.median - self.low).hypot(1.96 * sd),
            high: self.median + (self.high - self.median).hypot(1.96 * sd),
            ..self
        }
    }

    /// Each value that much higher.
    ///
    /// ```
    /// use comb_scale_science::drying::Estimate;
    /// let mass = Estimate { mean: 430.0, median: 430.1, low: 428.5, high: 430.5 };
    /// assert_eq!(mass.moved(5.0).low, 433.5);
    /// ```
    #[must_use]
    pub fn moved(self, by: f64) -> Self {
        self.map(|m| m + by)
    }

    /// No value over `most`: shrinkage, say, is never more than the film that was sprayed.
    ///
    /// ```
    /// use comb_scale_science::drying::Estimate;
    /// let um = Estimate { mean: 60.0, median: 50.0, low: 20.0, high: 190.0 };
    /// assert_eq!(um.at_most(150.0).high, 150.0);
    /// ```
    #[must_use]
    pub fn at_most(self, most: f64) -> Self {
        self.map(|v| v.min(most))
    }

    /// Width of the interval.
    ///
    /// ```
    /// use comb_scale_science::drying::Estimate;
    /// let mass = Estimate { mean: 430.0, median: 430.1, low: 428.5, high: 430.5 };
    /// assert_eq!(mass.width(), 2.0);
    /// ```
    #[must_use]
    pub fn width(&self) -> f64 {
        self.high - self.low
    }
}
