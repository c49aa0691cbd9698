//! The air of spray day: dew point, and how far above it the panel is.

use super::estimate::Measured;
use super::input::{In, InputError, answer, finite, within};
use serde::Serialize;

/// Magnus constants of Alduchov & Eskridge (1996), in Lawrence, Bull. Amer. Meteor. Soc. 86:225 (2005).
const B: f64 = 17.625;
const C: f64 = 243.04;

/// Least margin of a panel above the dew point, K: 3 °C (customary; FHWA-RD-98-084).
pub const MARGIN_3C: f64 = 3.0;
/// The same rule in the other unit: 5 °F are 2.78 K, not 3 (FHWA-RD-98-084; MIL-HDBK-1110, 9.6.6).
pub const MARGIN_5F: f64 = 5.0 / 1.8;
/// Relative humidity in % above which most data sheets say stop (customary; the data sheet governs).
pub const HUMIDITY_LIMIT: f64 = 85.0;

/// Dew point in °C for air at `air_c` (°C) with relative humidity in %, with its uncertainty from theirs:
/// `γ = ln(RH/100) + bT/(c + T)`, `T_d = cγ/(b − γ)`.
///
/// ```
/// use comb_scale_science::{Measured, air::dew_point};
/// let td = dew_point(Measured::new(20.0, 0.3), Measured::new(50.0, 3.0))?;
/// assert!((td.value - 9.26).abs() < 0.01 && (td.u - 0.933).abs() < 0.001);
/// assert!(dew_point(Measured::exact(20.0), Measured::exact(0.0)).is_err());
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn dew_point(air_c: Measured, humidity_pct: Measured) -> Result<Measured, InputError> {
    let t = within("air temperature", air_c.checked("air temperature")?.value, -40.0, 60.0, In::Celsius)?;
    let humidity = within("humidity", humidity_pct.checked("humidity")?.value, 0.1, 100.0, In::Percent)?;
    let gamma = (humidity / 100.0).ln() + B * t / (C + t);
    // At saturation the dew point is the temperature itself; the formula says so only to rounding.
    let value = if humidity == 100.0 { t } else { C * gamma / (B - gamma) };
    let by_gamma = C * B / (B - gamma).powi(2);
    let by_air = by_gamma * B * C / (C + t).powi(2);
    Measured::answer(value, (by_air * air_c.u).hypot(by_gamma / humidity * humidity_pct.u))
}

/// How a panel stands to the dew point.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DewMargin {
    /// Panel minus dew point, K.
    pub margin_k: Measured,
    /// Whether it keeps the 3 °C rule.
    pub keeps_3c: bool,
    /// Whether it keeps the 5 °F rule, which asks for 0.22 K less.
    pub keeps_5f: bool,
}

/// Margin of a panel (°C) above the dew point.
///
/// ```
/// use comb_scale_science::{Measured, air::{dew_margin, dew_point}};
/// let dew = dew_point(Measured::exact(20.0), Measured::exact(50.0))?;
/// let margin = dew_margin(Measured::exact(12.15), dew)?;
/// assert!(!margin.keeps_3c && margin.keeps_5f);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn dew_margin(panel_c: Measured, dew_point_c: Measured) -> Result<DewMargin, InputError> {
    panel_c.checked("panel temperature")?;
    dew_point_c.checked("dew point")?;
    let margin = answer(panel_c.value - dew_point_c.value)?;
    let margin_k = Measured::answer(margin, panel_c.u.hypot(dew_point_c.u))?;
    Ok(DewMargin { margin_k, keeps_3c: margin >= MARGIN_3C, keeps_5f: margin >= MARGIN_5F })
}

/// Whether the air is damper than data sheets customarily allow.
///
/// ```
/// use comb_scale_science::air::too_damp;
/// assert!(too_damp(90.0)? && !too_damp(60.0)?);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn too_damp(humidity_pct: f64) -> Result<bool, InputError> {
    Ok(finite("humidity", humidity_pct)? > HUMIDITY_LIMIT)
}
