//! What the blank tells: how the scale itself wandered.
//!
//! An uncoated panel is weighed in every round. Its mass does not change, so what its readings do slowly, the scale
//! does. A random-walk Kalman filter with a Rauch–Tung–Striebel smoother separates the slow part from the scatter.

use super::noise::{SumOfSquares, largest_scatter};
use super::panel::{Say, Scale, Weighing};

/// Process sd, in u per √day.
const WALK: f64 = 0.03;
/// Reading sd, in u.
const READING: f64 = 0.085;
/// Variance of the start, in u².
const START_VARIANCE: f64 = 0.09;
/// Innovations over this are skipped, in u.
const LARGEST_INNOVATION: f64 = 0.6;
/// Drift sd where nothing is known, and the most it is believed to be, in u.
const MOST_SD: f64 = 0.1;

/// A balance with the readings of its blank, in time order: made once per balance, shared by its panels.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// Division and repeatability.
    pub scale: Scale,
    /// Kept blank readings (t on the test's clock in h, reading less the first one in g), in time order.
    blank: Vec<(f64, f64)>,
    differences: SumOfSquares,
}

impl Balance {
    /// Takes a balance's blank readings, in any order; none at all is fine, and so are rounds in which the blank was
    /// forgotten. Readings set aside or not finite are left out.
    ///
    /// ```
    /// use comb_scale::science::drying::{Balance, Scale, Weighing};
    /// let balance = Balance::new(Scale::new(0.1), &[Weighing::new(0.0, 1057.7), Weighing::new(24.0, 1057.8)]);
    /// assert_eq!(balance.blank_readings(), 2);
    /// ```
    #[must_use]
    pub fn new(scale: Scale, blank: &[Weighing]) -> Self {
        let mut kept: Vec<(f64, f64)> = blank
            .iter()
            .filter(|w| w.say != Say::SetAside && w.t_h.is_finite() && w.gross_g.is_finite())
            .map(|w| (w.t_h, w.gross_g))
            .collect();
        crate::order::sort_by(&mut kept, |a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let most = largest_scatter(scale.division_g);
        let mut differences = SumOfSquares::default();
        for pair in kept.windows(2) {
            let step = pair[1].1 - pair[0].1;
            if step.abs() <= most {
                differences.sum += step * step;
                differences.count += 1.0;
            }
        }
        if let Some(&(_, first)) = kept.first() {
            kept.iter_mut().for_each(|(_, z)| *z -= first);
        }
        Self { scale, blank: kept, differences }
    }

    /// How many blank readings are kept.
    #[must_use]
    pub fn blank_readings(&self) -> usize {
        self.blank.len()
    }

    pub(crate) fn differences(&self) -> SumOfSquares {
        self.differences
    }

    /// Smooths the blank in units of `u` g.
    pub(crate) fn drift(&self, u: f64) -> Drift {
        Drift::smooth(&self.blank, u)
    }
}

/// One smoothed state: (time h, drift g, variance g²).
#[derive(Debug, Clone, Copy, PartialEq)]
struct State {
    t_h: f64,
    mean: f64,
    variance: f64,
}

/// The smoothed drift of a balance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drift {
    states: Vec<State>,
    u: f64,
}

impl Drift {
    fn smooth(blank: &[(f64, f64)], u: f64) -> Self {
        // Filter forwards: (mean, variance) after each reading and the variance predicted just before it.
        let mut states: Vec<State> = Vec::with_capacity(blank.len());
        let mut predicted = Vec::with_capacity(blank.len());
        let (mut mean, mut variance) = (0.0, START_VARIANCE);
        let mut before = blank.first().map_or(0.0, |b| b.0);
        for &(t_h, z) in blank {
            variance += walked(t_h - before);
            before = t_h;
            predicted.push(variance);
            let innovation = z / u - mean;
            if innovation.abs() <= LARGEST_INNOVATION {
                let gain = variance / (variance + READING * READING);
                mean += gain * innovation;
                variance *= 1.0 - gain;
            }
            states.push(State { t_h, mean, variance });
        }
        // Smooth backwards.
        for i in (0..states.len().saturating_sub(1)).rev() {
            let next = states[i + 1];
            let state = &mut states[i];
            let gain = state.variance / predicted[i + 1];
            // A random walk predicts its own mean.
            state.mean += gain * (next.mean - state.mean);
            state.variance += gain * gain * (next.variance - predicted[i + 1]);
        }
        for s in &mut states {
            s.mean *= u;
            s.variance *= u * u;
        }
        Self { states, u }
    }

    /// Drift at `t_h` and its variance: between blank readings a random walk's smoothed mean is a straight line; before
    /// the first and after the last it stays where it was while its variance grows.
    fn state(&self, t_h: f64) -> (f64, f64) {
        let (Some(first), Some(last)) = (self.states.first(), self.states.last()) else {
            return (0.0, 0.0);
        };
        let walk = |h: f64| walked(h) * self.u * self.u;
        if t_h <= first.t_h {
            return (first.mean, first.variance + walk(first.t_h - t_h));
        }
        if t_h >= last.t_h {
            return (last.mean, last.variance + walk(t_h - last.t_h));
        }
        let i = self.states.partition_point(|s| s.t_h <= t_h);
        let (a, b) = (self.states[i - 1], self.states[i]);
        let share = (t_h - a.t_h) / (b.t_h - a.t_h);
        let bridge = walk(b.t_h - a.t_h) * share * (1.0 - share);
        (a.mean + share * (b.mean - a.mean), a.variance + share * (b.variance - a.variance) + bridge)
    }

    /// Drift at `t_h`, g, in the frame of the blank's first reading.
    pub fn at(&self, t_h: f64) -> f64 {
        self.state(t_h).0
    }

    /// sd of the drift between a panel's first and last reading, g: √(P_last + P_first), at most 0.1 u; 0.1 u where no
    /// blank was weighed.
    pub fn sd(&self, first_h: f64, last_h: f64) -> f64 {
        let most = MOST_SD * self.u;
        if self.states.is_empty() { most } else { (self.state(first_h).1 + self.state(last_h).1).sqrt().min(most) }
    }
}

/// Variance a random walk gathers in `hours`, u².
fn walked(hours: f64) -> f64 {
    WALK * WALK * hours / 24.0
}
