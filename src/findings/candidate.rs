//! Candidates from their panels, and pairs of them held against each other.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;

use super::panel::PanelFindings;
use super::why::{Reason, Why};
use super::work::{PanelWork, possible};
use record::{Candidate, Id, SprayTest};
use science::compare::{self, CandidateMean, Claim, Contender, Loss, PanelValue};
use science::gain::Gain;
use science::routes::Input;
use science::{Estimate, Measured};

/// µm of film that a gram on a cm² makes at 1 g/mL; g/m² that it is.
const UM: f64 = 1e4;

/// What candidates are compared by, the most telling first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// Film still to go after the day of sanding, µm.
    FilmStillToGo,
    /// Mass lost in all, from the wet weight to the end, g/m².
    LossPerArea,
    /// Mass lost in all, as a share of the wet coat.
    LossShare,
    /// Film lost in all, µm.
    FilmLost,
    /// Dry build that is left, as a share of the wet film.
    BuildKept,
    /// Projected final dry build, µm.
    FinalBuild,
}

impl By {
    /// All, in the order they are shown.
    pub const ALL: [Self; 6] =
        [Self::FilmStillToGo, Self::LossPerArea, Self::LossShare, Self::FilmLost, Self::BuildKept, Self::FinalBuild];
}

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
    #[serde(skip)]
    worked: Option<Arc<CandidateMean>>,
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

/// Candidates in the order of the numbers on their panels, as they stand in every list and get their marks; those without a
/// panel after them, by name. Not by name alone: a card must not jump, nor a mark change, while its name is being typed.
pub fn in_order(test: &SprayTest) -> Vec<&Candidate> {
    let key = |candidate: &Candidate| {
        let own = test.panels.kept().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id));
        let first = own.map(|panel| super::natural(&panel.label)).min();
        (first.is_none(), first, super::natural(&candidate.label), candidate.id.clone())
    };
    let mut candidates: Vec<_> = test.candidates.kept().map(|candidate| (key(candidate), candidate)).collect();
    order::sort_by(&mut candidates, |a, b| a.0.cmp(&b.0));
    candidates.into_iter().map(|(_, candidate)| candidate).collect()
}

/// What was worked out of a candidate's panels: good for as long as they are the same.
#[derive(Clone, Debug, Default)]
pub(super) struct Kept {
    works: Vec<(String, Arc<PanelWork>)>,
    means: Vec<MeanFindings>,
    /// What could be done, and for which time it was worked out, h on the clock.
    pub gains: Option<(f64, Vec<Gain>)>,
}

/// By candidate.
pub(super) type AllKept = BTreeMap<Id, Kept>;

/// Candidates from their panels; what is kept of one whose panels are the same is not worked out again.
pub(super) fn candidates(test: &SprayTest, panels: &[PanelFindings], kept: &mut AllKept) -> Vec<CandidateFindings> {
    let mut before = std::mem::take(kept);
    let mut told = Vec::new();
    for candidate in in_order(test) {
        let own: Vec<&PanelFindings> =
            panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id)).collect();
        let works: Vec<Named<'_>> = own.iter().map(|panel| (panel.label.as_str(), &panel.work)).collect();
        keep_means(&candidate.id, &works, &mut before);
        if let Some(known) = before.remove(&candidate.id) {
            told.push(tell(candidate, &own, known.means.clone()));
            kept.insert(candidate.id.clone(), known);
        }
    }
    told
}

/// A panel's label, which stands in reasons, and its work.
pub(super) type Named<'a> = (&'a str, &'a Arc<PanelWork>);

