//! The wet-film comb. A reading gives an interval, not a number: the film lies above the last wetted tooth, up to the first
//! dry one (ASTM D4414). A panel's wet film is the posterior of its mean film given all its readings.

mod posterior;

pub use posterior::{COMB_BIAS, CombPrior, WetFilm, another_reading, wet_film};

use super::input::{InputError, finite, positive};
use posterior::Cells;
use serde::Serialize;

/// No film is thicker than this, µm.
pub const LONGEST_TOOTH_UM: f64 = 1e6;

/// Why teeth or readings cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub enum CombError {
    /// The comb has no teeth.
    NoTeeth,
    /// A tooth that is not a number above zero, or longer than [`LONGEST_TOOTH_UM`].
    BadTooth(f64),
    /// A tooth that is not longer than the one before it.
    OutOfOrder {
        /// Length of the tooth before, µm.
        before_um: f64,
        /// Length of the tooth that is not longer, µm.
        tooth_um: f64,
    },
    /// The comb has no tooth of this length.
    NotATooth(f64),
    /// A wetted tooth above the longest one.
    AboveLongest {
        /// The tooth said to be wetted, µm.
        wetted_um: f64,
        /// The longest tooth, µm.
        longest_um: f64,
    },
    /// The first dry tooth is not above the last wetted one.
    DryNotAbove {
        /// The last wetted tooth, µm.
        wetted_um: f64,
        /// The tooth said to be dry, µm.
        dry_um: f64,
    },
    /// The tooth that was just touched is not the next one above the last wetted.
    TouchedNotNext {
        /// The last wetted tooth, µm.
        wetted_um: f64,
        /// The tooth said to be just touched, µm.
        touched_um: f64,
    },
    /// No reading yet.
    NoReadings,
    /// Even the longest tooth was wetted in every reading.
    NoUpperBound {
        /// The longest tooth, µm: the film is above it.
        above_um: f64,
    },
    /// The spread or the bias is no usable number.
    Input(InputError),
}

impl From<InputError> for CombError {
    fn from(error: InputError) -> Self {
        Self::Input(error)
    }
}

/// The teeth of one edge of a comb, in µm, rising.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Teeth(Vec<f64>);

/// One reading as it is written down, in µm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CombReading {
    /// Last wetted tooth; 0 if none was wetted.
    pub wetted_um: f64,
    /// The next tooth, if it was just touched: a trace on its tip.
    pub touched_um: Option<f64>,
    /// First dry tooth; `None` if the longest was wetted or touched.
    pub dry_um: Option<f64>,
}

/// Where the film lies for one reading: above `low_um`, up to `high_um`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// `None` if no tooth was wetted: the film may be as thin as it likes.
    pub low_um: Option<f64>,
    /// `None` if the longest tooth was wetted.
    pub high_um: Option<f64>,
    /// The just-touched tooth that moved the interval.
    pub touched_um: Option<f64>,
}

impl CombReading {
    /// What the reading says by itself, where its comb is not known or no longer has these teeth: above the last wetted tooth,
    /// up to the first dry one; half a step to either side of a tooth just touched. `None` where its teeth do not rise.
    ///
    /// ```
    /// use comb_scale_science::comb::CombReading;
    /// let reading = CombReading { wetted_um: 100.0, touched_um: Some(125.0), dry_um: Some(150.0) };
    /// assert_eq!(reading.interval_alone().unwrap().low_um, Some(112.5));
    /// assert!(CombReading { wetted_um: 150.0, touched_um: None, dry_um: Some(125.0) }.interval_alone().is_none());
    /// ```
    pub fn interval_alone(&self) -> Option<Interval> {
        let named = [Some(self.wetted_um).filter(|um| *um != 0.0), self.touched_um, self.dry_um];
        let teeth = Teeth::new(named.into_iter().flatten().collect()).ok()?;
        teeth.interval(self).ok()
    }
}

impl Interval {}

impl Teeth {
    /// Teeth in µm, rising, all above zero and none longer than [`LONGEST_TOOTH_UM`].
    ///
    /// ```
    /// use comb_scale_science::comb::{CombError, Teeth};
    /// assert!(Teeth::new(vec![25.0, 50.0, 100.0]).is_ok());
    /// let error = Teeth::new(vec![50.0, 25.0]).unwrap_err();
    /// assert_eq!(error, CombError::OutOfOrder { before_um: 50.0, tooth_um: 25.0 });
    /// ```
    pub fn new(teeth_um: Vec<f64>) -> Result<Self, CombError> {
        if teeth_um.is_empty() {
            return Err(CombError::NoTeeth);
        }
        if let Some(&bad) = teeth_um.iter().find(|tooth| !(**tooth > 0.0 && **tooth <= LONGEST_TOOTH_UM)) {
            return Err(CombError::BadTooth(bad));
        }
        if let Some(pair) = teeth_um.windows(2).find(|pair| pair[1] <= pair[0]) {
            return Err(CombError::OutOfOrder { before_um: pair[0], tooth_um: pair[1] });
        }
        Ok(Self(teeth_um))
    }

