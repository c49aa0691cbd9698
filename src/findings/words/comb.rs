//! Comb readings in words.

use super::tongue::Tongue;
use crate::work::dab_interval;
use record::{Dab, SprayTest};
use science::comb::{CombError, Interval};

/// What is wrong with a comb or a dab, its teeth in the person's unit.
pub(crate) fn comb_said(trouble: &CombError, tongue: &Tongue) -> String {
    trouble.told(&|um| tongue.tooth(um))
}

/// A dab spoken back: `between 300 and 350 µm`.
pub fn dab_in_words(test: &SprayTest, dab: &Dab, tongue: &Tongue) -> String {
    match dab_interval(test, dab) {
        None => "nothing read".into(),
        Some(Err(trouble)) => comb_said(&trouble, tongue),
        Some(Ok(interval)) => in_words(&interval, tongue),
    }
}

fn in_words(interval: &Interval, tongue: &Tongue) -> String {
    match (interval.low_um, interval.high_um) {
        (Some(low), Some(high)) => format!("between {} and {}", tongue.bare_tooth(low), tongue.tooth(high)),
        (Some(low), None) => format!("above {}: take a longer comb", tongue.tooth(low)),
        (None, Some(high)) => format!("below {}", tongue.tooth(high)),
        (None, None) => "nothing read".into(),
    }
}
