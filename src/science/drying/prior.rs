//! What is believed of a curve before it is weighed: smooth in the logarithm of time, and wide.

use super::least_squares::Normal;
use super::model::{CHAIN, CHAIN_H, COOL_PARAMETERS, FIRST_CHAIN, FIRST_SHARP, FIRST_WARM, LN_A, SHARP, WARM};
use nalgebra::SVector;

const CHAIN_START_SD: f64 = 2.0;
const CHAIN_STEP_SD: f64 = 1.8;
const SHARP_SD: f64 = 2.0;
const WARM_SD: f64 = 1.5;
const LN_A_SD: f64 = 0.6;
/// The warm place speeds drying up six-fold, give or take a factor of 1.8.
const LN_A_MEAN: f64 = 1.791_759_469_228_055; // ln 6

/// sd of the final mass of any coat, as a share of the wet coat.
const ANY_COAT_SD: f64 = 0.12;
/// How much richer than the sheet's mix a coat over another one may be, as a share of the wet coat.
const RICHER: f64 = 0.06;

/// Prior of the final mass c₀, g: normal with a sd of its own on each side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PlateauPrior {
    pub centre: f64,
    pub sd_below: f64,
    pub sd_above: f64,
}

impl PlateauPrior {
    pub fn normal(centre: f64, sd: f64) -> Self {
        Self { centre, sd_below: sd, sd_above: sd }
    }

    /// Nothing known of the paint: N(0.67 y₀, 0.12 y₀).
    pub fn of_any_coat(wet: f64) -> Self {
        Self::normal(0.67 * wet, ANY_COAT_SD * wet)
    }

    /// Data-sheet solids S by weight: N(S (y₀ + p), hypot(0.025 y₀, 0.5 p)), p = what flashed off before the first
    /// weighing = min(1.5 U, max(0, (y₀ − y₁) / max(t₁, 0.05)) · 5.5/60). With k > 1 coats the film first weighed has
    /// already lost solvent and is richer than the sheet's mix: the upper side is at least 0.06 √(k − 1) y₀ wide, though
    /// never wider than that of any coat.
    ///
    /// How the 0.06 √(k − 1) came about: 0.06 y₀ whatever k is the method's; on 120 simulated panels each of one, two and
    /// three coats (`tests/science/drying/coats.rs`) it covered only 92 % with three coats up to 7 d, and the square root
    /// was chosen to mend that, on those same panels. How it was checked: on 400 fresh panels each of one to four coats, from
    /// a seed written down beforehand, it covers 94 to 100 % of the final masses at every age from 1 to 21 d. The
    /// simulator stayed the same, and no weighed panels of several coats with a known end were to be had.
    pub fn of_sheet(solids: f64, wet: f64, second: Option<(f64, f64)>, coats: u32) -> Self {
        let most = 1.5 * wet / 45.0;
        let flashed = second.map_or(0.0, |(t_h, y)| ((wet - y) / t_h.max(0.05)).max(0.0) * 5.5 / 60.0).min(most);
        let sd = (0.025 * wet).hypot(0.5 * flashed);
        let richer = (RICHER * f64::from(coats.saturating_sub(1)).sqrt()).min(ANY_COAT_SD);
        Self { centre: solids * (wet + flashed), sd_below: sd, sd_above: sd.max(richer * wet) }
    }

    fn sd_at(&self, plateau: f64) -> f64 {
        if plateau > self.centre { self.sd_above } else { self.sd_below }
    }
}

/// All priors of one fit.
#[derive(Debug, Clone)]
pub(crate) struct Prior {
    pub plateau: PlateauPrior,
    chain_start: f64,
    /// Mean of θⱼ₊₁ − θⱼ.
    chain_steps: [f64; CHAIN - 1],
    sharp: f64,
    warm: f64,
}

impl Prior {
    /// `unit` is U = y₀/45, g: the coat's mass in units of the coat that the constants were set on.
    pub fn new(plateau: PlateauPrior, unit: f64) -> Self {
        Self {
            plateau,
            chain_start: (1.5 * unit).ln(),
            chain_steps: std::array::from_fn(|j| -decline(CHAIN_H[j + 1])),
            sharp: (0.2 * unit).ln(),
            warm: (0.05 * unit).ln(),
        }
    }

    /// Prior means as a starting point, the chain all at `chain`.
    pub fn start<const P: usize>(&self, plateau: f64, chain: f64) -> SVector<f64, P> {
        SVector::from_fn(|i, _| match i {
            0 => plateau,
            LN_A => LN_A_MEAN,
            FIRST_WARM.. => self.warm,
            FIRST_SHARP.. => self.sharp,
            _ => chain,
        })
    }

    /// Σ ((θ − mean)/sd)².
    pub fn cost<const P: usize>(&self, at: &SVector<f64, P>) -> f64 {
        let square = |x: f64| x * x;
        let mut cost = square((at[0] - self.plateau.centre) / self.plateau.sd_at(at[0]));
        cost += square((at[FIRST_CHAIN] - self.chain_start) / CHAIN_START_SD);
        for (j, step) in self.chain_steps.iter().enumerate() {
            cost += square((at[FIRST_CHAIN + j + 1] - at[FIRST_CHAIN + j] - step) / CHAIN_STEP_SD);
        }
        for i in FIRST_SHARP..FIRST_SHARP + SHARP {
            cost += square((at[i] - self.sharp) / SHARP_SD);
        }
        if P > COOL_PARAMETERS {
            for i in FIRST_WARM..FIRST_WARM + WARM {
                cost += square((at[i] - self.warm) / WARM_SD);
            }
            cost += square((at[LN_A] - LN_A_MEAN) / LN_A_SD);
        }
        cost
    }

    /// Adds the priors' share of gradient and precision.
    pub fn add_to<const P: usize>(&self, at: &SVector<f64, P>, normal: &mut Normal<P>) {
        let mut single = |i: usize, mean: f64, sd: f64| {
            let precision = 1.0 / (sd * sd);
            normal.gauss_newton[(i, i)] += precision;
            normal.gradient[i] -= precision * (at[i] - mean);
        };
        single(0, self.plateau.centre, self.plateau.sd_at(at[0]));
        single(FIRST_CHAIN, self.chain_start, CHAIN_START_SD);
        for i in FIRST_SHARP..FIRST_SHARP + SHARP {
            single(i, self.sharp, SHARP_SD);
        }
        if P > COOL_PARAMETERS {
            for i in FIRST_WARM..FIRST_WARM + WARM {
                single(i, self.warm, WARM_SD);
            }
            single(LN_A, LN_A_MEAN, LN_A_SD);
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
