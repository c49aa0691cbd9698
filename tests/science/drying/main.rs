//! External checks of the drying curve.

mod bank;
mod judgement;
mod nist;
mod reference;
mod simulated;
mod values;
