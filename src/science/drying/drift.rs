//! What the blank tells: how the scale itself wandered, and when it jumped.
//!
//! An uncoated panel is weighed in every round. Its mass does not change, so what its readings do slowly, the scale
//! does. A random-walk Kalman filter with a Rauch–Tung–Striebel smoother separates the slow part from the scatter.
//!
//! A scale also jumps: moved, knocked, zeroed badly, a new battery. No random walk follows that, so the readings are first
//! sorted into levels ([`super::levels`]); each is smoothed by itself, and nothing is drawn across the jump between two.
//! The method that this follows only skips readings far from the filter's state, and so loses the scale for good at its first
//! jump. Without one the two are the same to the last digit (`tests/science/drying/jumps.rs`).

use super::levels::{Filter, Levels, READING, same_level, walked};

/// Drift sd where nothing is known, and the most it is believed to be without a jump, in u.
const MOST_SD: f64 = 0.1;
/// A panel's reading of which the scale's level is less certain than this tells nothing, in u: three times the scatter.
const MOST_DOUBT: f64 = 0.25;
/// How long after an unconfirmed reading of the blank the readings of panels wait for its repeat, h; whatever is weighed
/// later without the blank is judged by the panels alone (design choice).
const WAITS_H: f64 = 6.0;

/// How far apart a panel and a blank weighed on one visit may be, h (design choice).
const SAME_VISIT_H: f64 = 1.0;

/// A reading of the blank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct OfBlank {
    /// On the test's clock, h.
    pub t_h: f64,
    /// What it shows more than the first one, g.
    pub z: f64,
    /// The person vouches for it: weighed again, it was the same.
    pub sure: bool,
}

/// One smoothed state: (time h, drift g, variance g²), and the level that it belongs to.
#[derive(Debug, Clone, Copy, PartialEq)]
struct State {
    t_h: f64,
    mean: f64,
    variance: f64,
    level: usize,
    /// Not the blank's: a reading of the panel lies on this level.
    of_panel: bool,
}

/// A jump of the scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Jump {
    /// The blank's last weighing before it, or a later reading that lies on that level, h on the test's clock.
    pub after_h: f64,
    /// The blank's first weighing after it, or an earlier reading that lies on that level, h on the test's clock.
    pub by_h: f64,
    /// How much more the scale shows since, g.
    pub by_g: f64,
    /// A reading of the panel, far from the blank's, tells when.
    pub told_by_panel: bool,
}

/// What one weighing of the blank says of its scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OfScale {
    /// It stands where it stood, drift aside.
    Stands,
    /// It has jumped by so many g since the weighing before.
    Jumped(f64),
    /// It has jumped by so many g, back to where it stood before.
    Back(f64),
    /// Nothing that counts: it is off by so many g, and no other weighing says the same.
    Alone(f64),
}

/// A side of a jump.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    Before,
    After,
}

/// The levels of the scale on both sides of a jump, as they are believed at a time between the blank's weighings, g.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sides {
    before_g: f64,
    after_g: f64,
}

impl Sides {
    /// Drift on one of them, g.
    pub fn drift_g(&self, side: Side) -> f64 {
        match side {
            Side::Before => self.before_g,
            Side::After => self.after_g,
        }
    }
}

/// Why nobody can tell what the scale showed at a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Doubt {
    /// The blank was far off by so many g, and no other weighing of it says the same yet: a jump of the scale, or a slip.
    Unconfirmed(f64),
    /// The scale jumped by so many g between the blank's weighings before and after, neither of them near.
    Between(f64),
}

impl Doubt {
    /// By how much the scale may have jumped, g.
    ///
    /// ```
    /// assert_eq!(comb_scale_science::drying::Doubt::Unconfirmed(5.0).by_g(), 5.0);
    /// ```
    #[must_use]
    pub fn by_g(self) -> f64 {
        match self {
            Self::Unconfirmed(by) | Self::Between(by) => by,
        }
    }
}

