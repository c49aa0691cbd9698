//! One balance or several: what the blank, weighed on each, makes of them.
//!
//! The blank's mass B does not change. A scale that shows L(t) for it is out by L(t) − B, so a panel's mass is its
//! reading less that. On one scale B cancels; on two scales it cancels as well where the same blank was weighed on both.

use super::drift::{Doubt, Drift, Jump, OfBlank, OfScale, Side, Sides};
use super::noise::{SumOfSquares, UNIT, largest_scatter, scatter};
use super::outcome::NoForecast;
use super::panel::{Say, Scale, Weighing};
use super::readings::MOST_DIVISIONS;

/// A balance with the readings of its blank, made once and shared by its panels; or several balances, tied by one blank
/// ([`Balance::joined`]).
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// Division and repeatability; of several, those of the coarsest.
    pub scale: Scale,
    /// Never empty.
    parts: Vec<Part>,
}

/// A single balance.
#[derive(Debug, Clone, PartialEq)]
struct Part {
    /// The [`Weighing::balance`] that stands for it; `None` stands for any.
    number: Option<u32>,
    scale: Scale,
    /// The blank's first reading, g.
    first: f64,
    /// Kept blank readings, in time order.
    blank: Vec<OfBlank>,
    differences: SumOfSquares,
}

impl Balance {
    /// Takes a balance's blank readings, in any order; none at all is fine, and so are rounds in which the blank was
    /// forgotten. Readings set aside, not finite or over 10⁷ divisions are left out. One far off the others is taken for a jump of the scale
    /// when another agrees with it, or when the person vouches for it ([`Say::Keep`]).
    ///
    /// ```
    /// use comb_scale_science::drying::{Balance, OfScale, Scale, Weighing};
    /// let balance = Balance::new(Scale::new(0.1), &[Weighing::new(0.0, 1057.7), Weighing::new(24.0, 1057.8)]);
    /// assert_eq!(balance.of_scale(24.0), Some(OfScale::Stands));
    /// ```
    #[must_use]
    pub fn new(scale: Scale, blank: &[Weighing]) -> Self {
        let absurd = |g: f64| g.abs() > MOST_DIVISIONS * scale.division_g;
        let mut kept: Vec<OfBlank> = blank
            .iter()
            .filter(|w| w.say != Say::SetAside && w.t_h.is_finite() && w.gross_g.is_finite() && !absurd(w.gross_g))
            .map(|w| OfBlank { t_h: w.t_h, z: w.gross_g, sure: w.say == Say::Keep })
            .collect();
        order::sort_by(&mut kept, |a, b| a.t_h.total_cmp(&b.t_h).then(a.z.total_cmp(&b.z)));
        let most = largest_scatter(scale.division_g);
        let mut differences = SumOfSquares::default();
        for pair in kept.windows(2) {
            let step = pair[1].z - pair[0].z;
            if step.abs() <= most {
                differences.sum += step * step;
                differences.count += 1.0;
            }
        }
        let first = kept.first().map_or(0.0, |k| k.z);
        kept.iter_mut().for_each(|k| k.z -= first);
        Self { scale, parts: vec![Part { number: None, scale, first, blank: kept, differences }] }
    }

