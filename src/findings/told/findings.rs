//! What a person is told of one test.

use serde::Serialize;

use super::candidate::{CandidateFindings, PairFindings};
use super::panel::PanelFindings;
use record::Id;

/// What a person is told of one test.
#[derive(Clone, Debug, Serialize)]
pub struct Findings {
    /// Of each panel, by candidate and label.
    pub panels: Vec<PanelFindings>,
    /// Of each candidate, by label.
    pub candidates: Vec<CandidateFindings>,
    /// Of each pair of candidates.
    pub pairs: Vec<PairFindings>,
    /// What to do next: what narrows the answer most, then what is missing.
    pub next: Vec<String>,
    /// What a painter would say out loud.
    pub said: Vec<String>,
}

impl Findings {
    /// What is told of one panel.
    pub fn panel(&self, id: &Id) -> Option<&PanelFindings> {
        self.panels.iter().find(|panel| panel.id == *id)
    }
}
