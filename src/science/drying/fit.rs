//! The fit: robust cost, its derivatives, its maximum and the noise check.

use super::kernel::product;
use super::least_squares::{Normal, Problem, Rule, Solution, factor, minimise};
use super::model::{
    Ends, FIRST_CHAIN, FIRST_STRAIGHT, FIRST_WARM, Hours, LN_A, WARM_PARAMETERS, fall, straight_basis, timed_basis,
    warm_basis,
};
use super::noise::UNIT;
use super::prior::Prior;
use nalgebra::SVector;

/// Degrees of freedom of the Student-t errors.
const NU: f64 = 4.0;
/// Longest step of a log amplitude or of ln a.
const LONGEST_STEP: f64 = 2.5;

/// A reading as the fit sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Point {
    /// Hours since the wet weight.
    pub t_h: f64,
    pub hours: Hours,
    /// Coat mass, drift removed, g.
    pub y: f64,
    /// sd s₀ of this reading with the model's own floor, g.
    pub sd: f64,
}

/// The Student-t cost of a spectrum on a panel's readings with its priors.
pub(crate) struct Spectrum<'a, const P: usize> {
    prior: &'a Prior,
    rows: Vec<Row<P>>,
    /// ln a for which the rows' bases hold.
    ln_a: f64,
    /// c₀ is held where it is.
    pub plateau_held: bool,
    at: SVector<f64, P>,
    /// Σ w̃ J of the last normal equations: their column of c₀.
    pub plateau_column: SVector<f64, P>,
    /// Slopes of all rows by columns, robust weights, weighted residuals, and a weighted column: room for `normal`.
    columns: Vec<f64>,
    weights: Vec<f64>,
    pulls: Vec<f64>,
    scaled: Vec<f64>,
}

struct Row<const P: usize> {
    hours: Hours,
    y: f64,
    weight: f64,
    basis: [f64; P],
    /// ∂m/∂θ; the entry of ln a is filled by `normal`.
    slope: [f64; P],
    residual: f64,
}

impl<'a, const P: usize> Spectrum<'a, P> {
    pub fn new(points: &[Point], prior: &'a Prior) -> Self {
        let rows = points
            .iter()
            .zip(weights(points))
            .map(|(p, weight)| {
                let mut basis = [0.0; P];
                basis[..FIRST_STRAIGHT].copy_from_slice(&timed_basis(p.hours.cool));
                basis[FIRST_STRAIGHT..FIRST_WARM].copy_from_slice(&straight_basis(p.hours.all(), prior.ends));
                if P == WARM_PARAMETERS {
                    basis[FIRST_WARM..LN_A].copy_from_slice(&warm_basis(p.hours.warm));
                }
                Row { hours: p.hours, y: p.y, weight, basis, slope: [0.0; P], residual: 0.0 }
            })
            .collect();
        // Before any evaluation the bases hold for no warm time at all.
        Self {
            prior,
            rows,
            ln_a: f64::NEG_INFINITY,
            plateau_held: false,
            at: SVector::zeros(),
            plateau_column: SVector::zeros(),
            columns: Vec::new(),
            weights: Vec::new(),
            pulls: Vec::new(),
            scaled: Vec::new(),
        }
    }

    /// Bases of readings in the warm follow ln a.
    fn warm_up(&mut self, ln_a: f64) {
        if ln_a == self.ln_a {
            return;
        }
        self.ln_a = ln_a;
        let a = ln_a.exp();
        for row in self.rows.iter_mut().filter(|r| r.hours.warm > 0.0) {
            row.basis[..FIRST_STRAIGHT].copy_from_slice(&timed_basis(row.hours.effective(a)));
        }
    }

    pub fn ends(&self) -> Ends {
        self.prior.ends
    }

    /// Mass on the curve `at` at the newest reading, g.
    pub fn newest_mass(&mut self, at: &SVector<f64, P>) -> f64 {
        if P == WARM_PARAMETERS {
            self.warm_up(at[LN_A]);
        }
        self.rows
            .last()
            .map_or(f64::NAN, |row| at[0] + (FIRST_CHAIN..P.min(LN_A)).map(|i| at[i].exp() * row.basis[i]).sum::<f64>())
    }

    /// (6 + Σ min(w r², 9)) / (6 + max(n − tr, 0)), tr = Σ w̃ J H⁻¹ Jᵀ: how much wider the residuals scatter than they
    /// should. At the point of the last cost and normal call.
    fn noise_ratio(&self, normal: &Normal<P>) -> f64 {
        let chi2: f64 = self.rows.iter().map(|r| (r.weight * r.residual * r.residual).min(9.0)).sum();
        let trace: f64 = factor(normal.gauss_newton.as_slice()).map_or(0.0, |l| {
            let mut trace = 0.0;
            for row in &self.rows {
                let mut slope = row.slope;
                l.half_solve(&mut slope);
                trace += row.robust_weight() * product(&slope, &slope);
            }
            trace
        });
        (6.0 + chi2) / (6.0 + (self.rows.len() as f64 - trace).max(0.0))
    }
}

impl<const P: usize> Row<P> {
    /// w̃ = w · 5/(4 + w r²).
    fn robust_weight(&self) -> f64 {
        self.weight * (NU + 1.0) / (NU + self.weight * self.residual * self.residual)
    }
}

