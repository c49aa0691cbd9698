//! What the list of tests says.

use crate::facts::last_weighed;
use crate::facts::newest_reading_or_coat;
use crate::words::AHEAD_H;
use quantity::Instant;
use record::SprayTest;

/// A test in a few words, for the list of tests.
pub fn about(test: &SprayTest) -> String {
    let count = |n: usize, one: &str, many: &str| if n == 1 { format!("1 {one}") } else { format!("{n} {many}") };
    let weighed = last_weighed(test).map_or(String::new(), |at| format!(", last weighed {}", at.said()));
    format!(
        "{}, {}{weighed}",
        count(test.candidates.kept().count(), "candidate", "candidates"),
        count(test.panels.kept().count(), "panel", "panels"),
    )
}

/// What to say of a file whose newest reading or coat has not come yet by the clock here.
pub fn ahead_said(test: &SprayTest, now: Instant) -> Option<String> {
    let at = newest_reading_or_coat(test).filter(|at| at.hours_since(now) > AHEAD_H)?;
    Some(format!(
        "Its newest reading is of {}, and here it is {}: set the clock of the phone that is wrong, then correct the times.",
        at.said(),
        now.said(),
    ))
}

/// A moment as it was noted (RFC 3339), in words; what is no moment, as it stands.
pub fn moment_said(noted: &str) -> String {
    noted.parse().map_or_else(|_| noted.to_owned(), Instant::said)
}

/// Hours that readings may wait before the page says that they are on this phone alone.
const WAITS_H: f64 = 24.0;

/// What to say of exports, from the moments as they were noted: when the last was, and whether readings wait for the next.
pub fn export_said(exported: &str, waiting: &str, now: Instant) -> String {
    let exported: Option<Instant> = exported.parse().ok();
    let waiting: Option<Instant> = waiting.parse().ok();
    let last = exported.map_or("Never saved as a file".to_owned(), |at| format!("Last saved as a file {}", at.said()));
    match waiting.filter(|at| now.hours_since(*at) > WAITS_H) {
        Some(at) => format!("{last}; readings since {} are on this phone alone: save or send them.", at.said_day()),
        None => format!("{last}."),
    }
}

/// How long a test waits in the bin.
pub fn binned_said(title: &str, days_left: u32) -> String {
    let days = if days_left == 1 { "one more day".into() } else { format!("{days_left} more days") };
    format!("{title}: erased once this page has been opened on {days}.")
}
