//! What has left the panels, over time.

use super::frame::TimeFrame;
use super::look::Look;
use super::picture::Picture;
use super::scene::Scene;
use super::trace::Trace;

/// Loss over time: readings with their scale uncertainty, fitted lines, fans and final levels, one trace a panel.
///
/// An example stands at the head of the [room](super).
#[derive(Clone, Debug, PartialEq)]
pub struct LossChart(Picture);

impl LossChart {
    /// An empty chart. The caption names the quantity and its unit: "Lost, g", "Left, % of wet coat".
    pub fn new(caption: &str, frame: TimeFrame) -> Self {
        Self(Picture::new(caption, frame))
    }

    /// Adds a panel.
    pub fn panel(mut self, trace: Trace) -> Self {
        self.0.traces.push(trace);
        self
    }

    /// Rings one reading: trace and reading as a [`Hit`](super::Hit) gives them.
    pub fn chosen(mut self, trace: usize, reading: usize) -> Self {
        self.0.chosen = Some((trace, reading));
        self
    }

    /// Lays the chart out.
    pub fn scene(&self, look: &Look) -> Scene {
        self.0.scene(look)
    }
}
