//! Fields for numbers of the record, shown and typed in the person's unit.

use leptos::prelude::*;

use super::derived;

use super::field::{Field, Typed};
use crate::findings::{odd_about, read_in, read_row, show_in, show_row, unit_of};
use crate::page::desk::Desk;
use crate::record::{Action, Measure, Row, Slot};

/// A field for one number of a measure.
///
/// `value` is what is stored, in the record's unit; `store` takes what was typed (`None`: emptied) or says what speaks
/// against it.
#[component]
pub fn NumberField(
    /// What the number is.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    value: Signal<Option<f64>>,
    /// What kind of number it is.
    measure: Measure,
    /// Stores it.
    store: impl Fn(Option<f64>) -> Result<(), String> + 'static,
    /// A line under the field.
    #[prop(optional, into)]
    hint: Signal<String>,
    /// How large it stands, and whether it is due.
    #[prop(optional)]
    typed: Option<Typed>,
    /// Empties itself once the number is stored: for adding one after the other.
    #[prop(optional)]
    fresh: bool,
) -> impl IntoView {
    number(label, value, measure, Box::new(store), hint, typed.unwrap_or(Typed::Number), fresh)
}

fn number(
    label: String,
    value: Signal<Option<f64>>,
    measure: Measure,
    store: Box<dyn Fn(Option<f64>) -> Result<(), String>>,
    hint: Signal<String>,
    typed: Typed,
    fresh: bool,
) -> AnyView {
    let desk = expect_context::<Desk>();
    let shown = derived(move || value.get().map_or(String::new(), |n| show_in(measure, n, &desk.tongue())));
    let take = move |typed: &str| match typed {
        "" => store(None),
        typed => read_in(measure, typed, &desk.tongue()).and_then(|stored| store(Some(stored))),
    };
    let unit = derived(move || unit_of(measure, &desk.tongue()));
    Field { label, typed, shown, unit, hint, fresh, take: Box::new(take) }.view()
}

/// A field for a slot of the record.
#[component]
pub fn SlotField(
    /// What the number is.
    #[prop(into)]
    label: String,
    /// Which number.
    of: Slot,
    /// A line under the field.
    #[prop(optional, into)]
    hint: Signal<String>,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let (slot, measure) = (of.clone(), of.measure());
    let at = of.clone();
    let value = derived(move || desk.with(|test| of.read(test)));
    let store = move |value| desk.act(Action::Fill(slot.clone(), value));
    // What is odd about the number takes the place of the hint.
    let hint = derived(move || desk.with(|test| odd_about(test, &at, &desk.tongue())).unwrap_or_else(|| hint.get()));
    view! { <NumberField label value measure store hint/> }
}

/// A field for numbers typed one after the other. `store` takes them, or says what speaks against them.
#[component]
pub fn NumbersField(
    /// What the numbers are.
    #[prop(into)]
    label: String,
    /// What is stored.
    #[prop(into)]
    value: Signal<Vec<f64>>,
    /// What kind of numbers they are.
    measure: Measure,
    /// Stores them.
    store: impl Fn(Vec<f64>) -> Result<(), String> + 'static,
    /// A line under the field.
    #[prop(optional, into)]
    hint: Signal<String>,
    /// Empties itself once the numbers are stored.
    #[prop(optional)]
    fresh: bool,
) -> impl IntoView {
    numbers(label, value, measure, Box::new(store), hint, fresh)
}

fn numbers(
    label: String,
    value: Signal<Vec<f64>>,
    measure: Measure,
    store: Box<dyn Fn(Vec<f64>) -> Result<(), String>>,
    hint: Signal<String>,
    fresh: bool,
) -> AnyView {
    let desk = expect_context::<Desk>();
    let shown = derived(move || show_row(measure, &value.get(), &desk.tongue()));
    let take = move |typed: &str| read_row(measure, typed, &desk.tongue()).and_then(&store);
    let unit = derived(move || unit_of(measure, &desk.tongue()));
    Field { label, typed: Typed::Numbers, shown, unit, hint, fresh, take: Box::new(take) }.view()
}

/// A field for a row of the record.
#[component]
pub fn RowField(
    /// What the numbers are.
    #[prop(into)]
    label: String,
    /// Which row.
    row: Row,
    /// A line under the field.
    #[prop(optional, into)]
    hint: Signal<String>,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let (of, measure) = (row.clone(), row.measure());
    let value = derived(move || desk.with(|test| of.read(test)));
    let store = move |values| desk.act(Action::List(row.clone(), values));
    view! { <NumbersField label value measure store hint/> }
}
