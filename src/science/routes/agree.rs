//! Do the routes agree, and if not, which input is the likeliest cause.

use super::inputs::{INPUTS, Input, Slopes};
use crate::drying::least_squares::factor;
use nalgebra::{DMatrix, DVector};
use serde::Serialize;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// An input that would explain a disagreement, if it were off by this much.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Cause {
    /// The input.
    pub input: Input,
    /// True value minus the value entered, in the input's own unit.
    pub off_by: f64,
    /// The same as a multiple of its stated uncertainty.
    pub in_u: f64,
    /// How much of χ² it takes away.
    pub explains: f64,
}

/// Generalised least squares for one film that several routes measured, with the covariance that their shared inputs make.
pub(super) struct Combination {
    /// In the order of the routes; they add up to 1.
    pub weights: Vec<f64>,
    pub mean_um: f64,
    pub u_um: f64,
    pub chi2: f64,
    /// V⁻¹ − V⁻¹11ᵀV⁻¹/(1ᵀV⁻¹1), which sees only what the routes do not have in common.
    contrast: DMatrix<f64>,
}

/// Covariance matrix of the routes in µm², `J·diag(u²)·Jᵀ` (GUM, JCGM 100:2008, eqs (10), (13)).
pub(super) fn covariance(routes: &[&Slopes], u: &[f64]) -> DMatrix<f64> {
    DMatrix::from_fn(routes.len(), routes.len(), |i, j| {
        u.iter().enumerate().map(|(k, u)| routes[i].by[k] * routes[j].by[k] * u * u).sum()
    })
}

/// w = V⁻¹1/(1ᵀV⁻¹1), u² = 1/(1ᵀV⁻¹1), χ² = (D − D̂)ᵀV⁻¹(D − D̂). `None` where the routes hold no independent information.
pub(super) fn combine(routes: &[&Slopes], u: &[f64]) -> Option<Combination> {
    let n = routes.len();
    let inverse = DMatrix::from_vec(n, n, factor(covariance(routes, u).as_slice())?.inverse());
    let ones = DVector::from_element(n, 1.0);
    let row = &inverse * &ones;
    let total = row.sum();
    let weights = &row / total;
    let values = DVector::from_iterator(n, routes.iter().map(|route| route.value));
    let mean_um = weights.dot(&values);
    let off = values.add_scalar(-mean_um);
    let chi2 = off.dot(&(&inverse * &off));
    let contrast = &inverse - &row * row.transpose() / total;
    let u_um = (1.0 / total).sqrt();
    (u_um.is_finite() && mean_um.is_finite() && chi2.is_finite()).then(|| Combination {
        weights: weights.iter().copied().collect(),
        mean_um,
        u_um,
        chi2,
        contrast,
    })
}

/// 95 % point of χ².
pub(super) fn chi2_limit(degrees: usize) -> f64 {
    ChiSquared::new(degrees as f64).map_or(f64::INFINITY, |chi2| chi2.inverse_cdf(0.95))
}

/// The inputs by how well an error in each alone would explain why the routes differ, likeliest first. An input explains
/// `(jᵀPD)²/(jᵀPj)` of χ², j its slopes; where several explain as much (two routes always do), the one that needs to be off by
/// fewer of its own uncertainties comes first.
pub(super) fn causes(combination: &Combination, routes: &[&Slopes], u: &[f64]) -> Vec<Cause> {
    let values = DVector::from_iterator(routes.len(), routes.iter().map(|route| route.value));
    let pulled = &combination.contrast * values;
    let mut causes: Vec<Cause> = INPUTS
        .iter()
        .filter(|input| u[**input as usize] > 0.0)
        .filter_map(|&input| {
            let slopes = DVector::from_iterator(routes.len(), routes.iter().map(|route| route.of(input)));
            let leverage = slopes.dot(&(&combination.contrast * &slopes));
            let pull = slopes.dot(&pulled);
            let u = u[input as usize];
            // An input that moves all routes alike cannot set them apart.
            let seen = leverage * u * u > 1e-9;
            let off_by = -pull / leverage;
            seen.then_some(Cause { input, off_by, in_u: off_by / u, explains: pull * pull / leverage })
        })
        .filter(|cause| cause.off_by.is_finite() && cause.explains.is_finite())
        .collect();
    // Explanations within a tenth of a χ² of each other count as equal.
    let class = |cause: &Cause| (cause.explains * 10.0).round();
    order::sort_by(&mut causes, |a, b| class(b).total_cmp(&class(a)).then(a.in_u.abs().total_cmp(&b.in_u.abs())));
    causes
}
