//! The least-squares core: Levenberg–Marquardt with an exact diagonal of second derivatives and prior terms.
//!
//! A [`Problem`] supplies cost, gradient and curvature; [`minimise`] walks. The forecast runs through it with 21 or 25
//! parameters, and so do the NIST reference problems of the tests.
//!
//! Steps solve (H + λ diag H + D) δ = g, where g = −½ ∂cost/∂θ, H is the Gauss–Newton matrix with prior precision and
//! D what the exact second derivative adds on the diagonal (Levenberg 1944, Marquardt 1963; the D term makes it close
//! to Newton's method where amplitudes are exponentials).

mod cholesky;

use nalgebra::{SMatrix, SVector};

pub use cholesky::{Factor, factor};

/// Cost, gradient and curvature at one point.
#[derive(Debug, Clone)]
pub struct Normal<const P: usize> {
    /// g = −½ ∂cost/∂θ.
    pub gradient: SVector<f64, P>,
    /// Gauss–Newton matrix with prior precision; only the lower triangle is filled.
    pub gauss_newton: SMatrix<f64, P, P>,
    /// What the exact second derivatives add on the diagonal; zero where a problem leaves it out.
    pub curvature: SVector<f64, P>,
}

impl<const P: usize> Normal<P> {
    /// All zero.
    ///
    /// ```
    /// use comb_scale_science::drying::least_squares::Normal;
    /// assert_eq!(Normal::<3>::zero().gradient.norm(), 0.0);
    /// ```
    #[must_use]
    pub fn zero() -> Self {
        Self { gradient: SVector::zeros(), gauss_newton: SMatrix::zeros(), curvature: SVector::zeros() }
    }
}

/// A cost to be minimised over `P` parameters.
pub trait Problem<const P: usize> {
    /// Cost at `at`; keeps whatever [`Problem::normal`] needs. May return a non-finite number: the step is rejected.
    fn cost(&mut self, at: &SVector<f64, P>) -> f64;

    /// Gradient and curvature at the point of the last [`Problem::cost`] call.
    fn normal(&mut self, into: &mut Normal<P>);

    /// Shortens a step that is too bold.
    fn clamp(&self, _step: &mut SVector<f64, P>) {}
}

/// When to stop.
#[derive(Debug, Clone, Copy)]
pub struct Rule {
    /// Stop when the predicted fall of the cost is under this.
    pub tolerance: f64,
    /// Most steps, rejected ones included.
    pub most_steps: usize,
}

/// Why the solver stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stopped {
    /// The predicted gain is under the tolerance.
    Converged,
    /// The allowed steps are used up.
    StepLimit,
    /// No step downhill was found, however short.
    NoDescent,
    /// The cost is not a finite number at the start.
    BadStart,
    /// A parameter ended where it has no effect any more: not a minimum, however flat the cost is there.
    LostParameter(usize),
}

/// Where the solver ended.
#[derive(Debug, Clone)]
pub struct Solution<const P: usize> {
    /// Parameters.
    pub at: SVector<f64, P>,
    /// Cost there.
    pub cost: f64,
    /// Gradient and curvature at the last accepted point (one predicted step before `at`).
    pub normal: Normal<P>,
    /// Why it stopped.
    pub stopped: Stopped,
    /// Steps tried.
    pub steps: usize,
}

const FIRST_LAMBDA: f64 = 1e-3;
const LEAST_LAMBDA: f64 = 1e-9;
const LAMBDA_FACTOR: f64 = 8.0;
const LAMBDA_AFTER_FAILURE: f64 = 1e-4;
/// Above this damping a short predicted step says nothing about the minimum.
const TRUSTED_LAMBDA: f64 = 1e-2;
const HOPELESS_LAMBDA: f64 = 1e16;

/// A change of the cost under this share of it may be its rounding.
const POLISHED: f64 = 1e-8;
const POLISHING_STEPS: usize = 4;

/// A parameter whose diagonal of H has fallen to this share of the largest seen on the way has lost its effect.
const LOST: f64 = 1e-12;

