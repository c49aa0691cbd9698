//! Which of the blank's readings lie on one level of the scale, and where it jumped from one to the next.
//!
//! Far jumps first: the filter skips a reading far from its state, as it may be a slip of the blank (misread, another
//! panel on the scale), and a lone one stays skipped: nothing else tells a slip from a jump. But when another such reading
//! agrees with it, both would have to be the same slip; the scale has jumped, and a filter begun afresh at the first of
//! them takes over. One that the person vouches for (weighed again, it was the same) needs no other, and neither does one
//! back on a level that the scale has left: a slip would hardly land there. The very first is no better than a later one:
//! alone against all others it is skipped as well, unless the person vouches for it or the next, or a later one is back on it.
//!
//! Nearer jumps the filter would follow only over several readings, and be wrong on both sides of them. They show once
//! readings lie on both sides: at each gap the level told by those after it alone is compared with the level told by those
//! before it alone (the two-filter smoother, Fraser and Potter 1969; as a test for a jump, Willsky and Jones 1976).

use super::drift::OfBlank;

/// Process sd, in u per √day.
const WALK: f64 = 0.03;
/// Reading sd, in u.
pub(super) const READING: f64 = 0.085;
/// Variance of the start, in u².
const START_VARIANCE: f64 = 0.09;
/// Innovations over this are skipped, in u.
const LARGEST_INNOVATION: f64 = 0.6;
/// The two sides of a gap differ by more than so many of their sd: a jump. Of a hundred tests of a hundred readings each
/// that only scatter, under one reaches it.
const JUMP_SDS: f64 = 5.0;
/// The same at a reading that the person vouches for: what is asked is only whether it is more than scatter.
const VOUCHED_SDS: f64 = 3.0;
/// The newest reading waits for another where it is off by more than so many sd of what the filter expects.
const NEWEST_SDS: f64 = 4.0;
/// Readings that a side of a nearer jump stands on at least.
const LEAST_ON_A_SIDE: u32 = 2;

/// Variance a random walk gathers in `hours`, u².
pub(super) fn walked(hours: f64) -> f64 {
    WALK * WALK * hours / 24.0
}

/// Whether two readings of a level may be so far apart, given the variance of what lies between them.
pub(super) fn same_level(apart: f64, variance: f64) -> bool {
    apart <= NEWEST_SDS * variance.sqrt()
}

/// A random walk as far as it is known: mean and variance in u and u².
#[derive(Debug, Clone, Copy)]
pub(super) struct Filter {
    pub t_h: f64,
    pub mean: f64,
    pub variance: f64,
}

impl Filter {
    /// Before the first reading, which is 0 by definition.
    fn first(t_h: f64) -> Self {
        Self { t_h, mean: 0.0, variance: START_VARIANCE }
    }

    /// After a reading that is all that is known.
    fn afresh(reading: &OfBlank) -> Self {
        Self { t_h: reading.t_h, mean: reading.z, variance: reading_variance(reading) }
    }

    /// On to another time, later or earlier.
    pub fn reach(&mut self, t_h: f64) {
        self.variance += walked((t_h - self.t_h).abs());
        self.t_h = t_h;
    }

    pub fn take(&mut self, reading: &OfBlank) {
        let gain = self.variance / (self.variance + reading_variance(reading));
        self.mean += gain * (reading.z - self.mean);
        self.variance *= 1.0 - gain;
    }

    fn near(&self, reading: &OfBlank) -> bool {
        (reading.z - self.mean).abs() <= LARGEST_INNOVATION
    }

    /// Whether a reading is what is expected of this level, and not half as near to `other`.
    fn expects(&self, reading: &OfBlank, other: &Self) -> bool {
        let mut then = *self;
        then.reach(reading.t_h);
        let off = (reading.z - then.mean).abs();
        same_level(off, then.variance + reading_variance(reading)) && off < 0.5 * (reading.z - other.mean).abs()
    }
}

/// One that is vouched for was weighed twice.
fn reading_variance(reading: &OfBlank) -> f64 {
    if reading.sure { 0.5 * READING * READING } else { READING * READING }
}

/// The readings sorted into levels.
#[derive(Debug)]
pub(super) struct Levels {
    /// The first reading of each level.
    pub starts: Vec<usize>,
    /// Whether each reading counts; the others are skipped.
    pub counts: Vec<bool>,
}

impl Levels {
    /// Sorts readings in u, in time order.
    pub fn of(readings: &[OfBlank]) -> Self {
        let mut levels = Self::far(readings);
        let mut level = 0;
        while level < levels.starts.len() {
            match levels.nearer_jump(readings, level) {
                Some(start) => levels.starts.insert(level + 1, start),
                None => level += 1,
            }
        }
        levels.let_the_newest_wait(readings);
        levels
    }

    /// The newest reading, near enough to be taken and yet hardly scatter, tells nothing until another stands beside it: the
    /// filter would go part of the way, which is wrong whether the scale jumped or not.
    fn let_the_newest_wait(&mut self, readings: &[OfBlank]) {
        let Some(level) = self.starts.len().checked_sub(1) else { return };
        let (start, newest) = (self.starts[level], readings.len() - 1);
        if newest == start || !self.counts[newest] || readings[newest].sure {
            return;
        }
        let mut filter = self.taken_to(readings, level, newest);
        filter.reach(readings[newest].t_h);
        let variance = filter.variance + reading_variance(&readings[newest]);
        if same_level((readings[newest].z - filter.mean).abs(), variance) {
            return;
        }
        if (0..level).any(|left| self.ended(readings, left).expects(&readings[newest], &filter)) {
            self.starts.push(newest);
        } else {
            self.counts[newest] = false;
        }
    }

