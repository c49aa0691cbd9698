//! The spectrum of loss: a wide family of curves that can only fall.
//!
//! m(t) = c₀ + Σⱼ e^{θⱼ} e^{−τ/Tⱼ} + Σᵣ e^{θᵣ} e^{−(τ/Tᵣ)²} + Σₖ e^{θₖ} max(0, 1 − t/Eₖ) + Σₗ e^{θₗ} e^{−w/Tₗ}
//!
//! with c₀ the final mass (g), t the hours since the wet weight, τ the effective time (h), w the hours spent in the warm
//! and Eₖ the ends of the straight terms (h). Amplitudes are exponentials, so mass can only fall and what is still to lose
//! cannot be negative.

use super::panel::Move;
use std::sync::LazyLock;

/// Terms of the chain of slow exponentials.
pub(crate) const CHAIN: usize = 13;
/// Terms that end sharply.
pub(crate) const SHARP: usize = 5;
/// Terms that fall along a straight line and end.
pub(crate) const STRAIGHT: usize = 2;
/// Terms that only start in the warm.
pub(crate) const WARM: usize = 3;
/// c₀, chain and sharp: the parameters whose terms follow effective time.
const TIMED: usize = 1 + CHAIN + SHARP;
/// Parameters before a move: c₀, chain, sharp, straight.
pub(crate) const COOL_PARAMETERS: usize = TIMED + STRAIGHT;
/// Parameters after a move: the warm terms and ln a as well.
pub(crate) const WARM_PARAMETERS: usize = COOL_PARAMETERS + WARM + 1;
pub(crate) const FIRST_CHAIN: usize = 1;
pub(crate) const FIRST_SHARP: usize = FIRST_CHAIN + CHAIN;
pub(crate) const FIRST_STRAIGHT: usize = FIRST_SHARP + SHARP;
pub(crate) const FIRST_WARM: usize = FIRST_STRAIGHT + STRAIGHT;
pub(crate) const LN_A: usize = FIRST_WARM + WARM;

/// Time constants of the sharp-ended terms, h.
pub(crate) const SHARP_H: [f64; SHARP] = [3.0, 8.0, 20.0, 60.0, 150.0];
/// Time constants of the warm terms, h.
pub(crate) const WARM_H: [f64; WARM] = [10.0, 50.0, 200.0];

/// Time constants of the chain, h: 13, log-spaced from 0.3 to 1440.
pub(crate) static CHAIN_H: LazyLock<[f64; CHAIN]> =
    LazyLock::new(|| std::array::from_fn(|j| 0.3 * (1440.0_f64 / 0.3).powf(j as f64 / (CHAIN - 1) as f64)));

/// Hours since the wet weight, split into those in the first place (or one as cool) and those in the warm.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Hours {
    pub cool: f64,
    pub warm: f64,
}

impl Hours {
    /// Hours since the wet weight.
    pub fn all(self) -> f64 {
        self.cool + self.warm
    }

    /// Effective time, h: warm hours count `a`-fold.
    pub fn effective(self, a: f64) -> f64 {
        self.cool + a * self.warm
    }
}

/// A panel's places over time, in hours since its wet weight.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Places {
    /// Moves after the wet weight, in time order.
    moves: Vec<Move>,
}

impl Places {
    /// Moves at or before the wet weight only say where the first place was.
    pub fn new(moves: &[Move], wet_t_h: f64) -> Self {
        let mut moves: Vec<Move> = moves
            .iter()
            .filter(|m| m.t_h.is_finite() && m.t_h > wet_t_h)
            .map(|m| Move { t_h: m.t_h - wet_t_h, warmer: m.warmer })
            .collect();
        order::sort_by(&mut moves, |a, b| a.t_h.total_cmp(&b.t_h).then(a.warmer.cmp(&b.warmer)));
        Self { moves }
    }

    /// First move to a warmer place, h since the wet weight.
    pub fn first_warm_h(&self) -> Option<f64> {
        self.moves.iter().find(|m| m.warmer).map(|m| m.t_h)
    }

    /// Last move to a warmer place, h since the wet weight.
    pub fn last_warm_h(&self) -> Option<f64> {
        self.moves.iter().rev().find(|m| m.warmer).map(|m| m.t_h)
    }

    /// Moves after the wet weight.
    pub fn count(&self) -> usize {
        self.moves.len()
    }

    pub fn hours(&self, t_h: f64) -> Hours {
        let mut hours = Hours::default();
        let (mut since, mut warm) = (0.0, false);
        for m in self.moves.iter().take_while(|m| m.t_h < t_h) {
            *(if warm { &mut hours.warm } else { &mut hours.cool }) += m.t_h - since;
            (since, warm) = (m.t_h, m.warmer);
        }
        *(if warm { &mut hours.warm } else { &mut hours.cool }) += t_h - since;
        hours
    }
}

/// Exponent under which a term is as good as gone, and zero saves work.
const GONE: f64 = -46.0;

/// e^exponent, zero under e⁻⁴⁶ = 10⁻²⁰.
fn decayed(exponent: f64) -> f64 {
    if exponent > GONE { exponent.exp() } else { 0.0 }
}

/// Where the straight terms end, h since the wet weight; 0: there is no such term.
pub(crate) type Ends = [f64; STRAIGHT];

