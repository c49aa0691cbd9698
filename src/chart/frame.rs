//! The time axis and what stands on it: moves, now, the sanding day.

use super::span::{LONGEST_AGE_H, Span, age};

/// How age runs along the axis. The square root straightens drying ruled by diffusion; the logarithm spreads the first
/// hours and the last weeks alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TimeAxis {
    /// Equal lengths are equal times.
    #[default]
    Linear,
    /// √t.
    SquareRoot,
    /// ln(t + 15 min): the offset gives the wet weight, at age 0, a place on the axis.
    Log,
}

/// Offset of the logarithmic axis, h.
const LOG_OFFSET_H: f64 = 0.25;

impl TimeAxis {
    /// Position of an age in the axis' own measure; strictly rising, finite for every age from 0.
    pub(super) fn scale(self, t_h: f64) -> f64 {
        let t_h = t_h.max(0.0);
        match self {
            Self::Linear => t_h,
            Self::SquareRoot => t_h.sqrt(),
            Self::Log => (t_h + LOG_OFFSET_H).ln(),
        }
    }

    /// Age in h at a position; the inverse of [`TimeAxis::scale`].
    pub(super) fn age(self, position: f64) -> f64 {
        match self {
            Self::Linear => position,
            Self::SquareRoot => position.max(0.0).powi(2),
            Self::Log => position.exp() - LOG_OFFSET_H,
        }
        .clamp(0.0, LONGEST_AGE_H)
    }

    /// What the axis is called beside the caption; nothing for the ordinary one.
    pub(super) fn note(self) -> &'static str {
        match self {
            Self::Linear => "",
            Self::SquareRoot => "√ time",
            Self::Log => "log time",
        }
    }
}

/// A moment marked by a vertical rule with a word.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Moment {
    pub t_h: f64,
    pub word: String,
    pub kind: MomentKind,
}

/// The most telling first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum MomentKind {
    Sanding,
    Now,
    Move,
}

/// The time axis of a chart with the moments on it; charts of one test share it.
///
/// ```
/// use chart::{TimeAxis, TimeFrame};
/// let frame = TimeFrame::new(TimeAxis::SquareRoot).moved(72.0, "to the sun").now(200.0, "now").sanding(72.0, "sanded");
/// let late_days = frame.clone().zoom(168.0, 504.0);
/// assert_ne!(frame, late_days);
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TimeFrame {
    pub(super) axis: TimeAxis,
    pub(super) moments: Vec<Moment>,
    pub(super) window: Option<Span>,
}

impl TimeFrame {
    /// An axis with nothing on it, as long as what is drawn.
    pub fn new(axis: TimeAxis) -> Self {
        Self { axis, ..Self::default() }
    }

    /// Marks a move: age in h, and where to in words.
    pub fn moved(self, t_h: f64, word: &str) -> Self {
        self.moment(t_h, word, MomentKind::Move)
    }

    /// Marks the present, with the word for it.
    pub fn now(self, t_h: f64, word: &str) -> Self {
        self.moment(t_h, word, MomentKind::Now)
    }

    /// Marks the day of sanding or topcoating, with the word for it.
    pub fn sanding(self, t_h: f64, word: &str) -> Self {
        self.moment(t_h, word, MomentKind::Sanding)
    }

    /// Shows only the ages from `from_h` to `to_h`, h. A window too narrow to be read (under a minute, or a thousandth
    /// of the age) is widened; one that makes no sense is ignored.
    pub fn zoom(mut self, from_h: f64, to_h: f64) -> Self {
        self.window = age(from_h).zip(age(to_h)).filter(|(from, to)| from <= to).and_then(|(from, to)| {
            let lack = ((1.0 / 60.0_f64).max(1e-3 * to) - (to - from)).max(0.0) / 2.0;
            let from = (from - lack).max(0.0);
            Span::new(from, to + lack)
        });
        self
    }

    fn moment(mut self, t_h: f64, word: &str, kind: MomentKind) -> Self {
        if let Some(t_h) = age(t_h) {
            self.moments.push(Moment { t_h, word: word.to_owned(), kind });
        }
        self
    }

    /// The ages shown for readings and lines that end at `last_h`. The sanding day and the present stretch it where they
    /// are near; a test looked at a year later keeps its own length.
    pub(super) fn ages(&self, last_h: Option<f64>) -> Span {
        self.window.unwrap_or_else(|| {
            let near = self.moments.iter().filter(|m| m.kind != MomentKind::Move).map(|m| m.t_h);
            let end = match last_h.filter(|t| *t > 0.0) {
                Some(last) => near.filter(|t| *t <= 1.5 * last).fold(last, f64::max),
                None => near.fold(0.0, f64::max),
            };
            // A day where nothing has been weighed twice.
            Span::new(0.0, if end > 1.0 / 60.0 { end } else { 24.0 }).expect("a finite length above zero")
        })
    }
}
