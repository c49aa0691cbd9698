//! Is the weight steady, in the place where the panel is?

use super::dated::HORIZON_H;
use super::fit::Point;
use super::forecast::{forecast, steady_by};
use super::interval::Estimate;
use super::outcome::{Forecast, NoForecast, NotYet, Since, TooEarly, Verdict};
use super::panel::{Certainty, FilmScale, Panel, Settings, SteadyBefore, Weighing};
use super::readings::{Readings, read};

/// Fewer kept readings than this: too early to say.
pub(crate) const LEAST_READINGS: usize = 5;
/// An interval over this share of the predicted loss: too early to say.
const WIDEST: f64 = 0.25;
/// The most film that may be left, and that one division may stand for, µm.
pub const MOST_UM: f64 = 3.0;
/// Where no film can be told, two divisions may not exceed this share of the predicted loss.
const COARSEST: f64 = 0.05;
/// The limit as a share of the predicted loss.
const LIMIT: f64 = 0.01;
/// Largest span of the last three kept readings, in u.
const SPAN: f64 = 0.35;
/// Largest difference of the last and the third last, in u.
const STEP: f64 = 0.32;

/// A move to a warmer place starts a loss that a few readings say little of: for the first five days there…
const NEW_PLACE_H: f64 = 120.0;
/// … only this share of the usual doubt is allowed.
const NEW_PLACE_DOUBT: f64 = 0.7;
/// Coats with less solids than this are thin: their last solvent can leave for weeks along ln t, a gram in the first ten
/// hours, another in the first hundred.
const THIN_SOLIDS: f64 = 0.5;
/// The readings from this share of the time in a place on show such a loss…
const LATE_SHARE: f64 = 1.0 / 6.0;
/// … which is taken this many sd steeper than it is…
const STEEPER: f64 = 0.8;
/// … and must not come to more than this many limits by the day that "final" means.
const MOST_LIMITS: f64 = 1.25;

/// What the verdict is made from.
pub(crate) struct Evidence<'a> {
    pub division_g: f64,
    pub u: f64,
    /// Kept readings in time order.
    pub points: &'a [Point],
    pub newest_flagged: bool,
    /// Widened interval of the final mass.
    pub last: &'a Estimate,
    pub predicted_loss: f64,
    /// How coarse the scale is: [`coarseness`].
    pub coarse: f64,
    /// Scatter of a reading, g.
    pub scatter: f64,
    /// The most that may be left, g.
    pub limit_g: f64,
    /// Probability that no more than the limit is still to lose, and how sure it is to be.
    pub probability: f64,
    pub certainty: Certainty,
    /// When the panel came to the place where it is, in hours since the wet weight; 0 where it was not moved.
    pub here_since_h: f64,
    /// Final mass over wet coat, where the coat was weighed.
    pub solids: Option<f64>,
}

/// max(2 d, 1 % of the predicted loss), g; where film can be told, never over 3 µm.
pub(crate) fn limit(division_g: f64, predicted_loss: f64, film: Option<FilmScale>) -> f64 {
    let limit = (2.0 * division_g).max(LIMIT * predicted_loss);
    film.map_or(limit, |f| limit.min(MOST_UM / f.um_per_g()))
}

/// How many times coarser the scale is than it may be; over 1 it can not see the rest.
pub(crate) fn coarseness(division_g: f64, predicted_loss: f64, film: Option<FilmScale>) -> f64 {
    match film {
        Some(film) => division_g * film.um_per_g() / MOST_UM,
        None => 2.0 * division_g / (COARSEST * predicted_loss).max(f64::MIN_POSITIVE),
    }
}

