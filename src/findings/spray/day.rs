//! What the record says of one candidate's spray day.

use crate::facts::{CoatOfAll, clock_order, coats_of, earliest, last_coat, outside_rounds, panels_on};
use quantity::{Instant, Quantity};
use record::{Candidate, Mixed, Panel, SprayTest};

/// What the record says of one candidate's spray day.
pub(crate) struct SprayDay<'a> {
    pub test: &'a SprayTest,
    pub candidate: &'a Candidate,
    pub panels: Vec<&'a Panel>,
    /// Cups that came together, the newest last.
    pub cups: Vec<(&'a Mixed, Instant)>,
    /// The coats, the first of all panels first.
    pub coats: Vec<CoatOfAll>,
}

impl<'a> SprayDay<'a> {
    pub(crate) fn of(test: &'a SprayTest, candidate: &'a Candidate) -> Self {
        let panels = panels_on(test, &candidate.id);
        let own = test.mixes.kept().filter(|cup| cup.candidate.as_ref() == Some(&candidate.id));
        let mut cups: Vec<(&Mixed, Instant)> = own.filter_map(|cup| Some((cup, cup.at?))).collect();
        order::sort_by(&mut cups, |a, b| clock_order(a.1, b.1));
        let coats = coats_of(&panels);
        Self { test, candidate, panels, cups, coats }
    }

    /// When the last coat was sprayed; where no coat was noted, when its film was first read or weighed.
    pub(crate) fn last_coat(&self) -> Option<Instant> {
        self.coats.last().map(CoatOfAll::last).or_else(|| {
            let dabs = self.panels.iter().flat_map(|panel| panel.dabs.kept()).filter_map(|dab| dab.at);
            let weighed = self.panels.iter().flat_map(|panel| outside_rounds(&panel.weigh_ins)).filter_map(|w| w.at);
            earliest(&mut dabs.chain(weighed))
        })
    }

    /// Each panel with the time of its own last coat; with that of the others where none was noted on it.
    pub(crate) fn coated(&self) -> impl Iterator<Item = (&'a Panel, Instant)> {
        let last = self.last_coat();
        self.panels.iter().filter_map(move |panel| Some((*panel, last_coat(panel).or(last)?)))
    }

    /// When the cup in use at a moment was mixed: the newest of them by then.
    pub(crate) fn cup_at(&self, at: Instant) -> Option<Instant> {
        self.cups.iter().map(|cup| cup.1).rfind(|mixed| *mixed <= at)
    }

    pub(crate) fn planned(&self) -> Option<usize> {
        self.candidate.sheet.coats.map(|count| count.get() as usize).filter(|count| *count > 0)
    }
}
