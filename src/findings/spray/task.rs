//! What is asked for next on spray day.

use record::{Address, Id, Owner, SprayTest, Step};

/// What is asked for next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Task {
    /// Read the air.
    Air,
    /// Weigh a panel or a blank bare.
    Bare(Owner),
    /// Bring the parts of a mix together.
    Mix,
    /// Spray a coat, counted from 1.
    Coat(usize),
    /// Read the comb on a panel.
    Comb(Id),
    /// Weigh a panel wet, or a blank with the wet panels.
    Wet(Owner),
    /// Nothing more.
    Nothing,
}

/// Whether a step was left out: of this very thing, or of the whole test.
pub(crate) fn skipped(test: &SprayTest, step: Step, of: &Address) -> bool {
    test.skipped.kept().any(|left| left.step == Some(step) && (left.of.is_none() || left.is_of(test, of)))
}
