//! What is already worked out of a test, and what of it still waits: the answers that take time are worked out panel by
//! panel, so that a screen can be drawn in between.

use std::sync::Arc;

use super::card::PanelCard;
use super::means::{KnownPair, MeansOfAll, Named, work_out_a_pair, work_out_means};
use super::panel::PanelWork;
use crate::facts::in_order;
use record::{Id, SprayTest, legible_text};
use science::drying::LEAST_OLDER_H;

/// A change to so many panels is worked out at once: one was weighed, or two were exchanged. More wait, since it was
/// something shared that changed, as the scale's drift.
const AT_ONCE: usize = 2;

/// Panels already worked out, each good for as long as what it was worked out from stays the same.
///
/// [`Memory::look`] takes the test as it stands, [`Memory::step`] works out one panel that waits, and [`Memory::of`] all that
/// is left; by whichever way, the findings are the same.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    /// The panels of the test as it stood when it was last looked at, in the order of every list.
    pub(crate) places: Vec<Place>,
    /// The same by when they were sprayed, the oldest first: the older ones of a candidate inform the younger.
    pub(crate) order: Vec<usize>,
    pub(crate) candidates: MeansOfAll,
    pub(crate) pairs: Vec<KnownPair>,
}

/// A panel's work, and the older panels of its candidate that informed it, with how much older they are, h.
#[derive(Clone, Debug)]
struct Remembered {
    work: Arc<PanelWork>,
    older: Vec<(f64, Arc<PanelWork>)>,
}

impl Remembered {
    fn informed_by(&self, older: &[(f64, Arc<PanelWork>)]) -> bool {
        self.older.len() == older.len()
            && self.older.iter().zip(older).all(|(a, b)| a.0 == b.0 && Arc::ptr_eq(&a.1, &b.1))
    }
}

/// A panel of the test as it stands; without work it waits.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    pub(crate) id: Id,
    /// As it stands in sentences.
    pub(crate) label: String,
    pub(crate) candidate: Option<Id>,
    pub(crate) card: PanelCard,
    pub(crate) work: Option<Arc<PanelWork>>,
    /// As it was last worked out, which may be of another card.
    known: Option<Remembered>,
}

impl Place {
    fn sprayed_h(&self) -> f64 {
        self.card.last_coat_h.unwrap_or(f64::INFINITY)
    }

    fn waits(&self) -> bool {
        self.work.is_none()
    }
}

impl Memory {
    /// Works out one thing more that [`Memory::of`] or Results will ask for, once no panel waits: what would tell of a panel, the
    /// means of a candidate, or a pair of them. Says whether there was one.
    pub fn prepare(&mut self) -> bool {
        if self.places.iter().filter_map(|place| place.work.as_ref()).any(|work| work.look_ahead()) {
            return true;
        }
        let mut candidates: Vec<&Id> = Vec::new();
        for id in self.places.iter().filter_map(|place| place.candidate.as_ref()) {
            if candidates.last() != Some(&id) {
                candidates.push(id);
            }
        }
        for id in &candidates {
            let own = self.places.iter().filter(|place| place.candidate.as_ref() == Some(*id));
            let works: Vec<Named<'_>> =
                own.filter_map(|place| Some((place.label.as_str(), place.work.as_ref()?))).collect();
            if work_out_means(id, &works, &mut self.candidates) {
                return true;
            }
        }
        work_out_a_pair(&candidates, &self.candidates, &mut self.pairs)
    }

    /// Looks at the test as it stands: what still holds is kept, and what has changed waits, unless that is one panel or
    /// two.
    pub fn look(&mut self, test: &SprayTest) {
        let mut places = Vec::new();
        for panel in in_order(test) {
            let (id, candidate) = (panel.id.clone(), panel.candidate.as_ref().cloned());
            let known = self.places.iter_mut().find(|place| place.id == id).and_then(|place| place.known.take());
            let label = legible_text(&panel.label).into_owned();
            places.push(Place { id, label, candidate, card: PanelCard::of(test, panel), work: None, known });
        }
        self.order = (0..places.len()).collect();
        order::sort_by(&mut self.order, |&a, &b| places[a].sprayed_h().total_cmp(&places[b].sprayed_h()));
        self.places = places;
        for i in self.order.clone() {
            self.places[i].work = self.remembered(i);
        }
        if self.places.iter().filter(|place| place.waits()).count() <= AT_ONCE {
            while self.step(None) {}
        }
    }

    /// Works out one panel that waits, before all others `first` or one that it takes; says whether there was one.
    pub fn step(&mut self, first: Option<&Id>) -> bool {
        let waits = |i: &usize| self.places[*i].waits();
        let wanted = first.and_then(|first| self.places.iter().position(|place| place.id == *first)).filter(waits);
        let next = match wanted {
            Some(wanted) => self.older(wanted).into_iter().map(|(_, i)| i).find(waits).or(Some(wanted)),
            None => self.order.iter().copied().find(waits),
        };
        if let Some(i) = next {
            self.fit(i);
        }
        next.is_some()
    }

    /// Works out one panel, and those that it takes.
    pub fn work_out(&mut self, panel: &Id) {
        while self.places.iter().any(|place| place.id == *panel && place.waits()) {
            self.step(Some(panel));
        }
    }
}

impl Memory {
    /// The older panels of the same candidate that inform one, the oldest first, with how much older they are, h.
    fn older(&self, i: usize) -> Vec<(f64, usize)> {
        let own = &self.places[i];
        let known = |j: &usize| own.candidate.is_some() && self.places[*j].candidate == own.candidate;
        let by = |j: usize| (own.sprayed_h() - self.places[j].sprayed_h(), j);
        self.order.iter().copied().filter(known).map(by).filter(|(by_h, _)| *by_h >= LEAST_OLDER_H).collect()
    }

    /// Their work; `None` while one of them waits.
    fn elders(&self, i: usize) -> Option<Vec<(f64, Arc<PanelWork>)>> {
        self.older(i).into_iter().map(|(by_h, j)| Some((by_h, self.places[j].work.clone()?))).collect()
    }

    /// The work of before, where nothing that it depends on has changed.
    fn remembered(&self, i: usize) -> Option<Arc<PanelWork>> {
        let Place { card, known, .. } = &self.places[i];
        let known = known.as_ref().filter(|known| known.work.card == *card)?;
        known.informed_by(&self.elders(i)?).then(|| known.work.clone())
    }

    fn fit(&mut self, i: usize) {
        // Whoever informs it was worked out before it.
        let older = self.elders(i).unwrap_or_default();
        let place = &mut self.places[i];
        let elders: Vec<_> = older.iter().map(|(by_h, work)| (*by_h, &**work)).collect();
        let former = place.known.as_ref().filter(|known| known.informed_by(&older));
        let work = Arc::new(PanelWork::of(place.card.clone(), &elders, former.map(|known| &*known.work)));
        place.work = Some(work.clone());
        place.known = Some(Remembered { work, older });
    }
}