    /// The interval of one reading in µm. The film lies in (last wetted, first dry] (ASTM D4414). A tooth just touched is read
    /// as itself, half a step to either side, the longest one mirrored (common practice): that moves the interval and does
    /// not narrow it.
    ///
    /// ```
    /// use comb_scale_science::comb::{CombReading, Teeth};
    /// let teeth = Teeth::new(vec![100.0, 125.0, 150.0])?;
    /// let plain = teeth.interval(&CombReading { wetted_um: 100.0, touched_um: None, dry_um: Some(125.0) })?;
    /// assert_eq!((plain.low_um, plain.high_um), (Some(100.0), Some(125.0)));
    /// let touched = teeth.interval(&CombReading { wetted_um: 100.0, touched_um: Some(125.0), dry_um: Some(150.0) })?;
    /// assert_eq!((touched.low_um, touched.high_um), (Some(112.5), Some(137.5)));
    /// # Ok::<(), comb_scale_science::comb::CombError>(())
    /// ```
    pub fn interval(&self, reading: &CombReading) -> Result<Interval, CombError> {
        let longest_um = self.0[self.0.len() - 1];
        let wetted_um = reading.wetted_um;
        if wetted_um > longest_um {
            return Err(CombError::AboveLongest { wetted_um, longest_um });
        }
        // Index of the tooth above the last wetted one.
        let next = if wetted_um == 0.0 { 0 } else { self.index(wetted_um)? + 1 };
        let next_um = self.0.get(next).copied();
        if let Some(dry_um) = reading.dry_um {
            self.index(dry_um)?;
            if dry_um <= reading.touched_um.unwrap_or(wetted_um) {
                return Err(CombError::DryNotAbove { wetted_um: reading.touched_um.unwrap_or(wetted_um), dry_um });
            }
        }
        if let Some(touched_um) = reading.touched_um {
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
        Ok(Interval { low_um, high_um: reading.dry_um.or(next_um), touched_um: None })
    }

    fn index(&self, um: f64) -> Result<usize, CombError> {
        self.0.iter().position(|tooth| *tooth == um).ok_or(CombError::NotATooth(um))
    }
}

/// The edge of a comb that a reading was read on: the first that has all its teeth, one on which nothing longer is dry if the
/// reading names no dry tooth. Otherwise the reason why the first edge does not fit.
///
/// ```
/// use comb_scale_science::comb::{CombReading, Teeth, interval_on};
/// let edges = [Teeth::new(vec![25.0, 50.0])?, Teeth::new(vec![100.0, 150.0])?];
/// let reading = CombReading { wetted_um: 100.0, touched_um: None, dry_um: Some(150.0) };
/// assert_eq!(interval_on(&edges, &reading)?.high_um, Some(150.0));
/// # Ok::<(), comb_scale_science::comb::CombError>(())
/// ```
pub fn interval_on(edges: &[Teeth], reading: &CombReading) -> Result<Interval, CombError> {
    let last_read = reading.touched_um.unwrap_or(reading.wetted_um);
    let ends_here = |edge: &&Teeth| reading.dry_um.is_some() || edge.0.last() == Some(&last_read);
    let fitting = edges.iter().filter(ends_here).chain(edges).map(|edge| edge.interval(reading));
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

/// Log-likelihood of readings that scatter about `mean_um` with standard deviation `sd_um` (> 0), both in µm:
/// `Σ ln[Φ((high − µ)/σ) − Φ((low − µ)/σ)]`. A reading that cannot be counts as e^−690.
///
/// ```
/// use comb_scale_science::comb::{Interval, log_likelihood};
/// let reading = Interval { low_um: Some(100.0), high_um: Some(125.0), touched_um: None };
/// let at_edge = log_likelihood(&[reading], 100.0, 1.0)?;
/// assert!((at_edge - 0.5_f64.ln()).abs() < 1e-9, "half of the readings fall to either side of an edge");
/// # Ok::<(), comb_scale_science::input::InputError>(())
/// ```
pub fn log_likelihood(readings: &[Interval], mean_um: f64, sd_um: f64) -> Result<f64, InputError> {
    finite("wet film", mean_um)?;
    positive("scatter of the film", sd_um)?;
    Ok(Cells::of(readings).log_likelihood(mean_um, sd_um))
}

/// What all readings of a panel span together in µm, `(low, high)`; no upper end if one of them wetted the longest tooth.
///
/// ```
/// use comb_scale_science::comb::{Interval, hull_um};
/// let gap = |low, high| Interval { low_um: Some(low), high_um: high, touched_um: None };
/// assert_eq!(hull_um(&[gap(100.0, Some(125.0)), gap(125.0, Some(150.0))]), (100.0, Some(150.0)));
/// assert_eq!(hull_um(&[gap(100.0, Some(125.0)), gap(300.0, None)]), (100.0, None));
/// ```
pub fn hull_um(readings: &[Interval]) -> (f64, Option<f64>) {
    let low = readings.iter().map(|reading| reading.low_um.unwrap_or(0.0)).reduce(f64::min).unwrap_or(0.0);
    let high = readings.iter().try_fold(0.0_f64, |high, reading| reading.high_um.map(|um| high.max(um)));
    (low, high)
}

/// Whether the readings show how much the film varies over the panel: they must lie apart, and one of them be closed at both
/// ends. Otherwise (all in one gap, or in two that touch) the data fit no scatter at all as well as any.
///
/// ```
/// use comb_scale_science::comb::{Interval, scatter_seen};
/// let gap = |low, high| Interval { low_um: Some(low), high_um: Some(high), touched_um: None };
/// assert!(!scatter_seen(&[gap(100.0, 125.0), gap(125.0, 150.0)]));
/// assert!(scatter_seen(&[gap(100.0, 125.0), gap(150.0, 175.0)]));
/// ```
pub fn scatter_seen(readings: &[Interval]) -> bool {
    let highest_low = readings.iter().filter_map(|reading| reading.low_um).reduce(f64::max);
    let lowest_high = readings.iter().filter_map(|reading| reading.high_um).reduce(f64::min);
    let closed = readings.iter().any(|reading| reading.low_um.is_some() && reading.high_um.is_some());
    closed && matches!((highest_low, lowest_high), (Some(low), Some(high)) if low > high)
}
