//! Parts that read or write the open test: a field for each kind of entry, the heads of panels, the pour. They find the test on
//! the desk, which is in the context of every screen.

mod choice;
mod field;
mod head;
mod number;
mod phrase;
mod pour;
mod short;

pub use choice::picks;
pub use field::{Field, Typed};
pub use head::{MarkSign, PanelHead};
pub use number::{NumberField, NumbersField, RowField, SlotField};
pub use phrase::PhraseField;
pub use pour::PourCard;
pub use short::{row, slot, wanted, words};
