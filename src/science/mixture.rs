//! Weighted sums of bell curves: what a skewed distribution becomes once independent bell-shaped errors are added to it.

use super::distribution::Distribution;
use super::estimate::normal_cdf;
use super::input::{InputError, answer};
use super::stats::{NORMAL_FROM, t_quantile};
use statrs::distribution::{Continuous, ContinuousCDF, StudentsT};
use std::f64::consts::PI;

/// One bell of a sum: where it stands, its share of 1, and its scale (the standard deviation of a normal one).
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Bell {
    pub at: f64,
    pub weight: f64,
    pub scale: f64,
}

/// At most `count` normal bells in place of many, given in rising order: closer together in weight towards the tails so that
/// the quantiles stay. Mean and standard deviation of the whole are kept.
pub(crate) fn thinned(bells: Vec<Bell>, count: usize) -> Vec<Bell> {
    // Logit of the outermost share that gets a bell of its own: 3 in 10 000.
    const REACH: f64 = 8.0;
    if bells.len() <= count {
        return bells;
    }
    let mut below = 0.0;
    let place = |bell: Bell| {
        let p: f64 = below + 0.5 * bell.weight;
        below += bell.weight;
        let along = 0.5 + 0.5 * (p / (1.0 - p)).ln().clamp(-REACH, REACH) / REACH;
        ((along * count as f64) as usize, bell)
    };
    let placed: Vec<(usize, Bell)> = bells.into_iter().map(place).collect();
    placed
        .chunk_by(|a, b| a.0 == b.0)
        .map(|bin| {
            let sum = |of: &dyn Fn(&Bell) -> f64| bin.iter().map(|(_, bell)| bell.weight * of(bell)).sum::<f64>();
            let weight = sum(&|_| 1.0);
            let at = sum(&|bell| bell.at) / weight;
            let variance = sum(&|bell| (bell.at - at).powi(2) + bell.scale * bell.scale) / weight;
            Bell { at, weight, scale: variance.sqrt() }
        })
        .collect()
}

/// The difference of two independent distributions, first less second, as at most `count` normal bells.
pub(crate) fn difference(first: &Distribution, second: &Distribution, count: usize) -> Vec<Bell> {
    let (first, second) = (first.bells(count), second.bells(count));
    let less =
        |a: &Bell, b: &Bell| Bell { at: a.at - b.at, weight: a.weight * b.weight, scale: a.scale.hypot(b.scale) };
    let mut all: Vec<Bell> = first.iter().flat_map(|a| second.iter().map(move |b| less(a, b))).collect();
    order::sort_by(&mut all, |a, b| a.at.total_cmp(&b.at));
    thinned(all, count)
}

/// Bells of one shape, with weights that add up to 1.
#[derive(Clone, Debug)]
pub(crate) struct Mixture {
    bells: Vec<Bell>,
    shape: Shape,
}

#[derive(Clone, Copy, Debug)]
enum Shape {
    Normal,
    Student { t: StudentsT, degrees: f64 },
}

impl Shape {
    /// Probability below `z`.
    fn below(&self, z: f64) -> f64 {
        match self {
            Self::Normal => normal_cdf(z),
            Self::Student { t, .. } => t.cdf(z),
        }
    }

    fn density(&self, z: f64) -> f64 {
        match self {
            Self::Normal => (-0.5 * z * z).exp() / (2.0 * PI).sqrt(),
            Self::Student { t, .. } => t.pdf(z),
        }
    }

    /// From here on a tail is nothing beside any share that is asked for.
    fn end(&self) -> f64 {
        match self {
            Self::Normal => 8.0,
            Self::Student { .. } => f64::INFINITY,
        }
    }

    fn quantile(&self, p: f64) -> Result<f64, InputError> {
        match self {
            Self::Normal => t_quantile(p, f64::MAX),
            Self::Student { degrees, .. } => t_quantile(p, *degrees),
        }
    }
}

impl Mixture {
    /// Normal bells.
    pub(crate) fn normal(bells: Vec<Bell>) -> Self {
        Self { bells, shape: Shape::Normal }
    }

    /// Bells of Student's t; of so many degrees that it is the normal distribution to all digits, normal ones.
    pub(crate) fn student(bells: Vec<Bell>, degrees: f64) -> Result<Self, InputError> {
        if degrees > NORMAL_FROM {
            return Ok(Self::normal(bells));
        }
        let t = StudentsT::new(0.0, 1.0, degrees).map_err(|_| InputError::Extreme)?;
        Ok(Self { bells, shape: Shape::Student { t, degrees } })
    }

    /// Probability below and above a point. What stands exactly on it counts half to either side.
    pub(crate) fn sides(&self, x: f64) -> (f64, f64) {
        let (mut below, mut above) = (0.0, 0.0);
        for bell in &self.bells {
            // Each tail is worked out as a tail, so that small ones keep their digits.
            let (under, over) = if bell.scale > 0.0 {
                let z = (x - bell.at) / bell.scale;
                (self.shape.below(z), self.shape.below(-z))
            } else if x == bell.at {
                (0.5, 0.5)
            } else {
                (f64::from(x > bell.at), f64::from(x < bell.at))
            };
            below += bell.weight * under;
            above += bell.weight * over;
        }
        (below, above)
    }

    fn below_with_density(&self, x: f64) -> (f64, f64) {
        let (mut below, mut density) = (0.0, 0.0);
        for &Bell { at, weight, scale } in &self.bells {
            if scale > 0.0 {
                let z = (x - at) / scale;
                if z > self.shape.end() {
                    below += weight;
                } else if z > -self.shape.end() {
                    below += weight * self.shape.below(z);
                    density += weight * self.shape.density(z) / scale;
                }
            } else if x >= at {
                below += weight;
            }
        }
        (below, density)
    }

    /// Quantile for `0 < p < 1`, by Newton steps kept inside a bracket: no quantile of the whole lies beyond those of its
    /// bells.
    pub(crate) fn quantile(&self, p: f64) -> Result<f64, InputError> {
        let of_one = self.shape.quantile(p)?;
        let ends = || self.bells.iter().map(|bell| bell.at + bell.scale * of_one);
        let mut low = answer(ends().fold(f64::INFINITY, f64::min))?;
        let mut high = answer(ends().fold(f64::NEG_INFINITY, f64::max))?;
        let sum = |of: &dyn Fn(&Bell) -> f64| self.bells.iter().map(|bell| bell.weight * of(bell)).sum::<f64>();
        let mean = sum(&|bell| bell.at);
        let scale = sum(&|bell| (bell.at - mean).powi(2) + bell.scale * bell.scale).sqrt();
        let mut x = answer(mean + scale * of_one)?.clamp(low, high);
        for _ in 0..200 {
            if high - low <= 1e-8 * scale {
                break;
            }
            let (below, density) = self.below_with_density(x);
            if below < p {
                low = x;
            } else {
                high = x;
            }
            let newton = x - (below - p) / density;
            let next = if newton > low && newton < high { newton } else { low + 0.5 * (high - low) };
            let moved = (next - x).abs();
            x = next;
            if moved <= 1e-8 * scale {
                break;
            }
        }
        answer(x)
    }
}
