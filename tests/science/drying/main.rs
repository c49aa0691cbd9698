//! External checks of the drying curve. Tables are printed: `cargo test --no-default-features --test drying -- --nocapture`.

// The name under which the example of the science knows it.
extern crate science as comb_scale_science;

mod balances;
mod bank;
mod before;
mod behaviour;
mod coats;
mod dated;
mod diffusion;
mod evidence;
mod example;
mod facts;
mod fresh;
mod judgement;
mod jumps;
mod levels;
mod nist;
mod outlook;
mod properties;
mod random;
mod real;
mod reference;
mod refusals;
mod simulated;
mod values;
mod yardstick;
