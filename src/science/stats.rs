//! Statistics for few panels: Welch's comparison, Holm's adjustment, and how many panels would show a difference.

use super::estimate::normal_cdf;
use super::input::{In, InputError, answer, finite, not_negative, positive, within};
use serde::Serialize;
use statrs::distribution::{ContinuousCDF, Normal, StudentsT};
use statrs::function::gamma::ln_gamma;

/// Above this many degrees of freedom Student's t is the normal distribution to all digits that matter.
pub(crate) const NORMAL_FROM: f64 = 1e6;

/// Quantile of Student's t for p between 10⁻⁹ and 1 − 10⁻⁹ and degrees of freedom above zero.
///
/// ```
/// use comb_scale_science::stats::t_quantile;
/// assert!((t_quantile(0.975, 4.0)? - 2.776_445).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn t_quantile(p: f64, degrees: f64) -> Result<f64, InputError> {
    // Nothing asks further out, where the inverse has no digits left.
    within("probability", p, 1e-9, 1.0 - 1e-9, In::Shares)?;
    // A third of a degree is the least that Welch's formula gives two pairs of panels.
    within("degrees of freedom", degrees, 0.3, f64::MAX, In::Numbers)?;
    let quantile = if degrees > NORMAL_FROM {
        Normal::standard().inverse_cdf(p)
    } else {
        StudentsT::new(0.0, 1.0, degrees).map_err(|_| InputError::Extreme)?.inverse_cdf(p)
    };
    answer(quantile)
}

/// Probability of a t at least this far from zero, either way, by chance.
///
/// ```
/// use comb_scale_science::stats::t_probability;
/// assert!((t_probability(2.776_445, 4.0)? - 0.05).abs() < 1e-7);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn t_probability(t: f64, degrees: f64) -> Result<f64, InputError> {
    finite("difference", t)?;
    within("degrees of freedom", degrees, 0.3, f64::MAX, In::Numbers)?;
    let tail = if degrees > NORMAL_FROM {
        normal_cdf(-t.abs())
    } else {
        StudentsT::new(0.0, 1.0, degrees).map_err(|_| InputError::Extreme)?.cdf(-t.abs())
    };
    answer((2.0 * tail).min(1.0))
}

/// Variance of a mean with the degrees of freedom it was estimated from; `None` where it is known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct MeanVariance {
    /// The variance of the mean, in the square of its unit.
    pub variance: f64,
    /// Degrees of freedom it was estimated with; none where it is known.
    pub degrees: Option<f64>,
}

/// A difference with its standard error and degrees of freedom.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Difference {
    /// The difference.
    pub value: f64,
    /// Standard error, in the unit of the value.
    pub se: f64,
    /// Degrees of freedom of its standard error (Welch and Satterthwaite where variances differ).
    pub degrees: f64,
    /// The difference over its standard error.
    pub t: f64,
    /// Two-sided probability of such a difference by chance alone.
    pub p: f64,
}

impl Difference {
    /// A difference and the variances of its parts: `se² = Σ vᵢ`, degrees `(Σ vᵢ)²/Σ(vᵢ²/νᵢ)` (Welch–Satterthwaite; GUM,
    /// JCGM 100:2008, G.4.1), known parts having no end of degrees.
    ///
    /// ```
    /// use comb_scale_science::stats::{Difference, MeanVariance};
    /// let own = MeanVariance { variance: 1.0, degrees: Some(2.0) };
    /// let d = Difference::new(4.0, &[own, own])?;
    /// assert!((d.degrees - 4.0).abs() < 1e-9 && (d.se - 2.0_f64.sqrt()).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn new(value: f64, parts: &[MeanVariance]) -> Result<Self, InputError> {
        finite("difference", value)?;
        for part in parts {
            not_negative("variance", part.variance)?;
            positive("degrees of freedom", part.degrees.unwrap_or(1.0))?;
        }
        let total = positive("scatter between the panels", parts.iter().map(|part| part.variance).sum())?;
        let estimated: f64 =
            parts.iter().filter_map(|part| Some((part.variance / total).powi(2) / part.degrees?)).sum();
        let degrees = if estimated > 1e-12 { 1.0 / estimated } else { 1e12 };
        let t = answer(value / total.sqrt())?;
        Ok(Self { value, se: total.sqrt(), degrees, t, p: t_probability(t, degrees)? })
    }
}

/// Holm's adjustment for several comparisons, in the order given: sorted upwards, `p̃₍ᵢ₎ = max over j ≤ i of
/// min(1, (m − j + 1)·p₍ⱼ₎)`.
///
/// ```
/// use comb_scale_science::stats::holm;
/// assert_eq!(holm(&[0.5, 0.6, 0.001])?, vec![1.0, 1.0, 0.003]);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn holm(p: &[f64]) -> Result<Vec<f64>, InputError> {
    for &p in p {
        within("probability", p, 0.0, 1.0, In::Shares)?;
    }
    let mut order: Vec<usize> = (0..p.len()).collect();
    order::sort_by(&mut order, |&a, &b| p[a].total_cmp(&p[b]));
    let mut adjusted = vec![0.0; p.len()];
    let mut largest = 0.0_f64;
    for (rank, &i) in order.iter().enumerate() {
        largest = largest.max((p[i] * (p.len() - rank) as f64).min(1.0));
        adjusted[i] = largest;
    }
    Ok(adjusted)
}

