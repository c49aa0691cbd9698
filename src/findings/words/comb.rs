//! Comb readings in words.

use super::refused::input_error_said;
use super::wording::Wording;
use crate::work::dab_interval;
use record::{Dab, SprayTest};
use science::comb::{CombError, Interval};

/// What is wrong with a comb or a dab, its teeth in the person's unit.
pub(crate) fn comb_said(trouble: &CombError, wording: &Wording) -> String {
    let tooth = |um: f64| wording.tooth(um);
    match *trouble {
        CombError::NoTeeth => "Enter the teeth of the comb first.".into(),
        CombError::BadTooth(_) => "Every tooth of the comb must be more than zero and shorter than a metre.".into(),
        CombError::OutOfOrder { before_um, tooth_um } => {
            format!("The teeth must rise: {} comes after {}.", tooth(tooth_um), tooth(before_um))
        }
        CombError::NotATooth(um) => format!("The comb has no tooth of {}.", tooth(um)),
        CombError::AboveLongest { wetted_um, longest_um } => {
            format!("{} is longer than the longest tooth of the comb, {}.", tooth(wetted_um), tooth(longest_um))
        }
        CombError::DryNotAbove { wetted_um, dry_um } => {
            format!("The first dry tooth ({}) must be above the last wetted one ({}).", tooth(dry_um), tooth(wetted_um))
        }
        CombError::TouchedNotNext { wetted_um, touched_um } => {
            format!("The touched tooth ({}) must be the next one above {}.", tooth(touched_um), tooth(wetted_um))
        }
        CombError::NoReadings => "There is no comb reading yet.".into(),
        CombError::NoUpperBound { above_um } => format!(
            "The film wetted the longest tooth: it is more than {}, and only a longer comb says more.",
            tooth(above_um)
        ),
        CombError::Input(error) => input_error_said(&error, wording),
    }
}

/// A dab spoken back: `between 300 and 350 µm`.
pub fn dab_in_words(test: &SprayTest, dab: &Dab, wording: &Wording) -> String {
    match dab_interval(test, dab) {
        None => "nothing read".into(),
        Some(Err(trouble)) => comb_said(&trouble, wording),
        Some(Ok(interval)) => in_words(&interval, wording),
    }
}

fn in_words(interval: &Interval, wording: &Wording) -> String {
    match (interval.low_um, interval.high_um) {
        (Some(low), Some(high)) => format!("between {} and {}", wording.bare_tooth(low), wording.tooth(high)),
        (Some(low), None) => format!("above {}: take a longer comb", wording.tooth(low)),
        (None, Some(high)) => format!("below {}", wording.tooth(high)),
        (None, None) => "nothing read".into(),
    }
}
