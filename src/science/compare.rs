//! Candidates held against each other. The panel is the unit of evidence; what all panels of a candidate share (the unseen
//! end of the curve, the comb, a density) is not averaged away by more panels.

use super::distribution::Distribution;
use super::estimate::{Estimate, Measured};
use super::film::summary;
use super::input::{InputError, answer, finite, not_negative, positive};
use super::routes::{Build, Input};
use super::stats::{Difference, MeanVariance, holm, t_quantile};
use serde::Serialize;
use std::fmt;

/// An error shared by several panels, with what one standard uncertainty of it does to the value, sign included.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shared {
    /// Where it comes from: one comb, one gauge, one density. Like names cancel in a difference.
    pub source: String,
    pub by: f64,
}

/// One panel's value of whatever is compared, in any unit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PanelValue {
    pub value: f64,
    /// Standard uncertainty from measuring this panel alone.
    pub own_u: f64,
    /// Standard uncertainty of the forecast, which panels of one candidate share.
    pub forecast_u: f64,
    pub shared: Vec<Shared>,
}

impl PanelValue {
    /// A final build for comparison. `source` names where an input's error comes from if other panels share it (the comb's
    /// name, the candidate's for its densities and solids), and `None` if it is this panel's own; the final weight is the
    /// forecast.
    ///
    /// ```
    /// use comb_scale::science::{Estimate, compare::PanelValue, routes::{Build, Contribution, Input}};
    /// let of = |input, um| Contribution { input, um, share: 0.0 };
    /// let build = Build {
    ///     build_um: Estimate::normal(80.0, 13.0),
    ///     mean_um: 80.0,
    ///     u_um: 13.0,
    ///     contributions: vec![of(Input::Dabs, 12.0), of(Input::Comb, 4.0), of(Input::FinalMass, 3.0)],
    /// };
    /// let value = PanelValue::of_build(&build, |input| (input == Input::Comb).then(|| "comb 1".into()));
    /// assert_eq!((value.own_u, value.forecast_u, value.shared[0].by), (12.0, 3.0, 4.0));
    /// ```
    pub fn of_build(build: &Build, source: impl Fn(Input) -> Option<String>) -> Self {
        let mut value = Self { value: build.mean_um, own_u: 0.0, forecast_u: 0.0, shared: vec![] };
        for one in &build.contributions {
            match (one.input, source(one.input)) {
                (Input::FinalMass, _) => value.forecast_u = one.um.abs(),
                (_, Some(source)) => value.shared.push(Shared { source, by: one.um }),
                (_, None) => value.own_u = value.own_u.hypot(one.um),
            }
        }
        value
    }

    /// A loss times `factor`, divided by measured values above zero, each with the name of its error if other panels share
    /// it: film lost (10⁴ over solvent density and area), share of the coat, g/m². First order.
    ///
    /// ```
    /// use comb_scale::science::{Measured, compare::{Loss, PanelValue}};
    /// let density = (Measured::new(0.87, 0.03), Some("solvent of A".to_string()));
    /// let area = (Measured::new(900.0, 9.0), None);
    /// let film = PanelValue::of_loss(Loss::Weighed(Measured::new(6.9, 0.07)), 1e4, &[density, area])?;
    /// assert!((film.value - 88.12).abs() < 0.01 && film.forecast_u == 0.0 && film.shared.len() == 1);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn of_loss(loss: Loss, factor: f64, by: &[(Measured, Option<String>)]) -> Result<Self, InputError> {
        let (lost, own, forecast) = match loss {
            Loss::Weighed(lost) => (lost.checked("loss")?.value, lost.u, 0.0),
            Loss::Forecast(lost) => (answer(lost.mean())?, 0.0, answer(lost.sd())?),
        };
        let mut scale = finite("factor", factor)?;
        for (divisor, _) in by {
            scale = answer(scale / positive("divisor", divisor.checked("divisor")?.value)?)?;
        }
        let value = answer(lost * scale)?;
        let mut panel = Self {
            value,
            own_u: answer((own * scale).abs())?,
            forecast_u: answer((forecast * scale).abs())?,
            shared: vec![],
        };
        for (divisor, source) in by {
            let by = answer(-value * divisor.relative())?;
            match source {
                Some(source) => panel.shared.push(Shared { source: source.clone(), by }),
                None => panel.own_u = panel.own_u.hypot(by),
            }
        }
        Ok(panel)
    }

    /// What stays where this is the share that goes: `1 − value`.
    ///
    /// ```
    /// use comb_scale::science::{Measured, compare::{Loss, PanelValue}};
    /// let gone = PanelValue::of_loss(Loss::Weighed(Measured::new(6.0, 0.1)), 1.0, &[(Measured::exact(20.0), None)])?;
    /// assert!((gone.kept().value - 0.7).abs() < 1e-12);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    #[must_use]
    pub fn kept(mut self) -> Self {
        self.value = 1.0 - self.value;
        self.shared.iter_mut().for_each(|error| error.by = -error.by);
        self
    }
}

