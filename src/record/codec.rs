//! How one part of the record is read, written, stamped and joined: the mechanism behind [`super::model`].
//!
//! The record is declared once, with [`entry!`] and [`group!`]; what those generate is one walk over the fields for each
//! of the four jobs. Reading is tolerant: a value that does not fit is remarked on and kept as it stood among the
//! unknown fields, so that it is written back. That is also why no part of the record derives `Deserialize`: a second
//! way in would not remark, mint or keep.

use std::collections::BTreeMap;
use std::fmt;

use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::{Map, Value};

use super::stamp::{Edited, Id, Stamp};
use crate::quantity::{Instant, Quantity, read_number};

/// Fields that this version does not know, or could not read: kept, and written back.
pub type Rest = Map<String, Value>;

/// Something worth saying about a text that was opened all the same.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Remark {
    /// Where in the text: `panels[2].weigh_ins[0].gross_g`.
    pub place: String,
    /// What is the matter there, as the rest of a sentence.
    pub trouble: String,
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.trouble)
    }
}

/// Walks a parsed text, knowing where it is.
#[derive(Default)]
pub(super) struct Reader {
    path: String,
    pub(super) remarks: Vec<Remark>,
}

impl Reader {
    pub(super) fn remark(&mut self, trouble: impl Into<String>) {
        self.remarks.push(Remark { place: self.path.clone(), trouble: trouble.into() });
    }

    /// Does `work` one step further down the text.
    pub(super) fn within<T>(&mut self, step: &str, work: impl FnOnce(&mut Self) -> T) -> T {
        let outer = self.path.len();
        if outer > 0 && !step.starts_with('[') {
            self.path.push('.');
        }
        self.path.push_str(step);
        let done = work(self);
        self.path.truncate(outer);
        done
    }

    /// Takes the field `name` out of `map`; what cannot be read stays in it.
    pub(super) fn take<F: Field>(&mut self, map: &mut Map<String, Value>, name: &str) -> F {
        match map.remove(name) {
            None | Some(Value::Null) => F::default(),
            Some(value) => match self.within(name, |reader| F::read(&value, reader)) {
                Some(field) => field,
                None => {
                    map.insert(name.into(), value);
                    F::default()
                }
            },
        }
    }
}

/// The pen that stamps what an action changed.
pub(super) struct Pen<'a> {
    pub(super) stamp: &'a Stamp,
    /// How many ids this stroke has minted.
    pub(super) minted: &'a mut u32,
}

impl Pen<'_> {
    /// Notes a field as written now.
    #[inline(never)]
    fn note(&self, path: &str, edited: &mut Edited) {
        edited.insert(path.into(), self.stamp.clone());
    }

    /// An id no other device and no other stroke mints.
    pub(super) fn mint(&mut self) -> Id {
        *self.minted += 1;
        Id(format!("{}-{}-{}", self.stamp.device, self.stamp.counter, self.minted))
    }
}

/// A value that is written whole: it has no parts that merge on their own.
pub(super) trait Leaf: Sized + Clone + PartialEq + Serialize {
    /// The value, or `None` after a remark.
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self>;
}

/// The two copies of one object that are being joined, and the stamps of their fields.
pub(super) struct Sides<'a> {
    pub(super) mine: (&'a Stamp, &'a Edited),
    pub(super) theirs: (&'a Stamp, &'a Edited),
    pub(super) clashes: &'a mut Vec<Clash>,
    pub(super) entry: &'a Id,
    /// The joined stamps, filled in as fields are decided.
    pub(super) edited: &'a mut Edited,
}

/// A field that both copies changed: the later edit is kept, the other is told.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Clash {
    /// The entry.
    pub entry: Id,
    /// The field in it, dotted.
    pub field: String,
    /// What was kept.
    pub kept: Value,
    /// What was not.
    pub dropped: Value,
}

