//! Fresh panels, simulated here after the public banks' kinds, so that what was tuned on those can be checked on others.
//!
//! Four fifths dry as a film does: solvent diffuses through slices of the film with a pace that falls steeply as it leaves,
//! and evaporates from the top one; one fifth follow plain curves. Every second thin or abrupt panel has other physics: a few
//! solvents that evaporate each at its pace, losses with kinks, drops, two steps or a wandering rate, and tails that fall
//! like a power of time.

use crate::random::Random;
use crate::simulated::Simulated;
use comb_scale::science::drying::Weighing;
use std::collections::BTreeMap;

/// What "final" means, h.
const END_H: f64 = 2160.0;

/// The kinds of the public banks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Single,
    Stay,
    Thin,
    Abrupt,
}

impl Kind {
    fn name(self) -> &'static str {
        match self {
            Self::Single => "single",
            Self::Stay => "stay",
            Self::Thin => "thin",
            Self::Abrupt => "abrupt",
        }
    }
}

/// `n` panels of a kind.
pub fn panels(kind: Kind, n: usize, seed: u64) -> Vec<Simulated> {
    (0..n).map(|i| panel(kind, i, &mut Random(seed.wrapping_mul(1_000_003) + i as u64))).collect()
}

/// When the panel was carried into the warm, and how many times faster it dries there by day and by night.
struct Place {
    move_h: Option<f64>,
    day: f64,
    night: f64,
}

impl Place {
    fn pace(&self, t_h: f64) -> f64 {
        match self.move_h {
            Some(moved) if t_h > moved => {
                if (t_h % 24.0) < 10.0 {
                    self.day
                } else {
                    self.night
                }
            }
            _ => 1.0,
        }
    }
}

/// Loss as a share of all volatile mass, on a grid of times.
struct Course {
    t_h: Vec<f64>,
    left: Vec<f64>,
}

impl Course {
    fn at(&self, t_h: f64) -> f64 {
        let i = self.t_h.partition_point(|t| *t < t_h).clamp(1, self.t_h.len() - 1);
        let (t0, t1) = (self.t_h[i - 1], self.t_h[i]);
        self.left[i - 1] + (self.left[i] - self.left[i - 1]) * ((t_h - t0) / (t1 - t0)).clamp(0.0, 1.0)
    }

    /// Steps that grow with time from the start and from the move.
    fn times(place: &Place) -> Vec<f64> {
        let mut times = vec![0.0];
        let mut t: f64 = 0.0;
        while t < END_H {
            let since = place.move_h.filter(|m| t >= *m).map_or(t, |m| t - m);
            let next = t + (0.004 + 0.02 * since).min(6.0);
            t = place.move_h.filter(|m| t < *m && next > *m).unwrap_or(next);
            times.push(t);
        }
        times
    }

    /// A curve of effective time.
    fn of(place: &Place, left: impl Fn(f64) -> f64) -> Self {
        let t_h = Self::times(place);
        let mut tau = 0.0;
        let mut shares = vec![left(0.0)];
        for w in t_h.windows(2) {
            tau += (w[1] - w[0]) * place.pace(0.5 * (w[0] + w[1]));
            shares.push(left(tau));
        }
        let first = shares[0];
        Self { t_h, left: shares.into_iter().map(|s| s / first).collect() }
    }

    /// A rate of loss, share per hour, that knows time and what is left.
    fn rate(place: &Place, mut rate: impl FnMut(f64, f64, f64) -> f64) -> Self {
        let t_h = Self::times(place);
        let mut left = vec![1.0];
        for w in t_h.windows(2) {
            let before = left[left.len() - 1];
            let lost: f64 = rate(w[0], w[1] - w[0], before) * place.pace(w[0]) * (w[1] - w[0]);
            left.push((before - lost.max(0.0)).max(0.0));
        }
        Self { t_h, left }
    }

    /// This with a share of another.
    fn mixed(self, other: &Self, share: f64) -> Self {
        let left = self.left.iter().zip(&other.left).map(|(a, b)| a * (1.0 - share) + b * share).collect();
        Self { left, ..self }
    }
}

const SLICES: usize = 24;

/// Solvents in a film of slices: how much of each, how fast it diffuses in the wet film and leaves its top, per hour.
struct Film {
    /// Solvent per solids by mass, of each.
    amount: Vec<f64>,
    wet_pace: Vec<f64>,
    top_pace: Vec<f64>,
    /// ln of how much slower solvent diffuses in the dry film.
    slowing: f64,
    /// How much of the lower half had left before (a half-dried coat below).
    below_left: f64,
}

