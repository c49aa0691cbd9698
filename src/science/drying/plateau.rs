//! The plateau posterior: how likely each final mass is, with everything else integrated out.
//!
//! A final mass c₀ is held and the rest refitted; the log likelihood there is lp = −cost/2 − Σ ln diag chol(H), the
//! Laplace approximation of the integral over the other parameters (Tierney and Kadane 1986). The uncertainty of the
//! plateau is thus integrated, not linearised. What is believed of c₀ itself has no part in it: one grid is weighed by any
//! belief ([`Grid::mesh`], [`Grid::rest`]), so that another one costs no second fit.

use super::fit::{Maximum, Spectrum};
use super::least_squares::{Problem, Rule, factor, minimise};
use super::model::Curve;
use super::panel::Settings;
use super::prior::{Believed, Prior};
use super::quantile::{Pchip, Weighted};
use nalgebra::SVector;

/// Equal steps in ln(c_top − c₀).
const STEPS: usize = 500;
/// Equal steps in ln(0.02 σᵤ + still to lose).
const REST_STEPS: usize = 400;
/// More than this are never of use.
const MOST_POINTS: usize = 1000;
/// Points worked out before a direction may be left.
const LEAST_POINTS: usize = 4;
/// The mesh reaches the floor when it ends within this share of the range above it…
const NEAR_FLOOR: f64 = 0.02;
/// … and is open there when its odds per gram are over this share of the best.
const OPEN_ODDS: f64 = 0.005;
/// Longest start shift of a parameter from one point to the next.
const LONGEST_SHIFT: f64 = 2.0;

/// One point of the grid.
#[derive(Debug, Clone)]
pub(crate) struct GridPoint {
    /// ln(c_top − c₀).
    pub x: f64,
    /// Log likelihood of c₀, up to a constant.
    pub lp: f64,
    /// Log odds per step of x under the widest belief: what the walk is ended by.
    odds: f64,
    /// The refitted curve.
    pub curve: Curve,
    /// max(0, m(tₙ) − c₀), g.
    pub rest: f64,
}

/// The evaluated points in the order of x: from high final masses to low ones.
#[derive(Debug, Clone)]
pub(crate) struct Grid {
    pub points: Vec<GridPoint>,
    pub top: f64,
    /// No final mass under this is believed, g.
    pub floor: f64,
    /// m(tₙ) at the maximum, g.
    newest_mass: f64,
    sigma_u: f64,
    pub steps: usize,
}

/// How far down a final mass is looked for, and what is believed of it at the widest.
pub(crate) struct Reach<'a> {
    /// The grid ends here, g.
    pub end: f64,
    /// No final mass under this is believed, g; the grid's own floor is never over what the newest reading leaves open.
    pub floor: f64,
    pub widest: &'a Believed,
}

