//! Mixing on the scale: parts to grams, running totals, what a slip does to the ratio and how to mend it, how much to mix.

use super::estimate::Measured;
use super::input::{InputError, answer, not_negative, positive, share};
use serde::Serialize;
use std::fmt;

/// Most components of one mix.
pub const MOST_COMPONENTS: usize = 4;

/// Half a division above this share of the smallest pour is too coarse (common practice).
pub const COARSE: f64 = 0.02;

/// Why a mix cannot be worked out. Components count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum MixError {
    /// None, or more than [`MOST_COMPONENTS`].
    Components(usize),
    /// Parts of zero or less.
    NoParts(usize),
    /// A density that is needed is not known: volume parts cannot become grams, nor weight parts litres.
    DensityUnknown(usize),
    Input(InputError),
}

impl fmt::Display for MixError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Components(_) => write!(f, "A mix has between 1 and {MOST_COMPONENTS} components."),
            Self::NoParts(i) => write!(f, "Component {} needs parts of more than zero.", i + 1),
            Self::DensityUnknown(i) => {
                write!(
                    f,
                    "Without the density of component {} volumes and grams cannot be turned into each other.",
                    i + 1
                )
            }
            Self::Input(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for MixError {}

impl From<InputError> for MixError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

/// What the parts of a recipe count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    Volume,
    Weight,
}

/// One component: its parts, and its density in g/mL if known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Component {
    pub parts: f64,
    pub density: Option<f64>,
}

/// A mix by parts.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Recipe {
    basis: Basis,
    components: Vec<Component>,
}

/// How much is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Amount {
    Millilitres(f64),
    Grams(f64),
    /// All that goes with this much of one component.
    Of {
        component: usize,
        grams: f64,
    },
}

/// What to pour, in the order of the components.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Pour {
    pub grams: Vec<f64>,
    /// What the tared scale shows after each pour.
    pub cumulative_g: Vec<f64>,
    /// Volumes, where every density is known.
    pub millilitres: Option<Vec<f64>>,
    pub total_g: f64,
}

/// The same on a real scale.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ScaleTargets {
    /// Cumulative targets, to the nearest division.
    pub cumulative_g: Vec<f64>,
    /// How much of itself each component is off if one division is off in it, as a share of 1.
    pub one_division: Vec<f64>,
    /// Half a division is more than 2 % of the smallest pour: mix more, or use a finer scale.
    pub too_coarse: bool,
}

/// What to add after one component was over-poured.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Correction {
    pub add_g: Vec<f64>,
    /// The whole mix then.
    pub total_g: f64,
}

/// What a reducer's percentage is a percentage of; sheets differ, so ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ReducerOf {
    /// All other components together.
    Mix,
    /// The first component alone.
    Base,
}

/// Parts of reducer, counted as the others are.
///
/// ```
/// use comb_scale::science::mix::{ReducerOf, reducer_parts};
/// assert!((reducer_parts(&[2.0, 1.0], 10.0, ReducerOf::Mix)? - 0.3).abs() < 1e-12);
/// assert!((reducer_parts(&[2.0, 1.0], 10.0, ReducerOf::Base)? - 0.2).abs() < 1e-12);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn reducer_parts(parts: &[f64], percent: f64, of: ReducerOf) -> Result<f64, InputError> {
    not_negative("amount of reducer", percent)?;
    for part in parts {
        positive("parts", *part)?;
    }
    let counted = match of {
        ReducerOf::Mix => parts.iter().sum(),
        ReducerOf::Base => *parts.first().ok_or(InputError::TooFew { what: "components", least: 1 })?,
    };
    answer(counted * percent / 100.0)
}

