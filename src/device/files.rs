//! Files in and out: what a person picks or drops, what the phone's own sheet shares, the clipboard.

use std::rc::Rc;

use js_sys::{Array, Object, Reflect, Uint8Array};
use leptos::ev;
use leptos::prelude::{window, window_event_listener};
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{File, FileList, FilePropertyBag, HtmlInputElement};

use super::{call, property};

/// Called with the name and the content of a file.
pub type HeardFile = Rc<dyn Fn(String, Vec<u8>)>;

/// Reads the files that were picked in a field, none of them further than `most` bytes, and empties the field, so that the
/// same file can be picked again.
pub fn read_picked(field: &HtmlInputElement, most: f64, heard: &HeardFile) {
    if let Some(files) = field.files() {
        read_all(&files, most, heard);
    }
    field.set_value("");
}

/// Calls `heard` for each file that is dropped anywhere on the page, for as long as the part of it that asked is there.
pub fn on_dropped(most: f64, heard: HeardFile) {
    // Without this the browser shows the file in place of the page.
    window_event_listener(ev::dragover, |event| event.prevent_default());
    window_event_listener(ev::drop, move |event| {
        event.prevent_default();
        if let Some(files) = event.data_transfer().and_then(|transfer| transfer.files()) {
            read_all(&files, most, &heard);
        }
    });
}

fn read_all(files: &FileList, most: f64, heard: &HeardFile) {
    for file in (0..files.length()).filter_map(|i| files.item(i)) {
        let heard = heard.clone();
        spawn_local(async move {
            // One byte more tells that it is too long, and spares the memory of the rest.
            let Ok(part) = file.slice_with_f64_and_f64(0.0, most + 1.0) else { return };
            let read = JsFuture::from(part.array_buffer()).await;
            let bytes = read.map_or(Vec::new(), |buffer| Uint8Array::new(&buffer).to_vec());
            heard(file.name(), bytes);
        });
    }
}

/// Whether this phone can share files with other programs on it.
pub fn shares_files() -> bool {
    property(&window().navigator(), "canShare").is_some()
}

/// Hands a text to the phone's share sheet as a file of a media type. It must be called within the tap that asks for it.
/// Says whether the phone took it.
pub fn share_file(name: &str, text: &str, media_type: &str) -> bool {
    let navigator = window().navigator();
    let shared = || {
        let kind = FilePropertyBag::new();
        kind.set_type(media_type);
        let file = File::new_with_str_sequence_and_options(&Array::of1(&text.into()), name, &kind).ok()?;
        let data = Object::new();
        Reflect::set(&data, &"files".into(), &Array::of1(&file)).ok()?;
        let accepted = call(&navigator, "canShare", &data)?;
        accepted.is_truthy().then(|| call(&navigator, "share", &data)).flatten()
    };
    let Some(done) = shared() else { return false };
    // A sheet that is closed again without sharing is no failure.
    spawn_local(async move {
        let _ = JsFuture::from(js_sys::Promise::resolve(&done)).await;
    });
    true
}

/// Puts a text on the clipboard; says whether this browser has one.
pub fn copy(text: &str) -> bool {
    let clipboard = property(&window().navigator(), "clipboard");
    clipboard.and_then(|clipboard| call(&clipboard, "writeText", &JsValue::from_str(text))).is_some()
}
