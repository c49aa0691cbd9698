//! A field for a date and time, in the time of this place.

use leptos::prelude::*;

use super::element::fresh_element_id;
use super::live::lines;
use crate::device;
use quantity::{Instant, Manner};

/// A field for a moment. `store` takes it, or says what speaks against it.
#[component]
pub fn MomentField(
    /// What happened then.
    #[prop(into)]
    label: String,
    /// The moment so far.
    #[prop(into)]
    value: Signal<Option<Instant>>,
    /// Stores it.
    store: impl Fn(Instant) -> Result<(), String> + 'static,
) -> impl IntoView {
    moment(label, value, Box::new(store))
}

fn moment(label: String, value: Signal<Option<Instant>>, store: Box<dyn Fn(Instant) -> Result<(), String>>) -> AnyView {
    let id = fresh_element_id();
    let trouble_id = format!("{id}-trouble");
    let trouble = RwSignal::new(String::new());
    // The field itself is the phone's own, and has the phone's clock.
    let by_clock = move || value.get().filter(|_| Manner::in_use().half_days).map_or(String::new(), Instant::said);
    let shown = move || value.get().map_or(String::new(), Instant::to_local);
    let twice = RwSignal::new(false);
    // In the arena, as that of any field: a browser fires events while it takes a field out of the page.
    let store = StoredValue::new_local(store);
    let take = move |typed: String| {
        let done = device::local_moment(&typed).and_then(|(at, shown_twice)| {
            twice.try_set(shown_twice);
            store.try_with_value(|store| store(at)).unwrap_or(Ok(()))
        });
        trouble.set(done.err().unwrap_or_default());
    };
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input
                id=id
                class="moment"
                type="datetime-local"
                prop:value=move || shown()
                aria-invalid=move || (!trouble.with(String::is_empty)).then_some("true")
                aria-describedby=trouble_id.clone()
                on:change:target=move |event| take(event.target().value())
            />
            <p class="hint">{move || by_clock()}</p>
            {lines("hint", move || {
                let said = "The clock showed that time twice that night. The first of the two is taken.";
                twice.get().then(|| said.into()).into_iter().collect()
            })}
            <p class="trouble" id=trouble_id role="alert">{move || trouble.get()}</p>
        </div>
    }
    .into_any()
}
