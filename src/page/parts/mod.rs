//! Parts that several screens share.

mod choice;
mod field;
mod list;
mod live;
mod moment;
mod number;
mod table;
mod text;

pub use choice::{choices, picks};
pub use field::{Field, Typed};
pub use list::{each, fold, fold_under};
pub use live::{button, derived, lines, live, memo, shown};
pub use moment::MomentField;
pub use number::{NumberField, NumbersField, RowField, SlotField};
pub use table::{Line, table};
pub use text::{PhraseField, told};

use std::sync::atomic::{AtomicU32, Ordering};

/// An id for an element, so that its label and its trouble can name it.
pub fn fresh_element_id() -> String {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    format!("e{}", COUNT.fetch_add(1, Ordering::Relaxed))
}
