//! The drying curve.
