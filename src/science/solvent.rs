//! What left the panel. Every figure is an estimate: lost mass counts as solvent only where no water is in the paint and the
//! film takes up nothing from the air.

use super::estimate::Estimate;
use super::input::{InputError, answer, not_negative, positive};

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
