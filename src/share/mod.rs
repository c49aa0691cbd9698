//! Files out: texts that other programs read, and the report. What they say comes from `findings`; how they are handed over
//! is `device`'s.

mod calendar;
mod report;

pub use calendar::{Event, calendar, calendar_name, escaped, folded, schedule_calendar};
pub use report::{REPORT_TYPE, report, report_name};
