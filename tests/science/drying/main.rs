//! External checks of the drying curve.

mod bank;
mod judgement;
mod reference;
mod simulated;
