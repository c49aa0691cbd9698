//! The one field of the page: keeps the text as typed, hands on what can be read, says beside itself what is wrong.

use leptos::ev::KeyboardEvent;
use leptos::html::Input;
use leptos::prelude::*;

use super::fresh_element_id;
use crate::device;

/// What is typed into a field.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typed {
    /// A number.
    Number,
    /// A large one.
    LargeNumber,
    /// The one number that is due on the screen: large, and its pad opens by itself.
    DueNumber,
    /// Numbers, one after the other.
    Numbers,
    /// Words.
    Words,
}

/// Stores what was typed, or says what speaks against it.
pub type Take = Box<dyn Fn(&str) -> Result<(), String>>;

/// A field. `shown` is what is stored, as text; `take` stores what was typed, or says what speaks against it.
///
/// The text being typed is the field's own: what is stored is never written into it while it is typed in, and text that
/// was refused stays to be mended.
pub struct Field {
    /// What it is for.
    pub label: String,
    /// What is typed.
    pub typed: Typed,
    /// What is stored.
    pub shown: Signal<String>,
    /// The unit behind it.
    pub unit: Signal<&'static str>,
    /// A line under it.
    pub hint: Signal<String>,
    /// Empties itself once what was typed is stored: for adding one after the other.
    pub fresh: bool,
    /// Stores what was typed.
    pub take: Take,
}

impl Field {
    /// Draws it. One function for all fields, so that the page holds its code once.
    pub fn view(self) -> AnyView {
        let Self { label, typed, shown, unit, hint, fresh, take } = self;
        let id = fresh_element_id();
        let (hint_id, trouble_id) = (format!("{id}-hint"), format!("{id}-trouble"));
        let field = NodeRef::<Input>::new();
        let text = RwSignal::new(shown.get_untracked());
        let trouble = RwSignal::new(String::new());
        Effect::new(move |_| {
            let shown = shown.get();
            let typing = field.get_untracked().is_some_and(|field| device::has_focus(&field));
            if !typing && trouble.with_untracked(String::is_empty) {
                text.set(shown);
            }
        });
        let store = move || {
            let typed = text.get_untracked();
            if trouble.with_untracked(String::is_empty) && typed.trim() == shown.get_untracked() {
                return;
            }
            match take(typed.trim()) {
                Ok(()) => {
                    trouble.set(String::new());
                    text.set(if fresh { String::new() } else { shown.get_untracked() });
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
        if typed == Typed::DueNumber {
            Effect::new(move |_| {
                if let Some(field) = field.get() {
                    device::focus(&field);
                }
            });
        }
        let large = matches!(typed, Typed::LargeNumber | Typed::DueNumber);
        let numeric = large || typed == Typed::Number;
        let described = format!("{hint_id} {trouble_id}");
        view! {
            <div class="field" class:large=large>
                <label for=id.clone()>{label}</label>
                <span class="entry">
                    <input
                        node_ref=field
                        id=id
                        class:number=typed != Typed::Words
                        type="text"
                        inputmode=numeric.then_some("decimal")
                        autocomplete="off"
                        enterkeyhint="next"
                        prop:value=move || text.get()
                        aria-invalid=move || (!trouble.with(String::is_empty)).then_some("true")
                        aria-describedby=described
                        on:input:target=move |event| text.set(event.target().value())
                        on:change=move |_| store()
                        on:keydown=leave_by_enter
                    />
                    <span class="unit">{move || unit.get()}</span>
                </span>
                <p class="hint" id=hint_id>{move || hint.get()}</p>
                <p class="trouble" id=trouble_id role="alert">{move || trouble.get()}</p>
            </div>
        }
        .into_any()
    }
}
