//! How the record is read, written, stamped and joined: the mechanism behind [`super::model`].
//!
//! The record is declared once, with `entry!` and `group!`. What those generate is small: a table of the parts of each
//! type ([`part`]). Every job is one walk over such tables, compiled once for all types and not once for each of them:
//! the page is a good part smaller for it.
//!
//! Reading is tolerant: a value that does not fit is remarked on and kept as it stood among the unknown fields, so that
//! it is written back. That is also why no part of the record derives `Deserialize`: a second way in would not remark,
//! mint or keep.

mod carry;
mod compare;
mod declare;
mod entries;
mod join;
mod leaf;
mod part;
mod reader;
mod reference;
#[cfg(test)]
mod schema;
mod settle;
mod taken_back;
mod unknown;
mod walk;
mod write;

pub use entries::{Entries, Full};
pub use join::Clash;
pub use part::{Entry, Rest};
pub use reader::Remark;
pub use reference::{Among, Named, Ref, Refs};

pub(super) use carry::carry_over;
pub(super) use compare::{Apart, Comparison, Step, value_of};
pub(super) use join::{Joining, join_entry};
pub(super) use reader::{Reader, read_entry};
pub(super) use reference::follow_references;
pub(super) use settle::{Pen, Stroke, settle_entry};
pub(super) use taken_back::forget_taken_back;
pub(super) use walk::{each_text, entry_at, restore_fields, see_full, see_stamps, some_text};
pub(super) use write::Written;

/// Everything that a declaration of entries, groups and words names.
pub(super) mod declaring {
    pub(crate) use serde::{Serialize, Serializer};
    pub(crate) use serde_json::Value;

    pub(crate) use super::declare::{entry, group, named, object, words};
    pub(crate) use super::entries::Entries;
    pub(crate) use super::leaf::Leaf;
    pub(crate) use super::part::{
        Entry, Field, Identified, Mark, MarkMut, Object, Part, PartMut, Rest, same_entry, same_object,
    };
    pub(crate) use super::reader::{Reader, read_object};
    pub(crate) use super::reference::{Among, Named, Ref, Refs};
    pub(crate) use super::write::Written;
    pub(crate) use crate::bounds::most;
    pub(crate) use crate::stamp::{Edited, Id, Stamp};
}
