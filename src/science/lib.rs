//! Numbers in, numbers with uncertainty out: what a painter's comb, scale and gauge say of a primer. `README.md` beside this
//! file has the method in a page, the evidence and the limits.
//!
//! Nothing here knows the record, the browser, the clock, chance or a unit of display: lengths of film are in µm, masses in g,
//! areas in cm², densities in g/mL, times in h, unless a name says otherwise. A function that cannot answer says why: finite
//! input never panics, and never yields a NaN.
//!
//! # In the order in which data flows
//!
//! 1. **A number.** [`input`] turns away what cannot be meant. [`Measured`] is a value with its standard uncertainty,
//!    [`Estimate`] a middle with the 95 % limits, [`Distribution`] a doubt carried whole.
//! 2. **Before spraying.** [`mix`]: parts to grams on the scale, and how to mend what was over-poured; [`pot`]: how long it
//!    keeps; [`air`]: how far the panel is above the dew point.
//! 3. **While it is wet.** [`comb`]: a comb reading is an interval between two teeth, several are a film with its doubt.
//! 4. **While it dries.** [`weigh`]: what one reading of the scale is worth. [`drying`]: from all weights of a panel, with the
//!    blank beside them, what it will finally weigh, what is still to come, and whether its weight is steady. This is the
//!    heart of it, and reads as a library of its own.
//! 5. **When it is dry.** [`film`]: what the gauge says. [`solids`]: solids by weight and by volume from dishes, cups and
//!    sheets. [`routes`]: the final build by comb and scale, by sheet, by scale and density, and by gauge, combined where they
//!    agree; where they do not, the input that would explain it.
//! 6. **Which primer.** [`compare`]: panels to candidates, candidates against each other, with the errors that they share;
//!    [`stats`]: how sure that is, and how many panels it takes; [`gain`]: what to measure next.
//! 7. **What it means for a job.** [`spread`]: coverage, coats and cost; [`solvent`] and [`voc`]: what it gives off.
//!
//! ```
//! use comb_scale_science::comb::{CombPrior, Interval, wet_film};
//! use comb_scale_science::drying::{Balance, FilmScale, Panel, Scale, Settings, Weighing, forecast};
//!
//! // Three comb readings on one panel, each between the 200 and the 250 µm tooth.
//! let reading = Interval { low_um: Some(200.0), high_um: Some(250.0), touched_um: None };
//! let wet = wet_film(&[reading; 3], &CombPrior::default())?;
//! // Its weights over two days, on a scale of 0.1 g: hours and grams.
//! let weights = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
//! let weighings = weights.map(|(t_h, g)| Weighing::new(t_h, g));
//! let balance = Balance::new(Scale::new(0.1), &[]);
//! let told = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).expect("a drying curve");
//! // What is still to come of the film.
//! let film = FilmScale { area_cm2: 900.0, u_area_cm2: 9.0, solvent_density: 0.87, u_solvent_density: 0.03 };
//! let to_come = told.shrinkage_to_come(48.0, &film).expect("area and density are usable");
//! assert!(to_come.low < to_come.high && to_come.high < wet.mean_um);
//! # Ok::<(), comb_scale_science::comb::CombError>(())
//! ```

#![deny(missing_docs)]

pub mod air;
pub mod comb;
pub mod compare;
pub mod distribution;
pub mod drying;
#[cfg(feature = "error")]
mod error;
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
