//! On which side of a jump a reading lies that was made between the blank's weighings, far from both: the panel's own other
//! readings tell, where only one of the two levels of the scale agrees with them.

use super::balance::Drifts;
use super::drift::Side;
use super::readings::Reading;

/// Scatter of a prediction, in u.
const PREDICTED_SD: f64 = 0.12;
/// How much of the last slope is believed to go on.
const SLOPE_KEPT: f64 = 0.7;
/// sd of an extrapolated step, as a share of it.
const STEP_SD: f64 = 0.5;
/// sd of an interpolated step, as a share of it.
const BETWEEN_SD: f64 = 0.2;
/// One side agrees within so many sd of what is predicted, and the other is as many farther off.
const CLEAR_SDS: f64 = 3.0;

/// A mass at an age: (√h, g).
pub(super) type At = (f64, f64);

/// What a reading at root age `x` should be, g, and its sd, from those around it: interpolated in √t where one comes after it,
/// else the last two going on, less steeply. `None` without one before, or one after or a second before.
pub(super) fn predicted(before: Option<At>, last: At, next: Option<At>, x: f64, u: f64) -> Option<(f64, f64)> {
    let scatter = PREDICTED_SD * u;
    if let Some(next) = next {
        let (step, span) = (next.1 - last.1, next.0 - last.0);
        let share = if span > 0.0 { (x - last.0) / span } else { 0.5 };
        return Some((last.1 + share * step, scatter.hypot(BETWEEN_SD * step)));
    }
    let before = before?;
    let span = last.0 - before.0;
    let slope = if span > 0.0 { (last.1 - before.1) / span } else { 0.0 };
    let step = SLOPE_KEPT * (slope * (x - last.0)).min(0.0);
    Some((last.1 + step, scatter.hypot(STEP_SD * step)))
}

/// Takes from a panel's readings on which side of a jump each of them lies that was made far from the blank; what is clear
/// goes into `drifts`.
pub(super) fn tell_sides(readings: &[Reading], drifts: &mut Drifts, u: f64) {
    let wet = (readings[0].balance, readings[0].t_h);
    for (i, reading) in readings.iter().enumerate().skip(1) {
        let at = (reading.balance, reading.t_h);
        let Some(sides) = drifts.sides(at) else { continue };
        let root = |r: &Reading| (r.t_h - wet.1).max(0.0).sqrt();
        let sure = |r: &&Reading| drifts.too_doubtful((r.balance, r.t_h)).is_none();
        let mass = |r: &Reading| (root(r), r.gross - drifts.between(wet, (r.balance, r.t_h)));
        let mut earlier = readings[..i].iter().rev().filter(sure).map(mass);
        let Some(last) = earlier.next() else { continue };
        let next = readings[i + 1..].iter().find(sure).map(mass);
        let Some((expected, sd)) = predicted(earlier.next(), last, next, root(reading), u) else { continue };
        let off = |side: Side| {
            let taken = drifts.between(wet, at) - drifts.at(at) + sides.drift_g(side);
            ((reading.gross - taken - expected) / sd).abs()
        };
        let (before, after) = (off(Side::Before), off(Side::After));
        let (side, near, far) =
            if before < after { (Side::Before, before, after) } else { (Side::After, after, before) };
        if near <= CLEAR_SDS && far >= near + CLEAR_SDS {
            drifts.tell(at, side);
        }
    }
}
