//! What Gauge shows: which reading is due, what a spot says, and whether the gauge can be believed.

mod instrument;
mod readings;
mod said;

pub use instrument::{base_metal_readings, base_metal_said, verification_said, verify_first};
pub use readings::{GaugeReading, GaugeStop, gauge_due, how_to_read, too_soft};
pub use said::{gauge_said, series_said, spot_said};
