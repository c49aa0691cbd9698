//! What is told of one candidate, and of two.

use std::sync::Arc;

use serde::Serialize;

use super::why::Why;
use crate::work::{By, KnownPair, Reason};
use record::Id;
use science::compare::{CandidateMean, Claim, Contender};
use science::{Estimate, compare};

/// What is told of one candidate.
#[derive(Clone, Debug, Serialize)]
pub struct CandidateFindings {
    /// Which one.
    pub id: Id,
    /// Its name.
    pub label: String,
    /// How many panels carry it, without those that left the test before they were weighed wet.
    pub panels: usize,
    /// The day of sanding that counts for it, h after the last coat.
    pub day_h: Option<f64>,
    /// Its means over the panels.
    pub means: Vec<MeanFindings>,
    /// How many cups its panels were sprayed from, one where nobody says.
    #[serde(skip)]
    pub(crate) mixes: usize,
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

/// The mean of one quantity over a candidate's panels.
#[derive(Clone, Debug, Serialize)]
pub struct MeanFindings {
    /// Of what.
    pub by: By,
    /// Mean and 95 % interval.
    pub mean: Option<Estimate>,
    /// From how many panels.
    pub panels: usize,
    /// Why there is none.
    #[serde(skip_serializing_if = "Why::is_empty")]
    pub why: Why,
    /// The same before it was said.
    #[serde(skip)]
    pub(crate) reason: Option<Reason>,
    #[serde(skip)]
    pub(crate) worked: Option<Arc<CandidateMean>>,
}

impl MeanFindings {
    /// The mean, or why there is none.
    pub(crate) fn known(&self) -> Result<Estimate, Reason> {
        self.mean.ok_or_else(|| self.reason.clone().unwrap_or(Reason::NoValue))
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
