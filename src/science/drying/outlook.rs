//! What would tell: which weighing, on what scale, and how likely by when.
//!
//! Worked out from the posterior that is there (a preposterior analysis: Raiffa and Schlaifer, Applied Statistical Decision
//! Theory, 1961, chapter 4), without another fit: final masses are drawn from their odds, the readings to come are read off
//! their curves with the scatter of the scale, each reading weighs the odds anew, and the rule of `steady` judges. The draws are
//! the same each time, so the same forecast gives the same answer.

use super::dated::{OF_MASS, summary};
use super::fit::Point;
use super::interval::Estimate;
use super::kernel::product;
use super::least_squares::factor;
use super::noise::UNIT;
use super::outcome::{Forecast, Verdict};
use super::panel::{Certainty, FilmScale};
use super::quantile::Weighted;
use super::steady::{Evidence, coarseness, limit, verdict};
use statrs::distribution::{ContinuousCDF, Normal};

/// Rounds to come…
const ROUNDS: usize = 7;
/// … and when they are: days after the newest weighing on which the panel is taken to be weighed again, h.
const WEIGHED_AFTER_H: [f64; ROUNDS] = [24.0, 48.0, 72.0, 120.0, 168.0, 240.0, 336.0];
/// Courses that are drawn.
const COURSES: usize = 32;
/// Final masses among which a course's readings tell.
const MASSES: usize = 32;
/// Each dimension of a course steps through the unit interval by a power of this root's inverse: x⁸ = x + 1 (the generalized
/// golden ratio, M. Roberts 2018, from memory), which leaves no gaps.
const EVEN_ROOT: f64 = 1.0969815577985598;

/// A way to weigh on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Way {
    /// As before: one weighing a day at the same place.
    OneWeighing,
    /// Three weighings in each round, averaged ([`Weighing::round`](super::Weighing::round)).
    ThreeWeighings,
    /// On a scale whose smallest step is this, g.
    FinerScale(f64),
    /// What a panel this many times as large would have shown (the same coat, the same scale): for the next test.
    LargerPanel(f64),
}

/// How likely a way is to tell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outlook {
    /// The way.
    pub way: Way,
    /// Chance that it tells by the next weighing, a day on; a share of 1.
    pub next_day: f64,
    /// Days after which it is as likely as not to have told; `None` where that takes more than 14.
    pub even_days: Option<f64>,
    /// Chance that it has told within 14 days; a share of 1.
    pub by_then: f64,
}

/// What the verdict was made from, kept for verdicts to come.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Judged {
    pub division_g: f64,
    pub film: Option<FilmScale>,
    pub certainty: Certainty,
    /// Kept readings, coat g, in time order.
    pub points: Vec<Point>,
    pub wet: f64,
    pub here_since_h: f64,
    /// The coat itself was weighed.
    pub weighed: bool,
    pub coats: u32,
    /// Moves after the wet weight.
    pub moves: usize,
    /// sd of the newest kept reading by itself, g.
    pub newest_sd_g: f64,
    /// sd of the drift had the blank been weighed three times in the newest round, g.
    pub drift_sd_thrice_g: f64,
}

impl Forecast {
    /// For a panel that is not called steady: how likely each way is to tell, and when. A panel that is too early has been told
    /// of when it no longer is, any other when its weight is called steady. Conditions stay as they are; a move ahead is not
    /// foreseen. Empty where the weight is steady.
    ///
    /// `ways` are looked at in the caller's order; [`Forecast::usual_ways`] are those that a painter has. A way costs about a
    /// quarter of a forecast.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// use comb_scale_science::drying::Way;
    /// let told = answer.what_would_tell(&[Way::OneWeighing, Way::ThreeWeighings]);
    /// assert!(told[0].next_day <= told[0].by_then && told[0].by_then > 0.2, "it may no longer be too early in two weeks");
    /// ```
    #[must_use]
    pub fn what_would_tell(&self, ways: &[Way]) -> Vec<Outlook> {
        if self.steady() { Vec::new() } else { ways.iter().map(|way| self.outlook(*way)).collect() }
    }

    /// One weighing a day, three in a round, a scale ten times as fine, a panel twice as large; or where this scale cannot see
    /// the rest, one that can.
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// use comb_scale_science::drying::Way;
    /// assert_eq!(answer.usual_ways()[3], Way::LargerPanel(2.0));
    /// ```
    #[must_use]
    pub fn usual_ways(&self) -> [Way; 4] {
        let coarse = coarseness(self.judged.division_g, self.predicted_loss_g, self.judged.film);
        [
            Way::OneWeighing,
            Way::ThreeWeighings,
            Way::FinerScale(0.1 * self.judged.division_g),
            Way::LargerPanel(coarse.ceil().max(2.0)),
        ]
    }

