//! The simulated panels of `data/`: their truth is known, no real weigh-ins were available.

use comb_scale::science::drying::{Balance, Move, Panel, Scale, Weighing};
use serde::Deserialize;
use std::collections::BTreeMap;

/// The cuts of the evidence, h: 1, 2, 4, 7, 14 and 21 d.
pub const CUTS_H: [f64; 6] = [24.0, 48.0, 96.0, 168.0, 336.0, 504.0];

/// A simulated panel, whichever file it is from.
#[derive(Debug, Clone)]
pub struct Simulated {
    pub id: String,
    pub kind: String,
    pub coating: Option<String>,
    pub division_g: f64,
    pub bare_g: f64,
    pub sheet_solids: f64,
    pub move_h: Option<f64>,
    pub readings: Vec<Weighing>,
    pub blank: Vec<Weighing>,
    pub final_coat_g: f64,
    pub coat_g_at_h: BTreeMap<u32, f64>,
    pub slips: Vec<usize>,
    pub area_cm2: f64,
    pub solvent_density: f64,
    /// Noiseless coat at each reading, g, where it is known.
    pub coat_g_at_readings: Vec<f64>,
    /// Second and third weighings of each round, g, where there are any.
    pub repeats: Vec<[f64; 2]>,
}

impl Simulated {
    /// What is truly still to lose at an age, g: from the noiseless course (at the readings where that is known; linear in
    /// ln t between its points).
    pub fn remaining_g(&self, t_h: f64) -> f64 {
        let at_readings = self.readings.iter().zip(&self.coat_g_at_readings).map(|(w, g)| (w.t_h, *g));
        let at_hours = self.coat_g_at_h.iter().map(|(h, g)| (f64::from(*h), *g));
        let course: Vec<(f64, f64)> =
            if self.coat_g_at_readings.is_empty() { at_hours.collect() } else { at_readings.collect() };
        let i = course.partition_point(|c| c.0 < t_h).clamp(1, course.len() - 1);
        let ((t0, g0), (t1, g1)) = (course[i - 1], course[i]);
        let share = if t0 > 0.0 { (t_h / t0).ln() / (t1 / t0).ln() } else { t_h / t1 };
        g0 + (g1 - g0) * share - self.final_coat_g
    }

    /// Solids by weight of the mix as sprayed: the final mass over the noiseless coat at its application or first weighing.
    pub fn true_solids(&self) -> f64 {
        let first = self.coat_g_at_h.get(&0).or_else(|| self.coat_g_at_readings.first());
        self.final_coat_g / first.copied().unwrap_or(self.readings[0].gross_g - self.bare_g)
    }

    /// The first `n` rounds with up to `times` weighings in each.
    pub fn weighings(&self, n: usize, times: usize) -> Vec<Weighing> {
        let mut all = Vec::new();
        for (i, w) in self.readings[..n].iter().enumerate() {
            let round = Some(i as u32);
            all.push(Weighing { round, ..*w });
            let more = self.repeats.get(i).into_iter().flatten().take(times.saturating_sub(1));
            all.extend(more.map(|g| Weighing { gross_g: *g, round, ..*w }));
        }
        all
    }

    /// Readings up to a cut: t ≤ 1.04 cut + 0.1 h.
    pub fn cut(&self, cut_h: f64) -> Cut {
        self.first(self.readings.iter().filter(|w| w.t_h <= 1.04 * cut_h + 0.1).count())
    }

    /// The first `n` readings, with the blank's of the same rounds.
    pub fn first(&self, n: usize) -> Cut {
        Cut {
            balance: Balance::new(Scale::new(self.division_g), &self.blank[..n]),
            readings: self.readings[..n].to_vec(),
            moves: self.move_h.map(|t_h| Move { t_h, warmer: true }).into_iter().collect(),
            bare_g: self.bare_g,
            sheet_solids: self.sheet_solids,
        }
    }
}

/// A panel's record up to a cut.
pub struct Cut {
    pub balance: Balance,
    pub readings: Vec<Weighing>,
    pub moves: Vec<Move>,
    pub bare_g: f64,
    pub sheet_solids: f64,
}

impl Cut {
    pub fn panel(&self, sheet: bool) -> Panel<'_> {
        Panel {
            moves: &self.moves,
            sheet_solids: sheet.then_some(self.sheet_solids),
            ..Panel::new(&self.balance, Some(self.bare_g), &self.readings)
        }
    }
}

#[derive(Deserialize)]
struct Scenarios {
    scenarios: Vec<Scenario>,
}

#[derive(Deserialize)]
struct Scenario {
    id: String,
    scale_d: f64,
    tare_reading: f64,
    area_cm2: f64,
    tds_solids_wt: f64,
    t_move_h: Option<f64>,
    weigh: Vec<ScenarioReading>,
    truth: ScenarioTruth,
}

