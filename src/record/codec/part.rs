//! What the record is made of: objects whose parts are values, groups and lists of entries, of whatever type.

use std::any::Any;

use serde_json::{Map, Value};

use super::entries::List;
use super::leaf::Whole;
use super::reference::Among;
use crate::stamp::{Edited, Id, Stamp};

/// Fields that this version does not know, or could not read: kept, and written back.
pub type Rest = Map<String, Value>;

/// One part of an object.
pub enum Part<'a> {
    /// A value that is written whole and merges whole.
    Whole(&'a dyn Whole),
    /// An object without an identity: its fields merge one by one under the entry's stamps.
    Group(&'a dyn Object),
    /// Entries, which merge by id.
    List(&'a dyn List),
}

/// One part of an object, to change.
pub enum PartMut<'a> {
    /// As [`Part::Whole`].
    Whole(&'a mut dyn Whole),
    /// As [`Part::Group`].
    Group(&'a mut dyn Object),
    /// As [`Part::List`].
    List(&'a mut dyn List),
}

/// The type of a field says which kind of part it is.
pub trait Field {
    /// Of a reference: where what it names is looked for.
    const NAMES: &'static [Among] = &[];

    fn part(&self) -> Part<'_>;
    fn part_mut(&mut self) -> PartMut<'_>;
}

/// An object of the record: its parts, and what it did not understand. `names`, `references`, `parts` and `parts_mut` run in step.
pub trait Object: Any {
    fn names(&self) -> &'static [&'static str];
    /// Of each part that is a reference: where what it names is looked for; nothing of any other.
    fn references(&self) -> &'static [&'static [Among]];
    fn parts(&self) -> Vec<Part<'_>>;
    fn parts_mut(&mut self) -> Vec<PartMut<'_>>;
    fn rest(&self) -> &Rest;
    fn rest_mut(&mut self) -> &mut Rest;
}

/// An object with an identity of its own: it merges by id, and its deletion is something written down.
pub trait Entry {
    /// The most that count in one list.
    fn most() -> usize
    where
        Self: Sized;
    /// Which one.
    fn id(&self) -> &Id;
    /// When it was written.
    fn stamp(&self) -> &Stamp;
    /// Whether it has been taken out.
    fn deleted(&self) -> bool;
    /// Takes it out, or brings it back.
    fn set_deleted(&mut self, deleted: bool);
}

/// An entry as the walks need it.
pub trait Identified: Object + Entry {
    fn mark(&self) -> Mark<'_>;
    fn mark_mut(&mut self) -> MarkMut<'_>;
}

/// What every entry has beside its fields.
pub struct Mark<'a> {
    pub id: &'a Id,
    pub stamp: &'a Stamp,
    pub edited: &'a Edited,
    pub deleted: bool,
}

/// What every entry has beside its fields, to change.
pub struct MarkMut<'a> {
    pub id: &'a mut Id,
    pub stamp: &'a mut Stamp,
    pub edited: &'a mut Edited,
    pub deleted: &'a mut bool,
}

impl Part<'_> {
    /// Whether there is nothing to write.
    pub fn absent(&self) -> bool {
        match self {
            Self::Whole(value) => value.absent(),
            Self::Group(group) => group.rest().is_empty() && group.parts().iter().all(Part::absent),
            Self::List(list) => list.len() == 0,
        }
    }

    fn same(&self, other: &Part<'_>) -> bool {
        match (self, other) {
            (Self::Whole(mine), Part::Whole(theirs)) => mine.same(*theirs),
            (Self::Group(mine), Part::Group(theirs)) => same_object(*mine, *theirs),
            (Self::List(mine), Part::List(theirs)) => same_list(*mine, *theirs),
            _ => false,
        }
    }
}

/// Whether two objects of one type say the same.
pub fn same_object(mine: &dyn Object, theirs: &dyn Object) -> bool {
    mine.rest() == theirs.rest() && mine.parts().iter().zip(theirs.parts()).all(|(mine, theirs)| mine.same(&theirs))
}

/// Whether two entries of one type are the same, their stamps as well.
pub fn same_entry(mine: &dyn Identified, theirs: &dyn Identified) -> bool {
    let (a, b) = (mine.mark(), theirs.mark());
    a.id == b.id && a.stamp == b.stamp && a.deleted == b.deleted && a.edited == b.edited && same_object(mine, theirs)
}

/// Whether two lists of one type are the same, in the same order.
pub fn same_list(mine: &dyn List, theirs: &dyn List) -> bool {
    mine.len() == theirs.len() && (0..mine.len()).all(|place| same_entry(mine.at(place), theirs.at(place)))
}

/// `prefix.name`, or `name` at the top of an entry.
pub fn dotted(prefix: &str, name: &str) -> String {
    if prefix.is_empty() { name.into() } else { [prefix, ".", name].concat() }
}
