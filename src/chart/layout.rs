//! From a picture and a look to a scene.

use super::clip::Plot;
use super::frame::{MomentKind, TimeAxis};
use super::look::Look;
use super::mark::dashed;
use super::palette::Ink;
use super::picture::Picture;
use super::place::{self, Flag};
use super::scene::{Dot, Hit, Item, Scene, Side};
use super::span::Span;
use super::text;
use super::ticks::{self, Tick};
use super::trace::{Interval, Point, Trace};

/// Room between words, and between a word and the edge, CSS px.
const GAP: f64 = 4.0;
/// Width of one lane of final levels, CSS px.
const LANE: f64 = 9.0;
/// Most lanes of final levels.
const MOST_LANES: usize = 5;
/// Width of a fitted line, CSS px.
const LINE: f64 = 1.5;
/// Radius of a mark, CSS px.
const MARK: f64 = 3.5;
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
    fn new(axis: TimeAxis, ages: Span, plot: &Plot) -> Self {
        let scaled = Span::new(axis.scale(ages.low()), axis.scale(ages.high())).expect("scales keep a window open");
        Self { axis, scaled, left: plot.left, width: plot.width() }
    }

    fn x(&self, t_h: f64) -> f64 {
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
    let values = values(picture, ages);
    let size = look.text_px();
    let row = (size * 1.3).ceil();

    let moments = moments(picture, ages);
    let rows = if moments.is_empty() && picture.traces.iter().all(|t| t.level.is_none()) {
        0
    } else if look.height() < 340.0 {
        2
    } else {
        3
    };
    let top = GAP + row + rows as f64 * row + GAP;
    let bottom = look.height() - row - 2.0 * GAP;
    let y_ticks = ticks::value_ticks(values, ((bottom - top) / (2.6 * row)).floor().max(1.0));
    let digits = y_ticks.iter().map(|t| text::width(&t.label, size)).fold(0.0, f64::max);

    let ends = Ends::of(picture, values, bottom - top, row, size, look.width());
    let plot = Plot { left: GAP + digits + 6.0, top, right: look.width() - ends.width(), bottom };
    let time = AgeScale::new(picture.frame.axis, ages, &plot);
    let mut easel = Easel { picture, plot, time, values, size, row, width: look.width(), items: Vec::new() };

    easel.ground(look.height(), &y_ticks);
    easel.ages(ages);
    easel.moments(&moments, rows);
    easel.curves();
    easel.ends(&ends);
    let readings = easel.readings(ages);
    Scene { look: *look, items: easel.items, readings, time }
}

/// The y axis: it holds what was measured and fitted within the ages shown, and follows fans, levels and hollow readings
/// only so far; a wide fan must not press the readings flat.
fn values(picture: &Picture, ages: Span) -> Span {
    let shown = |t: f64| ages.holds(t);
    let mut firm = Vec::new();
    let mut loose = Vec::new();
    for trace in &picture.traces {
        for p in trace.points.iter().filter(|p| shown(p.t_h)) {
            let list = if p.hollow { &mut loose } else { &mut firm };
            list.extend([p.y - 2.0 * p.u.min(p.y.abs()), p.y + 2.0 * p.u.min(p.y.abs()), p.y]);
        }
        firm.extend(trace.line.iter().filter(|(t, _)| shown(*t)).map(|(_, y)| *y));
        loose.extend(trace.fan.iter().filter(|s| shown(s.t_h)).flat_map(|s| [s.low, s.high]));
        loose.extend(trace.level.iter().flat_map(|l| [l.low, l.high]));
        firm.extend(trace.level.iter().map(|l| l.mid));
        if shown(0.0) {
            firm.extend(trace.start.iter().flat_map(|s| [s.low, s.mid, s.high]));
        }
    }
    let loose = Span::around(loose);
    let span = match (Span::around(firm), loose) {
        (Some(firm), Some(loose)) => firm.stretched(loose, STRETCH),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => return Span::new(0.0, 1.0).expect("a plain range"),
    };
    span.padded(0.06)
}

