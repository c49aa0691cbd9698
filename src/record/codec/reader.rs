//! Reading a parsed text, and what is worth saying about it.

use std::fmt;

use serde_json::{Map, Value};

use super::part::{Identified, Object, PartMut};
use crate::stamp::{Id, Stamp};
use quantity::read_number;

/// Something worth saying about a text that was opened all the same.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Remark {
    /// Where in the text: `panels[2].weigh_ins[0].gross_g`.
    pub place: String,
    /// What is the matter there, as the rest of a sentence.
    pub trouble: String,
}

impl fmt::Display for Remark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.place, self.trouble)
    }
}

/// Walks a parsed text, knowing where it is.
#[derive(Default)]
pub struct Reader {
    path: String,
    pub remarks: Vec<Remark>,
}

impl Reader {
    pub fn remark(&mut self, trouble: impl Into<String>) {
        self.remarks.push(Remark { place: self.path.clone(), trouble: trouble.into() });
    }

    /// Does `work` one step further down the text.
    pub fn within<T>(&mut self, step: &str, work: impl FnOnce(&mut Self) -> T) -> T {
        let outer = self.path.len();
        if outer > 0 && !step.starts_with('[') {
            self.path.push('.');
        }
        self.path.push_str(step);
        let done = work(self);
        self.path.truncate(outer);
        done
    }

    /// Does `work` at a place of a list.
    pub fn at<T>(&mut self, place: usize, work: impl FnOnce(&mut Self) -> T) -> T {
        self.within(&format!("[{place}]"), work)
    }

    /// The items of a list, or `None` after a remark.
    pub fn list<'v>(&mut self, value: &'v Value) -> Option<&'v [Value]> {
        let items = value.as_array();
        if items.is_none() {
            self.remark("must be a list");
        }
        items.map(Vec::as_slice)
    }

    /// A number, or text that reads as one, or `None` after a remark.
    #[inline(never)]
    pub fn number(&mut self, value: &Value) -> Option<f64> {
        let number = match value {
            Value::Number(number) => number.as_f64(),
            Value::String(text) => {
                let read = read_number(text).ok();
                if read.is_some() {
                    self.remark("was text and is read as a number");
                }
                read
            }
            _ => None,
        };
        if number.is_none() {
            self.remark("must be a number");
        }
        number
    }

    /// Takes the field `name` out of `map`; what cannot be read stays in it.
    fn take(&mut self, map: &mut Map<String, Value>, name: &str, part: PartMut<'_>) {
        let Some(value) = map.remove(name).filter(|value| !value.is_null()) else { return };
        if let Some(unread) = self.within(name, |reader| reader.read(value, part)) {
            map.insert(name.into(), unread);
        }
    }

    /// Reads a value, or gives it back after a remark.
    fn read(&mut self, value: Value, part: PartMut<'_>) -> Option<Value> {
        match (part, value) {
            (PartMut::Whole(whole), value) => (!whole.read(&value, self)).then_some(value),
            (PartMut::Group(group), Value::Object(map)) => {
                read_object(group, map, self);
                None
            }
            (PartMut::List(list), Value::Array(items)) => {
                for (place, item) in items.into_iter().enumerate() {
                    self.at(place, |reader| match item {
                        Value::Object(map) => read_entry(list.add(), map, reader),
                        _ => reader.remark("must be an object; it is left out"),
                    });
                }
                None
            }
            (PartMut::Group(_), value) => {
                self.remark("must be an object");
                Some(value)
            }
            (PartMut::List(_), value) => {
                self.remark("must be a list");
                Some(value)
            }
        }
    }
}

/// Reads what `map` says into an empty object; what is not understood stays in its rest.
pub fn read_object(object: &mut dyn Object, mut map: Map<String, Value>, reader: &mut Reader) {
    read_parts(object, &mut map, reader);
    *object.rest_mut() = map;
}

/// As [`read_object`], with the id, the stamps and the deletion.
pub fn read_entry(entry: &mut dyn Identified, mut map: Map<String, Value>, reader: &mut Reader) {
    read_parts(entry, &mut map, reader);
    let (mut id, mut stamp): (Option<Id>, Option<Stamp>) = (None, None);
    let mark = entry.mark_mut();
    reader.take(&mut map, "id", PartMut::Whole(&mut id));
    reader.take(&mut map, "stamp", PartMut::Whole(&mut stamp));
    reader.take(&mut map, "edited", PartMut::Whole(mark.edited));
    reader.take(&mut map, "deleted", PartMut::Whole(mark.deleted));
    *mark.id = id.unwrap_or_default();
    *mark.stamp = stamp.unwrap_or_default();
    *entry.rest_mut() = map;
}

fn read_parts(object: &mut dyn Object, map: &mut Map<String, Value>, reader: &mut Reader) {
    for (name, part) in object.names().iter().zip(object.parts_mut()) {
        reader.take(map, name, part);
    }
}
