//! Joining two copies of one entry.

use serde_json::Value;

use super::entries::{List, places, put_in_order};
use super::leaf::Whole;
use super::part::{Identified, Object, Part, PartMut, Rest, dotted};
use crate::record::stamp::{Edited, Id, Stamp};

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

/// The stamps of the two copies that are being joined.
struct Sides<'a> {
    mine: (&'a Stamp, &'a Edited),
    theirs: (&'a Stamp, &'a Edited),
    clashes: &'a mut Vec<Clash>,
    entry: &'a Id,
    /// The joined stamps, filled in as fields are decided.
    edited: Edited,
}

impl Sides<'_> {
    /// Whether their value of a field replaces mine: by stamp and then by content. `values` gives both, mine first.
    fn decide(&mut self, path: &str, differ: bool, values: &dyn Fn() -> (Value, Value)) -> bool {
        let (my_edit, their_edit) = (self.mine.1.get(path), self.theirs.1.get(path));
        let (my_stamp, their_stamp) = (my_edit.unwrap_or(self.mine.0), their_edit.unwrap_or(self.theirs.0));
        if my_edit.is_some() || their_edit.is_some() {
            self.edited.insert(path.into(), my_stamp.max(their_stamp).clone());
        }
        let mut take = differ && their_stamp > my_stamp;
        let tied = their_stamp == my_stamp;
        if differ && (tied || (my_edit.is_some() && their_edit.is_some())) {
            let (mine, theirs) = values();
            if tied {
                // Values have no order of their own; their text has. Something goes before nothing: a copy that broke off
                // on its way, and has lost its stamps, empties no field.
                take = (!is_nothing(&theirs), theirs.to_string()) > (!is_nothing(&mine), mine.to_string());
            }
            let (kept, dropped) = if take { (theirs, mine) } else { (mine, theirs) };
            self.clashes.push(Clash { entry: self.entry.clone(), field: path.into(), kept, dropped });
        }
        take
    }

    fn join_whole(&mut self, path: &str, mine: &mut dyn Whole, theirs: &dyn Whole) {
        if self.decide(path, !mine.same(theirs), &|| (mine.value(), theirs.value())) {
            mine.copy(theirs);
        }
    }

    /// Unknown fields merge key by key: a newer version's fields are nobody's business but must survive.
    fn join_rest(&mut self, path: &str, mine: &mut Rest, theirs: &Rest) {
        for (name, value) in theirs {
            let take = match mine.get(name) {
                None => true,
                Some(own) => self.decide(path, own != value, &|| (own.clone(), value.clone())),
            };
            if take {
                mine.insert(name.clone(), value.clone());
            }
        }
    }

    fn join_fields(&mut self, prefix: &str, mine: &mut dyn Object, theirs: &dyn Object) {
        for ((name, mine), theirs) in mine.names().iter().zip(mine.parts_mut()).zip(theirs.parts()) {
            match (mine, theirs) {
                (PartMut::Whole(mine), Part::Whole(theirs)) => self.join_whole(&dotted(prefix, name), mine, theirs),
                (PartMut::Group(mine), Part::Group(theirs)) => self.join_fields(&dotted(prefix, name), mine, theirs),
                (PartMut::List(mine), Part::List(theirs)) => join_lists(mine, theirs, self.clashes),
                // Both are of one type.
                _ => {}
            }
        }
        self.join_rest(&dotted(prefix, "rest"), mine.rest_mut(), theirs.rest());
    }
}

/// Whether a value says nothing.
fn is_nothing(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::String(text) => text.is_empty(),
        Value::Array(items) => items.is_empty(),
        _ => false,
    }
}

/// Joins two copies of one entry.
pub fn join_entry(mine: &mut dyn Identified, theirs: &dyn Identified, clashes: &mut Vec<Clash>) {
    let (mark, their) = (mine.mark_mut(), theirs.mark());
    let (id, my_stamp, my_edited) = (mark.id.clone(), mark.stamp.clone(), std::mem::take(mark.edited));
    let mut sides = Sides {
        mine: (&my_stamp, &my_edited),
        theirs: (their.stamp, their.edited),
        clashes,
        entry: &id,
        edited: Edited::new(),
    };
    sides.join_whole("deleted", mark.deleted, &their.deleted);
    sides.join_fields("", mine, theirs);
    let mut edited = sides.edited;
    // Stamps of fields that only one copy knows are carried along.
    for (path, stamp) in my_edited.iter().chain(their.edited) {
        if edited.get(path).is_none_or(|kept| stamp > kept) {
            edited.insert(path.clone(), stamp.clone());
        }
    }
    let mark = mine.mark_mut();
    *mark.edited = edited;
    *mark.stamp = my_stamp.max(their.stamp.clone());
}

fn join_lists(mine: &mut dyn List, theirs: &dyn List, clashes: &mut Vec<Clash>) {
    let known = places(mine);
    let known: Vec<Option<usize>> = (0..theirs.len()).map(|i| known.get(theirs.at(i).id()).copied()).collect();
    for (i, place) in known.into_iter().enumerate() {
        match place {
            Some(place) => join_entry(mine.at_mut(place), theirs.at(i), clashes),
            None => {
                mine.add_copy(theirs.at(i));
            }
        }
    }
    put_in_order(mine);
}
