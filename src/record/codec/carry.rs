//! Carrying what changed between two states of a record over to a third.

use super::entries::{List, places, put_in_order};
use super::part::{Identified, Object, Part, PartMut, same_entry, same_list};

/// Gives `onto` what differs between `before` and `after`; everything else in it stays. All three are of one type.
pub fn carry_over(onto: &mut dyn Object, before: &dyn Object, after: &dyn Object) {
    for ((onto, before), after) in onto.parts_mut().into_iter().zip(before.parts()).zip(after.parts()) {
        match (onto, before, after) {
            (PartMut::Whole(onto), Part::Whole(before), Part::Whole(after)) if !after.same(before) => onto.copy(after),
            (PartMut::Group(onto), Part::Group(before), Part::Group(after)) => carry_over(onto, before, after),
            (PartMut::List(onto), Part::List(before), Part::List(after)) => carry_list(onto, before, after),
            // The same before and after.
            _ => {}
        }
    }
    for name in before.rest().keys().chain(after.rest().keys()) {
        match after.rest().get(name) {
            now if now == before.rest().get(name) => {}
            Some(now) => {
                onto.rest_mut().insert(name.clone(), now.clone());
            }
            None => {
                onto.rest_mut().remove(name);
            }
        }
    }
}

fn carry_list(onto: &mut dyn List, before: &dyn List, after: &dyn List) {
    if same_list(before, after) {
        return;
    }
    let old = places(before);
    let own = places(onto);
    let own: Vec<Option<usize>> = (0..after.len()).map(|place| own.get(after.at(place).id()).copied()).collect();
    for (place, own) in own.into_iter().enumerate() {
        let entry = after.at(place);
        match (own, old.get(entry.id())) {
            (None, None) => {
                onto.add_copy(entry);
            }
            // This state has no such entry, and somebody has worked on it since: it is not only this tab's to take back.
            (None, Some(&old)) if !entry.mark().deleted && !same_entry(entry, before.at(old)) => {
                onto.add_copy(entry);
            }
            (Some(own), Some(&old)) if !same_entry(entry, before.at(old)) => {
                carry_entry(onto.at_mut(own), before.at(old), entry);
            }
            // The same before and after.
            _ => {}
        }
    }
    put_in_order(onto);
}

fn carry_entry(onto: &mut dyn Identified, before: &dyn Identified, after: &dyn Identified) {
    let deleted = after.mark().deleted;
    if deleted != before.mark().deleted {
        *onto.mark_mut().deleted = deleted;
    }
    carry_over(onto, before, after);
}
