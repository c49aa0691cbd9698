//! What it costs to leave a step of spray day out.

use super::clock::Waiting;
use crate::facts::comb_readings_made;
use record::{Id, SprayTest, Step};

/// A way past a step of spray day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WayPast {
    /// The word on its button.
    pub word: &'static str,
    /// What it costs, in a sentence or two.
    pub cost: &'static str,
}

/// The way past a step: of this panel, blank or candidate, or of the whole test where none is named.
pub fn leaving_out(test: &SprayTest, step: Step, of: Option<&Id>) -> WayPast {
    let (word, cost) = match step {
        Step::Air => (
            "Go on without the air",
            "Without air and panel temperature the dew point goes unchecked, and nobody can say later why a primer dried fast or slow.",
        ),
        Step::Bare => (
            if of.is_some() { "Leave this one out" } else { "Go on without bare weights" },
            "Without a bare weight you still get grams lost, but no percentages, no solids and no film by weight.",
        ),
        Step::Mix => (
            "Go on without noting the mix",
            "Without the time of mixing, standing time and pot life are not watched; without the grams poured, the ratio rests on your word.",
        ),
        Step::Coats => (
            "That was the last coat",
            "With fewer coats than planned the film is thinner and dries sooner than that of the others.",
        ),
        Step::Comb => match of.map_or(0, |panel| comb_readings_made(test, panel)) {
            0 => (
                "Leave the comb out",
                "Without the comb there is no wet film: the final build then rests on the scale and the data sheet alone.",
            ),
            1 => (
                "One reading is enough",
                "One comb reading gives the wet film. Readings at other places would make it more certain.",
            ),
            _ => (
                "Two readings are enough",
                "Two comb readings give the wet film. A third makes it a little more certain.",
            ),
        },
        Step::Wet => (
            "Leave this weight out",
            "Without the wet weight the first later weighing stands in for it, and what left before that is not counted.",
        ),
    };
    WayPast { word, cost }
}

/// What it costs to go on before a clock is over.
pub fn rushing(waiting: Waiting) -> &'static str {
    match waiting {
        Waiting::Standing => "Sprayed before its standing time is over, the mix is not the one its sheet speaks of.",
        Waiting::FlashOff(_) => {
            "A coat over one that has not flashed off shuts solvent in: it leaves later, which is what this test looks for."
        }
        Waiting::WetWeight | Waiting::PotLife => "",
    }
}
