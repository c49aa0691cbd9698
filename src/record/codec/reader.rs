//! Walking a parsed text, and what is said of it.

use std::fmt;

use serde_json::{Map, Value};

use super::field::Field;

/// Fields that this version does not know, or could not read: kept, and written back.
pub type Rest = Map<String, Value>;

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
pub(in crate::record) struct Reader {
    path: String,
    pub(in crate::record) remarks: Vec<Remark>,
}

impl Reader {
    pub(in crate::record) fn remark(&mut self, trouble: impl Into<String>) {
        self.remarks.push(Remark { place: self.path.clone(), trouble: trouble.into() });
    }

    /// Does `work` one step further down the text.
    pub(in crate::record) fn within<T>(&mut self, step: &str, work: impl FnOnce(&mut Self) -> T) -> T {
        let outer = self.path.len();
        if outer > 0 && !step.starts_with('[') {
            self.path.push('.');
        }
        self.path.push_str(step);
        let done = work(self);
        self.path.truncate(outer);
        done
    }

    /// Takes the field `name` out of `map`; what cannot be read stays in it.
    pub(in crate::record) fn take<F: Field>(&mut self, map: &mut Map<String, Value>, name: &str) -> F {
        match map.remove(name) {
            None | Some(Value::Null) => F::default(),
            Some(value) => match self.within(name, |reader| F::read(&value, reader)) {
                Some(field) => field,
                None => {
                    map.insert(name.into(), value);
                    F::default()
                }
            },
        }
    }
}
