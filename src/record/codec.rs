//! How one part of the record is read, written, stamped and joined: the mechanism behind [`super::model`].
//!
//! The record is declared once, with [`entry!`] and [`group!`]; what those generate is one walk over the fields for each
//! of the four jobs. Reading is tolerant: a value that does not fit is remarked on and kept as it stood among the
//! unknown fields, so that it is written back. That is also why no part of the record derives `Deserialize`: a second
//! way in would not remark, mint or keep.

mod declare;
mod entries;
mod field;
mod leaf;
mod reader;
mod stroke;

pub use entries::Entries;
pub use field::Entry;
pub use reader::{Remark, Rest};
pub use stroke::Clash;

pub(super) use declare::{entry, group, object, words};
pub(super) use field::{Field, Identified, Lines, Object, dotted};
pub(super) use leaf::Leaf;
pub(super) use reader::Reader;
pub(super) use stroke::{Pen, Sides};
