//! Candidates from their panels, and pairs of them held against each other.

use serde::Serialize;

use super::panel::{PanelFindings, PanelWork};
use super::why::{Reason, Why};
use crate::record::{Candidate, Id, SprayTest};
use crate::science::compare::{self, CandidateMean, Claim, Contender, PanelValue, Shared};
use crate::science::{Estimate, estimate::Z95};

/// What candidates are compared by, the most telling first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// Film still to go after the day of sanding, µm.
    FilmStillToGo,
    /// Film lost in all, from the wet weight to the end, µm.
    FilmLost,
    /// Mass lost in all, % of the wet coat.
    LossShare,
    /// Dry build that is left of the wet film, %.
    BuildKept,
    /// Projected final dry build, µm.
    FinalBuild,
}

impl By {
    /// All, in the order they are shown.
    pub const ALL: [Self; 5] =
        [Self::FilmStillToGo, Self::FilmLost, Self::LossShare, Self::BuildKept, Self::FinalBuild];
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
    worked: Option<CandidateMean>,
}

impl CandidateFindings {
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

/// Candidates by label, as they stand in every list and get their marks.
pub fn in_order(test: &SprayTest) -> Vec<&Candidate> {
    let mut candidates: Vec<&Candidate> = test.candidates.kept().collect();
    candidates.sort_by_cached_key(|candidate| (super::natural(&candidate.label), candidate.id.clone()));
    candidates
}

pub(super) fn candidates(test: &SprayTest, panels: &[PanelFindings]) -> Vec<CandidateFindings> {
    in_order(test).into_iter().map(|candidate| tell(candidate, panels)).collect()
}

fn tell(candidate: &Candidate, panels: &[PanelFindings]) -> CandidateFindings {
    let own: Vec<&PanelFindings> =
        panels.iter().filter(|panel| panel.candidate.as_ref() == Some(&candidate.id)).collect();
    let mut mixes: Vec<_> = own.iter().filter_map(|panel| panel.mix.as_ref()).collect();
    mixes.sort();
    mixes.dedup();
    CandidateFindings {
        id: candidate.id.clone(),
        label: candidate.label.clone(),
        panels: own.len(),
        day_h: own.first().and_then(|panel| panel.work.card.days_h.first().copied()),
        means: By::ALL.iter().map(|&by| mean(by, &candidate.id, &own)).collect(),
        mixes: mixes.len().max(1),
    }
}

fn mean(by: By, candidate: &Id, panels: &[&PanelFindings]) -> MeanFindings {
    let values: Vec<Result<PanelValue, Reason>> =
        panels.iter().map(|panel| value(by, candidate, &panel.work)).collect();
    let known: Vec<PanelValue> = values.iter().filter_map(|value| value.clone().ok()).collect();
    let mut why = Why::default();
    let worked = if known.is_empty() {
        let reason = values.into_iter().find_map(Result::err);
        Err(reason.unwrap_or_else(|| Reason::Said("No panel carries it yet.".into())))
    } else {
        compare::candidate(&known).map_err(|trouble| Reason::Said(trouble.to_string()))
    };
    let worked = why.note("mean", worked);
    MeanFindings { by, mean: worked.as_ref().map(|mean| mean.interval), panels: known.len(), why, worked }
}

/// One panel's value, its errors kept apart by whom they are shared with.
fn value(by: By, candidate: &Id, work: &PanelWork) -> Result<PanelValue, Reason> {
    match by {
        By::FilmStillToGo => {
            let day_h = *work.card.days_h.first().ok_or(Reason::NoForecast)?;
            let still = work.film_still_to_go(day_h)?;
            let relative = work.card.solvent_density.relative();
            Ok(PanelValue {
                value: still.mid,
                own_u: 0.01 * still.mid,
                forecast_u: sd(&still),
                shared: vec![density_error(candidate, -still.mid * relative)],
            })
        }
        By::FilmLost => {
            let lost = film_lost(work)?;
            Ok(PanelValue {
                value: lost.um,
                own_u: lost.own_u,
                forecast_u: lost.forecast_u,
                shared: vec![density_error(candidate, lost.by_density)],
            })
        }
        By::LossShare => {
            let forecast = work.forecast.as_ref().map_err(Clone::clone)?;
            let (coat_g, _) = work.wet_coat_g()?;
            let share = 100.0 / coat_g;
            let reading = forecast.noise.reading_sd_g * std::f64::consts::SQRT_2;
            let lost_g = forecast.wet_gross_g - forecast.final_gross_g.mean;
            Ok(PanelValue {
                value: lost_g * share,
                own_u: reading * share,
                forecast_u: forecast.final_gross_g.width() / (2.0 * Z95) * share,
                shared: Vec::new(),
            })
        }
        By::BuildKept => {
            let lost = film_lost(work)?;
            let wet = work.wet_film.as_ref().map_err(Clone::clone)?;
            let film = wet.mean_um;
            // kept = 100 (1 − X/W): what the comb gets wrong counts in the measure of the film lost.
            let by_film = 100.0 * lost.um / (film * film);
            Ok(PanelValue {
                value: 100.0 * (1.0 - lost.um / film),
                own_u: (by_film * wet.sd_um).hypot(100.0 * lost.own_u / film),
                forecast_u: 100.0 * lost.forecast_u / film,
                shared: vec![
                    density_error(candidate, -100.0 * lost.by_density / film),
                    Shared { source: "comb".into(), by: by_film * wet.bias_um },
                ],
            })
        }
        By::FinalBuild => {
            let build = work.build.answer.as_ref().map_err(|trouble| Reason::Said(trouble.to_string()))?;
            let mut panel = PanelValue { value: build.mean_um, own_u: 0.0, forecast_u: 0.0, shared: Vec::new() };
            for part in &build.contributions {
                use crate::science::routes::Input;
                match part.input {
                    Input::FinalMass => panel.forecast_u = part.um.abs(),
                    input if input.shared_by_candidate() => {
                        // A comb serves all candidates; what the sheet says is each candidate's own.
                        let source =
                            if input == Input::Comb { input.to_string() } else { format!("{input} {candidate}") };
                        panel.shared.push(Shared { source, by: part.um });
                    }
                    _ => panel.own_u = panel.own_u.hypot(part.um),
                }
            }
            Ok(panel)
        }
    }
}

fn density_error(candidate: &Id, by: f64) -> Shared {
    Shared { source: format!("solvent density {candidate}"), by }
}

fn sd(estimate: &Estimate) -> f64 {
    estimate.width() / (2.0 * Z95)
}

/// Film lost from the wet weight to the end, µm, and what each error brings.
struct FilmLost {
    um: f64,
    own_u: f64,
    forecast_u: f64,
    by_density: f64,
}

fn film_lost(work: &PanelWork) -> Result<FilmLost, Reason> {
    let forecast = work.forecast.as_ref().map_err(Clone::clone)?;
    let scale = work.film_scale()?;
    let um_per_g = scale.um_per_g();
    let um = (forecast.wet_gross_g - forecast.final_gross_g.mean) * um_per_g;
    Ok(FilmLost {
        um,
        own_u: (forecast.noise.reading_sd_g * um_per_g).hypot(um * scale.u_area_cm2 / scale.area_cm2),
        forecast_u: forecast.final_gross_g.width() / (2.0 * Z95) * um_per_g,
        by_density: -um * scale.u_solvent_density / scale.solvent_density,
    })
}

pub(super) fn pairs(candidates: &[CandidateFindings]) -> Vec<PairFindings> {
    By::ALL.iter().flat_map(|&by| pairs_by(by, candidates)).collect()
}

fn pairs_by(by: By, candidates: &[CandidateFindings]) -> Vec<PairFindings> {
    let known: Vec<(&CandidateFindings, &CandidateMean)> =
        candidates.iter().filter_map(|candidate| Some((candidate, candidate.mean(by).worked.as_ref()?))).collect();
    let contenders: Vec<Contender<'_>> =
        known.iter().map(|(candidate, mean)| Contender { mean, mixes: candidate.mixes }).collect();
    let pairs = compare::pairs(&contenders).unwrap_or_default();
    let pair = |pair: &compare::Pair| PairFindings {
        by,
        first: known[pair.first].0.id.clone(),
        second: known[pair.second].0.id.clone(),
        difference: pair.difference,
        claim: pair.claim,
    };
    pairs.iter().map(pair).collect()
}
