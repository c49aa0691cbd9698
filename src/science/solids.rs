//! Solids and densities, as measured on the panel, in a dish or in a cup, and as a data sheet states them; wet and dry film
//! by the sheet.

use super::estimate::Measured;
use super::input::{In, InputError, answer, not_negative, positive, share, within};
use serde::Serialize;

/// Solids by weight from three weighings, as a share of 1: `(dry − empty)/(wet − empty)`. On a panel that is the solids
/// after that time in that place, at least the oven value, as solvent stays behind; in a dish the same formula (ISO 3251
/// form, from memory; ASTM D2369). `u_g` is the uncertainty of one weighing; the empty weight is shared.
///
/// ```
/// use comb_scale_science::solids::weight_solids;
/// let nv = weight_solids(1.5020, 2.0031, 1.8287, 0.0001)?;
/// assert!((nv.value - 0.651_965_7).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn weight_solids(empty_g: f64, wet_g: f64, dry_g: f64, u_g: f64) -> Result<Measured, InputError> {
    not_negative("bare weight", empty_g)?;
    let wet = positive("wet coat", wet_g - empty_g)?;
    let dry = positive("dry coat", dry_g - empty_g)?;
    let value = answer(dry / wet)?;
    not_negative("uncertainty of a weighing", u_g)?;
    // d/d(dry) = 1/wet; d/d(wet) = −NV/wet; d/d(empty) = (NV − 1)/wet.
    Measured::answer(value, u_g / wet * (1.0 + value * value + (1.0 - value).powi(2)).sqrt())
}

/// Standard deviation between laboratories of solids by weight from a dish, as a share of the result (ASTM D2369, coefficient
/// of variation as published).
pub const DISH_BETWEEN: f64 = 0.017;

/// One dish of mixed primer: empty, with the wet mix, and dried, g.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Dish {
    /// The empty dish, g.
    pub empty_g: f64,
    /// The dish with the wet mix, g.
    pub wet_g: f64,
    /// The dish with what stayed, g.
    pub dry_g: f64,
}

/// Solids by weight of the *mix in the cup*, reducer and all, as measured on dishes: the mean of [`weight_solids`], a share
/// of 1. Its uncertainty joins the weighing, or the scatter between dishes where that is larger, and [`DISH_BETWEEN`]: all
/// dishes dried in one place share that place's error. To use in place of the sheet's in [`super::routes::DryDensity`].
///
/// ```
/// use comb_scale_science::solids::{Dish, dish_solids};
/// let dish = Dish { empty_g: 1.5020, wet_g: 2.0031, dry_g: 1.8287 };
/// let nv = dish_solids(&[dish], 0.0001)?;
/// assert!((nv.value - 0.651_966).abs() < 1e-6 && (nv.u / nv.value - 0.017).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn dish_solids(dishes: &[Dish], u_g: f64) -> Result<Measured, InputError> {
    let mut values = Vec::with_capacity(dishes.len());
    let mut weighing = 0.0_f64;
    for dish in dishes {
        let one = weight_solids(dish.empty_g, dish.wet_g, dish.dry_g, u_g)?;
        share("solids by weight of a dish", one.value)?;
        weighing = weighing.hypot(one.u);
        values.push(one.value);
    }
    let s = super::film::summary("dishes", &values)?;
    let n = s.count as f64;
    let own = (weighing / n).max(s.sd.unwrap_or(0.0) / n.sqrt());
    Measured::answer(s.mean, own.hypot(DISH_BETWEEN * s.mean))
}

/// Density in g/cm³ from a cup of known volume, `(full − empty)/V` (ASTM D1475, ISO 2811-1 form, from memory). Masses in g,
/// each with uncertainty `u_g`; V in cm³.
///
/// ```
/// use comb_scale_science::{Measured, solids::cup_density};
/// assert!((cup_density(36.20, 170.35, 0.01, Measured::exact(100.0))?.value - 1.3415).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn cup_density(empty_g: f64, full_g: f64, u_g: f64, volume_cm3: Measured) -> Result<Measured, InputError> {
    not_negative("weight of the empty cup", empty_g)?;
    let mass = positive("paint in the cup", full_g - empty_g)?;
    let volume = positive("volume of the cup", volume_cm3.checked("volume of the cup")?.value)?;
    let u_mass = 2.0_f64.sqrt() * not_negative("uncertainty of a weighing", u_g)?;
    let value = mass / volume;
    Measured::answer(value, value * (u_mass / mass).hypot(volume_cm3.relative()))
}

/// Solids by volume and density of the dry film that follow from weights.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct VolumeSolids {
    /// Share of 1.
    pub solids: Measured,
    /// g/cm³.
    pub dry_density: Measured,
}

