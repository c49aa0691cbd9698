//! From weigh-ins to readings in time order: repeats averaged, drift removed, scatter known.

use super::balance::Drifts;
use super::between::tell_sides;
use super::fit::{Point, sigma_u};
use super::model::Places;
use super::noise::{SumOfSquares, UNIT, largest_scatter};
use super::outcome::{NoForecast, Standing};
use super::panel::{Panel, Say, Weighing};

/// Masses over this many divisions, and ages over [`LONGEST_H`], can not be meant.
pub(crate) const MOST_DIVISIONS: f64 = 1e7;
const LONGEST_H: f64 = 1e6;
/// The model's own floor: a thousandth of the wet coat.
const MODEL_FLOOR: f64 = 0.001;
/// No bare weight: the loss so far is taken as this share of the coat (only an offset).
const LOSS_SHARE: f64 = 0.2;

/// A reading that counts: a weigh-in, or the mean of a round's repeats.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Reading {
    /// Time on the test's clock, h.
    pub t_h: f64,
    /// The balance it was read on.
    pub balance: u32,
    /// Mean gross mass as read, g.
    pub gross: f64,
    /// The caller's indices.
    pub from: Vec<usize>,
    /// The person insists on it.
    pub insisted: bool,
}

/// A panel's readings, ready for screen and fit.
#[derive(Debug, Clone)]
pub(crate) struct Readings {
    pub readings: Vec<Reading>,
    /// The same for the fit; y = gross − bare − drift since the wet weight.
    pub points: Vec<Point>,
    pub standings: Vec<Standing>,
    pub places: Places,
    pub wet_t_h: f64,
    /// Gross less y at the wet weight, g: the bare mass, or the offset that stands for it.
    pub offset: f64,
    /// y₀, g.
    pub wet: f64,
    /// Loss so far, g (only where no bare weight is known: what the belief then rests on).
    pub loss: Option<f64>,
    pub scatter: f64,
    /// Division of the coarsest balance used, g.
    pub division_g: f64,
    /// s₀ of a single reading, g.
    pub model_sd: f64,
    pub drifts: Drifts,
}

impl Readings {
    pub fn u(&self) -> f64 {
        self.scatter / UNIT
    }

    pub fn sigma_u(&self) -> f64 {
        sigma_u(self.model_sd)
    }

    /// Balance and time of the wet weight, as [`Drifts`] wants them.
    pub fn wet_at(&self) -> (u32, f64) {
        (self.readings[0].balance, self.wet_t_h)
    }

    /// sₙ/√k and the floor, for a mean of `k`.
    fn sd_of_mean(scatter: f64, wet: f64, k: usize) -> f64 {
        (scatter / (k as f64).sqrt()).hypot(MODEL_FLOOR * wet)
    }
}

/// Sorts, averages, removes drift.
pub(crate) fn read(panel: &Panel) -> Result<Readings, NoForecast> {
    let fraction = |s: f64| s > 0.0 && s < 1.0;
    if !fraction(panel.least_solids) || panel.sheet_solids.is_some_and(|s| !fraction(s)) {
        return Err(NoForecast::BadSolids);
    }
    let mut standings: Vec<Standing> = panel.weighings.iter().map(standing).collect();
    let mut order: Vec<usize> = (0..standings.len()).filter(|&i| standings[i] == Standing::Kept).collect();
    let w = panel.weighings;
    order::sort_by(&mut order, |&i, &k| {
        w[i].t_h
            .total_cmp(&w[k].t_h)
            .then(w[i].round.is_some().cmp(&w[k].round.is_some()))
            .then(w[k].gross_g.total_cmp(&w[i].gross_g))
            .then((w[i].round, w[i].balance).cmp(&(w[k].round, w[k].balance)))
    });
    let used = panel.balance.used(order.iter().map(|&i| w[i].balance));
    let used = match order.first() {
        // Even without a reading a scale that is none is what is wrong first.
        None if !(panel.balance.scale.division_g.is_finite() && panel.balance.scale.division_g > 0.0) => {
            return Err(NoForecast::BadScale);
        }
        None => return Err(NoForecast::NoWeighing),
        Some(_) => used?,
    };
    let d = used.division_g();
    let too_much = |g: f64| g.abs() > MOST_DIVISIONS * d;
    if order.iter().any(|&i| too_much(w[i].gross_g) || w[i].t_h.abs() > LONGEST_H)
        || panel.bare_g.is_some_and(|b| !b.is_finite() || too_much(b))
    {
        return Err(NoForecast::NotPlausible);
    }
    let (mut readings, repeats) = rounds(w, &order, d);
    let wet_t_h = readings[0].t_h;
    let scatter = used.scatter(repeats);
    let mut drifts = used.drifts(scatter / UNIT);
    tell_sides(&readings, &mut drifts, scatter / UNIT);
    let wet_at = (readings[0].balance, wet_t_h);
    leave_out_doubtful(&mut readings, &mut standings, &drifts);
    let corrected = |r: &Reading| r.gross - drifts.between(wet_at, (r.balance, r.t_h));

    let lost = readings[0].gross - readings.last().map_or(readings[0].gross, corrected);
    let loss = panel.bare_g.is_none().then(|| lost.max(4.0 * scatter));
    let offset = match (panel.bare_g, loss) {
        (Some(bare), _) => bare,
        (None, loss) => readings[0].gross - loss.unwrap_or(scatter) / LOSS_SHARE,
    };
    let wet = readings[0].gross - offset;
    // Under half a division there is no coat, and nothing to divide by.
    if !(wet > 0.5 * d) {
        return Err(NoForecast::NoCoat { coat_g: wet });
    }
    let places = Places::new(panel.moves, wet_t_h);
    let points = readings
        .iter()
        .map(|r| {
            let t_h = r.t_h - wet_t_h;
            let tie = drifts.tie_variance(wet_at, (r.balance, r.t_h)).sqrt();
            // The wet weight's doubt is in the drift sd, as all is told from it.
            let sure = t_h == 0.0 || r.insisted;
            let doubt = if sure { 0.0 } else { drifts.doubt_variance((r.balance, r.t_h)).sqrt() };
            let sd = Readings::sd_of_mean(scatter, wet, r.from.len()).hypot(tie).hypot(doubt);
            Point { t_h, hours: places.hours(t_h), y: corrected(r) - offset, sd }
        })
        .collect();
    let model_sd = Readings::sd_of_mean(scatter, wet, 1);
    Ok(Readings {
        readings,
        points,
        standings,
        places,
        wet_t_h,
        offset,
        wet,
        loss,
        scatter,
        division_g: d,
        model_sd,
        drifts,
    })
}

