//! External checks of the drying curve. Tables are printed: `cargo test --no-default-features --test drying -- --nocapture`.

mod bank;
mod dated;
mod diffusion;
mod judgement;
mod nist;
mod reference;
mod simulated;
mod values;
