//! What is asked of a number before the science uses it. Each refusal is one plain sentence.

use serde::Serialize;
use std::fmt;

/// Why a number cannot be used. The text names the quantity in the painter's words.
///
/// ```
/// use comb_scale_science::input::{InputError, positive};
/// assert_eq!(positive("coated area", 0.0), Err(InputError::NotPositive("coated area")));
/// assert_eq!(InputError::NotPositive("coated area").to_string(), "The coated area must be more than zero.");
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

impl fmt::Display for InputError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotFinite(what) => write!(f, "The {what} is not a number."),
            Self::NotPositive(what) => write!(f, "The {what} must be more than zero."),
            Self::Negative(what) => write!(f, "The {what} cannot be less than zero."),
            Self::Outside { what, low, high } => write!(f, "The {what} must lie between {low} and {high}."),
            Self::TooFew { what, least: 1 } => write!(f, "There are no {what} yet."),
            Self::TooFew { what, least } => write!(f, "At least {least} {what} are needed."),
            Self::Unpaired(what) => write!(f, "There must be equally many {what}."),
            Self::Extreme => f.write_str("These numbers are too large or too small to give an answer."),
        }
    }
}

impl std::error::Error for InputError {}

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

/// The value, if it lies in the closed range.
///
/// ```
/// use comb_scale_science::input::within;
/// assert_eq!(
///     within("humidity", 120.0, 0.0, 100.0).unwrap_err().to_string(),
///     "The humidity must lie between 0 and 100."
/// );
/// ```
pub fn within(what: &'static str, value: f64, low: f64, high: f64) -> Result<f64, InputError> {
    if (low..=high).contains(&finite(what, value)?) { Ok(value) } else { Err(InputError::Outside { what, low, high }) }
}

/// A share of 1 that is above zero: solids, transfer efficiency.
///
/// ```
/// use comb_scale_science::input::share;
/// assert!(share("solids by volume", 0.45).is_ok() && share("solids by volume", 1.2).is_err());
/// ```
pub fn share(what: &'static str, value: f64) -> Result<f64, InputError> {
    within(what, positive(what, value)?, 0.0, 1.0)
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