/// A doubt and the variance that it brings, g².
type Doubted = (Doubt, f64);

/// The smoothed drift of a balance.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Drift {
    states: Vec<State>,
    /// Skipped readings: (time h, how far off, g).
    skipped: Vec<(f64, f64)>,
    /// Those of them since the last good one.
    open: Vec<(f64, f64)>,
    /// The last good reading, h.
    known_h: f64,
    u: f64,
}

impl Drift {
    /// Smooths a blank's readings (in time order) in units of `u` g.
    pub fn smooth(blank: &[OfBlank], u: f64) -> Self {
        let readings: Vec<OfBlank> = blank.iter().map(|b| OfBlank { z: b.z / u, ..*b }).collect();
        let levels = Levels::of(&readings);
        let mut states: Vec<State> = Vec::with_capacity(blank.len());
        for level in 0..levels.starts.len() {
            smooth_level(&readings, &levels, level, &mut states);
        }
        for s in &mut states {
            s.mean *= u;
            s.variance *= u * u;
        }
        let known = levels.counts.iter().rposition(|counts| *counts);
        let known_h = known.map_or(0.0, |i| readings[i].t_h);
        let mut drift = Self { states, skipped: Vec::new(), open: Vec::new(), known_h, u };
        let off = |(b, _): (&OfBlank, &bool)| (b.t_h, b.z - drift.at(b.t_h));
        drift.skipped = blank.iter().zip(&levels.counts).filter(|(_, counts)| !**counts).map(off).collect();
        let open = blank.len() - known.map_or(0, |i| i + 1);
        drift.open = drift.skipped[drift.skipped.len() - open..].to_vec();
        drift
    }

    /// Drift at `t_h`, g, and its variance, g²: between blank readings a random walk's smoothed mean is a straight line; before
    /// the first and after the last it stays where it was while its variance grows. Across a jump it is that of the blank's
    /// reading nearer in time: jumps happen between visits to the scale, and the blank is weighed at each.
    pub fn state(&self, t_h: f64) -> (f64, f64) {
        let walk = |h: f64| walked(h) * self.u * self.u;
        let Some((a, b)) = self.about(t_h) else { return (0.0, 0.0) };
        if a.t_h == b.t_h {
            return (a.mean, a.variance + walk((t_h - a.t_h).abs()));
        }
        if a.level != b.level {
            let near = if t_h - a.t_h <= b.t_h - t_h { a } else { b };
            return (near.mean, near.variance + walk((t_h - near.t_h).abs()));
        }
        let share = (t_h - a.t_h) / (b.t_h - a.t_h);
        let bridge = walk(b.t_h - a.t_h) * share * (1.0 - share);
        (a.mean + share * (b.mean - a.mean), a.variance + share * (b.variance - a.variance) + bridge)
    }

    /// The states before and after a time; twice the same before the first and after the last.
    fn about(&self, t_h: f64) -> Option<(State, State)> {
        let (first, last) = (*self.states.first()?, *self.states.last()?);
        if t_h <= first.t_h {
            return Some((first, first));
        }
        if t_h >= last.t_h {
            return Some((last, last));
        }
        let i = self.states.partition_point(|s| s.t_h <= t_h);
        Some((self.states[i - 1], self.states[i]))
    }

    /// Whether a blank was weighed at all.
    pub fn known(&self) -> bool {
        !self.states.is_empty()
    }

    /// Drift at `t_h`, g, in the frame of the blank's first reading.
    pub fn at(&self, t_h: f64) -> f64 {
        self.state(t_h).0
    }

    /// sd of the drift between a panel's first and last reading, g: √(P_last + P_first), at most 0.1 u where the scale did
    /// not jump in between; 0.1 u where no blank was weighed. With it what is in doubt at the first, uncapped: all that
    /// follows is told from there.
    pub fn sd(&self, first_h: f64, last_h: f64) -> f64 {
        self.sd_where(first_h, last_h, self.state(last_h).1)
    }

