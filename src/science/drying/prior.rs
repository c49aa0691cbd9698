//! What is believed of a curve before it is weighed: smooth in the logarithm of time, and wide.

use super::least_squares::Normal;
use super::model::{CHAIN, CHAIN_H, Ends, FIRST_CHAIN, FIRST_SHARP, FIRST_STRAIGHT, FIRST_WARM, LN_A, STRAIGHT};
use nalgebra::SVector;
use std::f64::consts::PI;

const CHAIN_START_SD: f64 = 2.0;
const CHAIN_STEP_SD: f64 = 1.8;
const SHARP_SD: f64 = 2.0;
const WARM_SD: f64 = 1.5;
const LN_A_SD: f64 = 0.6;
/// The warm place speeds drying up six-fold, give or take a factor of 1.8.
const LN_A_MEAN: f64 = 1.791_759_469_228_055; // ln 6

/// The two straight terms, as shares of the loss so far.
const STRAIGHT_SHARES: [f64; STRAIGHT] = [0.005, 0.002];
const STRAIGHT_SD: f64 = 2.0;
/// The same of a loss that is not bent: it may end anywhere.
const UNBENT_SHARES: [f64; STRAIGHT] = [0.3, 0.3];

/// Mean and sd of the solids of any coat that is not thin, as shares of the wet coat.
const ANY_COAT: f64 = 0.67;
const ANY_COAT_SD: f64 = 0.11;
/// How many coats are thin, and the most solids that these have.
const THIN: f64 = 0.06;
const THIN_MOST: f64 = 0.45;
/// How often the sheet or the dish is of another paint.
const SHEET_WRONG: f64 = 0.1;
/// How much richer than the sheet's mix a coat over another one may be, as a share of the wet coat.
const RICHER: f64 = 0.06;
const RICHEST: f64 = 0.12;
/// No bare weight: what is still to lose, in losses so far, for a coat that goes on drying and for one that has ended.
const GOES_ON: f64 = 0.6;
const HAS_ENDED: f64 = 0.05;

/// What is believed of the final mass c₀ beside the readings: a few shapes, each with its share.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Believed {
    parts: Vec<(f64, Shape)>,
}

/// One shape of a belief, in g.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Shape {
    /// Normal in c₀, with an sd of its own on each side.
    Normal { centre: f64, below: f64, above: f64 },
    /// Even in c₀ from 0 to here.
    Even { most: f64 },
    /// Half of Student's t with so many degrees of freedom (1 or 2) in what is still to lose.
    Rest { scale: f64, dof: f64 },
}

impl Shape {
    /// Density per gram, of a final mass with `rest` g still to lose.
    fn density(&self, plateau: f64, rest: f64) -> f64 {
        match *self {
            Self::Normal { centre, below, above } => {
                let z = (plateau - centre) / if plateau > centre { above } else { below };
                (-0.5 * z * z).exp() * (2.0 / PI).sqrt() / (below + above)
            }
            Self::Even { most } if (0.0..=most).contains(&plateau) => 1.0 / most,
            Self::Even { .. } => 0.0,
            Self::Rest { scale, dof } => {
                let z = rest / scale;
                let whole = if dof > 1.0 { std::f64::consts::SQRT_2 } else { PI / 2.0 };
                (1.0 + z * z / dof).powf(-0.5 * (dof + 1.0)) / (whole * scale)
            }
        }
    }
}

impl Believed {
    /// Nothing known of the paint: 0.94 N(0.67 y₀, 0.11 y₀), and 0.06 even from 0 to 0.45 y₀ for a thin coat.
    pub fn of_any_coat(wet: f64) -> Self {
        let sd = ANY_COAT_SD * wet;
        let usual = Shape::Normal { centre: ANY_COAT * wet, below: sd, above: sd };
        Self { parts: vec![(1.0 - THIN, usual), (THIN, Shape::Even { most: THIN_MOST * wet })] }
    }

    /// No bare weight: what is still to lose is some share of the loss so far, or next to nothing.
    pub fn of_loss(loss: f64) -> Self {
        let goes_on = Shape::Rest { scale: GOES_ON * loss, dof: 1.0 };
        let has_ended = Shape::Rest { scale: HAS_ENDED * loss, dof: 2.0 };
        Self { parts: vec![(0.95, goes_on), (0.05, has_ended)] }
    }

