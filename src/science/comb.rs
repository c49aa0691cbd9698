//! The wet-film comb. A dab gives an interval, not a number: the film lies above the last wetted tooth, up to the first
//! dry one (ASTM D4414). A panel's wet film is the posterior of its mean film given all its dabs.

use super::estimate::{Estimate, Mixture, SQRT_12, Tail};
use super::input::InputError;
use serde::Serialize;
use std::fmt;

/// Common error of one comb, as a share of what it reads, where the person gives no better: a choice of this worksheet.
pub const COMB_BIAS: f64 = 0.025;

/// Why teeth or dabs cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum CombError {
    /// The comb has no teeth.
    NoTeeth,
    /// A tooth that is not a number above zero.
    BadTooth(f64),
    /// A tooth that is not longer than the one before it.
    OutOfOrder { before_um: f64, tooth_um: f64 },
    /// The comb has no tooth of this length.
    NotATooth(f64),
    /// A wetted tooth above the longest one.
    AboveLongest { wetted_um: f64, longest_um: f64 },
    /// The first dry tooth is not above the last wetted one.
    DryNotAbove { wetted_um: f64, dry_um: f64 },
    /// The tooth that was just touched is not the next one above the last wetted.
    TouchedNotNext { wetted_um: f64, touched_um: f64 },
    /// No dab yet.
    NoDabs,
    /// Even the longest tooth was wetted in every dab.
    NoUpperBound { above_um: f64 },
    /// The spread or the bias is no usable number.
    Input(InputError),
}

impl fmt::Display for CombError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoTeeth => f.write_str("Enter the teeth of the comb first."),
            Self::BadTooth(_) => f.write_str("Every tooth of the comb must be more than zero."),
            Self::OutOfOrder { before_um, tooth_um } => {
                write!(f, "The teeth must rise: {tooth_um} µm comes after {before_um} µm.")
            }
            Self::NotATooth(um) => write!(f, "The comb has no tooth of {um} µm."),
            Self::AboveLongest { wetted_um, longest_um } => {
                write!(f, "{wetted_um} µm is longer than the longest tooth of the comb, {longest_um} µm.")
            }
            Self::DryNotAbove { wetted_um, dry_um } => {
                write!(f, "The first dry tooth ({dry_um} µm) must be above the last wetted one ({wetted_um} µm).")
            }
            Self::TouchedNotNext { wetted_um, touched_um } => {
                write!(f, "The touched tooth ({touched_um} µm) must be the next one above {wetted_um} µm.")
            }
            Self::NoDabs => f.write_str("There is no comb reading yet."),
            Self::NoUpperBound { above_um } => {
                write!(
                    f,
                    "The film wetted the longest tooth: it is more than {above_um} µm, and only a longer comb says more."
                )
            }
            Self::Input(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for CombError {}

impl From<InputError> for CombError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

/// The teeth of one edge of a comb, in µm, rising.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Teeth(Vec<f64>);

/// One dab as it is written down, in µm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Dab {
    /// Last wetted tooth; 0 if none was wetted.
    pub wetted_um: f64,
    /// The next tooth, if it was just touched: a trace on its tip.
    pub touched_um: Option<f64>,
    /// First dry tooth; `None` if the longest was wetted or touched.
    pub dry_um: Option<f64>,
}

/// Where the film lies for one dab: above `low_um`, up to `high_um`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// `None` if no tooth was wetted: the film may be as thin as it likes.
    pub low_um: Option<f64>,
    /// `None` if the longest tooth was wetted.
    pub high_um: Option<f64>,
    /// The just-touched tooth that moved the interval.
    pub touched_um: Option<f64>,
}

impl Interval {
    /// What one dab reads in µm: the just-touched tooth, else the middle of the interval, an open lower end being zero film;
    /// `None` without an upper end.
    pub fn reading_um(&self) -> Option<f64> {
        self.touched_um.or(self.high_um.map(|high| 0.5 * (high + self.low_um.unwrap_or(0.0))))
    }

    /// Standard uncertainty of one dab in µm, `width / √12` (rectangle: GUM, JCGM 100:2008, 4.3.7; clause from memory).
    pub fn u_um(&self) -> Option<f64> {
        self.high_um.map(|high| (high - self.low_um.unwrap_or(0.0)) / SQRT_12)
    }

    /// Probability of this dab if readings scatter about `mean_um` with standard deviation `sd_um` (> 0).
    fn likelihood(&self, mean_um: f64, sd_um: f64) -> f64 {
        let tail = |edge: f64| Tail::at((edge - mean_um) / sd_um);
        Tail::between(self.low_um.map_or(Tail::BELOW_ALL, tail), self.high_um.map_or(Tail::ABOVE_ALL, tail))
    }
}

