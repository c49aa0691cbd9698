//! Looking through a record: its stamps, an entry by its id, and what was missing when it came in.

use std::collections::{BTreeMap, BTreeSet};

use super::entries::{List, put_in_order};
use super::part::{Entry, Identified, Object, Part, PartMut, dotted};
use super::write::Written;
use crate::record::stamp::{Id, Stamp};

/// Shows every stamp of an entry, and of the entries inside it, to `see`.
pub fn see_stamps(entry: &dyn Identified, see: &mut dyn FnMut(&Stamp)) {
    let mark = entry.mark();
    see(mark.stamp);
    mark.edited.values().for_each(&mut *see);
    see_stamps_inside(entry, see);
}

fn see_stamps_inside(object: &dyn Object, see: &mut dyn FnMut(&Stamp)) {
    for part in object.parts() {
        match part {
            Part::Whole(_) => {}
            Part::Group(group) => see_stamps_inside(group, see),
            Part::List(list) => (0..list.len()).for_each(|place| see_stamps(list.at(place), see)),
        }
    }
}

/// The entry of that id inside an object.
pub fn entry_in<'a>(object: &'a mut dyn Object, id: &Id) -> Option<&'a mut dyn Entry> {
    object.parts_mut().into_iter().find_map(|part| match part {
        PartMut::Whole(_) => None,
        PartMut::Group(group) => entry_in(group, id),
        PartMut::List(list) => entry_in_list(list, id),
    })
}

fn entry_in_list<'a>(list: &'a mut dyn List, id: &Id) -> Option<&'a mut dyn Entry> {
    // Places first: the borrow of a hit would last through the rest of the search.
    let inside = |list: &mut dyn List, place| list.at(place).id() == id || entry_in(list.at_mut(place), id).is_some();
    let place = (0..list.len()).find(|&place| inside(list, place))?;
    let entry = list.at_mut(place);
    if entry.id() == id { Some(entry) } else { entry_in(entry, id) }
}

/// Mints what ids are missing inside an object, from place and content, and puts its lists in order.
pub fn restore_fields(object: &mut dyn Object, place: &str) {
    for (name, part) in object.names().iter().zip(object.parts_mut()) {
        match part {
            PartMut::Whole(_) => {}
            PartMut::Group(group) => restore_fields(group, &dotted(place, name)),
            PartMut::List(list) => restore_list(list, &dotted(place, name)),
        }
    }
}

fn restore_list(list: &mut dyn List, place: &str) {
    let mut taken = BTreeSet::new();
    // How many entries of the same content have been given an id: a file may hold very many.
    let mut alike: BTreeMap<Id, u32> = BTreeMap::new();
    for i in 0..list.len() {
        let entry = list.at_mut(i);
        if entry.id().0.is_empty() || !taken.insert(entry.id().clone()) {
            *entry.mark_mut().id = Id::default();
            let content = Written::entry(entry).text();
            let next = alike.entry(Id::of_content(place, &content, 0)).or_default();
            let minted = loop {
                let minted = Id::of_content(place, &content, *next);
                *next += 1;
                if taken.insert(minted.clone()) {
                    break minted;
                }
            };
            *entry.mark_mut().id = minted;
            // An id that could not be read has been told of; kept, it would stand beside the minted one.
            entry.rest_mut().remove("id");
        }
        let inner = format!("{place}/{}", entry.id());
        restore_fields(entry, &inner);
    }
    put_in_order(list);
}
