//! Turns between the tabs of one browser, and the browser's promise to keep what is stored.

use std::cell::{Cell, RefCell};

use js_sys::{Function, Promise};
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

use super::{call, property};

thread_local! {
    /// Counts the turns asked for: the newest is the one that is wanted.
    static ASKED: Cell<u32> = const { Cell::new(0) };
    /// Ends the turn this tab has.
    static END: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// Asks for the turn of this name, which one tab has at a time; calls `begin` when it comes, at the earliest after this
/// has returned. Gives its number, for [`leave_turn`], or `None` in a browser without turns, or over plain http.
pub fn take_turn(name: &str, begin: impl FnOnce() + 'static) -> Option<u32> {
    let locks = property(&window().navigator(), "locks")?;
    let request = property(&locks, "request")?.dyn_into::<Function>().ok()?;
    let number = ASKED.get().wrapping_add(1);
    ASKED.set(number);
    // The turn lasts until this is fulfilled, or the tab is gone in whatever way.
    let mut end = None;
    let lasts = Promise::new(&mut |fulfil, _| end = Some(fulfil));
    let come = Closure::once_into_js(move |_: JsValue| {
        if ASKED.get() != number {
            return JsValue::UNDEFINED;
        }
        END.set(end);
        begin();
        lasts.into()
    });
    request.call2(&locks, &name.into(), &come).ok()?;
    Some(number)
}

/// Gives a turn back, or no longer waits for it.
pub fn leave_turn(number: u32) {
    if ASKED.get() == number {
        ASKED.set(number.wrapping_add(1));
        if let Some(end) = END.take() {
            let _ = end.call0(&JsValue::UNDEFINED);
        }
    }
}

/// Asks whether the browser keeps what is stored until the person deletes it: `persisted` asks whether it does,
/// `persist` to do so. The answer is `None` where the browser offers no such thing.
fn lasting(question: &'static str, answer: impl FnOnce(Option<bool>) + 'static) {
    let manager = property(&window().navigator(), "storage");
    let asked = manager.and_then(|manager| call(&manager, question, &JsValue::UNDEFINED));
    let Some(asked) = asked.and_then(|asked| asked.dyn_into::<Promise>().ok()) else { return answer(None) };
    spawn_local(async move { answer(JsFuture::from(asked).await.ok().and_then(|said| said.as_bool())) });
}

/// Whether the browser has promised to keep what is stored.
pub fn is_lasting(answer: impl FnOnce(Option<bool>) + 'static) {
    lasting("persisted", answer);
}

/// Asks the browser for that promise.
pub fn ask_lasting(answer: impl FnOnce(Option<bool>) + 'static) {
    lasting("persist", answer);
}
