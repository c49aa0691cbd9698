//! Comparisons of whole samples, put together from the science's parts as the findings put them together.

use comb_scale::science::compare::{Contender, Pair, judged, pair};
use comb_scale::science::film::summary;
use comb_scale::science::input::InputError;
use comb_scale::science::stats::{Difference, MeanVariance, t_quantile};

/// Welch's comparison of two samples with unequal scatter: `t = (x̄ − ȳ)/√(s_x²/n_x + s_y²/n_y)`.
pub fn welch(x: &[f64], y: &[f64]) -> Result<Difference, InputError> {
    let of = |values: &[f64]| {
        let s = summary("panels", values)?;
        let sd = s.sd.ok_or(InputError::TooFew { what: "panels of each", least: 2 })?;
        let n = s.count as f64;
        Ok((s.mean, MeanVariance { variance: sd * sd / n, degrees: Some(n - 1.0) }))
    };
    let ((x, of_x), (y, of_y)) = (of(x)?, of(y)?);
    Difference::new(x - y, &[of_x, of_y])
}

/// `value ± t·se` that holds the true difference with probability `level`.
pub fn interval(d: &Difference, level: f64) -> Result<(f64, f64), InputError> {
    let half = t_quantile(0.5 + 0.5 * level, d.degrees)? * d.se;
    Ok((d.value - half, d.value + half))
}

/// All candidates against each other.
pub fn pairs(contenders: &[Contender]) -> Result<Vec<Pair>, InputError> {
    let mut found = Vec::new();
    for (first, a) in contenders.iter().enumerate() {
        for (second, b) in contenders.iter().enumerate().skip(first + 1) {
            found.push(pair(first, a.mean, second, b.mean)?);
        }
    }
    judged(found, contenders)
}
