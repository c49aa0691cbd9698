//! How numbers and moments are written here: the one thing that is not handed from function to function, as a program's
//! locale is not. Every sentence, table and chart has numbers in it, a hundred and fifty places; the mark and the clock are a
//! matter of their last letters. Nothing that is stored, and no file for a spreadsheet, goes through here.

use std::cell::Cell;

use super::units::Units;

/// How a person writes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Manner {
    /// The units in which bounds are told; all else is told which.
    pub units: Units,
    /// A decimal comma in place of the point.
    pub comma: bool,
    /// A clock of twice twelve hours in place of one of 24.
    pub half_days: bool,
    /// The month before the day.
    pub month_first: bool,
}

/// Where paint is sold by the gallon and film told in mil: the United States and their territories (ISO 3166-1).
const CUSTOMARY: [&str; 6] = ["US", "PR", "GU", "VI", "AS", "MP"];

thread_local! {
    static MANNER: Cell<Manner> = const { Cell::new(Manner::PLAIN) };
}

impl Manner {
    /// As stored: µm, g, °C, a point, 24 hours.
    pub const PLAIN: Self = Self { units: Units::STORED, comma: false, half_days: false, month_first: false };

    /// As people write where a phone's language is that of `tag` (BCP 47), and writes 1.5 with a comma or not.
    ///
    /// ```
    /// use quantity::{Manner, Units};
    /// assert_eq!(Manner::of_region("en-US", false).units, Units::CUSTOMARY);
    /// assert_eq!(Manner::of_region("de-AT", true), Manner { comma: true, ..Manner::PLAIN });
    /// ```
    pub fn of_region(tag: &str, comma: bool) -> Self {
        // The region stands behind the language and, where there is one, the script.
        let customary =
            tag.split('-').skip(1).any(|part| CUSTOMARY.iter().any(|region| part.eq_ignore_ascii_case(region)));
        let units = if customary { Units::CUSTOMARY } else { Units::STORED };
        Self { units, comma, half_days: customary, month_first: customary }
    }

    /// How numbers and moments are written now.
    pub fn in_use() -> Self {
        MANNER.get()
    }

    /// From here on numbers and moments are written so.
    ///
    /// ```
    /// use quantity::{Manner, figure};
    /// Manner { comma: true, ..Manner::PLAIN }.take_on();
    /// assert_eq!(figure(12.5, 1), "12,5");
    /// Manner::PLAIN.take_on();
    /// assert_eq!(figure(12.5, 1), "12.5");
    /// ```
    pub fn take_on(self) {
        MANNER.set(self);
    }

    /// Does something in this manner, and goes back to the one before.
    pub fn during<T>(self, work: impl FnOnce() -> T) -> T {
        let before = MANNER.replace(self);
        let done = work();
        before.take_on();
        done
    }
}

/// A number's text with the decimal mark in use.
pub(super) fn marked(text: String) -> String {
    if Manner::in_use().comma { text.replace('.', ",") } else { text }
}

/// A sentence of ours with the decimal mark in use. What stands in brackets, as the number of a paragraph, stays.
///
/// ```
/// use quantity::{Manner, written};
/// Manner { comma: true, ..Manner::PLAIN }.take_on();
/// assert_eq!(written("2.5 % off (29 CFR 1910.107)."), "2,5 % off (29 CFR 1910.107).");
/// Manner::PLAIN.take_on();
/// ```
pub fn written(text: &str) -> String {
    if !Manner::in_use().comma {
        return text.to_owned();
    }
    let (mut said, mut inside, mut before) = (String::new(), 0, ' ');
    for (at, c) in text.char_indices() {
        inside += i32::from(c == '(') - i32::from(c == ')');
        let after = text[at..].chars().nth(1);
        let is_mark = c == '.' && before.is_ascii_digit() && after.is_some_and(|after| after.is_ascii_digit());
        said.push(if is_mark && inside == 0 { ',' } else { c });
        before = c;
    }
    said
}

/// A bound in the person's unit, with it: `787 mil`; as it stands where that is the unit it is kept in.
pub(super) fn bound(value: f64, unit: &'static str) -> (String, &'static str) {
    let shown = Manner::in_use().units.shown_in(unit);
    let as_stored = shown.symbol == unit;
    let text = if as_stored { marked(value.to_string()) } else { super::plain_to(shown.shown(value), 2) };
    (text, shown.symbol)
}
