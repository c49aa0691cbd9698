//! Which answers a missing line of a data sheet takes away.

use crate::words::Wording;
use record::{Candidate, Id, SheetLine, Slot, SprayTest};
use science::routes::SOLVENT_DENSITY;

/// The lines of a data sheet as they are named, in the order in which they are asked for.
pub const SHEET_LINES: [(&str, SheetLine); 14] = [
    ("Solids by volume", SheetLine::SolidsByVolume),
    ("Solids by weight", SheetLine::SolidsByWeight),
    ("Density as stated", SheetLine::Density),
    ("Density of the dry film", SheetLine::DryDensity),
    ("Density of what leaves", SheetLine::SolventDensity),
    ("Coats", SheetLine::Coats),
    ("Wet film of a coat", SheetLine::WetFilm),
    ("Dry film of a coat", SheetLine::DryFilm),
    ("Standing time after mixing", SheetLine::Standing),
    ("Pot life", SheetLine::PotLife),
    ("Flash-off between coats", SheetLine::Flash),
    ("May be sanded after", SheetLine::Sanding),
    ("May be recoated after", SheetLine::Recoat),
    ("VOC", SheetLine::Voc),
];

/// What the empty lines of a candidate's sheet cost, one a line: `Pot life: nobody warns when …`.
pub fn costs_said(test: &SprayTest, candidate: &Id, wording: &Wording) -> Vec<String> {
    let mut costs = Vec::new();
    for (name, line) in SHEET_LINES {
        if Slot::Sheet(candidate.clone(), line).read(test).is_none() {
            costs.push([name, ": ", &cost_of(line, wording)].concat());
        }
    }
    if !air_given(test, candidate) {
        costs.push("Air it may be sprayed in: nobody warns when the shop is too cold or too warm.".into());
    }
    costs
}

fn air_given(test: &SprayTest, candidate: &Id) -> bool {
    test.candidates.find(candidate).is_some_and(|c: &Candidate| !c.sheet.air_c.is_empty())
}

/// One sentence on what is lost while this line is empty.
fn cost_of(line: SheetLine, wording: &Wording) -> String {
    let said = match line {
        SheetLine::SolidsByWeight => "no dry density from the sheet, so no build by scale and dry density.",
        SheetLine::SolidsByVolume => "no build by the data sheet, and no wet film worked out for a wanted dry one.",
        SheetLine::Density => "no dry density from the sheet, and nothing stands in for a bare weight nobody took.",
        SheetLine::SolventDensity => {
            let taken = wording.density(SOLVENT_DENSITY.value);
            return format!("{taken} is taken, which makes lost film less certain by 3 %.");
        }
        SheetLine::DryDensity => {
            "the dry density comes from solids and density, or there is no build by the scale alone."
        }
        SheetLine::Voc => "the VOC of the mix must come from its components.",
        SheetLine::Standing => "no clock for the standing time; the mix counts as ready at once.",
        SheetLine::PotLife => "nobody warns when the mix is too old to spray.",
        SheetLine::Flash => "no clock between the coats.",
        SheetLine::Coats => "the run sheet does not know which coat is the last; two are taken for the amount.",
        SheetLine::WetFilm => "the amount to mix rests on a guess, and a dab has nothing to be held against.",
        SheetLine::DryFilm => "the build cannot be held against what the maker wants.",
        SheetLine::Sanding => "shrinkage to come is told for days 1, 3 and 7, unless you set your own day of sanding.",
        SheetLine::Recoat => "nobody says when the maker allows the next coat.",
    };
    said.to_owned()
}

/// How complete a sheet is: `Data sheet: 3 of 14 lines`.
pub fn gaps_said(test: &SprayTest, candidate: &Id) -> String {
    let filled = |(_, line): &&(&str, SheetLine)| Slot::Sheet(candidate.clone(), *line).read(test).is_some();
    let filled = SHEET_LINES.iter().filter(filled).count() + usize::from(air_given(test, candidate));
    let all = SHEET_LINES.len() + 1;
    if filled == all { "Data sheet: complete".into() } else { format!("Data sheet: {filled} of {all} lines") }
}
