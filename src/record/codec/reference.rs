//! References: fields that name entries, and the walk that follows them all.
//!
//! A reference is a [`Ref`] or [`Refs`] of what it names. Its type says where that is looked for, so that the gate follows
//! every one that is declared, and says of each where it leads nowhere.

use std::any::Any;
use std::fmt;
use std::marker::PhantomData;
use std::ops::{Deref, DerefMut};

use super::entries::{Entries, List};
use super::leaf::Holding;
use super::part::{Entry, Field, Object, Part, PartMut};
use super::reader::Reader;
use crate::stamp::Id;

/// Where what a reference names is looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Among {
    /// In every list of that name.
    All(&'static str),
    /// In the list of that name which stands in the same entry as the list that the reference is in.
    Own(&'static str),
}

/// What a reference may name.
pub trait Named {
    /// Where it is looked for.
    const AMONG: &'static [Among];
}

/// Names an entry of a kind, or none; [`Refs`] names several.
///
/// In a file it is the id of the entry, or its label where only one has it; the gate puts the id for it. One that names nothing
/// in the test is remarked on, stays as it is written, and counts as if nothing were named.
pub struct Ref<T, H = Option<Id>> {
    named: H,
    kind: PhantomData<fn() -> T>,
}

/// Names entries of a kind, as [`Ref`] names one.
pub type Refs<T> = Ref<T, Vec<Id>>;

impl<T: Entry> Ref<T> {
    /// The entry that it names, unless it was taken out or is not there.
    pub fn find<'a>(&self, among: &'a Entries<T>) -> Option<&'a T> {
        among.find(self.as_ref()?)
    }
}

impl<T, H> From<H> for Ref<T, H> {
    fn from(named: H) -> Self {
        Self { named, kind: PhantomData }
    }
}

impl<T> From<Id> for Ref<T> {
    fn from(id: Id) -> Self {
        Some(id).into()
    }
}

impl<T, H> Deref for Ref<T, H> {
    type Target = H;

    fn deref(&self) -> &H {
        &self.named
    }
}

impl<T, H> DerefMut for Ref<T, H> {
    fn deref_mut(&mut self) -> &mut H {
        &mut self.named
    }
}

impl<T, H: Clone> Clone for Ref<T, H> {
    fn clone(&self) -> Self {
        self.named.clone().into()
    }
}

impl<T, H: Default> Default for Ref<T, H> {
    fn default() -> Self {
        H::default().into()
    }
}

impl<T, H: PartialEq> PartialEq for Ref<T, H> {
    fn eq(&self, other: &Self) -> bool {
        self.named == other.named
    }
}

impl<T, H: fmt::Debug> fmt::Debug for Ref<T, H> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.named.fmt(f)
    }
}

// All that reads, writes and joins a reference is that of the ids in it: no code of its own for each kind.
impl<T: Named, H: Holding> Field for Ref<T, H> {
    const NAMES: &'static [Among] = T::AMONG;

    fn part(&self) -> Part<'_> {
        Part::Whole(&self.named)
    }

    fn part_mut(&mut self) -> PartMut<'_> {
        PartMut::Whole(&mut self.named)
    }
}

/// What may be written for an entry: its id, or its label.
struct Name {
    list: &'static str,
    name: String,
    /// The entry in which the list stands, counted in the order of the walk; the test is 0.
    owner: usize,
    /// Where the name is a label: the id to put for it.
    id: Option<Id>,
}

/// Points references at the entries that they name, and remarks on those that lead nowhere.
pub fn follow_references(test: &mut dyn Object, reader: &mut Reader) {
    let mut names = Vec::new();
    gather(test, 0, &mut 0, &mut names);
    order::sort_by(&mut names, |a, b| (a.list, &a.name).cmp(&(b.list, &b.name)));
    Follower { names, count: 0 }.object(test, 0, 0, reader);
}