/// The moments on show, the most telling first, those too close together to be told apart thinned by the caller's
/// order.
fn moments(picture: &Picture, ages: Span) -> Vec<&super::frame::Moment> {
    let mut shown: Vec<_> = picture.frame.moments.iter().filter(|m| ages.holds(m.t_h)).collect();
    shown.sort_by(|a, b| {
        let rank = |kind| match kind {
            MomentKind::Sanding => 0,
            MomentKind::Now => 1,
            MomentKind::Move => 2,
        };
        rank(a.kind).cmp(&rank(b.kind)).then(b.t_h.total_cmp(&a.t_h))
    });
    shown
}

/// A name at the right edge.
struct Name {
    mark: super::mark::Mark,
    text: String,
    /// Value it belongs to.
    y: f64,
}

/// What stands right of the plot: lanes of final levels, then names.
struct Ends {
    lanes: Vec<(usize, usize)>,
    lane_count: usize,
    names: Vec<Name>,
    name_width: f64,
}

impl Ends {
    fn of(picture: &Picture, values: Span, height: f64, row: f64, size: f64, width: f64) -> Self {
        let levels: Vec<(usize, Interval)> =
            picture.traces.iter().enumerate().filter_map(|(i, t)| Some((i, t.level?))).collect();
        let stretches: Vec<_> = levels.iter().map(|(_, l)| (l.low, l.high)).collect();
        let lanes = place::lanes(&stretches, 0.03 * values.width(), MOST_LANES);
        let lane_count = lanes.iter().max().map_or(0, |most| most + 1);

        let room = 0.3 * width - 16.0;
        let most = (height / row).floor().max(1.0) as usize;
        let mut names = Self::panels(&picture.traces, size, room);
        // Names of panels while they leave a third of the edge free; then one for each candidate.
        if names.len() * 3 > most * 2 {
            names = Self::candidates(&picture.traces, size, room);
        }
        names.truncate(most);
        names.sort_by(|a, b| b.y.total_cmp(&a.y));
        let name_width = names.iter().map(|n| text::width(&n.text, size)).fold(0.0, f64::max);
        let lanes = levels.iter().map(|(trace, _)| *trace).zip(lanes).collect();
        Self { lanes, lane_count, names, name_width }
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

    /// Room they take right of the plot, CSS px; never less than half of "wk" needs under the axis' end.
    fn width(&self) -> f64 {
        let lanes = if self.lane_count > 0 { GAP + self.lane_count as f64 * LANE } else { 0.0 };
        let names = if self.names.is_empty() { 0.0 } else { 18.0 + self.name_width };
        (lanes + names + 2.0 * GAP).max(16.0)
    }
}

/// The scene as it grows.
struct Easel<'a> {
    picture: &'a Picture,
    plot: Plot,
    time: AgeScale,
    values: Span,
    size: f64,
    row: f64,
    width: f64,
    items: Vec<Item>,
}

