//! How much to mix.

use crate::input::{InputError, answer, not_negative, positive, share};

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
