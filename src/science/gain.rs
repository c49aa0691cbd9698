//! What to do next: how much the interval of a candidate's mean would narrow if one thing more were done. Each is worked out
//! again with the better input, which is taken to read what is expected now, so that only its uncertainty changes.

use super::compare::{PanelValue, candidate_with, scatter};
use super::estimate::Measured;
use super::input::{In, InputError, answer, positive, within};
use super::routes::{DryDensity, Input, Known, first_order};
use super::stats::MeanVariance;
use serde::Serialize;

/// Something that can still be done for a candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// One more comb reading on each panel.
    #[serde(rename = "comb reading")]
    CombReading,
    /// One more weigh-in of every panel.
    WeighIn,
    /// One more panel.
    Panel,
    /// The density of the dry film measured.
    DryDensity,
    /// The dry film read with a gauge on each panel.
    Gauge,
}

/// What an action would do to the 95 % interval of the candidate's mean.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gain {
    /// What is done.
    pub action: Action,
    /// Width of the interval now, in the unit of the value.
    pub now: f64,
    /// Its expected width then, less than now.
    pub then: f64,
}

/// Why nothing can be said of an action.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum NoGain {
    /// No panel has the value yet.
    NoValue,
    /// There is a single panel: another one shows how panels differ, and until then no width can be compared with it.
    OnePanel,
    /// It has been done, there is nothing on the panels that it could improve, or it is not expected to narrow the interval:
    /// few panels whose scatter leads can look less sure once the rest is better known.
    NotNarrower,
    /// An input cannot be worked with.
    Input(InputError),
}

impl From<InputError> for NoGain {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

/// One more weigh-in of every panel, for any value: `shares` has for each panel to what share the reading narrows its forecast
/// ([`super::drying::Forecast::next_weigh_in`]).
///
/// ```
/// use comb_scale_science::{Measured, compare::PanelValue, gain::weigh_in};
/// let panel = |value| PanelValue { forecast: Measured::new(0.0, 4.0).into(), ..PanelValue::new(value, 3.0) };
/// let gain = weigh_in(&[panel(70.0)], &[0.5])?;
/// assert!((gain.now - 2.0 * 1.96 * 5.0).abs() < 1e-3 && (gain.then - 2.0 * 1.96 * 13.0_f64.sqrt()).abs() < 1e-3);
/// # Ok::<(), comb_scale_science::gain::NoGain>(())
/// ```
pub fn weigh_in(panels: &[PanelValue], shares: &[f64]) -> Result<Gain, NoGain> {
    paired(panels.len(), shares)?;
    let mut then = panels.to_vec();
    for (panel, share) in then.iter_mut().zip(shares) {
        panel.forecast = panel.forecast.narrowed(*share)?;
    }
    gain(Action::WeighIn, panels, &then)
}

/// One more panel, for any value, if it scatters as the others do: `s²/(n + 1)` on one degree of freedom more. What the panels
/// share stays as it is.
///
/// ```
/// use comb_scale_science::{compare::PanelValue, gain::another_panel};
/// let panels = [70.0, 74.0].map(|value| PanelValue::new(value, 1.0));
/// let gain = another_panel(&panels)?;
/// // Student's t of 1 and of 2 degrees.
/// let s = 8.0_f64.sqrt();
/// assert!((gain.now - 2.0 * 12.7062 * s / 2.0_f64.sqrt()).abs() < 1e-3);
/// assert!((gain.then - 2.0 * 4.302_65 * s / 3.0_f64.sqrt()).abs() < 1e-3);
/// # Ok::<(), comb_scale_science::gain::NoGain>(())
/// ```
pub fn another_panel(panels: &[PanelValue]) -> Result<Gain, NoGain> {
    let now = own_of(panels)?;
    let degrees = now.degrees.ok_or(NoGain::OnePanel)?;
    let n = panels.len() as f64;
    let then = MeanVariance { variance: now.variance * n / (n + 1.0), degrees: Some(degrees + 1.0) };
    told(Action::Panel, width(panels, now)?, width(panels, then)?)
}

/// What could be done for final builds, and how well. Shares are of the present width, one for each panel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub enum Offer {
    /// One more comb reading ([`super::comb::another_reading`]); 1 where the paint is no longer wet.
    CombReading(Vec<f64>),
    /// One more weigh-in ([`super::drying::Forecast::next_weigh_in`]).
    WeighIn(Vec<f64>),
    /// One panel more.
    Panel,
    /// Density of the dry film, known afterwards to this share of itself.
    DryDensity {
        /// Standard uncertainty of that density, as a share of it.
        relative_u: f64,
    },
    /// A gauge reading of the dry film with this standard uncertainty, µm.
    Gauge {
        /// Standard uncertainty of the reading, µm.
        u_um: f64,
    },
}

