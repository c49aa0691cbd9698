//! Facts put to the science: all that takes time, kept for as long as what it rests on stays the same.

mod card;
mod means;
mod memory;
pub(crate) mod mixing;
mod panel;
mod reading;
mod reason;
mod recipe;
mod sheet;
mod spots;

pub use card::{PanelCard, certainty_of};
pub(crate) use card::{ScaleCard, area, blank_readings, dab_interval, newest_weighing, scale_card};
pub use means::By;
pub(crate) use means::{KnownPair, Mean, MeansOfAll, Named, interval, shared_as, value, work_out_means};
pub use memory::Memory;
pub(crate) use mixing::{
    Assumed, Batch, DENSITY, LEFT_IN_GUN_ML, NEAR, NoAmount, OVERSPRAY_MM, Packs, TRANSFER_EFFICIENCY, WET_FILM_UM,
    amount_of, price_per_litre, used,
};
pub use panel::PanelWork;
pub(crate) use panel::{estimate, possible};
pub use reading::{Reading, Role};
pub use reason::Reason;
pub use recipe::{MixCard, MixPart, MixWants, components_in_order};
pub(crate) use recipe::{name_of, role_of, stated_for};
pub use sheet::SheetCard;
pub(crate) use sheet::sheet_of;
pub(crate) use spots::{bare_metal_um, film_of};
