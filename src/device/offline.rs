//! Opening with the network off: `src/offline` does it, in plain JavaScript.

use js_sys::Reflect;
use leptos::prelude::{document, window};
use wasm_bindgen::JsValue;
use wasm_bindgen::closure::Closure;

use super::{call, leave_field};

fn offline() -> JsValue {
    Reflect::get(&window(), &"combScale".into()).unwrap_or_default()
}

/// Has the page kept on this phone; calls `newer` when a newer version of it waits to be asked for.
pub fn keep_offline(newer: impl Fn() + 'static) {
    let newer = Closure::<dyn Fn()>::new(newer).into_js_value();
    let _ = call(&offline(), "keepOffline", &newer);
}

/// Goes over to the version that waits, which loads the page anew; false where a field still holds what could not be
/// stored, since that would be lost.
pub fn use_newer() -> bool {
    leave_field();
    let ready = matches!(document().query_selector("[aria-invalid=true]"), Ok(None));
    if ready {
        let _ = call(&offline(), "useNewer", &JsValue::UNDEFINED);
    }
    ready
}
