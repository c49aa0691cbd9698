//! Numbers with their names, as a screen or the report lists them.

use crate::facts::panels_on;
use record::{Id, SprayTest};

/// A number with its name, or why it is missing.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is.
    pub name: String,
    /// With unit and interval; `None` where it cannot be had.
    pub value: Option<String>,
    /// Why it is missing, or what to know about it.
    pub note: String,
}

/// A candidate with the numbers of its panels: `Buff: B1, B2, B3`.
pub fn candidate_with_panels(test: &SprayTest, candidate: &Id) -> String {
    let label = test.candidates.find(candidate).map_or("", |candidate| candidate.label.trim());
    let panels: Vec<&str> = panels_on(test, candidate).iter().map(|panel| panel.label.as_str()).collect();
    [label, ": ", &panels.join(", ")].concat()
}

/// Letters up to which a column of a table on a phone has room for a word.
const LONGEST_WORD: usize = 14;

/// Whether a text has a word that a table on a phone must break; all others stay whole.
pub fn long_worded(text: &str) -> bool {
    text.split_whitespace().any(|word| word.chars().count() > LONGEST_WORD)
}

/// So many panels.
pub fn panels_said(count: usize) -> String {
    if count == 1 { "1 panel".into() } else { format!("{count} panels") }
}