impl Sides<'_> {
    fn stamp_of<'s>(side: (&'s Stamp, &'s Edited), path: &str) -> &'s Stamp {
        side.1.get(path).unwrap_or(side.0)
    }

    /// Whether their value of a leaf wins, by stamp and then by content.
    fn decide(&mut self, path: &str, mine: &impl Serialize, theirs: &impl Serialize, differ: bool) -> bool {
        let (my_stamp, their_stamp) =
            (Self::stamp_of(self.mine, path).clone(), Self::stamp_of(self.theirs, path).clone());
        let mut take = their_stamp > my_stamp;
        if differ {
            let value = |side: &dyn erased::ToValue| side.to_value();
            let (my_value, their_value) = (value(&Shown(mine)), value(&Shown(theirs)));
            if their_stamp == my_stamp {
                take = their_value.to_string() > my_value.to_string();
            }
            let both_edited = self.mine.1.contains_key(path) && self.theirs.1.contains_key(path);
            if both_edited || their_stamp == my_stamp {
                let (kept, dropped) = if take { (their_value, my_value) } else { (my_value, their_value) };
                self.clashes.push(Clash { entry: self.entry.clone(), field: path.into(), kept, dropped });
            }
        }
        if self.mine.1.contains_key(path) || self.theirs.1.contains_key(path) {
            self.edited.insert(path.into(), my_stamp.max(their_stamp));
        }
        take && differ
    }
}

struct Shown<'a, T>(&'a T);

mod erased {
    /// One compiled comparison for all leaf types.
    pub(super) trait ToValue {
        fn to_value(&self) -> serde_json::Value;
    }

    impl<T: serde::Serialize> ToValue for super::Shown<'_, T> {
        fn to_value(&self) -> serde_json::Value {
            serde_json::to_value(self.0).unwrap_or_default()
        }
    }
}

/// One field of the record.
pub(super) trait Field: Sized + Clone + Default + PartialEq + Serialize {
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
        let differ = self != theirs;
        if sides.decide(path, self, theirs, differ) {
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

impl Leaf for String {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        match value {
            Value::String(text) => Some(text.clone()),
            Value::Number(number) => Some(number.to_string()),
            _ => {
                reader.remark("must be text");
                None
            }
        }
    }
}

impl Leaf for bool {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let flag = value.as_bool();
        if flag.is_none() {
            reader.remark("must be true or false");
        }
        flag
    }
}

impl Leaf for Id {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        String::parse(value, reader).map(Id)
    }
}

impl Leaf for Instant {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let read = value.as_str().ok_or(crate::quantity::NotAnInstant).and_then(Instant::parse);
        read.map_err(|trouble| reader.remark(trouble.to_string())).ok()
    }
}

impl<Q: Quantity + Serialize> Leaf for Q {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let number = match value {
            Value::Number(number) => number.as_f64(),
            Value::String(text) => {
                let read = read_number(text).ok();
                if read.is_some() {
                    reader.remark("was text and is read as a number");
                }
                read
            }
            _ => None,
        };
        let Some(number) = number else {
            reader.remark("must be a number");
            return None;
        };
        Q::new(number).map_err(|trouble| reader.remark(trouble.to_string())).ok()
    }
}

/// An object of the record: its fields, and what it did not understand.
pub(super) trait Object: Sized + Clone + Default + PartialEq + Serialize {
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
pub(super) trait Identified: Object + Entry {
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

/// A list whose members have ids. Its order means nothing: it is kept by stamp, then id.
#[derive(Clone, Debug, PartialEq)]
pub struct Entries<E>(Vec<E>);

impl<E> Default for Entries<E> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<E: Entry> Entries<E> {
    /// Those that have not been taken out.
    pub fn kept(&self) -> impl DoubleEndedIterator<Item = &E> {
        self.0.iter().filter(|entry| !entry.deleted())
    }

    /// Those that have not been taken out, to change.
    pub fn kept_mut(&mut self) -> impl DoubleEndedIterator<Item = &mut E> {
        self.0.iter_mut().filter(|entry| !entry.deleted())
    }

    /// The one of that id, unless it was taken out.
    pub fn find(&self, id: &Id) -> Option<&E> {
        self.kept().find(|entry| entry.id() == id)
    }

    /// The one of that id, unless it was taken out, to change.
    pub fn find_mut(&mut self, id: &Id) -> Option<&mut E> {
        self.kept_mut().find(|entry| entry.id() == id)
    }

    /// All of them, those taken out as well.
    pub fn all(&self) -> &[E] {
        &self.0
    }

    /// Adds one; an empty id is minted when the action is stamped.
    pub fn push(&mut self, entry: E) {
        self.0.push(entry);
    }

