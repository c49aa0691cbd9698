//! Mixing on the scale: parts to grams, running totals, what a slip does to the ratio and how to mend it, how much to mix.

mod amount;
mod pour;

pub use amount::{amount_to_mix, area_to_spray};
pub use pour::{Amount, COARSE, Correction, Pour, ScaleTargets};

use super::input::{InputError, answer, not_negative, positive};
use serde::Serialize;

/// Most components of one mix.
pub const MOST_COMPONENTS: usize = 4;

/// Why a mix cannot be worked out. Components count from 0.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum MixError {
    /// No component at all.
    NoComponents,
    /// More components than [`MOST_COMPONENTS`].
    TooMany(usize),
    /// The recipe has no component of this place.
    NoSuchComponent(usize),
    /// A single pack has no ratio to keep: asked only where there is one.
    NothingToMix,
    /// Parts of zero or less.
    NoParts(usize),
    /// A density that is needed is not known: volume parts cannot become grams, nor weight parts litres.
    DensityUnknown(usize),
    /// A number that cannot be worked with.
    Input(InputError),
}

impl From<InputError> for MixError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

/// What the parts of a recipe count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Parts by volume.
    Volume,
    /// Parts by weight.
    Weight,
}

/// One component: its parts, and its density in g/mL if known.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Component {
    /// Its parts of the recipe.
    pub parts: f64,
    /// Its density, g/mL, if known.
    pub density: Option<f64>,
}

/// A mix by parts.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Recipe {
    basis: Basis,
    components: Vec<Component>,
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
/// use comb_scale_science::mix::{ReducerOf, reducer_parts};
/// assert!((reducer_parts(&[2.0, 1.0], 10.0, ReducerOf::Mix)? - 0.3).abs() < 1e-12);
/// assert!((reducer_parts(&[2.0, 1.0], 10.0, ReducerOf::Base)? - 0.2).abs() < 1e-12);
/// # Ok::<(), comb_scale_science::input::InputError>(())
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
    /// A recipe of two to four components, or of one alone: a one-pack primer, which can be poured and has no ratio to keep.
    /// Densities in g/mL, each above zero if given.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, MixError, Recipe};
    /// assert_eq!(Recipe::new(Basis::Weight, vec![]), Err(MixError::NoComponents));
    /// let part = Component { parts: 1.0, density: None };
    /// let five = Recipe::new(Basis::Weight, vec![part; 5]).unwrap_err();
    /// assert_eq!(five, MixError::TooMany(5));
    /// ```
    pub fn new(basis: Basis, components: Vec<Component>) -> Result<Self, MixError> {
        match components.len() {
            0 => return Err(MixError::NoComponents),
            count if count > MOST_COMPONENTS => return Err(MixError::TooMany(count)),
            _ => {}
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

    /// Whether there is a single component, and so nothing to mix.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, MixError, Recipe};
    /// let recipe = Recipe::new(Basis::Weight, vec![Component { parts: 1.0, density: None }])?;
    /// assert!(recipe.is_one_pack());
    /// assert_eq!(recipe.off(&[120.0]), Err(MixError::NothingToMix));
    /// # Ok::<(), MixError>(())
    /// ```
    pub fn is_one_pack(&self) -> bool {
        self.components.len() == 1
    }

    /// Share of each component of the whole, by weight or by volume, adding up to 1. The basis other than the recipe's own
    /// needs every density.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, MixError, Recipe};
    /// let component = |parts, density| Component { parts, density };
    /// let unknown = Recipe::new(Basis::Volume, vec![component(4.0, Some(1.45)), component(1.0, None)])?;
    /// let error = unknown.shares(Basis::Weight).unwrap_err();
    /// assert_eq!(error, MixError::DensityUnknown(1));
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
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

    /// How much of the components in these places (the reducer) goes into a part of all others, by volume or by weight: what
    /// turns solids that a sheet states before reducer into those of the mix ([`super::solids::reduced_solids`] by volume,
    /// [`super::solids::weight_solids_reduced`] by weight). There must be something else than reducer.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, Recipe};
    /// let component = |parts| Component { parts, density: None };
    /// let recipe = Recipe::new(Basis::Volume, vec![component(2.0), component(1.0), component(0.3)])?;
    /// assert!((recipe.thinning(&[2], Basis::Volume)? - 0.1).abs() < 1e-12);
    /// assert_eq!(recipe.thinning(&[], Basis::Volume)?, 0.0);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn thinning(&self, reducers: &[usize], basis: Basis) -> Result<f64, MixError> {
        if let Some(beyond) = reducers.iter().find(|place| **place >= self.components.len()) {
            return Err(MixError::NoSuchComponent(*beyond));
        }
        let shares = self.shares(basis)?;
        let (reducer, paint): (Vec<_>, Vec<_>) = shares.iter().enumerate().partition(|(i, _)| reducers.contains(i));
        let sum = |of: Vec<(usize, &f64)>| of.into_iter().map(|(_, share)| share).sum::<f64>();
        Ok(answer(sum(reducer) / positive("parts beside the reducer", sum(paint))?)?)
    }

    /// Density of the mix in g/mL, if volumes add: `Σm/Σ(m/ρ)`.
    ///
    /// ```
    /// use comb_scale_science::mix::{Basis, Component, Recipe};
    /// let component = |parts, density| Component { parts, density: Some(density) };
    /// let recipe = Recipe::new(Basis::Volume, vec![component(1.0, 1.5), component(1.0, 1.3)])?;
    /// assert!((recipe.density()? - 1.4).abs() < 1e-12);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn density(&self) -> Result<f64, MixError> {
        let by_volume = self.shares(Basis::Volume)?;
        let mut density = 0.0;
        for (i, (component, share)) in self.components.iter().zip(by_volume).enumerate() {
            density += share * component.density.ok_or(MixError::DensityUnknown(i))?;
        }
        Ok(answer(density)?)
    }
}
