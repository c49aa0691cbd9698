//! What every screen is put together from: buttons, folds, lists, tables, lines that follow what they tell. None of it knows
//! an open test; what reads or writes one is in `fields`.

mod choice;
mod element;
mod figure;
mod form;
mod list;
mod live;
mod moment;
mod notice;
mod press;
mod sign;
mod table;

pub use choice::choices;
pub use element::fresh_element_id;
pub use figure::told;
pub use form::Form;
pub use list::{each, fold, fold_under};
pub use live::{derived, items, lines, live, memo, shown};
pub use moment::MomentField;
pub use notice::{alert, cautions};
pub use press::{button, button_as, button_while, pressed_in, tick, toggle, way};
pub use sign::sign;
pub use table::{Line, table};
