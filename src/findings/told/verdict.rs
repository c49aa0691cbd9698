//! Whether a panel's weight is steady, and which of its weigh-ins to look at.

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
            Self::Yes => "weight steady",
            Self::NotYet => "still losing",
            Self::TooEarly => "too early to say",
        }
    }
}

/// What is to be said of a weigh-in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum FlagKind {
    /// The painter left it out.
    SetAside,
    /// The others of its panel contradict it.
    OffTheCurve,
    /// It is off as most of its round is: the scale is to be looked at, and not the panel.
    MovedTogether,
    /// It lies above a curve that only falls, of a primer that gains weight as it cures.
    GainsWeight,
    /// It is no worse than the scale it was weighed on, and waits for the blank.
    WaitsForTheBlank,
    /// It fits another panel, and the other's fits this one.
    LooksSwapped,
    /// It is no number.
    Unreadable,
}

/// A weigh-in to look at.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Flag {
    /// Which one.
    pub weigh_in: Id,
    /// What about it.
    pub kind: FlagKind,
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
