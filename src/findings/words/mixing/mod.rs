//! Mixing in words: the recipe, how much to mix, what the scale is to show, and what it costs.

mod amount;
mod pouring;
mod ratio;
mod recipe;
mod worth;

pub use amount::amount_said;
pub use pouring::{PourStep, Pouring, cups_said, pouring, smaller_cup, still_to_pour_said, take_reading};
pub use ratio::{ratio_said, set_ratio};
pub use recipe::{component_said, mix_said};
pub use worth::worth_of;
