//! The slip screen: readings that no falling curve through the others can explain.
//!
//! Non-negative least squares on a wide set of falling terms, greedily leaving out the reading whose removal helps most.
//! The same terms tell whether a coat loses along a straight line: `straight`.

use super::fit::Point;
use super::kernel::product;
use super::least_squares::{Factor, factor};
use super::straight::ramps;

/// Time constants of the exponentials: 20, log-spaced from 0.3 to 1500 h.
const TERMS: usize = 20;
const SHORTEST_H: f64 = 0.3;
const LONGEST_H: f64 = 1500.0;
const SHARP_H: [f64; 4] = [2.0, 4.0, 8.0, 20.0];
/// How much faster than in the first place a coat is taken to dry in the warm.
const WARM_FACTOR: f64 = 8.0;
const LEAST_READINGS: usize = 5;
/// Removals tried in one round.
const SUSPECTS: usize = 16;
/// A fall of χ² that matters.
const CHI2_FALL: f64 = 16.0;
/// Smallest left-out residual that is flagged, in σᵤ.
const LEAST_RESIDUAL: f64 = 0.45;

/// A flagged reading.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Slip {
    /// Index into the points.
    pub index: usize,
    /// Reading less what the others say, g.
    pub off_by: f64,
}

/// Finds slips among `points` (in time order; the first and those of `insisted` are never flagged).
///
/// Greedy: the reading whose removal lowers χ² most goes, if it lowers it by more than 16 max(1, χ²_left/max(1, n − 4))
/// and its left-out residual exceeds 0.45 σᵤ; at most n/4 times (at least once); needs 5 readings.
///
/// Each removal that is tried costs a fit, linear in n. Of many readings only the 16 that seem to lower χ² most are tried
/// ([`Design::suspects`]), so a round is linear and the whole, however many slips there are, quadratic in n.
pub(crate) fn slips(points: &[Point], insisted: &[bool], sigma_u: f64) -> Vec<Slip> {
    let design = Design::new(points);
    let mut kept: Vec<usize> = (0..points.len()).collect();
    let mut found = Vec::new();
    for _ in 0..(points.len() / 4).max(1) {
        let n = kept.len();
        if n < LEAST_READINGS {
            break;
        }
        let whole = design.fit(points, &kept, sigma_u, &[], design.columns);
        // No removal can lower χ² by more than all of it: most clean panels are done here.
        if whole.chi2 <= CHI2_FALL {
            break;
        }
        let best = design
            .suspects(points, &kept, insisted, sigma_u, &whole)
            .into_iter()
            .map(|at| {
                let i = kept[at];
                let mut rest = kept.clone();
                rest.remove(at);
                (at, i, design.fit(points, &rest, sigma_u, &whole.used, design.columns))
            })
            .min_by(|a, b| a.2.chi2.total_cmp(&b.2.chi2));
        let Some((at, index, without)) = best else { break };
        let off_by = points[index].y - design.value(&without, index);
        let threshold = CHI2_FALL * (without.chi2 / (n as f64 - 4.0).max(1.0)).max(1.0);
        if !(whole.chi2 - without.chi2 > threshold && off_by.abs() > LEAST_RESIDUAL * sigma_u) {
            break;
        }
        found.push(Slip { index, off_by });
        kept.remove(at);
    }
    found
}

/// The terms at every reading; the ramps are the last columns.
pub(super) struct Design {
    pub columns: usize,
    /// Where each ramp ends, h.
    pub ramps: Vec<f64>,
    /// Row-major, a row a reading.
    terms: Vec<f64>,
}

#[derive(Clone)]
pub(super) struct Fitted {
    /// Columns in use.
    pub used: Vec<usize>,
    /// Their coefficients.
    pub amplitudes: Vec<f64>,
    pub chi2: f64,
}

impl Design {
    pub fn new(points: &[Point]) -> Self {
        let warm = points.iter().any(|p| p.hours.warm > 0.0);
        let ramps = ramps(points);
        let columns = 1 + TERMS + if warm { TERMS } else { 0 } + SHARP_H.len() + ramps.len();
        let spaced = |j: usize| SHORTEST_H * (LONGEST_H / SHORTEST_H).powf(j as f64 / (TERMS - 1) as f64);
        let constants: [f64; TERMS] = std::array::from_fn(spaced);
        let mut terms = Vec::with_capacity(columns * points.len());
        for p in points {
            terms.push(1.0);
            terms.extend(constants.iter().map(|t| (-p.t_h / t).exp()));
            if warm {
                let tau = p.hours.effective(WARM_FACTOR);
                terms.extend(constants.iter().map(|t| (-tau / t).exp()));
            }
            terms.extend(SHARP_H.iter().map(|t| (-(p.t_h / t).powi(2)).exp()));
            terms.extend(ramps.iter().map(|end| (1.0 - p.t_h / end).max(0.0)));
        }
        Self { columns, ramps, terms }
    }

