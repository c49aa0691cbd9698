//! When to weigh: the ages of the schedule and their moments.

use super::coats::first_and_last_coat;
use super::leaving::stays;
use super::weights::last_weighed;
use quantity::{Instant, Quantity};
use record::{Id, SprayTest};

/// Share of the gap to the next due time within which a weighing counts for the nearer of the two (design choice).
const COUNTS_WITHIN: f64 = 1.0 / 3.0;

/// The times of the schedule for which nothing was weighed yet, the first one first. A weighing passes over all times before
/// it, and counts for the one it comes a little early for as well.
pub fn open_dues(test: &SprayTest) -> Vec<Instant> {
    let mut dues: Vec<Instant> = due_times(test).into_iter().filter_map(|due| due.at).collect();
    let Some(weighed) = last_weighed(test) else { return dues };
    let before = dues.iter().copied().rfind(|due| *due <= weighed);
    dues.retain(|due| *due > weighed);
    let early = |due: &Instant| {
        // Before the first time of all the gap is the one after it.
        let gap_h = before.map(|before| due.hours_since(before)).or(dues.get(1).map(|then| then.hours_since(*due)));
        gap_h.is_some_and(|gap_h| due.hours_since(weighed) <= COUNTS_WITHIN * gap_h)
    };
    if dues.first().is_some_and(early) {
        dues.remove(0);
    }
    dues
}

/// When the schedule next asks for a weigh-in, once anything is weighed.
pub fn next_due(test: &SprayTest) -> Option<Instant> {
    let begun = test.panels.kept().any(|panel| stays(&panel.left) && panel.weigh_ins.kept().next().is_some());
    open_dues(test).into_iter().next().filter(|_| begun)
}

/// A due weigh-in with its moment.
#[derive(Clone, Debug, PartialEq)]
pub struct DueTime {
    /// Its entry.
    pub id: Id,
    /// h after the last coat.
    pub age_h: f64,
    /// When that is; `None` while nobody knows when it is sprayed.
    pub at: Option<Instant>,
}

/// From when ages count: the last coat of all panels, else the planned spray day.
pub fn schedule_from(test: &SprayTest) -> Option<Instant> {
    first_and_last_coat(test).map(|(_, last)| last).or(test.wanted.spray_at)
}

/// Times to weigh, upwards, with their moments.
pub fn due_times(test: &SprayTest) -> Vec<DueTime> {
    let from = schedule_from(test);
    let mut due: Vec<DueTime> = Vec::new();
    for entry in test.schedule.kept() {
        let Some(age_h) = entry.due_h.map(Quantity::get) else { continue };
        let place = due.partition_point(|known| known.age_h <= age_h);
        due.insert(place, DueTime { id: entry.id.clone(), age_h, at: from.map(|from| from.plus_hours(age_h)) });
    }
    due
}

/// The ages of the schedule, h, upwards.
pub fn kept_ages(test: &SprayTest) -> Vec<f64> {
    due_times(test).into_iter().map(|due| due.age_h).collect()
}
