//! Planning: what a sheet's gaps cost, whether the air suits, instruments, the drawn order, when to weigh, and what the
//! plan can tell apart.

mod air;
mod check;
mod gaps;
mod instruments;
mod order;
mod schedule;

pub use air::air_warnings;
pub use check::plan_check;
pub use gaps::{SHEET_LINES, costs_said, gaps_said};
pub use instruments::{BlankWanted, blanks_wanted, repeats_said};
pub use order::{WHY_DRAWN, draw, order_said};
pub use schedule::{
    Dated, Fitted, anchor_said, due_times, fitted_schedule, kept_ages, schedule_from, schedule_said, set_schedule,
    weigh_by,
};
