//! Joining two copies of one entry.

use serde_json::Value;

use super::entries::{List, places, put_in_order};
use super::leaf::Whole;
use super::part::{Identified, Object, Part, PartMut, Rest, dotted};
use super::unknown::join_unknown;
use crate::address::Address;
use crate::stamp::{Edited, Id, Stamp};

/// A field that both copies changed: the later edit is kept, the other is told.
#[derive(Clone, Debug, PartialEq)]
pub struct Clash {
    /// The entry.
    pub entry: Address,
    /// The field in it, dotted.
    pub field: String,
    /// What was kept.
    pub kept: Value,
    /// What was not.
    pub dropped: Value,
}

/// Two copies that are being joined: where in them, and what both had changed.
#[derive(Default)]
pub struct Joining {
    /// From the test to the entry that is being joined: the name of each list and the id in it.
    way: Vec<(&'static str, Id)>,
    /// What both had changed so far.
    pub clashes: Vec<Clash>,
}

/// The stamps of one copy of an entry.
#[derive(Clone, Copy)]
pub struct Stamps<'a> {
    /// When the entry was first written.
    pub entry: &'a Stamp,
    /// The later ones of single fields.
    pub edited: &'a Edited,
}

impl<'a> Stamps<'a> {
    /// When a field was last written, if that was after the entry.
    fn edit(&self, path: &str) -> Option<&'a Stamp> {
        self.edited.get(path)
    }

    fn of(&self, path: &str) -> &'a Stamp {
        self.edit(path).unwrap_or(self.entry)
    }
}

/// The stamps of the two copies that are being joined.
struct Sides<'a> {
    mine: Stamps<'a>,
    theirs: Stamps<'a>,
    joining: &'a mut Joining,
    /// The joined stamps, filled in as fields are decided.
    edited: Edited,
}

impl Sides<'_> {
    /// Whether their value of a field replaces mine: by stamp and then by content. `values` gives both, mine first.
    fn decide(&mut self, path: &str, differ: bool, values: &dyn Fn() -> (Value, Value)) -> bool {
        let edits = (self.mine.edit(path), self.theirs.edit(path));
        let (my_stamp, their_stamp) = (self.mine.of(path), self.theirs.of(path));
        if edits.0.is_some() || edits.1.is_some() {
            self.edited.insert(path.into(), my_stamp.max(their_stamp).clone());
        }
        let mut take = differ && their_stamp > my_stamp;
        let tied = their_stamp == my_stamp;
        if differ && (tied || (edits.0.is_some() && edits.1.is_some())) {
            let (mine, theirs) = values();
            if tied {
                take = weight(&theirs) > weight(&mine);
            }
            let (kept, dropped) = if take { (theirs, mine) } else { (mine, theirs) };
            self.tell(path, kept, dropped);
        }
        take
    }

    fn tell(&mut self, path: &str, kept: Value, dropped: Value) {
        let entry = Address::along(&self.joining.way);
        self.joining.clashes.push(Clash { entry, field: path.into(), kept, dropped });
    }

    fn join_whole(&mut self, path: &str, mine: &mut dyn Whole, theirs: &dyn Whole) {
        if self.decide(path, !mine.same(theirs), &|| (mine.value(), theirs.value())) {
            mine.copy(theirs);
        }
    }

    /// Unknown fields merge one by one, under the stamps that a page which knows them gives them.
    fn join_rest(&mut self, prefix: &str, mine: &mut Rest, theirs: &Rest) {
        let new = theirs.keys().filter(|name| !mine.contains_key(*name));
        let names: Vec<String> = mine.keys().chain(new).cloned().collect();
        for name in names {
            let path = dotted(prefix, &name);
            let before = mine.remove(&name);
            let other = theirs.get(&name);
            let joined =
                join_unknown(&path, [self.mine, self.theirs], [before.clone(), other.cloned()], &mut self.edited);
            if let (Some(before), Some(other), Some(joined)) = (before, other, &joined)
                && before != *other
                && (*joined == before || joined == other)
            {
                let edited = self.mine.edit(&path).is_some() && self.theirs.edit(&path).is_some();
                if edited || self.mine.of(&path) == self.theirs.of(&path) {
                    let dropped = if *joined == before { other.clone() } else { before };
                    self.tell(&path, joined.clone(), dropped);
                }
            }
            if let Some(joined) = joined {
                mine.insert(name, joined);
            }
        }
    }

    fn join_fields(&mut self, prefix: &str, mine: &mut dyn Object, theirs: &dyn Object) {
        for ((name, mine), theirs) in mine.names().iter().zip(mine.parts_mut()).zip(theirs.parts()) {
            match (mine, theirs) {
                (PartMut::Whole(mine), Part::Whole(theirs)) => self.join_whole(&dotted(prefix, name), mine, theirs),
                (PartMut::Group(mine), Part::Group(theirs)) => self.join_fields(&dotted(prefix, name), mine, theirs),
                (PartMut::List(mine), Part::List(theirs)) => join_lists(name, mine, theirs, self.joining),
                // Both are of one type.
                _ => {}
            }
        }
        self.join_rest(prefix, mine.rest_mut(), theirs.rest());
    }
}

/// How much a value counts among values of one stamp. They have no order of their own; their text has. Something goes
/// before nothing: a copy that broke off on its way, and has lost its stamps, empties no field.
pub fn weight(value: &Value) -> (bool, String) {
    let is_nothing = match value {
        Value::Null => true,
        Value::String(text) => text.is_empty(),
        Value::Array(items) => items.is_empty(),
        _ => false,
    };
    (!is_nothing, value.to_string())
}

/// Joins two copies of one entry.
pub fn join_entry(mine: &mut dyn Identified, theirs: &dyn Identified, joining: &mut Joining) {
    let (mark, their) = (mine.mark_mut(), theirs.mark());
    let (my_stamp, my_edited) = (mark.stamp.clone(), std::mem::take(mark.edited));
    let mut sides = Sides {
        mine: Stamps { entry: &my_stamp, edited: &my_edited },
        theirs: Stamps { entry: their.stamp, edited: their.edited },
        joining,
        edited: Edited::new(),
    };
    sides.join_whole("deleted", mark.deleted, &their.deleted);
    sides.join_fields("", mine, theirs);
    let mut edited = sides.edited;
    carry_along(&mut edited, &my_edited);
    carry_along(&mut edited, their.edited);
    let mark = mine.mark_mut();
    *mark.edited = edited;
    *mark.stamp = my_stamp.max(their.stamp.clone());
}

/// Stamps of fields that only one copy knows are carried along.
pub fn carry_along(edited: &mut Edited, of: &Edited) {
    for (path, stamp) in of {
        if edited.get(path).is_none_or(|kept| stamp > kept) {
            edited.insert(path.clone(), stamp.clone());
        }
    }
}

fn join_lists(name: &'static str, mine: &mut dyn List, theirs: &dyn List, joining: &mut Joining) {
    let known = places(mine);
    let known: Vec<Option<usize>> = (0..theirs.len()).map(|i| known.get(theirs.at(i).id()).copied()).collect();
    for (i, place) in known.into_iter().enumerate() {
        match place {
            Some(place) => {
                joining.way.push((name, theirs.at(i).id().clone()));
                join_entry(mine.at_mut(place), theirs.at(i), joining);
                joining.way.pop();
            }
            None => {
                mine.add_copy(theirs.at(i));
            }
        }
    }
    put_in_order(mine);
}
