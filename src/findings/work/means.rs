//! Candidates from their panels, and pairs of them held against each other.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Serialize;

use super::panel::{PanelWork, possible};
use super::reason::Reason;
use record::Id;
use science::compare::{CandidateMean, Loss, PanelValue};
use science::gain::Gain;
use science::routes::Input;
use science::{Estimate, Measured, compare};

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

    /// Whether it is a thickness: one that no film has is not told.
    fn is_film(self) -> bool {
        matches!(self, Self::FilmStillToGo | Self::FilmLost | Self::FinalBuild)
    }
}

/// The mean of one quantity over a candidate's panels.
#[derive(Clone, Debug)]
pub(crate) struct Mean {
    pub(crate) by: By,
    /// Mean and 95 % interval, or why there is none.
    pub(crate) interval: Result<Estimate, Reason>,
    /// From how many panels.
    pub(crate) panels: usize,
    /// The same with its errors kept apart.
    pub(crate) worked: Option<Arc<CandidateMean>>,
}

/// What was worked out of a candidate's panels: good for as long as they are the same.
#[derive(Clone, Debug, Default)]
pub(crate) struct KnownMeans {
    pub(crate) works: Vec<(String, Arc<PanelWork>)>,
    pub(crate) means: Vec<Mean>,
    /// What could be done, and for which time it was worked out, h on the clock.
    pub gains: Option<(f64, Vec<Gain>)>,
}

/// By candidate.
pub(crate) type MeansOfAll = BTreeMap<Id, KnownMeans>;

/// A panel's label, which stands in reasons, and its work.
pub(crate) type Named<'a> = (&'a str, &'a Arc<PanelWork>);

/// Works the means of a candidate's panels out unless those known are of the same ones; says whether it did.
pub(crate) fn work_out_means(candidate: &Id, works: &[Named<'_>], kept: &mut MeansOfAll) -> bool {
    let same = |known: &KnownMeans| {
        known.works.len() == works.len()
            && known.works.iter().zip(works).all(|(a, b)| a.0 == b.0 && Arc::ptr_eq(&a.1, b.1))
    };
    if kept.get(candidate).is_some_and(same) {
        return false;
    }
    let means = By::ALL.iter().map(|&by| mean(by, candidate, works)).collect();
    let works = works.iter().map(|(label, work)| ((*label).to_owned(), Arc::clone(work))).collect();
    kept.insert(candidate.clone(), KnownMeans { works, means, gains: None });
    true
}

pub(crate) fn mean(by: By, candidate: &Id, works: &[Named<'_>]) -> Mean {
    let values: Vec<Result<PanelValue, Reason>> = works.iter().map(|(_, work)| value(by, candidate, work)).collect();
    let known: Vec<PanelValue> = values.iter().filter_map(|value| value.clone().ok()).collect();
    let worked = if known.is_empty() {
        Err(Reason::of_panels(works.iter().map(|(label, _)| *label).zip(values)))
    } else {
        compare::candidate(&known).map_err(Reason::Input)
    };
    let worked = worked.and_then(|mean| if by.is_film() { possible(mean.interval).map(|_| mean) } else { Ok(mean) });
    // Of one panel it is that panel's own number, the same wherever it is shown.
    let alone = works.iter().filter(|_| known.len() == 1).find_map(|(_, work)| interval(by, candidate, work).ok());
    let interval = worked.as_ref().map_err(Clone::clone).map(|mean| match by {
        _ if alone.is_some() => alone.unwrap_or(mean.interval),
        // What is still to go cannot be less than nothing, whatever a symmetric interval says.
        By::FilmStillToGo => Estimate { low: mean.interval.low.max(0.0), ..mean.interval },
        _ => mean.interval,
    });
    Mean { by, interval, panels: known.len(), worked: worked.ok().map(Arc::new) }
}

/// One panel's number with its 95 % interval: what every place shows that shows it.
pub(crate) fn interval(by: By, candidate: &Id, work: &PanelWork) -> Result<Estimate, Reason> {
    let interval = match by {
        By::FilmStillToGo => work.film_still_to_go(*work.card.days_h.first().ok_or(Reason::NoForecast)?)?,
        By::FinalBuild => work.build.answer.as_ref().map_err(|trouble| Reason::Build(*trouble))?.build_um,
        By::LossPerArea | By::LossShare | By::FilmLost | By::BuildKept => {
            compare::candidate(&[value(by, candidate, work)?])?.interval
        }
    };
    if by.is_film() { possible(interval) } else { Ok(interval) }
}

/// One panel's value, its errors kept apart by whom they are shared with.
pub(crate) fn value(by: By, candidate: &Id, work: &PanelWork) -> Result<PanelValue, Reason> {
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
            let build = work.build.answer.as_ref().map_err(|trouble| Reason::Build(*trouble))?;
            Ok(PanelValue::of_build(build, |input| shared_as(input, candidate, work)))
        }
    };
    Ok(value?)
}

/// The wet coat's volume as the comb has it, in factors with the name of each error that others share: area, film, comb.
fn film_parts(work: &PanelWork) -> Result<[(Measured, Option<String>); 3], Reason> {
    let area = work.card.area_cm2.ok_or(Reason::NoArea)?;
    let wet = work.wet_film.as_ref().map_err(Clone::clone)?;
    let film = Measured::new(wet.mean_um, wet.sd_um);
    let comb = Measured::new(1.0, wet.bias_um / wet.mean_um);
    Ok([(area, None), (film, None), (comb, Some(comb_name(work)))])
}

/// The name of an input's error that a panel shares with others; `None` where it is the panel's own.
pub(crate) fn shared_as(input: Input, candidate: &Id, work: &PanelWork) -> Option<String> {
    match input {
        Input::Comb => Some(comb_name(work)),
        input => input.shared_by_candidate().then(|| format!("input {} of {candidate}", input as u8)),
    }
}

/// Whose error the comb's own is: panels read with the same combs share it, candidates or not.
fn comb_name(work: &PanelWork) -> String {
    let combs: Vec<&str> = work.card.combs.iter().map(|id| id.0.as_str()).collect();
    format!("comb {}", combs.join(" "))
}

/// A pair worked out before, and from which means.
#[derive(Clone, Debug)]
pub(crate) struct KnownPair {
    pub(crate) by: By,
    pub(crate) first: Arc<CandidateMean>,
    pub(crate) second: Arc<CandidateMean>,
    pub(crate) pair: compare::Pair,
}

/// Works one pair of means out that is not known yet, of candidates in the order of every list; says whether there was one.
pub(crate) fn work_out_a_pair(candidates: &[&Id], means: &MeansOfAll, kept: &mut Vec<KnownPair>) -> bool {
    // Those known are in the order in which they are come by, so that the next one is found without a search.
    let mut place = 0;
    for by in By::ALL {
        let of = |candidate: &&Id| means.get(*candidate)?.means[by as usize].worked.clone();
        let known: Vec<Arc<CandidateMean>> = candidates.iter().filter_map(of).collect();
        for (i, first) in known.iter().enumerate() {
            for (j, second) in known.iter().enumerate().skip(i + 1) {
                let is = |pair: &KnownPair| pair.is(by, first, second);
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
                kept.insert(place, KnownPair { by, first: first.clone(), second: second.clone(), pair });
                return true;
            }
        }
    }
    false
}

impl KnownPair {
    pub(crate) fn is(&self, by: By, first: &Arc<CandidateMean>, second: &Arc<CandidateMean>) -> bool {
        self.by == by && Arc::ptr_eq(&self.first, first) && Arc::ptr_eq(&self.second, second)
    }
}
