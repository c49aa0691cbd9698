//! Lists whose members have ids.

use std::any::Any;
use std::collections::BTreeMap;

use serde::{Serialize, Serializer};

use super::part::{Entry, Field, Identified, Part, PartMut};
use super::write::Listed;
use crate::stamp::{Id, Stamp};

/// A list whose members have ids. Its order means nothing: it is kept by stamp, then id. It holds all there are; of those not
/// taken out only as many count as its kind may have, those written first.
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
        self.0[..self.end()].iter().filter(|entry| !entry.deleted())
    }

    /// Those that have not been taken out, to change.
    pub fn kept_mut(&mut self) -> impl DoubleEndedIterator<Item = &mut E> {
        let end = self.end();
        self.0[..end].iter_mut().filter(|entry| !entry.deleted())
    }

    /// Where those begin that are over.
    fn end(&self) -> usize {
        if self.0.len() <= E::most() {
            return self.0.len();
        }
        let mut kept = self.0.iter().enumerate().filter(|(_, entry)| !entry.deleted());
        kept.nth(E::most()).map_or(self.0.len(), |(place, _)| place)
    }

    /// The one of that id, unless it was taken out.
    pub fn find(&self, id: &Id) -> Option<&E> {
        self.kept().find(|entry| entry.id() == id)
    }

    /// The one of that id, unless it was taken out, to change.
    pub fn find_mut(&mut self, id: &Id) -> Option<&mut E> {
        self.kept_mut().find(|entry| entry.id() == id)
    }

    /// All of them, those taken out and those over as well.
    pub fn all(&self) -> &[E] {
        &self.0
    }

    /// Lets go of those that have been taken out, for good.
    pub fn forget_removed(&mut self) {
        self.0.retain(|entry| !entry.deleted());
    }

    /// Adds one; an empty id is minted when the action is stamped.
    pub fn push(&mut self, entry: E) {
        self.0.push(entry);
    }
}

/// A list with more in it than counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Full {
    /// Its name: `weigh_ins`.
    pub list: &'static str,
    /// The most that count of those not taken out.
    pub most: usize,
    /// How many more there are.
    pub over: usize,
}

impl Full {
    /// Of the list of that name; `None` where all in it counts.
    pub fn of(name: &'static str, list: &dyn List) -> Option<Self> {
        let most = list.most();
        if list.len() <= most {
            return None;
        }
        let kept = (0..list.len()).filter(|&place| !list.at(place).deleted()).count();
        (kept > most).then(|| Self { list: name, most, over: kept - most })
    }
}

/// [`Entries`] of whatever type.
pub trait List {
    fn len(&self) -> usize;
    fn at(&self, place: usize) -> &dyn Identified;
    fn at_mut(&mut self, place: usize) -> &mut dyn Identified;
    /// Adds an empty entry.
    fn add(&mut self) -> &mut dyn Identified;
    /// Adds a copy of an entry of the same type.
    fn add_copy(&mut self, entry: &dyn Identified) -> &mut dyn Identified;
    /// Takes one away without a trace.
    fn take_away(&mut self, place: usize);
    fn swap(&mut self, one: usize, other: usize);
    /// The most that count of those not taken out.
    fn most(&self) -> usize;
}

impl<E: Identified + Clone + Default> List for Entries<E> {
    fn len(&self) -> usize {
        self.0.len()
    }

    fn at(&self, place: usize) -> &dyn Identified {
        &self.0[place]
    }

    fn at_mut(&mut self, place: usize) -> &mut dyn Identified {
        &mut self.0[place]
    }

    fn add(&mut self) -> &mut dyn Identified {
        self.0.push_mut(E::default())
    }

    fn add_copy(&mut self, entry: &dyn Identified) -> &mut dyn Identified {
        let entry: &dyn Any = entry;
        self.0.push_mut(entry.downcast_ref::<E>().cloned().unwrap_or_default())
    }

    fn take_away(&mut self, place: usize) {
        self.0.remove(place);
    }

    fn swap(&mut self, one: usize, other: usize) {
        self.0.swap(one, other);
    }

    fn most(&self) -> usize {
        E::most()
    }
}

impl<E: Identified + Clone + Default> Field for Entries<E> {
    fn part(&self) -> Part<'_> {
        Part::List(self)
    }

    fn part_mut(&mut self) -> PartMut<'_> {
        PartMut::List(self)
    }
}

impl<E: Identified + Clone + Default> Serialize for Entries<E> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Listed(self).serialize(serializer)
    }
}

/// Where each id stands in a list.
pub fn places(list: &dyn List) -> BTreeMap<&Id, usize> {
    // One by one: collecting sorts first, and each type that is sorted brings some 10 kB of code.
    let mut places = BTreeMap::new();
    for place in 0..list.len() {
        places.insert(list.at(place).id(), place);
    }
    places
}

/// Puts a list in order of stamp, then id.
pub fn put_in_order(list: &mut dyn List) {
    let keys: Vec<(&Stamp, &Id)> = (0..list.len()).map(|place| (list.at(place).stamp(), list.at(place).id())).collect();
    if keys.is_sorted() {
        return;
    }
    let order = order::places(keys.len(), &|a, b| keys[a].cmp(&keys[b]));
    order::arrange(order, &mut |a, b| list.swap(a, b));
}
