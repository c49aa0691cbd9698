//! When to weigh: the default ages, fitted to the hours the person keeps, and their moments.

use crate::facts::{DueTime, due_times, first_and_last_coat, schedule_from};
use crate::words::duration;
use quantity::{Hours, Instant, OutOfBounds, Quantity};
use record::{Action, SprayTest};
use science::drying::default_ages_h;

/// Ages fitted to the kept hours, and what was done to them.
#[derive(Clone, Debug, PartialEq)]
pub struct Fitted {
    /// h after the last coat, upwards.
    pub ages_h: Vec<f64>,
    /// What was moved or fell together, a sentence each.
    pub moved: Vec<String>,
}

/// The same in words.
pub fn anchor_said(test: &SprayTest) -> String {
    match (first_and_last_coat(test), test.wanted.spray_at) {
        (Some((_, at)), _) => format!("Counted from the last coat, {}.", at.said()),
        (None, Some(at)) => format!("Counted from the planned spray day, {}, until there is a last coat.", at.said()),
        (None, None) => "Set the day of spraying, and every age gets its time.".into(),
    }
}

/// Each due weigh-in in a line: `Tue 3 Mar 10:00, after 1 d`.
pub fn schedule_said(test: &SprayTest) -> Vec<String> {
    let said = |due: &DueTime| match (due.at, due.age_h) {
        (Some(at), 0.0) => format!("{}, wet", at.said()),
        (Some(at), age_h) => format!("{}, after {}", at.said(), duration(age_h)),
        (None, age_h) => weigh_by(age_h),
    };
    due_times(test).iter().map(said).collect()
}

/// An age in words.
pub fn weigh_by(age_h: f64) -> String {
    if age_h == 0.0 {
        "wet, right after the last coat".into()
    } else {
        format!("{} after the last coat", duration(age_h))
    }
}

/// The default ages, each moved to the nearest moment within the hours the person keeps. The wet weight stays, and so does
/// everything while no hours are kept or nobody knows when it is sprayed. Ages that come to the same moment become one.
pub fn fitted_schedule(test: &SprayTest) -> Fitted {
    let ages = default_ages_h();
    let hours = test.hours.from_h.zip(test.hours.to_h).map(|(from, to)| (from.get(), to.get()));
    let (Some(from), Some((open, close))) = (schedule_from(test), hours.filter(|(open, close)| open != close)) else {
        return Fitted { ages_h: ages, moved: Vec::new() };
    };
    let sprayed = clock_of_day(from);
    let mut ages_h: Vec<f64> = Vec::new();
    let mut moved = Vec::new();
    for age in ages {
        let shift = if age == 0.0 { 0.0 } else { to_kept_hours(sprayed + age, open, close) };
        // A minute is as fine as anybody comes to a scale.
        let fitted = (60.0 * (age + shift).max(0.0)).round() / 60.0;
        if shift.abs() > 1.0 / 120.0 {
            let together = ages_h.last().is_some_and(|last| (last - fitted).abs() < 1.0 / 60.0);
            let at = from.plus_hours(fitted).said();
            moved.push(if together {
                format!(
                    "{} is outside your hours; the nearest time, {at}, is taken already, so that weigh-in is left out.",
                    duration(age)
                )
            } else {
                format!("{} is outside your hours: moved to {at}, {}.", duration(age), duration(fitted))
            });
        }
        if ages_h.last().is_none_or(|last| fitted - last >= 1.0 / 60.0) {
            ages_h.push(fitted);
        }
    }
    Fitted { ages_h, moved }
}

/// The schedule as an action.
///
/// # Errors
/// The bounds, where an age lies outside them.
pub fn set_schedule(ages_h: &[f64]) -> Result<Action, OutOfBounds> {
    let ages: Result<Vec<Hours>, _> = ages_h.iter().map(|&age| Hours::new(age)).collect();
    Ok(Action::Schedule(ages?))
}

/// Why an age is not taken.
pub fn age_refused(bounds: OutOfBounds) -> String {
    format!("An age {bounds}.")
}

/// Hours since midnight, as the clock on the wall showed them.
fn clock_of_day(at: Instant) -> f64 {
    (at.hours_since(Instant::EPOCH) + f64::from(at.offset_min()) / 60.0).rem_euclid(24.0)
}

/// How far to move a time of day, h, to come within the kept hours: the nearer of the two ends, 0 where it lies within.
/// Hours that run past midnight are kept as such.
fn to_kept_hours(time: f64, open: f64, close: f64) -> f64 {
    let time = time.rem_euclid(24.0);
    let long = (close - open).rem_euclid(24.0);
    let since_open = (time - open).rem_euclid(24.0);
    if since_open <= long + 1e-9 {
        return 0.0;
    }
    let (back, on) = (since_open - long, 24.0 - since_open);
    if back <= on { -back } else { on }
}

#[cfg(test)]
mod tests {
    use super::to_kept_hours;

    #[test]
    fn the_nearer_end_of_the_kept_hours() {
        for (time, open, close, shift) in [
            (8.0, 7.0, 17.0, 0.0),
            (17.0, 7.0, 17.0, 0.0),
            (18.0, 7.0, 17.0, -1.0),
            (6.5, 7.0, 17.0, 0.5),
            (25.0, 7.0, 17.0, 6.0),
            (23.0, 22.0, 6.0, 0.0),
            (7.0, 22.0, 6.0, -1.0),
            (21.0, 22.0, 6.0, 1.0),
        ] {
            assert!((to_kept_hours(time, open, close) - shift).abs() < 1e-9, "{time} in {open} to {close}");
        }
    }
}
