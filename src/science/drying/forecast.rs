//! The forecast of one panel, step by step.

use super::dated::{Curves, OF_REST, summary};
use super::fit::Point;
use super::interval::Estimate;
use super::least_squares::Stopped;
use super::model::{COOL_PARAMETERS, WARM_PARAMETERS};
use super::outcome::{Belief, CoatMass, Forecast, Narrowed, NoForecast, Noise, Rest, Standing, Verdict, Warning};
use super::outlook::Judged;
use super::panel::{Panel, Settings, SteadyBefore, Weighing};
use super::pool::{self, OlderUse, Trace, pooled};
use super::prior::{Believed, Stated};
use super::readings::{Reading, Readings, read};
use super::screen::{Slip, slips};
use super::steady::{Evidence, coarseness, limit, may_be_steady, verdict, with_earlier};
use super::unchanged::{Level, level};
use super::walked::{Posterior, Walked};

/// Fewer kept readings than this say nothing at all.
const LEAST_READINGS: usize = 3;
/// Under this age the slip screen marks and asks for nothing, h.
const ASK_FROM_H: f64 = 8.0;
/// How long after a move a reading must be to bring in the warm terms, h.
const AFTER_MOVE_H: f64 = 1.0;
/// s² over this, from [`WANDERS_FROM_H`] on, is said.
const WANDERS: f64 = 2.5;
const WANDERS_FROM_H: f64 = 336.0;
/// Stated solids and weights that are so many sd apart contradict each other.
const CONFLICT_SDS: f64 = 2.0;
/// A rise of this many sd is said.
const RISES: f64 = 4.0;

/// Forecasts a panel. Pure: the same input gives the same output, whatever the order of the entries.
///
/// # Errors
/// A [`NoForecast`] says why nothing can be said.
///
/// ```
/// use comb_scale_science::drying::{Balance, Panel, Scale, Settings, Weighing, forecast};
/// let balance = Balance::new(Scale::new(0.1), &[]);
/// let readings = [(0.0, 438.6), (0.5, 437.7), (1.0, 437.2), (4.0, 435.5), (8.0, 434.2), (24.0, 431.7), (48.0, 430.6)];
/// let weighings = readings.map(|(t_h, g)| Weighing::new(t_h, g));
/// let answer = forecast(&Panel::new(&balance, Some(400.0), &weighings), &Settings::shown()).unwrap();
/// assert!(answer.final_gross_g.low < 430.6);
/// ```
pub fn forecast(panel: &Panel, settings: &Settings) -> Result<Forecast, NoForecast> {
    believe(Screened::new(panel)?, panel, settings)
}

/// A panel's readings once slips are left out: what a forecast begins with.
struct Screened {
    r: Readings,
    found: Vec<Slip>,
    kept: Vec<Point>,
}

/// Whether the forecast of a panel would say that its weight is steady by now, as later ones want to know it. Where it could not,
/// whatever the fit says, nothing is fitted.
pub(super) fn steady_by(panel: &Panel, settings: &Settings) -> Option<SteadyBefore> {
    let screened = Screened::new(panel).ok()?;
    if !may_be_steady(&screened.kept, screened.r.u(), screened.newest_flagged()) {
        return None;
    }
    believe(screened, panel, settings).ok()?.steady_now()
}

impl Screened {
    fn new(panel: &Panel) -> Result<Self, NoForecast> {
        let r = read(panel)?;
        let found = screen(&r)?;
        let kept =
            r.points.iter().enumerate().filter(|(i, _)| found.iter().all(|s| s.index != *i)).map(|(_, p)| *p).collect();
        Ok(Self { r, found, kept })
    }

    fn newest_flagged(&self) -> bool {
        self.found.iter().any(|slip| slip.index + 1 == self.r.points.len())
    }
}

