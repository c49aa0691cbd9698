//! Candidates held against each other. The panel is the unit of evidence; what all panels of a candidate share (the unseen
//! end of the curve, the comb, a density) is not averaged away by more panels.

mod panel;

pub use panel::{Loss, PanelValue, Shared};

use super::distribution::Distribution;
use super::estimate::Estimate;
use super::film::summary;
use super::input::{InputError, answer, finite, not_negative, positive};
use super::mixture::{Bell, Mixture, difference};
use super::stats::{Difference, MeanVariance, holm};
use serde::Serialize;

/// Bells that carry the forecasts' errors: enough that an interval's ends are right to a hundredth of its width.
const BELLS: usize = 24;

/// One candidate's panels together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CandidateMean {
    /// The mean, in the unit of the panels' values.
    pub mean: f64,
    /// How many panels it is of.
    pub panels: usize,
    /// Scatter between panels; none from a single one.
    pub sd: Option<f64>,
    /// 95 % interval of the mean: scatter/n, plus what is shared in full. From a single panel, its measurement error alone.
    pub interval: Estimate,
    /// Variance of the mean from the panels' own errors: s²/n, or the measurement error of a single panel.
    own: MeanVariance,
    /// Error that the forecasts share, about zero: not divided by n.
    forecast: Distribution,
    shared: Vec<Shared>,
}

/// Mean of a candidate's panels, with `s²/n` of their own, what they share, and the error of their forecasts, whose whole
/// distribution is carried: at every share the mean of the panels' quantiles, so that more panels do not narrow it.
///
/// ```
/// use comb_scale_science::{Measured, compare::{PanelValue, candidate}};
/// let panel = |value| PanelValue { forecast: Measured::new(0.0, 3.0).into(), ..PanelValue::new(value, 1.0) };
/// let few = candidate(&[panel(70.0), panel(71.0), panel(72.0)])?;
/// let many = candidate(&[70.0, 71.0, 72.0, 70.0, 71.0, 72.0].map(panel))?;
/// assert!(many.interval.width() > 2.0 * 1.96 * 3.0, "more panels do not average the forecast's error away");
/// assert!(few.interval.width() > many.interval.width());
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn candidate(panels: &[PanelValue]) -> Result<CandidateMean, InputError> {
    candidate_with(panels, scatter(panels)?)
}

/// Variance of the mean of the panels from their own errors: s²/n as they scatter, or the measurement error of a single panel.
pub(super) fn scatter(panels: &[PanelValue]) -> Result<MeanVariance, InputError> {
    let values: Vec<f64> = panels.iter().map(|panel| panel.value).collect();
    let s = summary("panels", &values)?;
    let n = panels.len() as f64;
    Ok(match s.sd {
        Some(sd) => MeanVariance { variance: answer(sd * sd / n)?, degrees: Some(n - 1.0) },
        None => fixed(answer(not_negative("uncertainty of the panel", panels[0].own_u)?.powi(2))?),
    })
}

/// As [`candidate`], with the variance of the mean from the panels' own errors as given.
pub(super) fn candidate_with(panels: &[PanelValue], own: MeanVariance) -> Result<CandidateMean, InputError> {
    let values: Vec<f64> = panels.iter().map(|panel| panel.value).collect();
    let s = summary("panels", &values)?;
    let n = panels.len() as f64;
    let mut shared: Vec<Shared> = Vec::new();
    for panel in panels {
        not_negative("uncertainty of the panel", panel.own_u)?;
        for error in &panel.shared {
            let by = finite("shared uncertainty", error.by)? / n;
            match shared.iter_mut().find(|known| known.source == error.source) {
                Some(known) => known.by += by,
                None => shared.push(Shared { source: error.source.clone(), by }),
            }
        }
    }
    let known = answer(shared.iter().map(|error| error.by.powi(2)).sum())?;
    let forecasts: Vec<&Distribution> = panels.iter().map(|panel| &panel.forecast).collect();
    let forecast = Distribution::mean_of_one_error(&forecasts)?.checked("uncertainty of the forecast")?;
    let interval = judge(s.mean, &[own, fixed(known)], forecast.bells(BELLS))?.interval;
    Ok(CandidateMean { mean: s.mean, panels: panels.len(), sd: s.sd, interval, own, forecast, shared })
}