    /// From older panels: N(f y₀, s y₀).
    pub fn of_older(share: f64, sd: f64, wet: f64) -> Self {
        let sd = sd * wet;
        Self { parts: vec![(1.0, Shape::Normal { centre: share * wet, below: sd, above: sd })] }
    }

    /// Stated or measured solids: 0.9 of what they say, and 0.1 of any coat, for a figure that is not this paint's. With k > 1 coats the film first weighed has already lost solvent and is richer than
    /// the sheet's mix: the upper side is at least 0.06 √(k − 1) y₀ wide, though never over 0.12 y₀.
    ///
    /// How the 0.06 √(k − 1) came about: 0.06 y₀ whatever k is the method's; on 120 simulated panels each of one, two and
    /// three coats (`tests/science/drying/coats.rs`) it covered only 92 % with three coats up to 7 d, and the square root
    /// was chosen to mend that, on those same panels, with a sheet of sd 0.025. It was checked on 400 fresh panels each of one
    /// to four coats. The simulator stayed the same, and no weighed panels of several coats with a known end were to be had.
    pub fn of_solids(stated: &Stated, wet: f64, coats: u32) -> Self {
        let richer = (RICHER * f64::from(coats.saturating_sub(1)).sqrt()).min(RICHEST);
        let stated = Shape::Normal { centre: stated.mass, below: stated.sd, above: stated.sd.max(richer * wet) };
        let mut parts = Self::of_any_coat(wet).parts;
        parts.iter_mut().for_each(|part| part.0 *= SHEET_WRONG);
        parts.push((1.0 - SHEET_WRONG, stated));
        Self { parts }
    }

    /// ln of the density per gram of a final mass with `rest` g still to lose.
    pub fn ln_density(&self, plateau: f64, rest: f64) -> f64 {
        let mut density = 0.0;
        for (share, shape) in &self.parts {
            density += share * shape.density(plateau, rest);
        }
        density.max(f64::MIN_POSITIVE).ln()
    }
}

/// The final mass that stated or measured solids by weight S with their sd σ come to, g: S (y₀ + p) with sd
/// hypot(σ y₀, 0.5 p), p = what flashed off before the first weighing = min(1.5 U, max(0, (y₀ − y₁) / max(t₁, 0.05)) · 5.5/60).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Stated {
    pub mass: f64,
    pub sd: f64,
}

impl Stated {
    /// `second` is the second kept reading: hours since the wet weight, and coat, g.
    pub fn new(solids: f64, sd: f64, wet: f64, second: Option<(f64, f64)>) -> Self {
        let most = 1.5 * wet / 45.0;
        let flashed = second.map_or(0.0, |(t_h, y)| ((wet - y) / t_h.max(0.05)).max(0.0) * 5.5 / 60.0).min(most);
        Self { mass: solids * (wet + flashed), sd: (sd * wet).hypot(0.5 * flashed) }
    }
}

/// What stands in for every belief about c₀ on the way to the maximum, where the curves are found: a wide normal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StandIn {
    pub centre: f64,
    pub sd: f64,
}

/// All priors of one fit but those of c₀, which weigh its result ([`Believed`]), and where the straight terms end.
#[derive(Debug, Clone)]
pub(crate) struct Prior {
    plateau: StandIn,
    chain_start: f64,
    /// Mean of θⱼ₊₁ − θⱼ.
    chain_steps: [f64; CHAIN - 1],
    sharp: f64,
    straight: [f64; STRAIGHT],
    warm: f64,
    pub ends: Ends,
    /// The loss is not bent yet: nothing in it says where it will end.
    pub unbent: bool,
}