    fn outlook(&self, way: Way) -> Outlook {
        let told_on = Ahead::new(self, way).map_or([0; ROUNDS], |ahead| ahead.told_on());
        let by = |days: usize| told_on[..days].iter().sum::<usize>() as f64 / COURSES as f64;
        let even = (1..=told_on.len()).find(|&days| by(days) >= 0.5);
        Outlook {
            way,
            next_day: by(1),
            even_days: even.map(|days| WEIGHED_AFTER_H[days - 1] / 24.0),
            by_then: by(told_on.len()),
        }
    }
}

/// The final masses that are possible, and what each makes the readings to come.
struct Ahead<'a> {
    forecast: &'a Forecast,
    division_g: f64,
    /// Scatter of one reading, g.
    single: f64,
    /// Its sd in the fit, g.
    sd: f64,
    /// Of the readings to come with the final mass held, what the other parameters leave open and a round's sd together: the
    /// rows of the Cholesky factor of their covariance.
    rows: Vec<Vec<f64>>,
    /// By reading to come: L⁻¹ of the covariances of its mass with the readings up to it.
    follows: Vec<Vec<f64>>,
    /// From high final masses to low ones: mass, and its odds where masses are asked for.
    masses: Vec<(f64, f64)>,
    /// The odds of each where what is still to lose is asked for, which is counted evenly in that: many final masses about the
    /// newest weight come to nothing more to lose.
    odds_of_rest: Vec<f64>,
    /// By reading to come, in the order of `masses`: mass then, and what is still to lose then.
    then: Vec<Vec<(f64, f64)>>,
}

impl<'a> Ahead<'a> {
    fn new(forecast: &'a Forecast, way: Way) -> Option<Self> {
        let (curves, judged) = (&forecast.curves, &forecast.judged);
        // Twice the panel is, in this one's grams, half the step.
        let (times, rounds_of): (f64, f64) = match way {
            Way::OneWeighing => (1.0, 1.0),
            Way::ThreeWeighings => (1.0, 3.0),
            Way::FinerScale(division_g) => (judged.division_g / division_g, 1.0),
            Way::LargerPanel(times) => (times, 1.0),
        };
        let single = forecast.noise.reading_sd_g / times;
        let scatter = single / rounds_of.sqrt();
        let floor = (forecast.noise.model_sd_g.powi(2) - forecast.noise.reading_sd_g.powi(2)).max(0.0);
        let all: Vec<(f64, f64)> = curves.mixture(|_| 0.0).map(|(x, _, odds)| (curves.top - x.exp(), odds)).collect();
        let every = all.len().div_ceil(MASSES);
        let masses: Vec<(f64, f64)> = all.into_iter().step_by(every).collect();
        let now = curves.hours(forecast.newest_age_h);
        let rest: Vec<f64> = curves.mixture(|curve| curve.still_to_lose(now)).step_by(every).map(|of| of.1).collect();
        let odds_of_rest = (0..masses.len()).map(|i| {
            let (a, b) = (i.saturating_sub(1), (i + 1).min(masses.len() - 1));
            masses[i].1 * ((rest[b] - rest[a]) / (masses[a].0 - masses[b].0)).max(0.0)
        });
        let odds_of_rest = odds_of_rest.collect();
        let hours = WEIGHED_AFTER_H.map(|after| curves.hours(forecast.newest_age_h + after));
        let then = hours.map(|hours| {
            let mass = curves.mixture(|curve| curve.mass(hours)).step_by(every);
            let rest = curves.mixture(|curve| curve.still_to_lose(hours)).step_by(every);
            mass.zip(rest).map(|((_, mass, _), (_, rest, _))| (mass, rest)).collect()
        });
        let sd = (scatter * scatter + floor).sqrt();
        let open = hours.map(|hours| curves.open_slopes(hours));
        let covariance = |j: usize, k: usize| product(&open[j], &open[k]);
        let n = hours.len();
        let of_readings: Vec<f64> =
            (0..n * n).map(|i| covariance(i / n, i % n) + if i / n == i % n { sd * sd } else { 0.0 }).collect();
        let root = factor(&of_readings)?;
        let follows = (0..n).map(|j| {
            let mut with: Vec<f64> = (0..=j).map(|k| covariance(k, j)).collect();
            root.half_solve(&mut with);
            with
        });
        Some(Self {
            forecast,
            division_g: judged.division_g / times,
            single,
            sd,
            follows: follows.collect(),
            rows: (0..n).map(|k| root.row(k).collect()).collect(),
            masses,
            odds_of_rest,
            then: then.into(),
        })
    }