/// A variance that is known, not estimated from panels.
pub(super) fn fixed(variance: f64) -> MeanVariance {
    MeanVariance { variance, degrees: None }
}

struct Judged {
    interval: Estimate,
    /// Two-sided probability of a value this far from zero by chance.
    p: f64,
}

/// A value with its 95 % interval and its distance from zero: bells of Student's t with Welch's degrees for the parts and the
/// forecasts together, one for every error that the forecasts may have. A value that has no error at all is its own interval.
fn judge(value: f64, parts: &[MeanVariance], forecast: Vec<Bell>) -> Result<Judged, InputError> {
    let skewed: f64 = forecast.iter().map(|bell| bell.weight * (bell.at * bell.at + bell.scale * bell.scale)).sum();
    let parts: Vec<MeanVariance> = parts.iter().copied().chain([fixed(answer(skewed)?)]).collect();
    let scatters = parts.iter().any(|part| part.variance > 0.0);
    let degrees = if scatters { Difference::new(value, &parts)?.degrees } else { f64::MAX };
    let se = answer(parts[..parts.len() - 1].iter().map(|part| part.variance).sum::<f64>())?.sqrt();
    let bell = |bell: Bell| Bell { at: value + bell.at, weight: bell.weight, scale: se.hypot(bell.scale) };
    let whole = Mixture::student(forecast.into_iter().map(bell).collect(), degrees)?;
    let (below, above) = whole.sides(0.0);
    let (low, high) = (whole.quantile(0.025)?, whole.quantile(0.975)?);
    // A long tail can carry the mean past a quantile; the interval must still hold what is shown.
    let interval = Estimate { low: low.min(value), mid: value, high: high.max(value) };
    Ok(Judged { interval, p: answer((2.0 * below.min(above)).min(1.0))? })
}

/// What a difference between two candidates rests on.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Evidence {
    /// One panel of at least one of them: the interval is measurement error alone and knows nothing of how panels differ.
    MeasurementOnly,
    /// Scatter between panels, of both.
    Panels,
}

/// What may be said of a difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Claim {
    /// Nothing: one panel cannot show how panels differ.
    OnePanel,
    /// Nothing: within what chance does.
    WithinChance,
    /// These mixes differ, on this day.
    ThisMix,
    /// Seen in at least two mixes of each: the primers differ.
    Primer,
}

/// A candidate for comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Contender<'a> {
    /// Its mean with what makes it uncertain.
    pub mean: &'a CandidateMean,
    /// How many mixes its panels came from.
    pub mixes: usize,
}

/// Two candidates held against each other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pair {
    /// Places in the list of contenders; the difference is first minus second.
    pub first: usize,
    /// The second one.
    pub second: usize,
    /// The difference with its 95 % interval, for this pair alone.
    pub difference: Estimate,
    /// What the comparison rests on.
    pub evidence: Evidence,
    /// Probability of such a difference by chance.
    pub p: Option<f64>,
    /// `p` adjusted by Holm's step-down method for all pairs that have one.
    pub p_holm: Option<f64>,
    /// What may be said of the difference.
    pub claim: Claim,
}