impl Prior {
    /// `unit` is U = y₀/45, g: the coat's mass in units of the coat that the constants were set on. `loss` is the loss so
    /// far, g.
    pub fn new(plateau: StandIn, unit: f64, loss: f64, ends: Ends, unbent: bool) -> Self {
        let shares = if unbent { UNBENT_SHARES } else { STRAIGHT_SHARES };
        Self {
            plateau,
            chain_start: (1.5 * unit).ln(),
            chain_steps: std::array::from_fn(|j| -decline(CHAIN_H[j + 1])),
            sharp: (0.2 * unit).ln(),
            straight: shares.map(|share| (share * loss).ln()),
            warm: (0.05 * unit).ln(),
            ends,
            unbent,
        }
    }

    /// Mean and sd of a parameter that is believed by itself.
    fn single(&self, i: usize) -> (f64, f64) {
        match i {
            0 => (self.plateau.centre, self.plateau.sd),
            LN_A => (LN_A_MEAN, LN_A_SD),
            FIRST_WARM.. => (self.warm, WARM_SD),
            FIRST_STRAIGHT.. => (self.straight[i - FIRST_STRAIGHT], STRAIGHT_SD),
            FIRST_SHARP.. => (self.sharp, SHARP_SD),
            _ => (self.chain_start, CHAIN_START_SD),
        }
    }

    /// Prior means as a starting point, the chain all at `chain`.
    pub fn start<const P: usize>(&self, plateau: f64, chain: f64) -> SVector<f64, P> {
        SVector::from_fn(|i, _| match i {
            0 => plateau,
            FIRST_SHARP.. => self.single(i).0,
            _ => chain,
        })
    }

    /// Σ ((θ − mean)/sd)², c₀'s stand-in only where c₀ is free.
    pub fn cost<const P: usize>(&self, at: &SVector<f64, P>, plateau_held: bool) -> f64 {
        let square = |x: f64| x * x;
        let mut cost = 0.0;
        for (j, step) in self.chain_steps.iter().enumerate() {
            cost += square((at[FIRST_CHAIN + j + 1] - at[FIRST_CHAIN + j] - step) / CHAIN_STEP_SD);
        }
        for i in singles::<P>(plateau_held) {
            let (mean, sd) = self.single(i);
            cost += square((at[i] - mean) / sd);
        }
        cost
    }

    /// Adds the priors' share of gradient and precision.
    pub fn add_to<const P: usize>(&self, at: &SVector<f64, P>, plateau_held: bool, normal: &mut Normal<P>) {
        for i in singles::<P>(plateau_held) {
            let (mean, sd) = self.single(i);
            let precision = 1.0 / (sd * sd);
            normal.gauss_newton[(i, i)] += precision;
            normal.gradient[i] -= precision * (at[i] - mean);
        }
        let precision = 1.0 / (CHAIN_STEP_SD * CHAIN_STEP_SD);
        for (j, step) in self.chain_steps.iter().enumerate() {
            let (i, k) = (FIRST_CHAIN + j, FIRST_CHAIN + j + 1);
            let off = precision * (at[k] - at[i] - step);
            normal.gauss_newton[(i, i)] += precision;
            normal.gauss_newton[(k, k)] += precision;
            normal.gauss_newton[(k, i)] -= precision;
            normal.gradient[i] += off;
            normal.gradient[k] -= off;
        }
    }
}

/// Parameters that are believed by themselves and not beside a neighbour.
fn singles<const P: usize>(plateau_held: bool) -> impl Iterator<Item = usize> {
    let plateau = if plateau_held { None } else { Some(0) };
    plateau.into_iter().chain([FIRST_CHAIN]).chain(FIRST_SHARP..P)
}

/// δ(T): how much the log amplitude is believed to fall from one time constant to the next; linear in ln T through
/// (1 h, 0.5) (12 h, 0.1) (150 h, 0.2) (600 h, 0.7), flat outside.
fn decline(t_h: f64) -> f64 {
    const KNOTS: [(f64, f64); 4] = [(1.0, 0.5), (12.0, 0.1), (150.0, 0.2), (600.0, 0.7)];
    if t_h <= KNOTS[0].0 {
        return KNOTS[0].1;
    }
    for pair in KNOTS.windows(2) {
        let ((t0, d0), (t1, d1)) = (pair[0], pair[1]);
        if t_h <= t1 {
            return d0 + (d1 - d0) * (t_h / t0).ln() / (t1 / t0).ln();
        }
    }
    KNOTS[3].1
}
