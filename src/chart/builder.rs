//! The scene as it grows: each part of a picture drawn into its room.

use super::clip::{Plot, thinned};
use super::ends::{BULLET, Ends, LANE};
use super::flags::Flags;
use super::frame::MomentKind;
use super::layout::{AgeScale, BESIDE, GAP};
use super::look::Look;
use super::mark::{Mark, dashed};
use super::palette::Ink;
use super::picture::Picture;
use super::place;
use super::scene::{Dot, Hit, Item, Side};
use super::sketch::Sketch;
use super::span::Span;
use super::text;
use super::ticks::{self, Tick};
use super::trace::{Interval, Point, Slice, Trace};

/// The word above the intervals at the wet weight.
const START_WORD: &str = "comb";
/// The word above the final levels.
const LEVEL_WORD: &str = "final";
/// Width of a fitted line, CSS px.
const LINE: f64 = 1.5;
/// Radius of a mark, CSS px.
const MARK: f64 = 3.5;
/// Radius of the mark on an interval beside the plot, CSS px.
const SMALL: f64 = 2.5;

/// The scene as it grows.
pub(super) struct SceneBuilder<'a> {
    pub picture: &'a Picture,
    pub look: &'a Look,
    pub plot: Plot,
    pub time: AgeScale,
    pub values: Span,
    pub sketch: Sketch,
}

