//! Volatile organic compounds of the mix, in g/L. Comparing coatings by it is linear only per volume of solids (ASTM D3960,
//! 5.4).

use super::input::{In, InputError, answer, not_negative, positive, share, within};
use super::mix::MixError;
use serde::Serialize;

/// Density of water in g/mL, 8.33 lb/US gal (as the published worked examples of VOC take it).
pub const WATER_DENSITY: f64 = 8.33 * 453.592_37 / 3_785.411_784;
/// Density in g/mL of the exempt solvent most in use, acetone, where nobody says which it is (from memory).
pub const EXEMPT_DENSITY: f64 = 0.79;

/// How much organic solvent is in a component.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum Organic {
    /// So many g in a litre of the component as it is, water and exempt solvent counted in the litre.
    PerLitre(f64),
    /// All that evaporates but water and exempt solvent, from the solids by weight, a share of 1.
    BesideSolids(f64),
}

/// One component of a mix with what evaporates from it. Shares are of 1, by weight; densities in g/mL.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Ingredient {
    /// How much of it is in the mix, mL.
    pub volume_ml: f64,
    /// Its density, g/mL, if known.
    pub density: Option<f64>,
    /// What is known of its organic solvent.
    pub organic: Organic,
    /// Water, as a share of its weight.
    pub water: f64,
    /// Exempt solvent, as a share of its weight.
    pub exempt: f64,
    /// Of the exempt solvent; [`EXEMPT_DENSITY`] where it is not known.
    pub exempt_density: f64,
}

impl Ingredient {
    /// A component without water or exempt solvent, of which the sheet gives the VOC in g/L.
    ///
    /// ```
    /// use comb_scale_science::voc::{Ingredient, Volatiles};
    /// let mix = Volatiles::of_mix(&[Ingredient::of_solvent(200.0, 420.0), Ingredient::of_solvent(100.0, 300.0)])?;
    /// assert!((mix.actual()? - 380.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn of_solvent(volume_ml: f64, voc_g_per_l: f64) -> Self {
        Self {
            volume_ml,
            density: None,
            organic: Organic::PerLitre(voc_g_per_l),
            water: 0.0,
            exempt: 0.0,
            exempt_density: EXEMPT_DENSITY,
        }
    }
}

/// A mix as prepared for application: masses in g, volumes in mL, of any one amount of it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Volatiles {
    /// All that evaporates.
    pub volatile_g: f64,
    /// Water, g.
    pub water_g: f64,
    /// Exempt solvent, g.
    pub exempt_g: f64,
    /// The whole mix, mL.
    pub volume_ml: f64,
    /// Water, mL.
    pub water_ml: f64,
    /// Exempt solvent, mL.
    pub exempt_ml: f64,
}

impl Volatiles {
    /// What evaporates from a mix of these components, volumes adding: organic solvent as each has it, water and exempt solvent
    /// from their shares by weight. A component with a share of anything by weight needs its density.
    ///
    /// ```
    /// use comb_scale_science::mix::MixError;
    /// use comb_scale_science::voc::{EXEMPT_DENSITY, Ingredient, Organic, Volatiles};
    /// let paint = Ingredient {
    ///     volume_ml: 400.0, density: Some(1.3), organic: Organic::BesideSolids(0.5), water: 0.3, exempt: 0.0,
    ///     exempt_density: EXEMPT_DENSITY,
    /// };
    /// let mix = Volatiles::of_mix(&[paint, Ingredient::of_solvent(100.0, 870.0)])?;
    /// // 520 g of paint hold 104 g of solvent and 156 g of water, to which 87 g of reducer come.
    /// assert!((mix.actual()? - 382.0).abs() < 1e-9 && (mix.less_water_and_exempt()? - 555.7).abs() < 0.1);
    /// assert_eq!(Volatiles::of_mix(&[Ingredient { density: None, ..paint }]), Err(MixError::DensityUnknown(0)));
    /// # Ok::<(), MixError>(())
    /// ```
    pub fn of_mix(ingredients: &[Ingredient]) -> Result<Self, MixError> {
        let mut mix =
            Self { volatile_g: 0.0, water_g: 0.0, exempt_g: 0.0, volume_ml: 0.0, water_ml: 0.0, exempt_ml: 0.0 };
        for (i, one) in ingredients.iter().enumerate() {
            let volume_ml = not_negative("volume of a component", one.volume_ml)?;
            within("share of water", one.water, 0.0, 1.0, In::Shares)?;
            within("share of exempt solvent", one.exempt, 0.0, 1.0, In::Shares)?;
            positive("density of the exempt solvent", one.exempt_density)?;
            let by_weight = one.water > 0.0 || one.exempt > 0.0 || matches!(one.organic, Organic::BesideSolids(_));
            let grams = match one.density {
                Some(density) => volume_ml * positive("density of a component", density)?,
                None if by_weight => return Err(MixError::DensityUnknown(i)),
                None => 0.0,
            };
            let (water_g, exempt_g) = (grams * one.water, grams * one.exempt);
            let organic_g = match one.organic {
                Organic::PerLitre(voc) => not_negative("VOC", voc)? * volume_ml / 1000.0,
                Organic::BesideSolids(solids) => {
                    let solids = within("solids by weight", solids, 0.0, 1.0, In::Shares)?;
                    grams
                        * not_negative(
                            "solvent beside solids, water and exempt",
                            1.0 - solids - one.water - one.exempt,
                        )?
                }
            };
            mix.volatile_g += organic_g + water_g + exempt_g;
            mix.water_g += water_g;
            mix.exempt_g += exempt_g;
            mix.volume_ml += volume_ml;
            mix.water_ml += water_g / WATER_DENSITY;
            mix.exempt_ml += exempt_g / one.exempt_density;
        }
        for sum in [mix.volatile_g, mix.water_ml, mix.exempt_ml] {
            answer(sum)?;
        }
        positive("volume of the mix", mix.volume_ml)?;
        Ok(mix)
    }