fn believe(screened: Screened, panel: &Panel, settings: &Settings) -> Result<Forecast, NoForecast> {
    let newest_flagged = screened.newest_flagged();
    let Screened { r, found, kept } = screened;
    let sawn = r.places.first_warm_h();
    let warm = sawn.is_some_and(|s| kept.iter().any(|p| p.t_h > s + AFTER_MOVE_H));
    let lost = (r.wet - kept[kept.len() - 1].y).max(r.scatter);
    let widest = match r.loss {
        None => Believed::of_any_coat(r.wet),
        Some(_) => Believed::of_loss(lost),
    };
    let walked = if warm {
        Walked::new::<WARM_PARAMETERS>(&r, &kept, panel, &widest, settings)
    } else {
        Walked::new::<COOL_PARAMETERS>(&r, &kept, panel, &widest, settings)
    };
    let mut warnings = Vec::new();
    let mut belief = if r.loss.is_some() { Belief::LossSoFar } else { Belief::AnyCoat };
    let mut p = walked.weigh(&widest)?;
    let mut without_solids = None;
    match (panel.sheet_solids, r.loss) {
        (Some(_), Some(_)) => warnings.push(Warning::SheetNeedsBareWeight),
        (Some(solids), None) => {
            let second = kept.get(1).map(|p| (p.t_h, p.y));
            let stated = Stated::new(solids, panel.solids_sd, r.wet, second);
            let with = walked.weigh(&Believed::of_solids(&stated, r.wet, panel.coats))?;
            let (apart_g, sd_g) = (stated.mass - p.last.median, stated.sd.hypot(p.sd));
            if apart_g.abs() > CONFLICT_SDS * sd_g {
                warnings.push(Warning::SheetConflict { apart_g, sd_g });
            }
            belief = Belief::Sheet;
            without_solids = Some((p.last, apart_g, sd_g));
            p = with;
        }
        (None, _) => {}
    }
    let age = kept[kept.len() - 1].t_h;
    let mut older = Vec::new();
    if !panel.older.is_empty() {
        let (believed, uses) = if r.loss.is_some() {
            (None, vec![OlderUse::NoBareWeight; panel.older.len()])
        } else if p.sd < pool::ENOUGH * r.wet {
            (None, vec![OlderUse::NotNeeded; panel.older.len()])
        } else {
            pooled(&Trace::new(&kept, r.wet, None), age, r.wet, panel.older)
        };
        older = uses;
        if let Some(believed) = believed {
            belief = Belief::Older;
            without_solids = None;
            p = walked.weigh(&believed)?;
        }
    }
    let curves = walked.curves(&p, &r);
    let facts = Facts { panel, r, found, kept, newest_flagged, warm, belief, older, walked, curves, without_solids };
    facts.tell(p, warnings)
}

/// Refuses what holds no drying curve, then looks for slips.
fn screen(r: &Readings) -> Result<Vec<Slip>, NoForecast> {
    let n = r.points.len();
    if n < LEAST_READINGS {
        return Err(NoForecast::FewReadings { kept: n, needed: LEAST_READINGS });
    }
    let first = r.readings[0].gross;
    if r.readings.iter().all(|reading| reading.gross == first) {
        return Err(NoForecast::AllEqual);
    }
    let insisted: Vec<bool> = r.readings.iter().map(|reading| reading.insisted).collect();
    let found = slips(&r.points, &insisted, r.sigma_u());
    let least = r
        .points
        .iter()
        .enumerate()
        .filter(|(i, _)| found.iter().all(|s| s.index != *i))
        .map(|(_, p)| p.y)
        .fold(f64::INFINITY, f64::min);
    // A tenth of the scatter: readings that only seem to differ by rounding are no loss.
    if !(r.wet - least > 0.1 * r.scatter) {
        return Err(NoForecast::NothingLost { lost_g: r.wet - least, scatter_g: r.scatter });
    }
    Ok(found)
}

/// All that is known when the posterior is.
struct Facts<'a> {
    panel: &'a Panel<'a>,
    r: Readings,
    found: Vec<Slip>,
    kept: Vec<Point>,
    newest_flagged: bool,
    warm: bool,
    belief: Belief,
    older: Vec<OlderUse>,
    walked: Walked,
    curves: Curves,
    /// Where stated solids take part: what the weights alone say, coat g, before widening, how far apart both are, and the sd of
    /// that, g.
    without_solids: Option<(Estimate, f64, f64)>,
}

