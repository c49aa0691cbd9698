//! The panels of a test as far as they are worked out.

use super::panel::PanelFindings;
use record::Id;

/// The panels of a test as far as they are worked out. Of one that waits nothing is told, so that nothing of before can be
/// taken for what holds now.
#[derive(Clone, Debug, Default)]
pub struct Panels {
    /// Those worked out, by candidate and label.
    pub told: Vec<PanelFindings>,
    /// Those that wait.
    pub waiting: Vec<Id>,
}

impl Panels {
    /// What is told of one panel; `None` while it waits.
    pub fn panel(&self, id: &Id) -> Option<&PanelFindings> {
        self.told.iter().find(|panel| panel.id == *id)
    }

    /// Whether it is still to be worked out.
    pub fn waits(&self, id: &Id) -> bool {
        self.waiting.contains(id)
    }
}
