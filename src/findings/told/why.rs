//! Why numbers are missing, in the sentences of [`Reason`](crate::work::Reason).

use std::collections::BTreeMap;

use serde::Serialize;

/// The reasons of one object's missing numbers, by the name of the number, each in a sentence.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Why(pub(crate) BTreeMap<&'static str, String>);

impl Why {
    /// Why the number of that name is missing.
    pub fn of(&self, name: &str) -> Option<&str> {
        self.0.get(name).map(String::as_str)
    }

    /// Whether nothing is missing.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}