impl Teeth {
    /// Teeth in µm, rising, all above zero.
    ///
    /// ```
    /// use comb_scale::science::comb::{CombError, Teeth};
    /// assert!(Teeth::new(vec![25.0, 50.0, 100.0]).is_ok());
    /// let error = Teeth::new(vec![50.0, 25.0]).unwrap_err();
    /// assert_eq!(error, CombError::OutOfOrder { before_um: 50.0, tooth_um: 25.0 });
    /// assert_eq!(error.to_string(), "The teeth must rise: 25 µm comes after 50 µm.");
    /// ```
    pub fn new(teeth_um: Vec<f64>) -> Result<Self, CombError> {
        if teeth_um.is_empty() {
            return Err(CombError::NoTeeth);
        }
        if let Some(&bad) = teeth_um.iter().find(|tooth| !(tooth.is_finite() && **tooth > 0.0)) {
            return Err(CombError::BadTooth(bad));
        }
        if let Some(pair) = teeth_um.windows(2).find(|pair| pair[1] <= pair[0]) {
            return Err(CombError::OutOfOrder { before_um: pair[0], tooth_um: pair[1] });
        }
        Ok(Self(teeth_um))
    }

    /// The teeth in µm.
    pub fn um(&self) -> &[f64] {
        &self.0
    }

    /// The interval of one dab in µm. The film lies in (last wetted, first dry] (ASTM D4414). A tooth just touched is read
    /// as itself, half a step to either side, the longest one mirrored (common practice): that moves the interval and does
    /// not narrow it.
    ///
    /// ```
    /// use comb_scale::science::comb::{Dab, Teeth};
    /// let teeth = Teeth::new(vec![100.0, 125.0, 150.0])?;
    /// let plain = teeth.interval(&Dab { wetted_um: 100.0, touched_um: None, dry_um: Some(125.0) })?;
    /// assert_eq!((plain.low_um, plain.high_um), (Some(100.0), Some(125.0)));
    /// let touched = teeth.interval(&Dab { wetted_um: 100.0, touched_um: Some(125.0), dry_um: Some(150.0) })?;
    /// assert_eq!((touched.low_um, touched.high_um), (Some(112.5), Some(137.5)));
    /// # Ok::<(), comb_scale::science::comb::CombError>(())
    /// ```
    pub fn interval(&self, dab: &Dab) -> Result<Interval, CombError> {
        let longest_um = self.0[self.0.len() - 1];
        let wetted_um = dab.wetted_um;
        if wetted_um > longest_um {
            return Err(CombError::AboveLongest { wetted_um, longest_um });
        }
        // Index of the tooth above the last wetted one.
        let next = if wetted_um == 0.0 { 0 } else { self.index(wetted_um)? + 1 };
        let next_um = self.0.get(next).copied();
        if let Some(dry_um) = dab.dry_um {
            self.index(dry_um)?;
            if dry_um <= dab.touched_um.unwrap_or(wetted_um) {
                return Err(CombError::DryNotAbove { wetted_um: dab.touched_um.unwrap_or(wetted_um), dry_um });
            }
        }
        if let Some(touched_um) = dab.touched_um {
            if next_um != Some(touched_um) {
                return Err(CombError::TouchedNotNext { wetted_um, touched_um });
            }
            let below = 0.5 * (touched_um - wetted_um);
            let above = self.0.get(next + 1).map_or(below, |tooth| 0.5 * (tooth - touched_um));
            return Ok(Interval {
                low_um: Some(touched_um - below),
                high_um: Some(touched_um + above),
                touched_um: Some(touched_um),
            });
        }
        let low_um = (wetted_um > 0.0).then_some(wetted_um);
        Ok(Interval { low_um, high_um: dab.dry_um.or(next_um), touched_um: None })
    }

    fn index(&self, um: f64) -> Result<usize, CombError> {
        self.0.iter().position(|tooth| *tooth == um).ok_or(CombError::NotATooth(um))
    }
}