/// Works the means of a candidate's panels out unless those kept are of the same ones; says whether it did.
pub(super) fn keep_means(candidate: &Id, works: &[Named<'_>], kept: &mut AllKept) -> bool {
    let same = |known: &Kept| {
        known.works.len() == works.len()
            && known.works.iter().zip(works).all(|(a, b)| a.0 == b.0 && Arc::ptr_eq(&a.1, b.1))
    };
    if kept.get(candidate).is_some_and(same) {
        return false;
    }
    let means = By::ALL.iter().map(|&by| mean(by, candidate, works)).collect();
    let works = works.iter().map(|(label, work)| ((*label).to_owned(), Arc::clone(work))).collect();
    kept.insert(candidate.clone(), Kept { works, means, gains: None });
    true
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

fn mean(by: By, candidate: &Id, works: &[Named<'_>]) -> MeanFindings {
    let values: Vec<Result<PanelValue, Reason>> = works.iter().map(|(_, work)| value(by, candidate, work)).collect();
    let known: Vec<PanelValue> = values.iter().filter_map(|value| value.clone().ok()).collect();
    let mut why = Why::default();
    let worked = if known.is_empty() {
        Err(Reason::of_panels(works.iter().map(|(label, _)| *label).zip(values)))
    } else {
        compare::candidate(&known).map_err(|trouble| Reason::Said(trouble.to_string()))
    };
    let is_film = matches!(by, By::FilmStillToGo | By::FilmLost | By::FinalBuild);
    let worked = worked.and_then(|mean| if is_film { possible(mean.interval).map(|_| mean) } else { Ok(mean) });
    let worked = why.note("mean", worked);
    // Of one panel it is that panel's own number, the same wherever it is shown.
    let alone = works.iter().filter(|_| known.len() == 1).find_map(|(_, work)| interval(by, candidate, work).ok());
    let interval = worked.as_ref().map(|mean| match by {
        _ if alone.is_some() => alone.unwrap_or(mean.interval),
        // What is still to go cannot be less than nothing, whatever a symmetric interval says.
        By::FilmStillToGo => Estimate { low: mean.interval.low.max(0.0), ..mean.interval },
        _ => mean.interval,
    });
    MeanFindings { by, mean: interval, panels: known.len(), why, worked: worked.map(Arc::new) }
}

/// One panel's number with its 95 % interval: what every place shows that shows it.
pub(super) fn interval(by: By, candidate: &Id, work: &PanelWork) -> Result<Estimate, Reason> {
    match by {
        By::FilmStillToGo => work.film_still_to_go(*work.card.days_h.first().ok_or(Reason::NoForecast)?),
        By::FinalBuild => {
            let build = work.build.answer.as_ref().map_err(|trouble| Reason::Said(trouble.to_string()))?;
            Ok(build.build_um)
        }
        By::LossPerArea | By::LossShare | By::FilmLost | By::BuildKept => {
            let mean = compare::candidate(&[value(by, candidate, work)?]);
            mean.map(|mean| mean.interval).map_err(|trouble| Reason::Said(trouble.to_string()))
        }
    }
}

/// One panel's value, its errors kept apart by whom they are shared with.
pub(super) fn value(by: By, candidate: &Id, work: &PanelWork) -> Result<PanelValue, Reason> {
    // What the sheet says, or stands in for it, is each candidate's own.
    let density = (work.card.solvent_density, Some(format!("solvent density {candidate}")));
    let value = match by {
        By::FilmStillToGo => {
            let day_h = *work.card.days_h.first().ok_or(Reason::NoForecast)?;
            let still = work.still_to_go_g(day_h)?;
            let area = work.card.area_cm2.ok_or(Reason::NoArea)?;
            PanelValue::of_loss(Loss::Forecast(&still), UM, &[(area, None), density])
        }
        By::LossPerArea => {
            let area = work.card.area_cm2.ok_or(Reason::NoArea)?;
            PanelValue::of_loss(Loss::Forecast(&work.final_loss_g()?), UM, &[(area, None)])
        }
        By::FilmLost => {
            let area = work.card.area_cm2.ok_or(Reason::NoArea)?;
            PanelValue::of_loss(Loss::Forecast(&work.final_loss_g()?), UM, &[(area, None), density])
        }
        By::LossShare => {
            let forecast = work.forecast.as_ref().map_err(Clone::clone)?;
            let lost = work.final_loss_g()?;
            match work.wet_coat_g()? {
                (coat_g, false) => {
                    let coat = Measured::new(coat_g, forecast.noise.reading_sd_g * std::f64::consts::SQRT_2);
                    PanelValue::of_loss(Loss::Forecast(&lost), 1.0, &[(coat, None)])
                }
                (_, true) => {
                    let mix = work.card.sheet.density_sprayed.ok_or(Reason::NoCoatMass)?;
                    let mut coat = vec![(mix, Some(format!("density of the mix {candidate}")))];
                    coat.extend(film_parts(work)?);
                    PanelValue::of_loss(Loss::Forecast(&lost), UM, &coat)
                }
            }
        }
        By::BuildKept => {
            let mut parts = vec![density];
            parts.extend(film_parts(work)?);
            PanelValue::of_loss(Loss::Forecast(&work.final_loss_g()?), UM, &parts).and_then(PanelValue::kept)
        }
        By::FinalBuild => {
            let build = work.build.answer.as_ref().map_err(|trouble| Reason::Said(trouble.to_string()))?;
            let source = |input: Input| match input {
                Input::Comb => Some(comb_name(work)),
                input => input.shared_by_candidate().then(|| format!("{input} {candidate}")),
            };
            Ok(PanelValue::of_build(build, source))
        }
    };
    value.map_err(|trouble| Reason::Said(trouble.to_string()))
}

/// The wet coat's volume as the comb has it, in factors with the name of each error that others share: area, film, comb.
fn film_parts(work: &PanelWork) -> Result<[(Measured, Option<String>); 3], Reason> {
    let area = work.card.area_cm2.ok_or(Reason::NoArea)?;
    let wet = work.wet_film.as_ref().map_err(Clone::clone)?;
    let film = Measured::new(wet.mean_um, wet.sd_um);
    let comb = Measured::new(1.0, wet.bias_um / wet.mean_um);
    Ok([(area, None), (film, None), (comb, Some(comb_name(work)))])
}

/// Whose error the comb's own is: panels read with the same combs share it, candidates or not.
pub(super) fn comb_name(work: &PanelWork) -> String {
    let combs: Vec<&str> = work.card.combs.iter().map(|id| id.0.as_str()).collect();
    format!("comb {}", combs.join(" "))
}

/// A pair worked out before, and from which means.
#[derive(Clone, Debug)]
pub(super) struct KeptPair {
    by: By,
    first: Arc<CandidateMean>,
    second: Arc<CandidateMean>,
    pair: compare::Pair,
}

/// Works one pair of means out that is not kept yet, of candidates in the order of every list; says whether there was one.
pub(super) fn keep_a_pair(candidates: &[&Id], means: &AllKept, kept: &mut Vec<KeptPair>) -> bool {
    // Those kept are in the order in which they are come by, so that the next one is found without a search.
    let mut place = 0;
    for by in By::ALL {
        let of = |candidate: &&Id| means.get(*candidate)?.means[by as usize].worked.clone();
        let known: Vec<Arc<CandidateMean>> = candidates.iter().filter_map(of).collect();
        for (i, first) in known.iter().enumerate() {
            for (j, second) in known.iter().enumerate().skip(i + 1) {
                let is = |pair: &KeptPair| pair.is(by, first, second);
                if kept.get(place).is_some_and(is) {
                    place += 1;
                    continue;
                }
                let pair = match kept.iter().skip(place).position(is) {
                    Some(ahead) => kept.remove(place + ahead).pair,
                    None => match compare::pair(i, first, j, second) {
                        Ok(pair) => pair,
                        // It is met again, and judged, with all the others.
                        Err(_) => return false,
                    },
                };
                kept.insert(place, KeptPair { by, first: first.clone(), second: second.clone(), pair });
                return true;
            }
        }
    }
    false
}

impl KeptPair {
    fn is(&self, by: By, first: &Arc<CandidateMean>, second: &Arc<CandidateMean>) -> bool {
        self.by == by && Arc::ptr_eq(&self.first, first) && Arc::ptr_eq(&self.second, second)
    }
}

/// Every pair of candidates by every quantity; one whose two means are those of before is not worked out again, only held
/// against the others anew.
pub(super) fn pairs(candidates: &[CandidateFindings], kept: &mut Vec<KeptPair>) -> Vec<PairFindings> {
    let before = std::mem::take(kept);
    By::ALL.iter().flat_map(|&by| pairs_by(by, candidates, &before, kept)).collect()
}

fn pairs_by(
    by: By,
    candidates: &[CandidateFindings],
    before: &[KeptPair],
    kept: &mut Vec<KeptPair>,
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
            kept.push(KeptPair { by, first: Arc::clone(a), second: Arc::clone(b), pair: pair.clone() });
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
