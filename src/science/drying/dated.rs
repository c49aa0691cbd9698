//! Forecasts with a date: mass at a time, and the time until little is left.
//!
//! All come from the plateau grid: the curves refitted at each final mass, mixed with its posterior weights.

use super::interval::Estimate;
use super::kernel::product;
use super::least_squares::Factor;
use super::model::{Curve, Hours, Places, WARM_PARAMETERS};
use super::outcome::Forecast;
use super::plateau::Grid;
use super::quantile::Weighted;

/// How far ahead "when" is looked for, h: the 90 days that "final" means.
pub const HORIZON_H: f64 = 90.0 * 24.0;
const OLDEST_H: f64 = 1e7;
/// Times are worked out to a quarter of an hour or one part in 500, whichever is coarser.
const TIME_STEP_H: f64 = 0.25;
const TIME_SHARE: f64 = 0.002;

/// The posterior's curves with their weights.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Curves {
    /// (x, curve) of the grid, x = ln(c_top − c₀) rising.
    nodes: Vec<(f64, Curve)>,
    /// (x, weight) on a mesh.
    mesh: Vec<(f64, f64)>,
    /// The most probable curve.
    pub best: Curve,
    pub places: Places,
    /// Warm time is in the curves.
    pub warm: bool,
    pub top: f64,
    /// Gross less coat mass, g.
    pub offset: f64,
    pub drift_sd: f64,
    pub reading_sd: f64,
    /// No panel weighs less than this, g: than bare, nor than nothing.
    pub least_gross: f64,
    /// Of the other parameters' precision near the maximum.
    pub precision: Option<Factor>,
}

/// When no more than a stated loss will be left: hours after the newest kept reading, under unchanged conditions. 0 where
/// it is so already, [`HORIZON_H`] where it takes longer than that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoursUntil {
    /// Not before this (97 to 98 %), h.
    pub low: f64,
    /// As likely before as after, h.
    pub median: f64,
    /// Surely by then (97 to 98 %), h.
    pub high: f64,
}

impl Curves {
    pub fn new(grid: &Grid, mesh: &[(f64, f64)], best: Curve, places: Places, warm: bool) -> Self {
        // Dated forecasts are asked for by the hundred; every fourth point that counts is plenty.
        let mut thin: Vec<(f64, f64)> = mesh.iter().copied().step_by(4).filter(|m| m.1 > 1e-9).collect();
        if thin.len() < 10 {
            thin = mesh.iter().copied().filter(|m| m.1 > 0.0).collect();
        }
        Self {
            nodes: grid.points.iter().map(|p| (p.x, p.curve.clone())).collect(),
            mesh: thin,
            best,
            places,
            warm,
            top: grid.top,
            offset: 0.0,
            drift_sd: 0.0,
            reading_sd: 0.0,
            least_gross: 0.0,
            precision: None,
        }
    }

    /// Hours at an age; a move that no reading has seen yet is not in the curves.
    pub fn hours(&self, age_h: f64) -> Hours {
        if self.warm { self.places.hours(age_h) } else { Hours { cool: age_h, warm: 0.0 } }
    }

    /// Limits of a remaining loss, widened by what the grid leaves out: the scale's drift, and the parameters beside the
    /// final mass.
    pub fn widen_rest(&self, rest: Estimate, hours: Hours) -> Estimate {
        let wider = rest.widened(self.drift_sd.hypot(self.left_open(hours).sqrt()));
        Estimate { low: wider.low.max(0.0), ..wider }
    }

    /// Variance of the mass after these hours with the final mass held: ‖L⁻¹ J‖², from the precision at the maximum, g².
    pub fn left_open(&self, hours: Hours) -> f64 {
        let open = self.open_slopes(hours);
        product(&open, &open)
    }

    /// L⁻¹ J of the mass after these hours: its product with that of other hours is the covariance of both with the final mass
    /// held, g².
    pub fn open_slopes(&self, hours: Hours) -> [f64; WARM_PARAMETERS] {
        let Some(precision) = &self.precision else { return [0.0; WARM_PARAMETERS] };
        let mut slopes = self.best.slopes(hours);
        slopes[0] = 0.0;
        precision.half_solve(&mut slopes);
        slopes
    }