/// Walks the grid.
pub(crate) fn grid<const P: usize>(maximum: &Maximum<P>, prior: &Prior, reach: &Reach, settings: &Settings) -> Grid {
    let (sigma_u, newest_mass) = (maximum.sigma_u, maximum.newest_mass);
    let top = newest_mass + 0.25 * sigma_u;
    let first = 0.06 * sigma_u;
    let last = (top - reach.end).max(4.0 * sigma_u);
    let n = settings.points.clamp(LEAST_POINTS, MOST_POINTS);
    let below: Vec<f64> = (0..n).map(|i| first * (last / first).powf(i as f64 / (n - 1) as f64)).collect();
    let best = maximum.solution.at;
    // No direction is left where all final masses are alike.
    let cut = if prior.unbent { f64::INFINITY } else { settings.cut };
    let begin = (0..n)
        .min_by(|&i, &k| {
            let off = |i: usize| (top - below[i] - best[0]).abs();
            off(i).total_cmp(&off(k))
        })
        .unwrap_or(0);

    let mut walk = Walk {
        problem: Spectrum::new(&maximum.points, prior),
        rule: Rule { tolerance: settings.grid_tolerance, most_steps: settings.most_grid_steps },
        top,
        widest: reach.widest,
        steps: 0,
    };
    walk.problem.plateau_held = true;
    let mut from = Place { at: best, tangent: SVector::zeros() };
    let mut first_place = None;
    let mut highest = f64::NEG_INFINITY;
    let mut points: Vec<GridPoint> = Vec::with_capacity(n);
    // To lower c₀ (greater distance below the top), then from the first solution to higher.
    for (down, i) in (begin..n).map(|i| (true, i)).chain((0..begin).rev().map(|i| (false, i))) {
        if down && first_place.is_some() && left(&points, highest, cut, true) {
            continue;
        }
        if !down && i + 1 == begin {
            from = first_place.clone().unwrap_or(from);
        } else if !down && left(&points, highest, cut, false) {
            break;
        }
        let Some((point, place)) = walk.solve(&from, below[i]) else {
            // Nothing further in this direction can be better.
            if down { continue } else { break }
        };
        highest = highest.max(point.odds);
        first_place.get_or_insert_with(|| place.clone());
        from = place;
        if down { points.push(point) } else { points.insert(0, point) }
    }
    if prior.unbent {
        know_no_end(&mut points, top - newest_mass);
    }
    let open = reach.floor.min(newest_mass - 0.17 * sigma_u);
    // No coat is less than none, as long as the newest mass may be one.
    let floor = if top > 0.0 { open.max(0.0) } else { open };
    Grid { points, top, floor, newest_mass, sigma_u, steps: walk.steps }
}

/// Of a loss that is not bent all final masses from the newest mass (`below` g under the top) down are alike: what the family of
/// curves prefers among them is its own and not the readings'.
fn know_no_end(points: &mut [GridPoint], below: f64) {
    let Some(first) = points.iter().position(|p| p.x > below.ln()) else { return };
    let (at_newest, best) = (points[first].lp, points[first..].iter().map(|p| p.lp).fold(f64::NEG_INFINITY, f64::max));
    for (i, point) in points.iter_mut().enumerate() {
        point.lp = if i < first { point.lp - at_newest + best } else { best };
    }
}

/// Is this direction done? Never before four points are.
fn left(points: &[GridPoint], highest: f64, cut: f64, down: bool) -> bool {
    let newest = if down { points.last() } else { points.first() };
    points.len() >= LEAST_POINTS && newest.is_some_and(|p| p.odds < highest - cut)
}

/// A solution and how it moves with c₀.
#[derive(Clone)]
struct Place<const P: usize> {
    at: SVector<f64, P>,
    tangent: SVector<f64, P>,
}

struct Walk<'a, const P: usize> {
    problem: Spectrum<'a, P>,
    rule: Rule,
    top: f64,
    widest: &'a Believed,
    steps: usize,
}

impl<const P: usize> Walk<'_, P> {
    /// Holds c₀ at `below` g under the top and refits the rest.
    fn solve(&mut self, from: &Place<P>, below: f64) -> Option<(GridPoint, Place<P>)> {
        let plateau = self.top - below;
        let by = plateau - from.at[0];
        let mut start = from.at + (from.tangent * by).map(|s| s.clamp(-LONGEST_SHIFT, LONGEST_SHIFT));
        start[0] = plateau;
        let mut solution = minimise(&mut self.problem, start, &self.rule);
        self.problem.cost(&solution.at);
        self.problem.normal(&mut solution.normal);
        self.steps += solution.steps;
        let lower = factor(solution.normal.gauss_newton.as_slice())?;
        let lp = -0.5 * solution.cost - lower.diagonal().map(f64::ln).sum::<f64>();
        if !lp.is_finite() {
            return None;
        }
        // dθ/dc₀ = −(H + D)⁻¹ Σ w̃ J.
        let mut second = solution.normal.gauss_newton;
        for i in 0..P {
            second[(i, i)] += solution.normal.curvature[i];
        }
        let mut tangent = -self.problem.plateau_column;
        tangent[0] = 0.0;
        factor(second.as_slice()).unwrap_or(lower).solve(tangent.as_mut_slice());
        let rest = (self.problem.newest_mass(&solution.at) - plateau).max(0.0);
        let x = below.ln();
        let odds = lp + x + self.widest.ln_density(plateau, rest);
        let curve = Curve::new(solution.at.as_slice(), self.problem.ends());
        let point = GridPoint { x, lp, odds, curve, rest };
        Some((point, Place { at: solution.at, tangent }))
    }
}

