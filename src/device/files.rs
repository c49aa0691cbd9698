//! Files in and out: what a person picks or drops, what the phone's own sheet shares, the clipboard.

use std::rc::Rc;

use js_sys::{Array, Object, Reflect, Uint8Array};
use leptos::ev;
use leptos::prelude::{on_cleanup, window, window_event_listener};
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
    let over = window_event_listener(ev::dragover, |event| event.prevent_default());
    on_cleanup(move || over.remove());
    let handle = window_event_listener(ev::drop, move |event| {
        event.prevent_default();
        if let Some(files) = event.data_transfer().and_then(|transfer| transfer.files()) {
            read_all(&files, most, &heard);
        }
    });
    on_cleanup(move || handle.remove());
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

/// Hands a text to the phone's share sheet as a file of a media type, and calls `done` once the phone says whether it was
/// handed on: a sheet may be closed again. It must be called within the tap that asks for it. False where there is no sheet,
/// or it takes no such file; `done` is not called then.
pub fn share_file(name: &str, text: &str, media_type: &str, done: impl Fn(bool) + 'static) -> bool {
    share((name, media_type), &text.into(), "", done)
}

/// The same with a file of texts or bytes, and a text beside it unless that is empty.
pub(super) fn share(
    (name, media_type): (&str, &str),
    content: &JsValue,
    text: &str,
    done: impl Fn(bool) + 'static,
) -> bool {
    let navigator = window().navigator();
    let shared = || {
        let kind = FilePropertyBag::new();
        kind.set_type(media_type);
        let file = File::new_with_blob_sequence_and_options(&Array::of1(content), name, &kind).ok()?;
        let data = Object::new();
        Reflect::set(&data, &"files".into(), &Array::of1(&file)).ok()?;
        if !text.is_empty() {
            Reflect::set(&data, &"text".into(), &text.into()).ok()?;
        }
        let accepted = call(&navigator, "canShare", &data)?;
        accepted.is_truthy().then(|| call(&navigator, "share", &data)).flatten()
    };
    tell_when_done(shared(), Box::new(done))
}

/// Puts a text on the clipboard, and calls `done` once the browser says whether it is there. False where this browser has no
/// clipboard; `done` is not called then.
pub fn copy(text: &str, done: impl Fn(bool) + 'static) -> bool {
    let clipboard = property(&window().navigator(), "clipboard");
    let copied = clipboard.and_then(|clipboard| call(&clipboard, "writeText", &JsValue::from_str(text)));
    tell_when_done(copied, Box::new(done))
}

fn tell_when_done(promised: Option<JsValue>, done: Box<dyn Fn(bool)>) -> bool {
    let Some(promised) = promised else { return false };
    spawn_local(async move {
        done(JsFuture::from(js_sys::Promise::resolve(&promised)).await.is_ok());
    });
    true
}