#[derive(Deserialize)]
struct ScenarioReading {
    t_h: f64,
    gross_g: f64,
    control_g: f64,
}

#[derive(Deserialize)]
struct ScenarioTruth {
    final_coat_g: f64,
    solvent_density_g_ml: f64,
}

/// The 20 panels that the reference answers are for.
pub fn scenarios() -> Vec<Simulated> {
    let file: Scenarios = serde_json::from_str(include_str!("data/public_scenarios.json")).unwrap();
    file.scenarios
        .into_iter()
        .map(|s| Simulated {
            id: s.id,
            kind: "single".into(),
            coating: None,
            division_g: s.scale_d,
            bare_g: s.tare_reading,
            sheet_solids: s.tds_solids_wt,
            move_h: s.t_move_h,
            readings: s.weigh.iter().map(|w| Weighing::new(w.t_h, w.gross_g)).collect(),
            blank: s.weigh.iter().map(|w| Weighing::new(w.t_h, w.control_g)).collect(),
            final_coat_g: s.truth.final_coat_g,
            coat_g_at_h: BTreeMap::new(),
            slips: Vec::new(),
            area_cm2: s.area_cm2,
            solvent_density: s.truth.solvent_density_g_ml,
            coat_g_at_readings: Vec::new(),
            repeats: Vec::new(),
        })
        .collect()
}

#[derive(Deserialize)]
struct Bank {
    panels: Vec<BankPanel>,
}

#[derive(Deserialize)]
struct BankPanel {
    id: String,
    kind: String,
    coating: Option<serde_json::Value>,
    scale_d: f64,
    bare_g: f64,
    area_cm2: f64,
    sheet_solids: f64,
    t_move_h: Option<f64>,
    t_h: Vec<f64>,
    gross_g: Vec<f64>,
    blank_g: Vec<f64>,
    truth: BankTruth,
}

#[derive(Deserialize)]
struct BankTruth {
    final_coat_g: f64,
    solvent_density: f64,
    coat_g_at_h: BTreeMap<String, f64>,
    slips: Vec<usize>,
    #[serde(default)]
    coat_g_at_readings: Vec<f64>,
}

/// The 480 panels of the public bank: kinds single, stay and replicate.
pub fn bank() -> Vec<Simulated> {
    panels_of(include_str!("data/public_bank.json"))
}

/// 100 thin coats and 60 that end abruptly: kinds thin and abrupt.
pub fn thin_bank() -> Vec<Simulated> {
    panels_of(include_str!("data/public_thin_bank.json"))
}

fn panels_of(text: &str) -> Vec<Simulated> {
    let file: Bank = serde_json::from_str(text).unwrap();
    let pair = |(&t, &g): (&f64, &f64)| Weighing::new(t, g);
    file.panels
        .into_iter()
        .map(|p| Simulated {
            id: p.id,
            kind: p.kind,
            coating: p.coating.map(|c| c.to_string()),
            division_g: p.scale_d,
            bare_g: p.bare_g,
            sheet_solids: p.sheet_solids,
            move_h: p.t_move_h,
            readings: p.t_h.iter().zip(&p.gross_g).map(pair).collect(),
            blank: p.t_h.iter().zip(&p.blank_g).map(pair).collect(),
            final_coat_g: p.truth.final_coat_g,
            coat_g_at_h: p.truth.coat_g_at_h.iter().map(|(h, g)| (h.parse().unwrap(), *g)).collect(),
            slips: p.truth.slips,
            area_cm2: p.area_cm2,
            solvent_density: p.truth.solvent_density,
            coat_g_at_readings: p.truth.coat_g_at_readings,
            repeats: Vec::new(),
        })
        .collect()
}

/// Maps on all cores, in order.
pub fn parallel<T: Sync, R: Send>(items: &[T], of: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    let next = std::sync::atomic::AtomicUsize::new(0);
    let mut done: Vec<(usize, R)> = std::thread::scope(|scope| {
        let workers: Vec<_> = (0..cores)
            .map(|_| {
                scope.spawn(|| {
                    let take = || next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                    std::iter::from_fn(|| Some(take()).filter(|&i| i < items.len()))
                        .map(|i| (i, of(&items[i])))
                        .collect::<Vec<_>>()
                })
            })
            .collect();
        workers.into_iter().flat_map(|w| w.join().unwrap()).collect()
    });
    done.sort_by_key(|(i, _)| *i);
    done.into_iter().map(|(_, r)| r).collect()
}

/// The `q` quantile of values, by rank.
pub fn quantile(mut values: Vec<f64>, q: f64) -> f64 {
    values.sort_by(f64::total_cmp);
    values[((values.len() - 1) as f64 * q).round() as usize]
}
