//! What the blank tells: how the scale itself wandered.
//!
//! An uncoated panel is weighed in every round. Its mass does not change, so what its readings do slowly, the scale
//! does. A random-walk Kalman filter with a Rauch–Tung–Striebel smoother separates the slow part from the scatter.

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
    /// Smooths a blank's readings (t in h, reading less the first one in g; in time order) in units of `u` g.
    pub fn smooth(blank: &[(f64, f64)], u: f64) -> Self {
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

    /// Drift at `t_h`, g, and its variance, g²: between blank readings a random walk's smoothed mean is a straight line; before
    /// the first and after the last it stays where it was while its variance grows.
    pub fn state(&self, t_h: f64) -> (f64, f64) {
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

    /// Whether a blank was weighed at all.
    pub fn known(&self) -> bool {
        !self.states.is_empty()
    }

    /// Drift at `t_h`, g, in the frame of the blank's first reading.
    pub fn at(&self, t_h: f64) -> f64 {
        self.state(t_h).0
    }

    /// sd of the drift between a panel's first and last reading, g: √(P_last + P_first), at most 0.1 u; 0.1 u where no
    /// blank was weighed.
    pub fn sd(&self, first_h: f64, last_h: f64) -> f64 {
        let most = MOST_SD * self.u;
        if !self.known() { most } else { (self.state(first_h).1 + self.state(last_h).1).sqrt().min(most) }
    }
}

/// Variance a random walk gathers in `hours`, u².
fn walked(hours: f64) -> f64 {
    WALK * WALK * hours / 24.0
}