/// Takes out readings of which nobody can tell what the scale showed; never the wet weight, nor one that the person insists on.
fn leave_out_doubtful(readings: &mut Vec<Reading>, standings: &mut [Standing], drifts: &Drifts) {
    let mut first = true;
    readings.retain(|r| {
        let kept = std::mem::take(&mut first) || r.insisted;
        let doubt = if kept { None } else { drifts.too_doubtful((r.balance, r.t_h)) };
        if let Some(doubt) = doubt {
            r.from.iter().for_each(|&i| standings[i] = Standing::InDoubt(doubt));
        }
        doubt.is_none()
    });
}

fn standing(w: &Weighing) -> Standing {
    if !(w.t_h.is_finite() && w.gross_g.is_finite()) {
        Standing::NotFinite
    } else if w.say == Say::SetAside {
        Standing::SetAside
    } else {
        Standing::Kept
    }
}

/// Groups repeats. A round whose readings differ by more than scatter can (6 d, and four times what rounds of this panel
/// usually differ by) is not averaged: its readings stand alone, and the slip screen judges them.
fn rounds(w: &[Weighing], order: &[usize], division: f64) -> (Vec<Reading>, SumOfSquares) {
    let mut groups: Vec<Vec<usize>> = Vec::with_capacity(order.len());
    for &i in order {
        let same = |g: &&mut Vec<usize>| {
            w[i].round.is_some() && (w[g[0]].round, w[g[0]].balance) == (w[i].round, w[i].balance)
        };
        match groups.iter_mut().rev().find(same) {
            Some(group) => group.push(i),
            None => groups.push(vec![i]),
        }
    }
    let spread = |group: &[usize]| {
        let gross = || group.iter().map(|&i| w[i].gross_g);
        gross().fold(f64::NEG_INFINITY, f64::max) - gross().fold(f64::INFINITY, f64::min)
    };
    let mut spreads: Vec<f64> = groups.iter().filter(|g| g.len() > 1).map(|g| spread(g)).collect();
    order::sort_by(&mut spreads, f64::total_cmp);
    // The lower median: one slip in two rounds is still a slip.
    let usual = spreads.get(spreads.len().saturating_sub(1) / 2).copied().unwrap_or(0.0);
    let most = if spreads.len() > 1 { (4.0 * usual).max(largest_scatter(division)) } else { largest_scatter(division) };
    let mut repeats = SumOfSquares::default();
    let mut readings = Vec::with_capacity(order.len());
    for group in groups {
        let gross = || group.iter().map(|&i| w[i].gross_g);
        if spread(&group) > most {
            readings.extend(group.iter().map(|&i| Reading {
                t_h: w[i].t_h,
                balance: w[i].balance,
                gross: w[i].gross_g,
                from: vec![i],
                insisted: w[i].say == Say::Keep,
            }));
            continue;
        }
        let k = group.len() as f64;
        // Means about the first reading: exact to the last bit where all are equal.
        let base = w[group[0]].gross_g;
        let mean = base + gross().map(|g| g - base).sum::<f64>() / k;
        let first_h = w[group[0]].t_h;
        repeats.sum += gross().map(|g| (g - mean).powi(2)).sum::<f64>();
        repeats.count += k - 1.0;
        readings.push(Reading {
            t_h: first_h + group.iter().map(|&i| w[i].t_h - first_h).sum::<f64>() / k,
            balance: w[group[0]].balance,
            gross: mean,
            insisted: group.iter().any(|&i| w[i].say == Say::Keep),
            from: group,
        });
    }
    // Those of one time stay in the order of the weighings.
    order::sort_by(&mut readings, |a, b| a.t_h.total_cmp(&b.t_h));
    (readings, repeats)
}
