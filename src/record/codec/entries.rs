//! Lists whose members have ids.

use std::collections::{BTreeMap, BTreeSet};

use serde::ser::{Serialize, Serializer};
use serde_json::Value;

use super::field::{Entry, Field, Identified};
use super::reader::Reader;
use super::stroke::{Pen, Sides};
use crate::record::stamp::{Edited, Id, Stamp};

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
        let mut seen = BTreeSet::new();
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
        let mut taken = BTreeSet::new();
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
