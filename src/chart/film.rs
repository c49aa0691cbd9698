//! The film from the comb to the final build.

use super::frame::TimeFrame;
use super::look::Look;
use super::mark::Mark;
use super::picture::Picture;
use super::scene::Scene;
use super::trace::Trace;

/// The film of one panel or candidate over time, in the unit of the chart's caption.
///
/// ```
/// use chart::{FilmChart, FilmTrace, Look, Mark, TimeAxis, TimeFrame};
/// let film = FilmTrace::new("A1", "Candidate A", Mark::of(0))
///     .comb(200.0, 212.0, 225.0)
///     .path([(0.0, 212.0), (24.0, 131.0), (504.0, 118.0)])
///     .fan([(336.0, 117.0, 121.0), (504.0, 114.0, 121.0)])
///     .spot(336.0, 120.0, 2.0, false)
///     .final_build(113.0, 118.0, 121.0);
/// let chart = FilmChart::new("Film, µm", TimeFrame::new(TimeAxis::SquareRoot)).film(film);
/// assert_eq!(chart.scene(&Look::new(328.0, 260.0)).readings().len(), 1);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct FilmTrace(Trace);

impl FilmTrace {
    /// An empty trace; the labels and mark of [`Trace::new`].
    pub fn new(label: &str, candidate: &str, mark: Mark) -> Self {
        Self(Trace::new(label, candidate, mark))
    }

    /// The interval of the comb readings after the last coat, drawn as a bar at age 0.
    pub fn comb(self, low: f64, mid: f64, high: f64) -> Self {
        Self(self.0.start(low, mid, high))
    }

    /// The projected film: (age in h, film).
    pub fn path(self, path: impl IntoIterator<Item = (f64, f64)>) -> Self {
        Self(self.0.line(path))
    }

    /// The 95 % fan of the projection: (age in h, low, high).
    pub fn fan(self, fan: impl IntoIterator<Item = (f64, f64, f64)>) -> Self {
        Self(self.0.fan(fan))
    }

    /// A gauge spot: age in h, dry film, its standard uncertainty, and whether it is drawn hollow (film still soft, or
    /// set aside).
    pub fn spot(self, t_h: f64, film: f64, u: f64, hollow: bool) -> Self {
        Self(self.0.reading(t_h, film, u, hollow))
    }

    /// The final build with its 95 % interval.
    pub fn final_build(self, low: f64, mid: f64, high: f64) -> Self {
        Self(self.0.level(low, mid, high))
    }
}

/// Film over time: comb, projected path with fan, gauge spots, final build.
#[derive(Clone, Debug, PartialEq)]
pub struct FilmChart(Picture);

impl FilmChart {
    /// An empty chart. The caption names the quantity and its unit: "Film, µm".
    pub fn new(caption: &str, frame: TimeFrame) -> Self {
        Self(Picture::new(caption, frame))
    }

    /// Adds the film of a panel or candidate.
    pub fn film(mut self, film: FilmTrace) -> Self {
        self.0.traces.push(film.0);
        self
    }

    /// Rings one spot: trace and spot as a [`Hit`](super::Hit) gives them.
    pub fn chosen(mut self, trace: usize, spot: usize) -> Self {
        self.0.chosen = Some((trace, spot));
        self
    }

    /// Lays the chart out.
    pub fn scene(&self, look: &Look) -> Scene {
        self.0.scene(look)
    }
}
