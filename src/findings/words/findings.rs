//! The findings of a test, put together and worded.

use super::candidate::candidates;
use super::flags::{flag_moved, flag_swaps};
use super::next::what_next;
use super::said::out_loud;
use super::wording::Wording;
use crate::facts::in_order;
use crate::told::{Findings, PanelFindings, Panels, pairs, swapped};
use crate::work::{Memory, PanelCard};
use quantity::Instant;
use record::{Id, SprayTest, legible};

impl Panels {
    /// How many are still to be worked out, in a sentence; `None` where none is.
    pub fn waiting_said(&self) -> Option<String> {
        match self.waiting.len() {
            0 => None,
            1 => Some("Working 1 panel out …".into()),
            count => Some(format!("Working {count} panels out …")),
        }
    }
}

impl Memory {
    /// The findings of a test at a moment, said in `wording`; works out all that waits.
    pub fn of(&mut self, test: &SprayTest, now: Instant, wording: &Wording) -> Findings {
        let test = &*legible(test);
        self.look(test);
        while self.step(None) {}
        let panels = self.panels(test, wording).told;
        let candidates = candidates(test, &panels, &mut self.candidates, wording);
        let pairs = pairs(&candidates, &mut self.pairs);
        let said = out_loud(test, &candidates, &pairs, &panels, wording);
        let next = what_next(test, &candidates, &panels, &mut self.candidates, now, wording);
        Findings { panels, candidates, pairs, next, said }
    }
}

impl Memory {
    /// The panels as far as they are worked out; `test` is the one that was last looked at.
    pub fn panels(&self, test: &SprayTest, wording: &Wording) -> Panels {
        let test = &*legible(test);
        let mut panels = Panels::default();
        for (panel, place) in in_order(test).into_iter().zip(&self.places) {
            match &place.work {
                Some(work) => panels.told.push(PanelFindings::of(panel, work.clone(), wording)),
                None => panels.waiting.push(panel.id.clone()),
            }
        }
        let weighed: Vec<(&Id, &PanelCard)> = self.places.iter().map(|place| (&place.id, &place.card)).collect();
        flag_swaps(test, swapped(test, &weighed, &panels.told), &mut panels.told);
        flag_moved(test, &mut panels.told, wording);
        panels.told.iter_mut().for_each(PanelFindings::excuse_newest);
        panels
    }
}
