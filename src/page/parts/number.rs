//! A field for one number: keeps the text as typed, stores only what can be read, says beside the field what is wrong.

use leptos::ev::KeyboardEvent;
use leptos::html::Input;
use leptos::prelude::*;

use super::fresh_element_id;
use crate::device;
use crate::findings::{read_in, show_in, unit_of};
use crate::page::desk::Desk;
use crate::record::{Action, Measure, Slot};

/// A field for one number of a measure, shown and typed in the person's unit.
///
/// `value` is what is stored, in the record's unit; `store` takes what was typed (`None`: emptied) or says what speaks
/// against it. The text being typed is the field's own: what is stored is never written into it while it is typed in.
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
    /// The large field of a screen.
    #[prop(optional)]
    large: bool,
    /// Empties itself once the number is stored: for adding one after the other.
    #[prop(optional)]
    fresh: bool,
) -> impl IntoView {
    let desk = expect_context::<Desk>();
    let id = fresh_element_id();
    let (hint_id, trouble_id) = (format!("{id}-hint"), format!("{id}-trouble"));
    let field = NodeRef::<Input>::new();
    let shown = move || value.get().map_or(String::new(), |stored| show_in(measure, stored, &desk.tongue()));
    let text = RwSignal::new(untrack(shown));
    let trouble = RwSignal::new(String::new());

    Effect::new(move |_| {
        let shown = shown();
        let typing = field.get_untracked().is_some_and(|field| device::has_focus(&field));
        // Text that was refused stays to be mended; text being typed is nobody else's.
        if !typing && trouble.with_untracked(String::is_empty) {
            text.set(shown);
        }
    });
    let take = move || {
        let typed = text.get_untracked();
        if trouble.with_untracked(String::is_empty) && typed.trim() == untrack(shown) {
            return;
        }
        let done = match typed.trim() {
            "" => store(None),
            typed => read_in(measure, typed, &desk.tongue()).and_then(|stored| store(Some(stored))),
        };
        match done {
            Ok(()) => {
                trouble.set(String::new());
                text.set(if fresh { String::new() } else { untrack(shown) });
            }
            Err(sentence) => trouble.set(sentence),
        }
    };
    let leave_by_enter = move |event: KeyboardEvent| {
        if event.key() == "Enter"
            && let Some(field) = field.get_untracked()
        {
            event.prevent_default();
            device::focus_next_number(&field);
        }
    };
    let described = {
        let (hint_id, trouble_id) = (hint_id.clone(), trouble_id.clone());
        move || format!("{hint_id} {trouble_id}")
    };
    view! {
        <div class="field" class:large=large>
            <label for=id.clone()>{label}</label>
            <span class="entry">
                <input
                    node_ref=field
                    id=id
                    class="number"
                    type="text"
                    inputmode="decimal"
                    autocomplete="off"
                    enterkeyhint="next"
                    prop:value=move || text.get()
                    aria-invalid=move || (!trouble.with(String::is_empty)).then_some("true")
                    aria-describedby=described
                    on:input:target=move |event| text.set(event.target().value())
                    on:change=move |_| take()
                    on:keydown=leave_by_enter
                />
                <span class="unit">{move || unit_of(measure, &desk.tongue())}</span>
            </span>
            <p class="hint" id=hint_id>{move || hint.get()}</p>
            <p class="trouble" id=trouble_id role="alert">{move || trouble.get()}</p>
        </div>
    }
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
    let value = {
        let slot = slot.clone();
        Signal::derive(move || desk.with(|test| slot.read(test)))
    };
    let store = move |value| desk.act(Action::Fill(slot.clone(), value));
    view! { <NumberField label value measure store hint/> }
}
