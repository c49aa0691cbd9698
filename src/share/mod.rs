//! Files out: texts that other programs read (calendar, tables) and the report. What they say comes from `findings`; how they are handed over
//! is `device`'s.

mod calendar;
mod csv;
mod report;

pub use calendar::{Event, calendar, calendar_name, escaped, folded, schedule_calendar};
pub use csv::{
    CSV_TYPE, CsvCell, DecimalMark, csv, csv_number, csv_text, readings_csv, readings_csv_name, results_csv,
    results_csv_name,
};
pub use report::{REPORT_TYPE, report, report_name};
