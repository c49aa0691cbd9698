//! A distribution that need not be symmetric, and what is worked out from it.

use super::estimate::{Estimate, Measured, Z95, normal_cdf};
use super::input::{InputError, answer, finite, not_negative, positive, within};
use serde::Serialize;
use std::f64::consts::PI;

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
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 3.0), (14.0, 1.0)], 0.5)?;
    /// assert!((posterior.mean() - 11.0).abs() < 1e-12);
    /// assert!((posterior.sd() - (3.0_f64 + 0.25).sqrt()).abs() < 1e-12);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
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
        crate::order::sort_by(&mut points, |a, b| a.0.total_cmp(&b.0));
        points.iter_mut().for_each(|point| point.1 /= total);
        Ok(Self { points, blur })
    }

    /// From quantiles `(p, value)`, joined by straight lines; `p` and the values rise. The outermost values stand for all
    /// that lies beyond them.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let q = Distribution::from_quantiles(&[(0.025, 10.0), (0.5, 13.0), (0.975, 20.0)])?;
    /// assert!((q.estimate()?.low - 10.0).abs() < 0.2 && (q.estimate()?.high - 20.0).abs() < 0.4);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn from_quantiles(quantiles: &[(f64, f64)]) -> Result<Self, InputError> {
        const POINTS: usize = 80;
        if quantiles.is_empty() {
            return Err(InputError::TooFew { what: "values", least: 1 });
        }
        for &(p, value) in quantiles {
            within("share", p, 0.0, 1.0)?;
            finite("value", value)?;
        }
        let points = (0..POINTS).map(|i| (interpolate(quantiles, (i as f64 + 0.5) / POINTS as f64), 1.0)).collect();
        Self::new(points, 0.0)
    }

    /// The points and their weights, rising, weights adding up to 1.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert_eq!(posterior.points()[1], (14.0, 0.75));
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn points(&self) -> &[(f64, f64)] {
        &self.points
    }

    /// Standard uncertainty of the normal error on every point.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert_eq!(posterior.blur(), 0.5);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn blur(&self) -> f64 {
        self.blur
    }

    /// Mean, in the unit of the values.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert_eq!(posterior.mean(), 13.0);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn mean(&self) -> f64 {
        self.points.iter().map(|(value, weight)| value * weight).sum()
    }

    /// Standard deviation, blur included.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert!((posterior.sd() - 3.25_f64.sqrt()).abs() < 1e-12);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn sd(&self) -> f64 {
        let mean = self.mean();
        let spread: f64 = self.points.iter().map(|(value, weight)| weight * (value - mean).powi(2)).sum();
        spread.sqrt().hypot(self.blur)
    }

    /// The same distribution with a further independent normal error.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert!((posterior.blurred(1.2).blur() - 1.3).abs() < 1e-12);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    #[must_use]
    pub fn blurred(&self, u: f64) -> Self {
        Self { points: self.points.clone(), blur: self.blur.hypot(u) }
    }

    /// Quantile for `0 < p < 1`: points without blur are joined by straight lines, blurred ones are solved for.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// assert!((posterior.quantile(0.625)? - 14.0).abs() < 1e-6, "half of the upper point lies below it");
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn quantile(&self, p: f64) -> Result<f64, InputError> {
        within("share", p, 0.0, 1.0)?;
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
        let normals: Vec<(f64, f64, f64)> = self.points.iter().map(|&(v, w)| (v, w, self.blur)).collect();
        quantile_of_normals(&normals, p)
    }

    /// Mean with its 95 % interval.
    ///
    /// ```
    /// use comb_scale::science::Distribution;
    /// let posterior = Distribution::new(vec![(10.0, 1.0), (14.0, 3.0)], 0.5)?;
    /// let shown = posterior.estimate()?;
    /// assert!(shown.low < 10.0 && shown.mid == 13.0 && shown.high > 14.0);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn estimate(&self) -> Result<Estimate, InputError> {
        let (low, mid, high) = (self.quantile(0.025)?, answer(self.mean())?, self.quantile(0.975)?);
        // A long tail can carry the mean past a quantile; the interval must still hold what is shown.
        Ok(Estimate { low: low.min(mid), mid, high: high.max(mid) })
    }

    /// The distribution times `factor`, divided by independent measured values above zero, as mean with its 95 % interval.
    ///
    /// ```
    /// use comb_scale::science::{Measured, Distribution};
    /// let lost = Distribution::from(Measured::new(6.9, 0.1));
    /// let film = lost.divided(1e4, &[Measured::new(0.87, 0.03), Measured::new(900.0, 9.0)])?;
    /// assert!((film.mid - 88.12).abs() < 0.01 && (film.width() / 2.0 / 1.96 - 3.41).abs() < 0.02);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn divided(&self, factor: f64, by: &[Measured]) -> Result<Estimate, InputError> {
        const NORMALS: usize = 40;
        finite("factor", factor)?;
        let mut scale = factor;
        let mut relative: f64 = 0.0;
        for divisor in by {
            scale /= positive("divisor", divisor.checked("divisor")?.value)?;
            relative = relative.hypot(divisor.relative());
        }
        answer(scale)?;
        answer(relative)?;
        let mut normals = self.normals(NORMALS);
        for (value, _, sd) in &mut normals {
            *value *= scale;
            *sd = (*sd * scale).hypot(*value * relative);
        }
        let mid = answer(self.mean() * scale)?;
        let (low, high) = (quantile_of_normals(&normals, 0.025)?, quantile_of_normals(&normals, 0.975)?);
        Ok(Estimate { low: low.min(mid), mid, high: high.max(mid) })
    }

    /// The distribution as at most `count` normals `(mean, weight, sd)`, closer together in weight towards the tails so that
    /// the quantiles stay. Mean and standard deviation of the whole are kept.
    pub(crate) fn normals(&self, count: usize) -> Vec<(f64, f64, f64)> {
        // Logit of the outermost share that gets a normal of its own: 3 in 10 000.
        const REACH: f64 = 8.0;
        if self.points.len() <= count {
            return self.points.iter().map(|&(value, weight)| (value, weight, self.blur)).collect();
        }
        let mut below = 0.0;
        let binned = self.points.iter().map(|&(value, weight)| {
            let p: f64 = below + 0.5 * weight;
            below += weight;
            let along = 0.5 + 0.5 * (p / (1.0 - p)).ln().clamp(-REACH, REACH) / REACH;
            ((along * count as f64) as usize, value, weight)
        });
        let bins: Vec<(usize, f64, f64)> = binned.collect();
        bins.chunk_by(|a, b| a.0 == b.0)
            .map(|bin| {
                let weight: f64 = bin.iter().map(|point| point.2).sum();
                let mean = bin.iter().map(|point| point.1 * point.2).sum::<f64>() / weight;
                let variance = bin.iter().map(|point| (point.1 - mean).powi(2) * point.2).sum::<f64>() / weight;
                (mean, weight, variance.sqrt().hypot(self.blur))
            })
            .collect()
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

/// Quantile of a weighted sum of normals `(mean, weight, sd)` with weights adding up to 1, by Newton steps kept inside a
/// bracket.
pub(crate) fn quantile_of_normals(normals: &[(f64, f64, f64)], p: f64) -> Result<f64, InputError> {
    let mean: f64 = normals.iter().map(|(m, w, _)| m * w).sum();
    let spread = normals.iter().map(|(m, w, s)| w * ((m - mean).powi(2) + s * s)).sum::<f64>().sqrt();
    answer(mean)?;
    answer(spread)?;
    if spread == 0.0 {
        return Ok(mean);
    }
    // No weight above 1e-16 lies outside this bracket for the p in use.
    let reach = |sign: f64| normals.iter().map(move |(m, _, s)| m + sign * 9.0 * s);
    let mut low = reach(-1.0).fold(f64::INFINITY, f64::min);
    let mut high = reach(1.0).fold(f64::NEG_INFINITY, f64::max);
    let mut x = (mean + spread * Z95 * (2.0 * p - 1.0)).clamp(low, high);
    for _ in 0..200 {
        let (mut cdf, mut pdf) = (0.0, 0.0);
        for &(m, w, s) in normals {
            if s > 0.0 {
                let z = (x - m) / s;
                if z > 8.0 {
                    cdf += w;
                } else if z > -8.0 {
                    cdf += w * normal_cdf(z);
                    pdf += w * normal_pdf(z) / s;
                }
            } else if x >= m {
                cdf += w;
            }
        }
        if cdf < p {
            low = x;
        } else {
            high = x;
        }
        let newton = x - (cdf - p) / pdf;
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - x).abs() <= 1e-8 * spread {
            return answer(next);
        }
        x = next;
    }
    answer(x)
}

fn normal_pdf(z: f64) -> f64 {
    (-0.5 * z * z).exp() / (2.0 * PI).sqrt()
}
