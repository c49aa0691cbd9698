//! Values that are written whole.

use serde::ser::Serialize;
use serde_json::Value;

use super::reader::Reader;
use crate::quantity::{Instant, Quantity, read_number};
use crate::record::stamp::Id;

/// A value that is written whole: it has no parts that merge on their own.
pub(in crate::record) trait Leaf: Sized + Clone + PartialEq + Serialize {
    /// The value, or `None` after a remark.
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self>;
}

impl Leaf for String {
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

impl Leaf for bool {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let flag = value.as_bool();
        if flag.is_none() {
            reader.remark("must be true or false");
        }
        flag
    }
}

impl Leaf for Id {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        String::parse(value, reader).map(Id)
    }
}

impl Leaf for Instant {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let read = value.as_str().ok_or(crate::quantity::NotAnInstant).and_then(Instant::parse);
        read.map_err(|trouble| reader.remark(trouble.to_string())).ok()
    }
}

impl<Q: Quantity + Serialize> Leaf for Q {
    fn parse(value: &Value, reader: &mut Reader) -> Option<Self> {
        let number = match value {
            Value::Number(number) => number.as_f64(),
            Value::String(text) => {
                let read = read_number(text).ok();
                if read.is_some() {
                    reader.remark("was text and is read as a number");
                }
                read
            }
            _ => None,
        };
        let Some(number) = number else {
            reader.remark("must be a number");
            return None;
        };
        Q::new(number).map_err(|trouble| reader.remark(trouble.to_string())).ok()
    }
}
