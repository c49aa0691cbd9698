//! What Spray shows: what comes next, what is running, what is amiss, and what it costs to leave a step out.

mod air;
mod amiss;
mod candidate_run;
mod clock;
mod combing;
mod cost;
mod day;
mod run_sheet;
mod task;
mod words;

pub use air::{AirSaid, air_said};
pub use candidate_run::{CandidateRun, Done};
pub use clock::{Clock, Waiting, same_press};
pub use combing::{DabTeeth, NoDab, Tapping, ToothLook, dabs_said, touch_up, typed_dab};
pub use cost::{WayPast, leaving_out, rushing};
pub use run_sheet::{RunSheet, cup_being_poured, panels_of, spray_order};
pub use task::Task;
pub use words::{bare_hint, before_bare_said, dab_recorded_said, newest_dab_said, task_said, to_weigh_said, wet_hint};
