//! Answers and their reasons, as data.

mod blank;
mod candidate;
mod findings;
mod panel;
mod panels;
mod since_last;
mod swapped;
mod telling;
mod together;
mod verdict;
mod why;

pub(crate) use blank::BlankFirst;
pub(crate) use candidate::pairs;
pub use candidate::{CandidateFindings, MeanFindings, PairFindings};
pub use findings::Findings;
pub(crate) use panel::route_name;
pub use panel::{AfterDay, ForecastFindings, PanelFindings, RouteFindings};
pub use panels::Panels;
pub(crate) use since_last::{SinceLast, chance_limit_g, heavier};
pub(crate) use swapped::{Swapped, swapped};
pub use telling::Telling;
pub(crate) use together::MovedTogether;
pub use verdict::{Flag, FlagKind, Settled};
pub use why::Why;