    /// Several balances on which **the same blank** was weighed, each with the number that stands for it in
    /// [`Weighing::balance`] (of two with one number the first counts).
    ///
    /// Each balance's drift is smoothed from its own blank readings. A reading at t on balance b, brought into the frame
    /// of the wet weight, which was read at t₀ on balance a, is
    ///
    /// m = x − (L_b(t) − L_a(t₀)),
    ///
    /// L being the smoothed reading of the blank. The tie is as uncertain as both ends of it: its variance
    /// P_b(t) + P_a(t₀), smoothed, goes into the noise of each reading on another balance than the wet weight's, and into
    /// the drift sd when the newest reading is one of them; there it may exceed the 0.1 u of a single balance. Division
    /// and scatter of a panel are those of the coarsest balance that it was read on. A panel read on a single balance is
    /// forecast as if the others did not exist; one read on two is refused unless the blank was weighed on both.
    ///
    /// ```
    /// use comb_scale_science::drying::{Balance, NoForecast, Panel, Scale, Settings, Weighing, forecast};
    /// let on = |balance, t_h, g| Weighing { balance, ..Weighing::new(t_h, g) };
    /// // The second balance shows 0.7 g more, for the blank as for the panel.
    /// let first = Balance::new(Scale::new(0.1), &[on(0, 0.0, 800.0), on(0, 8.0, 800.0), on(0, 24.0, 800.1)]);
    /// let second = Balance::new(Scale::new(0.1), &[on(1, 48.0, 800.7), on(1, 72.0, 800.8)]);
    /// let panel = [
    ///     on(0, 0.0, 438.6), on(0, 1.0, 437.2), on(0, 4.0, 435.5), on(0, 8.0, 434.2), on(0, 24.0, 431.7),
    ///     on(1, 48.0, 431.3), on(1, 72.0, 430.9),
    /// ];
    /// let joined = Balance::joined(&[(0, first.clone()), (1, second)]);
    /// let answer = forecast(&Panel::new(&joined, Some(400.0), &panel), &Settings::shown()).unwrap();
    /// assert!((answer.lost_g - 8.45).abs() < 0.1);
    ///
    /// let blank_on_one = Balance::joined(&[(0, first), (1, Balance::new(Scale::new(0.1), &[]))]);
    /// let refused = forecast(&Panel::new(&blank_on_one, Some(400.0), &panel), &Settings::shown());
    /// assert_eq!(refused.unwrap_err(), NoForecast::TwoBalances);
    /// ```
    #[must_use]
    pub fn joined(balances: &[(u32, Self)]) -> Self {
        let numbered = |(number, balance): &(u32, Self)| {
            balance.parts.iter().map(|part| Part { number: part.number.or(Some(*number)), ..part.clone() }).collect()
        };
        let parts: Vec<Part> = balances.iter().flat_map::<Vec<Part>, _>(numbered).collect();
        let coarsest = parts.iter().map(|part| part.scale).max_by(|a, b| a.division_g.total_cmp(&b.division_g));
        match coarsest {
            Some(scale) => Self { scale, parts },
            // No balance: one that no forecast accepts.
            None => Self::new(Scale::new(f64::NAN), &[]),
        }
    }

    /// What the blank's weighing at `t_h` (test's clock, h) says of the scale; of several balances, of the first. `None`
    /// where it was not weighed then.
    ///
    /// ```
    /// use comb_scale_science::drying::{Balance, OfScale, Scale, Weighing};
    /// let shown = [(0.0, 800.0), (24.0, 800.0), (48.0, 805.0), (50.0, 805.0), (96.0, 800.0)];
    /// let balance = Balance::new(Scale::new(0.1), &shown.map(|(t_h, g)| Weighing::new(t_h, g)));
    /// assert!(matches!(balance.of_scale(48.0), Some(OfScale::Jumped(by_g)) if (by_g - 5.0).abs() < 0.1));
    /// assert!(matches!(balance.of_scale(96.0), Some(OfScale::Back(by_g)) if (by_g + 5.0).abs() < 0.1));
    /// assert_eq!(balance.of_scale(97.0), None);
    /// ```
    #[must_use]
    pub fn of_scale(&self, t_h: f64) -> Option<OfScale> {
        let part = self.parts.first()?;
        let u = scatter(&part.scale, part.differences, SumOfSquares::default()) / UNIT;
        Drift::smooth(&part.blank, u).of_scale(t_h)
    }

    fn part(&self, number: u32) -> Option<&Part> {
        self.parts.iter().find(|part| part.number.is_none_or(|n| n == number))
    }

    /// The balances of readings, the first one's first.
    pub(crate) fn used(&self, numbers: impl Iterator<Item = u32>) -> Result<Used<'_>, NoForecast> {
        let mut parts: Vec<(u32, &Part)> = Vec::new();
        for number in numbers {
            if parts.iter().all(|(known, _)| *known != number) {
                let part = self.part(number).filter(|part| parts.iter().all(|(_, p)| !std::ptr::eq(*p, *part)));
                let none = if parts.is_empty() { NoForecast::BadScale } else { NoForecast::TwoBalances };
                let part = part.ok_or(none)?;
                if !(part.scale.division_g.is_finite() && part.scale.division_g > 0.0) {
                    return Err(NoForecast::BadScale);
                }
                parts.push((number, part));
            }
        }
        if parts.len() > 1 && parts.iter().any(|(_, p)| p.blank.is_empty()) {
            return Err(NoForecast::TwoBalances);
        }
        Ok(Used { parts })
    }
}

/// The balances that a panel was read on; all tied by the blank where there is more than one.
pub(crate) struct Used<'a> {
    parts: Vec<(u32, &'a Part)>,
}

