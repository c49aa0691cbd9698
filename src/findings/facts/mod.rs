//! The record as the shop would tell it: the one answer to each question that needs no science.

mod air;
mod coats;
mod combs;
mod cups;
mod deeds;
mod invented;
mod leaving;
mod order;
mod places;
mod readings;
mod rounds;
mod sanding;
mod scales;
mod schedule;
mod spots;
mod times;
mod weights;

pub use air::{air_of_the_day, newest_air};
pub use coats::first_and_last_coat;
pub(crate) use coats::{CoatOfAll, coats_of, first_coat, last_coat};
pub(crate) use combs::{DABS, comb_in_hand, comb_readings, comb_readings_made, next_place};
pub use combs::{comb_of, teeth_in_hand};
pub use cups::cup_in_progress;
pub(crate) use deeds::{APART_H, newest_deed};
pub use deeds::{ClocksApart, OneClock, on_one_clock};
pub use invented::invented_said;
pub(crate) use leaving::{asked_in, blanks_in_test, left_at, stays};
pub use leaving::{gone, in_test, leaving, weighed_after_leaving};
pub use order::{candidates_in_order, in_order, in_rack, panels_on, panels_on_none};
pub(crate) use places::{concerns, first_place, in_time, place_of, same_place};
pub use places::{hours_in_places, place_now};
pub(crate) use readings::newest_reading_or_coat;
pub use readings::{is_under_way, oldest_reading_since};
pub(crate) use rounds::newest_first;
pub use rounds::{round_begun_at, rounds_newest_first};
pub(crate) use sanding::sanding_h;
pub(crate) use scales::{USUAL_STEP_G, balance_number, finest_step_g, round_number, round_numbers, step_or_usual_g};
pub use scales::{balance_of, balance_of_round, is_weighed_on, sole_balance, step_g};
pub(crate) use schedule::open_dues;
pub use schedule::{DueTime, due_times, kept_ages, next_due, schedule_from};
pub(crate) use spots::FORM;
pub use times::moment;
pub(crate) use times::{VISIT_H, clock_h, clock_order, earliest, latest, newest, oldest};
pub use weights::{Bare, bare_weight, former_weight, round_of, weigh_in_of, wet_weigh_in, wet_weighing};
pub(crate) use weights::{
    all_weigh_ins, last_weighed, mean_g, outside_rounds, step_on_g, takes_part, weigh_ins_since_coat, weights_of,
    wet_on_spray_day,
};
