//! What is drawn of one panel or candidate, in plain numbers.

use super::mark::Mark;
use super::span::{age, value};

/// One reading as drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Point {
    /// Place in the caller's list, counting those left out.
    pub index: usize,
    pub t_h: f64,
    pub y: f64,
    pub u: f64,
    pub hollow: bool,
}

/// A 95 % interval with its middle, every number drawable and in order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Interval {
    pub low: f64,
    pub mid: f64,
    pub high: f64,
}

impl Interval {
    fn new(low: f64, mid: f64, high: f64) -> Option<Self> {
        let (low, mid, high) = (value(low)?, value(mid)?, value(high)?);
        Some(Self { low: low.min(mid).min(high), mid, high: high.max(mid).max(low) })
    }
}

/// The 95 % fan at one age.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Slice {
    pub t_h: f64,
    pub low: f64,
    pub high: f64,
}

/// The drawing of one panel: its readings, fitted line, fan and projected final level.
///
/// Times are ages in hours since the wet weight; values are in the unit the chart's caption names. Everything that
/// cannot be drawn (not finite, a negative age, beyond [`LARGEST_VALUE`](super::LARGEST_VALUE) or
/// [`LONGEST_AGE_H`](super::LONGEST_AGE_H)) is left out here, so no chart can hold it.
///
/// ```
/// use chart::{Mark, Trace};
/// let trace = Trace::new("A1", "Candidate A", Mark::of(0))
///     .reading(0.0, 0.0, 0.08, false)
///     .reading(24.0, 21.4, 0.08, false)
///     .reading(24.5, f64::NAN, 0.08, false) // left out
///     .line([(0.0, 0.0), (24.0, 21.2), (72.0, 24.0)])
///     .fan([(24.0, 21.1, 21.3), (72.0, 23.2, 24.9)])
///     .level(23.5, 24.6, 26.0);
/// assert_eq!(trace.drawn(), 2);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    pub(super) label: String,
    pub(super) candidate: String,
    pub(super) mark: Mark,
    pub(super) points: Vec<Point>,
    pub(super) line: Vec<(f64, f64)>,
    pub(super) fan: Vec<Slice>,
    pub(super) start: Option<Interval>,
    pub(super) level: Option<Interval>,
    readings: usize,
}

impl Trace {
    /// An empty trace: the panel's own label, its candidate's label (used where there is no room to name each panel)
    /// and the candidate's mark.
    pub fn new(label: &str, candidate: &str, mark: Mark) -> Self {
        Self {
            label: label.to_owned(),
            candidate: candidate.to_owned(),
            mark,
            points: Vec::new(),
            line: Vec::new(),
            fan: Vec::new(),
            start: None,
            level: None,
            readings: 0,
        }
    }

    /// Adds a reading: age (h), value, standard uncertainty of the value, and whether it is drawn hollow (flagged or
    /// set aside). Readings are known by their place among these calls, those left out included. The whisker reaches
    /// two standard uncertainties each way; an uncertainty that is not a positive number draws none.
    pub fn reading(mut self, t_h: f64, y: f64, u: f64, hollow: bool) -> Self {
        let index = self.readings;
        self.readings += 1;
        if let (Some(t_h), Some(y)) = (age(t_h), value(y)) {
            let u = value(u).filter(|u| *u > 0.0).unwrap_or(0.0);
            self.points.push(Point { index, t_h, y, u, hollow });
        }
        self
    }

    /// The fitted line through (age in h, value), by rising age. It is drawn from dot to dot: give a hundred or more,
    /// evenly spaced in √age.
    pub fn line(mut self, line: impl IntoIterator<Item = (f64, f64)>) -> Self {
        self.line = line.into_iter().filter_map(|(t, y)| Some((age(t)?, value(y)?))).collect();
        self
    }

    /// The 95 % fan beyond the last reading: (age in h, low, high), by rising age.
    pub fn fan(mut self, fan: impl IntoIterator<Item = (f64, f64, f64)>) -> Self {
        self.fan = fan
            .into_iter()
            .filter_map(|(t, a, b)| {
                let (t_h, a, b) = (age(t)?, value(a)?, value(b)?);
                Some(Slice { t_h, low: a.min(b), high: a.max(b) })
            })
            .collect();
        self
    }

    /// The projected final level with its 95 % interval, drawn at the right edge. Left out unless all three can be
    /// drawn.
    pub fn level(mut self, low: f64, mid: f64, high: f64) -> Self {
        self.level = Interval::new(low, mid, high);
        self
    }

    /// An interval known at age 0, drawn as a bar there: the film as the comb saw it.
    pub fn start(mut self, low: f64, mid: f64, high: f64) -> Self {
        self.start = Interval::new(low, mid, high);
        self
    }

    /// How many readings can be drawn.
    pub fn drawn(&self) -> usize {
        self.points.len()
    }

    /// The value at the right end: the projected level, else the end of the line, else the last reading.
    pub(super) fn end(&self) -> Option<f64> {
        let last = |a: &&Point, b: &&Point| a.t_h.total_cmp(&b.t_h);
        self.level
            .map(|l| l.mid)
            .or_else(|| self.line.last().map(|p| p.1))
            .or_else(|| self.points.iter().filter(|p| !p.hollow).max_by(last).map(|p| p.y))
            .or_else(|| self.points.iter().max_by(last).map(|p| p.y))
            .or_else(|| self.start.map(|s| s.mid))
    }
}