    /// Mesh weights with a quantity of each curve, linear in x between grid points: (x, value, weight).
    pub fn mixture<'a>(&'a self, of: impl Fn(&Curve) -> f64) -> impl Iterator<Item = (f64, f64, f64)> + 'a {
        let values: Vec<f64> = self.nodes.iter().map(|(_, curve)| of(curve)).collect();
        let mut i = 0;
        self.mesh.iter().map(move |&(x, weight)| {
            while i + 2 < self.nodes.len() && self.nodes[i + 1].0 <= x {
                i += 1;
            }
            let value = match (self.nodes.get(i), self.nodes.get(i + 1)) {
                (Some((x0, _)), Some((x1, _))) => {
                    values[i] + (values[i + 1] - values[i]) * ((x - x0) / (x1 - x0)).clamp(0.0, 1.0)
                }
                _ => values[i],
            };
            (x, value, weight)
        })
    }

    /// Mean and 95 % interval of a mass of the curves.
    fn mass_estimate(&self, hours: Hours) -> Estimate {
        summary(&self.weighted(|c| c.mass(hours)), OF_MASS)
    }

    /// Mean and 95 % interval of what the curves still lose.
    fn rest_estimate(&self, hours: Hours) -> Estimate {
        self.loss_estimate(|c| c.still_to_lose(hours))
    }

    /// Mean and 95 % interval of a loss of the curves.
    pub fn loss_estimate(&self, of: impl Fn(&Curve) -> f64) -> Estimate {
        summary(&self.weighted(of), OF_REST)
    }

    fn weighted(&self, of: impl Fn(&Curve) -> f64) -> Weighted {
        let mut values: Vec<(f64, f64)> = self.mixture(of).map(|(_, value, weight)| (value, weight)).collect();
        order::sort_by(&mut values, |a, b| a.0.total_cmp(&b.0));
        Weighted::new(values.into_iter()).unwrap_or_default()
    }
}

/// Quantiles that limit a mass at 95 %; see [`Estimate`].
pub(crate) const OF_MASS: [f64; 2] = [0.03, 0.98];
/// Quantiles that limit a remaining loss at 95 %.
pub(crate) const OF_REST: [f64; 2] = [0.02, 0.97];

/// Mean, median and the interval between two quantiles.
pub(crate) fn summary(weighted: &Weighted, limits: [f64; 2]) -> Estimate {
    let [low, high] = limits.map(|q| weighted.quantile(q));
    Estimate { mean: weighted.mean(|v| v), median: weighted.quantile(0.5), low, high }
}

impl Forecast {
    /// Age at `t_h`, h: from the wet weight to far beyond the horizon, where nothing moves any more.
    pub(super) fn age(&self, t_h: f64) -> f64 {
        if t_h.is_finite() { (t_h - self.wet_t_h).clamp(0.0, OLDEST_H) } else { self.newest_age_h }
    }

    /// The belief about the final gross mass, g, as values with weights (of any sum), before the scale's drift.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let points = answer.final_gross_points_g();
    /// let total: f64 = points.iter().map(|p| p.1).sum();
    /// let mean = points.iter().map(|p| p.0 * p.1).sum::<f64>() / total;
    /// assert!((mean - answer.final_gross_g.mean).abs() < 0.1 * answer.final_gross_g.width());
    /// ```
    #[must_use]
    pub fn final_gross_points_g(&self) -> Vec<(f64, f64)> {
        let grounded = self.curves.top + self.curves.offset;
        self.curves.mixture(|_| 0.0).map(|(x, _, weight)| (grounded - x.exp(), weight)).collect()
    }

    /// Gross mass at `t_h` (test's clock, h) under unchanged conditions, g, in the scale's frame at the wet weight:
    /// mixture over the final masses of the refitted curves, its limits widened by the scale's drift and by what the
    /// other parameters leave open once the final mass is held. Times before the wet weight
    /// count as it.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let (soon, later) = (answer.at(72.0), answer.at(500.0));
    /// assert!(later.mean < soon.mean && later.width() > soon.width());
    /// ```
    #[must_use]
    pub fn at(&self, t_h: f64) -> Estimate {
        self.mass_at(t_h, self.curves.drift_sd)
    }

