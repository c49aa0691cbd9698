//! The drying curve: what a panel will finally weigh, how much is still to lose, when that will have left, and whether
//! its weight is steady, with intervals that hold.
//!
//! # In plain words
//!
//! A freshly sprayed panel loses solvent: fast at first, then slower and slower for weeks. Weigh it now and then, and
//! the question is where the curve will end. The trouble with ending it by eye, or with one neat formula, is not the
//! end itself but the certainty: a single exponential fitted to two days of weights is sure to a tenth of a gram, and
//! wrong by one. So this module does three things differently.
//!
//! 1. **A wide family of curves.** The loss is a sum of many small losses, each with its own pace, from minutes to
//!    months, some that end abruptly, and some that only start in a warm place. No loss can be negative, so the mass
//!    can only fall. Neighbouring paces are believed to be alike; nothing else is. Time in the warm counts several-fold,
//!    and how many-fold is found from the readings.
//! 2. **Every end is asked.** The final mass is set to one value after another, from "nothing more to lose" down to the
//!    least solids a coat can have. For each, the best curve is found and how well it agrees with the readings, and in
//!    how many ways. That gives the odds of each final mass. The number shown is their mean, the interval holds 95 % of
//!    the odds: lopsided, as it should be, since more may be left than it seems, but never less than nothing.
//! 3. **The scale is watched too.** The blank (an uncoated panel weighed in each round) shows how the scale wanders, and
//!    its wandering is taken out. Readings that no falling curve can explain are set aside, with how far off they
//!    are, and come back when the person says so.
//!
//! What it cannot know: when a loss that still runs along a straight line will end, damp air, and what warmth will do before
//! the panel has been there. All constants were set, and all coverage measured, on simulated panels.
//!
//! # The steps and where they are
//!
//! | step | file |
//! |---|---|
//! | scatter of the scale; drift and jumps from the blank; two balances tied by it | `noise`, `drift`, `levels`, `balance` |
//! | readings between the blank's weighings round a jump | `between` |
//! | repeats averaged, drift removed, time in hours since the wet weight, split into cool and warm | `readings`, `model` |
//! | two panels read as each other (suggested, never done); a whole round off by the same | `swaps`, `together` |
//! | slips; straight losses and their ends | `screen`, `straight` |
//! | the family of curves and what is believed of it | `model`, `prior` |
//! | the best curve: robust least squares, Levenberg and Marquardt's method; noise check | `fit`, [`least_squares`] |
//! | the odds of each final mass, under any belief | `plateau`, `walked`, `quantile` |
//! | what older panels of a candidate teach | `pool` |
//! | too early, still losing, steady | [`steady`] |
//! | mass at a date, time until, film after a day, the next weigh-in; what left before the first | `dated`, `film`, `schedule`, `before` |
//! | beside the verdict: level for how long, what would tell, what the blank leaves open, what nobody tried | `unchanged`, `outlook`, `blank_share`, `beyond` |
//!
//! Start at [`forecast()`] with a [`Panel`]. A balance's blank is read once, in [`Balance::new`]; a panel's forecast
//! depends on its own readings, moves and settings and on that balance alone (and on the older panels it is given), so a
//! caller may keep every forecast whose inputs did not change. The cost is linear in the number of readings for the fit
//! and at most quadratic for the slip screen, however many slips there are.

#![allow(clippy::neg_cmp_op_on_partial_ord, reason = "a NaN must fail the same tests as a number out of range")]

mod balance;
mod before;
mod between;
mod beyond;
mod blank_share;
mod dated;
mod drift;
mod film;
mod fit;
mod forecast;
mod interval;
mod jumped;
mod kernel;
pub mod least_squares;
mod levels;
mod model;
mod noise;
mod outcome;
mod outlook;
mod panel;
mod plateau;
mod pool;
mod prior;
mod quantile;
mod readings;
mod schedule;
mod screen;
pub mod steady;
mod straight;
mod swaps;
mod together;
mod unchanged;
mod walked;

pub use balance::Balance;
pub use before::LONGEST_BEFORE_H;
pub use beyond::{AGE_TRIED_H, Beyond, COATS_TRIED, GAP_TRIED_H, MOVES_TRIED, SOLIDS_TRIED};
pub use blank_share::NewestWeight;
pub use dated::{HORIZON_H, HoursUntil};
pub use drift::{Doubt, Jump, OfScale};
pub use film::NoFilm;
pub use forecast::forecast;
pub use interval::Estimate;
pub use outcome::{
    Belief, CoatMass, Forecast, Narrowed, NoForecast, Noise, NotYet, Rest, Since, Standing, TooEarly, Verdict, Warning,
};
pub use outlook::{Outlook, Way};
pub use panel::{
    Calls, Certainty, FilmScale, GainsMass, LEAST_SOLIDS, Move, Older, Panel, Repeatability, SHEET_SD, Say, Scale,
    Settings, SteadyBefore, Weighing, dish_sd,
};
pub use pool::{LEAST_OLDER_H, OlderUse};
pub use schedule::{Gain, default_ages_h};
pub use swaps::{InRound, Swap, swaps};
pub use together::{OffBy, Together, moved_together};
pub use unchanged::Level;
