//! Mixing: what a candidate's recipe is, how much to mix, what the scale is to show, and what it costs.

mod amount;
mod pouring;
mod recipe;
mod worth;

pub use amount::{Amount, Assumed, NoAmount, amount_of, amount_said};
pub(crate) use amount::{TRANSFER_EFFICIENCY, WET_FILM_UM};
pub use pouring::{
    PourStep, Pouring, cup_in_progress, cups_said, pouring, smaller_cup, still_to_pour_said, take_reading,
};
pub(super) use recipe::stated_for;
pub use recipe::{MixCard, MixPart, MixWants, component_said, components_in_order, mix_said};
pub(crate) use worth::price_per_litre;
pub use worth::worth_of;
