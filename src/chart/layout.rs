//! From a picture and a look to a scene: how far the axes reach, and what room the plot gets.

use super::builder::SceneBuilder;
use super::clip::Plot;
use super::ends::{Ends, LANE};
use super::flags::Flags;
use super::frame::TimeAxis;
use super::look::Look;
use super::picture::Picture;
use super::scene::Scene;
use super::sketch::Sketch;
use super::span::Span;
use super::text;
use super::ticks;

/// Room between words, and between a word and the edge, CSS px.
pub(super) const GAP: f64 = 4.0;
/// Room between a y value and its rule, CSS px.
pub(super) const BESIDE: f64 = 6.0;
/// How far, in heights of what was measured, the axis follows a wide projection or a stray reading.
const STRETCH: f64 = 0.8;

/// Age to CSS px and back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct AgeScale {
    axis: TimeAxis,
    scaled: Span,
    left: f64,
    width: f64,
}

impl AgeScale {
    fn new(axis: TimeAxis, ages: Span, left: f64, right: f64) -> Self {
        let scaled = Span::new(axis.scale(ages.low()), axis.scale(ages.high())).expect("scales keep a window open");
        Self { axis, scaled, left, width: right - left }
    }

    pub fn x(&self, t_h: f64) -> f64 {
        self.left + self.width * self.scaled.share(self.axis.scale(t_h))
    }

    pub fn age_at(&self, x: f64) -> f64 {
        let share = (x - self.left) / self.width;
        // NaN, which no tap gives, counts as the left end.
        self.axis.age(self.scaled.at(if share > 0.0 { share.min(1.0) } else { 0.0 }))
    }
}

/// Lays a picture out.
pub(super) fn lay_out(picture: &Picture, look: &Look) -> Scene {
    let ages = picture.frame.ages(picture.last_age());
    let reach = values(picture, ages);
    let values = reach.unwrap_or(Span::new(0.0, 1.0).expect("a plain range"));
    let size = look.text_px();
    let row = look.row();

    // The height if every row of words is needed settles ticks and names; what rows stay empty the plot then takes.
    let most_rows = if look.height() < 340.0 { 2 } else { 3 };
    let top_under = |rows: usize| GAP + row + rows as f64 * row + 1.5 * GAP;
    let bottom = look.height() - row - 2.0 * GAP;
    let least = bottom - top_under(most_rows);

    let y_ticks = reach.map_or(Vec::new(), |span| ticks::value_ticks(span, (least / (1.45 * row)).floor()));
    let digits = y_ticks.iter().map(|t| text::width(&t.label, size)).fold(0.0, f64::max);
    let ends = Ends::of(picture, values, ages, least, look);

    let starts = if ends.start_lanes > 0 { GAP + LANE * ends.start_lanes as f64 } else { 0.0 };
    let left = GAP + digits + BESIDE + starts;
    let right = look.width() - ends.width();
    let time = AgeScale::new(picture.frame.axis, ages, left, right);
    let flags = Flags::of(picture, ages, &time, size, most_rows, if starts > 0.0 { left } else { 1.0 }, right);
    let heads = usize::from(ends.lane_count > 0 || starts > 0.0);
    let plot = Plot { left, top: top_under(flags.rows().max(heads)), right, bottom };

    let mut builder = SceneBuilder { picture, look, plot, time, values, sketch: Sketch::default() };
    builder.ground(&y_ticks, left - starts);
    builder.ages(ages);
    builder.moments(&flags);
    builder.curves();
    builder.ends(&ends);
    let readings = builder.readings(ages);
    Scene { look: *look, items: builder.sketch.items, readings, time: Some(time) }
}

/// The y axis: it holds what was measured and fitted within the ages shown, and follows whiskers, fans, levels and hollow
/// readings only so far; a wide fan must not press the readings flat. `None` where there is nothing to hold.
fn values(picture: &Picture, ages: Span) -> Option<Span> {
    let shown = |t: f64| ages.holds(t);
    let (mut firm, mut whiskers, mut loose) = (Vec::new(), Vec::new(), Vec::new());
    for trace in &picture.traces {
        for p in trace.points.iter().filter(|p| shown(p.t_h)) {
            if p.hollow {
                loose.push(p.y);
            } else {
                firm.push(p.y);
                whiskers.extend([p.y - 2.0 * p.u, p.y + 2.0 * p.u]);
            }
        }
        firm.extend(trace.line.iter().filter(|(t, _)| shown(*t)).map(|(_, y)| *y));
        firm.extend(trace.level.iter().map(|l| l.mid));
        loose.extend(trace.fan.iter().filter(|s| shown(s.t_h)).flat_map(|s| [s.low, s.high]));
        loose.extend(trace.level.iter().flat_map(|l| [l.low, l.high]));
        if shown(0.0) {
            firm.extend(trace.start.iter().flat_map(|s| [s.low, s.mid, s.high]));
        }
    }
    // One value alone has no height to measure by: its whisker gives one.
    if firm.iter().all(|y| *y == firm[0]) {
        firm.extend(&whiskers);
    }
    loose.extend(whiskers);
    let span = match (Span::around(firm), Span::around(loose)) {
        (Some(firm), Some(loose)) => firm.stretched(loose, STRETCH),
        (one, other) => one.or(other)?,
    };
    Some(span.padded(0.06))
}
