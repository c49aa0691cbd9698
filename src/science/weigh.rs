//! The scale: what one reading is worth, the coat from two of them, and when a change is real.

use super::estimate::{Measured, SQRT_12, Z95};
use super::film::summary;
use super::input::{InputError, answer, finite, not_negative, positive};
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

/// What takes the scale's drift out of a coat.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Drift {
    /// Nothing was weighed along.
    Unwatched,
    /// An uncoated panel of the batch, now and at the tare, g: takes out zero, humidity and dust.
    Blank {
        /// The blank now, g.
        now_g: f64,
        /// The blank when the panel was tared, g.
        at_tare_g: f64,
    },
    /// A check weight, now and at the tare, g: takes out the span.
    CheckWeight {
        /// The check weight now, g.
        now_g: f64,
        /// The check weight when the panel was tared, g.
        at_tare_g: f64,
    },
}

/// Mass of the coat in g: `gross − (blank now − blank then) − tare`, or `gross·check then/check now − tare`. Uncertainty from
/// the reading uncertainty `u_g`, every reading counted: √2 of it without drift, 2 with a blank, √3 and more with a check
/// weight of the panel's size.
///
/// ```
/// use comb_scale_science::weigh::{Drift, coat};
/// let blank = Drift::Blank { now_g: 562.07, at_tare_g: 562.04 };
/// let coat = coat(582.31, 561.84, blank, 0.05)?;
/// assert!((coat.value - 20.44).abs() < 1e-9 && (coat.u - 0.1).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn coat(gross_g: f64, tare_g: f64, drift: Drift, u_g: f64) -> Result<Measured, InputError> {
    finite("weight", gross_g)?;
    finite("bare weight", tare_g)?;
    not_negative("uncertainty of a weighing", u_g)?;
    match drift {
        Drift::Unwatched => Measured::answer(gross_g - tare_g, u_g * 2.0_f64.sqrt()),
        Drift::Blank { now_g, at_tare_g } => {
            let moved = finite("weight of the blank", now_g)? - finite("weight of the blank", at_tare_g)?;
            Measured::answer(gross_g - moved - tare_g, 2.0 * u_g)
        }
        Drift::CheckWeight { now_g, at_tare_g } => {
            let span = positive("check weight", at_tare_g)? / positive("check weight", now_g)?;
            let of_check = gross_g * span / at_tare_g;
            let u = u_g * (1.0 + span * span + of_check * of_check * (1.0 + span * span)).sqrt();
            Measured::answer(gross_g * span - tare_g, u)
        }
    }
}

/// What the comb wiped off.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Wiped {
    /// By all dabs together, g.
    pub total_g: f64,
    /// By one dab, g.
    pub per_dab_g: f64,
    /// Share of the coat, of 1.
    pub of_coat: f64,
}

/// Paint in g that `dabs` dabs took along, from the weights before and after; `coat_g` is the coat before them. Not a loss by
/// evaporation.
///
/// ```
/// use comb_scale_science::weigh::wiped;
/// assert!((wiped(582.31, 582.24, 20.47, 5)?.per_dab_g - 0.014).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn wiped(before_g: f64, after_g: f64, coat_g: f64, dabs: usize) -> Result<Wiped, InputError> {
    if dabs == 0 {
        return Err(InputError::TooFew { what: "dabs", least: 1 });
    }
    let total_g = answer(finite("weight", before_g)? - finite("weight", after_g)?)?;
    let of_coat = answer(total_g / positive("coat", coat_g)?)?;
    Ok(Wiped { total_g, per_dab_g: total_g / dabs as f64, of_coat })
}

/// Whether two readings of one panel differ by more than chance (95 %), from the uncertainty of one reading: |change| above
/// `1.96·√2·u`. All in g.
///
/// ```
/// use comb_scale_science::weigh::change_is_real;
/// assert!(!change_is_real(0.1, 0.05)? && change_is_real(0.2, 0.05)?);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn change_is_real(change_g: f64, u_g: f64) -> Result<bool, InputError> {
    let chance = Z95 * 2.0_f64.sqrt() * not_negative("uncertainty of a weighing", u_g)?;
    Ok(finite("change", change_g)?.abs() > chance)
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
/// degrees. It answers "is it moving now?" and never that a panel has settled.
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
