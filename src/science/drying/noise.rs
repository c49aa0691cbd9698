//! How much a single reading scatters.

use super::panel::Scale;

/// u = s / 0.0851: the method's constants were set in units in which a scale with a 0.1 g division scatters by 0.0851.
pub(crate) const UNIT: f64 = 0.0851;

/// Degrees of freedom given to a scatter that is only assumed from the division.
const ASSUMED_DOF: f64 = 6.0;

/// Squared differences and how many.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct SumOfSquares {
    /// Σ of squares, g².
    pub sum: f64,
    /// Degrees of freedom (groups) or number (differences).
    pub count: f64,
}

/// Scatter of a single reading, g:
///
/// sₙ² = [ν v₀ + 0.75 K v_c + Σ_groups Σ(x − x̄)²] / [ν + 0.75 K + Σ(k − 1)]
///
/// with v₀ = (0.8 d)² + d²/12 and ν = 6, or the square of a measured repeatability plus d²/12 (the step's own variance,
/// GUM F.2.2.1) with its own degrees of freedom; K successive differences Δ of the blank within 6 d and
/// v_c = mean(Δ²)/2; groups are repeats of one panel in one round. Never under 0.3 d. `division_g` must be positive.
pub(crate) fn scatter(scale: &Scale, blank: SumOfSquares, repeats: SumOfSquares) -> f64 {
    let d = scale.division_g;
    let step = d * d / 12.0;
    let (assumed, dof) = match scale.repeatability {
        Some(r) if r.sd_g.is_finite() && r.sd_g >= 0.0 && r.dof.is_finite() && r.dof > 0.0 => {
            (r.sd_g * r.sd_g + step, r.dof)
        }
        _ => ((0.8 * d).powi(2) + step, ASSUMED_DOF),
    };
    let variance = (dof * assumed + 0.75 * blank.sum / 2.0 + repeats.sum) / (dof + 0.75 * blank.count + repeats.count);
    variance.sqrt().max(0.3 * d)
}

/// The largest difference between readings of one thing that is scatter rather than a slip, g (with a hair of slack, as
/// readings are whole divisions).
pub(crate) fn largest_scatter(division_g: f64) -> f64 {
    6.0 * division_g * (1.0 + 1e-9)
}