fn gather(object: &dyn Object, owner: usize, count: &mut usize, names: &mut Vec<Name>) {
    for (list, part) in object.names().iter().copied().zip(object.parts()) {
        match part {
            Part::Whole(_) => {}
            Part::Group(group) => gather(group, owner, count, names),
            Part::List(entries) => {
                for entry in (0..entries.len()).map(|place| entries.at(place)) {
                    let id = entry.id();
                    names.push(Name { list, name: id.0.clone(), owner, id: None });
                    names.extend(label(entry).map(|name| Name { list, name, owner, id: Some(id.clone()) }));
                    *count += 1;
                    gather(entry, *count, count, names);
                }
            }
        }
    }
}

fn label(entry: &dyn Object) -> Option<String> {
    let place = entry.names().iter().position(|name| *name == "label")?;
    let Part::Whole(label) = entry.parts().swap_remove(place) else { return None };
    let label: &dyn Any = label;
    label.downcast_ref().filter(|label: &&String| !label.is_empty()).cloned()
}

/// What a name leads to.
enum Led {
    /// To the entry of that id.
    There,
    /// To the entry of that label, which has this id.
    ByLabel(Id),
    /// To several of that label.
    ToSeveral,
    Nowhere,
}

struct Follower {
    names: Vec<Name>,
    /// How many entries have been walked through.
    count: usize,
}

impl Follower {
    /// Follows the references of an object that stands in a list of `owner`, and of what is listed in it, which stands in `inside`.
    fn object(&mut self, object: &mut dyn Object, owner: usize, inside: usize, reader: &mut Reader) {
        let (names, references) = (object.names(), object.references());
        for ((name, among), part) in names.iter().zip(references).zip(object.parts_mut()) {
            reader.within(name, |reader| match part {
                PartMut::Whole(named) if !among.is_empty() => self.named(named, among, owner, reader),
                PartMut::Whole(_) => {}
                PartMut::Group(group) => self.object(group, owner, inside, reader),
                PartMut::List(list) => self.list(list, inside, reader),
            });
        }
    }

    fn list(&mut self, list: &mut dyn List, owner: usize, reader: &mut Reader) {
        for place in 0..list.len() {
            let entry = list.at_mut(place);
            self.count += 1;
            let inside = self.count;
            let said = reader.remarks.len();
            let place = ["[", label(entry).as_ref().unwrap_or(&entry.id().0), "]"].concat();
            reader.within(&place, |reader| self.object(entry, owner, inside, reader));
            if entry.deleted() {
                reader.remarks.truncate(said);
            }
        }
    }

    fn named(&self, named: &mut dyn Any, among: &[Among], owner: usize, reader: &mut Reader) {
        if let Some(Some(id)) = named.downcast_mut::<Option<Id>>() {
            self.follow(id, among, owner, reader);
        } else if let Some(ids) = named.downcast_mut::<Vec<Id>>() {
            ids.iter_mut().for_each(|id| self.follow(id, among, owner, reader));
        }
    }

    fn follow(&self, id: &mut Id, among: &[Among], owner: usize, reader: &mut Reader) {
        match self.led(id, among, owner) {
            Led::There => {}
            Led::ByLabel(entry) => *id = entry,
            Led::ToSeveral => reader.remark(["names \"", &id.0, "\", which more than one is called"].concat()),
            Led::Nowhere => reader.remark(["names \"", &id.0, "\", which is not in this test"].concat()),
        }
    }

    fn led(&self, id: &Id, among: &[Among], owner: usize) -> Led {
        let mut led = Led::Nowhere;
        for among in among {
            let (list, own) = match *among {
                Among::All(list) => (list, false),
                Among::Own(list) => (list, true),
            };
            let first = self.names.partition_point(|known| (known.list, &known.name) < (list, &id.0));
            let of_that_name = self.names[first..].iter().take_while(|known| known.list == list && known.name == id.0);
            for known in of_that_name.filter(|known| !own || known.owner == owner) {
                led = match (&known.id, led) {
                    // An id, whatever else reads the same.
                    (None, _) => return Led::There,
                    (Some(entry), Led::Nowhere) => Led::ByLabel(entry.clone()),
                    (Some(_), _) => Led::ToSeveral,
                };
            }
        }
        led
    }
}