impl Film {
    fn course(&self, place: &Place) -> Course {
        let t_h = Course::times(place);
        let n = SLICES;
        let mut u: Vec<Vec<f64>> = self
            .amount
            .iter()
            .map(|a| (0..n).map(|i| if i >= n / 2 { a * (1.0 - self.below_left) } else { *a }).collect())
            .collect();
        let total: f64 = u.iter().flatten().sum();
        let mut left = vec![1.0];
        for w in t_h.windows(2) {
            let dt = (w[1] - w[0]) * place.pace(0.5 * (w[0] + w[1]));
            let wetness: Vec<f64> = (0..n).map(|i| u.iter().map(|s| s[i]).sum::<f64>()).collect();
            for (k, solvent) in u.iter_mut().enumerate() {
                let pace = |x: f64| {
                    let free = x / (x + 0.15);
                    self.wet_pace[k] * (-self.slowing * (1.0 - free)).exp() * (n * n) as f64
                };
                let between: Vec<f64> = wetness.windows(2).map(|p| pace(0.5 * (p[0] + p[1]))).collect();
                // The top slice loses to the air, and no faster than its solvent comes up through half a slice.
                let inner = 2.0 * pace(wetness[0]);
                let outer = self.top_pace[k] * n as f64;
                implicit(solvent, &between, inner * outer / (inner + outer), dt);
            }
            left.push(u.iter().flatten().sum::<f64>() / total);
        }
        Course { t_h, left }
    }
}

/// One backward Euler step of diffusion between slices, with a loss from the first.
fn implicit(u: &mut [f64], between: &[f64], top: f64, dt: f64) {
    let n = u.len();
    let mut upper = vec![0.0; n];
    for i in 0..n {
        let (up, down) = (if i > 0 { between[i - 1] } else { 0.0 }, if i + 1 < n { between[i] } else { 0.0 });
        let own = 1.0 + dt * (up + down + if i == 0 { top } else { 0.0 });
        let before = if i > 0 { dt * up * upper[i - 1] } else { 0.0 };
        let carried = if i > 0 { dt * up * u[i - 1] } else { 0.0 };
        upper[i] = dt * down / (own - before);
        u[i] = (u[i] + carried) / (own - before);
    }
    for i in (0..n - 1).rev() {
        u[i] += upper[i] * u[i + 1];
    }
}

fn film_course(random: &mut Random, thin: bool, volatile: f64, place: &Place) -> Course {
    let solvents = 1 + random.below(2);
    let parts: Vec<f64> = if solvents == 1 {
        vec![1.0]
    } else {
        let a = random.between(0.3, 0.7);
        vec![a, 1.0 - a]
    };
    let (low, high) = if thin { (1.0, 20.0) } else { (0.05, 1.5) };
    let wet = random.log_between(low, high);
    let (top_low, top_high) = if thin { (0.1, 5.0) } else { (0.1, 4.0) };
    let top = random.log_between(top_low, top_high);
    let slower = random.log_between(0.1, 0.6);
    Film {
        amount: parts.iter().map(|p| p * volatile).collect(),
        wet_pace: (0..solvents).map(|k| wet * slower.powi(k as i32)).collect(),
        top_pace: (0..solvents).map(|k| top * slower.powi(k as i32)).collect(),
        slowing: random.between(3.0, if thin { 8.5 } else { 6.8 }),
        below_left: if random.chance(0.25) { random.between(0.3, 0.9) } else { 0.0 },
    }
    .course(place)
}

/// Plain curves of effective time.
fn plain_course(random: &mut Random, thin: bool, place: &Place) -> Course {
    let pace = if thin { 0.15 } else { 1.0 };
    let fast = pace * random.log_between(1.0, 12.0);
    let slow = pace * random.log_between(30.0, 300.0);
    let share = random.between(0.05, 0.4);
    match random.below(4) {
        0 => Course::of(place, |t| (1.0 - share) * (-t / fast).exp() + share * (-t / slow).exp()),
        1 => {
            let power = random.between(0.35, 0.8);
            Course::of(place, |t| (-(t / (3.0 * fast)).powf(power)).exp())
        }
        2 => Course::of(place, |t| (1.0 - share) * (1.0 - t / (2.0 * fast)).max(0.0) + share * (-t / slow).exp()),
        _ => Course::of(place, |t| (1.0 - share) * (-t / fast).exp() + share * slab(t / (4.0 * slow))),
    }
}