/// Grams that left: weighed, an error of the panel's own, or forecast, an error that its candidate's panels share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Loss<'a> {
    Weighed(Measured),
    Forecast(&'a Distribution),
}

/// One candidate's panels together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CandidateMean {
    pub mean: f64,
    pub panels: usize,
    /// Scatter between panels; none from a single one.
    pub sd: Option<f64>,
    /// 95 % interval of the mean: scatter/n, plus what is shared in full. From a single panel, its measurement error alone.
    pub interval: Estimate,
    /// Variance of the mean from the panels' own errors: s²/n, or the measurement error of a single panel.
    own: MeanVariance,
    /// Mean forecast variance, not divided by n.
    forecast_variance: f64,
    shared: Vec<Shared>,
}

/// Mean of a candidate's panels with `s²/n + mean forecast variance + shared²`.
///
/// ```
/// use comb_scale::science::compare::{PanelValue, candidate};
/// let panel = |value| PanelValue { value, own_u: 1.0, forecast_u: 3.0, shared: vec![] };
/// let few = candidate(&[panel(70.0), panel(71.0), panel(72.0)])?;
/// let many = candidate(&[70.0, 71.0, 72.0, 70.0, 71.0, 72.0].map(panel))?;
/// assert!(many.interval.width() > 2.0 * 1.96 * 3.0, "more panels do not average the forecast's error away");
/// assert!(few.interval.width() > many.interval.width());
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn candidate(panels: &[PanelValue]) -> Result<CandidateMean, InputError> {
    let values: Vec<f64> = panels.iter().map(|panel| panel.value).collect();
    let s = summary("panels", &values)?;
    let n = panels.len() as f64;
    let mut forecast_variance = 0.0;
    let mut own_variance = 0.0;
    let mut shared: Vec<Shared> = Vec::new();
    for panel in panels {
        forecast_variance += not_negative("uncertainty of the forecast", panel.forecast_u)?.powi(2) / n;
        own_variance += not_negative("uncertainty of the panel", panel.own_u)?.powi(2) / n;
        for error in &panel.shared {
            let by = finite("shared uncertainty", error.by)? / n;
            match shared.iter_mut().find(|known| known.source == error.source) {
                Some(known) => known.by += by,
                None => shared.push(Shared { source: error.source.clone(), by }),
            }
        }
    }
    let own = match s.sd {
        Some(sd) => MeanVariance { variance: sd * sd / n, degrees: Some(n - 1.0) },
        None => MeanVariance { variance: own_variance, degrees: None },
    };
    let all_shared: f64 = shared.iter().map(|error| error.by.powi(2)).sum();
    let known = answer(forecast_variance + all_shared)?;
    let interval = interval(s.mean, &[own, MeanVariance { variance: known, degrees: None }])?;
    Ok(CandidateMean { mean: s.mean, panels: panels.len(), sd: s.sd, interval, own, forecast_variance, shared })
}

/// 95 % interval of a value; one that has no error at all is its own interval.
fn interval(value: f64, parts: &[MeanVariance]) -> Result<Estimate, InputError> {
    if parts.iter().all(|part| part.variance == 0.0) {
        return Ok(Estimate { low: value, mid: value, high: value });
    }
    let (low, high) = Difference::new(value, parts)?.interval(0.95)?;
    Ok(Estimate { low, mid: value, high })
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

impl fmt::Display for Claim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::OnePanel => {
                "One panel each shows a difference but not whether another pair would repeat it; spray more panels."
            }
            Self::WithinChance => "The difference is within what chance does between panels.",
            Self::ThisMix => {
                "The difference is more than chance for these mixes; a second mix of each would tell of the primers."
            }
            Self::Primer => "The difference is more than chance.",
        })
    }
}

/// A candidate for comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Contender<'a> {
    pub mean: &'a CandidateMean,
    /// How many mixes its panels came from.
    pub mixes: usize,
}

/// Two candidates held against each other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pair {
    /// Places in the list of contenders; the difference is first minus second.
    pub first: usize,
    pub second: usize,
    /// The difference with its 95 % interval, for this pair alone.
    pub difference: Estimate,
    pub evidence: Evidence,
    /// Probability of such a difference by chance, and the same adjusted by Holm for all pairs that have one.
    pub p: Option<f64>,
    pub p_holm: Option<f64>,
    pub claim: Claim,
}

