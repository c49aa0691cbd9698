//! Numbers as typed and shown in a field, in the person's unit.

use super::wording::Wording;
use quantity::{Manner, Measure, either_number, figure, read_number};

/// Why a typed text is not taken as a number.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NotRead {
    /// The sentence to show beside the field.
    pub why: String,
    /// What the text may mean, where that is two things: each as it is said, and as it is typed so that it means no other.
    pub either: Vec<(String, String)>,
}

impl NotRead {
    /// In one sentence where nobody can be asked: what to type instead is told.
    pub fn said(self) -> String {
        match &self.either[..] {
            [(_, whole), (_, broken)] => format!("{} Type {whole} or {broken}.", self.why),
            _ => self.why,
        }
    }
}

impl From<String> for NotRead {
    fn from(why: String) -> Self {
        Self { why, either: Vec::new() }
    }
}

/// Reads a typed number of a measure into the record's unit, with the measure's own unit behind it or without.
///
/// `near` is a number like the one to come, as stored: what the panel weighed last, say. Of a text that may mean two
/// things, as `1,234`, it decides; where it does not, and both could be meant, the painter is asked.
///
/// # Errors
/// [`NotRead`]: no number, or two that both could be meant.
///
/// ```
/// use findings::Wording;
/// use findings::words::read_near;
/// use record::Measure;
/// let read = |typed, near| read_near(Measure::Mass, typed, near, &Wording::default());
/// assert_eq!(read("426.1 g", None), Ok(426.1));
/// assert_eq!(read("1,234", Some(1240.0)), Ok(1234.0));
/// assert_eq!(read("1,234", None).unwrap_err().why, "1234 g or 1.234 g?");
/// ```
pub fn read_near(measure: Measure, typed: &str, near: Option<f64>, wording: &Wording) -> Result<f64, NotRead> {
    let number = bare_number(measure, typed, wording)?;
    let Some((whole, broken)) = either_number(number) else {
        return Ok(stored_in(measure, read_number(number).map_err(|trouble| trouble.to_string())?, wording));
    };
    let (whole_stored, broken_stored) = (stored_in(measure, whole, wording), stored_in(measure, broken, wording));
    let plain = number.contains('.') != Manner::in_use().comma;
    if !measure.allows(whole_stored) || plain && reads_thousandths(measure, wording) {
        return Ok(broken_stored);
    }
    if !measure.allows(broken_stored) {
        return Ok(whole_stored);
    }
    match near.map(|near| (is_near(whole_stored, near), is_near(broken_stored, near))) {
        Some((true, false)) => Ok(whole_stored),
        Some((false, true)) => Ok(broken_stored),
        _ => {
            let unit = unit_of(measure, wording);
            let with_unit =
                |decimals| format!("{} {unit}", figure(if decimals == 0 { whole } else { broken }, decimals));
            let (whole_said, broken_said) = (with_unit(0).trim_end().to_owned(), with_unit(3).trim_end().to_owned());
            let why = format!("{whole_said} or {broken_said}?");
            // A fourth digit behind the mark: no thousands are written so.
            Err(NotRead { why, either: vec![(whole_said, figure(whole, 0)), (broken_said, figure(broken, 4))] })
        }
    }
}

/// The same where nobody can be asked: what to type instead is told.
///
/// # Errors
/// The sentence to show beside the field.
///
/// ```
/// use findings::Wording;
/// use findings::words::read_in;
/// use record::Measure;
/// assert_eq!(read_in(Measure::Share, "46,5", None, &Wording::default()), Ok(0.465));
/// assert!(read_in(Measure::Mass, "12..5", None, &Wording::default()).is_err());
/// ```
pub fn read_in(measure: Measure, typed: &str, near: Option<f64>, wording: &Wording) -> Result<f64, String> {
    read_near(measure, typed, near, wording).map_err(NotRead::said)
}

/// How far a number may be from one like it, as a factor, and still be taken for meant (design choice).
const NEAR: f64 = 2.0;

fn is_near(number: f64, near: f64) -> bool {
    number.abs() <= near.abs() * NEAR && number.abs() * NEAR >= near.abs()
}

/// The step of a scale that shows thousandths, g.
const THOUSANDTH_G: f64 = 0.001;

/// Whether three decimals are what this painter reads all day.
fn reads_thousandths(measure: Measure, wording: &Wording) -> bool {
    measure == Measure::Mass && wording.division_g.is_some_and(|division_g| division_g <= THOUSANDTH_G)
}

/// The text without the measure's own unit behind it.
fn bare_number<'a>(measure: Measure, typed: &'a str, wording: &Wording) -> Result<&'a str, String> {
    let typed = typed.trim();
    let number = typed.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.' && c != ',');
    let (unit, behind) = (unit_of(measure, wording), typed[number.len()..].trim().to_lowercase());
    // Keyboards have another µ, or none; and some say mils.
    let behind = behind.replace('μ', "µ");
    let own = unit.to_lowercase();
    let is_own = [&*own, &own.replace('µ', "u"), own.trim_start_matches('°'), &format!("{own}s")].contains(&&*behind);
    if number.is_empty() || behind.is_empty() {
        Ok(typed)
    } else if !own.is_empty() && is_own {
        Ok(number)
    } else if read_number(number).is_ok() && behind.chars().all(|c| c.is_alphabetic() || "°/%²³\"".contains(c)) {
        Err(if unit.is_empty() {
            "Type the number alone.".into()
        } else {
            format!("Type it in {unit}, the number alone.")
        })
    } else {
        Ok(typed)
    }
}

/// A number as shown, in the record's unit.
fn stored_in(measure: Measure, shown: f64, wording: &Wording) -> f64 {
    measure.shown_in(&wording.units).stored(shown)
}

/// A stored number as a field shows it.
pub fn show_in(measure: Measure, stored: f64, wording: &Wording) -> String {
    match measure {
        Measure::Mass => wording.typed_weight(stored),
        _ => measure.text(stored, &wording.units),
    }
}

/// The unit printed behind a field.
pub fn unit_of(measure: Measure, wording: &Wording) -> &'static str {
    measure.shown_in(&wording.units).symbol
}

/// Reads numbers of one measure typed one after the other, separated by spaces, semicolons or line ends: gauge readings or
/// the teeth of a comb, say.
///
/// # Errors
/// The sentence to show beside the field.
///
/// ```
/// use findings::Wording;
/// use findings::words::read_row;
/// use record::Measure;
/// assert_eq!(read_row(Measure::Film, "118; 121 120,5", &Wording::default()), Ok(vec![118.0, 121.0, 120.5]));
/// assert!(read_row(Measure::Film, "118 x", &Wording::default()).unwrap_err().starts_with("x: "));
/// ```
pub fn read_row(measure: Measure, typed: &str, wording: &Wording) -> Result<Vec<f64>, String> {
    let words = || typed.split(|c: char| c.is_whitespace() || c == ';').filter(|word| !word.is_empty());
    // One that means one thing says of what size the others are.
    let near = words().find_map(|word| read_near(measure, word, None, wording).ok());
    let read = |word| read_in(measure, word, near, wording).map_err(|trouble| format!("{word}: {trouble}"));
    words().map(read).collect()
}

/// Numbers as a field shows them, separated by spaces.
pub fn show_row(measure: Measure, stored: &[f64], wording: &Wording) -> String {
    stored.iter().map(|&number| show_in(measure, number, wording)).collect::<Vec<_>>().join(" ")
}
