//! When to weigh next, in a sentence.

use crate::facts::next_due;
use quantity::Instant;
use record::SprayTest;

/// The same in a sentence: the next one to come, or one whose time has come.
pub fn due_said(test: &SprayTest, now: Instant) -> Option<String> {
    next_due(test).map(|at| due_at_said(at, now))
}

/// A time to weigh as it stands at a moment.
fn due_at_said(at: Instant, now: Instant) -> String {
    if at > now { format!("Due next: {}.", at.said()) } else { format!("Due since {}.", at.said()) }
}

/// The same of a time as it was noted (RFC 3339), for the list of tests; nothing where none was.
pub fn noted_due_said(noted: &str, now: Instant) -> String {
    noted.parse().map_or(String::new(), |at| due_at_said(at, now))
}
