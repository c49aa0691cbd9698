//! What `src/offline/{tab,presses}.js` do for the page, in plain JavaScript: opening with the network off, turns between tabs, the
//! browser's promise to keep what is stored, light or dark.

use std::cell::RefCell;

use js_sys::{Function, Reflect};
use leptos::prelude::{Effect, RwSignal, Track, Update, document, window, window_event_listener_untyped};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};

use super::{leave_field, property};

thread_local! {
    /// Ends the turn asked for last. A tab has one test open.
    static END: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// Calls one of its functions.
fn ask(what: &str, back: Box<dyn FnMut(JsValue)>, more: &str) -> Option<JsValue> {
    let around = Reflect::get(&window(), &"combScale".into()).ok()?;
    let function = property(&around, what)?.dyn_into::<Function>().ok()?;
    let back = Closure::wrap(back).into_js_value();
    function.call2(&around, &back, &more.into()).ok()
}

/// Answers `src/offline/rescue.js`, which asks after an error whether the program still goes: by an effect, since those stop
/// where anything does.
pub fn answer_when_asked() {
    let asked = RwSignal::new(false);
    window_event_listener_untyped("stillthere", move |_| asked.update(|asked| *asked = !*asked));
    Effect::new(move |_| {
        asked.track();
        if let Some(root) = document().document_element() {
            // Whoever asks sees that there is no answer.
            let _ = root.set_attribute("data-alive", "yes");
        }
    });
}

/// Has the page kept on this phone; calls `newer` when a newer version of it waits to be asked for.
pub fn keep_offline(newer: impl Fn() + 'static) {
    let _ = ask("keepOffline", Box::new(move |_| newer()), "");
}

/// Says that a press did not count, being the one before once more.
pub fn say_refused() {
    let _ = ask("refuse", Box::new(|_| {}), "");
}

/// Goes over to the version that waits, which loads the page anew; false where a field still holds what could not be
/// stored, since that would be lost.
pub fn use_newer() -> bool {
    leave_field();
    let ready = matches!(document().query_selector("[aria-invalid=true]"), Ok(None));
    if ready {
        let _ = ask("useNewer", Box::new(|_| {}), "");
    }
    ready
}

/// Asks for the turn of this name, which one tab has at a time; calls `begin` when it comes, at the earliest after this
/// has returned. False in a browser without turns, or over plain http.
pub fn take_turn(name: &str, begin: impl Fn() + 'static) -> bool {
    let end = ask("turn", Box::new(move |_| begin()), name).and_then(|end| end.dyn_into::<Function>().ok());
    let turns = end.is_some();
    END.set(end);
    turns
}

/// Gives the turn back, or no longer waits for it.
pub fn leave_turn() {
    if let Some(end) = END.take() {
        let _ = end.call0(&JsValue::UNDEFINED);
    }
}

/// Asks whether the browser has promised to keep what is stored until the person deletes it.
pub fn is_lasting(answer: impl Fn(bool) + 'static) {
    let _ = ask("lasting", Box::new(move |said| answer(said.is_truthy())), "persisted");
}

/// Asks the browser for that promise.
pub fn ask_lasting(answer: impl Fn(bool) + 'static) {
    let _ = ask("lasting", Box::new(move |said| answer(said.is_truthy())), "persist");
}

/// Makes the page `light` or `dark`; any other word leaves that to the phone.
pub fn set_theme(theme: &str) {
    let _ = ask("theme", Box::new(|_| {}), theme);
}