/// Share left in a slab that loses from one face, at Dt/L² (Crank, The Mathematics of Diffusion, equation 4.18).
fn slab(fourier: f64) -> f64 {
    let pi2 = std::f64::consts::PI.powi(2);
    let odd = (0..40).map(|k| f64::from(2 * k + 1).powi(2));
    odd.map(|n2| 8.0 / (pi2 * n2) * (-n2 * pi2 * fourier / 4.0).exp()).sum()
}

/// Physics that the public thin bank does not have.
fn other_course(random: &mut Random, place: &Place) -> Course {
    let whole_h = random.log_between(0.7, 120.0);
    let tail_h = random.log_between(1.0, 60.0);
    let power = random.between(0.1, 0.8);
    let tail = random.log_between(0.05, 0.4);
    let main = match random.below(5) {
        0 => {
            // Each solvent leaves at a pace of its own, held back as the film closes.
            let paces: Vec<f64> = (0..3).map(|_| 1.0 / (whole_h * random.log_between(0.2, 3.0))).collect();
            let closing = random.between(0.0, 3.0);
            let mut each = [1.0 / 3.0; 3];
            Course::rate(place, move |_, dt, left| {
                let held = (-closing * (1.0 - left)).exp();
                let mut lost = 0.0;
                for (m, pace) in each.iter_mut().zip(&paces) {
                    let gone = (*m * pace * held).min(*m / dt);
                    *m -= gone * dt;
                    lost += gone;
                }
                lost
            })
        }
        1 => {
            let (kink, slower) = (random.between(0.3, 0.8), random.between(0.15, 0.7));
            Course::rate(place, move |_, _, left| if left > 1.0 - kink { 1.0 / whole_h } else { slower / whole_h })
        }
        2 => Course::of(place, |t| (1.0 - t / (1.5 * whole_h)).max(0.0).powf(1.5)),
        3 => {
            let (share, longer) = (random.between(0.3, 0.8), random.between(2.0, 6.0));
            Course::of(place, |t| {
                share * (1.0 - t / whole_h).max(0.0) + (1.0 - share) * (1.0 - t / (longer * whole_h)).max(0.0)
            })
        }
        _ => {
            let mut chance = Random(random.unit().to_bits());
            let mut ln_rate: f64 = 0.0;
            Course::rate(place, move |_, dt, _| {
                ln_rate = 0.97 * ln_rate + 0.4 * (dt / whole_h).sqrt().min(1.0) * chance.normal();
                ln_rate.exp() / whole_h
            })
        }
    };
    let slow = Course::of(place, |t| (1.0 + t / tail_h).powf(-power));
    main.mixed(&slow, tail)
}

fn abrupt_course(random: &mut Random, other: bool, place: &Place) -> Course {
    let whole_h = random.log_between(1.3, 100.0);
    let tail = if random.chance(0.4) { 0.0 } else { random.log_between(0.008, 0.06) };
    let slow_h = random.log_between(10.0, 250.0);
    let slow = Course::of(place, |t| (-t / slow_h).exp());
    let main = match random.below(if other { 4 } else { 1 }) {
        1 => {
            let (kink, slower) = (random.between(0.3, 0.8), random.between(0.3, 0.8));
            Course::rate(place, move |_, _, left| if left > 1.0 - kink { 1.0 / whole_h } else { slower / whole_h })
        }
        2 => Course::of(place, |t| (1.0 - t / whole_h).max(0.0).powf(1.25)),
        3 => {
            let mut chance = Random(random.unit().to_bits());
            let mut ln_rate: f64 = 0.0;
            Course::rate(place, move |_, dt, _| {
                ln_rate = 0.97 * ln_rate + 0.2 * (dt / whole_h).sqrt().min(1.0) * chance.normal();
                ln_rate.exp() / whole_h
            })
        }
        _ => Course::of(place, |t| (1.0 - t / whole_h).max(0.0)),
    };
    main.mixed(&slow, tail)
}

fn ages(random: &mut Random) -> Vec<f64> {
    let mut ages = vec![0.0];
    ages.extend([0.5, 1.0, 2.0, 4.0, 8.0].map(|t| t * (1.0 + 0.015 * random.normal())));
    for day in (1..=14).map(f64::from) {
        if random.chance(0.9) {
            ages.push(24.0 * day + random.between(-1.8, 1.8));
        }
    }
    ages.extend([384.0, 432.0, 504.0].map(|t| t + random.between(-2.0, 2.0)));
    ages
}