impl Recipe {
    /// A recipe of one to four components; densities in g/mL, each above zero if given.
    ///
    /// ```
    /// use comb_scale::science::mix::{Basis, MixError, Recipe};
    /// assert_eq!(Recipe::new(Basis::Weight, vec![]), Err(MixError::Components(0)));
    /// ```
    pub fn new(basis: Basis, components: Vec<Component>) -> Result<Self, MixError> {
        if components.is_empty() || components.len() > MOST_COMPONENTS {
            return Err(MixError::Components(components.len()));
        }
        for (i, component) in components.iter().enumerate() {
            if !(component.parts.is_finite() && component.parts > 0.0) {
                return Err(MixError::NoParts(i));
            }
            if let Some(density) = component.density {
                positive("density of a component", density)?;
            }
        }
        Ok(Self { basis, components })
    }

    /// Share of each component of the whole, by weight or by volume, adding up to 1. The basis other than the recipe's own
    /// needs every density.
    ///
    /// ```
    /// use comb_scale::science::mix::{Basis, Component, MixError, Recipe};
    /// let component = |parts, density| Component { parts, density };
    /// let unknown = Recipe::new(Basis::Volume, vec![component(4.0, Some(1.45)), component(1.0, None)])?;
    /// let error = unknown.shares(Basis::Weight).unwrap_err();
    /// assert_eq!(error, MixError::DensityUnknown(1));
    /// assert_eq!(error.to_string(), "Without the density of component 2 volumes and grams cannot be turned into each other.");
    /// # Ok::<(), comb_scale::science::mix::MixError>(())
    /// ```
    pub fn shares(&self, basis: Basis) -> Result<Vec<f64>, MixError> {
        let mut amounts = Vec::with_capacity(self.components.len());
        for (i, component) in self.components.iter().enumerate() {
            let amount = match (self.basis, basis) {
                (Basis::Volume, Basis::Volume) | (Basis::Weight, Basis::Weight) => component.parts,
                (Basis::Volume, Basis::Weight) => {
                    component.parts * component.density.ok_or(MixError::DensityUnknown(i))?
                }
                (Basis::Weight, Basis::Volume) => {
                    component.parts / component.density.ok_or(MixError::DensityUnknown(i))?
                }
            };
            amounts.push(positive("parts", amount)?);
        }
        let total = answer(amounts.iter().sum())?;
        Ok(amounts.iter().map(|amount| amount / total).collect())
    }

    /// Density of the mix in g/mL, if volumes add: `Σm/Σ(m/ρ)`.
    ///
    /// ```
    /// use comb_scale::science::mix::{Basis, Component, Recipe};
    /// let component = |parts, density| Component { parts, density: Some(density) };
    /// let recipe = Recipe::new(Basis::Volume, vec![component(1.0, 1.5), component(1.0, 1.3)])?;
    /// assert!((recipe.density()? - 1.4).abs() < 1e-12);
    /// # Ok::<(), comb_scale::science::mix::MixError>(())
    /// ```
    pub fn density(&self) -> Result<f64, MixError> {
        let by_volume = self.shares(Basis::Volume)?;
        let mut density = 0.0;
        for (i, (component, share)) in self.components.iter().zip(by_volume).enumerate() {
            density += share * component.density.ok_or(MixError::DensityUnknown(i))?;
        }
        Ok(answer(density)?)
    }

    /// What to pour for the wanted amount.
    ///
    /// ```
    /// use comb_scale::science::mix::{Amount, Basis, Component, Recipe};
    /// let component = |parts, density| Component { parts, density: Some(density) };
    /// let recipe = Recipe::new(Basis::Volume, vec![component(4.0, 1.45), component(1.0, 1.05), component(1.0, 0.87)])?;
    /// let pour = recipe.pour(Amount::Millilitres(300.0))?;
    /// assert!((pour.cumulative_g[1] - 342.5).abs() < 1e-9 && (pour.total_g - 386.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale::science::mix::MixError>(())
    /// ```
    pub fn pour(&self, amount: Amount) -> Result<Pour, MixError> {
        let by_weight = self.shares(Basis::Weight)?;
        let total_g = match amount {
            Amount::Millilitres(volume) => positive("amount to mix", volume)? * self.density()?,
            Amount::Grams(grams) => positive("amount to mix", grams)?,
            Amount::Of { component, grams } => {
                let share = by_weight.get(component).ok_or(MixError::Components(component + 1))?;
                positive("amount to mix", grams)? / share
            }
        };
        answer(total_g)?;
        let grams: Vec<f64> = by_weight.iter().map(|share| share * total_g).collect();
        let millilitres = grams.iter().zip(&self.components).map(|(grams, c)| c.density.map(|density| grams / density));
        Ok(Pour { cumulative_g: cumulated(&grams), millilitres: millilitres.collect(), total_g, grams })
    }

