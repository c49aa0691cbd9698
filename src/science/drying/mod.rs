//! The drying curve.

mod dated;
mod drift;
mod film;
mod fit;
mod forecast;
pub mod least_squares;
mod model;
mod noise;
mod outcome;
mod panel;
mod plateau;
mod pool;
mod prior;
mod quantile;
mod readings;
mod schedule;
mod screen;
pub mod settled;
mod swaps;

pub use dated::{HORIZON_H, HoursUntil};
pub use drift::Balance;
pub use film::NoFilm;
pub use forecast::forecast;
pub use outcome::{
    Belief, CoatMass, Estimate, Forecast, NoForecast, Noise, NotYet, Rest, Since, Standing, TooEarly, Verdict, Warning,
};
pub use panel::{
    FilmScale, GainsMass, LEAST_SOLIDS, Move, Older, Panel, Repeatability, Say, Scale, Settings, SettledBefore,
    Weighing,
};
pub use pool::{LEAST_OLDER_H, OlderUse};
pub use schedule::{Gain, default_ages_h};
pub use swaps::{InRound, Swap, swaps};
