//! Cutting lines and areas to the plot, and thinning them to what shows.

type Dot = (f64, f64);

/// A rectangle in CSS px; y grows downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plot {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Plot {
    pub fn height(&self) -> f64 {
        self.bottom - self.top
    }

    fn clamp(&self, (x, y): Dot) -> Dot {
        (x.clamp(self.left, self.right), y.clamp(self.top, self.bottom))
    }

    /// The parts of a line inside the rectangle, by Liang and Barsky's parametric test of each segment ("A new concept
    /// and method for line clipping", ACM TOG 3, 1984).
    pub fn line(&self, line: &[Dot]) -> Vec<Vec<Dot>> {
        let mut parts: Vec<Vec<Dot>> = Vec::new();
        let mut open = false;
        for pair in line.windows(2) {
            let Some((from, to, whole)) = self.segment(pair[0], pair[1]) else {
                open = false;
                continue;
            };
            match parts.last_mut() {
                Some(part) if open => part.push(to),
                _ => parts.push(vec![from, to]),
            }
            open = whole;
        }
        parts
    }

    /// A segment's part inside, and whether its end is inside too.
    fn segment(&self, (x0, y0): Dot, (x1, y1): Dot) -> Option<(Dot, Dot, bool)> {
        let (dx, dy) = (x1 - x0, y1 - y0);
        let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
        for (p, q) in [(-dx, x0 - self.left), (dx, self.right - x0), (-dy, y0 - self.top), (dy, self.bottom - y0)] {
            if p == 0.0 {
                if q < 0.0 {
                    return None;
                }
            } else if p < 0.0 {
                enter = enter.max(q / p);
            } else {
                leave = leave.min(q / p);
            }
        }
        let at = |s: f64| self.clamp((x0 + s * dx, y0 + s * dy));
        (enter <= leave).then(|| (at(enter), at(leave), leave == 1.0))
    }

    /// The part of a polygon inside the rectangle, one edge at a time (I. E. Sutherland, G. W. Hodgman, "Reentrant
    /// polygon clipping", CACM 17, 1974).
    pub fn area(&self, polygon: &[Dot]) -> Vec<Dot> {
        let sides: [fn(&Self, Dot) -> f64; 4] =
            [|r, p| p.0 - r.left, |r, p| r.right - p.0, |r, p| p.1 - r.top, |r, p| r.bottom - p.1];
        let mut kept = polygon.to_vec();
        for side in sides {
            let Some(mut before) = kept.last().copied() else { break };
            let mut next = Vec::with_capacity(kept.len() + 4);
            for &dot in &kept {
                let (was, is) = (side(self, before), side(self, dot));
                if (was < 0.0) != (is < 0.0) {
                    let s = was / (was - is);
                    next.push((before.0 + s * (dot.0 - before.0), before.1 + s * (dot.1 - before.1)));
                }
                if is >= 0.0 {
                    next.push(dot);
                }
                before = dot;
            }
            kept = next;
        }
        kept.into_iter().map(|dot| self.clamp(dot)).collect()
    }
}

/// Most a thinned line strays from the whole one, CSS px.
const STRAY: f64 = 0.1;
/// Dots thinned at a time, so that the work grows with the length of the line and not with its square.
const STRETCH: usize = 256;

/// The line with the dots left out that do not show (D. H. Douglas, T. K. Peucker, The Canadian Cartographer 10, 1973).
/// Backends round to whole device pixels: a dense slow slope would come out as steps.
pub(super) fn thinned(line: &[Dot]) -> Vec<Dot> {
    let Some(last) = line.len().checked_sub(1) else { return Vec::new() };
    let mut kept = vec![line[0]];
    // Stretches still to look at, the nearest on top.
    let mut ahead: Vec<(usize, usize)> =
        (0..last).step_by(STRETCH).map(|from| (from, (from + STRETCH).min(last))).rev().collect();
    while let Some((from, to)) = ahead.pop() {
        let ((x0, y0), (x1, y1)) = (line[from], line[to]);
        let length = (x1 - x0).hypot(y1 - y0);
        let off = |(x, y): Dot| match length {
            0.0 => (x - x0).hypot(y - y0),
            _ => ((x - x0) * (y1 - y0) - (y - y0) * (x1 - x0)).abs() / length,
        };
        let farthest = (from + 1..to).max_by(|a, b| off(line[*a]).total_cmp(&off(line[*b])));
        match farthest.filter(|dot| off(line[*dot]) > STRAY) {
            Some(dot) => ahead.extend([(dot, to), (from, dot)]),
            None => kept.push(line[to]),
        }
    }
    kept
}