impl Grid {
    /// The posterior on a fine, even mesh of x: (x, weight) from high final masses to low ones. Final masses under the
    /// floor weigh nothing.
    pub fn mesh(&self, believed: &Believed) -> Vec<(f64, f64)> {
        let x: Vec<f64> = self.points.iter().map(|p| p.x).collect();
        let lp: Vec<f64> = self.points.iter().map(|p| p.lp).collect();
        let (Some(&first), Some(&last)) = (x.first(), x.last()) else {
            return Vec::new();
        };
        let curve = Pchip::new(&x, &lp);
        let mut mesh: Vec<(f64, f64)> = Vec::with_capacity(STEPS + 1);
        for i in 0..=STEPS {
            let x = first + (last - first) * i as f64 / STEPS as f64;
            let plateau = self.top - x.exp();
            let inside = plateau >= self.floor;
            let rest = (self.newest_mass - plateau).max(0.0);
            mesh.push((
                x,
                if inside { curve.at(x) + x + believed.ln_density(plateau, rest) } else { f64::NEG_INFINITY },
            ));
        }
        weights(&mut mesh);
        mesh
    }

    /// Whether the odds per gram have not died down where the floor cuts them off: the floor then is the lower limit.
    pub fn open_at_floor(&self, mesh: &[(f64, f64)]) -> bool {
        let per_gram = |m: &(f64, f64)| m.1 / m.0.exp();
        let highest = mesh.iter().map(per_gram).fold(0.0, f64::max);
        mesh.iter().rev().find(|m| m.1 > 0.0).is_some_and(|last| {
            let above = self.top - last.0.exp() - self.floor;
            above <= NEAR_FLOOR * (self.top - self.floor) && per_gram(last) > OPEN_ODDS * highest
        })
    }

    /// What is still to lose, g: points sorted by it, log likelihood and x linear in v = ln(0.02 σᵤ + rest). All points
    /// of the grid count, those under the floor too.
    pub fn rest(&self, believed: &Believed) -> Option<Weighted> {
        let offset = 0.02 * self.sigma_u;
        let mut nodes: Vec<(f64, f64, f64)> = self.points.iter().map(|p| ((offset + p.rest).ln(), p.lp, p.x)).collect();
        order::sort_by(&mut nodes, |a, b| a.0.total_cmp(&b.0));
        let (&(first, ..), &(last, ..)) = (nodes.first()?, nodes.last()?);
        let mut mesh: Vec<(f64, f64)> = Vec::with_capacity(REST_STEPS + 1);
        let mut i = 0;
        for step in 0..=REST_STEPS {
            let v = first + (last - first) * step as f64 / REST_STEPS as f64;
            while i + 2 < nodes.len() && nodes[i + 1].0 <= v {
                i += 1;
            }
            let (v0, lp0, x0) = nodes[i];
            let (lp, x) = match nodes.get(i + 1) {
                Some(&(v1, lp1, x1)) if v1 > v0 => {
                    let share = (v - v0) / (v1 - v0);
                    (lp0 + (lp1 - lp0) * share, x0 + (x1 - x0) * share)
                }
                _ => (lp0, x0),
            };
            let rest = (v.exp() - offset).max(0.0);
            mesh.push((rest, lp + v + believed.ln_density(self.top - x.exp(), rest)));
        }
        weights(&mut mesh);
        Weighted::new(mesh.into_iter())
    }
}

/// Log weights become weights, the greatest of them 1.
fn weights(mesh: &mut [(f64, f64)]) {
    let highest = mesh.iter().map(|m| m.1).fold(f64::NEG_INFINITY, f64::max);
    for (_, log) in mesh {
        *log = if *log > f64::NEG_INFINITY { (*log - highest).exp() } else { 0.0 };
    }
}
