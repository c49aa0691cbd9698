//! Numbers in, numbers with uncertainty out. Nothing here knows the record, the browser, the clock, chance or a unit of
//! display: lengths of film are in µm, masses in g, areas in cm², densities in g/mL, times in h, unless a name says
//! otherwise.
//!
//! A function that cannot answer says why: finite input never panics, and never yields a NaN.
//!
//! | module | subject |
//! |---|---|
//! | [`estimate`], [`distribution`], [`input`] | what a number with uncertainty is; what is asked of one that comes in |
//! | [`comb`], [`film`], [`weigh`] | what is measured on a panel: wet film, dry film, grams |
//! | [`drying`] | the curve, and the weight a panel ends at |
//! | [`solids`], [`solvent`], [`routes`] | what follows from both: solids, what left, the final build by every route |
//! | [`stats`], [`compare`], [`gain`] | candidates held against each other; what to do next |
//! | [`mix`], [`pot`], [`air`], [`spread`], [`voc`] | planning and spray day: pouring, pot life, dew point, coverage and cost, VOC |

#![deny(missing_docs)]

pub mod air;
pub mod comb;
pub mod compare;
pub mod distribution;
pub mod drying;
pub mod estimate;
pub mod film;
pub mod gain;
pub mod input;
pub mod mix;
mod mixture;
pub mod pot;
pub mod routes;
pub mod solids;
pub mod solvent;
pub mod spread;
pub mod stats;
pub mod voc;
pub mod weigh;

pub use distribution::Distribution;
pub use estimate::{Estimate, Measured};