impl SceneBuilder<'_> {
    fn y(&self, value: f64) -> f64 {
        self.plot.bottom - self.plot.height() * self.values.share(value)
    }

    /// Paper, caption, grid rules from `left` and their values.
    pub fn ground(&mut self, y_ticks: &[Tick], left: f64) {
        let (w, height, plot) = (self.look.width(), self.look.height(), self.plot);
        self.sketch.paper(w, height);

        let note = self.picture.frame.axis.note();
        let line = GAP + self.look.row() / 2.0;
        let room = w - 3.0 * GAP - text::width(note, self.look.text_px());
        self.sketch.word(
            text::fit(&self.picture.caption, self.look.text_px(), room),
            (GAP, line),
            Side::Start,
            Ink::Text,
        );
        self.sketch.word(note.to_owned(), (w - GAP, line), Side::End, Ink::Secondary);

        for tick in y_ticks {
            let y = self.y(tick.at);
            self.sketch.rule((left, y), (plot.right, y), 1.0, Ink::Hairline);
            self.sketch.word(tick.label.clone(), (left - BESIDE, y), Side::End, Ink::Secondary);
        }
    }

    /// The time axis and what it says.
    pub fn ages(&mut self, ages: Span) {
        let (plot, time, size, width) = (self.plot, self.time, self.look.text_px(), self.look.width());
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
        let line = plot.bottom + GAP + self.look.row() / 2.0 + 1.0;
        for tick in marks {
            let x = self.time.x(tick.at);
            let at = (middle(tick.at, &tick.label), line);
            self.sketch.rule((x, plot.bottom), (x, plot.bottom + GAP), 1.0, Ink::Secondary);
            self.sketch.items.push(Item::Word { text: tick.label, at, side: Side::Middle, ink: Ink::Secondary });
        }
        self.sketch.rule((plot.left, plot.bottom), (plot.right, plot.bottom), 1.0, Ink::Secondary);
    }

    /// Moves, the present and the sanding day: upright rules with words above the plot.
    pub fn moments(&mut self, flags: &Flags) {
        let (plot, row) = (self.plot, self.look.row());
        let middle = |place: usize| plot.top - GAP - (place as f64 + 0.5) * row;
        for pole in &flags.0 {
            let (ink, dashes): (_, &[f64]) = match pole.kind {
                MomentKind::Sanding => (Ink::Text, &[]),
                MomentKind::Now => (Ink::Text, &[6.0, 3.0]),
                MomentKind::Move => (Ink::Secondary, &[2.0, 3.0]),
            };
            let top = match pole.flag {
                _ if !pole.whole => plot.bottom - 8.0,
                Some(flag) => middle(flag.row) - 0.4 * self.look.text_px(),
                None => plot.top,
            };
            for piece in dashed(&[(pole.x, top), (pole.x, plot.bottom)], if pole.whole { dashes } else { &[] }) {
                self.sketch.rule(piece[0], piece[piece.len() - 1], 1.0, ink);
            }
            if let Some(flag) = pole.flag {
                let (side, x) = if flag.right { (Side::Start, pole.x + 3.0) } else { (Side::End, pole.x - 3.0) };
                self.sketch.word(pole.word.clone(), (x, middle(flag.row)), side, ink);
            }
        }
    }

    /// Fans first, then lines, so that no fan veils a line.
    pub fn curves(&mut self) {
        let picture = self.picture;
        for trace in &picture.traces {
            let edge = |of: fn(&Slice) -> f64| -> Vec<Dot> {
                trace.fan.iter().map(|s| (self.time.x(s.t_h), self.y(of(s)))).collect()
            };
            let (high, low) = (edge(|s| s.high), edge(|s| s.low));
            let ink = Ink::Candidate(trace.mark);
            let around = [thinned(&high), thinned(&low).into_iter().rev().collect()].concat();
            let corners = self.plot.area(&around);
            if corners.len() > 2 {
                self.sketch.items.push(Item::Area { corners, ink, alpha: 0.13 });
            }
            for line in self.plot.line(&thinned(&high)).into_iter().chain(self.plot.line(&thinned(&low))) {
                self.sketch.items.push(Item::Stroke { line, width: 0.75, ink, alpha: 0.5 });
            }
        }
        for trace in &picture.traces {
            let line: Vec<Dot> = trace.line.iter().map(|(t, y)| (self.time.x(*t), self.y(*y))).collect();
            for part in self.plot.line(&thinned(&line)) {
                self.stroke(&part, trace, LINE);
            }
        }
    }

    fn stroke(&mut self, line: &[Dot], trace: &Trace, width: f64) {
        for line in dashed(line, trace.mark.dashes()) {
            self.sketch.items.push(Item::Stroke { line, width, ink: Ink::Candidate(trace.mark), alpha: 1.0 });
        }
    }

    /// An interval beside the plot, upright with caps and its mark; an end beyond the plot is left open.
    fn beside(&mut self, x: f64, interval: &Interval, mark: Mark) {
        let ink = Ink::Candidate(mark);
        let (from, to) = (self.y(interval.high), self.y(interval.low));
        if from > self.plot.bottom || to < self.plot.top {
            return;
        }
        let (top, bottom) = (from.max(self.plot.top), to.min(self.plot.bottom));
        self.sketch.rule((x, top), (x, bottom), LINE, ink);
        for (wanted, y) in [(from, top), (to, bottom)] {
            if wanted == y {
                self.sketch.rule((x - SMALL, y), (x + SMALL, y), LINE, ink);
            }
        }
        let y = self.y(interval.mid);
        if self.plot.top <= y && y <= self.plot.bottom {
            self.sketch.mark(mark, (x, y), SMALL, false);
        }
    }

    /// Intervals at the wet weight left of the plot, final levels and names right of it.
    pub fn ends(&mut self, ends: &Ends) {
        let (picture, plot) = (self.picture, self.plot);
        let head = plot.top - GAP - self.look.row() / 2.0;
        for (trace, interval, lane) in &ends.starts {
            let x = plot.left - GAP - (*lane as f64 + 0.5) * LANE;
            self.beside(x, interval, picture.traces[*trace].mark);
        }
        for (trace, interval, lane) in &ends.levels {
            let x = plot.right + GAP + (*lane as f64 + 0.5) * LANE;
            self.beside(x, interval, picture.traces[*trace].mark);
        }
        if ends.start_lanes > 0 {
            let word = text::fit(START_WORD, self.look.text_px(), plot.left - 2.0 * GAP);
            self.sketch.word(word, (plot.left - GAP, head), Side::End, Ink::Secondary);
        }
        let mut after = plot.right;
        if ends.lane_count > 0 {
            after += GAP + ends.lane_count as f64 * LANE;
            let word = text::fit(LEVEL_WORD, self.look.text_px(), self.look.width() - plot.right - 2.0 * GAP);
            self.sketch.word(word, (plot.right + GAP, head), Side::Start, Ink::Secondary);
        }
        let wants: Vec<f64> = ends.names.iter().map(|n| self.y(n.y).clamp(plot.top, plot.bottom)).collect();
        let half = self.look.row() / 2.0;
        let places = place::apart(&wants, self.look.row(), plot.top + half, plot.bottom - half);
        for ((name, want), y) in ends.names.iter().zip(wants).zip(places) {
            if (want - y).abs() > 2.0 {
                let line = vec![(after + 1.0, want), (after + 6.0, y)];
                self.sketch.items.push(Item::Stroke { line, width: 0.75, ink: Ink::Candidate(name.mark), alpha: 0.7 });
            }
            self.sketch.mark(name.mark, (after + 12.0, y), MARK, false);
            self.sketch.word(name.text.clone(), (after + BULLET, y), Side::Start, Ink::Text);
        }
    }

    /// Whiskers and marks, the chosen reading ringed and on top; says where each reading was drawn.
    pub fn readings(&mut self, ages: Span) -> Vec<Hit> {
        let picture = self.picture;
        let mut hits = Vec::new();
        for (t, trace) in picture.traces.iter().enumerate() {
            for p in trace.points.iter().filter(|p| ages.holds(p.t_h)) {
                let at = self.reading(trace, p);
                hits.push(Hit { trace: t, reading: p.index, x: at.0, y: at.1 });
            }
        }
        if let Some(chosen) = hits.iter().find(|h| picture.chosen == Some((h.trace, h.reading))) {
            for (radius, ink) in [(9.5, Ink::Accent), (7.5, Ink::Paper)] {
                self.sketch.items.push(Item::Disc { centre: (chosen.x, chosen.y), radius, ink });
            }
            let trace = &picture.traces[chosen.trace];
            if let Some(point) = trace.points.iter().find(|p| p.index == chosen.reading) {
                self.reading(trace, point);
            }
        }
        hits
    }

    /// One reading; drawn just inside the edge, with a tip that points on, where it lies beyond the plot.
    fn reading(&mut self, trace: &Trace, p: &Point) -> Dot {
        let (x, y) = (self.time.x(p.t_h), self.y(p.y));
        let ink = Ink::Candidate(trace.mark);
        let (top, bottom) = (self.plot.top, self.plot.bottom);
        if (top..=bottom).contains(&y) {
            let reach = |u: f64| self.y(p.y + u).clamp(top, bottom);
            let (from, to) = (reach(2.0 * p.u), reach(-2.0 * p.u));
            if to - from > 2.0 * MARK {
                self.sketch.rule((x, from), (x, to), 1.0, ink);
            }
            self.sketch.mark(trace.mark, (x, y), MARK, p.hollow);
            return (x, y);
        }
        let (edge, on) = if y < top { (top, -1.0) } else { (bottom, 1.0) };
        let line = [(-3.0, 5.0), (0.0, 2.0), (3.0, 5.0)].map(|(dx, back)| (x + dx, edge - on * back));
        self.sketch.items.push(Item::Stroke { line: line.to_vec(), width: 1.0, ink, alpha: 1.0 });
        let at = (x, edge - on * (7.0 + MARK));
        self.sketch.mark(trace.mark, at, MARK, p.hollow);
        at
    }
}
