//! Files out, read back by libraries that others wrote.

mod calendar;
mod csv;
mod report;
mod wet;
