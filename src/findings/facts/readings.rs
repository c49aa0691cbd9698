//! All readings of a test by when they were made.

use super::times::moment;
use quantity::Instant;
use record::SprayTest;

/// When the oldest reading was made that came after an export; the oldest of all where there was none.
pub fn oldest_reading_since(test: &SprayTest, exported: Option<Instant>) -> Option<Instant> {
    let mut oldest: Option<Instant> = None;
    let mut see = |at: Option<Instant>| {
        if let Some(at) = at.filter(|at| exported.is_none_or(|exported| *at > exported)) {
            oldest = Some(oldest.map_or(at, |known| if at < known { at } else { known }));
        }
    };
    each_reading(test, &mut see);
    oldest
}

/// Shows when each reading was made.
pub(crate) fn each_reading(test: &SprayTest, see: &mut dyn FnMut(Option<Instant>)) {
    for panel in test.panels.kept() {
        panel.bare.kept().for_each(|bare| see(bare.at));
        panel.dabs.kept().for_each(|dab| see(dab.at));
        panel.weigh_ins.kept().for_each(|weigh_in| see(moment(test, weigh_in)));
        panel.spots.kept().for_each(|spot| see(spot.at));
    }
    test.blanks.kept().flat_map(|blank| blank.weigh_ins.kept()).for_each(|weigh_in| see(moment(test, weigh_in)));
}