    /// [`Drift::sd`] had the blank been weighed three times with the last: its mean has a third of the variance R, so what is
    /// open of the level, P, would be 1/(1/P + 2/R).
    pub fn sd_thrice(&self, first_h: f64, last_h: f64) -> f64 {
        let of_reading = (READING * self.u).powi(2);
        self.sd_where(first_h, last_h, 1.0 / (1.0 / self.state(last_h).1 + 2.0 / of_reading))
    }

    fn sd_where(&self, first_h: f64, last_h: f64, last_variance: f64) -> f64 {
        let most = MOST_SD * self.u;
        if !self.known() {
            return most;
        }
        let sd = (self.state(first_h).1 + last_variance).sqrt();
        let sd = if self.jumps(first_h, last_h).next().is_none() { sd.min(most) } else { sd };
        sd.hypot(self.doubted(first_h).map_or(0.0, |(_, variance)| variance.sqrt()))
    }

    /// Jumps of the scale between two times, in time order.
    pub fn jumps(&self, from_h: f64, to_h: f64) -> impl Iterator<Item = Jump> {
        let jump = |(a, b): (&State, &State)| Jump {
            after_h: a.t_h,
            by_h: b.t_h,
            by_g: b.mean - a.mean,
            told_by_panel: a.of_panel || b.of_panel,
        };
        let apart = self.states.iter().zip(self.states.iter().skip(1)).filter(|(a, b)| a.level != b.level);
        // Where it lies between the two is not known; the reading nearer in time has the level, as in `state`.
        let middle = |jump: &Jump| 0.5 * (jump.after_h + jump.by_h);
        apart.map(jump).filter(move |jump| from_h <= middle(jump) && middle(jump) < to_h)
    }

    /// The levels on both sides of the jump between whose readings of the blank a time lies, none of them of the same visit.
    pub fn sides(&self, t_h: f64) -> Option<Sides> {
        let (a, b) = self.about(t_h).filter(|(a, b)| a.level != b.level)?;
        let far = (t_h - a.t_h).min(b.t_h - t_h) > SAME_VISIT_H;
        far.then_some(Sides { before_g: a.mean, after_g: b.mean })
    }

    /// Takes it that at a time between two levels the scale showed the one on that side.
    pub fn tell(&mut self, t_h: f64, side: Side) {
        let Some((a, b)) = self.about(t_h) else { return };
        let like = if side == Side::Before { a } else { b };
        let variance = like.variance + walked((t_h - like.t_h).abs()) * self.u * self.u;
        let i = self.states.partition_point(|s| s.t_h <= t_h);
        self.states.insert(i, State { t_h, variance, of_panel: true, ..like });
    }

    /// What is in doubt about the scale's level at a time, with the variance that it brings.
    ///
    /// Between the two readings round a jump the nearer one's level is off by the whole jump with the chance
    /// n³/(n³ + f³), n and f being the hours to the nearer and to the farther: a half midway, and next to nothing minutes
    /// from one and a day from the other (design choice: steeper than a jump at any time alike, which a scale left alone
    /// overnight does not make). About a far-off reading that nothing confirms the doubt is as large as it is far off.
    pub fn doubted(&self, t_h: f64) -> Option<Doubted> {
        let (a, b) = self.about(t_h)?;
        if a.level != b.level {
            let (since, until) = (t_h - a.t_h, b.t_h - t_h);
            let by = b.mean - a.mean;
            return Some((Doubt::Between(by), share(since.min(until), since.max(until)) * by * by));
        }
        if t_h < self.known_h {
            return None;
        }
        let after = self.open.partition_point(|open| open.0 <= t_h);
        let before = after.checked_sub(1).map_or((self.known_h, 0.0), |i| self.open[i]);
        let (by, variance) = match self.open.get(after) {
            None if t_h - before.0 <= WAITS_H => (before.1, before.1 * before.1),
            None => return None,
            Some(next) => {
                let next_share = share(t_h - before.0, next.0 - t_h);
                let by = if next_share < 0.5 && before.1 != 0.0 { before.1 } else { next.1 };
                (by, (1.0 - next_share) * before.1 * before.1 + next_share * next.1 * next.1)
            }
        };
        (variance > 0.0).then_some((Doubt::Unconfirmed(by), variance))
    }

