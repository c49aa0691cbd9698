//! How candidates are told apart: mark and dash first, colour second.

/// The mark of a candidate, the same beside its name everywhere. After the fifth they begin again.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mark {
    /// ● with a solid line.
    Circle,
    /// ■ with long dashes.
    Square,
    /// ▲ with short dashes.
    Triangle,
    /// ◆ with dash and dot.
    Diamond,
    /// ✖ with dots.
    Cross,
}

impl Mark {
    /// All five, in the order candidates get them.
    pub const ALL: [Self; 5] = [Self::Circle, Self::Square, Self::Triangle, Self::Diamond, Self::Cross];

    /// The mark of the candidate at a place in the list, counted from 0.
    ///
    /// ```
    /// use chart::Mark;
    /// assert_eq!(Mark::of(1), Mark::Square);
    /// assert_eq!(Mark::of(6), Mark::of(1));
    /// ```
    pub fn of(place: usize) -> Self {
        Self::ALL[place % Self::ALL.len()]
    }

    /// The mark as a letter, to stand beside a name.
    pub fn sign(self) -> &'static str {
        match self {
            Self::Circle => "●",
            Self::Square => "■",
            Self::Triangle => "▲",
            Self::Diamond => "◆",
            Self::Cross => "✕",
        }
    }

    /// The mark's place among the five.
    pub(super) fn place(self) -> usize {
        self as usize
    }

    /// Lengths drawn and left out in turn along the line, CSS px; empty for a solid line.
    pub(super) fn dashes(self) -> &'static [f64] {
        match self {
            Self::Circle => &[],
            Self::Square => &[11.0, 4.0],
            Self::Triangle => &[5.0, 3.5],
            Self::Diamond => &[8.0, 3.0, 2.0, 3.0],
            Self::Cross => &[1.75, 3.25],
        }
    }

    /// Corners of the mark about a centre, sized so that the five look equally heavy at radius `r`. The circle has
    /// none.
    pub(super) fn corners(self, (x, y): (f64, f64), r: f64) -> Vec<(f64, f64)> {
        let shape: &[(f64, f64)] = match self {
            Self::Circle => &[],
            Self::Square => &[(-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9)],
            Self::Triangle => &[(0.0, -1.25), (1.15, 0.85), (-1.15, 0.85)],
            Self::Diamond => &[(0.0, -1.3), (1.2, 0.0), (0.0, 1.3), (-1.2, 0.0)],
            Self::Cross => &[
                (-1.15, -0.6),
                (-0.6, -1.15),
                (0.0, -0.55),
                (0.6, -1.15),
                (1.15, -0.6),
                (0.55, 0.0),
                (1.15, 0.6),
                (0.6, 1.15),
                (0.0, 0.55),
                (-0.6, 1.15),
                (-1.15, 0.6),
                (-0.55, 0.0),
            ],
        };
        shape.iter().map(|(dx, dy)| (x + r * dx, y + r * dy)).collect()
    }
}

/// Cuts a line into its dashes by length along it; `dashes` holds lengths drawn and left out in turn. A solid line
/// comes back whole.
pub(super) fn dashed(line: &[(f64, f64)], dashes: &[f64]) -> Vec<Vec<(f64, f64)>> {
    if dashes.is_empty() || line.len() < 2 {
        return vec![line.to_vec()];
    }
    let mut pieces = Vec::new();
    let mut piece = vec![line[0]];
    let (mut turn, mut left) = (0, dashes[0]);
    for pair in line.windows(2) {
        let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
        let length = (x1 - x0).hypot(y1 - y0);
        let mut gone = 0.0;
        while length - gone > left {
            gone += left;
            let cut = (x0 + (x1 - x0) * gone / length, y0 + (y1 - y0) * gone / length);
            if turn % 2 == 0 {
                piece.push(cut);
                pieces.push(std::mem::take(&mut piece));
            } else {
                piece = vec![cut];
            }
            turn = (turn + 1) % dashes.len();
            left = dashes[turn];
        }
        left -= length - gone;
        if turn % 2 == 0 {
            piece.push((x1, y1));
        }
    }
    if turn % 2 == 0 && piece.len() > 1 {
        pieces.push(piece);
    }
    pieces
}
