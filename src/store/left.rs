//! What was typed into a field and could not be stored: it outlives the field, the screen and the page, until it is put right
//! or thrown away.

use serde_json::Value;

use super::{Fields, LEFT, Trouble, fill, get_json, pour, set};

/// A text that stands in no record.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Left {
    /// Which field it was typed into.
    pub field: String,
    /// The address of the place of that field.
    pub place: String,
    /// What the field is called.
    pub label: String,
    /// The text.
    pub text: String,
    /// Why it is not stored.
    pub why: String,
}

impl Left {
    fn parts(&mut self) -> [(&'static str, &mut String); 5] {
        [
            ("field", &mut self.field),
            ("place", &mut self.place),
            ("label", &mut self.label),
            ("text", &mut self.text),
            ("why", &mut self.why),
        ]
    }
}

/// All texts that stand in no record.
///
/// # Errors
/// [`Trouble::Blocked`].
pub fn left() -> Result<Vec<Left>, Trouble> {
    let mut all = Vec::new();
    if let Value::Array(list) = get_json(LEFT)? {
        for one in &list {
            let mut left = Left::default();
            if let Value::Object(fields) = one {
                fill(&mut left.parts(), fields);
                all.push(left);
            }
        }
    }
    Ok(all)
}

/// Keeps a text, in place of the one that this field had.
///
/// # Errors
/// [`Trouble`].
pub fn leave(left: Left) -> Result<(), Trouble> {
    let mut all = self::left()?;
    all.retain(|known| known.field != left.field);
    all.push(left);
    keep(all)
}

/// Lets the text of a field go: it was put right, or is not wanted.
///
/// # Errors
/// [`Trouble`].
pub fn let_go(field: &str) -> Result<(), Trouble> {
    let mut all = left()?;
    all.retain(|known| known.field != field);
    keep(all)
}

fn keep(all: Vec<Left>) -> Result<(), Trouble> {
    let mut list = Vec::new();
    for mut left in all {
        let mut fields = Fields::new();
        pour(&mut left.parts(), &mut fields);
        list.push(Value::Object(fields));
    }
    set(LEFT, &Value::Array(list).to_string())
}