fn panel(kind: Kind, i: usize, random: &mut Random) -> Simulated {
    let other = i % 2 == 1;
    let thin = kind == Kind::Thin || (kind == Kind::Abrupt && random.chance(0.5));
    let (solids, wet_um) = if thin {
        match random.below(3) {
            0 => (random.between(0.08, 0.22), random.log_between(60.0, 220.0)),
            1 => (random.between(0.18, 0.40), random.log_between(120.0, 450.0)),
            _ => (random.between(0.30, 0.45), random.log_between(130.0, 700.0)),
        }
    } else {
        (random.between(0.55, 0.75), random.between(250.0, 500.0))
    };
    let area_cm2 = [600.0, 775.0, 900.0, 930.0, 1000.0][random.below(5)] * (1.0 + 0.003 * random.normal());
    let density = if thin { random.between(0.9, 1.15) } else { random.between(1.15, 1.5) };
    let solvent_density = random.between(0.8, 0.9);
    let wet_g = if thin { wet_um * density * area_cm2 * 1e-4 } else { random.between(30.0, 60.0) };
    let moved = match kind {
        Kind::Single => true,
        Kind::Stay => false,
        Kind::Thin | Kind::Abrupt => random.chance(0.6),
    };
    let day = random.log_between(3.0, 14.0);
    let cycles = random.chance(0.3);
    let place = Place {
        move_h: moved.then(|| random.between(144.0, 197.0)),
        day,
        night: if cycles { 1.0 + 0.15 * (day - 1.0) } else { day },
    };
    let course = match kind {
        Kind::Abrupt => abrupt_course(random, other, &place),
        Kind::Thin if other => other_course(random, &place),
        _ if random.chance(0.2) => plain_course(random, thin, &place),
        _ => film_course(random, thin, (1.0 - solids) / solids, &place),
    };

    let fine = matches!(kind, Kind::Thin | Kind::Abrupt) && random.chance(0.25);
    let division_g = if fine { 0.01 } else { 0.1 };
    let sd = division_g * random.between(0.5, 1.0);
    let drift = if random.chance(0.5) { 0.3 * division_g } else { 0.0 };
    let first_h = random.between(1.0, 10.0) / 60.0;
    let mass = |age: f64| wet_g * (solids + (1.0 - solids) * course.at(age + first_h));
    let show = |g: f64| (g / division_g).round() * division_g;
    let (bare, blank_g) = (random.between(300.0, 1400.0), random.between(600.0, 1200.0));
    let bare_g = show(bare + sd * random.normal());
    let (mut level, mut before) = (0.0, 0.0);
    let mut p = Simulated {
        id: format!("{}{i}{}", kind.name(), if other { "B" } else { "A" }),
        kind: kind.name().into(),
        coating: None,
        division_g,
        bare_g,
        sheet_solids: (solids + 0.02 * random.normal()).clamp(0.02, 0.95),
        move_h: place.move_h.map(|m| (m - first_h).max(0.0)),
        readings: Vec::new(),
        blank: Vec::new(),
        final_coat_g: mass(END_H) + bare - bare_g,
        coat_g_at_h: BTreeMap::from([(0, wet_g + bare - bare_g)]),
        slips: Vec::new(),
        area_cm2,
        solvent_density,
        coat_g_at_readings: Vec::new(),
        repeats: Vec::new(),
    };
    for (k, t_h) in ages(random).into_iter().enumerate() {
        level += drift * ((t_h - before) / 24.0_f64).sqrt() * random.normal();
        before = t_h;
        let gross = bare + mass(t_h) + level;
        let slip = if k > 0 && random.chance(0.022) {
            let far = if random.chance(0.2) { random.between(5.0, 40.0) } else { random.between(0.8, 3.0) };
            p.slips.push(k);
            if random.chance(0.5) { far } else { -far }
        } else {
            0.0
        };
        p.readings.push(Weighing::new(t_h, show(gross + slip + sd * random.normal())));
        p.repeats.push(std::array::from_fn(|_| show(gross + sd * random.normal())));
        p.blank.push(Weighing::new(t_h, show(blank_g + level + sd * random.normal())));
        p.coat_g_at_readings.push(mass(t_h) + bare - bare_g);
    }
    p
}