    /// How far the very first reading lies off all others, g, where it is skipped for that.
    pub fn first_off(&self) -> Option<f64> {
        let (first, skipped) = (self.states.first()?, self.skipped.first()?);
        (skipped.0 < first.t_h).then_some(skipped.1)
    }

    /// How far off a blank reading of about that time was that is skipped, g: a slip, or a scale that was out for one visit.
    pub fn skipped_about(&self, t_h: f64) -> Option<f64> {
        let near = self.skipped.iter().filter(|skipped| (skipped.0 - t_h).abs() <= SAME_VISIT_H);
        near.min_by(|a, b| (a.0 - t_h).abs().total_cmp(&(b.0 - t_h).abs())).map(|skipped| skipped.1)
    }

    /// What the blank's weighing at a time says.
    pub fn of_scale(&self, t_h: f64) -> Option<OfScale> {
        if let Some(skipped) = self.skipped.iter().find(|skipped| skipped.0 == t_h) {
            return Some(OfScale::Alone(skipped.1));
        }
        let i = self.states.iter().position(|state| state.t_h == t_h)?;
        let (earlier, state) = (&self.states[..i], &self.states[i]);
        let Some(last) = earlier.last().filter(|last| last.level != state.level) else { return Some(OfScale::Stands) };
        let by = state.mean - last.mean;
        let same = |known: &State| {
            let apart = (known.mean - state.mean).abs();
            let walk = walked(t_h - known.t_h) * self.u * self.u;
            known.level != last.level
                && same_level(apart, known.variance + state.variance + walk)
                && apart < 0.5 * by.abs()
        };
        Some(if earlier.iter().any(same) { OfScale::Back(by) } else { OfScale::Jumped(by) })
    }

    /// The doubt at a time where it is so great that a reading tells nothing.
    pub fn too_doubtful(&self, t_h: f64) -> Option<Doubt> {
        self.doubted(t_h).filter(|(_, variance)| variance.sqrt() > MOST_DOUBT * self.u).map(|(doubt, _)| doubt)
    }
}

/// n³/(n³ + f³); a half where both are 0.
fn share(n: f64, f: f64) -> f64 {
    let (n, f) = (n.powi(3), f.powi(3));
    if n + f > 0.0 { n / (n + f) } else { 0.5 }
}

/// Filters a level forwards and smooths it backwards, in u, onto the end of `states`.
fn smooth_level(readings: &[OfBlank], levels: &Levels, level: usize, states: &mut Vec<State>) {
    let begin = states.len();
    let start = levels.starts[level];
    // The variance just before each.
    let mut predicted = Vec::new();
    let mut filter = levels.begun(readings, level);
    for (i, reading) in readings.iter().enumerate().take(levels.end(level)).skip(start) {
        filter.reach(reading.t_h);
        predicted.push(filter.variance);
        if levels.counts[i] && !(levels.begins_taken(level) && i == start) {
            filter.take(reading);
        }
        let Filter { t_h, mean, variance } = filter;
        states.push(State { t_h, mean, variance, level, of_panel: false });
    }
    let states = &mut states[begin..];
    for i in (0..states.len().saturating_sub(1)).rev() {
        let next = states[i + 1];
        let state = &mut states[i];
        let gain = state.variance / predicted[i + 1];
        // A random walk predicts its own mean.
        state.mean += gain * (next.mean - state.mean);
        state.variance += gain * gain * (next.variance - predicted[i + 1]);
    }
}
