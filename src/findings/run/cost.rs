//! What it costs to leave a step of spray day out.

use super::clock::Waiting;
use crate::record::Step;

/// What leaving a step out costs, in a sentence or two.
pub fn skipping(step: Step) -> &'static str {
    match step {
        Step::Air => {
            "Without air and panel temperature the dew point goes unchecked, and nobody can say later why a primer dried fast or slow."
        }
        Step::Bare => {
            "Without a bare weight, grams lost and settled can still be told; per cent of the coat, solids and the film by weight cannot."
        }
        Step::Mix => {
            "Without the time of mixing, standing time and pot life are not watched; without the grams poured, the ratio rests on your word."
        }
        Step::Coats => "With fewer coats than planned the film is thinner and dries sooner than that of the others.",
        Step::Comb => {
            "Without the comb there is no wet film: the final build then rests on the scale and the data sheet alone."
        }
        Step::Wet => {
            "Without the wet weight the first later weighing stands in for it, and what left before that is not counted."
        }
    }
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
