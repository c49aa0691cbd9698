//! Holding two copies of one entry against each other and against what they make together.

use serde_json::Value;

use super::entries::{List, places};
use super::part::{Identified, Object, Part, dotted, same_entry};

/// An entry on the way down from the test, with the name of the list it stands in.
pub type Step<'a> = (&'static str, &'a dyn Identified);

/// Something that two copies do not have in common.
pub enum Apart<'a> {
    /// An entry that my copy alone has.
    OnlyMine,
    /// An entry that their copy alone has.
    OnlyTheirs,
    /// A field, dotted, that both have and that says different things.
    Field {
        name: String,
        mine: &'a dyn Fn() -> Value,
        theirs: &'a dyn Fn() -> Value,
        /// Whether the two together say what mine says.
        keeps_mine: bool,
    },
}

/// Two copies and the one they make, on the way down.
pub struct Comparison<'a> {
    /// From the test to the entry that is looked at, as the two together have it.
    pub trail: Vec<Step<'a>>,
}

type See<'s> = &'s mut dyn FnMut(&[Step<'_>], &Apart<'_>);

impl<'a> Comparison<'a> {
    /// Shows everything that two copies of an entry do not have in common.
    pub fn entry(&mut self, mine: &dyn Identified, theirs: &dyn Identified, both: &'a dyn Identified, see: See<'_>) {
        let (a, b) = (mine.mark().deleted, theirs.mark().deleted);
        if a != b {
            let keeps_mine = both.mark().deleted == a;
            self.field("deleted".into(), &|| a.into(), &|| b.into(), keeps_mine, see);
        }
        self.fields("", mine, theirs, both, see);
    }

    fn field(
        &self,
        name: String,
        mine: &dyn Fn() -> Value,
        theirs: &dyn Fn() -> Value,
        keeps_mine: bool,
        see: See<'_>,
    ) {
        see(&self.trail, &Apart::Field { name, mine, theirs, keeps_mine });
    }

    fn fields(&mut self, prefix: &str, mine: &dyn Object, theirs: &dyn Object, both: &'a dyn Object, see: See<'_>) {
        let parts = mine.parts().into_iter().zip(theirs.parts()).zip(both.parts());
        for (name, ((mine, theirs), both)) in both.names().iter().copied().zip(parts) {
            match (mine, theirs, both) {
                (Part::Whole(mine), Part::Whole(theirs), Part::Whole(both)) if !mine.same(theirs) => {
                    let keeps_mine = both.same(mine);
                    self.field(dotted(prefix, name), &|| mine.value(), &|| theirs.value(), keeps_mine, see);
                }
                (Part::Group(mine), Part::Group(theirs), Part::Group(both)) => {
                    self.fields(&dotted(prefix, name), mine, theirs, both, see);
                }
                (Part::List(mine), Part::List(theirs), Part::List(both)) => self.list(name, mine, theirs, both, see),
                // What is the same; all are of one type.
                _ => {}
            }
        }
        for (name, value) in mine.rest() {
            if let Some(other) = theirs.rest().get(name).filter(|other| *other != value) {
                let keeps_mine = both.rest().get(name) == Some(value);
                self.field(dotted(prefix, name), &|| value.clone(), &|| other.clone(), keeps_mine, see);
            }
        }
    }

    fn list(&mut self, name: &'static str, mine: &dyn List, theirs: &dyn List, both: &'a dyn List, see: See<'_>) {
        let (my_places, their_places) = (places(mine), places(theirs));
        for place in 0..both.len() {
            let entry = both.at(place);
            self.trail.push((name, entry));
            match (my_places.get(entry.id()), their_places.get(entry.id())) {
                (Some(i), Some(j)) if same_entry(mine.at(*i), theirs.at(*j)) => {}
                (Some(i), Some(j)) => self.entry(mine.at(*i), theirs.at(*j), entry, see),
                (Some(_), None) => self.alone(entry, &Apart::OnlyMine, see),
                (None, _) => self.alone(entry, &Apart::OnlyTheirs, see),
            }
            self.trail.pop();
        }
    }

    /// Shows an entry that one copy alone has, and every entry inside it.
    fn alone(&mut self, entry: &'a dyn Identified, whose: &Apart<'_>, see: See<'_>) {
        see(&self.trail, whose);
        self.alone_inside(entry, whose, see);
    }

    fn alone_inside(&mut self, object: &'a dyn Object, whose: &Apart<'_>, see: See<'_>) {
        for (name, part) in object.names().iter().copied().zip(object.parts()) {
            match part {
                Part::Whole(_) => {}
                Part::Group(group) => self.alone_inside(group, whose, see),
                Part::List(list) => {
                    for place in 0..list.len() {
                        self.trail.push((name, list.at(place)));
                        self.alone(list.at(place), whose, see);
                        self.trail.pop();
                    }
                }
            }
        }
    }
}

/// What a field of an entry holds; nothing where it has no such field.
pub fn value_of(entry: &dyn Identified, field: &str) -> Value {
    let place = entry.names().iter().position(|name| *name == field);
    match place.and_then(|place| entry.parts().into_iter().nth(place)) {
        Some(Part::Whole(whole)) => whole.value(),
        _ => Value::Null,
    }
}
