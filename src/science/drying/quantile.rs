//! From a log density on a few points to means and quantiles.

/// A shape-preserving cubic through points with rising x: Fritsch and Carlson's monotone interpolant with weighted
/// harmonic slopes (Fritsch and Butland 1984) and three-point ends.
pub(crate) struct Pchip<'a> {
    x: &'a [f64],
    y: &'a [f64],
    slopes: Vec<f64>,
}

impl<'a> Pchip<'a> {
    /// `x` must rise strictly and be as long as `y`.
    pub fn new(x: &'a [f64], y: &'a [f64]) -> Self {
        let n = x.len();
        let h: Vec<f64> = x.windows(2).map(|w| w[1] - w[0]).collect();
        let d: Vec<f64> = y.windows(2).zip(&h).map(|(w, h)| (w[1] - w[0]) / h).collect();
        let slopes = match n {
            0 | 1 => vec![0.0; n],
            2 => vec![d[0]; 2],
            _ => (0..n)
                .map(|i| {
                    if i == 0 {
                        end_slope(h[0], h[1], d[0], d[1])
                    } else if i == n - 1 {
                        end_slope(h[n - 2], h[n - 3], d[n - 2], d[n - 3])
                    } else if d[i - 1] * d[i] <= 0.0 {
                        0.0
                    } else {
                        let (w0, w1) = (2.0 * h[i] + h[i - 1], h[i] + 2.0 * h[i - 1]);
                        (w0 + w1) / (w0 / d[i - 1] + w1 / d[i])
                    }
                })
                .collect(),
        };
        Self { x, y, slopes }
    }

    pub fn at(&self, x: f64) -> f64 {
        if self.x.len() < 2 {
            return self.y.first().copied().unwrap_or(f64::NAN);
        }
        let i = self.x.partition_point(|&k| k <= x).clamp(1, self.x.len() - 1) - 1;
        let h = self.x[i + 1] - self.x[i];
        let t = (x - self.x[i]) / h;
        let (t2, t3) = (t * t, t * t * t);
        (2.0 * t3 - 3.0 * t2 + 1.0) * self.y[i]
            + (t3 - 2.0 * t2 + t) * h * self.slopes[i]
            + (3.0 * t2 - 2.0 * t3) * self.y[i + 1]
            + (t3 - t2) * h * self.slopes[i + 1]
    }
}

fn end_slope(h0: f64, h1: f64, d0: f64, d1: f64) -> f64 {
    let slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
    if slope * d0 <= 0.0 {
        0.0
    } else if d0 * d1 <= 0.0 && slope.abs() > 3.0 * d0.abs() {
        3.0 * d0
    } else {
        slope
    }
}

/// Values in rising order with weights: what quantiles are read from.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Weighted {
    /// (value, weight up to and including it), values in the order of cumulation.
    cumulated: Vec<(f64, f64)>,
}

impl Weighted {
    /// From values in the order in which they are to be cumulated, with weights of any total. `None` if the total
    /// weight is zero or not finite.
    pub fn new(values: impl Iterator<Item = (f64, f64)>) -> Option<Self> {
        let mut total = 0.0;
        let mut cumulated: Vec<(f64, f64)> = values
            .map(|(value, weight)| {
                total += weight;
                (value, total)
            })
            .collect();
        if !(total > 0.0 && total.is_finite()) {
            return None;
        }
        cumulated.iter_mut().for_each(|c| c.1 /= total);
        Some(Self { cumulated })
    }

    /// The value below which the share `q` lies, linear between values.
    pub fn quantile(&self, q: f64) -> f64 {
        let i = self.cumulated.partition_point(|c| c.1 < q);
        match (i.checked_sub(1).map(|b| self.cumulated[b]), self.cumulated.get(i)) {
            (Some((v0, w0)), Some(&(v1, w1))) => v0 + (v1 - v0) * (q - w0) / (w1 - w0),
            (None, Some(&(v, _))) => v,
            (Some((v, _)), None) => v,
            (None, None) => f64::NAN,
        }
    }

    /// The share of the weight up to `value`, for values in rising order.
    pub fn share_up_to(&self, value: f64) -> f64 {
        let i = self.cumulated.partition_point(|c| c.0 <= value);
        match (i.checked_sub(1).map(|b| self.cumulated[b]), self.cumulated.get(i)) {
            (Some((v0, w0)), Some(&(v1, w1))) if v1 > v0 => w0 + (w1 - w0) * (value - v0) / (v1 - v0),
            (Some((_, w)), _) => w,
            (None, _) => 0.0,
        }
    }

    /// Mean of `f(value)`.
    pub fn mean(&self, f: impl Fn(f64) -> f64) -> f64 {
        let mut before = 0.0;
        let mut sum = 0.0;
        for &(value, up_to) in &self.cumulated {
            if up_to > before {
                sum += f(value) * (up_to - before);
            }
            before = up_to;
        }
        sum
    }
}
