//! What Plan shows: what a sheet's gaps cost, instruments, the drawn order, when to weigh, and what the plan can tell apart.

mod certainty;
mod check;
mod gaps;
mod instruments;
mod order;
mod schedule;

pub use certainty::{USUAL, certainties, certainty_costs, certainty_said};
pub use check::plan_check;
pub use gaps::{SHEET_LINES, costs_said, gaps_said};
pub use instruments::{BlankWanted, blanks_wanted, gauge_taken, repeats_said};
pub use order::{WHY_DRAWN, draw, order_said};
pub use schedule::{Fitted, age_refused, anchor_said, fitted_schedule, schedule_said, set_schedule, weigh_by};