impl Easel<'_> {
    fn y(&self, value: f64) -> f64 {
        self.plot.bottom - self.plot.height() * self.values.share(value)
    }

    fn word(&mut self, text: String, at: Dot, side: Side, ink: Ink) {
        if !text.is_empty() {
            self.items.push(Item::Word { text, at, side, ink });
        }
    }

    fn rule(&mut self, from: Dot, to: Dot, width: f64, ink: Ink) {
        self.items.push(Item::Rule { from, to, width, ink });
    }

    /// Paper, caption, grid rules and their values.
    fn ground(&mut self, height: f64, y_ticks: &[Tick]) {
        let (w, plot) = (self.width, self.plot);
        let corners = vec![(0.0, 0.0), (w, 0.0), (w, height), (0.0, height)];
        self.items.push(Item::Area { corners, ink: Ink::Paper, alpha: 1.0 });

        let note = self.picture.frame.axis.note();
        let line = GAP + self.row / 2.0;
        let room = w - 3.0 * GAP - text::width(note, self.size);
        self.word(text::fit(&self.picture.caption, self.size, room), (GAP, line), Side::Start, Ink::Text);
        self.word(note.to_owned(), (w - GAP, line), Side::End, Ink::Secondary);

        for tick in y_ticks {
            let y = self.y(tick.at);
            self.rule((plot.left, y), (plot.right, y), 1.0, Ink::Hairline);
            self.word(tick.label.clone(), (plot.left - 6.0, y), Side::End, Ink::Secondary);
        }
    }

    /// The time axis and what it says.
    fn ages(&mut self, ages: Span) {
        let (plot, time, size, width) = (self.plot, self.time, self.size, self.width);
        // The middle of a word under an age, held inside the picture.
        let middle = |t: f64, label: &str| {
            let half = text::width(label, size) / 2.0;
            time.x(t).clamp(half + 1.0, (width - half - 1.0).max(half + 1.0))
        };
        let room = |t: f64, label: &str| {
            let half = text::width(label, size) / 2.0;
            (middle(t, label) - half, middle(t, label) + half)
        };
        let marks = ticks::time_ticks(self.picture.frame.axis, ages, 8.0, room);
        let line = plot.bottom + GAP + self.row / 2.0 + 1.0;
        for tick in marks {
            let x = self.time.x(tick.at);
            let at = (middle(tick.at, &tick.label), line);
            self.rule((x, plot.bottom), (x, plot.bottom + GAP), 1.0, Ink::Secondary);
            self.items.push(Item::Word { text: tick.label, at, side: Side::Middle, ink: Ink::Secondary });
        }
        self.rule((plot.left, plot.bottom), (plot.right, plot.bottom), 1.0, Ink::Secondary);
    }

    /// Moves, the present and the sanding day: upright rules with words above the plot.
    fn moments(&mut self, moments: &[&super::frame::Moment], rows: usize) {
        let (plot, row_height) = (self.plot, self.row);
        let words: Vec<String> =
            moments.iter().map(|m| text::fit(&m.word, self.size, 0.6 * plot.width())).collect();
        let wants: Vec<Dot> =
            moments.iter().zip(&words).map(|(m, w)| (self.time.x(m.t_h), text::width(w, self.size))).collect();
        let flags = place::flags(&wants, rows, 3.0, 1.0, plot.right.max(plot.left + 1.0));
        let mut poles: Vec<f64> = Vec::new();
        for (((moment, word), (x, _)), flag) in moments.iter().zip(words).zip(wants).zip(flags) {
            // Moves too close for a rule each, say a habit of moving daily seen over months.
            if flag.is_none() && poles.iter().any(|p| (p - x).abs() < 3.0) {
                continue;
            }
            poles.push(x);
            let (ink, width) = match moment.kind {
                MomentKind::Sanding => (Ink::Text, 1.5),
                MomentKind::Now => (Ink::Text, 1.0),
                MomentKind::Move => (Ink::Secondary, 1.0),
            };
            let above = |row: usize| plot.top - GAP - (row as f64 + 0.5) * row_height;
            let top = flag.map_or(plot.top, |f: Flag| above(f.row) - 0.4 * self.size);
            if moment.kind == MomentKind::Sanding {
                self.rule((x, top), (x, plot.bottom), width, ink);
            } else {
                let dots: &[f64] = if moment.kind == MomentKind::Now { &[6.0, 3.0] } else { &[2.0, 3.0] };
                for piece in dashed(&[(x, top), (x, plot.bottom)], dots) {
                    self.rule(piece[0], piece[piece.len() - 1], width, ink);
                }
            }
            if let Some(flag) = flag {
                let (side, at) = if flag.right { (Side::Start, x + 3.0) } else { (Side::End, x - 3.0) };
                self.word(word, (at, above(flag.row)), side, ink);
            }
        }
    }

    /// Fans first, then lines, so that no fan veils a line.
    fn curves(&mut self) {
        let picture = self.picture;
        for trace in &picture.traces {
            let edge = |of: fn(&super::trace::Slice) -> f64| -> Vec<Dot> {
                trace.fan.iter().map(|s| (self.time.x(s.t_h), self.y(of(s)))).collect()
            };
            let (high, low) = (edge(|s| s.high), edge(|s| s.low));
            let ink = Ink::Candidate(trace.mark);
            let around: Vec<Dot> = high.iter().chain(low.iter().rev()).copied().collect();
            let corners = self.plot.area(&around);
            if corners.len() > 2 {
                self.items.push(Item::Area { corners, ink, alpha: 0.13 });
            }
            for line in self.plot.line(&high).into_iter().chain(self.plot.line(&low)) {
                self.items.push(Item::Stroke { line, width: 0.75, ink, alpha: 0.5 });
            }
        }
        for trace in &picture.traces {
            let line: Vec<Dot> = trace.line.iter().map(|(t, y)| (self.time.x(*t), self.y(*y))).collect();
            for part in self.plot.line(&line) {
                self.stroke(&part, trace, LINE);
            }
        }
    }

    fn stroke(&mut self, line: &[Dot], trace: &Trace, width: f64) {
        for line in dashed(line, trace.mark.dashes()) {
            self.items.push(Item::Stroke { line, width, ink: Ink::Candidate(trace.mark), alpha: 1.0 });
        }
    }

    /// An upright interval with caps; an end beyond the plot is left open.
    fn interval(&mut self, x: f64, interval: &Interval, ink: Ink, cap: f64) {
        let (from, to) = (self.y(interval.high), self.y(interval.low));
        if from > self.plot.bottom || to < self.plot.top {
            return;
        }
        let (top, bottom) = (from.max(self.plot.top), to.min(self.plot.bottom));
        self.rule((x, top), (x, bottom), LINE, ink);
        for (wanted, y) in [(from, top), (to, bottom)] {
            if wanted == y {
                self.rule((x - cap, y), (x + cap, y), LINE, ink);
            }
        }
    }

    fn mark(&mut self, mark: super::mark::Mark, at: Dot, r: f64, hollow: bool) {
        let ink = Ink::Candidate(mark);
        let corners = mark.corners(at, r);
        let area = |corners: Vec<Dot>, ink| Item::Area { corners, ink, alpha: 1.0 };
        match (corners.first().copied(), hollow) {
            (None, hollow) => {
                self.items.push(Item::Disc { centre: at, radius: r, ink });
                if hollow {
                    self.items.push(Item::Disc { centre: at, radius: r - 1.25, ink: Ink::Paper });
                }
            }
            (Some(_), false) => self.items.push(area(corners, ink)),
            (Some(first), true) => {
                let mut line = corners.clone();
                line.push(first);
                self.items.push(area(corners, Ink::Paper));
                self.items.push(Item::Stroke { line, width: 1.25, ink, alpha: 1.0 });
            }
        }
    }

    /// Final levels and names right of the plot.
    fn ends(&mut self, ends: &Ends) {
        let (picture, plot) = (self.picture, self.plot);
        let first = plot.right + GAP + LANE / 2.0;
        for &(trace, lane) in &ends.lanes {
            let trace = &picture.traces[trace];
            let (x, ink) = (first + lane as f64 * LANE, Ink::Candidate(trace.mark));
            let Some(level) = trace.level else { continue };
            self.interval(x, &level, ink, 2.5);
            let y = self.y(level.mid);
            if plot.top <= y && y <= plot.bottom {
                self.mark(trace.mark, (x, y), 2.75, false);
            }
        }
        let after = plot.right + if ends.lane_count > 0 { GAP + ends.lane_count as f64 * LANE } else { 0.0 };
        if ends.lane_count > 0 && !picture.level_word.is_empty() {
            let room = self.width - plot.right - 2.0 * GAP;
            let word = text::fit(&picture.level_word, self.size, room);
            self.word(word, (plot.right + GAP, plot.top - GAP - self.row / 2.0), Side::Start, Ink::Secondary);
        }
        let wants: Vec<f64> = ends.names.iter().map(|n| self.y(n.y).clamp(plot.top, plot.bottom)).collect();
        let half = self.row / 2.0;
        let places = place::apart(&wants, self.row, plot.top + half, plot.bottom - half);
        for ((name, want), y) in ends.names.iter().zip(wants).zip(places) {
            if (want - y).abs() > 2.0 {
                let line = vec![(after + 1.0, want), (after + 6.0, y)];
                self.items.push(Item::Stroke { line, width: 0.75, ink: Ink::Candidate(name.mark), alpha: 0.7 });
            }
            self.mark(name.mark, (after + 12.0, y), MARK, false);
            self.word(name.text.clone(), (after + 19.0, y), Side::Start, Ink::Text);
        }
    }

    /// Intervals at the wet weight, whiskers and marks; says where each reading was drawn.
    fn readings(&mut self, ages: Span) -> Vec<Hit> {
        let picture = self.picture;
        let starts: Vec<&Trace> = picture.traces.iter().filter(|t| t.start.is_some()).collect();
        for (i, trace) in starts.iter().enumerate().filter(|_| ages.holds(0.0)) {
            // Side by side, as far as a few px go; each stays right of the axis.
            let x = self.time.x(0.0) + 3.0 + 6.0 * (i % 6) as f64;
            if let Some(start) = trace.start {
                self.interval(x, &start, Ink::Candidate(trace.mark), 3.0);
                let y = self.y(start.mid).clamp(self.plot.top, self.plot.bottom);
                self.mark(trace.mark, (x, y), 2.75, false);
            }
        }
        let mut hits = Vec::new();
        for (t, trace) in picture.traces.iter().enumerate() {
            for p in trace.points.iter().filter(|p| ages.holds(p.t_h)) {
                let at = self.reading(trace, p);
                hits.push(Hit { trace: t, reading: p.index, x: at.0, y: at.1 });
            }
        }
        if let Some(chosen) = hits.iter().find(|h| picture.chosen == Some((h.trace, h.reading))) {
            let ring = (0..=24).map(|i| std::f64::consts::TAU * f64::from(i) / 24.0);
            let held = |x: f64, y: f64| (x.clamp(0.0, self.width), y);
            let line = ring.map(|a| held(chosen.x + 8.5 * a.cos(), chosen.y + 8.5 * a.sin())).collect();
            self.items.push(Item::Stroke { line, width: 2.0, ink: Ink::Accent, alpha: 1.0 });
        }
        hits
    }

    /// One reading; drawn at the edge, with a tick that points on, where it lies beyond the plot.
    fn reading(&mut self, trace: &Trace, p: &Point) -> Dot {
        let (x, true_y) = (self.time.x(p.t_h), self.y(p.y));
        let y = true_y.clamp(self.plot.top, self.plot.bottom);
        let ink = Ink::Candidate(trace.mark);
        if y == true_y {
            let reach = |u: f64| self.y(p.y + u).clamp(self.plot.top, self.plot.bottom);
            let (from, to) = (reach(2.0 * p.u), reach(-2.0 * p.u));
            if to - from > 2.0 * MARK {
                self.rule((x, from), (x, to), 1.0, ink);
            }
        } else {
            let on = if true_y < y { -1.0 } else { 1.0 };
            let tip = (x, y + on * (MARK + 5.0));
            let line = vec![(x - 3.0, tip.1 - on * 3.0), tip, (x + 3.0, tip.1 - on * 3.0)];
            self.items.push(Item::Stroke { line, width: 1.0, ink, alpha: 1.0 });
        }
        self.mark(trace.mark, (x, y), MARK, p.hollow);
        (x, y)
    }
}
