//! Stamping what an action changed.

use super::entries::{Full, List, places, put_in_order};
use super::part::{Identified, Object, Part, PartMut, dotted, same_entry, same_list};
use crate::record::stamp::{Edited, Id, Stamp};

/// The pen that stamps what an action changed.
pub struct Pen<'a> {
    pub stamp: &'a Stamp,
    /// How many ids this stroke has minted.
    minted: u32,
    /// A list to which this stroke adds more than it holds.
    pub full: Option<Full>,
}

impl<'a> Pen<'a> {
    pub fn new(stamp: &'a Stamp) -> Self {
        Self { stamp, minted: 0, full: None }
    }

    /// An id no other device and no other stroke mints.
    fn mint(&mut self) -> Id {
        self.minted += 1;
        Id(format!("{}-{}-{}", self.stamp.device, self.stamp.counter, self.minted))
    }
}

/// Stamps what differs from `before`, keeping the older stamps.
pub fn settle_entry(now: &mut dyn Identified, before: &dyn Identified, pen: &mut Pen<'_>) {
    let (mark, old) = (now.mark_mut(), before.mark());
    let mut edited = old.edited.clone();
    *mark.stamp = old.stamp.clone();
    if *mark.deleted != old.deleted {
        edited.insert("deleted".into(), pen.stamp.clone());
    }
    settle_fields(now, before, "", &mut edited, pen);
    *now.mark_mut().edited = edited;
}

fn settle_fields(now: &mut dyn Object, before: &dyn Object, prefix: &str, edited: &mut Edited, pen: &mut Pen<'_>) {
    for ((name, now), before) in now.names().iter().zip(now.parts_mut()).zip(before.parts()) {
        match (now, before) {
            (PartMut::Whole(now), Part::Whole(before)) if now.same(before) => {}
            (PartMut::Whole(_), _) => {
                edited.insert(dotted(prefix, name), pen.stamp.clone());
            }
            (PartMut::Group(now), Part::Group(before)) => {
                settle_fields(now, before, &dotted(prefix, name), edited, pen);
            }
            (PartMut::List(now), Part::List(before)) => settle_list(name, now, before, pen),
            // Both are of one type.
            _ => {}
        }
    }
    // Unknown fields are stamped under their names, where a page that knows them looks for it.
    let differs = |name: &&String| now.rest().get(*name) != before.rest().get(*name);
    for name in now.rest().keys().chain(before.rest().keys()).filter(differs) {
        edited.insert(dotted(prefix, name), pen.stamp.clone());
    }
}

fn settle_list(name: &'static str, now: &mut dyn List, before: &dyn List, pen: &mut Pen<'_>) {
    if same_list(now, before) {
        return;
    }
    let over = |list: &dyn List| Full::of(name, list).map_or(0, |full| full.over);
    if over(now) > over(before) {
        pen.full = Full::of(name, now);
    }
    let old = places(before);
    let mut seen = vec![false; before.len()];
    for place in 0..now.len() {
        let entry = now.at_mut(place);
        match old.get(entry.id()) {
            Some(&place) if !entry.id().0.is_empty() => {
                seen[place] = true;
                if !same_entry(entry, before.at(place)) {
                    settle_entry(entry, before.at(place), pen);
                }
            }
            _ => begin_entry(entry, pen),
        }
    }
    // Nothing ever goes without a trace: what is missing was taken out.
    for gone in (0..before.len()).filter(|&place| !seen[place]) {
        let mark = now.add_copy(before.at(gone)).mark_mut();
        if !std::mem::replace(mark.deleted, true) {
            mark.edited.insert("deleted".into(), pen.stamp.clone());
        }
    }
    put_in_order(now);
}

/// Gives a new entry, and every entry inside it, a stamp and an id.
fn begin_entry(entry: &mut dyn Identified, pen: &mut Pen<'_>) {
    let mark = entry.mark_mut();
    if mark.id.0.is_empty() {
        *mark.id = pen.mint();
    }
    *mark.stamp = pen.stamp.clone();
    begin_fields(entry, pen);
}

fn begin_fields(object: &mut dyn Object, pen: &mut Pen<'_>) {
    for part in object.parts_mut() {
        match part {
            PartMut::Whole(_) => {}
            PartMut::Group(group) => begin_fields(group, pen),
            PartMut::List(list) => {
                (0..list.len()).for_each(|place| begin_entry(list.at_mut(place), pen));
                put_in_order(list);
            }
        }
    }
}