    /// VOC actually in a litre of mix, g/L: `(W_v − W_w − W_ec)/V`.
    ///
    /// ```
    /// use comb_scale_science::voc::Volatiles;
    /// let mix = Volatiles {
    ///     volatile_g: 700.0, water_g: 400.0, exempt_g: 0.0, volume_ml: 1000.0, water_ml: 400.0, exempt_ml: 0.0,
    /// };
    /// assert!((mix.actual()? - 300.0).abs() < 1e-9 && (mix.less_water_and_exempt()? - 500.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn actual(&self) -> Result<f64, InputError> {
        answer(1000.0 * self.organic()? / positive("volume of the mix", self.volume_ml)?)
    }

    /// VOC less water and exempt compounds, g/L: `(W_v − W_w − W_ec)/(V − V_w − V_ec)` (40 CFR 59.104(a)(1)).
    ///
    /// ```
    /// use comb_scale_science::voc::Volatiles;
    /// let mix = Volatiles {
    ///     volatile_g: 6.89, water_g: 1.2, exempt_g: 0.5, volume_ml: 14.62, water_ml: 1.2, exempt_ml: 0.38,
    /// };
    /// assert!((mix.less_water_and_exempt()? - 398.006).abs() < 1e-3);
    /// # Ok::<(), comb_scale_science::input::InputError>(())
    /// ```
    pub fn less_water_and_exempt(&self) -> Result<f64, InputError> {
        not_negative("volume of water", self.water_ml)?;
        not_negative("volume of exempt solvent", self.exempt_ml)?;
        let left = positive("volume of the mix", self.volume_ml)? - self.water_ml - self.exempt_ml;
        answer(1000.0 * self.organic()? / positive("volume less water and exempt solvent", left)?)
    }

    /// VOC in g per litre of solids, `(W_v − W_w − W_ec)/(V·VS)`, from the solids by volume of the mix, a share of 1: the only
    /// form that compares coatings linearly (ASTM D3960, 5.4). Water and exempt solvent drop out of it.
    ///
    /// ```
    /// use comb_scale_science::voc::{Ingredient, Volatiles};
    /// let mix = Volatiles::of_mix(&[Ingredient::of_solvent(100.0, 520.0)])?;
    /// assert!((mix.per_volume_of_solids(0.40)? - 1300.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale_science::mix::MixError>(())
    /// ```
    pub fn per_volume_of_solids(&self, volume_solids: f64) -> Result<f64, InputError> {
        answer(self.actual()? / share("solids by volume", volume_solids)?)
    }

    fn organic(&self) -> Result<f64, InputError> {
        not_negative("weight of water", self.water_g)?;
        not_negative("weight of exempt solvent", self.exempt_g)?;
        let all = not_negative("weight of volatiles", self.volatile_g)?;
        let left = all - self.water_g - self.exempt_g;
        // What sums leave of nothing is nothing.
        not_negative(
            "weight of volatiles less water and exempt solvent",
            if left.abs() < 1e-12 * all { 0.0 } else { left },
        )
    }
}
