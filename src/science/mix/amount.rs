//! How much to mix, and what follows from how much of each is in the cup.

use crate::estimate::Measured;
use crate::input::{InputError, answer, not_negative, positive, share};

/// Volume ratio of two components as weighed, with its uncertainty: `(m_a/ρ_a)/(m_b/ρ_b)`, relative variances adding. Masses
/// in g, densities in g/mL.
///
/// ```
/// use comb_scale_science::{Measured, mix::volume_ratio};
/// let m = |value| Measured::new(value, 0.0408);
/// let ratio = volume_ratio(m(290.0), Measured::new(1.45, 0.015), m(52.5), Measured::new(1.05, 0.01))?;
/// assert!((ratio.value - 4.0).abs() < 1e-9 && (ratio.u - 0.056_333_6).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
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
/// use comb_scale_science::mix::weighed_as_volume;
/// assert!((weighed_as_volume(1.45, 1.05)? - 0.380_952).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn weighed_as_volume(density_a: f64, density_b: f64) -> Result<f64, InputError> {
    answer(positive("density", density_a)? / positive("density", density_b)? - 1.0)
}

/// Solids of a mix, as a share of 1: by weight from grams, by volume from millilitres; `Σ amount·solids/Σ amount`. A reducer
/// has none. The same mean gives the VOC of a mix from volumes, where there is neither water nor exempt solvent.
///
/// ```
/// use comb_scale_science::mix::mean_by_amount;
/// assert!((mean_by_amount(&[290.0, 52.5, 43.5], &[0.70, 0.55, 0.0])? - 0.600_712).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
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

/// Area in cm² that the gun has to cover for panels of these sides (width, length, in mm): each with a margin of overspray
/// all round, `(w + 2m)(l + 2m)`, since a fan of paint does not stop at an edge.
///
/// ```
/// use comb_scale_science::mix::area_to_spray;
/// let three = [(200.0, 300.0); 3];
/// assert!((area_to_spray(&three, 0.0)? - 1800.0).abs() < 1e-9 && (area_to_spray(&three, 50.0)? - 3600.0).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn area_to_spray(sides_mm: &[(f64, f64)], margin_mm: f64) -> Result<f64, InputError> {
    let both = 2.0 * not_negative("margin of overspray", margin_mm)?;
    if sides_mm.is_empty() {
        return Err(InputError::TooFew { what: "panels", least: 1 });
    }
    let mut area = 0.0;
    for &(width, length) in sides_mm {
        area += (positive("width of a panel", width)? + both) * (positive("length of a panel", length)? + both);
    }
    answer(area / 100.0)
}

/// How much to mix in mL: `A·W·coats/TE` with area in cm² ([`area_to_spray`]), wet film per coat in µm, transfer efficiency
/// as a share of 1, plus what stays in cup and hose (mL).
///
/// ```
/// use comb_scale_science::mix::amount_to_mix;
/// assert!((amount_to_mix(5400.0, 150.0, 2, 0.5, 50.0)? - 374.0).abs() < 1e-9);
/// assert!(amount_to_mix(5400.0, 150.0, 0, 0.5, 50.0).is_err(), "no coat, no paint");
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn amount_to_mix(
    area_cm2: f64,
    wet_film_um: f64,
    coats: usize,
    transfer_efficiency: f64,
    dead_ml: f64,
) -> Result<f64, InputError> {
    let film_ml = positive("area to spray", area_cm2)? * positive("wet film", wet_film_um)? * 1e-4;
    let coats = positive("number of coats", coats as f64)?;
    let efficiency = share("transfer efficiency", transfer_efficiency)?;
    answer(film_ml * coats / efficiency + not_negative("amount left in the gun", dead_ml)?)
}