    /// How much of the others to add when something was over-poured; `poured_g` is what is in the cup of each. Nothing is
    /// taken out: the component that is furthest ahead sets the size of the mix.
    ///
    /// ```
    /// use comb_scale::science::mix::{Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Weight, vec![component(100.0), component(25.0)])?;
    /// let mend = recipe.corrected(&[200.0, 60.0])?;
    /// assert!((mend.add_g[0] - 40.0).abs() < 1e-9 && mend.add_g[1].abs() < 1e-9);
    /// # Ok::<(), comb_scale::science::mix::MixError>(())
    /// ```
    pub fn corrected(&self, poured_g: &[f64]) -> Result<Correction, MixError> {
        let by_weight = self.shares(Basis::Weight)?;
        if poured_g.len() != by_weight.len() {
            return Err(InputError::Unpaired("weights poured and components").into());
        }
        let mut total_g = 0.0_f64;
        for (poured, share) in poured_g.iter().zip(&by_weight) {
            total_g = total_g.max(not_negative("weight poured", *poured)? / share);
        }
        answer(total_g)?;
        let add_g = by_weight.iter().zip(poured_g).map(|(share, poured)| (share * total_g - poured).max(0.0)).collect();
        Ok(Correction { add_g, total_g })
    }

    /// How far each component is from the recipe in what was poured, as a share of what it should be beside the first:
    /// 0.05 is 5 % too much of it.
    ///
    /// ```
    /// use comb_scale::science::mix::{Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Weight, vec![component(4.0), component(1.0)])?;
    /// assert!((recipe.off(&[200.0, 52.5])?[1] - 0.05).abs() < 1e-12);
    /// # Ok::<(), comb_scale::science::mix::MixError>(())
    /// ```
    pub fn off(&self, poured_g: &[f64]) -> Result<Vec<f64>, MixError> {
        let by_weight = self.shares(Basis::Weight)?;
        if poured_g.len() != by_weight.len() {
            return Err(InputError::Unpaired("weights poured and components").into());
        }
        let per_share = positive("weight of the first component", poured_g[0])? / by_weight[0];
        let mut off = Vec::with_capacity(poured_g.len());
        for (poured, share) in poured_g.iter().zip(&by_weight) {
            off.push(answer(not_negative("weight poured", *poured)? / (share * per_share) - 1.0)?);
        }
        Ok(off)
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

impl Pour {
    /// Targets on a scale of the given division (g), and what one division does.
    ///
    /// ```
    /// use comb_scale::science::mix::{Amount, Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Weight, vec![component(100.0), component(3.0)])?;
    /// let targets = recipe.pour(Amount::Grams(50.0))?.on_scale(0.1)?;
    /// assert!(targets.too_coarse, "half of 0.1 g is 3.4 % of 1.46 g");
    /// # Ok::<(), comb_scale::science::mix::MixError>(())
    /// ```
    pub fn on_scale(&self, division_g: f64) -> Result<ScaleTargets, InputError> {
        let division = positive("division of the scale", division_g)?;
        let mut targets = Vec::with_capacity(self.cumulative_g.len());
        for total in &self.cumulative_g {
            targets.push(answer((total / division).round() * division)?);
        }
        let mut one_division = Vec::with_capacity(self.grams.len());
        for grams in &self.grams {
            one_division.push(answer(division / grams)?);
        }
        let too_coarse = one_division.iter().any(|share| 0.5 * share > COARSE);
        Ok(ScaleTargets { cumulative_g: targets, one_division, too_coarse })
    }
}

/// Volume ratio of two components as weighed, with its uncertainty: `(m_a/ρ_a)/(m_b/ρ_b)`, relative variances adding. Masses
/// in g, densities in g/mL.
///
/// ```
/// use comb_scale::science::{Measured, mix::volume_ratio};
/// let m = |value| Measured::new(value, 0.0408);
/// let ratio = volume_ratio(m(290.0), Measured::new(1.45, 0.015), m(52.5), Measured::new(1.05, 0.01))?;
/// assert!((ratio.value - 4.0).abs() < 1e-9 && (ratio.u - 0.056_333_6).abs() < 1e-6);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn volume_ratio(
    mass_a: Measured,
    density_a: Measured,
    mass_b: Measured,
    density_b: Measured,
) -> Result<Measured, InputError> {
    let mut relative: f64 = 0.0;
    for (what, measured) in [("weight", mass_a), ("density", density_a), ("weight", mass_b), ("density", density_b)] {
        positive(what, measured.checked(what)?.value)?;
        relative = relative.hypot(measured.relative());
    }
    let value = mass_a.value / density_a.value / (mass_b.value / density_b.value);
    Measured::answer(value, value * relative)
}

/// How much too much of b is in the cup when parts by volume are weighed as if they were grams: `ρ_a/ρ_b − 1`, a share of 1.
///
/// ```
/// use comb_scale::science::mix::weighed_as_volume;
/// assert!((weighed_as_volume(1.45, 1.05)? - 0.380_952).abs() < 1e-6);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn weighed_as_volume(density_a: f64, density_b: f64) -> Result<f64, InputError> {
    answer(positive("density", density_a)? / positive("density", density_b)? - 1.0)
}

