//! A distribution that need not be symmetric, and what is worked out from it.

use super::estimate::{Estimate, Measured};
use super::input::{In, InputError, answer, finite, not_negative, within};
use super::mixture::{Bell, Mixture, thinned};
use serde::Serialize;

/// A distribution as weighted points, each blurred by the same normal error. It holds a skewed posterior (the points of a
/// grid) and a plain measured value (one point) alike.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Distribution {
    /// Values in rising order with weights that add up to 1.
    points: Vec<(f64, f64)>,
    /// Standard uncertainty of the blur, in the unit of the values.
    blur: f64,
}

impl From<Measured> for Distribution {
    /// # Panics
    /// Never; a value that is no number makes a distribution whose answers are refused.
    fn from(measured: Measured) -> Self {
        Self { points: vec![(measured.value, 1.0)], blur: measured.u }
    }
}

impl Distribution {
    /// Points with weights of any positive sum, in any order, and the standard uncertainty of a normal error that every
    /// point shares.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 3.0), (14.0, 1.0)], 0.5)?;
    /// assert!((posterior.mean() - 11.0).abs() < 1e-12);
    /// assert!((posterior.sd() - (3.0_f64 + 0.25).sqrt()).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn new(mut points: Vec<(f64, f64)>, blur: f64) -> Result<Self, InputError> {
        not_negative("uncertainty", blur)?;
        for &(value, weight) in &points {
            finite("value", value)?;
            not_negative("weight", weight)?;
        }
        points.retain(|point| point.1 > 0.0);
        let total: f64 = points.iter().map(|point| point.1).sum();
        if points.is_empty() {
            return Err(InputError::TooFew { what: "values", least: 1 });
        }
        answer(total)?;
        order::sort_by(&mut points, |a, b| a.0.total_cmp(&b.0));
        points.iter_mut().for_each(|point| point.1 /= total);
        Self { points, blur }.checked("uncertainty")
    }

    /// The points and their weights, rising, weights adding up to 1.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert_eq!(posterior.points()[1], (14.0, 0.75));
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Mean, in the unit of the values.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert_eq!(posterior.mean(), 13.0);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn mean(&self) -> f64 {
        self.points.iter().map(|(value, weight)| value * weight).sum()
    }

    /// Standard deviation, blur included.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert!((posterior.sd() - 3.25_f64.sqrt()).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn sd(&self) -> f64 {
        let mean = self.mean();
        let spread: f64 = self.points.iter().map(|(value, weight)| weight * (value - mean).powi(2)).sum();
        spread.sqrt().hypot(self.blur)
    }

    /// The same distribution with a further independent normal error.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert!((posterior.blurred(1.2).sd() - 3.0_f64.sqrt().hypot(1.3)).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    #[must_use]
    pub fn blurred(&self, u: f64) -> Self {
        Self { points: self.points.clone(), blur: self.blur.hypot(u).min(f64::MAX) }
    }

    /// Quantile for `0 < p < 1`: points without blur are joined by straight lines, blurred ones are solved for.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert!((posterior.quantile(0.625)? - 14.0).abs() < 1e-6, "half of the upper point lies below it");
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn quantile(&self, p: f64) -> Result<f64, InputError> {
        within("share", p, 0.0, 1.0, In::Shares)?;
        let spread = self.sd();
        // Less blur than this leaves steps that no solver can invert, and straight lines do as well.
        if self.blur <= 1e-3 * spread {
            let mut below = 0.0;
            let cumulated: Vec<(f64, f64)> = self
                .points
                .iter()
                .map(|&(value, weight)| {
                    below += weight;
                    (below - 0.5 * weight, value)
                })
                .collect();
            return answer(interpolate(&cumulated, p));
        }
        Mixture::normal(self.bells(usize::MAX)).quantile(p)
    }

    /// Mean with its 95 % interval.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// let shown = posterior.estimate()?;
    /// assert!(shown.low < 10.0 && shown.mid == 13.0 && shown.high > 14.0);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn estimate(&self) -> Result<Estimate, InputError> {
        let (low, mid, high) = (self.quantile(0.025)?, answer(self.mean())?, self.quantile(0.975)?);
        // A long tail can carry the mean past a quantile; the interval must still hold what is shown.
        Ok(Estimate { low: low.min(mid), mid, high: high.max(mid) })
    }

    /// The distribution's error about its mean, times `factor`, in the unit of the product: what it brings to a result that
    /// depends on it with that slope.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// let brings = posterior.error(-2.0)?;
    /// assert_eq!((brings.mean(), brings.points()[0]), (0.0, (-2.0, 0.75)));
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn error(&self, factor: f64) -> Result<Self, InputError> {
        finite("factor", factor)?;
        let mean = self.mean();
        let mut points: Vec<(f64, f64)> =
            self.points.iter().map(|&(value, weight)| ((value - mean) * factor, weight)).collect();
        if factor < 0.0 {
            points.reverse();
        }
        Self { points, blur: self.blur * factor.abs() }.checked("uncertainty of the forecast")
    }

    /// The distribution drawn together about its mean to a share of its width: what a better measurement is expected to leave.
    ///
    /// ```
    /// use comb_scale_science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// let then = posterior.narrowed(0.5)?;
    /// assert_eq!((then.mean(), then.sd()), (13.0, 0.5 * posterior.sd()));
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn narrowed(&self, share: f64) -> Result<Self, InputError> {
        let mean = self.mean();
        let mut then = self.error(within("share of the width", share, 0.0, 1.0, In::Shares)?)?;
        then.points.iter_mut().for_each(|point| point.0 += mean);
        Ok(then)
    }

    /// Mean of several values whose errors are one and the same: at every share the mean of their quantiles. No other way
    /// for the errors to hang together makes it wider, so more values do not average such an error away.
    ///
    /// ```
    /// use comb_scale_science::{Distribution, Measured};
    /// let (a, b) = (Distribution::from(Measured::new(80.0, 3.0)), Distribution::from(Measured::new(82.0, 5.0)));
    /// let mean = Distribution::mean_of_one_error(&[&a, &b])?;
    /// assert_eq!((mean.mean(), mean.sd()), (81.0, 4.0));
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn mean_of_one_error(all: &[&Self]) -> Result<Self, InputError> {
        let Some(first) = all.first() else { return Err(InputError::TooFew { what: "values", least: 1 }) };
        if all.len() == 1 {
            return Ok((*first).clone());
        }
        let n = all.len() as f64;
        let mut at = vec![0; all.len()];
        // Share of 1 up to which each distribution's present point reaches.
        let mut ends: Vec<f64> = all.iter().map(|one| one.points[0].1).collect();
        let (mut below, mut points) = (0.0, Vec::new());
        loop {
            let end = ends.iter().copied().fold(f64::INFINITY, f64::min);
            let value = all.iter().zip(&at).map(|(one, i)| one.points[*i].0 / n).sum();
            points.push((value, (end - below).max(0.0)));
            below = end;
            let mut moved = false;
            for ((one, i), reach) in all.iter().zip(&mut at).zip(&mut ends) {
                if *reach <= end && *i + 1 < one.points.len() {
                    *i += 1;
                    *reach += one.points[*i].1;
                    moved = true;
                }
            }
            if !moved {
                break;
            }
        }
        // What rounding left of the whole belongs to the uppermost point.
        if let Some(last) = points.last_mut() {
            last.1 += (1.0 - below).max(0.0);
        }
        Self::new(points, all.iter().map(|one| one.blur).sum::<f64>() / n)
    }

    /// Lets through what can be worked with: numbers all through, and no uncertainty below zero.
    pub(crate) fn checked(self, what: &'static str) -> Result<Self, InputError> {
        not_negative(what, self.blur)?;
        for (value, _) in &self.points {
            answer(*value)?;
        }
        answer(self.mean())?;
        answer(self.sd())?;
        Ok(self)
    }

    /// The distribution as at most `count` normal bells; mean and standard deviation of the whole are kept.
    pub(crate) fn bells(&self, count: usize) -> Vec<Bell> {
        let bell = |&(at, weight): &(f64, f64)| Bell { at, weight, scale: self.blur };
        thinned(self.points.iter().map(bell).collect(), count)
    }
}

/// Straight-line interpolation through `(x, y)` with rising x, flat outside.
fn interpolate(curve: &[(f64, f64)], x: f64) -> f64 {
    let after = curve.partition_point(|point| point.0 < x);
    if after == 0 {
        return curve[0].1;
    }
    let Some(&(x1, y1)) = curve.get(after) else { return curve[curve.len() - 1].1 };
    let (x0, y0) = curve[after - 1];
    if x1 > x0 { y0 + (y1 - y0) * (x - x0) / (x1 - x0) } else { y1 }
}
