//! What older panels of the same candidate teach a younger one.
//!
//! Panels of one age teach each other nothing about the unseen tail and are not pooled. Panels at least 72 h older do, by
//! an empirical prior on the final mass.

use super::fit::Point;
use super::outcome::Forecast;
use super::panel::Older;
use super::prior::Believed;

/// How much older a panel must be, h.
pub const LEAST_OLDER_H: f64 = 72.0;
/// Largest rms difference of two curves y/y₀ that may still be one coating.
const MOST_RMS: f64 = 0.02;
/// Readings under this age are not compared, h.
const FIRST_COMPARED_H: f64 = 0.4;
/// Least relative sd of an older panel's final mass.
const LEAST_SD: f64 = 0.012;
/// Once a panel's own plateau sd is under this share of its wet coat it needs no help.
pub(crate) const ENOUGH: f64 = 0.02;

/// What was done with an older panel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OlderUse {
    /// It informed the final mass.
    Used {
        /// Its solids fₖ = mean final coat / wet coat.
        solids: f64,
        /// sₖ, with the allowance for age.
        sd: f64,
    },
    /// Less than 72 h older.
    NotOlder {
        /// How much older, h.
        by_h: f64,
    },
    /// Its curve differs from this panel's.
    CurvesDiffer {
        /// rms difference of y/y₀.
        rms: f64,
    },
    /// No reading of this panel (0.4 h or older) falls within its readings.
    NothingToCompare,
    /// One of the two has no bare weight.
    NoBareWeight,
    /// This panel's own readings say enough.
    NotNeeded,
}

/// What a panel hands on to younger ones.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Trace {
    /// (age h, y/y₀) of the kept readings.
    pub curve: Vec<(f64, f64)>,
    /// Mean and sd of the final mass over y₀; `None` without a bare weight.
    pub solids: Option<(f64, f64)>,
}

impl Trace {
    pub fn new(points: &[Point], wet: f64, solids: Option<(f64, f64)>) -> Self {
        Self { curve: points.iter().map(|p| (p.t_h, p.y / wet)).collect(), solids }
    }

    /// y/y₀ at an age, linear in ln t.
    fn at(&self, t_h: f64) -> Option<f64> {
        let i = self.curve.partition_point(|c| c.0 < t_h);
        let &(t1, y1) = self.curve.get(i)?;
        if t1 == t_h {
            return Some(y1);
        }
        let (t0, y0) = self.curve[i.checked_sub(1)?];
        // ln 0 at the wet weight: the first stretch is linear in t instead.
        let share = if t0 > 0.0 { (t_h / t0).ln() / (t1 / t0).ln() } else { (t_h - t0) / (t1 - t0) };
        Some(y0 + (y1 - y0) * share)
    }
}

/// f = Σ fₖ sₖ⁻² / Σ sₖ⁻², s = √(K / Σ sₖ⁻²) (no 1/√K: the panels share their paint's own oddities), with
/// sₖ = hypot((1 + 0.5 tₙ/tₙₖ) sdₖ/y₀ₖ, 0.012); the prior is N(f y₀, s y₀). `None` when no panel serves.
pub(crate) fn pooled(own: &Trace, age_h: f64, wet: f64, older: &[Older]) -> (Option<Believed>, Vec<OlderUse>) {
    let uses: Vec<OlderUse> = older.iter().map(|o| judge(own, age_h, o.by_h, o.forecast)).collect();
    let (mut weights, mut sum, mut count) = (0.0, 0.0, 0.0);
    for used in &uses {
        if let OlderUse::Used { solids, sd } = used {
            let weight = 1.0 / (sd * sd);
            weights += weight;
            sum += solids * weight;
            count += 1.0;
        }
    }
    let prior = (count > 0.0).then(|| Believed::of_older(sum / weights, (count / weights).sqrt(), wet));
    (prior, uses)
}

fn judge(own: &Trace, age_h: f64, by_h: f64, older: &Forecast) -> OlderUse {
    if !(by_h >= LEAST_OLDER_H) {
        return OlderUse::NotOlder { by_h };
    }
    let Some((solids, sd)) = older.trace.solids else {
        return OlderUse::NoBareWeight;
    };
    let squares: Vec<f64> = own
        .curve
        .iter()
        .filter(|c| c.0 >= FIRST_COMPARED_H)
        .filter_map(|&(t, y)| older.trace.at(t).map(|o| (y - o).powi(2)))
        .collect();
    if squares.is_empty() {
        return OlderUse::NothingToCompare;
    }
    let rms = (squares.iter().sum::<f64>() / squares.len() as f64).sqrt();
    if !(rms <= MOST_RMS) {
        return OlderUse::CurvesDiffer { rms };
    }
    let ages = if older.newest_age_h > 0.0 { age_h / older.newest_age_h } else { 1.0 };
    OlderUse::Used { solids, sd: ((1.0 + 0.5 * ages) * sd).hypot(LEAST_SD) }
}