    fn row(&self, i: usize) -> &[f64] {
        &self.terms[i * self.columns..(i + 1) * self.columns]
    }

    fn value(&self, fitted: &Fitted, i: usize) -> f64 {
        let row = self.row(i);
        fitted.used.iter().zip(&fitted.amplitudes).map(|(&j, a)| a * row[j]).sum()
    }

    /// Weighted non-negative least squares on the readings `kept`; Lawson and Hanson's active set, starting from the
    /// columns in `guess`, among the first `columns`.
    pub fn fit(&self, points: &[Point], kept: &[usize], sigma_u: f64, guess: &[usize], columns: usize) -> Fitted {
        let weights = weights(points, kept, sigma_u);
        let problem = Nnls { design: self, columns, points, kept, weights: &weights };
        let (used, amplitudes) = problem.solve(guess);
        let mut fitted = Fitted { used, amplitudes, chi2: 0.0 };
        fitted.chi2 = kept.iter().zip(&weights).map(|(&i, w)| w * (points[i].y - self.value(&fitted, i)).powi(2)).sum();
        fitted
    }

    /// Places in `kept` whose removal is worth a fit: all but the first and those insisted on, or where these are many,
    /// the 16 that would lower χ² most if the columns in use and the weights stayed: by w r²/(1 − h), h being the
    /// reading's leverage (Cook and Weisberg 1982, Residuals and Influence in Regression, section 2.2).
    fn suspects(
        &self,
        points: &[Point],
        kept: &[usize],
        insisted: &[bool],
        sigma_u: f64,
        whole: &Fitted,
    ) -> Vec<usize> {
        let mut suspects: Vec<usize> = (1..kept.len()).filter(|&at| !insisted[kept[at]]).collect();
        if suspects.len() <= SUSPECTS {
            return suspects;
        }
        let weights = weights(points, kept, sigma_u);
        let root = Nnls { design: self, columns: self.columns, points, kept, weights: &weights }.root(&whole.used);
        let falls: Vec<f64> = kept
            .iter()
            .zip(&weights)
            .map(|(&i, w)| {
                let row = self.row(i);
                let mut column: Vec<f64> = whole.used.iter().map(|&j| row[j]).collect();
                let leverage = root.as_ref().map_or(0.0, |root| {
                    root.half_solve(&mut column);
                    w * column.iter().map(|c| c * c).sum::<f64>()
                });
                w * (points[i].y - self.value(whole, i)).powi(2) / (1.0 - leverage).max(f64::EPSILON)
            })
            .collect();
        order::sort_by(&mut suspects, |&a, &b| falls[b].total_cmp(&falls[a]).then(a.cmp(&b)));
        suspects.truncate(SUSPECTS);
        order::sort_by(&mut suspects, Ord::cmp);
        suspects
    }
}

/// 1/((0.1 σᵤ)² + (0.02 (y − y₍₂₎)₊)²) of the readings `kept`, y₍₂₎ being their second smallest.
fn weights(points: &[Point], kept: &[usize], sigma_u: f64) -> Vec<f64> {
    let (mut least, mut second) = (f64::INFINITY, f64::INFINITY);
    for &i in kept {
        let y = points[i].y;
        if y < least {
            (least, second) = (y, least);
        } else if y < second {
            second = y;
        }
    }
    let variance = |y: f64| (0.1 * sigma_u).powi(2) + (0.02 * (y - second).max(0.0)).powi(2);
    kept.iter().map(|&i| 1.0 / variance(points[i].y)).collect()
}

/// min Σ w (y − A x)² with x ≥ 0.
struct Nnls<'a> {
    design: &'a Design,
    /// Columns that may be used.
    columns: usize,
    points: &'a [Point],
    kept: &'a [usize],
    weights: &'a [f64],
}

