//! The core that both charts share.

use super::frame::TimeFrame;
use super::layout;
use super::look::Look;
use super::scene::Scene;
use super::trace::Trace;

/// Something over time: a caption, a time frame and traces.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Picture {
    pub caption: String,
    pub frame: TimeFrame,
    pub traces: Vec<Trace>,
    /// The reading ringed: trace, reading.
    pub chosen: Option<(usize, usize)>,
}

impl Picture {
    pub fn new(caption: &str, frame: TimeFrame) -> Self {
        Self { caption: caption.to_owned(), frame, traces: Vec::new(), chosen: None }
    }

    /// The greatest age anything drawn has, h.
    pub fn last_age(&self) -> Option<f64> {
        let ages = self.traces.iter().flat_map(|t| {
            let points = t.points.iter().map(|p| p.t_h);
            points.chain(t.line.iter().map(|p| p.0)).chain(t.fan.iter().map(|s| s.t_h))
        });
        ages.fold(None, |most, t| Some(most.map_or(t, |m: f64| m.max(t))))
    }

    pub fn scene(&self, look: &Look) -> Scene {
        layout::lay_out(self, look)
    }
}
