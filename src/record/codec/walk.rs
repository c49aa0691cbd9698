//! Looking through a record: its stamps, an entry by the way to it, and what was missing when it came in.

use std::any::Any;
use std::collections::{BTreeMap, BTreeSet};

use super::entries::{Full, List, put_in_order};
use super::part::{Identified, Object, Part, PartMut, dotted};
use super::write::Written;
use crate::stamp::{Id, Stamp};

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

/// Shows every list of an object, and of the entries inside it, with more in it than counts, and where it stands.
pub fn see_full(object: &dyn Object, place: &str, see: &mut dyn FnMut(&str, Full)) {
    for (name, part) in object.names().iter().copied().zip(object.parts()) {
        match part {
            Part::Whole(_) => {}
            Part::Group(group) => see_full(group, &dotted(place, name), see),
            Part::List(list) => {
                if let Some(full) = Full::of(name, list) {
                    see(&dotted(place, name), full);
                }
                // Most entries hold no list: no need to look into thousands of them.
                if list.len() > 0 && holds_lists(list.at(0)) {
                    for entry in (0..list.len()).map(|place| list.at(place)).filter(|entry| !entry.deleted()) {
                        see_full(entry, &[&dotted(place, name), "[", &entry.id().0, "]"].concat(), see);
                    }
                }
            }
        }
    }
}

fn holds_lists(object: &dyn Object) -> bool {
    object.parts().iter().any(|part| match part {
        Part::Whole(_) => false,
        Part::Group(group) => holds_lists(*group),
        Part::List(_) => true,
    })
}

/// The list of that name in an object, or in a group of it.
fn list_in<'a>(object: &'a mut dyn Object, name: &str) -> Option<&'a mut dyn List> {
    let names = object.names();
    names.iter().zip(object.parts_mut()).find_map(|(known, part)| match part {
        PartMut::List(list) if *known == name => Some(list),
        PartMut::Group(group) => list_in(group, name),
        PartMut::Whole(_) | PartMut::List(_) => None,
    })
}

/// The entry at the end of a way down from an object: the name of each list, and the id in it.
pub fn entry_at<'a>(object: &'a mut dyn Object, way: &[(&'static str, Id)]) -> Option<&'a mut dyn Identified> {
    let ((name, id), inner) = way.split_first()?;
    let list = list_in(object, name)?;
    let place = (0..list.len()).find(|&place| list.at(place).id() == id)?;
    let entry = list.at_mut(place);
    if inner.is_empty() { Some(entry) } else { entry_at(entry, inner) }
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

/// Whether any text inside an object is such a one.
pub fn some_text(object: &dyn Object, is: &dyn Fn(&str) -> bool) -> bool {
    object.parts().iter().any(|part| match part {
        Part::Whole(whole) => {
            let whole: &dyn Any = *whole;
            whole.downcast_ref::<String>().is_some_and(|text| is(text))
        }
        Part::Group(group) => some_text(*group, is),
        Part::List(list) => (0..list.len()).any(|place| some_text(list.at(place), is)),
    })
}

/// Shows every text inside an object, to change.
pub fn each_text(object: &mut dyn Object, see: &dyn Fn(&mut String)) {
    for part in object.parts_mut() {
        match part {
            PartMut::Whole(whole) => {
                let whole: &mut dyn Any = whole;
                if let Some(text) = whole.downcast_mut::<String>() {
                    see(text);
                }
            }
            PartMut::Group(group) => each_text(group, see),
            PartMut::List(list) => (0..list.len()).for_each(|place| each_text(list.at_mut(place), see)),
        }
    }
}
