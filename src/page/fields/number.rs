//! Fields for numbers of the record, shown and typed in the person's unit.

use leptos::prelude::*;

use super::field::{Field, Typed};
use crate::page::desk::Desk;
use crate::page::parts::derived;
use findings::words::{odd_about, read_near, read_row, show_in, show_row, unit_of};
use record::{Action, Measure, Row, Slot};

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
    /// The ids of the entries it stands in, where its label does not tell.
    #[prop(optional, into)]
    of: String,
    /// A number like the one to come; without it, what is stored.
    #[prop(default = None)]
    near: Option<f64>,
) -> impl IntoView {
    number(label, of, value, measure, Box::new(store), hint, typed.unwrap_or(Typed::Number), fresh, near)
}

#[expect(clippy::too_many_arguments)]
fn number(
    label: String,
    of: String,
    value: Signal<Option<f64>>,
    measure: Measure,
    store: Box<dyn Fn(Option<f64>) -> Result<(), String>>,
    hint: Signal<String>,
    typed: Typed,
    fresh: bool,
    near: Option<f64>,
) -> AnyView {
    let desk = expect_context::<Desk>();
    let shown = derived(move || value.get().map_or(String::new(), |n| show_in(measure, n, &desk.current().wording)));
    let take = move |typed: &str| match typed {
        "" => Ok(store(None)?),
        typed => {
            let near = near.or_else(|| value.get_untracked());
            Ok(store(Some(read_near(measure, typed, near, &desk.current().wording)?))?)
        }
    };
    let unit = derived(move || unit_of(measure, &desk.current().wording));
    Field { label, of, typed, shown, unit, hint, fresh, take: Box::new(take) }.view()
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
    let (slot, measure, owners) = (of.clone(), of.measure(), of.owners());
    let at = of.clone();
    let value = derived(move || of.read(&desk.current().test));
    let store = move |value| desk.act(Action::Fill(slot.clone(), value));
    // What is odd about the number takes the place of the hint.
    let hint = derived(move || {
        let current = desk.current();
        odd_about(&current.test, &at, &current.wording).unwrap_or_else(|| hint.get())
    });
    view! { <NumberField label value measure store hint of=owners/> }
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
    /// The ids of the entries it stands in, where its label does not tell.
    #[prop(optional, into)]
    of: String,
) -> impl IntoView {
    numbers(label, of, value, measure, Box::new(store), hint)
}

fn numbers(
    label: String,
    of: String,
    value: Signal<Vec<f64>>,
    measure: Measure,
    store: Box<dyn Fn(Vec<f64>) -> Result<(), String>>,
    hint: Signal<String>,
) -> AnyView {
    let desk = expect_context::<Desk>();
    let shown = derived(move || show_row(measure, &value.get(), &desk.current().wording));
    let take = move |typed: &str| Ok(read_row(measure, typed, &desk.current().wording).and_then(&store)?);
    let unit = derived(move || unit_of(measure, &desk.current().wording));
    Field { label, of, typed: Typed::Numbers, shown, unit, hint, fresh: false, take: Box::new(take) }.view()
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
    let (of, measure, owners) = (row.clone(), row.measure(), row.owners());
    let value = derived(move || of.read(&desk.current().test));
    let store = move |values| desk.act(Action::List(row.clone(), values));
    view! { <NumbersField label value measure store hint of=owners/> }
}