/// Solids by volume by mass balance, `NVV = 1 − (1 − NV)·ρ/ρ_s`, and dry density `ρ·NV/NVV` (scope of ISO 3233-3; equation
/// not read). NV is solids by weight as a share of 1, densities in g/cm³: of the paint and of its solvent. Not above the
/// critical pigment volume: pores are not counted.
///
/// ```
/// use comb_scale_science::{Measured, solids::volume_solids};
/// let got = volume_solids(Measured::new(0.70, 0.007), Measured::new(1.45, 0.01), Measured::new(0.87, 0.015))?;
/// assert!((got.solids.value - 0.50).abs() < 1e-9 && (got.solids.u - 0.014_910_3).abs() < 1e-6);
/// assert!((got.dry_density.value - 2.03).abs() < 1e-9 && (got.dry_density.u - 0.052_360_3).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn volume_solids(
    weight_solids: Measured,
    density: Measured,
    solvent_density: Measured,
) -> Result<VolumeSolids, InputError> {
    let nv = share("solids by weight", weight_solids.checked("solids by weight")?.value)?;
    let rho = positive("density of the mix", density.checked("density of the mix")?.value)?;
    let rho_s = positive("density of the solvent", solvent_density.checked("density of the solvent")?.value)?;
    let nvv = share("solids by volume that follow from these densities", 1.0 - (1.0 - nv) * rho / rho_s)?;
    let by = [rho / rho_s, -(1.0 - nv) / rho_s, (1.0 - nv) * rho / rho_s.powi(2)];
    let dry = rho * nv / nvv;
    // ρ_dry = ρ·NV/NVV depends on each input directly and through NVV.
    let of_dry = [rho / nvv - dry / nvv * by[0], nv / nvv - dry / nvv * by[1], -dry / nvv * by[2]];
    let u = [weight_solids.u, density.u, solvent_density.u];
    let root = |slopes: [f64; 3]| slopes.iter().zip(u).map(|(slope, u)| (slope * u).powi(2)).sum::<f64>().sqrt();
    Ok(VolumeSolids { solids: Measured::answer(nvv, root(by))?, dry_density: Measured::answer(dry, root(of_dry))? })
}

/// Film in µm of a mass (g) at a density (g/cm³) over an area (cm²), `10⁴ m/(ρ·A)` (GUM eq. (10) for the uncertainty).
///
/// ```
/// use comb_scale_science::{Measured, solids::film};
/// let dry = film(Measured::new(13.58, 0.0408), Measured::new(2.05, 0.06), Measured::new(900.0, 4.0))?;
/// assert!((dry.value - 73.604_34).abs() < 1e-4 && (dry.u - 2.190_162).abs() < 1e-5);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn film(mass_g: Measured, density: Measured, area_cm2: Measured) -> Result<Measured, InputError> {
    mass_g.checked("weight")?;
    let rho = positive("density", density.checked("density")?.value)?;
    let area = positive("coated area", area_cm2.checked("coated area")?.value)?;
    let value = 1e4 * mass_g.value / (rho * area);
    let u_mass = 1e4 * mass_g.u / (rho * area);
    Measured::answer(value, u_mass.hypot(value * density.relative()).hypot(value * area_cm2.relative()))
}

/// Solids by volume after reducer, `VS/(1 + th)`, th the volume of reducer per volume of paint (Metal Finishing Guidebook
/// 2012–13, p. 615; MIL-HDBK-1110, 2.1.5). Shares of 1.
///
/// ```
/// use comb_scale_science::solids::reduced_solids;
/// assert!((reduced_solids(0.50, 0.10)? - 0.4545).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn reduced_solids(solids: f64, thinning: f64) -> Result<f64, InputError> {
    answer(share("solids by volume", solids)? / (1.0 + not_negative("amount of reducer", thinning)?))
}

/// Wet film that gives a wanted dry one, in the unit of the latter: `D·(1 + th)/VS`.
///
/// ```
/// use comb_scale_science::solids::wet_for_dry;
/// assert!((wet_for_dry(100.0, 0.6, 0.15)? - 191.666_667).abs() < 1e-5);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn wet_for_dry(dry: f64, solids: f64, thinning: f64) -> Result<f64, InputError> {
    answer(positive("wanted dry film", dry)? / reduced_solids(solids, thinning)?)
}

/// A stated solids for the mix without reducer, as a share of 1, brought to what a dish of *reduced* mix says: the same
/// weight of reducer per weight of paint, `NV/(1 + r)`.
///
/// ```
/// use comb_scale_science::solids::weight_solids_reduced;
/// assert!((weight_solids_reduced(0.66, 0.10)? - 0.6).abs() < 1e-12);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn weight_solids_reduced(weight_solids: f64, reducer_by_weight: f64) -> Result<f64, InputError> {
    within("amount of reducer", reducer_by_weight, 0.0, 100.0, In::Numbers)?;
    answer(share("solids by weight", weight_solids)? / (1.0 + reducer_by_weight))
}
