//! What to pour, on a real scale, and what to add after a slip.

use super::{Basis, Component, MixError, Recipe};
use crate::input::{InputError, answer, not_negative, positive};
use serde::Serialize;

/// Half a division above this share of the smallest pour is too coarse (common practice).
pub const COARSE: f64 = 0.02;

/// How much is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Amount {
    /// Millilitres of the finished mix.
    Millilitres(f64),
    /// Grams of the finished mix.
    Grams(f64),
    /// All that goes with this much of one component.
    Of {
        /// Which component, as its place in the recipe.
        component: usize,
        /// How much of it, g.
        grams: f64,
    },
}

/// What to pour, in the order of the components.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pour {
    /// Each component, g.
    pub grams: Vec<f64>,
    /// What the tared scale shows after each pour.
    pub cumulative_g: Vec<f64>,
    /// Volumes, where every density is known.
    pub millilitres: Option<Vec<f64>>,
    /// All together, g.
    pub total_g: f64,
}

/// The same on a real scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ScaleTargets {
    /// Cumulative targets, to the nearest division.
    pub cumulative_g: Vec<f64>,
    /// How much of itself each component is off because its targets are rounded, as a share of 1: 0.01 is 1 % too much.
    pub by_rounding: Vec<f64>,
    /// How much of itself each component is off, and so the ratio, if one division is off in it, as a share of 1.
    pub one_division: Vec<f64>,
    /// Half a division is more than 2 % of the smallest pour: mix more, or use a finer scale.
    pub too_coarse: bool,
}

/// What to add after one component was over-poured.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Correction {
    /// What to add of each component, g; zero for the one that was over-poured.
    pub add_g: Vec<f64>,
    /// What the tared scale shows after each addition, in the order of the components, from what is in the cup.
    pub cumulative_g: Vec<f64>,
    /// The whole mix then.
    pub total_g: f64,
}

