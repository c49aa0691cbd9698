//! Comb & Scale: the worksheet for a spray test. Comb readings and scale weights go in, panel by panel; a fitted
//! drying curve, the projected final dry film build and an honest side-by-side of the candidate primers come out.
//!
//! The map of the rooms, and what each must not know, stands in `DEVELOPERS.md`.

#[cfg(feature = "page")]
pub mod device;
#[cfg(feature = "page")]
pub mod page;
pub mod share;
#[cfg(feature = "page")]
pub mod store;

pub use {chart, findings, order, quantity, record, science};
