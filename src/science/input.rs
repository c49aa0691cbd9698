//! What is asked of a number before the science uses it. A refusal is a value with its numbers, and no sentence: whoever shows it
//! to a person says it, in that person's units.

use serde::Serialize;

/// Why a number cannot be used. The text names the quantity, as in `coated area`.
///
/// ```
/// use comb_scale_science::input::{InputError, positive};
/// assert_eq!(positive("coated area", 0.0), Err(InputError::NotPositive("coated area")));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum InputError {
    /// Not a number that can be worked with.
    NotFinite(&'static str),
    /// Zero or less where only more than zero makes sense.
    NotPositive(&'static str),
    /// Less than zero.
    Negative(&'static str),
    /// Outside the range that makes sense.
    Outside {
        /// What the number is.
        what: &'static str,
        /// The least it may be.
        low: f64,
        /// The most it may be.
        high: f64,
        /// What both are in.
        unit: In,
    },
    /// A list with too few entries.
    TooFew {
        /// What the list is of.
        what: &'static str,
        /// How many entries it needs.
        least: usize,
    },
    /// Two lists that belong together differ in length.
    Unpaired(&'static str),
    /// The inputs are so extreme that the answer is no number.
    Extreme,
}

/// What the bounds of a number are in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum In {
    /// No unit.
    Numbers,
    /// Shares of 1.
    Shares,
    /// %.
    Percent,
    /// °C.
    Celsius,
    /// µm.
    Micrometres,
    /// min.
    Minutes,
}

/// The value, if it is a number.
///
/// ```
/// use comb_scale_science::input::finite;
/// assert!(finite("weight", f64::NAN).is_err());
/// ```
pub fn finite(what: &'static str, value: f64) -> Result<f64, InputError> {
    if value.is_finite() { Ok(value) } else { Err(InputError::NotFinite(what)) }
}

/// The value, if it is a number above zero.
///
/// ```
/// use comb_scale_science::input::positive;
/// assert!(positive("coated area", 900.0).is_ok() && positive("coated area", 0.0).is_err());
/// ```
pub fn positive(what: &'static str, value: f64) -> Result<f64, InputError> {
    if finite(what, value)? > 0.0 { Ok(value) } else { Err(InputError::NotPositive(what)) }
}

/// The value, if it is a number of at least zero.
///
/// ```
/// use comb_scale_science::input::not_negative;
/// assert!(not_negative("price", 0.0).is_ok() && not_negative("price", -1.0).is_err());
/// ```
pub fn not_negative(what: &'static str, value: f64) -> Result<f64, InputError> {
    if finite(what, value)? >= 0.0 { Ok(value) } else { Err(InputError::Negative(what)) }
}

/// The value, if it lies in the closed range, whose bounds are in `unit`.
///
/// ```
/// use comb_scale_science::input::{In, InputError, within};
/// let outside = InputError::Outside { what: "humidity", low: 0.0, high: 100.0, unit: In::Percent };
/// assert_eq!(within("humidity", 120.0, 0.0, 100.0, In::Percent), Err(outside));
/// ```
pub fn within(what: &'static str, value: f64, low: f64, high: f64, unit: In) -> Result<f64, InputError> {
    let outside = InputError::Outside { what, low, high, unit };
    if (low..=high).contains(&finite(what, value)?) { Ok(value) } else { Err(outside) }
}

/// A share of 1 that is above zero: solids, transfer efficiency.
///
/// ```
/// use comb_scale_science::input::share;
/// assert!(share("solids by volume", 0.45).is_ok() && share("solids by volume", 1.2).is_err());
/// ```
pub fn share(what: &'static str, value: f64) -> Result<f64, InputError> {
    within(what, positive(what, value)?, 0.0, 1.0, In::Shares)
}

/// Lets an answer out only if it is a number: finite inputs can still overflow.
///
/// ```
/// use comb_scale_science::input::answer;
/// assert!(answer(1e300 * 1e300).is_err());
/// ```
pub fn answer(value: f64) -> Result<f64, InputError> {
    if value.is_finite() { Ok(value) } else { Err(InputError::Extreme) }
}
