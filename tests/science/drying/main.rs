//! External checks of the drying curve.

mod reference;
mod simulated;
