//! A few lines that are typed and then handed over together by a press. A number or text of the record has a field of its own
//! instead (`fields`), which hands over what was typed when it is left.

use leptos::prelude::*;

use super::element::fresh_element_id;

/// What is wrong with the lines of a form: said once, below them.
#[derive(Clone, Copy)]
pub struct Form {
    trouble: RwSignal<String>,
    id: StoredValue<String>,
}

impl Form {
    /// Nothing is wrong yet.
    pub fn new() -> Self {
        Self { trouble: RwSignal::new(String::new()), id: StoredValue::new(fresh_element_id()) }
    }

    /// Says what is wrong; empty for nothing.
    pub fn say(self, trouble: impl Into<String>) {
        self.trouble.set(trouble.into());
    }

    /// A line to type in; `keys` are those that a phone shows for it.
    pub fn line(self, label: &'static str, keys: &'static str, text: RwSignal<String>) -> AnyView {
        let id = fresh_element_id();
        view! {
            <div class="field">
                <label for=id.clone()>{label}</label>
                <input
                    id=id
                    type="text"
                    inputmode=keys
                    autocomplete="off"
                    aria-invalid=move || (!self.trouble.with(String::is_empty)).then_some("true")
                    aria-describedby=self.id.get_value()
                    prop:value=move || text.get()
                    on:input:target=move |event| text.set(event.target().value())
                />
            </div>
        }
        .into_any()
    }

    /// Where it is said what is wrong.
    pub fn said(self) -> AnyView {
        view! { <p class="trouble" id=self.id.get_value() role="alert">{move || self.trouble.get()}</p> }.into_any()
    }
}
