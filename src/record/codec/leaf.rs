//! Values without parts: how each is read, and what a field holds of them.

use std::any::Any;

use serde::Serialize;
use serde_json::Value;

use super::part::{Field, Part, PartMut};
use super::reader::Reader;
use crate::bounds::MOST_VALUES;
use crate::stamp::{Edited, Id, Stamp};
use quantity::{Instant, NotAnInstant, Quantity};

/// One value.
pub trait Leaf: Clone + PartialEq + Serialize + 'static {
    /// The value, or `None` after a remark.
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self>;
}

/// What a field holds: a value that may be missing, or a list of values.
pub trait Holding: Clone + Default + PartialEq + Serialize + 'static {
    /// What is held, or `None` after a remark.
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self>;
}

/// A [`Holding`] of whatever type.
pub trait Whole: Any {
    /// Reads `value`; false, and nothing changed, after a remark.
    fn read(&mut self, value: &Value, reader: &mut Reader) -> bool;
    /// Whether there is nothing to write.
    fn absent(&self) -> bool;
    /// What is written.
    fn value(&self) -> Value;
    /// Whether `other`, of the same type, holds the same.
    fn same(&self, other: &dyn Whole) -> bool;
    /// Takes over what `other`, of the same type, holds.
    fn copy(&mut self, other: &dyn Whole);
}

impl<H: Holding> Whole for H {
    fn read(&mut self, value: &Value, reader: &mut Reader) -> bool {
        let read = H::parse(value, reader);
        let could = read.is_some();
        if let Some(read) = read {
            *self = read;
        }
        could
    }

    fn absent(&self) -> bool {
        *self == H::default()
    }

    fn value(&self) -> Value {
        serde_json::to_value(self).unwrap_or_default()
    }

    fn same(&self, other: &dyn Whole) -> bool {
        let other: &dyn Any = other;
        other.downcast_ref() == Some(self)
    }

    fn copy(&mut self, other: &dyn Whole) {
        let other: &dyn Any = other;
        if let Some(other) = other.downcast_ref() {
            self.clone_from(other);
        }
    }
}

impl<H: Holding> Field for H {
    fn part(&self) -> Part<'_> {
        Part::Whole(self)
    }

    fn part_mut(&mut self) -> PartMut<'_> {
        PartMut::Whole(self)
    }
}

impl<L: Leaf> Holding for Option<L> {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        L::parse(value, reader).map(Some)
    }
}

impl<L: Leaf> Holding for Vec<L> {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let items = reader.list(value)?;
        if items.len() > MOST_VALUES {
            let most = MOST_VALUES.to_string();
            reader.remark(["holds more than ", &most, " values: it stays in the file, unread"].concat());
            return None;
        }
        let mut read = Vec::new();
        for (place, item) in items.iter().enumerate() {
            read.extend(reader.at(place, |reader| L::parse(item, reader)));
        }
        // All or nothing: half a list of readings would be another measurement.
        (read.len() == items.len()).then_some(read)
    }
}

impl Holding for String {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        match value {
            Value::String(text) => Some(text.clone()),
            Value::Number(number) => Some(number.to_string()),
            _ => {
                reader.remark("must be text");
                None
            }
        }
    }
}

impl Holding for bool {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let flag = value.as_bool();
        if flag.is_none() {
            reader.remark("must be true or false");
        }
        flag
    }
}

impl Holding for Edited {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let Value::Object(map) = value else {
            reader.remark("must be an object");
            return None;
        };
        let mut edited = Self::new();
        for (name, value) in map {
            edited.insert(name.clone(), reader.within(name, |reader| Stamp::parse(value, reader))?);
        }
        Some(edited)
    }
}

impl Leaf for Id {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        String::parse(value, reader).map(Id)
    }
}

impl Leaf for Stamp {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let read = value.as_str().and_then(Self::read);
        if read.is_none() {
            reader.remark("must be a stamp like 12@phone");
        }
        read
    }
}

impl Leaf for Instant {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let read = value.as_str().ok_or(NotAnInstant).and_then(Instant::parse);
        read.map_err(|trouble| reader.remark(trouble.to_string())).ok()
    }
}

macro_rules! quantity_leaf {
    ($quantity:ty) => {
        impl Leaf for $quantity {
            fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
                let number = reader.number(value)?;
                <$quantity>::new(number).map_err(|trouble| reader.remark(trouble.to_string())).ok()
            }
        }
    };
}
quantity::each_quantity!(quantity_leaf);
