//! When things were done, and which of them first and last.

use quantity::Instant;
use record::{SprayTest, WeighIn};

/// Hours within which readings belong to one visit with the gauge.
pub(crate) const VISIT_H: f64 = 12.0;

/// What a field for a time can tell apart, h.
pub(super) const MINUTE_H: f64 = 1.0 / 60.0;

/// Hours on the clock that all of a test shares.
pub(crate) fn clock_h(at: Instant) -> f64 {
    at.hours_since(Instant::EPOCH)
}

/// By time; what cannot be compared stays as it stands.
pub(crate) fn clock_order(a: Instant, b: Instant) -> std::cmp::Ordering {
    a.partial_cmp(&b).unwrap_or(std::cmp::Ordering::Equal)
}

/// The newest of what has a time; of several at once the first.
pub(crate) fn newest<T>(dated: impl Iterator<Item = (Instant, T)>) -> Option<(Instant, T)> {
    dated.reduce(|a, b| if b.0 > a.0 { b } else { a })
}

/// The oldest of what has a time; of several at once the first.
pub(crate) fn oldest<T>(dated: impl Iterator<Item = (Instant, T)>) -> Option<(Instant, T)> {
    dated.reduce(|a, b| if b.0 < a.0 { b } else { a })
}

/// The latest of some moments.
pub fn latest(moments: &mut dyn Iterator<Item = Instant>) -> Option<Instant> {
    moments.reduce(|a, b| if b > a { b } else { a })
}

/// The earliest of some moments.
pub fn earliest(moments: &mut dyn Iterator<Item = Instant>) -> Option<Instant> {
    moments.reduce(|a, b| if b < a { b } else { a })
}

/// When a weigh-in was made: its own time, else its round's.
pub fn moment(test: &SprayTest, weigh_in: &WeighIn) -> Option<Instant> {
    weigh_in.at.or_else(|| weigh_in.round.find(&test.rounds)?.at)
}
