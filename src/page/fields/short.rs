//! The fields that a screen has many of, in short.

use leptos::prelude::*;

use super::number::{RowField, SlotField};
use super::phrase::PhraseField;
use record::{Phrase, Row, Slot, WantedLine};

/// A field for a slot, with a line under it.
pub fn slot(label: &'static str, of: Slot, hint: &'static str) -> AnyView {
    view! { <SlotField label of hint=hint/> }.into_any()
}

/// A field for a line of what the painter is after.
pub fn wanted(label: &'static str, line: WantedLine, hint: &'static str) -> AnyView {
    slot(label, Slot::Wanted(line), hint)
}

/// A field for a short list of numbers, with a line under it.
pub fn row(label: &'static str, row: Row, hint: &'static str) -> AnyView {
    view! { <RowField label row hint=hint/> }.into_any()
}

/// A field for a line of text.
pub fn words(label: &'static str, phrase: Phrase) -> AnyView {
    view! { <PhraseField label phrase/> }.into_any()
}