/// Probability that `n` panels of each of two candidates show a difference at significance `alpha` (two-sided, equal
/// scatter), when the true one is `effect` times the scatter between panels: noncentral t with `2n − 2` degrees of freedom
/// and `ncp = effect·√(n/2)`.
///
/// ```
/// use comb_scale_science::stats::power;
/// assert!((power(2.0, 3, 0.05)? - 0.462_640_8).abs() < 1e-6, "three panels see two sd less than half of the time");
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn power(effect: f64, n: usize, alpha: f64) -> Result<f64, InputError> {
    // Further than this the answer is 1 to all digits.
    let effect = finite("difference to see", effect)?.abs().min(1e3);
    within("significance", alpha, 1e-6, 0.5, In::Shares)?;
    if n < 2 {
        return Err(InputError::TooFew { what: "panels of each", least: 2 });
    }
    let degrees = 2.0 * n.min(1_000_000) as f64 - 2.0;
    let limit = t_quantile(1.0 - 0.5 * alpha, degrees)?;
    let ncp = effect * (n as f64 / 2.0).sqrt();
    // T′ = (Z + ncp)/S with S² = χ²/ν: sum over S by Simpson's rule.
    const STEPS: usize = 400;
    let spread = (2.0 * degrees).sqrt().recip();
    let (low, high) = ((1.0 - 9.0 * spread).max(0.0), 1.0 + 9.0 * spread);
    let half = 0.5 * degrees;
    let ln_scale = 2.0_f64.ln() + half * half.ln() - ln_gamma(half);
    let step = (high - low) / STEPS as f64;
    let at = |i: usize| {
        let s = low + step * i as f64;
        if s <= 0.0 {
            return 0.0;
        }
        let density = (ln_scale + (degrees - 1.0) * s.ln() - half * s * s).exp();
        density * (normal_cdf(ncp - limit * s) + normal_cdf(-ncp - limit * s))
    };
    let inner: f64 = (1..STEPS).map(|i| if i % 2 == 1 { 4.0 * at(i) } else { 2.0 * at(i) }).sum();
    answer(((at(0) + inner + at(STEPS)) * step / 3.0).clamp(0.0, 1.0))
}

/// Panels of each candidate that show a true difference of `effect` times the scatter between panels with probability
/// `wanted`; `comparisons` of them share the 5 % (first step of Holm). `None` beyond 200 panels.
///
/// ```
/// use comb_scale_science::stats::panels_needed;
/// assert_eq!(panels_needed(2.0, 1, 0.8)?, Some(6));
/// assert_eq!(panels_needed(2.0, 3, 0.8)?, Some(7));
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn panels_needed(effect: f64, comparisons: usize, wanted: f64) -> Result<Option<usize>, InputError> {
    positive("difference to see", effect)?;
    within("wanted probability", wanted, 0.5, 0.999, In::Shares)?;
    let alpha = 0.05 / comparisons.clamp(1, 10_000) as f64;
    for n in 2..=200 {
        if power(effect, n, alpha)? >= wanted {
            return Ok(Some(n));
        }
    }
    Ok(None)
}

/// The least true difference, in units of the scatter between panels, that `panels` of each candidate show at significance
/// `alpha` with probability `wanted`: [`power`] solved for it by halving. `None` where no difference up to 200 is enough.
///
/// ```
/// use comb_scale_science::stats::{least_shown, power};
/// let least = least_shown(6, 0.05, 0.8)?.unwrap();
/// assert!(least < 2.0 && (power(least, 6, 0.05)? - 0.8).abs() < 1e-9, "six panels are more than enough for two sd");
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn least_shown(panels: usize, alpha: f64, wanted: f64) -> Result<Option<f64>, InputError> {
    within("wanted probability", wanted, 0.5, 0.999, In::Shares)?;
    let (mut low, mut high) = (0.0, 200.0);
    if power(high, panels, alpha)? < wanted {
        return Ok(None);
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if power(middle, panels, alpha)? < wanted { low = middle } else { high = middle }
    }
    Ok(Some(high))
}

/// As [`panels_needed`], for a true difference and a scatter between panels in one unit, at a chance of 80 %.
///
/// ```
/// use comb_scale_science::stats::panels_to_show;
/// // Panels that scatter by 5 %, and a difference of 10 % between two primers.
/// assert_eq!(panels_to_show(10.0, 5.0, 1)?, Some(6));
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn panels_to_show(difference: f64, sd: f64, comparisons: usize) -> Result<Option<usize>, InputError> {
    let effect = finite("difference to see", difference)?.abs() / positive("scatter between the panels", sd)?;
    panels_needed(answer(effect)?, comparisons, 0.8)
}
