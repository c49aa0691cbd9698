//! The comb, and its readings on a panel.

use super::coats::last_coat_on;
use quantity::{Instant, Micrometres};
use record::{Comb, Dab, Id, Panel, SprayTest};

/// Dabs of the film as it stood after the last coat.
pub(crate) fn dabs_of(panel: &Panel, last_coat: Option<Instant>) -> impl Iterator<Item = &Dab> {
    let of_last = move |dab: &&Dab| match (dab.at, last_coat) {
        (Some(at), Some(coat)) => at >= coat,
        _ => true,
    };
    panel.dabs.kept().filter(of_last)
}

/// The comb a dab was read with: the one it names, else the only one there is.
pub(crate) fn comb_of<'a>(test: &'a SprayTest, dab: &Dab) -> Option<&'a Comb> {
    let mut combs = test.combs.kept();
    let sole = combs.next().filter(|_| combs.next().is_none());
    dab.comb.as_ref().and_then(|id| test.combs.find(id)).or(sole)
}

/// Where the comb is set on a panel, in this order: apart from each other and away from the edges.
pub const DAB_PLACES: [&str; 3] = ["top third", "middle third", "bottom third"];

/// Where the next dab of a panel's last coat belongs.
pub fn next_place(test: &SprayTest, panel: &Id) -> &'static str {
    let made = test.panels.find(panel).map_or(0, |panel| panel.dabs.kept().count());
    DAB_PLACES[made % DAB_PLACES.len()]
}

/// The comb that dabs are made with: the first of the test.
pub fn comb_in_hand(test: &SprayTest) -> Option<&Comb> {
    test.combs.kept().next()
}

/// Its teeth, from the shortest.
pub fn teeth_in_hand(test: &SprayTest) -> Vec<Micrometres> {
    let edge = comb_in_hand(test).and_then(|comb| comb.edges.kept().next());
    edge.map(|edge| edge.teeth_um.clone()).unwrap_or_default()
}

/// Dabs of the film as it stands after `last_coat`.
pub(crate) fn dabs_since(panel: &Panel, last_coat: Instant) -> impl Iterator<Item = &Dab> {
    panel.dabs.kept().filter(move |dab| dab.at.is_none_or(|at| at >= last_coat))
}

/// Dabs asked for on every panel (number from memory, SCIENCE of the comb: three or more separate places).
pub const DABS: usize = 3;

/// How many dabs a panel's last coat has.
pub(crate) fn dabs_of_last_coat(test: &SprayTest, panel: &Id) -> usize {
    let Some(panel) = test.panels.find(panel) else { return 0 };
    last_coat_on(panel).map_or_else(|| panel.dabs.kept().count(), |last| dabs_since(panel, last).count())
}
