//! The plain fact beside the verdict: for how long the scale has seen no change.

use super::fit::Point;

/// A reading this many of its sd off the mean of the run is a change.
const OFF_SDS: f64 = 2.5;
/// So is a fall of the straight line through the run by so many of its own sd (one-sided 2.3 %).
const FALL_SDS: f64 = 2.0;

/// The longest run of weighings up to the last within which the scale sees no change beyond its scatter.
///
/// The rule: of all runs of kept readings that end with the newest one (repeats of a round averaged, drift removed), the longest
/// in which no reading lies over 2.5 of its sd from the run's mean, and the straight line through the run falls or rises by
/// no more than 2 of its own sd. It says what the scale can see and nothing of what is still to come: a panel that loses 0.1 g
/// a week is level for days on a scale of 0.1 g.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Level {
    /// From the first weighing of the run to the last, h; 0 where the last stands alone.
    pub hours: f64,
    /// Weighings (rounds) in it, the last one included.
    pub readings: usize,
}

/// The longest level run of readings in time order, whose single ones scatter by `scatter` g. `count` tells how many weighings a
/// reading is the mean of.
pub(super) fn level(points: &[Point], scatter: f64, count: impl Fn(usize) -> usize) -> Level {
    let sd = |i: usize| scatter / (count(i) as f64).sqrt();
    let last = points.len() - 1;
    let start = (0..last).find(|&start| {
        let of = || (start..=last).map(|i| (points[i].t_h, points[i].y, 1.0 / sd(i).powi(2)));
        let whole: f64 = of().map(|(_, _, w)| w).sum();
        let middle = of().map(|(t, _, w)| w * t).sum::<f64>() / whole;
        let mean = of().map(|(_, y, w)| w * y).sum::<f64>() / whole;
        let spread: f64 = of().map(|(t, _, w)| w * (t - middle).powi(2)).sum();
        let slope = of().map(|(t, y, w)| w * (t - middle) * (y - mean)).sum::<f64>() / spread;
        (start..=last).all(|i| (points[i].y - mean).abs() <= OFF_SDS * sd(i))
            && spread > 0.0
            && slope.abs() <= FALL_SDS / spread.sqrt()
    });
    let start = start.unwrap_or(last);
    Level { hours: points[last].t_h - points[start].t_h, readings: last - start + 1 }
}