    /// The filter with which a level begins.
    pub fn begun(&self, readings: &[OfBlank], level: usize) -> Filter {
        let start = &readings[self.starts[level]];
        if self.begins_taken(level) { Filter::afresh(start) } else { Filter::first(start.t_h) }
    }

    /// The filter as a level ends.
    fn ended(&self, readings: &[OfBlank], level: usize) -> Filter {
        self.taken_to(readings, level, self.end(level))
    }

    /// The filter of a level once it has taken the readings before `end`.
    fn taken_to(&self, readings: &[OfBlank], level: usize, end: usize) -> Filter {
        let start = self.starts[level];
        let mut filter = self.begun(readings, level);
        for i in (start..end).filter(|&i| self.counts[i] && !(self.begins_taken(level) && i == start)) {
            filter = taken(filter, &readings[i]);
        }
        filter
    }

    /// Whether the filter with which a level begins has taken its first reading already: all but the one from the very first.
    pub fn begins_taken(&self, level: usize) -> bool {
        level > 0 || self.starts[0] > 0
    }

    /// Where a level ends: behind its last reading that counts, or of the newest level behind its last.
    pub fn end(&self, level: usize) -> usize {
        match self.starts.get(level + 1) {
            None => self.counts.len(),
            Some(&next) => (0..next).rfind(|&i| self.counts[i]).map_or(next, |last| last + 1),
        }
    }

    fn far(readings: &[OfBlank]) -> Self {
        let mut counts = vec![false; readings.len()];
        let Some(first) = readings.first() else { return Self { starts: Vec::new(), counts } };
        let mut starts = vec![0];
        let mut filter = Filter::first(first.t_h);
        // Skipped since the last that counts.
        let mut skipped: Vec<usize> = Vec::new();
        // The levels that the scale has left.
        let mut left: Vec<Filter> = Vec::new();
        let mut first_again = false;
        let mut i = 0;
        while i < readings.len() {
            let reading = &readings[i];
            filter.reach(reading.t_h);
            let near = filter.near(reading);
            // One that the filter would just take as well goes with whom it is nearer to.
            let most = (reading.z - filter.mean).abs().min(LARGEST_INNOVATION);
            let agree = |&j: &usize| (reading.z - readings[j].z).abs() <= most;
            let back = left.iter().position(|level| !near && level.expects(reading, &filter));
            let alone = (!near && (reading.sure || back.is_some())).then_some(i);
            if let Some(jumped) = skipped.iter().copied().find(agree).or(alone) {
                first_again |= back == Some(0);
                starts.push(jumped);
                counts[jumped] = true;
                left.push(filter);
                filter = Filter::afresh(&readings[jumped]);
                skipped.clear();
                // Those behind it are looked at again, from there.
                i = jumped;
            } else if near {
                filter.take(reading);
                counts[i] = true;
                skipped.clear();
            } else {
                skipped.push(i);
            }
            i += 1;
        }
        if let Some(&second) = starts.get(1)
            && counts[1..second].iter().all(|counts| !counts)
            && !(readings[0].sure || readings[second].sure || first_again)
        {
            starts.remove(0);
            counts[0] = false;
        }
        Self { starts, counts }
    }

    /// The first reading behind the likeliest jump within a level, where there is one.
    fn nearer_jump(&mut self, readings: &[OfBlank], level: usize) -> Option<usize> {
        let of: Vec<usize> = (self.starts[level]..self.end(level)).filter(|&i| self.counts[i]).collect();
        let weighed = |side: &[usize]| side.iter().map(|&i| 1 + u32::from(readings[i].sure)).sum::<u32>();
        // What the readings from each on tell of the scale at it.
        let mut after: Vec<Filter> = Vec::with_capacity(of.len());
        for &i in of.iter().rev() {
            after.push(match after.last() {
                None => Filter::afresh(&readings[i]),
                Some(&later) => taken(later, &readings[i]),
            });
        }
        after.reverse();
        let mut before = self.begun(readings, level);
        // (Place of its first reading, how many times what it takes.)
        let mut best: Option<(usize, f64)> = None;
        for k in 1..of.len() {
            let last = &readings[of[k - 1]];
            if k > 1 || !self.begins_taken(level) {
                before = taken(before, last);
            }
            let gap = walked(after[k].t_h - last.t_h);
            let sds = (after[k].mean - before.mean).abs() / (after[k].variance + before.variance + gap).sqrt();
            let takes = if readings[of[k]].sure { VOUCHED_SDS } else { JUMP_SDS };
            let both = weighed(&of[..k]) >= LEAST_ON_A_SIDE && weighed(&of[k..]) >= LEAST_ON_A_SIDE;
            if both && sds / takes > best.map_or(1.0, |best| best.1) {
                best = Some((k, sds / takes));
            }
        }
        let (k, _) = best?;
        let mut start = of[k];
        // A reading before it, skipped for being far from the old level, may lie on the new one.
        while start - 1 > of[k - 1] && after[k].near(&readings[start - 1]) {
            start -= 1;
            self.counts[start] = true;
        }
        Some(start)
    }
}

fn taken(mut filter: Filter, reading: &OfBlank) -> Filter {
    filter.reach(reading.t_h);
    filter.take(reading);
    filter
}
