//! The scale: what one reading is worth, how alike weighings of one thing are, and how fast the last ones fall.

use super::estimate::SQRT_12;
use super::film::summary;
use super::input::{InputError, answer, not_negative, positive};
use super::stats::t_quantile;
use serde::Serialize;

/// Standard uncertainty in g of one reading, `√(d²/12 + s²)`: division d (GUM, JCGM 100:2008, F.2.2.1: 0.29 d) and
/// repeatability s, both in g.
///
/// ```
/// use comb_scale_science::weigh::reading_u;
/// assert!((reading_u(0.1, 0.04)? - 0.049_328_8).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn reading_u(division_g: f64, repeatability_g: f64) -> Result<f64, InputError> {
    let step = positive("division of the scale", division_g)? / SQRT_12;
    answer(step.hypot(not_negative("repeatability of the scale", repeatability_g)?))
}

/// Repeatability in g: standard deviation of re-weighings of one thing, customarily five or more; needs two.
///
/// ```
/// use comb_scale_science::weigh::repeatability;
/// let s = repeatability(&[412.3, 412.3, 412.4, 412.3, 412.2])?;
/// assert!((s - 0.0707).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn repeatability(readings_g: &[f64]) -> Result<f64, InputError> {
    summary("repeated weighings", readings_g)?.sd.ok_or(InputError::TooFew { what: "repeated weighings", least: 2 })
}

/// How fast the last readings fall, and whether that is proven to be little.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Trend {
    /// Loss in g per unit of time; below zero where the panel gains.
    pub loss_rate: f64,
    /// One-sided 5 % limits of that rate.
    pub lowest: f64,
    /// The upper one, 95 % from below.
    pub highest: f64,
    /// Both limits within ± the rate asked about: little is proven, not merely "no change seen".
    pub proven_little: bool,
}

/// Whether the last readings move by less than `limit` (g per unit of time), by equivalence: two one-sided 5 % tests on the
/// slope with `SE = s/√Σ(t − t̄)²`, s the larger of the residual scatter and the known uncertainty `u_g`, and t₀.₉₅ with n − 2
/// degrees. It answers "is it moving now?" and never that a weight is steady.
///
/// ```
/// use comb_scale_science::weigh::trend;
/// let days = [0.0, 1.0, 2.0, 3.0, 4.0];
/// let trend = trend(&days, &[13.62, 13.60, 13.59, 13.59, 13.58], 0.03, 0.04)?;
/// assert!(trend.proven_little && (trend.loss_rate - 0.009).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn trend(times: &[f64], masses_g: &[f64], u_g: f64, limit: f64) -> Result<Trend, InputError> {
    if times.len() != masses_g.len() {
        return Err(InputError::Unpaired("weights and times"));
    }
    if times.len() < 3 {
        return Err(InputError::TooFew { what: "weighings", least: 3 });
    }
    not_negative("uncertainty of a weighing", u_g)?;
    positive("limit", limit)?;
    let (t, m) = (summary("times", times)?, summary("weights", masses_g)?);
    let n = times.len() as f64;
    let squares = positive("time between weighings", times.iter().map(|x| (x - t.mean).powi(2)).sum())?;
    let product: f64 = times.iter().zip(masses_g).map(|(x, y)| (x - t.mean) * (y - m.mean)).sum();
    let slope = product / squares;
    let residuals: f64 = times.iter().zip(masses_g).map(|(x, y)| (y - m.mean - slope * (x - t.mean)).powi(2)).sum();
    let scatter = (residuals / (n - 2.0)).sqrt().max(u_g);
    let reach = t_quantile(0.95, n - 2.0)? * scatter / squares.sqrt();
    let (lowest, highest) = (answer(-slope - reach)?, answer(-slope + reach)?);
    Ok(Trend { loss_rate: answer(-slope)?, lowest, highest, proven_little: highest < limit && lowest > -limit })
}
