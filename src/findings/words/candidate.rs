//! What was worked out of a candidate, told.

use super::wording::Wording;
use crate::facts::candidates_in_order;
use crate::told::{CandidateFindings, MeanFindings, PairFindings, PanelFindings, Why};
use crate::work::{Mean, MeansOfAll, Named, work_out_means};
use record::{Candidate, SprayTest};
use science::compare::Claim;

/// Candidates from their panels; what is kept of one whose panels are the same is not worked out again.
pub(crate) fn candidates(
    test: &SprayTest,
    panels: &[PanelFindings],
    kept: &mut MeansOfAll,
    wording: &Wording,
) -> Vec<CandidateFindings> {
    let mut before = std::mem::take(kept);
    let mut told = Vec::new();
    for candidate in candidates_in_order(test) {
        let own: Vec<&PanelFindings> =
            panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id)).collect();
        let works: Vec<Named<'_>> = own.iter().map(|panel| (panel.label.as_str(), &panel.work)).collect();
        work_out_means(&candidate.id, &works, &mut before);
        if let Some(known) = before.remove(&candidate.id) {
            told.push(tell(candidate, &own, known.means.iter().map(|mean| MeanFindings::of(mean, wording)).collect()));
            kept.insert(candidate.id.clone(), known);
        }
    }
    told
}

fn tell(candidate: &Candidate, own: &[&PanelFindings], means: Vec<MeanFindings>) -> CandidateFindings {
    let takes_part = |panel: &&&PanelFindings| !panel.left || panel.wet_gross_g.is_some();
    let own: Vec<&&PanelFindings> = own.iter().filter(takes_part).collect();
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

impl MeanFindings {
    fn of(mean: &Mean, wording: &Wording) -> Self {
        let mut why = Why::default();
        let &Mean { by, panels, .. } = mean;
        let known = why.note("mean", mean.interval.clone(), wording);
        Self { by, mean: known, panels, why, reason: mean.interval.clone().err(), worked: mean.worked.clone() }
    }
}

impl PairFindings {
    /// What may be said of the two, in a sentence.
    pub fn claim_said(&self) -> &'static str {
        match self.claim {
            Claim::OnePanel => {
                "One panel each shows a difference but not whether another pair would repeat it; spray more panels."
            }
            Claim::WithinChance => "The difference is within what chance does between panels.",
            Claim::ThisMix => {
                "The difference is more than chance for these mixes; a second mix of each would tell of the primers."
            }
            Claim::Primer => "The difference is more than chance.",
        }
    }
}
