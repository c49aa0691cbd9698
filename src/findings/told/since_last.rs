//! From one weight of a panel to the next.

use super::panel::PanelFindings;
use crate::work::ScaleCard;
use record::Id;
use science::drying::{Say, Scale, Weighing};
use science::weigh::reading_u;

/// Standard deviations of a difference beyond which it is called odd: at two, one good weight in twenty would be.
const ODD: f64 = 3.0;

/// Repeatability where nobody measured it, in divisions of the scale (design choice).
const UNKNOWN_REPEATABILITY: f64 = 0.5;

/// Whether a panel's weight is heavier than the one before by more than chance.
pub(crate) fn heavier(panel: &PanelFindings, weigh_in: &Id) -> bool {
    SinceLast::to(panel, weigh_in).is_some_and(|step| step.change_g > step.limit_g + panel.work.may_gain_g())
}

/// From one weight of a panel to the next on the same scale, the drift that the blank shows taken off the later.
pub(crate) struct SinceLast {
    pub newest: Weighing,
    pub before: Weighing,
    /// How much heavier the panel has become, g.
    pub(crate) change_g: f64,
    /// How far the scale drifted between the two, as the blank shows it, g.
    pub(crate) drift_g: f64,
    /// How far the two may differ by chance, g.
    pub(crate) limit_g: f64,
}

impl SinceLast {
    pub fn to(panel: &PanelFindings, weigh_in: &Id) -> Option<Self> {
        let (card, readings) = (&panel.work.card, &panel.work.readings);
        let newest = panel.work.reading(weigh_in)?.weighing;
        let earlier = readings.iter().take_while(|reading| reading.id != *weigh_in).map(|reading| reading.weighing);
        let before = earlier.filter(|weighing| weighing.say != Say::SetAside).last()?;
        if newest.balance != before.balance {
            return None;
        }
        let scale = card.scales.as_ref().ok()?.iter().find(|scale| scale.number == newest.balance)?;
        let limit_g = chance_limit_g(&scale.scale)?;
        // Only what would be called drift at the blank itself: less than that is chance in the blank's own weight.
        let by_blank = || Some(blank_at(scale, newest.t_h)? - blank_at(scale, before.t_h)?);
        // A visit on which it was forgotten lies on the level that the curve has it on.
        let by_curve = || {
            let at = |weighing: &Weighing| {
                panel.work.forecast.as_ref().ok().map(|f| f.drift_at_g(weighing.balance, weighing.t_h))
            };
            Some(at(&newest)? - at(&before)?)
        };
        let drift_g = by_blank().or_else(by_curve).unwrap_or(0.0);
        let drift_g = if drift_g.abs() > limit_g { drift_g } else { 0.0 };
        let newest = Weighing { gross_g: newest.gross_g - drift_g, ..newest };
        Some(Self { newest, before, change_g: newest.gross_g - before.gross_g, drift_g, limit_g })
    }
}

/// How long before or after a panel the blank may have been weighed to speak for it, h (design choice).
const WITH_IT_H: f64 = 1.0;

/// What the blank weighed on a scale at about that time, g.
fn blank_at(scale: &ScaleCard, t_h: f64) -> Option<f64> {
    let apart = |reading: &&Weighing| (reading.t_h - t_h).abs();
    let near = scale.blank.iter().filter(|reading| apart(reading) <= WITH_IT_H);
    near.min_by(|a, b| apart(a).total_cmp(&apart(b))).map(|reading| reading.gross_g)
}

/// How far two weights of one thing may differ on a scale by chance, g.
pub(crate) fn chance_limit_g(scale: &Scale) -> Option<f64> {
    let sd_g = scale.repeatability.map_or(UNKNOWN_REPEATABILITY * scale.division_g, |r| r.sd_g);
    Some(ODD * std::f64::consts::SQRT_2 * reading_u(scale.division_g, sd_g).ok()?)
}
