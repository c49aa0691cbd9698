//! What was written down: the shape of the record. Names and units are those of the file.

mod candidate;
mod instrument;
mod panel;
mod test;
mod units;
mod visit;

pub use candidate::{Basis, Candidate, Component, Gun, Mix, Mixed, Role, Sheet, StatedFor};
pub use instrument::{Balance, Comb, DryGauge, Edge, Verification};
pub use panel::{BareWeight, Blank, Coat, Dab, Panel, SetAside, Spot, WeighIn};
pub use test::{Due, Note, Order, SprayTest, Wanted};
pub use units::SuggestedUnits;
pub use visit::{Air, Move, Round};
