//! What stands left and right of the plot: intervals at the wet weight, final levels, names.

use super::layout::GAP;
use super::look::Look;
use super::mark::Mark;
use super::picture::Picture;
use super::place;
use super::span::Span;
use super::text;
use super::trace::{Interval, Trace};

/// Width of one lane of intervals, CSS px.
pub(super) const LANE: f64 = 7.5;
/// Room of a name's mark, CSS px.
pub(super) const BULLET: f64 = 19.0;

/// A name at the right edge.
pub(super) struct Name {
    pub mark: Mark,
    pub text: String,
    /// Value it belongs to.
    pub y: f64,
}

/// What stands beside the plot.
pub(super) struct Ends {
    /// Interval and lane by trace, at the wet weight.
    pub starts: Vec<(usize, Interval, usize)>,
    pub start_lanes: usize,
    /// Final level and lane by trace.
    pub levels: Vec<(usize, Interval, usize)>,
    pub lane_count: usize,
    pub names: Vec<Name>,
    name_width: f64,
}

impl Ends {
    /// `height` is the least the plot will have, CSS px.
    pub fn of(picture: &Picture, values: Span, ages: Span, height: f64, look: &Look) -> Self {
        let (size, row, most_lanes) = (look.text_px(), look.row(), if look.wide() { 6 } else { 5 });
        let laned = |of: fn(&Trace) -> Option<Interval>, most: usize| {
            let held: Vec<_> = picture.traces.iter().enumerate().filter_map(|(i, t)| Some((i, of(t)?))).collect();
            let stretches: Vec<_> = held.iter().map(|(_, l)| (l.low, l.high)).collect();
            let lanes = place::lanes(&stretches, 0.03 * values.width(), most);
            let count = lanes.iter().max().map_or(0, |most| most + 1);
            let held: Vec<_> = held.into_iter().zip(lanes).map(|((i, l), lane)| (i, l, lane)).collect();
            (held, count)
        };
        let (levels, lane_count) = laned(|t| t.level, most_lanes);
        let (starts, start_lanes) = if ages.holds(0.0) { laned(|t| t.start, 3) } else { (Vec::new(), 0) };

        let room = 0.3 * look.width() - BULLET;
        let most = (height / row).floor().max(1.0) as usize;
        let mut names = Self::panels(&picture.traces, size, room);
        // Names of panels while they leave a third of the edge free; then one for each candidate.
        if names.len() * 3 > most * 2 {
            names = Self::candidates(&picture.traces, size, room);
        }
        names.truncate(most);
        order::sort_by(&mut names, |a, b| b.y.total_cmp(&a.y));
        let name_width = names.iter().map(|n| text::width(&n.text, size)).fold(0.0, f64::max);
        Self { starts, start_lanes, levels, lane_count, names, name_width }
    }

    fn panels(traces: &[Trace], size: f64, room: f64) -> Vec<Name> {
        traces
            .iter()
            .filter_map(|t| Some(Name { mark: t.mark, text: text::fit(&t.label, size, room), y: t.end()? }))
            .collect()
    }

    fn candidates(traces: &[Trace], size: f64, room: f64) -> Vec<Name> {
        let mut groups: Vec<(&Trace, Vec<f64>)> = Vec::new();
        for (trace, end) in traces.iter().filter_map(|t| Some((t, t.end()?))) {
            let same = |g: &&mut (&Trace, Vec<f64>)| g.0.mark == trace.mark && g.0.candidate == trace.candidate;
            match groups.iter_mut().find(same) {
                Some(group) => group.1.push(end),
                None => groups.push((trace, vec![end])),
            }
        }
        groups
            .into_iter()
            .map(|(trace, ends)| Name {
                mark: trace.mark,
                text: text::fit(&trace.candidate, size, room),
                y: ends.iter().sum::<f64>() / ends.len() as f64,
            })
            .collect()
    }

    /// Room they take right of the plot, CSS px; never less than half a word needs under the axis' end.
    pub fn width(&self) -> f64 {
        let lanes = if self.lane_count > 0 { GAP + self.lane_count as f64 * LANE } else { 0.0 };
        let names = if self.names.is_empty() { 0.0 } else { BULLET + self.name_width };
        (lanes + names + GAP).max(16.0)
    }
}
