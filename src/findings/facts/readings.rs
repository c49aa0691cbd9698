//! All readings of a test by when they were made.

use super::coats::first_and_last_coat;
use super::times::{earliest, latest, moment};
use super::weights::all_weigh_ins;
use quantity::Instant;
use record::SprayTest;

/// When the oldest reading was made that came after an export; the oldest of all where there was none.
pub fn oldest_reading_since(test: &SprayTest, exported: Option<Instant>) -> Option<Instant> {
    earliest(&mut readings(test).into_iter().filter(|at| exported.is_none_or(|exported| *at > exported)))
}

/// When the newest reading was made or coat sprayed.
pub(crate) fn newest_reading_or_coat(test: &SprayTest) -> Option<Instant> {
    let coat = first_and_last_coat(test).map(|(_, last)| last);
    latest(&mut readings(test).into_iter().chain(coat))
}

/// When each reading was made.
fn readings(test: &SprayTest) -> Vec<Instant> {
    let mut all = Vec::new();
    for panel in test.panels.kept() {
        all.extend(panel.bare.kept().filter_map(|bare| bare.at));
        all.extend(panel.dabs.kept().filter_map(|dab| dab.at));
        all.extend(panel.spots.kept().filter_map(|spot| spot.at));
    }
    all.extend(all_weigh_ins(test).filter_map(|weigh_in| moment(test, weigh_in)));
    all
}

/// Whether anything has been sprayed, weighed or read yet.
pub fn is_under_way(test: &SprayTest) -> bool {
    newest_reading_or_coat(test).is_some()
}
