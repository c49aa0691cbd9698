//! Files out: texts that other programs read. What they say comes from `findings`; how they are handed over is `device`'s.

mod calendar;

pub use calendar::{Event, calendar, calendar_name, escaped, folded, schedule_calendar};
