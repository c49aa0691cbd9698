//! Volatile organic compounds of the mix, in g/L. Comparing coatings by it is linear only per volume of solids (ASTM D3960,
//! 5.4).

use super::input::{InputError, answer, not_negative, positive, share};
use serde::Serialize;

/// Density in g/mL that regulation takes for solvent, 7.36 lb/US gal (EPA-340/1-86-016).
pub const VOC_DENSITY: f64 = 7.36 * 453.592_37 / 3_785.411_784;

/// A mix as prepared for application: masses in g, volumes in mL, of any one amount of it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Volatiles {
    /// All that evaporates.
    pub volatile_g: f64,
    pub water_g: f64,
    pub exempt_g: f64,
    pub volume_ml: f64,
    pub water_ml: f64,
    pub exempt_ml: f64,
}

impl Volatiles {
    /// A mix whose volatiles are all solvent: density in g/mL, solids by weight as a share of 1.
    ///
    /// ```
    /// use comb_scale::science::voc::Volatiles;
    /// assert!((Volatiles::solvent_only(1.3, 0.6)?.actual()? - 520.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn solvent_only(density: f64, weight_solids: f64) -> Result<Self, InputError> {
        let volatile_g = positive("density of the mix", density)? * (1.0 - share("solids by weight", weight_solids)?);
        Ok(Self { volatile_g, water_g: 0.0, exempt_g: 0.0, volume_ml: 1.0, water_ml: 0.0, exempt_ml: 0.0 })
    }

    /// VOC actually in a litre of mix, g/L: `(W_v − W_w − W_ec)/V`.
    ///
    /// ```
    /// use comb_scale::science::voc::Volatiles;
    /// let mix = Volatiles {
    ///     volatile_g: 700.0, water_g: 400.0, exempt_g: 0.0, volume_ml: 1000.0, water_ml: 400.0, exempt_ml: 0.0,
    /// };
    /// assert!((mix.actual()? - 300.0).abs() < 1e-9 && (mix.less_water_and_exempt()? - 500.0).abs() < 1e-9);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn actual(&self) -> Result<f64, InputError> {
        answer(1000.0 * self.organic()? / positive("volume of the mix", self.volume_ml)?)
    }

    /// VOC less water and exempt compounds, g/L: `(W_v − W_w − W_ec)/(V − V_w − V_ec)` (40 CFR 59.104(a)(1)).
    ///
    /// ```
    /// use comb_scale::science::voc::Volatiles;
    /// let mix = Volatiles {
    ///     volatile_g: 6.89, water_g: 1.2, exempt_g: 0.5, volume_ml: 14.62, water_ml: 1.2, exempt_ml: 0.38,
    /// };
    /// assert!((mix.less_water_and_exempt()? - 398.006).abs() < 1e-3);
    /// # Ok::<(), comb_scale::science::input::InputError>(())
    /// ```
    pub fn less_water_and_exempt(&self) -> Result<f64, InputError> {
        not_negative("volume of water", self.water_ml)?;
        not_negative("volume of exempt solvent", self.exempt_ml)?;
        let left = positive("volume of the mix", self.volume_ml)? - self.water_ml - self.exempt_ml;
        answer(1000.0 * self.organic()? / positive("volume less water and exempt solvent", left)?)
    }

    fn organic(&self) -> Result<f64, InputError> {
        not_negative("weight of water", self.water_g)?;
        not_negative("weight of exempt solvent", self.exempt_g)?;
        let left = not_negative("weight of volatiles", self.volatile_g)? - self.water_g - self.exempt_g;
        not_negative("weight of volatiles less water and exempt solvent", left)
    }
}

/// VOC in g per litre of solids from VOC less water in g/L, all of it taken as solvent of the given density (g/mL):
/// `v/(1 − v/ρ)` (ASTM D3960, 5.4; [`VOC_DENSITY`] where the solvent's is not known).
///
/// ```
/// use comb_scale::science::voc::{VOC_DENSITY, per_solids};
/// assert!((per_solids(441.0, VOC_DENSITY)? - 882.0).abs() < 0.5, "half solvent, half solids");
/// # Ok::<(), comb_scale::science::input::InputError>(())
/// ```
pub fn per_solids(voc_g_per_l: f64, voc_density: f64) -> Result<f64, InputError> {
    let voc = not_negative("VOC", voc_g_per_l)?;
    let solids = 1.0 - voc / (1000.0 * positive("density of the solvent", voc_density)?);
    answer(voc / positive("solids by volume left beside this much solvent", solids)?)
}
