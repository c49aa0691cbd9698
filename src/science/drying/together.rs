//! A round in which all panels, or most, are off by the same amount: that is the scale or the air, and no panel.

/// How far one panel's reading in a round is off what its earlier ones lead to expect.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffBy {
    /// Reading less what was expected, g.
    pub by_g: f64,
    /// Scatter of the reading, g.
    pub reading_sd_g: f64,
    /// sd of what was expected, g; panels dry alike, so curves may all be wrong the same way.
    pub curve_sd_g: f64,
}

/// What the panels of a round have in common.
#[derive(Debug, Clone, PartialEq)]
pub struct Together {
    /// By how much they are off, g.
    pub by_g: f64,
    /// Its sd, g: of the readings' scatter what so many leave, of the curves' all.
    pub sd_g: f64,
    /// Which of them are off by it, in the caller's order.
    pub with: Vec<bool>,
}

/// Panels are off by the same where they lie within so many sd of the middle one.
const ALIKE_SDS: f64 = 3.0;
/// Off by more than so many sd of what they have in common, and of a difference of two readings of one panel.
const ODD_SDS: f64 = 3.0;
/// As little as this many panels can be off together; of more it takes more than half.
const LEAST_PANELS: usize = 2;

/// What all panels of a round, or more than half of them, are off by; `None` where they are as expected, or off each by
/// itself. One panel alone never tells.
///
/// ```
/// use comb_scale_science::drying::{OffBy, moved_together};
/// let off = |by_g| OffBy { by_g, reading_sd_g: 0.05, curve_sd_g: 0.1 };
/// let found = moved_together(&[off(-1.2), off(-1.3), off(-1.1), off(2.0)]).unwrap();
/// assert_eq!(found.with, [true, true, true, false]);
/// assert!((found.by_g + 1.2).abs() < 1e-9 && found.sd_g > 0.1);
/// assert_eq!(moved_together(&[off(-1.2), off(0.0), off(0.1)]), None);
/// ```
#[must_use]
pub fn moved_together(off: &[OffBy]) -> Option<Together> {
    let sd = |of: &OffBy| of.reading_sd_g.hypot(of.curve_sd_g);
    let mut sorted: Vec<f64> = off.iter().map(|of| of.by_g).filter(|by| by.is_finite()).collect();
    order::sort_by(&mut sorted, f64::total_cmp);
    let count = sorted.len();
    let middle = 0.5 * (sorted.get(count.checked_sub(1)? / 2)? + sorted[count / 2]);
    let with: Vec<bool> = off.iter().map(|of| (of.by_g - middle).abs() <= ALIKE_SDS * sd(of)).collect();
    let members = || off.iter().zip(&with).filter(|(_, with)| **with).map(|(of, _)| of);
    let n = members().count();
    if n < LEAST_PANELS || 2 * n <= off.len() {
        return None;
    }
    let mean = |of: fn(&OffBy) -> f64| members().map(of).sum::<f64>() / n as f64;
    let (by_g, reading_sd_g) = (mean(|of| of.by_g), mean(|of| of.reading_sd_g));
    let sd_g = mean(|of| of.curve_sd_g).hypot(reading_sd_g / (n as f64).sqrt());
    let chance = (std::f64::consts::SQRT_2 * reading_sd_g).max(sd_g);
    (by_g.abs() > ODD_SDS * chance).then_some(Together { by_g, sd_g, with })
}
