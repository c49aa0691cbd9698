//! Fields and the objects they make up.

use serde::ser::{Serialize, SerializeMap};
use serde_json::{Map, Value};

use super::leaf::Leaf;
use super::reader::{Reader, Rest};
use super::stroke::{Clash, Pen, Sides};
use crate::record::stamp::{Edited, Id, Stamp};

/// One field of the record.
pub(in crate::record) trait Field: Sized + Clone + Default + PartialEq + Serialize {
    fn read(value: &Value, reader: &mut Reader) -> Option<Self>;

    /// Whether there is nothing to write.
    fn absent(&self) -> bool {
        *self == Self::default()
    }

    /// Notes in `edited` under `path` what differs from `before`.
    fn settle(&mut self, before: &Self, path: &str, edited: &mut Edited, pen: &mut Pen<'_>) {
        if self != before {
            pen.note(path, edited);
        }
    }

    /// Gives every entry inside a stamp and an id: it is all new.
    fn settle_new(&mut self, _pen: &mut Pen<'_>) {}

    /// Takes over from the other copy what was written later there.
    fn join(&mut self, theirs: &Self, path: &str, sides: &mut Sides<'_>) {
        if sides.decide(path, self != theirs, &|| (value_of(self), value_of(theirs))) {
            self.clone_from(theirs);
        }
    }

    /// Shows every stamp inside to `see`.
    fn stamps(&self, _see: &mut dyn FnMut(&Stamp)) {}

    /// The entry of that id inside.
    fn entry_mut(&mut self, _id: &Id) -> Option<&mut dyn Entry> {
        None
    }

    /// Mints what is missing inside, from place and content.
    fn restore(&mut self, _place: &str) {}
}

fn value_of(field: &impl Serialize) -> Value {
    serde_json::to_value(field).unwrap_or_default()
}

impl<L: Leaf> Field for Option<L> {
    fn read(value: &Value, reader: &mut Reader) -> Option<Self> {
        L::parse(value, reader).map(Some)
    }
}

impl<L: Leaf> Field for Vec<L> {
    fn read(value: &Value, reader: &mut Reader) -> Option<Self> {
        let Value::Array(items) = value else {
            reader.remark("must be a list");
            return None;
        };
        let read = items.iter().enumerate().map(|(i, item)| reader.within(&format!("[{i}]"), |r| L::parse(item, r)));
        // All or nothing: half a list of readings would be another measurement.
        read.collect::<Vec<_>>().into_iter().collect()
    }
}

macro_rules! plain_fields {
    ($($ty:ty)+) => {$(
        impl Field for $ty {
            fn read(value: &Value, reader: &mut Reader) -> Option<Self> {
                <$ty as Leaf>::parse(value, reader)
            }
        }
    )+};
}

plain_fields! { String bool }

/// Unknown fields merge key by key: a newer version's fields are nobody's business but must survive.
impl Field for Rest {
    fn read(_value: &Value, _reader: &mut Reader) -> Option<Self> {
        None
    }

    fn join(&mut self, theirs: &Self, path: &str, sides: &mut Sides<'_>) {
        for (name, value) in theirs {
            match self.get(name) {
                None => {
                    self.insert(name.clone(), value.clone());
                }
                Some(mine) => {
                    if sides.decide(path, mine != value, &|| (mine.clone(), value.clone())) {
                        self.insert(name.clone(), value.clone());
                    }
                }
            }
        }
    }
}

/// An object of the record: its fields, and what it did not understand.
pub(in crate::record) trait Object: Sized + Clone + Default + PartialEq + Serialize {
    fn read_fields(map: Map<String, Value>, reader: &mut Reader) -> Self;
    fn settle_fields(&mut self, before: &Self, prefix: &str, edited: &mut Edited, pen: &mut Pen<'_>);
    fn settle_new_fields(&mut self, pen: &mut Pen<'_>);
    fn join_fields(&mut self, theirs: &Self, prefix: &str, sides: &mut Sides<'_>);
    fn field_stamps(&self, see: &mut dyn FnMut(&Stamp));
    fn entry_in_fields(&mut self, id: &Id) -> Option<&mut dyn Entry>;
    fn restore_fields(&mut self, place: &str);
}

/// An object with an identity of its own: it merges by id, and its deletion is something written down.
pub trait Entry {
    /// Which one.
    fn id(&self) -> &Id;
    /// When it was written.
    fn stamp(&self) -> &Stamp;
    /// Whether it has been taken out.
    fn deleted(&self) -> bool;
    /// Takes it out, or brings it back.
    fn set_deleted(&mut self, deleted: bool);
}

/// What [`Entries`] needs of an entry beyond [`Entry`].
pub(in crate::record) trait Identified: Object + Entry {
    fn set_id(&mut self, id: Id);
    fn set_stamp(&mut self, stamp: Stamp);
    fn edited_mut(&mut self) -> &mut Edited;
    fn edited(&self) -> &Edited;

    /// Stamps what differs from `before`, keeping the older stamps.
    fn settle_entry(&mut self, before: &Self, pen: &mut Pen<'_>) {
        self.set_stamp(before.stamp().clone());
        let mut edited = before.edited().clone();
        if self.deleted() != before.deleted() {
            edited.insert("deleted".into(), pen.stamp.clone());
        }
        self.settle_fields(before, "", &mut edited, pen);
        *self.edited_mut() = edited;
    }

    /// Joins two copies of one entry.
    fn join_entry(&mut self, theirs: &Self, clashes: &mut Vec<Clash>) {
        let (my_stamp, my_edited, id) = (self.stamp().clone(), self.edited().clone(), self.id().clone());
        let mut edited = Edited::new();
        let mut sides = Sides {
            mine: (&my_stamp, &my_edited),
            theirs: (theirs.stamp(), theirs.edited()),
            clashes,
            entry: &id,
            edited: &mut edited,
        };
        let mut deleted = self.deleted();
        Field::join(&mut deleted, &theirs.deleted(), "deleted", &mut sides);
        self.join_fields(theirs, "", &mut sides);
        self.set_deleted(deleted);
        // Stamps of fields that only one copy knows are carried along.
        for (path, stamp) in my_edited.iter().chain(theirs.edited()) {
            let kept = edited.entry(path.clone()).or_insert_with(|| stamp.clone());
            if *stamp > *kept {
                *kept = stamp.clone();
            }
        }
        *self.edited_mut() = edited;
        self.set_stamp(my_stamp.max(theirs.stamp().clone()));
    }
}

/// Writes the fields that are there, then the unknown ones that are not.
pub(in crate::record) struct Lines<M> {
    map: M,
    written: Vec<&'static str>,
}

impl<M: SerializeMap> Lines<M> {
    pub(in crate::record) fn new(map: M) -> Self {
        Self { map, written: Vec::new() }
    }

    pub(in crate::record) fn field(
        &mut self,
        name: &'static str,
        absent: bool,
        value: &impl Serialize,
    ) -> Result<(), M::Error> {
        if absent {
            return Ok(());
        }
        self.written.push(name);
        self.map.serialize_entry(name, value)
    }

    pub(in crate::record) fn rest(mut self, rest: &Rest) -> Result<M::Ok, M::Error> {
        for (name, value) in rest.iter().filter(|(name, _)| !self.written.contains(&name.as_str())) {
            self.map.serialize_entry(name, value)?;
        }
        self.map.end()
    }
}

/// `prefix.name`, or `name` at the top of an entry.
pub(in crate::record) fn dotted(prefix: &str, name: &str) -> String {
    if prefix.is_empty() { name.into() } else { format!("{prefix}.{name}") }
}
