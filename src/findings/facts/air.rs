//! The air as it was read.

use super::times::newest;
use quantity::Instant;
use record::{Air, SprayTest};

/// Hours for which a reading of the air counts as that of the day.
const AIR_HOLDS_H: f64 = 12.0;

/// The newest reading of the air.
pub fn newest_air(test: &SprayTest) -> Option<&Air> {
    newest_within(test, None)
}

/// The newest reading of the air, of all or of those about a moment.
fn newest_within(test: &SprayTest, about: Option<Instant>) -> Option<&Air> {
    let within = |at: Instant| about.is_none_or(|about| about.hours_since(at).abs() <= AIR_HOLDS_H);
    let dated = test.air.kept().filter_map(|air| Some((air.at.filter(|at| within(*at))?, air)));
    newest(dated).map(|(_, air)| air)
}

/// The reading of the air that counts today: an older one is that of another spray day, and stays as it is.
pub fn air_of_the_day(test: &SprayTest, now: Instant) -> Option<&Air> {
    // One that another clock dates days ahead does not hide it.
    newest_within(test, Some(now))
}