    fn put_in_order(&mut self) {
        let order = order_of(self.0.iter().map(|entry| (entry.stamp(), entry.id())).collect());
        if order.is_sorted() {
            return;
        }
        let mut taken: Vec<Option<E>> = std::mem::take(&mut self.0).into_iter().map(Some).collect();
        self.0 = order.into_iter().filter_map(|place| taken[place].take()).collect();
    }
}

/// The places of entries in order. Apart, so that one sort serves lists of every kind: each would bring some 10 kB.
fn order_of(keys: Vec<(&Stamp, &Id)>) -> Vec<usize> {
    let mut order: Vec<usize> = (0..keys.len()).collect();
    order.sort_by(|&a, &b| keys[a].cmp(&keys[b]));
    order
}

/// Where each id stands in a list.
fn places<'a>(ids: impl Iterator<Item = &'a Id>) -> BTreeMap<&'a Id, usize> {
    ids.enumerate().map(|(place, id)| (id, place)).collect()
}

impl<E: Serialize> Serialize for Entries<E> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.0.serialize(serializer)
    }
}

impl<E: Identified> Field for Entries<E> {
    fn read(value: &Value, reader: &mut Reader) -> Option<Self> {
        let Value::Array(items) = value else {
            reader.remark("must be a list");
            return None;
        };
        let mut list = Vec::with_capacity(items.len());
        for (i, item) in items.iter().enumerate() {
            reader.within(&format!("[{i}]"), |reader| match item {
                Value::Object(map) => list.push(E::read_fields(map.clone(), reader)),
                _ => reader.remark("must be an object; it is left out"),
            });
        }
        Some(Self(list))
    }

    fn absent(&self) -> bool {
        self.0.is_empty()
    }

    fn settle(&mut self, before: &Self, _path: &str, _edited: &mut Edited, pen: &mut Pen<'_>) {
        let old = places(before.0.iter().map(Entry::id));
        let mut seen = std::collections::BTreeSet::new();
        for entry in &mut self.0 {
            match old.get(entry.id()).map(|&place| &before.0[place]) {
                Some(before) if !entry.id().0.is_empty() => {
                    seen.insert(entry.id().clone());
                    if entry != before {
                        entry.settle_entry(before, pen);
                    }
                }
                _ => {
                    if entry.id().0.is_empty() {
                        entry.set_id(pen.mint());
                    }
                    entry.set_stamp(pen.stamp.clone());
                    entry.settle_new_fields(pen);
                }
            }
        }
        // Nothing ever goes without a trace: what is missing was taken out.
        for gone in before.0.iter().filter(|entry| !seen.contains(entry.id())) {
            let mut entry = gone.clone();
            if !entry.deleted() {
                entry.set_deleted(true);
                entry.edited_mut().insert("deleted".into(), pen.stamp.clone());
            }
            self.0.push(entry);
        }
        self.put_in_order();
    }

    fn settle_new(&mut self, pen: &mut Pen<'_>) {
        self.settle(&Self::default(), "", &mut Edited::new(), pen);
    }

    fn join(&mut self, theirs: &Self, _path: &str, sides: &mut Sides<'_>) {
        let mine = places(self.0.iter().map(Entry::id));
        let known: Vec<Option<usize>> = theirs.0.iter().map(|entry| mine.get(entry.id()).copied()).collect();
        for (entry, place) in theirs.0.iter().zip(known) {
            match place {
                Some(place) => self.0[place].join_entry(entry, sides.clashes),
                None => self.0.push(entry.clone()),
            }
        }
        self.put_in_order();
    }

    fn stamps(&self, see: &mut dyn FnMut(&Stamp)) {
        for entry in &self.0 {
            see(entry.stamp());
            entry.edited().values().for_each(&mut *see);
            entry.field_stamps(see);
        }
    }

    fn entry_mut(&mut self, id: &Id) -> Option<&mut dyn Entry> {
        // Two passes: the borrow of a hit in the first would last through the second.
        if let Some(i) = self.0.iter().position(|entry| entry.id() == id) {
            return Some(&mut self.0[i]);
        }
        self.0.iter_mut().find_map(|entry| entry.entry_in_fields(id))
    }

