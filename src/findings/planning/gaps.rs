//! Which answers a missing line of a data sheet takes away.

use crate::findings::tongue::Tongue;
use crate::record::{Candidate, Id, SheetLine, Slot, SprayTest};
use crate::science::routes::SOLVENT_DENSITY;

/// One sentence on what is lost while this line is empty.
pub fn cost_of(line: SheetLine, tongue: &Tongue) -> String {
    let said = match line {
        SheetLine::SolidsByWeight => "Without it: no dry density from the sheet, so no build by scale and dry density.",
        SheetLine::SolidsByVolume => {
            "Without it: no build by the data sheet, and no wet film worked out for a wanted dry one."
        }
        SheetLine::Density => {
            "Without it: no dry density from the sheet, and nothing stands in for a bare weight nobody took."
        }
        SheetLine::SolventDensity => {
            let taken = tongue.density(SOLVENT_DENSITY.value);
            return format!("Without it: {taken} is taken, which makes lost film less certain by 3 %.");
        }
        SheetLine::DryDensity => {
            "Without it: the dry density comes from solids and density, or there is no build by the scale alone."
        }
        SheetLine::Voc => "Without it: the VOC of the mix must come from its components.",
        SheetLine::Standing => "Without it: no clock for the standing time; the mix counts as ready at once.",
        SheetLine::PotLife => "Without it: nobody warns when the mix is too old to spray.",
        SheetLine::Flash => "Without it: no clock between the coats.",
        SheetLine::Coats => {
            "Without it: the run sheet does not know which coat is the last; two are taken for the amount."
        }
        SheetLine::WetFilm => {
            "Without it: the amount to mix rests on a guess, and a dab has nothing to be held against."
        }
        SheetLine::DryFilm => "Without it: the build cannot be held against what the maker wants.",
        SheetLine::Sanding => {
            "Without it: film still to go is told for days 1, 3 and 7, unless you set your own day of sanding."
        }
        SheetLine::Recoat => "Without it: nobody says when the maker allows the next coat.",
    };
    said.to_owned()
}

/// How complete a sheet is: `Data sheet: 3 of 14 lines`.
pub fn gaps_said(test: &SprayTest, candidate: &Id) -> String {
    let filled = |line: &&SheetLine| Slot::Sheet(candidate.clone(), **line).read(test).is_some();
    let air = test.candidates.find(candidate).is_some_and(|c: &Candidate| !c.sheet.air_c.is_empty());
    let filled = SheetLine::ALL.iter().filter(filled).count() + usize::from(air);
    let all = SheetLine::ALL.len() + 1;
    if filled == all { "Data sheet: complete".into() } else { format!("Data sheet: {filled} of {all} lines") }
}
