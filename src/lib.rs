//! Comb & Scale: the worksheet for a spray test. Comb readings and scale weights go in, panel by panel; a fitted
//! drying curve, the projected final dry film build and an honest side-by-side of the candidate primers come out.
//!
//! Data flows one way, and each room is kept in order by what it does *not* know:
//!
//! ```text
//! browser storage / file ──► record ──► findings ──► page
//!                                science ▲   └────► chart, share
//! ```
//!
//! | room | what it is | what it does not know |
//! |---|---|---|
//! | [`quantity`] | numbers with units, and every bound | everything else |
//! | [`record`] | what was written down | arithmetic beyond units, the science, the browser |
//! | [`science`] | numbers in, numbers with uncertainty out | the record, the browser, the clock, chance, units of display |
//! | [`findings`] | record → science → what a person is told | the browser |
//! | [`chart`] | findings → drawing | where it is drawn |
//! | [`share`] | files out: report, tables, calendar | the science, the browser |
//! | `store` | the only room that touches browser storage | what the text in it means |
//! | `device` | every other browser edge | the record |
//! | `page` | the screens | arithmetic |
//!
//! `src/offline` is plain JavaScript: what must work when this program does not, and what the browser around it is asked.

#[cfg(feature = "page")]
pub mod device;
#[cfg(feature = "page")]
pub mod page;
pub mod share;
#[cfg(feature = "page")]
pub mod store;

pub use {chart, findings, order, quantity, record, science};
