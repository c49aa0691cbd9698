//! What a painter, a phone or a file may do to a test that must not cost a reading. One table a group; each row is one attempt.
//!
//! `cargo test --no-default-features --test attacks -- --nocapture | grep attacks:` counts them.

use std::panic::{AssertUnwindSafe, catch_unwind};

mod answers;
mod clocks;
mod large;
mod nonsense;
mod numbers;
mod painter;
mod record;
mod size;
mod spray_day;
mod tables;
mod texts;
mod times;

/// A table of attempts on one part of the program.
pub struct Attacks {
    group: &'static str,
    tried: usize,
    broken: Vec<String>,
}

impl Attacks {
    /// An empty table.
    pub fn on(group: &'static str) -> Self {
        Self { group, tried: 0, broken: Vec::new() }
    }

    /// Tries one: it is survived when it neither panics nor gives a sentence about what broke.
    pub fn attempt(&mut self, name: impl std::fmt::Display, attack: impl FnOnce() -> Result<(), String>) {
        self.tried += 1;
        // A panic has printed its own sentence by then.
        match catch_unwind(AssertUnwindSafe(attack)) {
            Ok(Ok(())) => {}
            Ok(Err(what)) => self.broken.push(format!("{name}: {what}")),
            Err(_) => self.broken.push(format!("{name}: a panic")),
        }
    }

    /// Prints the count, and fails unless every one was survived.
    pub fn close(self) {
        let survived = self.tried - self.broken.len();
        println!("attacks: {}: {} tried, {survived} survived", self.group, self.tried);
        assert!(self.tried > 0, "nothing was tried on {}", self.group);
        assert!(self.broken.is_empty(), "{}", self.broken.join("\n"));
    }
}

/// Nothing when the two are equal, otherwise a sentence that shows both.
pub fn same<T: PartialEq + std::fmt::Debug>(what: &str, got: T, wanted: T) -> Result<(), String> {
    if got == wanted { Ok(()) } else { Err(format!("{what} is {got:?}, wanted {wanted:?}")) }
}

/// Nothing when it holds, otherwise the sentence.
pub fn holds(holds: bool, otherwise: impl Into<String>) -> Result<(), String> {
    if holds { Ok(()) } else { Err(otherwise.into()) }
}