/// Basis functions of the straight terms `t_h` after the wet weight.
pub(crate) fn straight_basis(t_h: f64, ends: Ends) -> [f64; STRAIGHT] {
    ends.map(|end| if end > 0.0 { (1.0 - t_h / end).max(0.0) } else { 0.0 })
}

/// Basis functions of the terms that follow effective time, at `tau` h: [1, chain, sharp].
pub(crate) fn timed_basis(tau: f64) -> [f64; TIMED] {
    let mut basis = [1.0; TIMED];
    for (b, t) in basis[FIRST_CHAIN..].iter_mut().zip(CHAIN_H.iter()) {
        *b = decayed(-tau / t);
    }
    for (b, t) in basis[FIRST_SHARP..].iter_mut().zip(SHARP_H) {
        let x = tau / t;
        *b = decayed(-x * x);
    }
    basis
}

/// Basis functions of the warm terms after `warm` hours in the warm.
pub(crate) fn warm_basis(warm: f64) -> [f64; WARM] {
    WARM_H.map(|t| decayed(-warm / t))
}

/// Basis functions before a move: [1, chain, sharp, straight].
fn cool_basis(hours: Hours, a: f64, ends: Ends) -> [f64; COOL_PARAMETERS] {
    let mut basis = [0.0; COOL_PARAMETERS];
    basis[..TIMED].copy_from_slice(&timed_basis(hours.effective(a)));
    basis[FIRST_STRAIGHT..].copy_from_slice(&straight_basis(hours.all(), ends));
    basis
}

/// One member of the family: c₀ (g), the amplitudes, where the straight terms end and, after a move, a.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Curve {
    /// c₀, g.
    pub plateau: f64,
    ends: Ends,
    cool: [f64; COOL_PARAMETERS],
    warm: Option<([f64; WARM], f64)>,
}

impl Curve {
    /// From a parameter vector of 21 (cool) or 25 (warm) entries.
    pub fn new(parameters: &[f64], ends: Ends) -> Self {
        let mut cool = [0.0; COOL_PARAMETERS];
        cool[0] = parameters[0];
        for (c, p) in cool[FIRST_CHAIN..].iter_mut().zip(&parameters[FIRST_CHAIN..]) {
            *c = p.exp();
        }
        let warm = (parameters.len() == WARM_PARAMETERS)
            .then(|| (std::array::from_fn(|l| parameters[FIRST_WARM + l].exp()), parameters[LN_A].exp()));
        Self { plateau: parameters[0], ends, cool, warm }
    }

    /// What is still to lose after these hours, g: m − c₀, never negative.
    pub fn still_to_lose(&self, hours: Hours) -> f64 {
        let a = self.warm.as_ref().map_or(1.0, |w| w.1);
        let basis = cool_basis(hours, a, self.ends);
        let cool: f64 = self.cool[FIRST_CHAIN..].iter().zip(&basis[FIRST_CHAIN..]).map(|(c, b)| c * b).sum();
        let warm: f64 = self
            .warm
            .iter()
            .map(|(amplitudes, _)| amplitudes.iter().zip(warm_basis(hours.warm)).map(|(c, b)| c * b).sum::<f64>())
            .sum();
        cool + warm
    }

    /// Mass after these hours, g.
    pub fn mass(&self, hours: Hours) -> f64 {
        self.plateau + self.still_to_lose(hours)
    }

    /// How fast it falls at the wet weight, g/h.
    pub fn first_fall(&self) -> f64 {
        let ends = self.ends.iter().zip(&self.cool[FIRST_STRAIGHT..]).filter(|(end, _)| **end > 0.0);
        fall(&self.cool[..FIRST_STRAIGHT], 0.0) + ends.map(|(end, amplitude)| amplitude / end).sum::<f64>()
    }

    /// ∂m/∂θ after these hours: 1, the terms and, for ln a, their fall with effective time. Entries past the curve's
    /// own parameters are zero.
    pub fn slopes(&self, hours: Hours) -> [f64; WARM_PARAMETERS] {
        let mut slopes = [0.0; WARM_PARAMETERS];
        let a = self.warm.as_ref().map_or(1.0, |w| w.1);
        let tau = hours.effective(a);
        slopes[0] = 1.0;
        let terms = self.cool.iter().zip(cool_basis(hours, a, self.ends)).skip(FIRST_CHAIN);
        for (s, (c, b)) in slopes[FIRST_CHAIN..].iter_mut().zip(terms) {
            *s = c * b;
        }
        if let Some((amplitudes, a)) = &self.warm {
            for (l, b) in warm_basis(hours.warm).iter().enumerate() {
                slopes[FIRST_WARM + l] = amplitudes[l] * b;
            }
            slopes[LN_A] = -a * hours.warm * fall(&slopes, tau);
        }
        slopes
    }
}

/// −∂m/∂τ from the terms at effective time `tau`: Σⱼ termⱼ/Tⱼ + Σᵣ termᵣ · 2τ/Tᵣ².
pub(crate) fn fall(terms: &[f64], tau: f64) -> f64 {
    let chain: f64 = terms[FIRST_CHAIN..].iter().zip(CHAIN_H.iter()).map(|(term, t)| term / t).sum();
    let sharp: f64 = terms[FIRST_SHARP..].iter().zip(SHARP_H).map(|(term, t)| term * 2.0 * tau / (t * t)).sum();
    chain + sharp
}
