//! Candidates side by side: plain rows and cells, the same for the screen and for the report.

mod cell;
mod column;
mod left;
mod strip;
mod table;

pub use cell::Cell;
pub(crate) use column::Column;
pub(crate) use left::{Left, lands};
pub use strip::Lane;
pub use table::{Row, RowKey, RowPair, Sorting, Table, notes_said, side_by_side};
