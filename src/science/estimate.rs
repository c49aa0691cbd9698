//! Numbers that carry how well they are known: a value with its standard uncertainty, and an answer with its 95 % interval.

use super::input::{InputError, answer, finite, not_negative};
use serde::Serialize;
use statrs::function::erf::erfc;
use std::f64::consts::SQRT_2;

/// 97.5 % point of the normal distribution.
pub const Z95: f64 = 1.959_963_984_540_054;

/// Square root of 12: the full width of a rectangle over its standard uncertainty (GUM, JCGM 100:2008, 4.3.7).
pub(crate) const SQRT_12: f64 = 3.464_101_615_137_754_6;

/// Keeps a result of finite numbers a number where it would overflow.
fn bounded(value: f64) -> f64 {
    value.clamp(f64::MIN, f64::MAX)
}

/// An answer with the limits of its 95 % interval.
///
/// ```
/// use comb_scale_science::Estimate;
/// let film = Estimate::normal(80.0, 2.0);
/// assert!((film.low - 76.08).abs() < 0.001 && (film.high - 83.92).abs() < 0.001);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Estimate {
    /// Lower end of the 95 % interval.
    pub low: f64,
    /// The middle: median, or mean where it is symmetric.
    pub mid: f64,
    /// Upper end of the 95 % interval.
    pub high: f64,
}

impl Estimate {
    /// Interval of a normal error: `mid ± 1.96 sd`.
    ///
    /// ```
    /// use comb_scale_science::Estimate;
    /// assert_eq!(Estimate::normal(1.0, 0.0).high, 1.0);
    /// ```
    pub fn normal(mid: f64, sd: f64) -> Self {
        Self { low: bounded(mid - Z95 * sd), mid, high: bounded(mid + Z95 * sd) }
    }

    /// The same answer in another unit: every limit times `factor`, which must be above zero to keep their order.
    ///
    /// ```
    /// use comb_scale_science::Estimate;
    /// assert_eq!(Estimate { low: 1.0, mid: 2.0, high: 4.0 }.scaled(10.0).high, 40.0);
    /// ```
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        Self { low: bounded(self.low * factor), mid: bounded(self.mid * factor), high: bounded(self.high * factor) }
    }

    /// Standard uncertainty of a normal error with an interval this wide.
    ///
    /// ```
    /// use comb_scale_science::Estimate;
    /// assert!((Estimate::normal(80.0, 2.0).u() - 2.0).abs() < 1e-12);
    /// ```
    pub fn u(&self) -> f64 {
        self.width() / (2.0 * Z95)
    }

    /// Width of the interval.
    ///
    /// ```
    /// use comb_scale_science::Estimate;
    /// assert_eq!(Estimate { low: 1.0, mid: 2.0, high: 4.0 }.width(), 3.0);
    /// ```
    pub fn width(&self) -> f64 {
        bounded(self.high - self.low)
    }
}

/// A value and its standard uncertainty, in the same unit (GUM, JCGM 100:2008, 3.3.5).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Measured {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

impl Measured {
    /// ```
    /// use comb_scale_science::Measured;
    /// assert_eq!(Measured::new(0.87, 0.03).estimate().mid, 0.87);
    /// ```
    pub const fn new(value: f64, u: f64) -> Self {
        Self { value, u }
    }

    /// A value taken as it stands.
    ///
    /// ```
    /// use comb_scale_science::Measured;
    /// assert_eq!(Measured::exact(0.87).u, 0.0);
    /// ```
    pub const fn exact(value: f64) -> Self {
        Self { value, u: 0.0 }
    }

    /// The 95 % interval of a normal error.
    ///
    /// ```
    /// use comb_scale_science::Measured;
    /// assert!((Measured::new(0.87, 0.03).estimate().high - 0.9288).abs() < 1e-4);
    /// ```
    pub fn estimate(&self) -> Estimate {
        Estimate::normal(self.value, self.u)
    }

    /// Checks that both are numbers, and that the uncertainty is not negative.
    ///
    /// ```
    /// use comb_scale_science::Measured;
    /// assert!(Measured::new(0.87, -0.03).checked("density").is_err());
    /// ```
    pub fn checked(self, what: &'static str) -> Result<Self, InputError> {
        finite(what, self.value)?;
        not_negative(what, self.u)?;
        Ok(self)
    }

    /// Uncertainty over value: `u / |value|`; of a value of zero, as large as a number can be.
    ///
    /// ```
    /// use comb_scale_science::Measured;
    /// assert_eq!(Measured::new(200.0, 5.0).relative(), 0.025);
    /// ```
    pub fn relative(&self) -> f64 {
        if self.u == 0.0 { 0.0 } else { bounded(self.u / self.value.abs()) }
    }

    /// Lets a result out only if both parts are numbers.
    pub(crate) fn answer(value: f64, u: f64) -> Result<Self, InputError> {
        Ok(Self { value: answer(value)?, u: answer(u)? })
    }
}

/// Distribution function of the standard normal.
pub(crate) fn normal_cdf(z: f64) -> f64 {
    0.5 * erfc(-z / SQRT_2)
}

/// The smaller of the two tails of the standard normal at a point, with its side: differences stay exact far out.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Tail {
    above: bool,
    area: f64,
}

impl Tail {
    pub(crate) const BELOW_ALL: Self = Self { above: false, area: 0.0 };
    pub(crate) const ABOVE_ALL: Self = Self { above: true, area: 0.0 };

    pub(crate) fn at(z: f64) -> Self {
        // Beyond 12 the tail is under 2e-33 and told apart from nothing by no one.
        let area = if z.abs() > 12.0 { 0.0 } else { 0.5 * erfc(z.abs() / SQRT_2) };
        Self { above: z > 0.0, area }
    }

    /// Probability between two points.
    pub(crate) fn between(from: Self, to: Self) -> f64 {
        match (from.above, to.above) {
            (false, false) => to.area - from.area,
            (true, true) => from.area - to.area,
            (false, true) => 1.0 - from.area - to.area,
            (true, false) => 0.0,
        }
    }
}
