//! What Weigh shows: a visit to the scale, and how the weight just typed is judged.

mod again;
mod judge;
mod judged;
mod mistaken;
mod places;
mod rounds;
mod walk;

pub use again::{weighed_again_said, worth_weighing_again};
pub use judge::Judged;
pub use judged::{judged, look_again};
pub use places::{DayOut, PlaceToCarry, cool_first, day_out, hours_said, last_move_said, move_said, places_to_carry};
pub use rounds::{
    HOW_TO_WEIGH, LEAVES_FOR, SET_ASIDE_FOR, Stray, new_round_said, old_round_said, round_is_dated, round_is_old,
    round_said, round_under_way, rounds_said, rounds_with_progress, strays, weigh_time,
};
pub use walk::{Stop, next_stop, progress_said, stops};
