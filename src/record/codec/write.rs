//! Writing: the fields that are there, then the unknown ones.

use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::Value;

use super::entries::List;
use super::part::{Identified, Mark, Object, Part};

/// An object as it is written.
pub struct Written<'a> {
    mark: Option<Mark<'a>>,
    object: &'a dyn Object,
}

impl<'a> Written<'a> {
    pub fn group(object: &'a dyn Object) -> Self {
        Self { mark: None, object }
    }

    pub fn entry(entry: &'a dyn Identified) -> Self {
        Self { mark: Some(entry.mark()), object: entry }
    }

    /// As text on one line.
    pub fn text(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }
}

impl Serialize for Written<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut lines = Vec::new();
        let id = self.mark.as_ref().filter(|mark| !mark.id.0.is_empty());
        lines.extend(id.map(|mark| ("id", Line::Value(value(mark.id)))));
        for (name, part) in self.object.names().iter().zip(self.object.parts()) {
            if !part.absent() {
                lines.push((name, Line::Part(part)));
            }
        }
        if let Some(mark) = &self.mark {
            if mark.deleted {
                lines.push(("deleted", Line::Value(Value::Bool(true))));
            }
            if *mark.stamp != Default::default() {
                lines.push(("stamp", Line::Value(value(mark.stamp))));
            }
            if !mark.edited.is_empty() {
                lines.push(("edited", Line::Value(value(mark.edited))));
            }
        }
        let mut map = serializer.serialize_map(None)?;
        for (name, line) in &lines {
            map.serialize_entry(*name, line)?;
        }
        for (name, value) in self.object.rest() {
            if !lines.iter().any(|(written, _)| written == name) {
                map.serialize_entry(name.as_str(), &Line::Unknown(value))?;
            }
        }
        map.end()
    }
}

fn value(leaf: &impl Serialize) -> Value {
    serde_json::to_value(leaf).unwrap_or_default()
}

/// One line of an object. One type for all of them, since each would bring its own code.
enum Line<'a> {
    Value(Value),
    Unknown(&'a Value),
    Part(Part<'a>),
}

impl Serialize for Line<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Value(value) => value.serialize(serializer),
            Self::Unknown(value) => value.serialize(serializer),
            Self::Part(Part::Whole(whole)) => whole.value().serialize(serializer),
            Self::Part(Part::Group(group)) => Written::group(*group).serialize(serializer),
            Self::Part(Part::List(list)) => Listed(*list).serialize(serializer),
        }
    }
}

/// A list as it is written.
pub struct Listed<'a>(pub &'a dyn List);

impl Serialize for Listed<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq((0..self.0.len()).map(|place| Written::entry(self.0.at(place))))
    }
}
