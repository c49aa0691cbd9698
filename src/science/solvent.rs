//! What left the panel. Every figure is an estimate: lost mass counts as solvent only where no water is in the paint and the
//! film takes up nothing from the air.

use super::distribution::Distribution;
use super::estimate::{Estimate, Measured};
use super::input::{InputError, answer, not_negative, positive};

/// Film in µm that a lost mass made up, `10⁴ Δm/(ρ_s·A)`: the posterior of the loss (g) carried whole, with the uncertainties
/// of solvent density (g/mL) and area (cm²). Used for what has left and for what is still to go.
///
/// ```
/// use comb_scale_science::{Measured, Distribution, solvent::film_lost};
/// let film = film_lost(&Measured::new(1.0, 0.0).into(), Measured::exact(0.87), Measured::exact(900.0))?;
/// assert!((film.mid - 12.771_39).abs() < 1e-5);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn film_lost(lost_g: &Distribution, solvent_density: Measured, area_cm2: Measured) -> Result<Estimate, InputError> {
    lost_g.divided(1e4, &[solvent_density, area_cm2])
}

/// What left per area, g/m²: `10⁴ Δm/A`, A in cm².
///
/// ```
/// use comb_scale_science::{Measured, solvent::per_area};
/// assert!((per_area(&Measured::new(6.9, 0.1).into(), Measured::exact(900.0))?.mid - 76.667).abs() < 1e-3);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn per_area(lost_g: &Distribution, area_cm2: Measured) -> Result<Estimate, InputError> {
    lost_g.divided(1e4, &[area_cm2])
}

/// What left per volume of the wet coat, g/L: `10⁷ Δm/(W·A)`, W in µm and A in cm². What flashed off between gun and scale is
/// not in it, so it is at most what the mix held.
///
/// ```
/// use comb_scale_science::{Measured, solvent::per_litre};
/// let wet = Measured::new(150.0, 7.0);
/// assert!((per_litre(&Measured::new(6.9, 0.1).into(), wet, Measured::exact(900.0))?.mid - 511.1).abs() < 0.1);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn per_litre(lost_g: &Distribution, wet_um: Measured, area_cm2: Measured) -> Result<Estimate, InputError> {
    lost_g.divided(1e7, &[wet_um, area_cm2])
}

/// Share of the wet coat (g) that left, of 1.
///
/// ```
/// use comb_scale_science::{Measured, solvent::share_of_coat};
/// assert!((share_of_coat(&Measured::new(6.9, 0.1).into(), Measured::new(20.5, 0.1))?.mid - 0.3366).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn share_of_coat(lost_g: &Distribution, coat_g: Measured) -> Result<Estimate, InputError> {
    lost_g.divided(1.0, &[coat_g])
}

/// Share of the wet film that stays, of 1: `1 − 10⁴ Δm/(ρ_s·A·W)`, with the whole uncertainty of the wet film (µm), the
/// comb's own error included.
///
/// ```
/// use comb_scale_science::{Measured, solvent::build_kept};
/// let (rho, area, wet) = (Measured::new(0.87, 0.03), Measured::new(900.0, 9.0), Measured::new(162.5, 8.0));
/// assert!((build_kept(&Measured::new(6.89, 0.05).into(), rho, area, wet)?.mid - 0.4585).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn build_kept(
    lost_g: &Distribution,
    solvent_density: Measured,
    area_cm2: Measured,
    wet_um: Measured,
) -> Result<Estimate, InputError> {
    let gone = lost_g.divided(1e4, &[solvent_density, area_cm2, wet_um])?;
    Ok(Estimate { low: 1.0 - gone.high, mid: 1.0 - gone.mid, high: 1.0 - gone.low })
}

/// What a dry build of `wanted_um`, left after sanding off `sanding_um`, gives off on its way, g/m²: `ρ_s·D·(1 − k)/k`, with the
/// share k of the wet film that stays and its interval, and the solvent density in g/mL. Paint that misses the panel is not in
/// it. The density is taken as it stands: its uncertainty is in k's interval already, a little more than in full. Refused
/// while that interval reaches down to nothing kept.
///
/// ```
/// use comb_scale_science::{Estimate, solvent::at_build};
/// let kept = Estimate { low: 0.40, mid: 0.50, high: 0.625 };
/// // 100 µm dry from 200 µm wet: 100 µm leave, 87 g on a square metre.
/// let off = at_build(80.0, 20.0, &kept, 0.87)?;
/// assert!((off.mid - 87.0).abs() < 1e-9 && (off.low - 52.2).abs() < 1e-9 && (off.high - 130.5).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn at_build(
    wanted_um: f64,
    sanding_um: f64,
    kept: &Estimate,
    solvent_density: f64,
) -> Result<Estimate, InputError> {
    let dry = positive("wanted dry film", wanted_um)? + not_negative("film sanded off", sanding_um)?;
    let density = positive("density of the solvent", solvent_density)?;
    let off = |share: f64| {
        let share = positive("share of the wet film that is surely kept", share)?;
        answer((density * dry * (1.0 - share) / share).max(0.0))
    };
    Ok(Estimate { low: off(kept.high)?, mid: off(kept.mid)?, high: off(kept.low)? })
}