impl Nnls<'_> {
    fn solve(&self, guess: &[usize]) -> (Vec<usize>, Vec<f64>) {
        let mut used: Vec<usize> = Vec::new();
        let mut x: Vec<f64> = Vec::new();
        // A guess is taken as it is when its least-squares solution is feasible, else whittled down to one that is.
        let mut start = guess.to_vec();
        while !start.is_empty() {
            let Some(s) = self.unconstrained(&start) else { break };
            if s.iter().all(|&s| s > 0.0) {
                (used, x) = (start, s);
                break;
            }
            let mut positive = s.iter().map(|&s| s > 0.0);
            start.retain(|_| positive.next() == Some(true));
        }
        let mut barred: Vec<usize> = Vec::new();
        for _ in 0..3 * self.columns {
            let Some(entering) = self.entering(&used, &x, &barred) else { break };
            used.push(entering);
            x.push(0.0);
            if !self.descend(&mut used, &mut x) || !used.contains(&entering) {
                barred.push(entering);
            } else {
                barred.clear();
            }
        }
        (used, x)
    }

    /// Lawson and Hanson's inner loop; `false` when the columns in use are not independent (the newest is dropped).
    fn descend(&self, used: &mut Vec<usize>, x: &mut Vec<f64>) -> bool {
        loop {
            let Some(s) = self.unconstrained(used) else {
                used.pop();
                x.pop();
                return false;
            };
            if s.iter().all(|&s| s > 0.0) {
                *x = s;
                return true;
            }
            let limits = x.iter().zip(&s).filter(|&(_, &s)| s <= 0.0);
            let share = limits.map(|(&x, &s)| if x > s { x / (x - s) } else { 0.0 }).fold(1.0, f64::min);
            for (x, s) in x.iter_mut().zip(&s) {
                *x += share * (s - *x);
            }
            // At least the limiting column leaves, whatever rounding did.
            let least = x.iter().copied().fold(f64::INFINITY, f64::min).max(0.0);
            let stays: Vec<bool> = x.iter().zip(&s).map(|(&x, &s)| s > 0.0 || x > least).collect();
            let mut stay = stays.iter();
            used.retain(|_| stay.next() == Some(&true));
            let mut stay = stays.iter();
            x.retain(|_| stay.next() == Some(&true));
            if used.is_empty() {
                return true;
            }
        }
    }

    /// The column that would lower χ² fastest.
    fn entering(&self, used: &[usize], x: &[f64], barred: &[usize]) -> Option<usize> {
        let columns = self.columns;
        let (mut gradient, mut square) = (vec![0.0; columns], vec![0.0; columns]);
        for (&i, &w) in self.kept.iter().zip(self.weights) {
            let row = self.design.row(i);
            let fitted: f64 = used.iter().zip(x).map(|(&j, x)| x * row[j]).sum();
            let pull = w * (self.points[i].y - fitted);
            for j in 0..columns {
                gradient[j] += pull * row[j];
                square[j] += w * row[j] * row[j];
            }
        }
        (0..columns)
            .filter(|j| gradient[*j] > 0.0 && gradient[*j].powi(2) > 1e-9 * square[*j])
            .filter(|j| !used.contains(j) && !barred.contains(j))
            .max_by(|&i, &k| (gradient[i]).total_cmp(&(gradient[k])))
    }

    /// Weighted least squares on the columns `used` by their normal equations; `None` when they are not independent.
    fn unconstrained(&self, used: &[usize]) -> Option<Vec<f64>> {
        let root = self.root(used)?;
        let pulls: Vec<f64> = self.kept.iter().zip(self.weights).map(|(&i, &w)| w * self.points[i].y).collect();
        let mut x: Vec<f64> = used.iter().map(|&j| product(&self.column(j), &pulls)).collect();
        root.solve(&mut x);
        Some(x)
    }

    /// A term at the readings kept.
    fn column(&self, j: usize) -> Vec<f64> {
        self.kept.iter().map(|&i| self.design.row(i)[j]).collect()
    }

    /// Cholesky factor of AᵀWA over the columns `used`; `None` when they are not independent.
    fn root(&self, used: &[usize]) -> Option<Factor> {
        let p = used.len();
        let mut gram = vec![0.0; p * p];
        let columns: Vec<Vec<f64>> = used.iter().map(|&j| self.column(j)).collect();
        for a in 0..p {
            let weighted: Vec<f64> = columns[a].iter().zip(self.weights).map(|(term, w)| term * w).collect();
            for b in 0..=a {
                gram[b * p + a] = product(&weighted, &columns[b]);
            }
        }
        let root = factor(&gram)?;
        let independent = |(j, pivot): (usize, f64)| pivot * pivot > 1e-13 * gram[j * p + j];
        let all = root.diagonal().enumerate().all(independent);
        all.then_some(root)
    }
}
