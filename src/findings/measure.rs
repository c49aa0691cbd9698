//! Numbers as typed and shown in a field, in the person's unit.

use super::tongue::{Tongue, plain};
use crate::quantity::{Unit, read_number};
use crate::record::Measure;

/// Reads a typed number of a measure into the record's unit.
///
/// # Errors
/// The sentence to show beside the field.
///
/// ```
/// use comb_scale::findings::{Tongue, read_in};
/// use comb_scale::record::Measure;
/// assert_eq!(read_in(Measure::Share, "46,5", &Tongue::default()), Ok(0.465));
/// assert!(read_in(Measure::Mass, "12..5", &Tongue::default()).is_err());
/// ```
pub fn read_in(measure: Measure, typed: &str, tongue: &Tongue) -> Result<f64, String> {
    let shown = read_number(typed).map_err(|trouble| trouble.to_string())?;
    let units = &tongue.units;
    Ok(match measure {
        Measure::Mass => units.mass.stored(shown),
        Measure::Film => units.film.stored(shown),
        Measure::Length => units.length.stored(shown),
        Measure::Area => units.area().stored(shown),
        Measure::Volume => units.volume.stored(shown),
        Measure::Litres => units.large_volume().stored(shown),
        Measure::Density => units.density().stored(shown),
        Measure::GramsPerLitre => units.content().stored(shown),
        Measure::Temperature => units.temperature.stored(shown),
        // Divided, not multiplied by 0.01: 46.5 % is then exactly the 0.465 it reads as.
        Measure::Share => shown / 100.0,
        _ => shown,
    })
}

/// A stored number as a field shows it.
pub fn show_in(measure: Measure, stored: f64, tongue: &Tongue) -> String {
    let units = &tongue.units;
    plain(match measure {
        Measure::Mass => return tongue.typed_weight(stored),
        Measure::Film => units.film.shown(stored),
        Measure::Length => units.length.shown(stored),
        Measure::Area => units.area().shown(stored),
        Measure::Volume => units.volume.shown(stored),
        Measure::Litres => units.large_volume().shown(stored),
        Measure::Density => units.density().shown(stored),
        Measure::GramsPerLitre => units.content().shown(stored),
        Measure::Temperature => units.temperature.shown(stored),
        Measure::Share => stored * 100.0,
        _ => stored,
    })
}

/// The unit printed behind a field.
pub fn unit_of(measure: Measure, tongue: &Tongue) -> &'static str {
    let units = &tongue.units;
    match measure {
        Measure::Mass => units.mass.symbol(),
        Measure::Film => units.film.symbol(),
        Measure::Length => units.length.symbol(),
        Measure::Volume => units.volume.symbol(),
        Measure::Temperature => units.temperature.symbol(),
        Measure::Tip => "mm",
        Measure::Area => units.area().symbol(),
        Measure::Density => units.density().symbol(),
        Measure::Litres => units.large_volume().symbol(),
        Measure::GramsPerLitre => units.content().symbol(),
        Measure::Share | Measure::Humidity => "%",
        Measure::Hours => "h",
        Measure::Minutes => "min",
        Measure::Pressure => "kPa",
        Measure::Parts | Measure::Money | Measure::Count => "",
    }
}

/// Reads numbers of one measure typed one after the other, separated by spaces, semicolons or line ends: gauge readings or
/// the teeth of a comb, say.
///
/// # Errors
/// The sentence to show beside the field.
///
/// ```
/// use comb_scale::findings::{Tongue, read_row};
/// use comb_scale::record::Measure;
/// assert_eq!(read_row(Measure::Film, "118; 121 120,5", &Tongue::default()), Ok(vec![118.0, 121.0, 120.5]));
/// assert!(read_row(Measure::Film, "118 x", &Tongue::default()).unwrap_err().starts_with("x: "));
/// ```
pub fn read_row(measure: Measure, typed: &str, tongue: &Tongue) -> Result<Vec<f64>, String> {
    let words = typed.split(|c: char| c.is_whitespace() || c == ';').filter(|word| !word.is_empty());
    words.map(|word| read_in(measure, word, tongue).map_err(|trouble| format!("{word}: {trouble}"))).collect()
}

/// Numbers as a field shows them, separated by spaces.
pub fn show_row(measure: Measure, stored: &[f64], tongue: &Tongue) -> String {
    stored.iter().map(|&number| show_in(measure, number, tongue)).collect::<Vec<_>>().join(" ")
}