    /// What the scale will show at `t_h`: [`Forecast::at`] with the scatter of one reading.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!(answer.reading_at(72.0).width() > answer.at(72.0).width());
    /// ```
    #[must_use]
    pub fn reading_at(&self, t_h: f64) -> Estimate {
        self.mass_at(t_h, self.curves.drift_sd.hypot(self.curves.reading_sd))
    }

    fn mass_at(&self, t_h: f64, sd: f64) -> Estimate {
        let hours = self.curves.hours(self.age(t_h));
        let sd = sd.hypot(self.curves.left_open(hours).sqrt());
        let gross = self.curves.mass_estimate(hours).map(|m| m + self.curves.offset);
        gross.widened(sd).map(|g| g.max(self.curves.least_gross))
    }

    /// The 95 % fan of gross mass at many times: (time, estimate) for each.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let fan = answer.band([72.0, 96.0, 120.0]);
    /// assert!(fan.iter().all(|(_, mass)| mass.low <= mass.median && mass.median <= mass.high));
    /// ```
    pub fn band(&self, times_h: impl IntoIterator<Item = f64>) -> Vec<(f64, Estimate)> {
        times_h.into_iter().map(|t| (t, self.at(t))).collect()
    }

    /// The most probable curve at `t_h` (test's clock, h): gross mass, g, drift removed.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!((answer.curve_gross_g(24.0) - 431.7).abs() < 0.3);
    /// ```
    #[must_use]
    pub fn curve_gross_g(&self, t_h: f64) -> f64 {
        self.curves.best.mass(self.curves.hours(self.age(t_h))) + self.curves.offset
    }

    /// Still to lose after `t_h` (test's clock, h) under unchanged conditions, g: m(t) − c₀ over the plateau grid, its
    /// limits widened like those of [`Forecast::at`], never negative.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert!(answer.still_to_lose_at(500.0).mean < answer.still_to_lose_at(48.0).mean);
    /// ```
    #[must_use]
    pub fn still_to_lose_at(&self, t_h: f64) -> Estimate {
        let hours = self.curves.hours(self.age(t_h));
        self.curves.widen_rest(self.curves.rest_estimate(hours), hours)
    }

    /// The belief about what is still to lose after `t_h` (test's clock, h), g, as values with weights (of any sum), and the
    /// sd of what these leave out: the scale's drift and the parameters beside the final mass.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let (points, beside_sd) = answer.still_to_lose_points_g(72.0);
    /// let total: f64 = points.iter().map(|p| p.1).sum();
    /// let mean = points.iter().map(|p| p.0 * p.1).sum::<f64>() / total;
    /// assert!((mean - answer.still_to_lose_at(72.0).mean).abs() < 1e-9 && beside_sd >= 0.0);
    /// ```
    #[must_use]
    pub fn still_to_lose_points_g(&self, t_h: f64) -> (Vec<(f64, f64)>, f64) {
        let hours = self.curves.hours(self.age(t_h));
        let points =
            self.curves.mixture(|c| c.still_to_lose(hours)).map(|(_, value, weight)| (value, weight)).collect();
        (points, self.curves.drift_sd.hypot(self.curves.left_open(hours).sqrt()))
    }

    /// When no more than `remaining_g` will be left to lose, under unchanged conditions: the times at which the lower
    /// limit, the median and the upper limit of [`Forecast::still_to_lose_at`] fall to it. A remaining loss that is not
    /// positive is never surely reached.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// let until = answer.hours_until(0.5);
    /// assert!(until.low <= until.median && until.median <= until.high);
    /// ```
    #[must_use]
    pub fn hours_until(&self, remaining_g: f64) -> HoursUntil {
        let newest = self.wet_t_h + self.newest_age_h;
        let reached = |of: fn(&Estimate) -> f64| {
            let left = |ahead: f64| of(&self.still_to_lose_at(newest + ahead));
            if left(0.0) <= remaining_g {
                return 0.0;
            }
            if !(left(HORIZON_H) <= remaining_g) {
                return HORIZON_H;
            }
            let (mut low, mut high) = (0.0, HORIZON_H);
            while high - low > TIME_STEP_H.max(TIME_SHARE * high) {
                let middle = 0.5 * (low + high);
                *(if left(middle) <= remaining_g { &mut high } else { &mut low }) = middle;
            }
            high
        };
        HoursUntil { low: reached(|e| e.low), median: reached(|e| e.median), high: reached(|e| e.high) }
    }
}
