//! The dry film as a gauge reads it: spots of three, the six-reading panel form, the base-metal reading, and whether the
//! gauge passes on a shim.

use super::comb::CombPrior;
use super::estimate::Measured;
use super::input::{InputError, finite, not_negative, positive};
use serde::Serialize;

/// Readings of the panel form (SSPC-PA 2, Appendix 4: title as published, body from memory).
pub const PANEL_READINGS: usize = 6;
/// Least distance from an edge for the panel form, mm (SSPC-PA 2, Appendix 4, from memory).
pub const PANEL_EDGE_MM: f64 = 12.0;
/// Least distance from an edge for a spot, mm: one inch (MIL-HDBK-1110, 10.3.11(c)).
pub const SPOT_EDGE_MM: f64 = 25.4;

/// Mean, sample standard deviation (none for a single value) and count.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Summary {
    /// Arithmetic mean.
    pub mean: f64,
    /// Sample standard deviation; none for a single value.
    pub sd: Option<f64>,
    /// The lowest value.
    pub lowest: f64,
    /// The highest value.
    pub highest: f64,
    /// How many values.
    pub count: usize,
}

/// Summary of a list of numbers in their own unit.
///
/// ```
/// use comb_scale_science::film::summary;
/// let s = summary("readings", &[71.2, 74.8, 73.6])?;
/// assert!((s.mean - 73.2).abs() < 1e-9);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn summary(what: &'static str, values: &[f64]) -> Result<Summary, InputError> {
    if values.is_empty() {
        return Err(InputError::TooFew { what, least: 1 });
    }
    for value in values {
        finite(what, *value)?;
    }
    let n = values.len() as f64;
    let mean = super::input::answer(values.iter().sum::<f64>() / n)?;
    let squares = super::input::answer(values.iter().map(|value| (value - mean).powi(2)).sum())?;
    Ok(Summary {
        mean,
        sd: (values.len() > 1).then(|| (squares / (n - 1.0)).sqrt()),
        lowest: values.iter().copied().fold(f64::INFINITY, f64::min),
        highest: values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        count: values.len(),
    })
}

/// One spot: the mean of readings in µm taken within an inch or two, customarily three (MIL-HDBK-1110, 10.3.11(c)).
///
/// ```
/// use comb_scale_science::film::spot;
/// assert!((spot(&[68.0, 77.0, 70.0])?.mean - 71.666_666_7).abs() < 1e-6);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn spot(readings_um: &[f64]) -> Result<Summary, InputError> {
    summary("dry-film readings", readings_um)
}

/// What the gauge reads on the bare, prepared steel: subtracted from every reading, never zeroed away.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BaseMetal {
    /// Mean of the readings on bare steel, µm.
    pub mean_um: f64,
    /// Standard uncertainty of that mean, `s_b / √n_b`.
    pub u_um: f64,
}

/// Base-metal reading in µm from about ten readings on bare steel: mean and `s_b/√n_b`. A single reading has no scatter to
/// show, so its uncertainty is then taken as zero.
///
/// ```
/// use comb_scale_science::film::base_metal;
/// assert!((base_metal(&[6.0, 8.0])?.mean_um - 7.0).abs() < 1e-12);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn base_metal(readings_um: &[f64]) -> Result<BaseMetal, InputError> {
    let s = summary("base-metal readings", readings_um)?;
    Ok(BaseMetal { mean_um: s.mean, u_um: s.sd.unwrap_or(0.0) / (s.count as f64).sqrt() })
}

/// A panel's dry film from gauge readings.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DryFilm {
    /// Mean film in µm, base metal subtracted, with its standard uncertainty.
    pub film_um: Measured,
    /// The values it is the mean of (spot means, or the six readings), as read.
    pub over_panel: Summary,
    /// Whether the scatter over the panel had to be assumed because there is only one value.
    pub scatter_assumed: bool,
}

/// Dry film in µm from values spread over the panel (spot means, or the six readings of the panel form):
/// `u = √(s²/n + u_gauge² + u_base²)`. A single value takes the scatter a film customarily has ([`CombPrior`], a choice of
/// this worksheet).
///
/// ```
/// use comb_scale_science::film::dry_film;
/// let film = dry_film(&[72.1, 75.4, 70.8, 74.9, 77.2, 73.0], 0.0, None)?;
/// assert!((film.film_um.value - 73.9).abs() < 1e-9 && (film.film_um.u - 0.9626).abs() < 1e-4);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn dry_film(values_um: &[f64], gauge_u_um: f64, base: Option<&BaseMetal>) -> Result<DryFilm, InputError> {
    let over_panel = summary("dry-film readings", values_um)?;
    not_negative("uncertainty of the gauge", gauge_u_um)?;
    let (base_um, base_u_um) = base.map_or((0.0, 0.0), |base| (base.mean_um, base.u_um));
    let film = positive("dry film above the base metal", over_panel.mean - finite("base-metal reading", base_um)?)?;
    not_negative("uncertainty of the base-metal reading", base_u_um)?;
    let sd = over_panel.sd.unwrap_or(CombPrior::default().spread * film);
    let u = (sd / (over_panel.count as f64).sqrt()).hypot(gauge_u_um).hypot(base_u_um);
    Ok(DryFilm { film_um: Measured::answer(film, u)?, over_panel, scatter_assumed: over_panel.sd.is_none() })
}

/// Whether a reading this far from an edge, in mm, is too near for a spot or (`panel_form`) for the panel form.
///
/// ```
/// use comb_scale_science::film::too_near_edge;
/// assert!(too_near_edge(20.0, false) && !too_near_edge(20.0, true));
/// ```
pub fn too_near_edge(distance_mm: f64, panel_form: bool) -> bool {
    distance_mm < least_from_edge(panel_form)
}

fn least_from_edge(panel_form: bool) -> f64 {
    if panel_form { PANEL_EDGE_MM } else { SPOT_EDGE_MM }
}

/// How a gauge does on a shim of known thickness.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Verification {
    /// Reading minus shim, µm.
    pub error_um: f64,
    /// Largest error that passes, µm.
    pub limit_um: f64,
    /// Whether the error is within the limit.
    pub passes: bool,
}

/// Verification on a shim (ASTM D7091: before readings): passes if |reading − shim| ≤ √(shim tol² + gauge tol²), the
/// root-sum-square being common practice. All in µm.
///
/// ```
/// use comb_scale_science::film::verify;
/// assert!(verify(75.0, 1.5, 77.8, 2.5)?.passes);
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn verify(
    shim_um: f64,
    shim_tolerance_um: f64,
    reading_um: f64,
    gauge_tolerance_um: f64,
) -> Result<Verification, InputError> {
    positive("shim", shim_um)?;
    not_negative("tolerance of the shim", shim_tolerance_um)?;
    not_negative("tolerance of the gauge", gauge_tolerance_um)?;
    let error_um = super::input::answer(finite("reading on the shim", reading_um)? - shim_um)?;
    let limit_um = super::input::answer(shim_tolerance_um.hypot(gauge_tolerance_um))?;
    Ok(Verification { error_um, limit_um, passes: error_um.abs() <= limit_um })
}