/// What each offer would do to the interval of a candidate's mean final build, in the order of the offers. The routes are
/// weighed anew with the better input, as it changes what they are worth. `source` names whose error an input's is, by panel,
/// as for [`PanelValue::of_build`]. Panels without a final build are left out.
///
/// ```
/// use comb_scale_science::gain::{Action, Offer, of_builds};
/// use comb_scale_science::routes::{Known, Wet};
/// use comb_scale_science::{Distribution, Measured};
/// let panel = Known {
///     wet: Some(Wet { readings: Measured::new(162.5, 12.0).into(), bias_um: 4.0 }),
///     wet_mass_g: Some(Measured::new(582.31, 0.03)),
///     final_mass_g: Some(Distribution::from(Measured::new(575.42, 0.05))),
///     bare_mass_g: None,
///     area_cm2: Measured::new(900.0, 9.0),
///     solvent_density: Measured::new(0.87, 0.03),
///     volume_solids: None,
///     thinning: Measured::exact(0.0),
///     dry_density: None,
///     gauge_um: None,
///     sheet_is_lower_bound: false,
/// };
/// let offers = [Offer::Gauge { u_um: 2.0 }, Offer::CombReading(vec![0.9]), Offer::WeighIn(vec![0.7])];
/// let gains = of_builds(&[panel], &offers, |_, _| None)?;
/// let then = |i: usize| gains[i].map(|gain| gain.then);
/// assert!(then(0)? < 8.0 && then(1)? < then(2)?, "the comb leads, so a comb reading is worth more than a weigh-in");
/// # Ok::<(), comb_scale_science::gain::NoGain>(())
/// ```
pub fn of_builds(
    panels: &[Known],
    offers: &[Offer],
    source: impl Fn(usize, Input) -> Option<String>,
) -> Result<Vec<Result<Gain, NoGain>>, NoGain> {
    let value = |i: usize, known: &Known| {
        first_order(known).ok().map(|build| PanelValue::of_build(&build, |input| source(i, input)))
    };
    let known: Vec<(usize, &Known, PanelValue)> =
        panels.iter().enumerate().filter_map(|(i, known)| Some((i, known, value(i, known)?))).collect();
    let now: Vec<PanelValue> = known.iter().map(|one| one.2.clone()).collect();
    own_of(&now)?;
    let of_offer = |offer: &Offer| {
        match offer {
            Offer::Panel => return another_panel(&now),
            Offer::CombReading(shares) | Offer::WeighIn(shares) => paired(panels.len(), shares)?,
            _ => {}
        }
        let mut then = Vec::with_capacity(now.len());
        for (i, known, value_now) in &known {
            let improved = improved(known, value_now.value, offer, *i)?;
            // An answer that the better input would take away is not what it promises.
            let value_then = improved.and_then(|improved| value(*i, &improved)).unwrap_or_else(|| value_now.clone());
            then.push(PanelValue { value: value_now.value, ..value_then });
        }
        gain(offer.action(), &now, &then)
    };
    Ok(offers.iter().map(of_offer).collect())
}

impl Offer {
    fn action(&self) -> Action {
        match self {
            Self::CombReading(_) => Action::CombReading,
            Self::WeighIn(_) => Action::WeighIn,
            Self::Panel => Action::Panel,
            Self::DryDensity { .. } => Action::DryDensity,
            Self::Gauge { .. } => Action::Gauge,
        }
    }
}

/// What would be known of a panel with final build `build_um`; `None` where the offer changes nothing on it.
fn improved(known: &Known, build_um: f64, offer: &Offer, panel: usize) -> Result<Option<Known>, InputError> {
    let mut then = known.clone();
    match offer {
        Offer::CombReading(shares) => match &mut then.wet {
            Some(wet) => wet.readings = wet.readings.narrowed(shares[panel])?,
            None => return Ok(None),
        },
        Offer::WeighIn(shares) => match &mut then.final_mass_g {
            Some(mass) => *mass = mass.narrowed(shares[panel])?,
            None => return Ok(None),
        },
        Offer::DryDensity { relative_u } => {
            positive("uncertainty of the dry density", *relative_u)?;
            let implied = || {
                let coat_g = known.final_mass_g.as_ref()?.mean() - known.bare_mass_g?.value;
                positive("coat", 1e4 * coat_g / (build_um * known.area_cm2.value)).ok()
            };
            let Some(density) = known.dry_density_g_per_ml().ok().or_else(implied) else { return Ok(None) };
            then.dry_density = Some(DryDensity::Known(Measured::new(density, relative_u * density)));
        }
        Offer::Gauge { u_um } => {
            if known.gauge_um.is_some() {
                return Ok(None);
            }
            then.gauge_um = Some(Measured::new(build_um, positive("uncertainty of the gauge", *u_um)?));
        }
        Offer::Panel => return Ok(None),
    }
    Ok(Some(then))
}

fn paired(panels: usize, shares: &[f64]) -> Result<(), InputError> {
    if panels != shares.len() {
        return Err(InputError::Unpaired("panels and shares"));
    }
    shares.iter().try_for_each(|share| within("share of the width", *share, 0.0, 1.0, In::Shares).map(|_| ()))
}

/// The panels' own errors as they are now.
fn own_of(panels: &[PanelValue]) -> Result<MeanVariance, NoGain> {
    if panels.is_empty() { Err(NoGain::NoValue) } else { Ok(scatter(panels)?) }
}

fn gain(action: Action, now: &[PanelValue], then: &[PanelValue]) -> Result<Gain, NoGain> {
    let own = own_of(now)?;
    told(action, width(now, own)?, width(then, own_then(own, now, then)?)?)
}

/// Scatter between panels holds how they were measured as well as how they differ: the present measurement's part goes out and
/// the better one's comes in.
fn own_then(own: MeanVariance, now: &[PanelValue], then: &[PanelValue]) -> Result<MeanVariance, InputError> {
    let n = now.len() as f64;
    let measured = |panels: &[PanelValue]| panels.iter().map(|panel| panel.own_u.powi(2)).sum::<f64>() / (n * n);
    let (was, will) = (answer(measured(now))?, answer(measured(then))?);
    let variance = match own.degrees {
        None => will,
        Some(_) => (own.variance - was).max(0.0) + will,
    };
    Ok(MeanVariance { variance, ..own })
}

fn width(panels: &[PanelValue], own: MeanVariance) -> Result<f64, InputError> {
    answer(candidate_with(panels, own)?.interval.width())
}

/// A narrowing by less than a millionth is rounding.
fn told(action: Action, now: f64, then: f64) -> Result<Gain, NoGain> {
    if then < now * (1.0 - 1e-6) { Ok(Gain { action, now, then }) } else { Err(NoGain::NotNarrower) }
}
