//! A panel's mean wet film from its readings.

use super::{CombError, Interval, LONGEST_TOOTH_UM, hull_um, scatter_seen};
use crate::distribution::Distribution;
use crate::estimate::{Estimate, Tail};
use crate::input::{In, within};
use serde::Serialize;

/// Common error of one comb, as a share of what it reads, where the person gives no better: a choice of this worksheet.
pub const COMB_BIAS: f64 = 0.025;

/// What is held about a comb and the film under it before any reading.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CombPrior {
    /// Median of the film's standard deviation over one panel, as a share of the film.
    pub spread: f64,
    /// Standard deviation of the logarithm of that share.
    pub ln_spread_sd: f64,
    /// Error that all readings of this comb share, as a share of the reading (standard uncertainty).
    pub bias: f64,
}

impl Default for CombPrior {
    /// Spread 6 % of the film, a factor 1.65 either way; bias [`COMB_BIAS`]: choices of this worksheet.
    fn default() -> Self {
        Self { spread: 0.06, ln_spread_sd: 0.5, bias: COMB_BIAS }
    }
}

/// The mean wet film of one panel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WetFilm {
    /// Posterior of the film in µm from the readings alone, without the comb's own error.
    #[serde(rename = "dabs")]
    pub readings: Distribution,
    /// Mean of that posterior, µm.
    pub mean_um: f64,
    /// Its standard deviation, µm.
    pub sd_um: f64,
    /// Standard uncertainty in µm of the comb's common error. It does not fall with the number of readings, and drops out of a
    /// difference between films read with the same comb.
    pub bias_um: f64,
    /// The film with both, µm.
    pub film_um: Estimate,
    /// Whether the readings themselves show the scatter over the panel.
    pub scatter_seen: bool,
}

/// The panel's mean wet film µ from its readings: reading k ~ N(µ, (sµ)²) seen through its interval, flat prior on µ,
/// `ln s ~ N(ln spread, ln_spread_sd²)`, by quadrature on a grid. µ is looked for up to twice the longest edge that bounds a
/// reading, which matters only for a single reading with an unlikely scatter.
///
/// ```
/// use comb_scale_science::comb::{CombPrior, Interval, wet_film};
/// let reading = Interval { low_um: Some(200.0), high_um: Some(250.0), touched_um: None };
/// let film = wet_film(&[reading; 3], &CombPrior::default())?;
/// assert!((film.mean_um - 224.8).abs() < 0.1 && (film.sd_um - 13.2).abs() < 0.1);
/// # Ok::<(), comb_scale_science::comb::CombError>(())
/// ```
pub fn wet_film(readings: &[Interval], prior: &CombPrior) -> Result<WetFilm, CombError> {
    within("spread of the film", prior.spread, 1e-3, 1.0, In::Shares)?;
    within("uncertainty of that spread", prior.ln_spread_sd, 0.0, 2.0, In::Numbers)?;
    within("comb's own error", prior.bias, 0.0, 1.0, In::Shares)?;
    for reading in readings {
        let low = within("comb reading", reading.low_um.unwrap_or(0.0), 0.0, LONGEST_TOOTH_UM, In::Micrometres)?;
        let high = within(
            "comb reading",
            reading.high_um.unwrap_or(LONGEST_TOOTH_UM),
            1e-3,
            LONGEST_TOOTH_UM,
            In::Micrometres,
        )?;
        if high <= low {
            return Err(CombError::DryNotAbove { wetted_um: low, dry_um: high });
        }
    }
    if readings.is_empty() {
        return Err(CombError::NoReadings);
    }
    let Some(top) = readings.iter().filter_map(|reading| reading.high_um).reduce(f64::max) else {
        return Err(CombError::NoUpperBound { above_um: hull_um(readings).0 });
    };
    let edge = readings.iter().filter_map(|reading| reading.low_um).fold(top, f64::max);
    let posterior =
        Distribution::new(grid(&mut Cells::of(readings), prior, 0.5 * hull_um(readings).0, 2.0 * edge), 0.0)?;
    let (mean_um, sd_um) = (posterior.mean(), posterior.sd());
    let bias_um = prior.bias * mean_um;
    Ok(WetFilm {
        film_um: posterior.blurred(bias_um).estimate()?,
        readings: posterior,
        mean_um,
        sd_um,
        bias_um,
        scatter_seen: scatter_seen(readings),
    })
}

