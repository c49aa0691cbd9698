//! A mix as the science takes it: its recipe, how much of it, and a cup against both.

mod amount;
mod batch;
mod packs;
mod recipe;

pub use amount::{Amount, Assumed, NoAmount, amount_of};
pub(crate) use amount::{DENSITY, LEFT_IN_GUN_ML, OVERSPRAY_MM, TRANSFER_EFFICIENCY, WET_FILM_UM};
pub(crate) use batch::{Batch, NEAR};
pub(crate) use packs::{Packs, price_per_litre, used};
pub use recipe::{MixCard, MixPart, MixWants, components_in_order};
pub(crate) use recipe::{name_of, role_of, stated_for};
