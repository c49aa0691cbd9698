//! The comb, and its readings on a panel.

use super::coats::last_coat;
use quantity::Micrometres;
use record::{Comb, Dab, Id, Panel, SprayTest};

/// The comb readings of a panel's film as it stands since its last coat; one without a time counts as such.
pub(crate) fn comb_readings(panel: &Panel) -> impl DoubleEndedIterator<Item = &Dab> {
    let coat = last_coat(panel);
    let since = move |dab: &&Dab| match (dab.at, coat) {
        (Some(at), Some(coat)) => at >= coat,
        _ => true,
    };
    panel.dabs.kept().filter(since)
}

/// How many those are.
pub(crate) fn comb_readings_made(test: &SprayTest, panel: &Id) -> usize {
    test.panels.find(panel).map_or(0, |panel| comb_readings(panel).count())
}

/// The comb a dab was read with: the one it names, else the only one there is.
pub fn comb_of<'a>(test: &'a SprayTest, dab: &Dab) -> Option<&'a Comb> {
    let mut combs = test.combs.kept();
    let sole = combs.next().filter(|_| combs.next().is_none());
    dab.comb.find(&test.combs).or(sole)
}

/// Where the comb is set on a panel, in this order: apart from each other and away from the edges.
pub(crate) const DAB_PLACES: [&str; 3] = ["top third", "middle third", "bottom third"];

/// Where the next dab of a panel's last coat belongs.
pub(crate) fn next_place(test: &SprayTest, panel: &Id) -> &'static str {
    DAB_PLACES[comb_readings_made(test, panel) % DAB_PLACES.len()]
}

/// The comb that dabs are made with: the first of the test.
pub(crate) fn comb_in_hand(test: &SprayTest) -> Option<&Comb> {
    test.combs.kept().next()
}

/// Its teeth, from the shortest.
pub fn teeth_in_hand(test: &SprayTest) -> Vec<Micrometres> {
    let edge = comb_in_hand(test).and_then(|comb| comb.edges.kept().next());
    edge.map(|edge| edge.teeth_um.clone()).unwrap_or_default()
}

/// Dabs asked for on every panel (number from memory, SCIENCE of the comb: three or more separate places).
pub(crate) const DABS: usize = 3;
