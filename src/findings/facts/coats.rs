//! The coats of a candidate: the first is the first of each of its panels, whether all of them were sprayed in one go or one
//! after the other, minutes apart.

use super::times::{clock_order, earliest, latest};
use quantity::Instant;
use record::{Id, Panel, SprayTest};

/// One coat of a candidate, on one panel or on several.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct CoatOfAll {
    /// On each panel its entry, and when; the earliest first, never empty.
    sprayed: Vec<(Id, Id, Instant)>,
}

impl CoatOfAll {
    /// When the first panel got it.
    pub fn first(&self) -> Instant {
        self.sprayed[0].2
    }

    /// When the last panel got it.
    pub fn last(&self) -> Instant {
        self.sprayed[self.sprayed.len() - 1].2
    }

    /// Of each panel the entry.
    pub fn entries(&self) -> Vec<(Id, Id)> {
        self.sprayed.iter().map(|(panel, coat, _)| (panel.clone(), coat.clone())).collect()
    }

    /// The fewest minutes that a panel stood between the coat before and this one; `None` where no panel had both.
    pub fn waited_min(&self, before: &Self) -> Option<f64> {
        let waited = self.sprayed.iter().filter_map(|(panel, _, at)| {
            let earlier = before.sprayed.iter().find(|(other, ..)| other == panel)?;
            Some(at.hours_since(earlier.2) * 60.0)
        });
        waited.reduce(f64::min)
    }
}

/// The coats of these panels, counted on each panel by time.
pub(crate) fn coats_of(panels: &[&Panel]) -> Vec<CoatOfAll> {
    let mut coats: Vec<CoatOfAll> = Vec::new();
    for panel in panels {
        let mut own: Vec<(Id, Id, Instant)> = Vec::new();
        own.extend(panel.coats.kept().filter_map(|coat| Some((panel.id.clone(), coat.id.clone(), coat.at?))));
        order::sort_by(&mut own, |a, b| clock_order(a.2, b.2));
        for (n, sprayed) in own.into_iter().enumerate() {
            match coats.get_mut(n) {
                Some(coat) => coat.sprayed.push(sprayed),
                None => coats.push(CoatOfAll { sprayed: vec![sprayed] }),
            }
        }
    }
    for coat in &mut coats {
        order::sort_by(&mut coat.sprayed, |a, b| clock_order(a.2, b.2));
    }
    coats
}

/// When a panel got its last coat.
pub(crate) fn last_coat(panel: &Panel) -> Option<Instant> {
    latest(&mut panel.coats.kept().filter_map(|coat| coat.at))
}

/// When a panel got its first coat.
pub(crate) fn first_coat(panel: &Panel) -> Option<Instant> {
    earliest(&mut panel.coats.kept().filter_map(|coat| coat.at))
}

/// When each coat of a test was sprayed.
fn all_coats(test: &SprayTest) -> impl Iterator<Item = Instant> {
    test.panels.kept().flat_map(|panel| panel.coats.kept()).filter_map(|coat| coat.at)
}

/// When the first coat of all panels was sprayed, and the last.
pub fn first_and_last_coat(test: &SprayTest) -> Option<(Instant, Instant)> {
    Some((earliest(&mut all_coats(test))?, latest(&mut all_coats(test))?))
}