/// The edge of a comb that a dab was read on: the first that has all its teeth, one on which nothing longer is dry if the
/// dab names no dry tooth. Otherwise the reason why the first edge does not fit.
///
/// ```
/// use comb_scale::science::comb::{Dab, Teeth, interval_on};
/// let edges = [Teeth::new(vec![25.0, 50.0])?, Teeth::new(vec![100.0, 150.0])?];
/// let dab = Dab { wetted_um: 100.0, touched_um: None, dry_um: Some(150.0) };
/// assert_eq!(interval_on(&edges, &dab)?.high_um, Some(150.0));
/// # Ok::<(), comb_scale::science::comb::CombError>(())
/// ```
pub fn interval_on(edges: &[Teeth], dab: &Dab) -> Result<Interval, CombError> {
    let last_read = dab.touched_um.unwrap_or(dab.wetted_um);
    let ends_here = |edge: &&Teeth| dab.dry_um.is_some() || edge.0.last() == Some(&last_read);
    let fitting = edges.iter().filter(ends_here).chain(edges).map(|edge| edge.interval(dab));
    let mut first_error = None;
    for interval in fitting {
        match interval {
            Ok(interval) => return Ok(interval),
            // A tooth that is only too long for one edge may stand on another.
            Err(error) => first_error = first_error.or(Some(error)),
        }
    }
    Err(first_error.unwrap_or(CombError::NoTeeth))
}

/// Log-likelihood of dabs that scatter about `mean_um` with standard deviation `sd_um` (> 0), both in µm:
/// `Σ ln[Φ((high − µ)/σ) − Φ((low − µ)/σ)]`.
///
/// ```
/// use comb_scale::science::comb::{Interval, log_likelihood};
/// let dab = Interval { low_um: Some(100.0), high_um: Some(125.0), touched_um: None };
/// let at_edge = log_likelihood(&[dab], 100.0, 1.0);
/// assert!((at_edge - 0.5_f64.ln()).abs() < 1e-9, "half of the readings fall to either side of an edge");
/// ```
pub fn log_likelihood(dabs: &[Interval], mean_um: f64, sd_um: f64) -> f64 {
    dabs.iter().map(|dab| dab.likelihood(mean_um, sd_um).ln()).sum()
}

/// What all dabs of a panel span together in µm, `(low, high)`; no upper end if one of them wetted the longest tooth.
pub fn hull_um(dabs: &[Interval]) -> (f64, Option<f64>) {
    let low = dabs.iter().map(|dab| dab.low_um.unwrap_or(0.0)).reduce(f64::min).unwrap_or(0.0);
    let high = dabs.iter().try_fold(0.0_f64, |high, dab| dab.high_um.map(|um| high.max(um)));
    (low, high)
}

/// Whether the dabs show how much the film varies over the panel: they must lie apart, and one of them be closed at both
/// ends. Otherwise (all in one gap, or in two that touch) the data fit no scatter at all as well as any.
///
/// ```
/// use comb_scale::science::comb::{Interval, scatter_seen};
/// let gap = |low, high| Interval { low_um: Some(low), high_um: Some(high), touched_um: None };
/// assert!(!scatter_seen(&[gap(100.0, 125.0), gap(125.0, 150.0)]));
/// assert!(scatter_seen(&[gap(100.0, 125.0), gap(150.0, 175.0)]));
/// ```
pub fn scatter_seen(dabs: &[Interval]) -> bool {
    let highest_low = dabs.iter().filter_map(|dab| dab.low_um).reduce(f64::max);
    let lowest_high = dabs.iter().filter_map(|dab| dab.high_um).reduce(f64::min);
    let closed = dabs.iter().any(|dab| dab.low_um.is_some() && dab.high_um.is_some());
    closed && matches!((highest_low, lowest_high), (Some(low), Some(high)) if low > high)
}

/// What is held about a comb and the film under it before any dab.
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
    /// Posterior of the film in µm from the dabs alone, without the comb's own error.
    pub dabs: Mixture,
    /// Mean and standard deviation of that posterior, µm.
    pub mean_um: f64,
    pub sd_um: f64,
    /// Standard uncertainty in µm of the comb's common error. It does not fall with the number of dabs, and drops out of a
    /// difference between films read with the same comb.
    pub bias_um: f64,
    /// The film with both, µm.
    pub film_um: Estimate,
    /// Whether the dabs themselves show the scatter over the panel.
    pub scatter_seen: bool,
}