    fn restore(&mut self, place: &str) {
        let mut taken = std::collections::BTreeSet::new();
        for entry in &mut self.0 {
            if entry.id().0.is_empty() || !taken.insert(entry.id().clone()) {
                entry.set_id(Id::default());
                let content = serde_json::to_string(&*entry).unwrap_or_default();
                let minted = (0..).map(|n| Id::of_content(place, &content, n)).find(|id| !taken.contains(id));
                let id = minted.unwrap_or_default();
                taken.insert(id.clone());
                entry.set_id(id);
            }
            let inner = format!("{place}/{}", entry.id().0);
            entry.restore_fields(&inner);
        }
        self.put_in_order();
    }
}

/// Writes the fields that are there, then the unknown ones that are not.
pub(super) struct Lines<M> {
    map: M,
    written: Vec<&'static str>,
}

impl<M: SerializeMap> Lines<M> {
    pub(super) fn new(map: M) -> Self {
        Self { map, written: Vec::new() }
    }

    pub(super) fn field(&mut self, name: &'static str, absent: bool, value: &impl Serialize) -> Result<(), M::Error> {
        if absent {
            return Ok(());
        }
        self.written.push(name);
        self.map.serialize_entry(name, value)
    }

    pub(super) fn rest(mut self, rest: &Rest) -> Result<M::Ok, M::Error> {
        for (name, value) in rest.iter().filter(|(name, _)| !self.written.contains(&name.as_str())) {
            self.map.serialize_entry(name, value)?;
        }
        self.map.end()
    }
}

/// `prefix.name`, or `name` at the top of an entry.
pub(super) fn dotted(prefix: &str, name: &str) -> String {
    if prefix.is_empty() { name.into() } else { format!("{prefix}.{name}") }
}

/// Generates [`Object`] for a struct that has these fields and `rest`.
macro_rules! object {
    ($name:ident { $($field:ident: $ty:ty,)* }) => {
        impl Object for $name {
            fn read_fields(mut map: Map<String, Value>, reader: &mut Reader) -> Self {
                let mut object = Self::default();
                $(object.$field = reader.take(&mut map, stringify!($field));)*
                object.read_mark(&mut map, reader);
                object.rest = map;
                object
            }

            fn settle_fields(&mut self, before: &Self, prefix: &str, edited: &mut Edited, pen: &mut Pen<'_>) {
                $(if self.$field != before.$field {
                    self.$field.settle(&before.$field, &dotted(prefix, stringify!($field)), edited, pen);
                })*
                if self.rest != before.rest {
                    self.rest.settle(&before.rest, &dotted(prefix, "rest"), edited, pen);
                }
            }

            fn settle_new_fields(&mut self, pen: &mut Pen<'_>) {
                $(self.$field.settle_new(pen);)*
            }

            fn join_fields(&mut self, theirs: &Self, prefix: &str, sides: &mut Sides<'_>) {
                $(self.$field.join(&theirs.$field, &dotted(prefix, stringify!($field)), sides);)*
                self.rest.join(&theirs.rest, &dotted(prefix, "rest"), sides);
            }

            fn field_stamps(&self, see: &mut dyn FnMut(&Stamp)) {
                $(self.$field.stamps(see);)*
            }

            fn entry_in_fields(&mut self, id: &Id) -> Option<&mut dyn Entry> {
                $(if let Some(entry) = self.$field.entry_mut(id) {
                    return Some(entry);
                })*
                None
            }

            fn restore_fields(&mut self, place: &str) {
                $(self.$field.restore(&dotted(place, stringify!($field)));)*
            }
        }
    };
}

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
                    if sides.decide(path, &mine.clone(), value, mine != value) {
                        self.insert(name.clone(), value.clone());
                    }
                }
            }
        }
    }
}

