//! What was typed and could not be stored, after its field is gone: said on every screen until it is put right or thrown away.

use leptos::prelude::*;

use crate::page::parts::{alert, button, live};
use crate::store::{self, Left};

/// Of text that the page took from under the fingers.
const TAKEN: &str = "The screen changed while you typed.";

/// The texts whose fields are not on screen.
#[derive(Clone, Copy)]
pub struct Leftovers(RwSignal<Vec<Left>>);

impl Leftovers {
    /// Those that were kept when this page was last closed.
    pub fn open() -> Self {
        Self(RwSignal::new(store::left().unwrap_or_default()))
    }

    /// The text that this field was left with.
    pub fn of(self, field: &str) -> Option<Left> {
        self.0.with_untracked(|left| left.iter().find(|left| left.field == field).cloned())
    }

    /// Says nothing more of a text: it stands in its field again, in sight, or is stored.
    pub fn hush(self, field: &str) {
        if self.of(field).is_some() {
            self.0.update(|all| all.retain(|left| left.field != field));
        }
    }

    /// Says a text of which the field has just gone.
    pub fn say(self, left: Left) {
        self.hush(&left.field);
        self.0.update(|all| all.push(left));
    }

    fn throw_away(self, field: &str) {
        self.hush(field);
        // One that cannot be taken away is said again when the page is next opened: no harm.
        let _ = store::let_go(field);
    }

    /// One notice a text.
    pub fn view(self) -> AnyView {
        let one = move |left: Left| {
            let Left { field, place, label, text, why } = left;
            let away = button("plain destroys", "Throw it away", move || self.throw_away(&field));
            let why = if why.is_empty() { TAKEN } else { &why };
            let then = view! { <p class="actions"><a class="button" href=place>"Go back to it"</a> {away}</p> };
            alert(vec![format!("Not stored: “{text}”, typed for {label}. {why}")], then.into_any())
        };
        live(move || self.0.get().into_iter().map(one).collect::<Vec<_>>().into_any())
    }
}
