//! Numbers as people type them.

use std::fmt;

/// Why typed text is not a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotANumber {
    /// Nothing was typed.
    Empty,
    /// Both a point and a comma, or one of them twice: `1.234,5` may mean two things.
    Ambiguous,
    /// Something that is no digit, sign, point or comma.
    Unreadable,
}

impl fmt::Display for NotANumber {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Empty => "Type a number.",
            Self::Ambiguous => "Use one decimal point or one comma, and nothing between the thousands.",
            Self::Unreadable => "That is not a number: use digits and one decimal point or comma.",
        })
    }
}

impl std::error::Error for NotANumber {}

/// Reads a number as typed: `12.5` and `12,5` are the same, spaces around it do not matter.
///
/// # Errors
/// [`NotANumber`] says why the text cannot be read. Exponents, hexadecimal, `inf` and `nan` are no way to write a weight.
///
/// ```
/// use quantity::{NotANumber, read_number};
/// assert_eq!(read_number("12.5"), Ok(12.5));
/// assert_eq!(read_number(" 12,5 "), Ok(12.5));
/// assert_eq!(read_number("1.234,5"), Err(NotANumber::Ambiguous));
/// ```
pub fn read_number(text: &str) -> Result<f64, NotANumber> {
    let text = text.trim();
    if text.is_empty() {
        return Err(NotANumber::Empty);
    }
    let digits = text.strip_prefix(['-', '+', '−']).unwrap_or(text);
    let is_mark = |c: char| c == '.' || c == ',';
    if !digits.chars().all(|c| c.is_ascii_digit() || is_mark(c)) || !digits.contains(|c: char| c.is_ascii_digit()) {
        return Err(NotANumber::Unreadable);
    }
    if digits.matches(is_mark).count() > 1 {
        return Err(NotANumber::Ambiguous);
    }
    let value: f64 = digits.replace(',', ".").parse().map_err(|_| NotANumber::Unreadable)?;
    let negative = text.starts_with(['-', '−']);
    if value.is_finite() { Ok(if negative { -value } else { value }) } else { Err(NotANumber::Unreadable) }
}

/// How many digits stand between two marks of thousands.
const THOUSAND: usize = 3;

/// The two numbers that a text may mean whose one mark has three digits behind it: without the mark, and with it as the
/// decimal mark. `None` where it can mean but one.
///
/// ```
/// use quantity::either_number;
/// assert_eq!(either_number("1,234"), Some((1234.0, 1.234)));
/// assert_eq!(either_number("0.234"), None);
/// assert_eq!(either_number("1.2340"), None);
/// ```
pub fn either_number(text: &str) -> Option<(f64, f64)> {
    let text = text.trim();
    let (before, behind) = text.split_once(['.', ','])?;
    let lead = before.trim_start_matches(['-', '+', '−']);
    let thousands = behind.len() == THOUSAND && (1..=THOUSAND).contains(&lead.len()) && !lead.starts_with('0');
    if !thousands {
        return None;
    }
    Some((read_number(&[before, behind].concat()).ok()?, read_number(text).ok()?))
}

#[cfg(test)]
mod tests {
    use super::{NotANumber::*, read_number};

    #[test]
    fn both_marks_are_read_and_only_one_of_them() {
        for (text, value) in
            [("0", 0.0), ("12.5", 12.5), ("12,5", 12.5), (",5", 0.5), ("5.", 5.0), ("−3,2", -3.2), ("+4", 4.0)]
        {
            assert_eq!(read_number(text), Ok(value), "{text}");
        }
        for text in ["1.234,5", "1,234.5", "1.2.3", "1,,2"] {
            assert_eq!(read_number(text), Err(Ambiguous), "{text}");
        }
    }

    #[test]
    fn what_is_no_weight_is_refused() {
        for text in ["abc", "1e3", "0x10", "inf", "NaN", "12 5", "12g", ".", "-", "٣", &"9".repeat(400)] {
            assert_eq!(read_number(text), Err(Unreadable), "{text}");
        }
        assert_eq!(read_number("  "), Err(Empty));
    }
}
