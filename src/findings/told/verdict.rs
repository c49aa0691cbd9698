//! Whether a panel has settled, and which of its weigh-ins to look at.

use serde::Serialize;

use record::Id;
use science::drying::Verdict;

/// Whether anything worth weighing for is left to lose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Settled {
    /// Nothing is.
    Yes,
    /// Something is, or this scale could not see it.
    NotYet,
    /// Nobody can say so far.
    TooEarly,
}

impl Settled {
    pub(crate) fn of(verdict: &Verdict) -> Self {
        match verdict {
            Verdict::Yes(_) => Self::Yes,
            Verdict::NotYet(_) => Self::NotYet,
            Verdict::TooEarly(_) => Self::TooEarly,
        }
    }

    /// As a painter says it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Yes => "settled",
            Self::NotYet => "not settled yet",
            Self::TooEarly => "too early to say",
        }
    }
}

/// A weigh-in to look at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Flag {
    /// Which one.
    pub weigh_in: Id,
    /// What about it: `set_aside`, `off_the_curve`, `moved_together`, `gains_weight`, `waits_for_the_blank`, `looks_swapped`, `unreadable`.
    pub kind: &'static str,
    /// The panel it may have been swapped with.
    pub swap_with: Option<Id>,
    /// The other panel's weigh-in, with which it may have been swapped.
    #[serde(skip)]
    pub swap_weigh_in: Option<Id>,
    /// In a sentence.
    pub says: String,
    /// Whether it is left out of the curve.
    pub left_out: bool,
}

/// The kind of a weight that is no worse than the scale it was weighed on: it waits for the blank.
pub(crate) const WAITS: &str = "waits_for_the_blank";

/// The kind of a weight that the others of its panel contradict.
pub(crate) const OFF_THE_CURVE: &str = "off_the_curve";

/// The kind of one above a curve that only falls, of a primer that gains weight as it cures.
pub(crate) const GAINS: &str = "gains_weight";

/// The kind of one that is off as most of its round is: the scale is to be looked at, and not the panel.
pub(crate) const MOVED: &str = "moved_together";
