//! Printing a document.

use leptos::prelude::document;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlIFrameElement;

/// The frame that holds the document being printed; the one before is taken out with the next.
const FRAME: &str = "to-print";

/// Hands a whole HTML document to the phone's printing. The document stays in a frame out of sight: it has its own style, and
/// the page's does not get into it.
pub fn print(html: &str) {
    let document = document();
    if let Some(before) = document.get_element_by_id(FRAME) {
        before.remove();
    }
    let frame = document.create_element("iframe").ok().and_then(|frame| frame.dyn_into::<HtmlIFrameElement>().ok());
    let (Some(frame), Some(body)) = (frame, document.body()) else { return };
    frame.set_id(FRAME);
    frame.set_class_name("to-print");
    frame.set_title("The report, to be printed");
    frame.set_srcdoc(html);
    let shown = frame.clone();
    let loaded = Closure::once_into_js(move |_: JsValue| {
        if let Some(window) = shown.content_window() {
            // Refused only by a browser that prints nothing; the file is there for it.
            let _ = window.print();
        }
    });
    frame.set_onload(Some(loaded.unchecked_ref()));
    let _ = body.append_child(&frame);
}