/// To what share of its standard deviation one more reading is expected to narrow the panel's wet film: the mean over the gap where
/// the film most likely lies, of those that were read, and one as wide to either side, each as likely as a reading would fall there.
/// Never above 1: a reading that widens the answer has told something, but nobody readings for that.
///
/// ```
/// use comb_scale_science::comb::{CombPrior, Interval, another_reading};
/// let reading = Interval { low_um: Some(200.0), high_um: Some(250.0), touched_um: None };
/// let (second, sixth) = (another_reading(&[reading; 1], &CombPrior::default())?, another_reading(&[reading; 5], &CombPrior::default())?);
/// assert!(second < sixth && sixth < 1.0, "the first ones tell most: {second} {sixth}");
/// # Ok::<(), comb_scale_science::comb::CombError>(())
/// ```
pub fn another_reading(readings: &[Interval], prior: &CombPrior) -> Result<f64, CombError> {
    let now = wet_film(readings, prior)?;
    let off = |low: f64, high: f64| (low - now.mean_um).max(now.mean_um - high);
    let closed = readings.iter().filter_map(|reading| Some((reading.low_um.unwrap_or(0.0), reading.high_um?)));
    let nearest = closed.min_by(|a, b| off(a.0, a.1).total_cmp(&off(b.0, b.1)));
    let (low, high) = nearest.ok_or(CombError::NoReadings)?;
    let (mut total, mut expected) = (0.0, 0.0);
    for gap in [-1.0, 0.0, 1.0] {
        let (low, high) = (low + gap * (high - low), high + gap * (high - low));
        if low < 0.0 {
            continue;
        }
        let at = |um: f64, mean: f64| Tail::at((um - mean) / (prior.spread * mean));
        let falls = |&(mean, weight): &(f64, f64)| weight * Tail::between(at(low, mean), at(high, mean));
        let likely: f64 = now.readings.points().iter().map(falls).sum();
        let reading = Interval { low_um: (low > 0.0).then_some(low), high_um: Some(high), touched_um: None };
        let more: Vec<Interval> = readings.iter().chain([&reading]).copied().collect();
        expected += likely * wet_film(&more, prior)?.sd_um;
        total += likely;
    }
    Ok(if total > 0.0 { (expected / total / now.sd_um).min(1.0) } else { 1.0 })
}

/// The readings with like intervals counted and the edges that they share listed once: the distribution function at the edges is
/// what takes the time.
pub(super) struct Cells {
    edges: Vec<f64>,
    /// Places in `edges` of the ends of an interval, and how often it was read.
    cells: Vec<(Option<usize>, Option<usize>, f64)>,
    /// Room for one tail an edge.
    tails: Vec<Tail>,
}

impl Cells {
    pub(super) fn of(readings: &[Interval]) -> Self {
        let mut edges: Vec<f64> =
            readings.iter().flat_map(|reading| [reading.low_um, reading.high_um]).flatten().collect();
        order::sort_by(&mut edges, f64::total_cmp);
        edges.dedup();
        let place = |edge: Option<f64>| edge.map(|um| edges.partition_point(|other| *other < um));
        let mut cells: Vec<(Option<usize>, Option<usize>, f64)> = Vec::new();
        for (low, high) in readings.iter().map(|reading| (place(reading.low_um), place(reading.high_um))) {
            match cells.iter_mut().find(|cell| (cell.0, cell.1) == (low, high)) {
                Some(cell) => cell.2 += 1.0,
                None => cells.push((low, high, 1.0)),
            }
        }
        Self { tails: vec![Tail::default(); edges.len()], edges, cells }
    }

    /// `Σ n ln[Φ((high − µ)/σ) − Φ((low − µ)/σ)]`, what cannot be counting as e^−690.
    pub(super) fn log_likelihood(&mut self, mean: f64, sd: f64) -> f64 {
        for (tail, edge) in self.tails.iter_mut().zip(&self.edges) {
            *tail = Tail::at((edge - mean) / sd);
        }
        let of_cell = |&(from, to, n): &(Option<usize>, Option<usize>, f64)| {
            let from = from.map_or(Tail::BELOW_ALL, |place| self.tails[place]);
            let to = to.map_or(Tail::ABOVE_ALL, |place| self.tails[place]);
            n * Tail::between(from, to).max(1e-300).ln()
        };
        self.cells.iter().map(of_cell).sum()
    }
}

/// Posterior density of µ on a grid, the scatter summed out. The range is narrowed twice to where the density matters.
fn grid(cells: &mut Cells, prior: &CombPrior, low: f64, high: f64) -> Vec<(f64, f64)> {
    const COARSE: usize = 32;
    const FINE: usize = 120;
    // e^-12 of the peak is out of sight of every quantile in use.
    const CUT: f64 = 12.0;
    let (mut low, mut high) = (low, high);
    for _ in 0..2 {
        let scan = density(cells, prior, low, high, COARSE);
        let kept = |point: &(f64, f64)| point.1 > (-CUT).exp();
        let first = scan.iter().position(kept).unwrap_or(0);
        let last = scan.iter().rposition(kept).unwrap_or(scan.len() - 1);
        let step = scan[1].0 - scan[0].0;
        (low, high) = ((scan[first].0 - step).max(low), (scan[last].0 + step).min(high));
    }
    density(cells, prior, low, high, FINE)
}

/// `(µ, density)` at the middles of `count` equal steps, the highest density being 1.
fn density(cells: &mut Cells, prior: &CombPrior, low: f64, high: f64, count: usize) -> Vec<(f64, f64)> {
    // Equal steps of half a standard deviation: for a bell-shaped weight the sum is the integral to many digits. Readings far
    // apart pull it towards wide scatter, so the steps reach further that way.
    let spreads: Vec<(f64, f64)> = (-7..=10)
        .map(|half| 0.5 * f64::from(half))
        .map(|z| (prior.spread * (prior.ln_spread_sd * z).exp(), -0.5 * z * z))
        .collect();
    let step = (high - low) / count as f64;
    let mut logs = Vec::with_capacity(count * spreads.len());
    for i in 0..count {
        let mean = low + step * (i as f64 + 0.5);
        for (spread, ln_weight) in &spreads {
            logs.push(ln_weight + cells.log_likelihood(mean, spread * mean));
        }
    }
    let peak = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let sums: Vec<f64> = logs.chunks(spreads.len()).map(|row| row.iter().map(|l| (l - peak).exp()).sum()).collect();
    let most = sums.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    sums.iter().enumerate().map(|(i, sum)| (low + step * (i as f64 + 0.5), sum / most)).collect()
}