/// Every pair of candidates: Welch's interval on panels as the unit of evidence, forecast variances added undivided, errors
/// of a common source cancelled, Holm over all pairs. A single panel gives the difference with its measurement error, no
/// probability and no claim.
///
/// ```
/// use comb_scale::science::compare::{Claim, Contender, PanelValue, candidate, pairs};
/// let panels = |values: &[f64]| {
///     let panel = |value: &f64| PanelValue { value: *value, own_u: 1.0, forecast_u: 0.0, shared: vec![] };
///     candidate(&values.iter().map(panel).collect::<Vec<_>>())
/// };
/// let (a, b) = (panels(&[74.1, 72.8, 75.6])?, panels(&[68.9, 70.2, 66.7])?);
/// let pair = &pairs(&[Contender { mean: &a, mixes: 1 }, Contender { mean: &b, mixes: 1 }])?[0];
/// assert_eq!(pair.claim, Claim::ThisMix);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn pairs(contenders: &[Contender]) -> Result<Vec<Pair>, InputError> {
    let mut found = Vec::new();
    for (first, a) in contenders.iter().enumerate() {
        for (second, b) in contenders.iter().enumerate().skip(first + 1) {
            found.push(pair(first, a.mean, second, b.mean)?);
        }
    }
    let raw: Vec<f64> = found.iter().filter_map(|pair| pair.p).collect();
    let mut adjusted = holm(&raw)?.into_iter();
    for pair in &mut found {
        let Some(_) = pair.p else { continue };
        pair.p_holm = adjusted.next();
        let both_repeated = contenders[pair.first].mixes.min(contenders[pair.second].mixes) >= 2;
        pair.claim = match pair.p_holm {
            Some(p) if p < 0.05 && both_repeated => Claim::Primer,
            Some(p) if p < 0.05 => Claim::ThisMix,
            _ => Claim::WithinChance,
        };
    }
    Ok(found)
}

fn pair(first: usize, a: &CandidateMean, second: usize, b: &CandidateMean) -> Result<Pair, InputError> {
    let value = answer(a.mean - b.mean)?;
    let of = |mean: &CandidateMean, source: &str| {
        mean.shared.iter().find(|error| error.source == source).map_or(0.0, |error| error.by)
    };
    let in_both: f64 = a.shared.iter().map(|error| (error.by - of(b, &error.source)).powi(2)).sum();
    let only_in_b: f64 =
        b.shared.iter().filter(|e| !a.shared.iter().any(|x| x.source == e.source)).map(|e| e.by.powi(2)).sum();
    let known = answer(a.forecast_variance + b.forecast_variance + in_both + only_in_b)?;
    let parts = [a.own, b.own, MeanVariance { variance: known, degrees: None }];
    let alone = a.sd.is_none() || b.sd.is_none();
    let no_scatter = parts.iter().all(|part| part.variance == 0.0);
    let p = if alone || no_scatter { None } else { Some(Difference::new(value, &parts)?.p) };
    Ok(Pair {
        first,
        second,
        difference: if alone { alone_interval(value, a, b, known)? } else { interval(value, &parts)? },
        evidence: if alone { Evidence::MeasurementOnly } else { Evidence::Panels },
        p,
        p_holm: None,
        claim: if alone { Claim::OnePanel } else { Claim::WithinChance },
    })
}

/// Measurement error alone: a single panel's own, and for the other side the scatter/n it shows, as if known.
fn alone_interval(value: f64, a: &CandidateMean, b: &CandidateMean, known: f64) -> Result<Estimate, InputError> {
    let variance = answer(a.own.variance + b.own.variance + known)?;
    interval(value, &[MeanVariance { variance, degrees: None }])
}

/// Which of two candidates a difference in age favours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Favours {
    First,
    Second,
}

/// Whom it favours that one candidate flashed or stood longer before its first weighing: what left before is not counted as
/// lost, so the longer time favours. `None` where the times (in any one unit) differ by no more than a third.
///
/// ```
/// use comb_scale::science::compare::{Favours, favoured_by_age};
/// assert_eq!(favoured_by_age(10.0, 15.0)?, Some(Favours::Second));
/// assert_eq!(favoured_by_age(10.0, 12.0)?, None);
/// # Ok::<(), comb_scale::science::input::InputError>(())
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
/// use comb_scale::science::compare::days_at_build;
/// assert_eq!(days_at_build(6.0, 80.0, 120.0)?, (9.0, 13.5));
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn days_at_build(days: f64, build_um: f64, wanted_um: f64) -> Result<(f64, f64), InputError> {
    not_negative("time to settle", days)?;
    let ratio = positive("wanted build", wanted_um)? / positive("build", build_um)?;
    let (linear, square) = (answer(days * ratio)?, answer(days * ratio * ratio)?);
    Ok((linear.min(square), linear.max(square)))
}

/// The smallest difference that `panels` of each would show as more than chance half of the time, for a given scatter
/// between panels (same unit): `t₀.₉₇₅(2n − 2)·s·√(2/n)`.
///
/// ```
/// use comb_scale::science::compare::smallest_shown;
/// assert!((smallest_shown(2.0, 3)? - 4.534).abs() < 1e-3);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn smallest_shown(sd: f64, panels: usize) -> Result<f64, InputError> {
    if panels < 2 {
        return Err(InputError::TooFew { what: "panels of each", least: 2 });
    }
    let n = panels as f64;
    answer(t_quantile(0.975, 2.0 * n - 2.0)? * not_negative("scatter between panels", sd)? * (2.0 / n).sqrt())
}
