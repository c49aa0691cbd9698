//! More than one coat: panels simulated here, as the public bank has none.
//!
//! Each coat carries light solvent, which leaves by evaporation, and heavy solvent, which diffuses out of a slab (Crank,
//! The Mathematics of Diffusion, equation 4.18) with a pace that falls with the square of the film's thickness. Coats are
//! sprayed one after another with a flash-off between them, and only the whole is weighed: the earlier coats have lost
//! much of their light solvent by then, so the film first weighed is richer than the sheet's mix.

use crate::bank::{Hit, bounds, hit, table};
use crate::random::Random;
use crate::simulated::{CUTS_H, Simulated, parallel};
use comb_scale::science::drying::{Panel, Settings, Weighing, forecast};
use std::collections::BTreeMap;

/// Share left in a slab that loses from one face, at Dt/L².
fn slab(fourier: f64) -> f64 {
    let pi2 = std::f64::consts::PI.powi(2);
    let odd = (0..40).map(|k| f64::from(2 * k + 1).powi(2));
    odd.map(|n2| 8.0 / (pi2 * n2) * (-n2 * pi2 * fourier / 4.0).exp()).sum()
}

/// One coating on one panel.
struct Coats {
    /// When each coat was sprayed, h before the wet weight.
    sprayed: Vec<f64>,
    /// Of one coat as sprayed, g: solids, light and heavy solvent.
    solids: f64,
    light: f64,
    heavy: f64,
    light_h: f64,
    /// Time constants of the heavy solvent's two parts in the whole film, h.
    heavy_h: [f64; 2],
    move_h: f64,
    faster: f64,
}

impl Coats {
    fn mass(&self, t_h: f64) -> f64 {
        let tau = t_h.min(self.move_h) + self.faster * (t_h - self.move_h).max(0.0);
        let one = |before: &f64| {
            let t = tau + before;
            let slow: f64 = self.heavy_h.iter().map(|h| 0.5 * slab(t / h)).sum();
            self.solids + self.light * (-t / self.light_h).exp() + self.heavy * slow
        };
        self.sprayed.iter().map(one).sum()
    }
}

/// A panel with `coats` coats; solids by weight on its sheet are right to 0.015.
fn simulate(random: &mut Random, coats: usize) -> Simulated {
    let film_g = random.log_between(20.0, 90.0);
    let solids = random.between(0.45, 0.72);
    let light = (1.0 - solids) * random.between(0.45, 0.8);
    let flash_off = random.between(0.15, 0.75);
    let slow_h = random.log_between(15.0, 250.0);
    let one = film_g / coats as f64;
    let wait = random.between(0.03, 0.12);
    let course = Coats {
        sprayed: (0..coats).map(|i| wait + flash_off * i as f64).collect(),
        solids: solids * one,
        light: light * one,
        heavy: (1.0 - solids - light) * one,
        light_h: random.log_between(0.2, 1.5),
        heavy_h: [slow_h, slow_h * random.between(2.0, 6.0)],
        move_h: random.between(144.0, 192.0),
        faster: random.log_between(3.0, 10.0),
    };
    let (bare_g, blank_g, d) = (random.between(380.0, 900.0), random.between(700.0, 900.0), 0.1);
    let days = (1..=10).chain([12, 14]).chain(15..=21).map(|day| 24.0 * f64::from(day));
    let ages: Vec<f64> = [0.0, 0.5, 1.0, 4.0, 8.0].into_iter().chain(days).collect();
    let mut drift = 0.0;
    let (mut readings, mut blank) = (Vec::new(), Vec::new());
    let mut before = 0.0;
    for t in ages {
        drift += 0.03 * ((t - before) / 24.0_f64).sqrt() * random.normal();
        before = t;
        let mut read = |g: f64| ((g + drift + 0.08 * random.normal()) / d).round() * d;
        readings.push(Weighing::new(t, read(bare_g + course.mass(t))));
        blank.push(Weighing::new(t, read(blank_g)));
    }
    Simulated {
        id: String::new(),
        kind: "coats".into(),
        coating: None,
        division_g: d,
        bare_g,
        sheet_solids: solids + 0.015 * random.normal(),
        move_h: Some(course.move_h),
        readings,
        blank,
        final_coat_g: course.mass(90.0 * 24.0),
        coat_g_at_h: BTreeMap::new(),
        slips: Vec::new(),
        area_cm2: 1000.0,
        solvent_density: 0.87,
        coat_g_at_readings: Vec::new(),
        repeats: Vec::new(),
    }
}

/// Panels and seed that the width of the sheet's belief was chosen on.
const CHOSEN_ON: (usize, u64) = (120, 20_261_125);
/// Panels and seed drawn afterwards to check the choice; written down before their first run.
const CHECKED_ON: (usize, u64) = (400, 20_270_101);

fn assert_covers((panels, seed): (usize, u64), coats: usize, sheet: bool) {
    let mut random = Random(seed + coats as u64);
    let panels: Vec<Simulated> = (0..panels).map(|_| simulate(&mut random, coats)).collect();
    let hits: Vec<Vec<Hit>> = parallel(&panels, |p| {
        let of = |cut_h| {
            let cut = p.cut(cut_h);
            hit(p, &forecast(&Panel { coats: coats as u32, ..cut.panel(sheet) }, &Settings::shown()).unwrap())
        };
        CUTS_H.map(of).to_vec()
    });
    let name = format!("{coats} coats, {}", if sheet { "sheet solids" } else { "no sheet" });
    bounds(&table(&name, &hits), panels.len(), [95.0; 6]);
}

#[test]
fn without_the_sheet() {
    for coats in [1, 2, 3] {
        assert_covers(CHOSEN_ON, coats, false);
    }
}

#[test]
fn with_the_sheet() {
    for coats in [1, 2, 3] {
        assert_covers(CHOSEN_ON, coats, true);
    }
}

/// Panels that had no say in the choice, four coats among them, which no choice was made on.
#[test]
fn with_the_sheet_on_fresh_panels() {
    for coats in [1, 2, 3, 4] {
        assert_covers(CHECKED_ON, coats, true);
    }
}
