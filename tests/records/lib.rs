//! Records for the tests, put together from pieces. A misspelled field and a change that meets nothing fail where they are
//! written, instead of leaving a test that looks at something other than it says.

#![deny(missing_docs)]

use std::fmt;
use std::sync::LazyLock;

use jsonschema::Validator;
use record::{SprayTest, open};
use serde_json::Value;

/// A piece of a record: an object in JSON. Shown, it is its text.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece(Value);

/// The piece of that text.
///
/// # Panics
///
/// When it isn't an object in JSON.
#[track_caller]
pub fn piece(text: &str) -> Piece {
    let value: Value = serde_json::from_str(text).unwrap_or_else(|error| panic!("{error} in {text}"));
    assert!(value.is_object(), "not an object: {text}");
    Piece(value)
}

/// A list of pieces, for [`Piece::with`].
pub fn list(pieces: impl IntoIterator<Item = Piece>) -> Value {
    pieces.into_iter().map(Value::from).collect()
}

impl Piece {
    /// The same with `value` at `pointer` (RFC 6901: `/coats/0/at`), in place of another or new.
    ///
    /// # Panics
    ///
    /// When what is to hold it isn't there, or the value is there already.
    #[track_caller]
    pub fn with(mut self, pointer: &str, value: impl Into<Value>) -> Self {
        let value = value.into();
        let before = match self.holder(pointer) {
            (Value::Object(fields), field) => fields.insert(field.to_owned(), value.clone()),
            (Value::Array(items), place) => {
                let item = place.parse().ok().and_then(|place: usize| items.get_mut(place));
                let item = item.unwrap_or_else(|| panic!("nothing at {pointer}"));
                Some(std::mem::replace(item, value.clone()))
            }
            (other, _) => panic!("{other} can't hold {pointer}"),
        };
        assert_ne!(before, Some(value), "{pointer} is so already");
        self
    }

    /// The same without what is at `pointer`.
    ///
    /// # Panics
    ///
    /// When nothing is there.
    #[track_caller]
    pub fn without(mut self, pointer: &str) -> Self {
        let removed = match self.holder(pointer) {
            (Value::Object(fields), field) => fields.remove(field),
            (other, _) => panic!("{other} has no fields"),
        };
        assert!(removed.is_some(), "nothing at {pointer}");
        self
    }

    /// The same with one more in the list at `pointer`.
    ///
    /// # Panics
    ///
    /// When no list is there.
    #[track_caller]
    pub fn adding(mut self, pointer: &str, value: impl Into<Value>) -> Self {
        let list = self.0.pointer_mut(pointer).and_then(Value::as_array_mut);
        list.unwrap_or_else(|| panic!("no list at {pointer}")).push(value.into());
        self
    }

    /// The test of a whole record.
    ///
    /// # Panics
    ///
    /// When it isn't a record by the schema, or has a field that the schema doesn't know.
    #[track_caller]
    pub fn opened(&self) -> SprayTest {
        let troubles: Vec<String> =
            STRICT.iter_errors(&self.0).map(|trouble| format!("{}: {trouble}", trouble.instance_path())).collect();
        assert!(troubles.is_empty(), "{troubles:#?}\n{self}");
        open(&self.to_string()).expect("the record opens").test
    }

    /// What holds what `pointer` leads to, and by which name.
    #[track_caller]
    fn holder<'a>(&mut self, pointer: &'a str) -> (&mut Value, &'a str) {
        let (holder, name) = pointer.rsplit_once('/').unwrap_or_else(|| panic!("{pointer} must begin with a slash"));
        (self.0.pointer_mut(holder).unwrap_or_else(|| panic!("nothing at {holder}")), name)
    }
}

impl fmt::Display for Piece {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl From<Piece> for Value {
    fn from(piece: Piece) -> Self {
        piece.0
    }
}

/// Opens a record of which only the inside is given, as [`Piece::opened`] does.
#[track_caller]
pub fn test_of(inside: &str) -> SprayTest {
    piece(&format!(r#"{{ "format": "spray-test", "version": 1, "id": "t", {inside} }}"#)).opened()
}

/// The schema of the record, which lets nothing pass that it doesn't name.
static STRICT: LazyLock<Validator> = LazyLock::new(|| {
    let mut schema = serde_json::from_str(include_str!("../../src/record/record.schema.json")).expect("JSON");
    close(&mut schema);
    jsonschema::draft202012::new(&schema).expect("a schema")
});

/// Forbids every field that isn't named, here and further in.
fn close(schema: &mut Value) {
    match schema {
        Value::Object(fields) => {
            if fields.contains_key("properties") && !fields.contains_key("additionalProperties") {
                fields.insert("additionalProperties".to_owned(), false.into());
            }
            fields.values_mut().for_each(close);
        }
        Value::Array(items) => items.iter_mut().for_each(close),
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether building it fails, as it must for what would leave a test without its point.
    fn fails(building: impl FnOnce() -> SprayTest + std::panic::UnwindSafe) -> bool {
        std::panic::catch_unwind(building).is_err()
    }

    fn with(candidate: Piece) -> SprayTest {
        test_of(&format!(r#""candidates": [ {candidate} ]"#))
    }

    #[test]
    fn what_is_misspelled_or_meets_nothing_fails() {
        let candidate = piece(
            r#"{ "id": "a", "sheet": { "solids_by_weight": 0.7 }, "mix": { "components": [ { "parts": 4 } ] } }"#,
        );
        let changed = candidate.clone().with("/sheet/solids_by_weight", 0.8).adding("/mix/components", piece("{}"));
        let stored = with(changed).candidates.kept().next().cloned().unwrap();
        assert_eq!(stored.sheet.solids_by_weight.map(f64::from), Some(0.8));
        assert_eq!(stored.mix.components.kept().count(), 2);
        let one = || candidate.clone();
        assert!(fails(|| with(one().with("/sheet/solids_by_wieght", 0.8))), "a field that isn't");
        assert!(fails(|| with(one().with("/sheat/solids_by_weight", 0.8))), "no such part");
        assert!(fails(|| with(one().with("/mix/components/1/parts", 1))), "no second component");
        assert!(fails(|| with(one().with("/sheet/solids_by_weight", 0.7))), "changes nothing");
        assert!(fails(|| with(one().with("/sheet/solids_by_weight", "much"))), "no number");
        assert!(fails(|| with(one().without("/sheet/solids_by_volume"))), "wasn't there");
        assert!(fails(|| with(one().adding("/mix/parts", piece("{}")))), "no list");
    }
}