impl Used<'_> {
    /// The coarsest division, g.
    pub fn division_g(&self) -> f64 {
        self.parts.iter().map(|(_, p)| p.scale.division_g).fold(0.0, f64::max)
    }

    /// Scatter of a reading on the worst of them, g.
    pub fn scatter(&self, repeats: SumOfSquares) -> f64 {
        self.parts.iter().map(|(_, p)| scatter(&p.scale, p.differences, repeats)).fold(0.0, f64::max)
    }

    /// Each balance's drift, in units of `u` g.
    pub fn drifts(&self, u: f64) -> Drifts {
        let base = self.parts.first().map_or(0.0, |(_, p)| p.first);
        let parts = self.parts.iter().map(|&(number, p)| (number, p.first - base, Drift::smooth(&p.blank, u)));
        Drifts { parts: parts.collect() }
    }
}

/// The drift of every balance that a panel was read on: (number, level beside the first one's in g, drift).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drifts {
    parts: Vec<(u32, f64, Drift)>,
}

impl Drifts {
    fn part(&self, number: u32) -> Option<&(u32, f64, Drift)> {
        self.parts.iter().find(|part| part.0 == number)
    }

    /// How much more the scale shows at `b` than at `a`, each (balance, h), g; 0 where no blank tells.
    pub fn between(&self, a: (u32, f64), b: (u32, f64)) -> f64 {
        match (self.part(a.0), self.part(b.0)) {
            (Some((_, level_a, drift_a)), Some((_, level_b, drift_b))) => {
                (level_b - level_a) + (drift_b.at(b.1) - drift_a.at(a.1))
            }
            _ => 0.0,
        }
    }

    /// Variance of the tie between two balances, P_b + P_a, g²; 0 on a single one.
    pub fn tie_variance(&self, a: (u32, f64), b: (u32, f64)) -> f64 {
        match (self.part(a.0), self.part(b.0)) {
            (Some((_, _, drift_a)), Some((_, _, drift_b))) if a.0 != b.0 => drift_a.state(a.1).1 + drift_b.state(b.1).1,
            _ => 0.0,
        }
    }

    /// s_dr, g: [`Drift::sd`] on a single balance, the sd of the tie between two (with what is in doubt at the first).
    pub fn sd(&self, first: (u32, f64), last: (u32, f64)) -> f64 {
        match self.part(first.0) {
            Some((_, _, drift)) if first.0 == last.0 => drift.sd(first.1, last.1),
            _ => (self.tie_variance(first, last) + self.doubt_variance(first)).sqrt(),
        }
    }

    /// [`Drift::sd_thrice`] on a single balance; between two as [`Drifts::sd`].
    pub fn sd_thrice(&self, first: (u32, f64), last: (u32, f64)) -> f64 {
        match self.part(first.0) {
            Some((_, _, drift)) if first.0 == last.0 => drift.sd_thrice(first.1, last.1),
            _ => self.sd(first, last),
        }
    }

    /// Variance that a doubt about the scale's level brings at a time, g².
    pub fn doubt_variance(&self, at: (u32, f64)) -> f64 {
        self.part(at.0).and_then(|(_, _, drift)| drift.doubted(at.1)).map_or(0.0, |(_, variance)| variance)
    }

    /// The doubt about the scale's level at a time, where a reading tells nothing for it.
    pub fn too_doubtful(&self, at: (u32, f64)) -> Option<Doubt> {
        self.part(at.0)?.2.too_doubtful(at.1)
    }

    /// [`Drift::at`] of the balance named, in its own frame.
    pub fn at(&self, at: (u32, f64)) -> f64 {
        self.part(at.0).map_or(0.0, |(_, _, drift)| drift.at(at.1))
    }

    /// [`Drift::sides`] of the balance named.
    pub fn sides(&self, at: (u32, f64)) -> Option<Sides> {
        self.part(at.0)?.2.sides(at.1)
    }

    /// [`Drift::tell`] of the balance named.
    pub fn tell(&mut self, at: (u32, f64), side: Side) {
        if let Some((_, _, drift)) = self.parts.iter_mut().find(|part| part.0 == at.0) {
            drift.tell(at.1, side);
        }
    }

    /// [`Drift::first_off`] of the balance named.
    pub fn first_off(&self, balance: u32) -> Option<f64> {
        self.part(balance)?.2.first_off()
    }

    /// [`Drift::skipped_about`] of the balance named.
    pub fn skipped_about(&self, at: (u32, f64)) -> Option<f64> {
        self.part(at.0)?.2.skipped_about(at.1)
    }

    /// Jumps of the balances that a panel was read on, from one time to another.
    pub fn jumps(&self, from_h: f64, to_h: f64) -> Vec<Jump> {
        self.parts.iter().flat_map(|(_, _, drift)| drift.jumps(from_h, to_h)).collect()
    }

    /// Whether a blank tells of the drift.
    pub fn known(&self) -> bool {
        self.parts.iter().all(|(_, _, drift)| drift.known())
    }
}