impl Facts<'_> {
    fn tell(self, p: Posterior, mut warnings: Vec<Warning>) -> Result<Forecast, NoForecast> {
        let r = &self.r;
        let age = self.kept[self.kept.len() - 1].t_h;
        let newest = &r.readings[r.readings.len() - 1];
        let drift_sd = r.drifts.sd(r.wet_at(), (newest.balance, newest.t_h));
        // Drift or not, no panel ends up lighter than bare, nor than nothing.
        let least = if r.loss.is_none() { 0.0_f64.max(-r.offset) } else { -r.offset };
        // All of it would have to be lighter than that: a bare weight that is wrong, or a curve that missed the end.
        if p.last.widened(drift_sd).high < least {
            return Err(NoForecast::NoPlateau { stopped: self.walked.stopped });
        }
        let widened = |e: Estimate| {
            let wider = e.widened(drift_sd);
            let high = wider.high + self.panel.gains_mass.share() * r.wet;
            Estimate { high, ..wider }.map(|m| m.max(least))
        };
        let last = widened(p.last);
        let predicted_loss = r.wet - last.mean;
        let film = self.panel.film.filter(super::FilmScale::usable);
        let division_g = r.division_g;
        let steady_limit_g = limit(division_g, predicted_loss, film);
        let steady_probability = p.rest.share_up_to(steady_limit_g);
        let coarse = coarseness(division_g, predicted_loss, film);
        let evidence = Evidence {
            division_g,
            u: r.u(),
            points: &self.kept,
            newest_flagged: self.newest_flagged,
            last: &last,
            predicted_loss,
            coarse,
            scatter: r.scatter,
            limit_g: steady_limit_g,
            probability: steady_probability,
            certainty: self.panel.certainty,
            here_since_h: r.places.last_warm_h().filter(|h| *h < age).unwrap_or(0.0),
            solids: r.loss.is_none().then(|| last.mean / r.wet),
        };
        let now = verdict(&evidence);
        let verdict: Verdict = with_earlier(now, self.panel.steady_before, r, &self.kept);
        self.warn(drift_sd, coarse, &mut warnings);
        let coat = match (r.loss, self.panel.estimated_coat_g) {
            (None, _) => CoatMass::Weighed(r.wet),
            (Some(_), Some(g)) if g.is_finite() && g > 0.0 => CoatMass::Estimated(g),
            (Some(_), _) => CoatMass::NotAvailable,
        };
        let final_coat_g = match coat {
            CoatMass::Weighed(_) => Some(last),
            CoatMass::Estimated(g) => Some(last.map(|m| g - (r.wet - m))),
            CoatMass::NotAvailable => None,
        };
        let solids = r.loss.is_none().then(|| (p.last.mean / r.wet, p.sd / r.wet));
        let rounds_of = self.readings_kept().next_back().map_or(1, |reading| reading.from.len());
        let mut curves = self.curves.clone();
        (curves.offset, curves.drift_sd, curves.reading_sd) = (r.offset, drift_sd, r.scatter);
        curves.least_gross = least + r.offset;
        let rest = curves.widen_rest(summary(&p.rest, OF_REST), curves.hours(age));
        Ok(Forecast {
            readings: self.standings(),
            drift_g: self.drifts(),
            wet_balance: r.wet_at().0,
            kept: self.kept.len(),
            wet_t_h: r.wet_t_h,
            newest_age_h: age,
            wet_gross_g: r.readings[0].gross,
            coat,
            noise: Noise {
                reading_sd_g: r.scatter,
                model_sd_g: r.model_sd,
                drift_sd_g: drift_sd,
                ratio: self.walked.noise_ratio,
            },
            lost_g: r.wet - self.kept[self.kept.len() - 1].y,
            final_gross_g: last.map(|m| m + r.offset),
            final_coat_g,
            still_to_lose_g: Rest { estimate: rest, q90: p.rest.quantile(0.9) },
            predicted_loss_g: predicted_loss,
            verdict,
            steady_limit_g,
            steady_probability,
            steady_limit_um: film.map(|f| steady_limit_g * f.um_per_g()),
            belief: self.belief,
            narrowed: self.without_solids.map(|(alone, apart_g, sd_g)| Narrowed {
                from: widened(alone).moved(r.offset),
                to: last.moved(r.offset),
                apart_g,
                apart_sds: apart_g / sd_g,
            }),
            level: self.level(),
            judged: Judged {
                division_g,
                film,
                certainty: self.panel.certainty,
                points: self.kept.clone(),
                wet: r.wet,
                here_since_h: evidence.here_since_h,
                weighed: r.loss.is_none(),
                coats: self.panel.coats,
                moves: r.places.count(),
                newest_sd_g: r.scatter / (rounds_of as f64).sqrt(),
                drift_sd_thrice_g: r.drifts.sd_thrice(r.wet_at(), (newest.balance, newest.t_h)),
            },
            trace: Trace::new(&self.kept, r.wet, solids),
            older: self.older,
            stopped: self.walked.stopped,
            steps: self.walked.steps,
            floor_gross_g: self.walked.grid.floor + r.offset,
            warnings,
            drifts: self.r.drifts,
            curves,
        })
    }

    /// The readings that the kept points come from, in their order.
    fn readings_kept(&self) -> impl DoubleEndedIterator<Item = &Reading> {
        let kept = |(i, _): &(usize, &Reading)| self.found.iter().all(|slip| slip.index != *i);
        self.r.readings.iter().enumerate().filter(kept).map(|(_, reading)| reading)
    }

    fn level(&self) -> Level {
        let counts: Vec<usize> = self.readings_kept().map(|reading| reading.from.len()).collect();
        level(&self.kept, self.r.scatter, |i| counts[i])
    }

    fn drifts(&self) -> Vec<f64> {
        let drift = |w: &Weighing| self.r.drifts.between(self.r.wet_at(), (w.balance, w.t_h));
        self.panel.weighings.iter().map(|w| if w.t_h.is_finite() { drift(w) } else { 0.0 }).collect()
    }

    fn standings(&self) -> Vec<Standing> {
        let mut standings = self.r.standings.clone();
        let newest = self.r.points.len() - 1;
        for slip in &self.found {
            let ask = slip.index == newest && self.r.points[slip.index].t_h >= ASK_FROM_H;
            for &i in &self.r.readings[slip.index].from {
                standings[i] = Standing::Slip { off_by_g: slip.off_by, ask };
            }
        }
        standings
    }

    fn warn(&self, drift_sd: f64, coarse: f64, warnings: &mut Vec<Warning>) {
        let r = &self.r;
        let age = self.kept[self.kept.len() - 1].t_h;
        if self.walked.noise_ratio > WANDERS && age >= WANDERS_FROM_H {
            warnings.push(Warning::Wanders { ratio: self.walked.noise_ratio });
        }
        if let Some(by_g) = rise(&self.kept).filter(|by| *by > RISES * r.scatter.hypot(drift_sd)) {
            warnings.push(Warning::Rises { by_g });
        }
        if coarse > 1.0 {
            warnings.push(Warning::ScaleTooCoarse);
        }
        if r.places.first_warm_h().is_some() && !self.warm {
            warnings.push(Warning::MoveNotSeenYet);
        }
        if !r.drifts.known() {
            warnings.push(Warning::NoBlank);
        }
        if let Some(by_g) = r.drifts.first_off(r.wet_at().0) {
            warnings.push(Warning::FirstBlankOff { by_g });
        }
        warnings.extend(r.drifts.jumps(r.wet_t_h, r.wet_t_h + age).into_iter().map(Warning::Jumped));
        if self.panel.film.is_some_and(|f| !f.usable()) {
            warnings.push(Warning::BadFilmScale);
        }
        if self.walked.stopped != Stopped::Converged {
            warnings.push(Warning::NotConverged(self.walked.stopped));
        }
    }
}

/// Mean of the newest two readings less the lowest mean of two successive ones before them, g; `None` with fewer than
/// four readings.
fn rise(kept: &[Point]) -> Option<f64> {
    let means: Vec<f64> = kept.windows(2).map(|w| 0.5 * (w[0].y + w[1].y)).collect();
    let (newest, before) = (means.last()?, means.get(..means.len().checked_sub(2)?)?);
    before.iter().copied().min_by(f64::total_cmp).map(|lowest| newest - lowest)
}
