//! Where the person is, as the address says it.

use crate::device;

/// One of the five places of a test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    Plan,
    Spray,
    Weigh,
    Gauge,
    Results,
}

impl Place {
    pub const ALL: [Self; 5] = [Self::Plan, Self::Spray, Self::Weigh, Self::Gauge, Self::Results];

    pub fn word(self) -> &'static str {
        match self {
            Self::Plan => "Plan",
            Self::Spray => "Spray",
            Self::Weigh => "Weigh",
            Self::Gauge => "Gauge",
            Self::Results => "Results",
        }
    }

    /// The place that a word of an address means: Plan for any other word.
    pub fn of(word: &str) -> Self {
        Self::ALL.into_iter().find(|place| place.word().eq_ignore_ascii_case(word)).unwrap_or(Self::Plan)
    }
}

/// Which screen is up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Screen {
    /// All tests.
    Shelf,
    /// One of them.
    Test(String),
}

/// The address of a place of a test.
pub fn address_in(test: &str, place: Place) -> String {
    format!("#/{}/{}", device::to_address(test), place.word().to_lowercase())
}
