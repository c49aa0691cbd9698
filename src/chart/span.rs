//! Ranges an axis can have, and the numbers a picture can hold.

/// Largest size of a value on the y axis, in whatever unit the caption names. Nothing a spray test weighs or measures
/// comes near it; what exceeds it is a fault upstream and is left out.
pub const LARGEST_VALUE: f64 = 1e7;

/// Longest age on the time axis, h (114 years).
pub const LONGEST_AGE_H: f64 = 1e6;

/// A span narrower than this part of its own values could not be labelled with digits that differ.
const NARROWEST: f64 = 1e-6;

/// A y value that can be drawn: finite and within [`LARGEST_VALUE`].
pub(super) fn value(y: f64) -> Option<f64> {
    (y.abs() <= LARGEST_VALUE).then_some(y)
}

/// An age that can be drawn, h since the wet weight: finite, not negative, within [`LONGEST_AGE_H`].
pub(super) fn age(t_h: f64) -> Option<f64> {
    (0.0..=LONGEST_AGE_H).contains(&t_h).then_some(t_h)
}

/// A range that is finite and not empty, whoever made it: an axis over anything else would never finish.
///
/// ```
/// use chart::Span;
/// let span = Span::new(2.0, 6.0).unwrap();
/// assert_eq!(span.share(3.0), 0.25);
/// assert!(Span::new(2.0, 2.0).is_none());
/// assert!(Span::new(0.0, f64::INFINITY).is_none());
/// assert!(Span::new(f64::NAN, 1.0).is_none());
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    low: f64,
    high: f64,
}

impl Span {
    /// The span from `low` to `high`; `None` unless both are finite, at most 10⁹ in size, and apart by more than a
    /// millionth of the larger.
    pub fn new(low: f64, high: f64) -> Option<Self> {
        let size = low.abs().max(high.abs());
        (low.is_finite() && high.is_finite() && size <= 1e9 && high - low > NARROWEST * size.max(NARROWEST))
            .then_some(Self { low, high })
    }

    /// The smallest span that holds every drawable value; widened where they are all (nearly) the same. `None` where no
    /// value can be drawn.
    pub fn around(values: impl IntoIterator<Item = f64>) -> Option<Self> {
        let (low, high) = values
            .into_iter()
            .filter_map(value)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
        if low > high {
            return None;
        }
        let widen = (1e-3 * low.abs().max(high.abs())).max(0.5);
        Self::new(low, high).filter(|s| s.width() > 2e-3 * widen).or_else(|| Self::new(low - widen, high + widen))
    }

    /// Lower end.
    pub fn low(self) -> f64 {
        self.low
    }

    /// Upper end.
    pub fn high(self) -> f64 {
        self.high
    }

    /// Upper end less lower end, always above zero.
    pub fn width(self) -> f64 {
        self.high - self.low
    }

    /// Whether `v` lies in the span, ends included.
    pub fn holds(self, v: f64) -> bool {
        (self.low..=self.high).contains(&v)
    }

    /// How far along the span `v` lies: 0 at the lower end, 1 at the upper.
    pub fn share(self, v: f64) -> f64 {
        (v - self.low) / self.width()
    }

    /// The value at a share of the span; the inverse of [`Span::share`].
    pub fn at(self, share: f64) -> f64 {
        self.low + share * self.width()
    }

    /// The span grown by a share of its width at each end.
    pub(super) fn padded(self, share: f64) -> Self {
        let by = share * self.width();
        Self { low: self.low - by, high: self.high + by }
    }

    /// The span stretched to `other`, but by no more than `limit` widths at either end.
    pub(super) fn stretched(self, other: Self, limit: f64) -> Self {
        let room = self.padded(limit);
        Self { low: self.low.min(other.low.max(room.low)), high: self.high.max(other.high.min(room.high)) }
    }
}