/// Pairs held against chance together: Holm's adjustment over all of them, and the claims that then stand. `found` are those
/// of [`pair`], from now or from before, as long as the means are the same.
///
/// # Errors
/// [`InputError`] when a pair's `p` is no probability. A contender that is not there counts as not sprayed again.
pub fn judged(mut found: Vec<Pair>, contenders: &[Contender]) -> Result<Vec<Pair>, InputError> {
    let raw: Vec<f64> = found.iter().filter_map(|pair| pair.p).collect();
    let mut adjusted = holm(&raw)?.into_iter();
    for pair in &mut found {
        let Some(_) = pair.p else { continue };
        pair.p_holm = adjusted.next();
        let repeated = |place: usize| contenders.get(place).is_some_and(|contender| contender.mixes >= 2);
        let both_repeated = repeated(pair.first) && repeated(pair.second);
        pair.claim = match pair.p_holm {
            Some(p) if p < 0.05 && both_repeated => Claim::Primer,
            Some(p) if p < 0.05 => Claim::ThisMix,
            _ => Claim::WithinChance,
        };
    }
    Ok(found)
}

/// Two candidates, at their places among the contenders, before the others are looked at.
///
/// # Errors
/// [`InputError`] when a mean or its uncertainty is no usable number.
pub fn pair(first: usize, a: &CandidateMean, second: usize, b: &CandidateMean) -> Result<Pair, InputError> {
    let value = answer(a.mean - b.mean)?;
    let of = |mean: &CandidateMean, source: &str| {
        mean.shared.iter().find(|error| error.source == source).map_or(0.0, |error| error.by)
    };
    let in_both: f64 = a.shared.iter().map(|error| (error.by - of(b, &error.source)).powi(2)).sum();
    let only_in_b: f64 =
        b.shared.iter().filter(|e| !a.shared.iter().any(|x| x.source == e.source)).map(|e| e.by.powi(2)).sum();
    let known = answer(in_both + only_in_b)?;
    let alone = a.sd.is_none() || b.sd.is_none();
    // Beside a single panel the other side's scatter/n counts as if it were known.
    let own = |of: &CandidateMean| if alone { fixed(of.own.variance) } else { of.own };
    let parts = [own(a), own(b), fixed(known)];
    let judged = judge(value, &parts, difference(&a.forecast, &b.forecast, BELLS))?;
    let can_be_chance = !alone && judged.interval.width() > 0.0;
    Ok(Pair {
        first,
        second,
        difference: judged.interval,
        evidence: if alone { Evidence::MeasurementOnly } else { Evidence::Panels },
        p: can_be_chance.then_some(judged.p),
        p_holm: None,
        claim: if alone { Claim::OnePanel } else { Claim::WithinChance },
    })
}

/// Which of two candidates a difference in age favours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Favours {
    /// The first one.
    First,
    /// The second one.
    Second,
}

/// Whom it favours that one candidate flashed or stood longer before its first weighing: what left before is not counted as
/// lost, so the longer time favours. `None` where the times (in any one unit) differ by no more than a third.
///
/// ```
/// use comb_scale_science::compare::{Favours, favoured_by_age};
/// assert_eq!(favoured_by_age(10.0, 15.0)?, Some(Favours::Second));
/// assert_eq!(favoured_by_age(10.0, 12.0)?, None);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn favoured_by_age(first: f64, second: f64) -> Result<Option<Favours>, InputError> {
    not_negative("time before the first weighing", first)?;
    not_negative("time before the first weighing", second)?;
    let (short, long) = (first.min(second), first.max(second));
    Ok((long / 4.0 > short / 3.0).then_some(if first > second { Favours::First } else { Favours::Second }))
}

/// Days to settle at another dry build, as a range `(least, most)`: between the build itself (evaporation) and its square
/// (diffusion).
///
/// ```
/// use comb_scale_science::compare::days_at_build;
/// assert_eq!(days_at_build(6.0, 80.0, 120.0)?, (9.0, 13.5));
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn days_at_build(days: f64, build_um: f64, wanted_um: f64) -> Result<(f64, f64), InputError> {
    not_negative("time to settle", days)?;
    let ratio = positive("wanted build", wanted_um)? / positive("build", build_um)?;
    let (linear, square) = (answer(days * ratio)?, answer(days * ratio * ratio)?);
    Ok((linear.min(square), linear.max(square)))
}