    /// How many courses are told of first at each reading to come.
    fn told_on(&self) -> [usize; ROUNDS] {
        let mut told_on = [0; ROUNDS];
        let Some(odds) = Weighted::new((0..).map(f64::from).zip(self.odds_of_rest.iter().copied())) else {
            return told_on;
        };
        for course in 0..COURSES {
            let truth = odds.quantile((course as f64 + 0.5) / COURSES as f64).round() as usize;
            if let Some(k) = self.course(course, truth) {
                told_on[k] += 1;
            }
        }
        told_on
    }

    /// The reading at which a course tells.
    fn course(&self, course: usize, truth: usize) -> Option<usize> {
        let normal = |dimension: i32| {
            let unit = (0.5 + course as f64 * EVEN_ROOT.powi(-dimension)).fract();
            Normal::standard().inverse_cdf(unit.clamp(1e-6, 1.0 - 1e-6))
        };
        let before = self.forecast.judged.points.len();
        let mut points = self.forecast.judged.points.clone();
        let mut drawn = [0.0; ROUNDS];
        // By final mass: L⁻¹ of what the readings so far differ from its curve, and how likely that makes it.
        let mut off = vec![([0.0; ROUNDS], 0.0); self.masses.len()];
        let mut rests = vec![0.0; self.masses.len()];
        for (k, then) in self.then.iter().enumerate() {
            let (row, own) = (&self.rows[k][..k], self.rows[k][k]);
            let age = self.forecast.newest_age_h + WEIGHED_AFTER_H[k];
            drawn[k] = normal(1 + k as i32);
            let y = then[truth].0 + product(row, &drawn) + own * drawn[k];
            points.push(Point { t_h: age, hours: self.forecast.curves.hours(age), y, sd: self.sd });
            for (i, ((off, log), (mass, rest))) in off.iter_mut().zip(then).enumerate() {
                off[k] = (y - mass - product(row, off)) / own;
                *log -= 0.5 * off[k] * off[k];
                // The curve follows the readings.
                rests[i] = (rest + product(&self.follows[k], off)).max(0.0);
            }
            let highest = off.iter().map(|off| off.1).fold(f64::NEG_INFINITY, f64::max);
            let likely: Vec<f64> = off.iter().map(|off| (off.1 - highest).exp()).collect();
            if self.tells(&likely, &rests, &points, before) {
                return Some(k);
            }
        }
        None
    }

    /// Whether readings tell that make each final mass so likely, and leave so much to lose of it.
    fn tells(&self, likely: &[f64], rests: &[f64], points: &[Point], before: usize) -> bool {
        let judged = &self.forecast.judged;
        let of_rest =
            rests.iter().zip(&self.odds_of_rest).zip(likely).map(|((rest, odds), likely)| (*rest, odds * likely));
        // Cumulated from low masses up.
        let of_mass = self.masses.iter().zip(likely).rev().map(|((mass, odds), likely)| (*mass, odds * likely));
        let (of_rest, of_mass) = (Weighted::new(of_rest), Weighted::new(of_mass));
        let (Some(of_rest), Some(of_mass)) = (of_rest, of_mass) else { return false };
        let last: Estimate = summary(&of_mass, OF_MASS).widened(self.forecast.noise.drift_sd_g);
        let predicted_loss = judged.wet - last.mean;
        // The question stays: a finer scale answers it and asks no harder one.
        let can_see = coarseness(judged.division_g, self.forecast.predicted_loss_g, judged.film) <= 1.0;
        let division_g = if can_see { judged.division_g } else { self.division_g };
        let limit_g = limit(division_g, predicted_loss, judged.film);
        // Three readings of the new scale are judged by its own scatter.
        let own = points.len() >= before + 3;
        let scatter = if own { self.single } else { self.forecast.noise.reading_sd_g };
        let now = verdict(&Evidence {
            division_g: self.division_g,
            u: scatter / UNIT,
            points,
            newest_flagged: false,
            last: &last,
            predicted_loss,
            coarse: coarseness(self.division_g, predicted_loss, judged.film),
            scatter,
            limit_g,
            probability: of_rest.share_up_to(limit_g),
            certainty: judged.certainty,
            here_since_h: judged.here_since_h,
            solids: judged.weighed.then(|| last.mean / judged.wet),
        });
        match (self.forecast.too_early(), now) {
            (true, now) => !matches!(now, Verdict::TooEarly(_)),
            (false, now) => matches!(now, Verdict::Yes(_)),
        }
    }
}