/// The verdict from the readings as they are now.
pub(crate) fn verdict(e: &Evidence) -> Verdict {
    let kept = e.points.len();
    if kept < LEAST_READINGS {
        return Verdict::TooEarly(TooEarly::FewReadings { kept, needed: LEAST_READINGS });
    }
    let (width_g, most_g) = (e.last.width(), WIDEST * e.predicted_loss);
    if !(width_g <= most_g) {
        return Verdict::TooEarly(TooEarly::WideInterval { width_g, most_g });
    }
    if e.coarse > 1.0 {
        let division_g = e.division_g / e.coarse;
        return Verdict::NotYet(NotYet::ScaleCannotSee { division_g, panel_times: e.coarse });
    }
    if e.newest_flagged {
        return Verdict::NotYet(NotYet::NewestFlagged);
    }
    let hours_here = e.points[kept - 1].t_h - e.here_since_h;
    let doubt = if e.here_since_h > 0.0 && hours_here < NEW_PLACE_H { NEW_PLACE_DOUBT } else { 1.0 };
    if !(1.0 - e.probability <= doubt * (1.0 - e.certainty.least())) {
        return Verdict::NotYet(NotYet::StillToLose);
    }
    let last: Vec<f64> = e.points[kept - 3..].iter().map(|p| p.y).collect();
    if !level(&last, e.u) {
        return Verdict::NotYet(NotYet::NotLevel { span_g: span(&last) });
    }
    // Where the coat was not weighed, nobody can tell whether it is thin.
    if !e.solids.is_some_and(|solids| solids >= THIN_SOLIDS)
        && !(late_loss(e.points, e.here_since_h, e.scatter) <= MOST_LIMITS * e.limit_g)
    {
        return Verdict::NotYet(NotYet::LevelTooBriefly);
    }
    Verdict::Yes(Since::Now)
}

/// What a loss that goes on evenly in ln t would still come to by [`HORIZON_H`], g, taken as steep as the late readings in
/// this place let it be; infinite where fewer than three of them tell.
fn late_loss(points: &[Point], since_h: f64, scatter: f64) -> f64 {
    let hours_here = points[points.len() - 1].t_h - since_h;
    let late = || points.iter().map(|p| (p.t_h - since_h, p.y)).filter(|p| p.0 > 0.5 && p.0 >= LATE_SHARE * hours_here);
    let n = late().count() as f64;
    if n < 3.0 {
        return f64::INFINITY;
    }
    let middle = late().map(|p| p.0.ln()).sum::<f64>() / n;
    let spread: f64 = late().map(|p| (p.0.ln() - middle).powi(2)).sum();
    let slope = late().map(|p| (middle - p.0.ln()) * p.1).sum::<f64>() / spread;
    (slope + STEEPER * scatter / spread.sqrt()) * (HORIZON_H / hours_here).ln().max(0.0)
}

/// Whether the verdict can be yes at all, as far as the readings alone show it: [`verdict`] asks all of this as well.
pub(super) fn may_be_steady(kept: &[Point], u: f64, newest_flagged: bool) -> bool {
    let newest: Vec<f64> = kept.iter().rev().take(3).rev().map(|p| p.y).collect();
    kept.len() >= LEAST_READINGS && !newest_flagged && level(&newest, u)
}

fn span(y: &[f64]) -> f64 {
    y.iter().copied().fold(f64::NEG_INFINITY, f64::max) - y.iter().copied().fold(f64::INFINITY, f64::min)
}

fn level(last_three: &[f64], u: f64) -> bool {
    span(last_three) <= SPAN * u && (last_three[2] - last_three[0]).abs() <= STEP * u
}

/// Once yes it stays yes, until a kept reading contradicts it by more than the limit or the panel moves somewhere warmer.
pub(crate) fn with_earlier(verdict: Verdict, before: Option<SteadyBefore>, r: &Readings, kept: &[Point]) -> Verdict {
    match (verdict, before) {
        (open, Some(b)) if overruled(&open) && stands(&b, r, kept) => Verdict::Yes(Since::Earlier(b.t_h)),
        _ => verdict,
    }
}

/// Whether an earlier yes that still stands counts for more.
fn overruled(verdict: &Verdict) -> bool {
    matches!(
        verdict,
        Verdict::NotYet(
            NotYet::StillToLose | NotYet::NotLevel { .. } | NotYet::NewestFlagged | NotYet::LevelTooBriefly
        )
    )
}

