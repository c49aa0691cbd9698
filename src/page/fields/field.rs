//! The one field of the page: keeps the text as typed, hands on what can be read, says beside itself what is wrong.

use std::cell::Cell;

use leptos::ev::KeyboardEvent;
use leptos::html::Input;
use leptos::prelude::*;

use crate::device;
use crate::page::app::Leftovers;
use crate::page::desk::Desk;
use crate::page::parts::{button, fresh_element_id, shown as shown_while};
use crate::store::{self, Left};
use findings::words::NotRead;

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
pub type Take = Box<dyn Fn(&str) -> Result<(), NotRead>>;

/// A field. `shown` is what is stored, as text; `take` stores what was typed, or says what speaks against it.
///
/// The text being typed is the field's own: what is stored is never written into it while it is typed in, and text that
/// was refused stays to be mended. However a person leaves a field, by a key, a press or an address, what was typed is handed
/// to `take` first (`src/offline/tab.js` sees to it). Where the page itself takes a field from under the fingers, half a number
/// is no number: its text is kept, and is taken up by the field that comes in its place, or said.
pub struct Field {
    /// What it is for.
    pub label: String,
    /// The ids of the entries it stands in: with its place and its label they tell it from every other field.
    pub of: String,
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

/// What is in a field, and where it goes.
struct Entry {
    text: RwSignal<String>,
    trouble: RwSignal<String>,
    /// What the text may mean, where the painter is asked.
    either: RwSignal<Vec<(String, String)>>,
    /// Typed in since it was last stored or refused.
    touched: Cell<bool>,
    shown: Signal<String>,
    fresh: bool,
    take: Take,
    /// What is kept of it where it cannot be stored.
    left: Left,
    leftovers: Leftovers,
}

impl Entry {
    fn is_refused(&self) -> bool {
        self.trouble.with_untracked(|trouble| !trouble.is_empty())
    }

    fn type_in(&self, text: String) {
        self.touched.set(true);
        self.text.set(text);
    }

    /// Stores what was typed since the last time, or says why not.
    fn store(&self) {
        if !self.touched.replace(false) {
            return;
        }
        let (typed, refused) = (self.text.get_untracked(), self.is_refused());
        let typed = typed.trim();
        let same = !refused && typed == self.shown.get_untracked();
        match if same { Ok(()) } else { (self.take)(typed) } {
            Ok(()) => {
                if refused {
                    self.trouble.set(String::new());
                    self.either.set(Vec::new());
                    let _ = store::let_go(&self.left.field);
                    self.leftovers.hush(&self.left.field);
                }
                self.text.set(if self.fresh { String::new() } else { self.shown.get_untracked() });
            }
            Err(NotRead { why, either }) => {
                self.trouble.set(why);
                self.either.set(either);
                // Where nothing can be kept, it is on screen as long as the page is.
                let _ = store::leave(self.kept());
            }
        }
    }

    /// Tries once more what was refused: what spoke against it may be gone.
    fn store_again(&self) {
        if self.is_refused() {
            self.touched.set(true);
        }
        self.store();
    }

    fn kept(&self) -> Left {
        let text = self.text.get_untracked().trim().to_owned();
        let why = if self.touched.get() { String::new() } else { self.trouble.get_untracked() };
        Left { text, why, ..self.left.clone() }
    }

    /// The field makes way: what was not stored by now is kept.
    fn part(&self) {
        if self.touched.get() || self.is_refused() {
            self.leftovers.say(self.kept());
        }
    }
}

impl Field {
    /// Draws it. One function for all fields, so that the page holds its code once.
    pub fn view(self) -> AnyView {
        let Self { label, of, typed, shown, unit, hint, fresh, take } = self;
        let desk = expect_context::<Desk>();
        let id = fresh_element_id();
        let (hint_id, trouble_id) = (format!("{id}-hint"), format!("{id}-trouble"));
        let field = NodeRef::<Input>::new();
        let place = desk.here();
        let name = [&*place, &label, &of].join("|");
        let leftovers = desk.app.leftovers;
        let known = leftovers.of(&name);
        // Text that nobody has refused goes on being typed.
        let touched = Cell::new(known.as_ref().is_some_and(|left| left.why.is_empty()));
        let left = known.unwrap_or_else(|| Left {
            field: name,
            place,
            label: label.clone(),
            text: shown.get_untracked(),
            why: String::new(),
        });
        let (text, trouble) = (RwSignal::new(left.text.clone()), RwSignal::new(left.why.clone()));
        // In the arena: it is there as long as the field is, and a browser that fires events while it takes the field out
        // of the page calls nothing.
        let either = RwSignal::new(Vec::new());
        let entry =
            StoredValue::new_local(Entry { text, trouble, either, touched, shown, fresh, take, left, leftovers });
        let with_entry = move |act: &dyn Fn(&Entry)| {
            untrack(|| entry.try_with_value(act));
        };
        on_cleanup(move || with_entry(&Entry::part));
        // In a fold that is closed nobody sees the text: it goes on being said above.
        Effect::new(move |_| {
            if field.get().is_some_and(|field| !device::is_folded(&field)) {
                with_entry(&|entry| entry.leftovers.hush(&entry.left.field));
            }
        });
        Effect::new(move |_| {
            let shown = shown.get();
            with_entry(&|entry| {
                if !entry.touched.get() && !entry.is_refused() {
                    entry.text.set(shown.clone());
                }
            });
        });
        let leave_by_enter = move |event: KeyboardEvent| {
            if event.key() == "Enter"
                && let Some(field) = field.try_get_untracked().flatten()
            {
                event.prevent_default();
                with_entry(&Entry::store_again);
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
        // What is meant is one press, as if it had been typed so.
        let meant = move |(said, typed): (String, String)| {
            button("", said, move || {
                with_entry(&|entry| {
                    entry.type_in(typed.clone());
                    entry.store();
                });
            })
        };
        let asked = shown_while(move || {
            let either: Vec<AnyView> = either.get().into_iter().map(meant).collect();
            (!either.is_empty()).then(|| view! { <p class="actions">{either}</p> }.into_any())
        });
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
                        on:input:target=move |event| {
                            let typed = event.target().value();
                            with_entry(&|entry| entry.type_in(typed.clone()));
                        }
                        on:change=move |_| with_entry(&Entry::store)
                        on:keydown=leave_by_enter
                    />
                    <span class="unit">{move || unit.get()}</span>
                </span>
                <p class="hint" id=hint_id>{move || hint.get()}</p>
                <p class="trouble" id=trouble_id role="alert">{move || trouble.get()}</p>
                {asked}
            </div>
        }
        .into_any()
    }
}