/// Declares an entry: a part of the record with an id, a stamp and a deletion of its own.
macro_rules! entry {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name {
            /// Which one.
            pub id: Id,
            /// When it was first written.
            pub stamp: Stamp,
            /// Fields written later than that, dotted, and when.
            pub edited: Edited,
            /// Whether it has been taken out.
            pub deleted: bool,
            $($(#[$fdoc])* pub $field: $ty,)*
            /// Fields that this version does not know.
            pub rest: Rest,
        }

        impl $name {
            fn read_mark(&mut self, map: &mut Map<String, Value>, reader: &mut Reader) {
                self.id = reader.take::<Option<Id>>(map, "id").unwrap_or_default();
                self.stamp = reader.take::<Option<Stamp>>(map, "stamp").unwrap_or_default();
                self.edited = reader.take(map, "edited");
                self.deleted = reader.take(map, "deleted");
            }
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut lines = Lines::new(serializer.serialize_map(None)?);
                lines.field("id", self.id.0.is_empty(), &self.id)?;
                $(lines.field(stringify!($field), self.$field.absent(), &self.$field)?;)*
                lines.field("deleted", !self.deleted, &self.deleted)?;
                lines.field("stamp", self.stamp == Stamp::default(), &self.stamp)?;
                lines.field("edited", self.edited.is_empty(), &self.edited)?;
                lines.rest(&self.rest)
            }
        }

        object! { $name { $($field: $ty,)* } }

        impl Entry for $name {
            fn id(&self) -> &Id {
                &self.id
            }

            fn stamp(&self) -> &Stamp {
                &self.stamp
            }

            fn deleted(&self) -> bool {
                self.deleted
            }

            fn set_deleted(&mut self, deleted: bool) {
                self.deleted = deleted;
            }
        }

        impl Identified for $name {
            fn set_id(&mut self, id: Id) {
                self.id = id;
            }

            fn set_stamp(&mut self, stamp: Stamp) {
                self.stamp = stamp;
            }

            fn edited(&self) -> &Edited {
                &self.edited
            }

            fn edited_mut(&mut self) -> &mut Edited {
                &mut self.edited
            }
        }
    };
}

/// Declares a group: a part of an entry without an identity. Its fields merge one by one under the entry's stamps.
macro_rules! group {
    ($(#[$doc:meta])* $name:ident { $($(#[$fdoc:meta])* $field:ident: $ty:ty,)* }) => {
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq)]
        pub struct $name {
            $($(#[$fdoc])* pub $field: $ty,)*
            /// Fields that this version does not know.
            pub rest: Rest,
        }

        impl $name {
            fn read_mark(&mut self, _map: &mut Map<String, Value>, _reader: &mut Reader) {}
        }

        impl Serialize for $name {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let mut lines = Lines::new(serializer.serialize_map(None)?);
                $(lines.field(stringify!($field), self.$field.absent(), &self.$field)?;)*
                lines.rest(&self.rest)
            }
        }

        object! { $name { $($field: $ty,)* } }

        impl Leaf for $name {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                match value {
                    Value::Object(map) => Some(Self::read_fields(map.clone(), reader)),
                    _ => {
                        reader.remark("must be an object");
                        None
                    }
                }
            }
        }

        impl Field for $name {
            fn read(value: &Value, reader: &mut Reader) -> Option<Self> {
                Self::parse(value, reader)
            }

            fn settle(&mut self, before: &Self, path: &str, edited: &mut Edited, pen: &mut Pen<'_>) {
                self.settle_fields(before, path, edited, pen);
            }

            fn settle_new(&mut self, pen: &mut Pen<'_>) {
                self.settle_new_fields(pen);
            }

            fn join(&mut self, theirs: &Self, path: &str, sides: &mut Sides<'_>) {
                self.join_fields(theirs, path, sides);
            }

            fn stamps(&self, see: &mut dyn FnMut(&Stamp)) {
                self.field_stamps(see);
            }

            fn entry_mut(&mut self, id: &Id) -> Option<&mut dyn Entry> {
                self.entry_in_fields(id)
            }

            fn restore(&mut self, place: &str) {
                self.restore_fields(place);
            }
        }
    };
}

/// Declares words a field may hold; another word is remarked on and kept as it stood.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$vdoc:meta])* $variant:ident = $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
        pub enum $name {
            $($(#[$vdoc])* #[serde(rename = $word)] $variant,)+
        }

        impl Leaf for $name {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                match value.as_str() {
                    $(Some($word) => Some(Self::$variant),)+
                    _ => {
                        reader.remark(concat!("must be one of:" $(, " ", $word)+));
                        None
                    }
                }
            }
        }
    };
}

pub(super) use {entry, group, object, words};