/// Minimises a cost from `start`.
///
/// λ starts at 10⁻³, is divided by 8 on success (never under 10⁻⁹) and becomes max(8λ, 10⁻⁴) on failure. It stops,
/// after an accepted step, when the *predicted* gain g·δ is under the tolerance with λ ≤ 10⁻²; never on the actual fall
/// alone, since one accepted short step can look like convergence. The predicted step is then taken and the cost
/// lowered by the predicted gain.
///
/// ```
/// use comb_scale_science::drying::least_squares::{Normal, Problem, Rule, Stopped, minimise};
/// use nalgebra::SVector;
///
/// /// y = a x through (1, 2) and (2, 4).
/// struct Line {
///     a: f64,
/// }
///
/// impl Problem<1> for Line {
///     fn cost(&mut self, at: &SVector<f64, 1>) -> f64 {
///         self.a = at[0];
///         (2.0 - self.a).powi(2) + (4.0 - 2.0 * self.a).powi(2)
///     }
///
///     fn normal(&mut self, into: &mut Normal<1>) {
///         *into = Normal::zero();
///         into.gradient[0] = (2.0 - self.a) + 2.0 * (4.0 - 2.0 * self.a);
///         into.gauss_newton[(0, 0)] = 5.0;
///     }
/// }
///
/// let rule = Rule { tolerance: 1e-20, most_steps: 100 };
/// let solution = minimise(&mut Line { a: 0.0 }, SVector::from([0.0]), &rule);
/// assert_eq!(solution.stopped, Stopped::Converged);
/// assert!((solution.at[0] - 2.0).abs() < 1e-9);
/// ```
pub fn minimise<const P: usize>(problem: &mut impl Problem<P>, start: SVector<f64, P>, rule: &Rule) -> Solution<P> {
    let mut at = start;
    let mut cost = problem.cost(&at);
    let mut normal = Normal::zero();
    if !cost.is_finite() {
        return Solution { at, cost, normal, stopped: Stopped::BadStart, steps: 0 };
    }
    problem.normal(&mut normal);
    let mut largest = normal.gauss_newton.diagonal();
    let mut lambda = FIRST_LAMBDA;
    let mut accepted = false;
    let mut stopped = Stopped::StepLimit;
    let mut steps = 0;
    while steps < rule.most_steps {
        let Some(mut step) = damped_step(&normal, lambda) else {
            stopped = Stopped::NoDescent;
            break;
        };
        problem.clamp(&mut step);
        let gain = normal.gradient.dot(&step);
        if accepted && gain < rule.tolerance && lambda <= TRUSTED_LAMBDA {
            at += step;
            cost -= gain;
            stopped = Stopped::Converged;
            break;
        }
        steps += 1;
        let trial = at + step;
        let trial_cost = problem.cost(&trial);
        if trial_cost < cost {
            at = trial;
            cost = trial_cost;
            problem.normal(&mut normal);
            largest = largest.sup(&normal.gauss_newton.diagonal());
            lambda = (lambda / LAMBDA_FACTOR).max(LEAST_LAMBDA);
            accepted = true;
        } else {
            // At the minimum to the last bit no step can lower the cost any more.
            if gain <= 4.0 * f64::EPSILON * cost.abs() {
                polish(problem, &mut at, &mut cost, &mut normal);
                stopped = Stopped::Converged;
                break;
            }
            lambda = (LAMBDA_FACTOR * lambda).max(LAMBDA_AFTER_FAILURE);
            if !(lambda < HOPELESS_LAMBDA) {
                stopped = Stopped::NoDescent;
                break;
            }
        }
    }
    let has_effect = |i: usize| normal.gauss_newton[(i, i)] > LOST * largest[i];
    if let Some(lost) = (0..P).find(|&i| !has_effect(i)) {
        stopped = Stopped::LostParameter(lost);
    }
    Solution { at, cost, normal, stopped, steps }
}

/// Past the last digit that the cost can tell: residuals much smaller than the data leave the cost with few digits, while
/// the gradient, which is linear in them, still knows where the minimum is. A few undamped steps, as long as the predicted
/// gain falls and is lost in the cost's rounding.
fn polish<const P: usize>(
    problem: &mut impl Problem<P>,
    at: &mut SVector<f64, P>,
    cost: &mut f64,
    normal: &mut Normal<P>,
) {
    let mut least = POLISHED * cost.abs();
    for _ in 0..POLISHING_STEPS {
        let Some(step) = damped_step(normal, 0.0) else { break };
        let gain = normal.gradient.dot(&step);
        let trial = *at + step;
        let trial_cost = problem.cost(&trial);
        if !(gain < least && (trial_cost - *cost).abs() <= POLISHED * cost.abs()) {
            break;
        }
        least = gain;
        (*at, *cost) = (trial, trial_cost);
        problem.normal(normal);
    }
}

fn damped_step<const P: usize>(normal: &Normal<P>, lambda: f64) -> Option<SVector<f64, P>> {
    let solve = |lambda: f64, positive_only: bool| {
        let mut matrix = normal.gauss_newton;
        for i in 0..P {
            let second = if positive_only { normal.curvature[i].max(0.0) } else { normal.curvature[i] };
            matrix[(i, i)] += lambda * matrix[(i, i)] + second;
        }
        let mut step = normal.gradient;
        factor(matrix.as_slice())?.solve(step.as_mut_slice());
        Some(step)
    };
    if let Some(step) = solve(lambda, false) {
        return Some(step);
    }
    let mut lambda = lambda.max(1e-6);
    while lambda < HOPELESS_LAMBDA {
        if let Some(step) = solve(lambda, true) {
            return Some(step);
        }
        lambda *= LAMBDA_FACTOR;
    }
    None
}