impl Recipe {
    /// What to pour for the wanted amount.
    ///
    /// ```
    /// use comb_scale_science::mix::{Amount, Basis, Component, Recipe};
    /// let component = |parts, density| Component { parts, density: Some(density) };
    /// let recipe = Recipe::new(Basis::Volume, vec![component(4.0, 1.45), component(1.0, 1.05), component(1.0, 0.87)])?;
    /// let pour = recipe.pour(Amount::Millilitres(300.0))?;
    /// assert!((pour.cumulative_g[1] - 342.5).abs() < 1e-9 && (pour.total_g - 386.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn pour(&self, amount: Amount) -> Result<Pour, MixError> {
        let by_weight = self.shares(Basis::Weight)?;
        let total_g = match amount {
            Amount::Millilitres(volume) => positive("amount to mix", volume)? * self.density()?,
            Amount::Grams(grams) => positive("amount to mix", grams)?,
            Amount::Of { component, grams } => {
                let share = by_weight.get(component).ok_or(MixError::NoSuchComponent(component))?;
                positive("amount to mix", grams)? / share
            }
        };
        answer(total_g)?;
        let grams: Vec<f64> = by_weight.iter().map(|share| share * total_g).collect();
        let volume = |(grams, of): (&f64, &Component)| of.density.map(|density| answer(grams / density)).transpose();
        let millilitres: Vec<Option<f64>> = grams.iter().zip(&self.components).map(volume).collect::<Result<_, _>>()?;
        let cumulative_g = cumulated(&grams);
        for total in &cumulative_g {
            answer(*total)?;
        }
        Ok(Pour { cumulative_g, millilitres: millilitres.into_iter().collect(), total_g, grams })
    }

    /// How much of each to add to what is in the cup, `poured_g` of each component, for at least `least_g` of mix in all (0
    /// if any amount will do). It serves at every step, those not yet poured being 0, and as often as something is
    /// over-poured. Nothing is taken out: the component that is furthest ahead sets the size of the mix.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Weight, vec![component(100.0), component(25.0)])?;
    /// let mend = recipe.corrected(&[200.0, 60.0], 250.0)?;
    /// assert!((mend.add_g[0] - 40.0).abs() < 1e-9 && mend.add_g[1].abs() < 1e-9);
    /// assert!((mend.cumulative_g[0] - 300.0).abs() < 1e-9);
    /// // Ten grams too many while mending: now the other falls short.
    /// let again = recipe.corrected(&[250.0, 60.0], mend.total_g)?;
    /// assert!(again.add_g[0].abs() < 1e-9 && (again.add_g[1] - 2.5).abs() < 1e-9);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn corrected(&self, poured_g: &[f64], least_g: f64) -> Result<Correction, MixError> {
        let by_weight = self.shares_of_a_mix(poured_g)?;
        let mut total_g = not_negative("amount to mix", least_g)?;
        for (poured, share) in poured_g.iter().zip(&by_weight) {
            total_g = total_g.max(not_negative("weight poured", *poured)? / share);
        }
        answer(total_g)?;
        let add_g: Vec<f64> =
            by_weight.iter().zip(poured_g).map(|(share, poured)| (share * total_g - poured).max(0.0)).collect();
        let in_cup = answer(poured_g.iter().sum())?;
        let cumulative_g: Vec<f64> =
            cumulated(&add_g).into_iter().map(|added| answer(in_cup + added)).collect::<Result<_, _>>()?;
        Ok(Correction { add_g, cumulative_g, total_g })
    }

    /// How far each component is from the recipe in what was poured, as a share of what it should be beside the first:
    /// 0.05 is 5 % too much of it.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Weight, vec![component(4.0), component(1.0)])?;
    /// assert!((recipe.off(&[200.0, 52.5])?[1] - 0.05).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn off(&self, poured_g: &[f64]) -> Result<Vec<f64>, MixError> {
        let by_weight = self.shares_of_a_mix(poured_g)?;
        let per_share = positive("weight of the first component", poured_g[0])? / by_weight[0];
        let mut off = Vec::with_capacity(poured_g.len());
        for (poured, share) in poured_g.iter().zip(&by_weight) {
            off.push(answer(not_negative("weight poured", *poured)? / (share * per_share) - 1.0)?);
        }
        Ok(off)
    }

    /// Shares by weight, where there is a ratio to keep and a weight for each component.
    fn shares_of_a_mix(&self, poured_g: &[f64]) -> Result<Vec<f64>, MixError> {
        if self.is_one_pack() {
            return Err(MixError::NothingToMix);
        }
        let by_weight = self.shares(Basis::Weight)?;
        if poured_g.len() != by_weight.len() {
            return Err(InputError::Unpaired("weights poured and components").into());
        }
        Ok(by_weight)
    }
}

fn cumulated(grams: &[f64]) -> Vec<f64> {
    grams
        .iter()
        .scan(0.0, |sum, grams| {
            *sum += grams;
            Some(*sum)
        })
        .collect()
}

/// To the nearest division of the scale.
fn shown(grams: f64, division: f64) -> Result<f64, InputError> {
    answer((grams / division).round() * division)
}

impl Pour {
    /// Targets on a scale of the given division (g), what rounding to it does, and what one division does.
    ///
    /// ```
    /// use comb_scale_science::mix::{Amount, Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Weight, vec![component(100.0), component(3.0)])?;
    /// let targets = recipe.pour(Amount::Grams(50.0))?.on_scale(0.1)?;
    /// assert!(targets.too_coarse, "half of 0.1 g is 3.4 % of 1.46 g");
    /// assert!((targets.by_rounding[1] - (1.5 / 1.456_311 - 1.0)).abs() < 1e-6, "1.5 g are poured in place of 1.46 g");
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn on_scale(&self, division_g: f64) -> Result<ScaleTargets, InputError> {
        let division = positive("division of the scale", division_g)?;
        let mut targets = Vec::with_capacity(self.cumulative_g.len());
        let (mut by_rounding, mut one_division) = (Vec::new(), Vec::new());
        let mut before = 0.0;
        for (total, grams) in self.cumulative_g.iter().zip(&self.grams) {
            let target = shown(*total, division)?;
            by_rounding.push(answer((target - before) / grams - 1.0)?);
            one_division.push(answer(division / grams)?);
            targets.push(target);
            before = target;
        }
        let too_coarse = one_division.iter().any(|share| 0.5 * share > COARSE);
        Ok(ScaleTargets { cumulative_g: targets, by_rounding, one_division, too_coarse })
    }
}