fn stands(before: &SteadyBefore, r: &Readings, kept: &[Point]) -> bool {
    let age = before.t_h - r.wet_t_h;
    let moved = r.places.last_warm_h().is_some_and(|warm| warm > age);
    let coat = before.gross_g - r.offset;
    !moved && kept.iter().filter(|p| p.t_h > age).all(|p| (p.y - coat).abs() <= before.limit_g)
}

impl Forecast {
    /// A yes of this forecast as later forecasts want to know it; `None` exactly when it is not a yes of its own (an
    /// earlier yes that still stands should be handed on as it was).
    ///
    /// ```
    /// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
    /// # let balance = Balance::new(Scale::new(0.1), &[]);
    /// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
    /// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
    /// # let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
    /// assert_eq!(answer.steady_now(), None);
    /// ```
    #[must_use]
    pub fn steady_now(&self) -> Option<SteadyBefore> {
        (self.verdict == Verdict::Yes(Since::Now)).then(|| {
            let t_h = self.wet_t_h + self.newest_age_h;
            SteadyBefore { t_h, gross_g: self.curve_gross_g(t_h), limit_g: self.steady_limit_g }
        })
    }
}

/// The forecast of a panel, with the first "steady" of its replay ([`first_steady`], fitted with `replay`) taken
/// for [`Panel::steady_before`]. The replay costs fits of its own, and is made only where it can change the verdict.
///
/// # Errors
/// As [`forecast`].
pub fn forecast_knowing(
    panel: &Panel,
    settings: &Settings,
    replay: &Settings,
    known: &mut Beginnings,
) -> Result<Forecast, NoForecast> {
    let mut told = forecast(panel, settings)?;
    if overruled(&told.verdict)
        && let Some(before) = first_steady(panel, replay, known)
    {
        // The replay ends with one that no reading contradicts, and so none of those that are kept does.
        told.verdict = Verdict::Yes(Since::Earlier(before.t_h));
    }
    Ok(told)
}

/// What fits to the beginnings of a panel's weighings said: of the first so many, whether its weight was steady by then.
pub type Beginnings = Vec<(usize, Option<SteadyBefore>)>;

/// Replays the panel's readings and returns the first "steady" that no later reading has contradicted; `None` where
/// there never was one. Only times at which three of the last four readings are level are worked out, so the replay of
/// a steady panel costs a few forecasts, that of a drying one none. What is `known` from fits to the beginnings of the same
/// weighings is added to: a panel with one weighing more costs one fit more and not all of them again.
///
/// The blank is taken as a whole: its later readings help to remove the drift from the earlier ones.
///
/// ```
/// # use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing};
/// # let balance = Balance::new(Scale::new(0.1), &[]);
/// # let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
/// # let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
/// use comb_scale_science::drying::steady::{Beginnings, first_steady};
/// let panel = Panel::new(&balance, Some(400.0), &weighings);
/// assert_eq!(first_steady(&panel, &Settings::instant(), &mut Beginnings::new()), None);
/// ```
#[must_use]
pub fn first_steady(panel: &Panel, settings: &Settings, known: &mut Beginnings) -> Option<SteadyBefore> {
    let all = read(panel).ok()?;
    let u = all.u();
    let mut found: Option<SteadyBefore> = None;
    for n in LEAST_READINGS..=all.points.len() {
        if found.is_some_and(|f| stands(&f, &all, &all.points[..n])) {
            continue;
        }
        found = None;
        let newest = &all.points[n - 4..n];
        let three_level = (0..4).any(|out| {
            let y: Vec<f64> = (0..4).filter(|&i| i != out).map(|i| newest[i].y).collect();
            level(&y, u)
        });
        if !three_level {
            continue;
        }
        let until = all.readings[n - 1].t_h;
        let weighings: Vec<Weighing> = panel.weighings.iter().copied().filter(|w| w.t_h <= until).collect();
        if let Some((_, then)) = known.iter().find(|(count, _)| *count == weighings.len()) {
            found = *then;
            continue;
        }
        let moves: Vec<_> = panel.moves.iter().copied().filter(|m| m.t_h <= until).collect();
        let then = Panel { weighings: &weighings, moves: &moves, steady_before: None, ..panel.clone() };
        found = steady_by(&then, settings);
        known.push((weighings.len(), found));
    }
    found
}
