//! A mix by its recipe: how much of it, a cup against both, and the packs it comes from.

mod amount;
mod batch;
mod packs;

pub use amount::{Amount, Assumed, NoAmount, amount_of};
pub(crate) use amount::{DENSITY, LEFT_IN_GUN_ML, OVERSPRAY_MM, TRANSFER_EFFICIENCY, WET_FILM_UM};
pub(crate) use batch::{Batch, NEAR};
pub(crate) use packs::{Packs, price_per_litre, used};