impl<const P: usize> Problem<P> for Spectrum<'_, P> {
    fn cost(&mut self, at: &SVector<f64, P>) -> f64 {
        if P == WARM_PARAMETERS {
            self.warm_up(at[LN_A]);
        }
        self.at = *at;
        let amplitudes = at.map(f64::exp);
        let mut cost = self.prior.cost(at, self.plateau_held);
        for row in &mut self.rows {
            let mut mass = at[0];
            row.slope[0] = 1.0;
            for i in FIRST_CHAIN..P.min(LN_A) {
                let term = amplitudes[i] * row.basis[i];
                row.slope[i] = term;
                mass += term;
            }
            row.residual = row.y - mass;
            cost += (NU + 1.0) * (row.weight * row.residual * row.residual / NU).ln_1p();
        }
        cost
    }

    fn normal(&mut self, into: &mut Normal<P>) {
        *into = Normal::zero();
        let a = if P == WARM_PARAMETERS { self.ln_a.exp() } else { 1.0 };
        self.columns.clear();
        self.weights.clear();
        self.pulls.clear();
        for row in &mut self.rows {
            if P == WARM_PARAMETERS && row.hours.warm > 0.0 {
                row.slope[LN_A] = -a * row.hours.warm * fall(&row.slope, row.hours.effective(a));
            }
            let weight = row.robust_weight();
            self.weights.push(weight);
            self.pulls.push(weight * row.residual);
        }
        // By columns: a sum of products at a time stays in a register, which halves the time of the whole fit.
        let n = self.rows.len();
        let mut live = [n; P];
        for i in 0..P {
            self.columns.extend(self.rows.iter().map(|row| row.slope[i]));
            // Terms that are long gone by the later readings.
            let column = &self.columns[i * n..];
            while live[i] > 0 && column[live[i] - 1] == 0.0 {
                live[i] -= 1;
            }
        }
        let column = |i: usize| &self.columns[i * n..i * n + live[i]];
        for i in 0..P {
            let own = column(i);
            self.scaled.clear();
            self.scaled.extend(own.iter().zip(&self.weights).map(|(slope, weight)| weight * slope));
            for k in i..P {
                into.gauss_newton.data.0[i][k] = product(&self.scaled, column(k));
            }
            into.gradient[i] = product(&self.pulls, own);
        }
        for i in FIRST_CHAIN..P.min(LN_A) {
            into.curvature[i] = -into.gradient[i];
        }
        self.plateau_column = into.gauss_newton.column(0).into_owned();
        self.prior.add_to(&self.at, self.plateau_held, into);
        if self.plateau_held {
            into.gauss_newton.column_mut(0).fill(0.0);
            into.gauss_newton[(0, 0)] = 1.0;
            into.gradient[0] = 0.0;
        }
    }

    fn clamp(&self, step: &mut SVector<f64, P>) {
        for s in step.iter_mut().skip(1) {
            *s = s.clamp(-LONGEST_STEP, LONGEST_STEP);
        }
    }
}

/// wᵢ = 1/(s₀² + (0.01 (yᵢ − min of last three)₊)²): early readings, taken while the coat loses fast, are trusted less.
fn weights(points: &[Point]) -> impl Iterator<Item = f64> {
    let low = points.iter().rev().take(3).map(|p| p.y).fold(f64::INFINITY, f64::min);
    points.iter().map(move |p| 1.0 / (p.sd * p.sd + (0.01 * (p.y - low).max(0.0)).powi(2)))
}

/// The maximum of the posterior and what goes with it.
pub(crate) struct Maximum<const P: usize> {
    pub solution: Solution<P>,
    /// Readings with the scatter that the noise check settled on.
    pub points: Vec<Point>,
    /// s² of the first fit.
    pub noise_ratio: f64,
    /// σᵤ = s₀/0.0851 after the check, g.
    pub sigma_u: f64,
    /// m(tₙ) on the curve, g.
    pub newest_mass: f64,
    /// Steps of all fits so far.
    pub steps: usize,
}

/// Finds the maximum; where the residuals scatter more than they should (s² > 1.2), widens the scatter by √s² and refits
/// once from there.
pub(crate) fn maximum<const P: usize>(points: &[Point], sigma_u: f64, prior: &Prior, rule: &Rule) -> Maximum<P> {
    let mut points = points.to_vec();
    let mut sigma_u = sigma_u;
    let (first, last) = (points[0].y, points[points.len() - 1].y);
    let plateau = last - 0.03 * (first - last).max(0.5 * sigma_u);
    let chain = ((first - plateau) / 13.0).max(0.05 * sigma_u).ln();
    let start: SVector<f64, P> = prior.start(plateau, chain);

    let mut problem = Spectrum::new(&points, prior);
    let mut solution = minimise(&mut problem, start, rule);
    let mut steps = solution.steps;
    problem.cost(&solution.at);
    problem.normal(&mut solution.normal);
    let noise_ratio = problem.noise_ratio(&solution.normal);
    if noise_ratio > 1.2 {
        let wider = noise_ratio.sqrt();
        sigma_u *= wider;
        points.iter_mut().for_each(|p| p.sd *= wider);
        problem = Spectrum::new(&points, prior);
        solution = minimise(&mut problem, solution.at, rule);
        steps += solution.steps;
    }
    let newest_mass = problem.newest_mass(&solution.at);
    Maximum { solution, points, noise_ratio, sigma_u, newest_mass, steps }
}

/// σᵤ of readings with sd `s0`, g.
pub(crate) fn sigma_u(s0: f64) -> f64 {
    s0 / UNIT
}