/// The panel's mean wet film µ from its dabs: dab k ~ N(µ, (sµ)²) seen through its interval, flat prior on µ,
/// `ln s ~ N(ln spread, ln_spread_sd²)`, by quadrature on a grid. µ is looked for up to twice the longest edge that bounds a
/// dab, which matters only for a single dab with an unlikely scatter.
///
/// ```
/// use comb_scale::science::comb::{CombPrior, Interval, wet_film};
/// let dab = Interval { low_um: Some(200.0), high_um: Some(250.0), touched_um: None };
/// let film = wet_film(&[dab; 3], &CombPrior::default())?;
/// assert!((film.mean_um - 224.8).abs() < 0.1 && (film.sd_um - 13.2).abs() < 0.1);
/// # Ok::<(), comb_scale::science::comb::CombError>(())
/// ```
pub fn wet_film(dabs: &[Interval], prior: &CombPrior) -> Result<WetFilm, CombError> {
    super::input::within("spread of the film", prior.spread, 1e-3, 1.0)?;
    super::input::within("uncertainty of that spread", prior.ln_spread_sd, 0.0, 2.0)?;
    super::input::within("comb's own error", prior.bias, 0.0, 1.0)?;
    for dab in dabs {
        let low = super::input::within("comb reading", dab.low_um.unwrap_or(0.0), 0.0, 1e6)?;
        let high = super::input::within("comb reading", dab.high_um.unwrap_or(1e6), 1e-3, 1e6)?;
        if high <= low {
            return Err(CombError::DryNotAbove { wetted_um: low, dry_um: high });
        }
    }
    if dabs.is_empty() {
        return Err(CombError::NoDabs);
    }
    let Some(top) = dabs.iter().filter_map(|dab| dab.high_um).reduce(f64::max) else {
        return Err(CombError::NoUpperBound { above_um: hull_um(dabs).0 });
    };
    let edge = dabs.iter().filter_map(|dab| dab.low_um).fold(top, f64::max);
    let posterior = Mixture::new(grid(&counted(dabs), prior, 0.5 * hull_um(dabs).0, 2.0 * edge), 0.0)?;
    let (mean_um, sd_um) = (posterior.mean(), posterior.sd());
    let bias_um = prior.bias * mean_um;
    Ok(WetFilm {
        film_um: posterior.blurred(bias_um).estimate()?,
        dabs: posterior,
        mean_um,
        sd_um,
        bias_um,
        scatter_seen: scatter_seen(dabs),
    })
}

/// Like intervals once, with how often they were read.
fn counted(dabs: &[Interval]) -> Vec<(Interval, f64)> {
    let mut cells: Vec<(Interval, f64)> = Vec::new();
    for dab in dabs {
        match cells.iter_mut().find(|cell| cell.0.low_um == dab.low_um && cell.0.high_um == dab.high_um) {
            Some(cell) => cell.1 += 1.0,
            None => cells.push((*dab, 1.0)),
        }
    }
    cells
}

/// Posterior density of µ on a grid, the scatter summed out. The range is narrowed twice to where the density matters.
fn grid(cells: &[(Interval, f64)], prior: &CombPrior, low: f64, high: f64) -> Vec<(f64, f64)> {
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
fn density(cells: &[(Interval, f64)], prior: &CombPrior, low: f64, high: f64, count: usize) -> Vec<(f64, f64)> {
    // Equal steps of half a standard deviation: for a bell-shaped weight the sum is the integral to many digits. Dabs far
    // apart pull it towards wide scatter, so the steps reach further that way.
    let spreads: Vec<(f64, f64)> = (-7..=10)
        .map(|half| 0.5 * f64::from(half))
        .map(|z| (prior.spread * (prior.ln_spread_sd * z).exp(), -0.5 * z * z))
        .collect();
    // Gaps that touch share an edge, and the distribution function is what takes the time.
    let mut edges: Vec<f64> = cells.iter().flat_map(|cell| [cell.0.low_um, cell.0.high_um]).flatten().collect();
    edges.sort_by(f64::total_cmp);
    edges.dedup();
    let place = |edge: Option<f64>| edge.map(|um| edges.partition_point(|other| *other < um));
    let places: Vec<_> = cells.iter().map(|(dab, n)| (place(dab.low_um), place(dab.high_um), *n)).collect();
    let step = (high - low) / count as f64;
    let mut logs = Vec::with_capacity(count * spreads.len());
    let mut tails = vec![Tail::default(); edges.len()];
    for i in 0..count {
        let mean = low + step * (i as f64 + 0.5);
        for (spread, ln_weight) in &spreads {
            for (tail, edge) in tails.iter_mut().zip(&edges) {
                *tail = Tail::at((edge - mean) / (spread * mean));
            }
            let of_cell = |&(from, to, n): &(Option<usize>, Option<usize>, f64)| {
                let from = from.map_or(Tail::BELOW_ALL, |place| tails[place]);
                let to = to.map_or(Tail::ABOVE_ALL, |place| tails[place]);
                n * Tail::between(from, to).max(1e-300).ln()
            };
            logs.push(ln_weight + places.iter().map(of_cell).sum::<f64>());
        }
    }
    let peak = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let sums: Vec<f64> = logs.chunks(spreads.len()).map(|row| row.iter().map(|l| (l - peak).exp()).sum()).collect();
    let most = sums.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    sums.iter().enumerate().map(|(i, sum)| (low + step * (i as f64 + 0.5), sum / most)).collect()
}
