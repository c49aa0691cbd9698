//! What of a test is invented: the worked example, and what was begun with its plan.

use super::order::candidates_in_order;
use record::{Candidate, EXAMPLE, SheetLine, Slot, SprayTest, open};
use std::sync::OnceLock;

/// Lines of a sheet that hardly agree by chance; two coats or fifteen minutes of flash-off do.
const TELLING: [SheetLine; 9] = [
    SheetLine::SolidsByWeight,
    SheetLine::SolidsByVolume,
    SheetLine::Density,
    SheetLine::DryDensity,
    SheetLine::SolventDensity,
    SheetLine::Voc,
    SheetLine::WetFilm,
    SheetLine::DryFilm,
    SheetLine::PotLife,
];

/// So many of those lines as one sheet of the example has them, and a sheet is that of the example.
const ENOUGH: usize = 3;

/// That everything in a test is invented, or which of its data sheets are still those of the worked example.
pub fn invented_said(test: &SprayTest) -> Option<String> {
    if test.invented {
        return Some("A worked example: everything in it is invented.".into());
    }
    let of_example: Vec<&str> = candidates_in_order(test)
        .into_iter()
        .filter(|candidate| is_of_the_example(test, candidate))
        .map(|candidate| candidate.label.trim())
        .collect();
    (!of_example.is_empty()).then(|| {
        let names = of_example.join(", ");
        format!("Data sheet of the worked example, invented: {names}. Fill in your own in Plan.")
    })
}

fn is_of_the_example(test: &SprayTest, candidate: &Candidate) -> bool {
    static EXAMPLES: OnceLock<Option<SprayTest>> = OnceLock::new();
    let Some(example) = EXAMPLES.get_or_init(|| open(EXAMPLE).ok().map(|opened| opened.test)) else { return false };
    let line = |test: &SprayTest, candidate: &Candidate, line| Slot::Sheet(candidate.id.clone(), line).read(test);
    let alike = |known: &Candidate| {
        let same = |of: &&SheetLine| {
            let own = line(test, candidate, **of);
            own.is_some() && own == line(example, known, **of)
        };
        TELLING.iter().filter(same).count() >= ENOUGH
    };
    example.candidates.kept().any(alike)
}
