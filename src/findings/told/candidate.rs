//! What is told of one candidate, and of two.

use std::sync::Arc;

use serde::Serialize;

use super::panel::PanelFindings;
use crate::facts::candidates_in_order;
use crate::work::{By, KnownPair, MeanFindings, MeansOfAll, Named, work_out_means};
use record::{Candidate, Id, SprayTest};
use science::compare::{CandidateMean, Claim, Contender};
use science::{Estimate, compare};

/// What is told of one candidate.
#[derive(Clone, Debug, Serialize)]
pub struct CandidateFindings {
    /// Which one.
    pub id: Id,
    /// Its name.
    pub label: String,
    /// How many panels carry it.
    pub panels: usize,
    /// The day of sanding that counts for it, h after the last coat.
    pub day_h: Option<f64>,
    /// Its means over the panels.
    pub means: Vec<MeanFindings>,
    #[serde(skip)]
    mixes: usize,
}

impl CandidateFindings {
    /// Its name as part of a sentence.
    pub fn name(&self) -> &str {
        let label = self.label.trim();
        if label.is_empty() { "the candidate without a name" } else { label }
    }

    /// The mean of that quantity.
    pub fn mean(&self, by: By) -> &MeanFindings {
        &self.means[by as usize]
    }
}

/// Two candidates held against each other by one quantity.
#[derive(Clone, Debug, Serialize)]
pub struct PairFindings {
    /// By what.
    pub by: By,
    /// The first candidate.
    pub first: Id,
    /// The second.
    pub second: Id,
    /// First less second, with its 95 % interval.
    pub difference: Estimate,
    /// What may be said of it.
    pub claim: Claim,
}

/// Candidates from their panels; what is kept of one whose panels are the same is not worked out again.
pub(crate) fn candidates(test: &SprayTest, panels: &[PanelFindings], kept: &mut MeansOfAll) -> Vec<CandidateFindings> {
    let mut before = std::mem::take(kept);
    let mut told = Vec::new();
    for candidate in candidates_in_order(test) {
        let own: Vec<&PanelFindings> =
            panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id)).collect();
        let works: Vec<Named<'_>> = own.iter().map(|panel| (panel.label.as_str(), &panel.work)).collect();
        work_out_means(&candidate.id, &works, &mut before);
        if let Some(known) = before.remove(&candidate.id) {
            told.push(tell(candidate, &own, known.means.clone()));
            kept.insert(candidate.id.clone(), known);
        }
    }
    told
}

fn tell(candidate: &Candidate, own: &[&PanelFindings], means: Vec<MeanFindings>) -> CandidateFindings {
    let mut mixes: Vec<_> = own.iter().filter_map(|panel| panel.mix.as_ref()).collect();
    order::sort_by(&mut mixes, Ord::cmp);
    mixes.dedup();
    CandidateFindings {
        id: candidate.id.clone(),
        label: candidate.label.clone(),
        panels: own.len(),
        day_h: own.first().and_then(|panel| panel.work.card.days_h.first().copied()),
        means,
        mixes: mixes.len().max(1),
    }
}

/// Every pair of candidates by every quantity; one whose two means are those of before is not worked out again, only held
/// against the others anew.
pub(crate) fn pairs(candidates: &[CandidateFindings], kept: &mut Vec<KnownPair>) -> Vec<PairFindings> {
    let before = std::mem::take(kept);
    By::ALL.iter().flat_map(|&by| pairs_by(by, candidates, &before, kept)).collect()
}

fn pairs_by(
    by: By,
    candidates: &[CandidateFindings],
    before: &[KnownPair],
    kept: &mut Vec<KnownPair>,
) -> Vec<PairFindings> {
    let known: Vec<(&CandidateFindings, &Arc<CandidateMean>)> =
        candidates.iter().filter_map(|candidate| Some((candidate, candidate.mean(by).worked.as_ref()?))).collect();
    let mut found = Vec::new();
    for (i, (_, a)) in known.iter().enumerate() {
        for (j, (_, b)) in known.iter().enumerate().skip(i + 1) {
            let pair = match before.iter().find(|known| known.is(by, a, b)) {
                Some(known) => compare::Pair { first: i, second: j, ..known.pair.clone() },
                None => match compare::pair(i, a, j, b) {
                    Ok(pair) => pair,
                    // As with all pairs at once: what cannot be judged together is not judged.
                    Err(_) => return Vec::new(),
                },
            };
            kept.push(KnownPair { by, first: Arc::clone(a), second: Arc::clone(b), pair: pair.clone() });
            found.push(pair);
        }
    }
    let contenders: Vec<Contender<'_>> =
        known.iter().map(|(candidate, mean)| Contender { mean, mixes: candidate.mixes }).collect();
    let pairs = compare::judged(found, &contenders).unwrap_or_default();
    let pair = |pair: &compare::Pair| PairFindings {
        by,
        first: known[pair.first].0.id.clone(),
        second: known[pair.second].0.id.clone(),
        difference: pair.difference,
        claim: pair.claim,
    };
    pairs.iter().map(pair).collect()
}