/// Solids of a mix, as a share of 1: by weight from grams, by volume from millilitres; `Σ amount·solids/Σ amount`. A reducer
/// has none. The same mean gives the VOC of a mix from volumes, where there is neither water nor exempt solvent.
///
/// ```
/// use comb_scale::science::mix::mean_by_amount;
/// assert!((mean_by_amount(&[290.0, 52.5, 43.5], &[0.70, 0.55, 0.0])? - 0.600_712).abs() < 1e-6);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn mean_by_amount(amounts: &[f64], values: &[f64]) -> Result<f64, InputError> {
    if amounts.len() != values.len() {
        return Err(InputError::Unpaired("amounts and values"));
    }
    let (mut total, mut sum) = (0.0, 0.0);
    for (amount, value) in amounts.iter().zip(values) {
        total += not_negative("amount", *amount)?;
        sum += amount * not_negative("value", *value)?;
    }
    answer(sum / positive("amount", total)?)
}

/// How much to mix in mL: `A·W·coats/TE` with area in cm² (overspray round small panels included), wet film per coat in µm,
/// transfer efficiency as a share of 1, plus what stays in cup and hose (mL).
///
/// ```
/// use comb_scale::science::mix::amount_to_mix;
/// assert!((amount_to_mix(5400.0, 150.0, 2, 0.5, 50.0)? - 374.0).abs() < 1e-9);
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn amount_to_mix(
    area_cm2: f64,
    wet_film_um: f64,
    coats: usize,
    transfer_efficiency: f64,
    dead_ml: f64,
) -> Result<f64, InputError> {
    let film_ml = positive("area to spray", area_cm2)? * positive("wet film", wet_film_um)? * 1e-4;
    let efficiency = share("transfer efficiency", transfer_efficiency)?;
    answer(film_ml * coats as f64 / efficiency + not_negative("amount left in the gun", dead_ml)?)
}
