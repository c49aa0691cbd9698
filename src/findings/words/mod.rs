//! Units, and the sentences that more than one screen says.

mod air;
mod candidate;
mod cautions;
mod clocks;
mod comb;
mod corrected;
mod due;
mod figures;
mod findings;
mod flags;
mod leaving;
mod measure;
pub(crate) mod mixing;
mod next;
mod objections;
mod odd;
mod panel;
mod readings;
mod refused;
mod said;
mod telling;
mod verdict;
mod weights;
mod why;
mod wording;

pub use air::air_warnings;
pub use cautions::{CAUTIONS, MIXING, SANDING, STEADY_MEANS};
pub(crate) use cautions::{FLASHING, IN_THE_MIST, SPRAYING};
pub use clocks::clocks_said;
pub use comb::dab_in_words;
pub use corrected::corrected_said;
pub use due::{due_said, noted_due_said};
pub use figures::{Figure, candidate_with_panels, long_worded, panels_said};
pub use leaving::{left_said, owner_left_said};
pub use measure::{NotRead, read_in, read_near, read_row, show_in, show_row, unit_of};
pub use mixing::{
    PourStep, Pouring, amount_said, component_said, cups_said, mix_said, pouring, smaller_cup, still_to_pour_said,
    take_reading, worth_of,
};
pub(crate) use objections::AHEAD_H;
pub use objections::{Objection, object};
pub use odd::{odd_about, odd_said};
pub(crate) use readings::reading_line;
pub use readings::{ReadingLine, readings};
pub(crate) use refused::{input_error_said, route_input_name};
pub use said::NOT_SHOWN;
pub(crate) use telling::{telling_said, until};
pub(crate) use weights::bare_said;
pub use wording::{Wording, day, duration};
